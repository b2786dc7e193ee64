#pragma once

#include <string>
#include <vector>

#include "report/budget.hpp"
#include "report/levers.hpp"
#include "report/size.hpp"
#include "report/water.hpp"
#include "report/wiring.hpp"

namespace amptally::report {

/// All that a page tells; what is null has no section.
struct Page {
  const Budget& budget;
  const Levers* levers = nullptr;          ///< where the aim is missed
  const SizeAnswer* sizes = nullptr;       ///< where there is something to size
  const WaterAnswer* water = nullptr;      ///< where the site has water
  const Wiring* wiring = nullptr;          ///< where the site has cables
  std::string site_text;                   ///< the site file as it was read
  std::vector<std::string> settings = {};  ///< what was changed in it for this run
};

/// One HTML file that needs nothing else: no network, no script, no clock.
[[nodiscard]] std::string page_html(const Page& page);

}  // namespace amptally::report
