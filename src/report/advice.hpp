#pragma once

#include <vector>

#include "amptally/findings.hpp"

#include "report/document.hpp"

namespace amptally::report {

/// Adds the findings under "Worth knowing"; nothing when there are none.
void append_findings(Document& document, const std::vector<Finding>& findings);

}  // namespace amptally::report
