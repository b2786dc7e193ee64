#pragma once

#include "cli/options.hpp"
#include "cli/terminal.hpp"
#include "report/output_style.hpp"

namespace amptally::cli {

/// The style that a result has where it goes.
[[nodiscard]] report::OutputStyle style_of(const OutputOptions& output, const Terminal& terminal);

}  // namespace amptally::cli
