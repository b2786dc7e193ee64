#pragma once

#include <string>
#include <vector>

#include "amptally/water.hpp"

#include "report/document.hpp"
#include "report/look.hpp"

namespace amptally::report {

/// What `water` found.
struct WaterAnswer {
  const Site& site;
  const WaterStudy& study;
  const std::vector<Finding>& findings;
};

/// "laminar", "between laminar and turbulent", "turbulent"
[[nodiscard]] const char* regime_word(FlowRegime regime);

/// Adds what the lines pass, how long they run, and how the tank fares.
void append_water(Document& document, const WaterAnswer& answer);

/// The answer in any format, ready to write.
[[nodiscard]] std::string water_report(const WaterAnswer& answer, const Look& look);

}  // namespace amptally::report
