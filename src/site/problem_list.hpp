#pragma once

#include <algorithm>
#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "amptally/site.hpp"
#include "amptally/validate.hpp"

#include "site/fields.hpp"

namespace amptally::inline v0_1 {

/// Which elements a field's brackets stand for, outer first.
struct At {
  std::size_t first = 0;
  std::size_t second = 0;
};

/// Gathers what is wrong with a site. Nothing is written, and no path is put together, while all is
/// well: a study asks this of each of its variants.
class ProblemList {
 public:
  void add(std::string_view field, At at, std::string message);

  /// Notes a number that is outside its limits, or none.
  void number(std::string_view field, const Limits& limits, double value, At at = {}) {
    if (!limits.allow(value)) note_outside(field, limits, value, at);
  }

  /// Notes a choice beyond the last of its kinds.
  template <class Enum>
  bool choice(std::string_view field, Enum value, Enum last, At at = {}) {
    const auto index = static_cast<int>(value);
    const bool good = index >= 0 && index <= static_cast<int>(last);
    if (!good) note_choice(field, index, at);
    return good;
  }

  [[nodiscard]] std::vector<SiteProblem> take() { return std::move(problems_); }

 private:
  void note_outside(std::string_view field, const Limits& limits, double value, At at);
  void note_choice(std::string_view field, int index, At at);

  std::vector<SiteProblem> problems_;
};

// The checks of a place and of a plane, which the place's own functions need by themselves.

void check_place(const Place& place, ProblemList& problems);
void check_plane(double tilt_deg, double azimuth_deg, std::span<const Obstacle> shade,
                 double albedo, ProblemList& problems);

/// A whole site but for its ranges, which only a study of them looks at: they take as long as all
/// the rest.
void check_all_but_rough(const Site& site, ProblemList& problems);

// What has to go together, which the reader asks as soon as it has read it.

void check_label(const Panel& panel, ProblemList& problems);
void check_strings(const Panel& panel, ProblemList& problems);
void check_heights(const Tank& tank, ProblemList& problems);

}  // namespace amptally::inline v0_1
