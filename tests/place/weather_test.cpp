#include "amptally/weather.hpp"

#include <algorithm>
#include <cmath>

#include "amptally/climate.hpp"
#include "amptally/error.hpp"

#include "catch.hpp"
#include "sites.hpp"

using namespace amptally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Place shipped(double latitude_deg, double longitude_deg) {
  const ClimateRow row = nearest_climate(latitude_deg, longitude_deg).row;
  return {.name = row.name,
          .latitude_deg = latitude_deg,
          .longitude_deg = longitude_deg,
          .sun_horizontal_kwh_m2_day = row.sun_horizontal_kwh_m2_day,
          .air_temp_c = row.air_temp_c,
          .utc_offset_h = std::round(longitude_deg / 15)};
}

}  // namespace

namespace {

std::array<SunMonth, 12> months_of(const Place& place, const PanelPlane& plane) {
  const SiteSky sky = site_sky(place, plane);
  return sun_months(sky, mean_sun_year(sky));
}

}  // namespace

TEST_CASE("the mean year keeps every month's sun and temperature", "[weather][property]") {
  for (const auto& [lat, lon] : {std::pair{43.4, -5.9},
                                 {-22.6, 17.1},
                                 {-42.9, 147.3},
                                 {6.9, 79.9},
                                 {59.9, 10.7},
                                 {69.6, 18.9},
                                 {78.2, 15.6},
                                 {-54.8, -68.3}}) {
    const Place place = shipped(lat, lon);
    const auto days = mean_days(place);
    REQUIRE(days.size() == 365);
    for (int m = 0; m < 12; ++m) {
      double sun = 0;
      double air = 0;
      for (int i = 0; i < days_in_month(m); ++i) {
        const auto d = static_cast<std::size_t>(first_day_of_month(m) - 1 + i);
        sun += days[d].sun_horizontal_kwh_m2 / days_in_month(m);
        air += days[d].air_temp_c / days_in_month(m);
      }
      CAPTURE(lat, lon, m);
      const auto i = static_cast<std::size_t>(m);
      // In polar night nothing reaches the top of the air, whatever a satellite's table says.
      if (extraterrestrial_month_kwh_m2_day(lat, m) > 0) {
        CHECK_THAT(sun, WithinRel(place.sun_horizontal_kwh_m2_day[i], 0.001) ||
                            WithinAbs(place.sun_horizontal_kwh_m2_day[i], 1e-9));
      }
      CHECK_THAT(air, WithinAbs(place.air_temp_c[i], 1e-9));
    }
  }
}

TEST_CASE("days change smoothly within and across months", "[weather][property]") {
  const auto days = mean_days(shipped(43.4, -5.9));
  for (std::size_t d = 0; d < days.size(); ++d) {
    const WeatherDay& next = days[(d + 1) % days.size()];
    REQUIRE(std::abs(next.sun_horizontal_kwh_m2 - days[d].sun_horizontal_kwh_m2) < 0.1);
    REQUIRE(std::abs(next.air_temp_c - days[d].air_temp_c) < 0.3);
  }
}

TEST_CASE("insolation above the top of the air is refused", "[weather][errors]") {
  Place place = shipped(50, 10);
  place.climate.own_sun = true;
  place.sun_horizontal_kwh_m2_day[11] = 5;
  try {
    (void)mean_days(place);
    FAIL("accepted");
  } catch (const InputError& e) {
    CHECK(e.field() == "place.insolation[11]");
    CHECK(e.message().find("top of the air") != std::string::npos);
  }
}

TEST_CASE("a month's days vary while they stay below a clearness of 0.80", "[weather]") {
  // Chosen, docs/model.md: straight lines within 0.03..0.80; beyond, the month keeps one clearness.
  const auto varies = [](double clearest) {
    Place place = shipped(40, 0);
    for (int m = 0; m < 12; ++m) {
      const double clearness = m % 2 == 0 ? clearest : clearest - 0.02;
      place.sun_horizontal_kwh_m2_day[static_cast<std::size_t>(m)] =
          clearness * extraterrestrial_month_kwh_m2_day(40, m);
    }
    const auto days = mean_days(place);
    const auto clearness = [&](int day) {
      return days[static_cast<std::size_t>(day - 1)].sun_horizontal_kwh_m2 /
             extraterrestrial_kwh_m2_day(40, day);
    };
    return std::abs(clearness(121) - clearness(135)) > 1e-6;  // May begins and in its middle
  };
  CHECK(varies(0.775));
  CHECK_FALSE(varies(0.81));
}

TEST_CASE("an hour of air temperature is warmest in the afternoon", "[weather]") {
  const SunYear year =
      mean_sun_year(site_sky(shipped(40, 0), {.tilt_deg = 40, .azimuth_deg = 180}));
  double sum = 0;
  for (std::size_t h = 0; h < 24; ++h) sum += year.air_temp_c[180 * 24 + h] / 24;
  CHECK_THAT(sum, WithinAbs(year.days[180].air_temp_c, 1e-9));
  const auto day = year.air_temp_c.begin() + 180 * 24;
  const auto warmest = std::max_element(day, day + 24) - day;
  CHECK(warmest >= 14);
  CHECK(warmest <= 15);
  // Common practice, no source: warmest three hours after solar noon. Clock and sun agree here but
  // for the equation of time, which is left out: the hours on both sides of 15:00 are alike, and
  // from the one before to that half a day off it is the day's swing, but for half an hour.
  CHECK_THAT(day[14], WithinAbs(day[15], 1e-9));
  CHECK_THAT(day[14] - day[2],
             WithinRel(year.days[180].air_swing_c * std::cos(std::acos(-1.0) / 24), 1e-9));
}

TEST_CASE("the best tilt leans to the latitude, steeper for the worst month", "[weather]") {
  const TiltStudy north = compare_tilts(shipped(43.4, -5.9), {.tilt_deg = 0, .azimuth_deg = 180});
  CHECK(north.tilts.size() == 10);
  CHECK(north.best_year.tilt_deg > 25);
  CHECK(north.best_year.tilt_deg < 45);
  CHECK(north.best_worst_month.tilt_deg > north.best_year.tilt_deg);
  CHECK((north.best_worst_month.worst_month == 11 || north.best_worst_month.worst_month == 0));
  const TiltStudy south = compare_tilts(shipped(-42.9, 147.3), {.tilt_deg = 0, .azimuth_deg = 0});
  CHECK(south.best_year.tilt_deg > 25);
  CHECK(south.best_worst_month.worst_month == 5);
  for (const TiltFigure& figure : north.tilts) {
    CHECK(figure.year_kwh_m2 <= north.best_year.year_kwh_m2);
    CHECK(figure.worst_month_kwh_m2_day <= north.best_worst_month.worst_month_kwh_m2_day);
  }
}

TEST_CASE("half a year on, the southern hemisphere has the sun of the northern",
          "[weather][property]") {
  // Half a year on and turned to the other pole, the same sun comes, but for the distance to the
  // sun (3.4 % nearer in January) and the uneven seasons: 9 %.
  const Place north = shipped(40, 0);
  Place south = north;
  south.latitude_deg = -40;
  for (std::size_t m = 0; m < 12; ++m) {
    south.sun_horizontal_kwh_m2_day[m] = north.sun_horizontal_kwh_m2_day[(m + 6) % 12];
  }
  const auto a = months_of(north, {.tilt_deg = 40, .azimuth_deg = 180});
  const auto b = months_of(south, {.tilt_deg = 40, .azimuth_deg = 0});
  for (std::size_t m = 0; m < 12; ++m) {
    CAPTURE(m);
    CHECK_THAT(b[m].sun_panel_kwh_m2_day, WithinRel(a[(m + 6) % 12].sun_panel_kwh_m2_day, 0.09));
  }
}

TEST_CASE("a month's sun in the plane is said to be rough where it is", "[weather]") {
  struct Row {
    double latitude_deg, tilt_deg, azimuth_deg;
    const char* said;  // a part of it; null: nothing
  };
  constexpr Row kRows[] = {{43, 60, 180, "from November to February"},
                           {-43, 60, 0, "from May to August"},
                           {43, 59, 180, nullptr},
                           {35, 60, 180, nullptr},
                           {36, 60, 180, "from November to February"},
                           {-20, 90, 30, nullptr},
                           {43, 90, 120, "from November to February"},
                           {43, 90, 119, "does not look towards the equator"},
                           {7, 75, 270, "does not look towards the equator"},
                           {-7, 75, 180, "does not look towards the equator"},
                           {7, 45, 90, nullptr},
                           {56, 45, 180, nullptr},
                           {57, 45, 180, "So far from the equator"},
                           {-57, 10, 0, "So far from the equator"}};
  for (const Row& row : kRows) {
    CAPTURE(row.latitude_deg, row.tilt_deg, row.azimuth_deg);
    Place place = shipped(43.4, -5.9);
    place.latitude_deg = row.latitude_deg;
    const auto said =
        plane_error(place, {.tilt_deg = row.tilt_deg, .azimuth_deg = row.azimuth_deg});
    REQUIRE(said.has_value() == (row.said != nullptr));
    if (!said) continue;
    CHECK(said->text.find(row.said) != std::string::npos);
    CHECK(said->text.find("about 10 % even with exact sun") != std::string::npos);
  }
}
