#pragma once

#include <string>

#include "amptally/parts.hpp"

#include "report/look.hpp"

namespace amptally::report {

/// What `size` found in a parts list.
struct PartsAnswer {
  const Site& site;
  const WeatherChoice& weather;
  const PartsList& parts;
  const PartsChoice& choice;
};

[[nodiscard]] std::string parts_report(const PartsAnswer& answer, const Look& look);

}  // namespace amptally::report
