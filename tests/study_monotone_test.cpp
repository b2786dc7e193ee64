#include <algorithm>

#include "amptally/study.hpp"

#include "catch.hpp"
#include "sites.hpp"

using namespace amptally;

namespace {

const WeatherChoice kChangeable{.mode = WeatherMode::synthetic, .years = 2};

Site with_less_draw(Site site, double factor) {
  for (Load& load : site.loads) load.draw.value *= factor;
  return site;
}

/// A shortfall no larger than `before`, but for this share of it.
void check_no_worse(double after_wh, double before_wh, double slack_share) {
  CHECK(after_wh <= before_wh * (1 + slack_share) + 1e-6);
}

// The loads come back only at the reconnect level, so a little more charge can cut them off a day
// later and let them back a week later. Seen at one of 1,000 random sites: 0.03 %.
constexpr double kHysteresis_share = 0.001;

// A larger battery loses more by itself, and below freezing keeps more that cannot be had: in
// systems that are hopelessly short anyway. Seen over 1,000 random sites: at most 1.9 %.
constexpr double kLargerBattery_share = 0.02;

}  // namespace

TEST_CASE("more panel, more battery or less draw never leaves more unserved", "[study][property]") {
  int compared = 0;
  for (std::uint64_t seed = 0; seed < 100; ++seed) {
    CAPTURE(seed);
    const Site site = testing::random_site(seed);
    const double hysteresis = site.regulator.cutoff ? kHysteresis_share : 1e-9;
    const Study study(site, kChangeable);
    const double before_wh = study.run(site).year.shortfall_wh;
    const auto after_wh = [&](const Site& variant) { return study.run(variant).year.shortfall_wh; };
    check_no_worse(after_wh(with_panel_power(site, 1.2 * site.panel.power_w)), before_wh,
                   hysteresis);
    check_no_worse(after_wh(with_less_draw(site, 0.85)), before_wh, hysteresis);
    check_no_worse(after_wh(with_battery_capacity(site, 1.2 * site.battery.capacity_ah)), before_wh,
                   std::max(hysteresis, kLargerBattery_share));
    compared += before_wh > 0 ? 1 : 0;
  }
  CHECK(compared > 30);  // else there was little to get worse
}
