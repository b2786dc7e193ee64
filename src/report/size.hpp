#pragma once

#include <string>
#include <utility>
#include <vector>

#include "amptally/findings.hpp"
#include "amptally/rough.hpp"
#include "amptally/size.hpp"

#include "report/document.hpp"
#include "report/output_style.hpp"

namespace amptally::report {

/// What `size` found without a parts list.
struct SizeAnswer {
  const Site& site;
  const WeatherChoice& weather;
  Prices prices;
  bool prices_given = false;
  const Sizing& sizing;
  std::vector<Finding> findings = {};  ///< over the site with the pair to buy
  const RoughStudy* rough = nullptr;   ///< of that site, where it has ranges
};

/// What has to be set in the site file to get these sizes: fields and values, as `--set` takes
/// them.
[[nodiscard]] std::vector<std::pair<std::string, std::string>> size_settings(const Site& site,
                                                                             const Sizes& sizes);

/// Adds the sizes that would do, and the hand method beside them.
void append_sizes(Document& document, const SizeAnswer& answer);

/// The answer in any format, ready to write.
[[nodiscard]] std::string size_report(const SizeAnswer& answer, const OutputStyle& style);

}  // namespace amptally::report
