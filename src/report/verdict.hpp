#pragma once

#include <vector>

#include "amptally/balance.hpp"

#include "report/document.hpp"

namespace amptally::report {

/// Whether the system does what was wanted in one weather, in words a grower understands. The first
/// is the verdict; the others are further parts of the aim that were missed, gravest first.
///
/// @param with_autonomy  false: for a second weather, since days without sun are the same in any
[[nodiscard]] std::vector<Paragraph> verdicts(const Balance& balance, bool with_autonomy = true);

/// Whether there are years enough to speak of one in ten.
[[nodiscard]] bool differs_by_tenths(const Balance& balance);

/// How long the battery lasts and, in weather with spells, the longest dull one.
[[nodiscard]] std::vector<Paragraph> outlook(const Balance& balance);

}  // namespace amptally::report
