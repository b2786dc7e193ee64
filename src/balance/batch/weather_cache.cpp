#include "balance/batch/weather_cache.hpp"

#include <algorithm>

#include "balance/parallel_for.hpp"
#include "balance/year_sequence.hpp"

namespace amptally::inline v0_1 {
namespace {

// Chosen: some 5 MB a sky. Beyond, years are made anew each time, so that memory does not grow with
// them.
constexpr int kMostKept = 64;

}  // namespace

int WeatherCache::count() const { return year_count(*weather_); }

WeatherYear WeatherCache::make(int y) const {
  const SunYear sun = sun_year(*sky_, *weather_, y);
  WeatherYear year;
  year.unit_offer = unit_offer(shape_, sun);
  year.light.reserve(kHoursPerYear);
  for (std::size_t h = 0; h < kHoursPerYear; ++h) {
    year.light.push_back(light_of(sun.plane_w_m2[h], sun.air_temp_c[h]));
  }
  year.day_air_c.reserve(kDaysPerYear);
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    year.sun.add_day(sun, d);
    year.day_air_c.push_back(sun.days[d].air_temp_c);
  }
  return year;
}

void WeatherCache::keep() {
  if (!kept_.empty() || count() > kMostKept) return;
  std::vector<WeatherYear> years(static_cast<std::size_t>(count()));
  in_parallel(count(), weather_->threads,
              [&](int y) { years[static_cast<std::size_t>(y)] = make(y); });
  kept_ = std::move(years);
}

const WeatherYear* WeatherCache::kept(int y) const {
  return kept_.empty() ? nullptr : &kept_[static_cast<std::size_t>(y)];
}

const WeatherYear& LatestYears::year(const WeatherCache& weather, int y) {
  if (const WeatherYear* kept = weather.kept(y)) return *kept;
  const auto found = std::find_if(made_.rbegin(), made_.rend(),
                                  [&](const auto& made) { return made->weather == &weather; });
  if (found == made_.rend()) {
    made_.push_back(std::make_unique<Made>(Made{&weather, y, weather.make(y)}));
    return made_.back()->year;
  }
  Made& made = **found;
  if (made.y != y) {
    made.year = weather.make(y);
    made.y = y;
  }
  return made.year;
}

}  // namespace amptally::inline v0_1
