#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "amptally/rough_sun.hpp"
#include "amptally/weather.hpp"

#include "report/output_style.hpp"

namespace amptally::report {

/// What `sun` found.
struct Sun {
  const Site& site;
  std::array<SunMonth, 12> months;
  std::optional<TiltStudy> tilts;  ///< as CSV, the tilts instead of the months
  const RoughSun* rough = nullptr;
  bool from_file = false;                    ///< the months are those of a weather file's years
  std::vector<Assumption> assumptions = {};  ///< of the sun on the panel
};

[[nodiscard]] std::string sun_report(const Sun& sun, const OutputStyle& style);

}  // namespace amptally::report
