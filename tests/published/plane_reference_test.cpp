// The plane made from a year's days against the plane made from its hours, at five places.

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <string>

#include "amptally/weather.hpp"

#include "catch.hpp"
#include "published/reference_files.hpp"
#include "sitefile/weather_file.hpp"

using namespace amptally;

namespace {

// Poorer months are left out: an hour of haze is a tenth of them.
constexpr double kPoorMonth_kwh_m2_day = 0.6;

// Errors of months, per cent.
struct Errors {
  int months = 0;
  double sum = 0;
  double squares = 0;
  double worst = 0;  // without its sign
  int beyond_10 = 0;

  void add(double pct) {
    ++months;
    sum += pct;
    squares += pct * pct;
    worst = std::max(worst, std::abs(pct));
    if (std::abs(pct) > 10) ++beyond_10;
  }
  [[nodiscard]] double mean() const { return sum / months; }
  [[nodiscard]] double rms() const { return std::sqrt(squares / months); }
  [[nodiscard]] double within_10_pct() const { return 100.0 * (months - beyond_10) / months; }
};

WeatherSeries days_of(const WeatherSeries& hours) {
  WeatherSeries days = hours;
  days.hourly = false;
  days.global_wh_m2.assign(kDaysPerYear, 0.0);
  days.direct_wh_m2.clear();
  days.diffuse_wh_m2.clear();
  days.air_temp_c.clear();
  days.lines.resize(kDaysPerYear);
  for (std::size_t h = 0; h < kHoursPerYear; ++h) {
    days.global_wh_m2[h / kHoursPerDay] += hours.global_wh_m2[h];
  }
  return days;
}

// Which way a plane looks, by its angle from the equator's side.
std::string looks(double off_deg) {
  const double off = std::min(off_deg, 360 - off_deg);
  if (off < 60) return "towards the equator";
  return off < 120 ? "east and west" : "away";
}

}  // namespace

TEST_CASE("a year's days make the plane that its hours make", "[sun][reference]") {
  // Source: four typical years and one measured (see the README of the reference folder). Each
  // file's daily sums of horizontal sun go through the program, and the months in the plane are set
  // against those of the file's own hours of direct and diffuse light. The bars are what was
  // measured, a little up. What is aimed at is 3 % rms and 10 % at most: met in the rms where
  // nothing is said of the plane; docs/model.md says why not elsewhere.
  std::map<std::string, Errors> of;
  for (const char* const name :
       {"DNK_Lyngby_2017_measured", "LKA_Colombo-Katunayake.434500_SWERA",
        "USA_AZ_Davis-Monthan.AFB.722745_TMY3", "USA_NY_New.York-J.F.Kennedy.Intl.AP.744860_TMY3",
        "USA_PA_Pittsburgh-Allegheny.County.AP.725205_TMY3"}) {
    const std::string path = std::string("hourly/") + name + ".epw";
    auto file = published::reference_file(path);
    if (!file) return;
    const WeatherSeries hours =
        io::read_weather(path, std::string(std::istreambuf_iterator<char>(*file), {}));
    const WeatherSeries days = days_of(hours);
    const Place place = place_of(hours, {});
    for (double off_deg = 0; off_deg < 360; off_deg += 45) {
      for (double tilt_deg = 15; tilt_deg <= 90; tilt_deg += 15) {
        // All five lie north of the equator.
        const PanelPlane plane = {.tilt_deg = tilt_deg,
                                  .azimuth_deg = std::fmod(180 + off_deg, 360.0)};
        const SiteSky sky = site_sky(place, plane);
        const auto truth = sun_months(sky, series_sun_year(sky, hours, 0));
        const auto months = sun_months(sky, series_sun_year(sky, days, 0));
        for (std::size_t m = 0; m < kMonthsPerYear; ++m) {
          const double sun = truth[m].sun_panel_kwh_m2_day;
          if (sun < kPoorMonth_kwh_m2_day) continue;
          const double pct = 100 * (months[m].sun_panel_kwh_m2_day / sun - 1);
          of["all"].add(pct);
          of[looks(off_deg)].add(pct);
          of[plane_error(place, plane) ? "said to be rough" : "said nothing of"].add(pct);
          of[std::string(name).substr(0, 6)].add(pct);
        }
      }
    }
  }
  struct Bar {
    const char* what;
    double mean_pct;  // without its sign
    double rms_pct;
    double worst_pct;
    double within_10_pct;  // of the months
  };
  constexpr Bar kBars[] = {{"all", 0.8, 4.2, 22.5, 96.5},
                           {"towards the equator", 0.1, 3.2, 15, 98.5},
                           {"east and west", 0.7, 4.4, 15, 95.5},
                           {"away", 1.8, 5, 22.5, 94.5},
                           {"said to be rough", 1.2, 5.4, 22.5, 92.5},
                           {"said nothing of", 0.6, 3, 20, 99},
                           {"DNK_Ly", 0.8, 5, 20, 94.5},
                           {"LKA_Co", 1.8, 3.4, 14, 98.5},
                           {"USA_AZ", 0.5, 5, 22.5, 93.5},
                           {"USA_NY", 1, 4.2, 15.5, 95},
                           {"USA_PA", 0.8, 3.2, 12, 99}};
  for (const Bar& bar : kBars) {
    const Errors& errors = of.at(bar.what);
    CAPTURE(bar.what, errors.months, errors.mean(), errors.rms(), errors.worst);
    CAPTURE(errors.within_10_pct());
    CHECK(std::abs(errors.mean()) <= bar.mean_pct);
    CHECK(errors.rms() <= bar.rms_pct);
    CHECK(errors.worst <= bar.worst_pct);
    CHECK(errors.within_10_pct() >= bar.within_10_pct);
  }
}
