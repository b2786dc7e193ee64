#pragma once

#include <vector>

#include "amptally/findings.hpp"

#include "report/document.hpp"

namespace amptally::report {

/// Adds the findings, one after the other.
void append_advice(Document& document, const std::vector<Finding>& findings);
/// Adds the findings under "Worth knowing"; nothing when there are none.
void append_findings(Document& document, const std::vector<Finding>& findings);

/// What a reckoning leaves to others.
[[nodiscard]] Paragraph last_word();

}  // namespace amptally::report
