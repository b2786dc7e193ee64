#pragma once

#include <string>
#include <vector>

#include "amptally/findings.hpp"
#include "amptally/site.hpp"

#include "report/document.hpp"

namespace amptally::report {

/// Adds the findings, one after the other.
void append_advice(Document& document, const std::vector<Finding>& findings);
/// Adds the findings under "Worth knowing"; nothing when there are none.
void append_findings(Document& document, const std::vector<Finding>& findings);

/// What was assumed, in the same order.
[[nodiscard]] std::vector<std::string> assumption_texts(const std::vector<Assumption>& assumptions);

/// Adds them under their heading; nothing when there are none.
void append_assumptions(Document& document, const std::vector<Assumption>& assumptions,
                        const char* heading = "Not given, so assumed");

/// What a reckoning leaves to others.
[[nodiscard]] Paragraph last_word();

}  // namespace amptally::report
