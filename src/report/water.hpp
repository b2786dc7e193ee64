#pragma once

#include <string>
#include <vector>

#include "amptally/findings.hpp"
#include "amptally/rough_water.hpp"
#include "amptally/water.hpp"

#include "report/document.hpp"
#include "report/output_style.hpp"

namespace amptally::report {

/// What `water` found.
struct WaterAnswer {
  const Site& site;
  const WaterStudy& study;
  const std::vector<Finding>& findings;
  const RoughWater* rough = nullptr;  ///< null for a site without ranges
};

/// "laminar", "between", "turbulent"
[[nodiscard]] const char* regime_word(FlowRegime regime);

/// "has nothing that drives it"
[[nodiscard]] const char* no_flow_text(NoFlow why);

/// "63.5 L/h"
[[nodiscard]] std::string flow_text(const LineFlow& flow);
/// Minutes a day over the months: "14", "12 to 30"; empty without a demand.
[[nodiscard]] std::string minutes_span(const LineStudy& line);

/// Adds what the lines pass, how long they run, and how the tank fares.
void append_water(Document& document, const WaterAnswer& answer);

/// The answer in any format, ready to write.
[[nodiscard]] std::string water_report(const WaterAnswer& answer, const OutputStyle& style);

}  // namespace amptally::report
