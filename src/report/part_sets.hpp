#pragma once

#include <string>

#include "amptally/part_sets.hpp"
#include "amptally/rough.hpp"

#include "report/output_style.hpp"

namespace amptally::report {

/// What `size` found in a parts list.
struct PartsAnswer {
  const Site& site;
  const WeatherChoice& weather;
  const PartsList& parts;
  const PartsChoice& choice;
  const RoughStudy* rough = nullptr;  ///< of the site with the cheapest set, where it has ranges
};

[[nodiscard]] std::string parts_report(const PartsAnswer& answer, const OutputStyle& style);

}  // namespace amptally::report
