#include "cli/output_style.hpp"

#include <algorithm>

namespace amptally::cli {

report::OutputStyle style_of(const OutputOptions& output, const Terminal& terminal) {
  const Terminal target = output.goes_to_file() ? Terminal() : terminal;
  report::OutputStyle style{.format = output.format, .quiet = output.quiet};
  // Chosen: lines beyond 100 columns are hard to follow, below 40 a finding is a ribbon.
  if (target.is_terminal) {
    style.width = static_cast<std::size_t>(std::clamp(target.columns, 40, 100));
  }
  style.utf8 = target.utf8;
  // Chosen: in fewer columns the months of a drawing run together.
  style.chart = output.chart && output.format == report::Format::table && target.is_terminal &&
                target.utf8 && target.columns >= 60;
  style.colour = output.colour == ColourChoice::always ||
                 (output.colour == ColourChoice::automatic && target.wants_colour);
  return style;
}

}  // namespace amptally::cli
