#pragma once

#include <string>

#include "amptally/rough.hpp"
#include "amptally/site.hpp"

#include "report/document.hpp"

/// What rough numbers leave open, for every command that has a site with ranges.
namespace amptally::report {

/// "draw of pump (300 to 400 mA), losses of the panel (10 to 25 %)"
[[nodiscard]] std::string ranges_text(const Site& site);

/// "the 10 % to which the shipped sun is known"
[[nodiscard]] std::string sun_error_text(double climate_error_share);

/// In how many cases of 100 the aim is met, for beside the verdict; empty without a study.
[[nodiscard]] std::vector<Paragraph> cases_verdict(const RoughStudy* study);

/// "2.1 to 3.4", or "3" where the ends read the same.
[[nodiscard]] std::string span_text(const Spread& spread, int decimals, double scale = 1);

/// Adds how the site fares over its ranges and what to measure first; nothing where `study` is
/// null.
void append_rough(Document& document, const Site& site, const RoughStudy* study);

}  // namespace amptally::report
