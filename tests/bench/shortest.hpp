#pragma once

#include <algorithm>
#include <chrono>

namespace amptally::bench {

/// Time of an action, ms.
template <class Action>
double time_ms(const Action& action) {
  const auto before = std::chrono::steady_clock::now();
  action();
  return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - before)
      .count();
}

/// Shortest time of an action, ms: other work on the machine only ever adds.
template <class Action>
double shortest_ms(int repeats, const Action& action) {
  double shortest = time_ms(action);
  for (int i = 1; i < repeats; ++i) shortest = std::min(shortest, time_ms(action));
  return shortest;
}

}  // namespace amptally::bench
