#include "sitefile/combinations.hpp"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "amptally/error.hpp"

#include "place/keyed_random.hpp"
#include "text/message_text.hpp"

namespace amptally::io {
namespace {

/// Keeps the draws apart from the weather's, which come from the same seed. Chosen: any number but
/// 0 would do.
constexpr std::uint64_t kOwnStream = 0x9d5c0f3ba7e1428bU;

std::uint64_t count_of(const FieldAxis::Member& member) {
  const auto* const range = std::get_if<SteppedRange>(&member);
  return range != nullptr ? range->count : 1;
}

std::uint64_t count_of(const FieldAxis& axis) {
  std::uint64_t count = 0;
  for (const FieldAxis::Member& member : axis.members) count += count_of(member);
  return count;
}

std::uint64_t count_of(const RowAxis& axis) { return axis.count(); }

std::uint64_t count_of(const Axis& axis) {
  return std::visit([](const auto& one) { return count_of(one); }, axis);
}

VariedValue made_value(const FieldAxis& axis, const std::string& text) {
  std::vector<Problem> none;  // its range has been checked
  return varied_value(axis.field, text, {}, none);
}

/// @param along  0..1: where in an open range
void append_values(const FieldAxis& axis, std::uint64_t at, double along,
                   std::vector<VariedValue>& values) {
  auto member = axis.members.begin();
  for (; at >= count_of(*member); ++member) at -= count_of(*member);
  if (const auto* const range = std::get_if<SteppedRange>(&*member)) {
    values.push_back(made_value(axis, range->text(at)));
  } else if (const auto* const open = std::get_if<OpenRange>(&*member)) {
    values.push_back(made_value(axis, open->text(along)));
  } else {
    values.push_back(std::get<VariedValue>(*member));
  }
}

void append_values(const RowAxis& axis, std::uint64_t at, double /*along*/,
                   std::vector<VariedValue>& values) {
  axis.append_values(at, values);
}

void append_values(const Axis& axis, std::uint64_t at, double along,
                   std::vector<VariedValue>& values) {
  std::visit([&](const auto& one) { append_values(one, at, along, values); }, axis);
}

std::vector<VariedField> fields_of(const std::vector<Axis>& axes) {
  std::vector<VariedField> fields;
  for (const Axis& axis : axes) {
    if (const auto* const one = std::get_if<FieldAxis>(&axis)) {
      fields.push_back(one->field);
    } else {
      const auto& more = std::get<RowAxis>(axis).fields();
      fields.insert(fields.end(), more.begin(), more.end());
    }
  }
  return fields;
}

void refuse_twice(const std::vector<VariedField>& fields) {
  for (auto field = fields.begin(); field != fields.end(); ++field) {
    const auto same = [&](const VariedField& other) { return other.path == field->path; };
    if (std::any_of(fields.begin(), field, same)) {
      throw InputError(on_one_line(field->path),
                       "varies twice (put all its values on one axis: 7,12,20..40 Ah:5)");
    }
  }
}

std::uint64_t product(const std::vector<Axis>& axes) {
  std::uint64_t count = 1;
  double estimate = 1;
  for (const Axis& axis : axes) {
    estimate *= static_cast<double>(count_of(axis));
    if (estimate <= static_cast<double>(Combinations::kMost)) count *= count_of(axis);
  }
  if (estimate <= static_cast<double>(Combinations::kMost)) return count;
  throw InputError("", fmt::format("{:.2g} combinations are more than can be numbered, {} (larger "
                                   "steps? or --random N of them)",
                                   estimate, Combinations::kMost));
}

}  // namespace

Combinations::Combinations(std::vector<Axis> axes, std::optional<Draws> draws)
    : axes_(std::move(axes)), draws_(draws), fields_(fields_of(axes_)) {
  refuse_twice(fields_);
  count_ = draws_ ? draws_->count : product(axes_);
}

std::vector<VariedValue> Combinations::at(std::uint64_t number) const {
  std::vector<std::uint64_t> at(axes_.size());
  std::vector<double> along(axes_.size());
  for (std::size_t a = axes_.size(); a-- > 0;) {
    const std::uint64_t count = count_of(axes_[a]);
    if (draws_) {
      along[a] = keyed_random(draws_->seed ^ kOwnStream, number, a);
      at[a] = static_cast<std::uint64_t>(along[a] * static_cast<double>(count));
    } else {
      at[a] = number % count;
      number /= count;
    }
  }
  std::vector<VariedValue> values;
  for (std::size_t a = 0; a < axes_.size(); ++a) append_values(axes_[a], at[a], along[a], values);
  return values;
}

Span Combinations::span(const Shard& shard) const {
  const std::uint64_t each = count_ / shard.of;
  const std::uint64_t more = count_ % shard.of;  // the first so many have one more
  const auto start = [&](std::uint64_t part) { return each * part + std::min(part, more); };
  return {start(shard.part - 1), start(shard.part)};
}

}  // namespace amptally::io
