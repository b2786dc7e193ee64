#include "balance/batch/weather_cache.hpp"

#include "balance/parallel_for.hpp"
#include "balance/year_sequence.hpp"

namespace amptally {
namespace {

// Chosen: some 5 MB a sky. Beyond, years are made anew each time, so that memory does not grow with
// them.
constexpr int kMostKept = 64;

}  // namespace

int SkyYears::count() const { return year_count(*weather_); }

SharedYear SkyYears::make(int y) const {
  const SunYear sun = sun_year(*sky_, *weather_, y);
  SharedYear year;
  year.unit_offer = unit_offer(shape_, sun);
  year.light.reserve(kHoursPerYear);
  for (std::size_t h = 0; h < kHoursPerYear; ++h) {
    year.light.push_back(sun.plane_w_m2[h] <= 0                     ? Light::dark
                         : sun.air_temp_c[h] < kLithiumChargeFrom_c ? Light::lit_and_frozen
                                                                    : Light::lit);
  }
  year.day_air_c.reserve(kDaysPerYear);
  for (std::size_t d = 0; d < kDaysPerYear; ++d) {
    year.sun_horizontal_kwh_m2 += sun.days[d].sun_horizontal_kwh_m2;
    year.sun_panel_kwh_m2 += sun.plane_kwh_m2[d];
    year.day_air_c.push_back(sun.days[d].air_temp_c);
  }
  return year;
}

void SkyYears::keep() {
  if (!kept_.empty() || count() > kMostKept) return;
  std::vector<SharedYear> years(static_cast<std::size_t>(count()));
  in_parallel(count(), weather_->threads,
              [&](int y) { years[static_cast<std::size_t>(y)] = make(y); });
  kept_ = std::move(years);
}

const SharedYear* SkyYears::kept(int y) const {
  return kept_.empty() ? nullptr : &kept_[static_cast<std::size_t>(y)];
}

}  // namespace amptally
