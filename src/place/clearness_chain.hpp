#pragma once

#include <array>

#include "place/clearness.hpp"

/// The chains of clearness, with a choice that only their comparison with full years needs.
namespace amptally::inline v0_1 {

enum class SecondMatrix {
  mean_of_first_three,  ///< what `clearness_month` of place/clearness.hpp takes
  as_printed,
};

[[nodiscard]] ClearnessMonth clearness_month(double mean, double clear_sky, double latitude_deg,
                                             SecondMatrix second);

[[nodiscard]] std::array<ClearnessMonth, 12> clearness_months(const Place& place,
                                                              SecondMatrix second);

}  // namespace amptally::inline v0_1
