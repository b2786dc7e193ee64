#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "sitefile/problem.hpp"
#include "sitefile/varied_field.hpp"

/// The values of a field in one line, as `--vary PATH=VALUES` has them.
namespace amptally::io {

/// `7..40 Ah:3`: first, first + step and so on, up to the end where a step meets it. In whole units
/// of the last decimal written, so that no value gathers rounding.
struct SteppedRange {
  std::int64_t first;
  std::int64_t step;    ///< above 0
  std::uint64_t count;  ///< 1 and up
  int decimals;
  std::string unit;  ///< as written; may be empty

  /// Member `i`, as a person would write it: `0.3 Ah`.
  [[nodiscard]] std::string text(std::uint64_t i) const;
};

/// `7..40 Ah`: anything between, to be drawn from.
struct OpenRange {
  double low;
  double high;
  std::string unit;

  /// The value at a share of the way, 0..1.
  [[nodiscard]] std::string text(double along) const;
};

/// One field and its values, in the order given.
struct FieldAxis {
  using Member = std::variant<VariedValue, SteppedRange, OpenRange>;  ///< an open range is alone

  VariedField field;
  std::vector<Member> members;
};

/// The axis that `text` describes: `battery.capacity=7..40 Ah:3`, `regulator.kind=pwm,mppt`. Values
/// are parted by commas outside quotes and brackets; each is a stepped range or what `--set` takes.
///
/// @param drawn     whether values are drawn: only then may a range do without its step
/// @param problems  out: values that the field does not take
/// @throws InputError for a line that cannot be understood, or a field that the site file has not
[[nodiscard]] FieldAxis parse_vary(std::string_view text, bool drawn,
                                   std::vector<Problem>& problems);

}  // namespace amptally::io
