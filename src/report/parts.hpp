#pragma once

#include <string>

#include "amptally/parts.hpp"
#include "amptally/rough.hpp"

#include "report/look.hpp"

namespace amptally::report {

/// What `size` found in a parts list.
struct PartsAnswer {
  const Site& site;
  const WeatherChoice& weather;
  const PartsList& parts;
  const PartsChoice& choice;
  const RoughStudy* rough = nullptr;  ///< of the site with the cheapest set, where it has ranges
};

[[nodiscard]] std::string parts_report(const PartsAnswer& answer, const Look& look);

}  // namespace amptally::report
