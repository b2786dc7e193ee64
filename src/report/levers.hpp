#pragma once

#include <string>

#include "amptally/levers.hpp"
#include "amptally/rough.hpp"

#include "report/document.hpp"
#include "report/output_style.hpp"

namespace amptally::report {

/// What `levers` found.
struct Levers {
  const Site& site;
  const LeverStudy& study;
  std::string weather_file = {};      ///< where the years are those of a file
  const RoughStudy* rough = nullptr;  ///< where the site has ranges
};

/// A change in a few words: "standby 60 mA -> 11 mA".
[[nodiscard]] std::string lever_text(const Site& site, const Lever& lever);

/// Adds the changes that meet the aim alone, those that only help, and those that do not.
void append_levers(Document& document, const Levers& levers);

/// "pwm", "mppt" or "none", as in a site file.
[[nodiscard]] std::string_view kind_word(RegulatorKind kind);

/// The levers in any format, ready to write.
[[nodiscard]] std::string levers_report(const Levers& levers, const OutputStyle& style);

}  // namespace amptally::report
