#include "balance/schedules.hpp"

#include <numeric>

#include "amptally/weather.hpp"

#include "catch.hpp"
#include "sites.hpp"

using namespace amptally;
using namespace amptally::testing;
using Catch::Matchers::WithinRel;

namespace {

Load load_with(Schedule schedule) {
  Load load = always(1);
  load.schedule = std::move(schedule);
  return load;
}

double hours_a_year(const Load& load) {
  const Site site = plain_site();
  std::vector<Assumption> said;
  const std::vector<double> on =
      hours_on(site, load, "loads[0].per_day", year_geometry(site.place, panel_plane(site)), said);
  CHECK(said.empty());
  return std::accumulate(on.begin(), on.end(), 0.0);
}

}  // namespace

TEST_CASE("each kind of schedule knows its field, its minutes and whose times they are",
          "[loads]") {
  const Load steady = load_with(AlwaysOn{});
  CHECK(schedule_field(steady) == "always");
  CHECK_FALSE(minutes_a_day(steady).has_value());
  CHECK(chooses_its_time(steady));

  const Load per_day = load_with(PerDay{90});
  CHECK(schedule_field(per_day) == "per_day");
  CHECK(minutes_a_day(per_day) == 90);
  CHECK(chooses_its_time(per_day));
  CHECK_FALSE(chooses_its_time(load_with(PerDay{0})));

  const Load runs = load_with(Runs{{{360, 10}, {1200, 30}}});
  CHECK(schedule_field(runs) == "runs");
  CHECK(minutes_a_day(runs) == 40);
  CHECK(chooses_its_time(runs));
  CHECK_FALSE(chooses_its_time(load_with(Runs{{{360, 0}}})));

  const Load from_water = load_with(FromWater{"bed"});
  CHECK(schedule_field(from_water) == "from_water");
  CHECK_FALSE(minutes_a_day(from_water).has_value());
  CHECK_FALSE(chooses_its_time(from_water));
}

TEST_CASE("other minutes a day keep the clock of a load, and a load without minutes as it is",
          "[loads]") {
  const Load runs = with_minutes_a_day(load_with(Runs{{{360, 10}, {1200, 30}}}), 20);
  CHECK(runs == load_with(Runs{{{360, 5}, {1200, 15}}}));
  const Load from_none = with_minutes_a_day(load_with(Runs{{{360, 0}, {1200, 0}}}), 20);
  CHECK(from_none == load_with(Runs{{{360, 10}, {1200, 10}}}));
  CHECK(with_minutes_a_day(load_with(PerDay{90, When::night}), 20) ==
        load_with(PerDay{20, When::night}));
  CHECK(with_minutes_a_day(load_with(AlwaysOn{}), 20) == load_with(AlwaysOn{}));
  CHECK(with_minutes_a_day(load_with(FromWater{"bed"}), 20) == load_with(FromWater{"bed"}));
}

TEST_CASE("a load is on for the hours that its schedule comes to", "[loads]") {
  CHECK_THAT(hours_a_year(load_with(AlwaysOn{})), WithinRel(8760, 1e-12));
  CHECK_THAT(hours_a_year(load_with(PerDay{90})), WithinRel(1.5 * 365, 1e-12));
  Load runs = load_with(Runs{{{360, 10}, {1430, 30}}});
  CHECK_THAT(hours_a_year(runs), WithinRel(40.0 / 60 * 365, 1e-12));
  runs.every_days = 5;
  CHECK_THAT(hours_a_year(runs), WithinRel(40.0 / 60 * 73, 1e-12));
}
