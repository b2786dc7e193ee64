#pragma once

#include <vector>

#include "amptally/balance.hpp"

#include "report/document.hpp"

namespace amptally::report {

/// Whether the system does what was wanted, in words a grower understands. The first is the
/// verdict; the others are further parts of the aim that were missed, gravest first.
[[nodiscard]] std::vector<Paragraph> verdicts(const Balance& balance);

}  // namespace amptally::report
