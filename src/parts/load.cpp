#include "amptally/load.hpp"

#include <numeric>

namespace amptally {

std::optional<double> minutes_a_day(const Load& load) {
  if (const auto* per_day = std::get_if<PerDay>(&load.schedule)) return per_day->minutes;
  const auto* runs = std::get_if<Runs>(&load.schedule);
  if (runs == nullptr) return std::nullopt;
  return std::accumulate(runs->runs.begin(), runs->runs.end(), 0.0,
                         [](double sum, const Run& run) { return sum + run.for_minutes; });
}

Load with_minutes_a_day(Load load, double minutes) {
  if (auto* per_day = std::get_if<PerDay>(&load.schedule)) per_day->minutes = minutes;
  if (auto* runs = std::get_if<Runs>(&load.schedule)) {
    const double before = minutes_a_day(load).value_or(0);
    for (Run& run : runs->runs) {
      run.for_minutes = before > 0 ? run.for_minutes * minutes / before
                                   : minutes / static_cast<double>(runs->runs.size());
    }
  }
  return load;
}

}  // namespace amptally
