// Batteries against published models, tables and datasheets.

#include <cmath>
#include <cstdio>
#include <fstream>
#include <optional>
#include <string>
#include <vector>

#include "amptally/balance.hpp"
#include "amptally/battery.hpp"
#include "amptally/wear.hpp"

#include "balance/year_sequence.hpp"
#include "balance/year_summary.hpp"
#include "catch.hpp"
#include "published/reference_files.hpp"
#include "sites.hpp"

using namespace amptally;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("charging efficiency near full is Copetti's", "[battery][recomputed]") {
  // Source: Copetti, Lorenzo & Chenlo 1993: 1 - exp(20.73 (S - 1)/(I/I10 + 0.55)); values
  // recomputed from the published form. Columns: I/I10 = 0.1, 0.5, 1, 2.
  struct Row {
    double state_of_charge;
    std::array<double, 4> efficiency;
  };
  constexpr Row kRows[] = {{0, {1.0, 1.0, 1.0, 0.9997}},
                           {0.5, {1.0, 0.9999, 0.9988, 0.9828}},
                           {0.7, {0.9999, 0.9973, 0.9819, 0.9127}},
                           {0.8, {0.9983, 0.9807, 0.9311, 0.8033}},
                           {0.84, {0.9939, 0.9575, 0.8823, 0.7277}},
                           {0.9, {0.9588, 0.8611, 0.7375, 0.5564}},
                           {0.95, {0.797, 0.6274, 0.4876, 0.334}},
                           {0.98, {0.4716, 0.3262, 0.2347, 0.1501}},
                           {1, {0, 0, 0, 0}}};
  constexpr std::array<double, 4> kCurrents = {0.1, 0.5, 1, 2};
  for (const Row& row : kRows) {
    for (std::size_t i = 0; i < 4; ++i) {
      CAPTURE(row.state_of_charge, kCurrents[i]);
      CHECK_THAT(copetti_charge_efficiency(row.state_of_charge, kCurrents[i]),
                 WithinAbs(row.efficiency[i], 0.00005));
    }
  }
}

TEST_CASE("capacity at a rate is what datasheets print, within 2.5 %",
          "[battery][printed-outside]") {
  // Sources: datasheets and listings of a 12 V 40 Ah and a 12 V 65 Ah sealed battery and of a 330
  // Ah flooded one, read; of a 12 V 7 Ah sealed one, from memory. Every row there is. The rows
  // themselves lie 1 % apart at 10 h and 3.5 % at 5 h.
  struct Row {
    BatteryKind kind;
    double capacity_ah;  // at 20 h
    double hours, had_ah;
  };
  const BatteryKind sealed = battery_kind("agm");
  const BatteryKind flooded = battery_kind("flooded");
  const Row kRows[] = {{sealed, 40, 10, 37.2},  {sealed, 40, 5, 34},     {sealed, 40, 1, 24},
                       {sealed, 65, 10, 60},    {sealed, 65, 3, 48.6},   {sealed, 65, 1, 39},
                       {sealed, 65, 0.5, 32.5}, {flooded, 330, 10, 304}, {flooded, 330, 5, 271},
                       {sealed, 7, 10, 6.5},    {sealed, 7, 5, 5.95},    {sealed, 7, 1, 4.2}};
  for (const Row& row : kRows) {
    CAPTURE(row.capacity_ah, row.hours);
    const Battery battery{.kind = row.kind, .capacity_ah = row.capacity_ah, .floor_share = 0.5};
    const double had_ah = row.capacity_ah * rate_factor(battery, row.had_ah / row.hours);
    CHECK_THAT(had_ah, WithinRel(row.had_ah, 0.025));
    CHECK(rate_factor(battery, row.capacity_ah / 20) == 1);
  }
  // One row contradicts the others of its listing, 46.8 Ah at 1.5 h beside 48.6 at 3 h and 39 at 1
  // h: we are 11 % below it.
  const Battery listed{.kind = sealed, .capacity_ah = 65, .floor_share = 0.5};
  CHECK_THAT(65 * rate_factor(listed, 46.8 / 1.5), WithinRel(46.8, 0.115));
  // Source: the flooded one prints 367 Ah at 100 h, and 330 Ah at 20 h.
  const Battery long_rate{
      .kind = flooded, .capacity_ah = 367, .rated_hours = 100, .floor_share = 0.5};
  CHECK_THAT(367 * rate_factor(long_rate, 16.5), WithinRel(330, 0.025));
  CHECK_THAT(twenty_hour_capacity_ah(long_rate), WithinRel(330, 0.025));
}

TEST_CASE("a battery's voltage while it is drawn on is that of a measured discharge",
          "[battery][printed-outside][reference]") {
  // Source: log of one sealed 12 V 100 Ah battery, read, not carried here: discharged at 10 A to
  // 10.45 V. The first point is of the first seconds, when a charged battery stands higher.
  std::optional<std::ifstream> log = published::reference_file("battery_log_100ah.csv");
  if (!log) return;
  const Battery battery{.kind = battery_kind("agm"), .capacity_ah = 100, .floor_share = 0.5};
  int seen = 0;
  for (std::string line; std::getline(*log, line);) {
    double left = 0;
    double volts = 0;
    if (std::sscanf(line.c_str(), "discharge,%lf,-10.00,%lf", &left, &volts) != 2) continue;
    if (left > 0.95) continue;
    CAPTURE(left, volts);
    CHECK_THAT(discharging_voltage_v(battery, left, 10), WithinAbs(volts, 0.06));
    // A cutoff at that voltage acts within 5 points of charge of where it was seen.
    CHECK_THAT(charge_left_at_voltage(battery, volts, 10), WithinAbs(left, 0.05));
    ++seen;
  }
  CHECK(seen >= 20);
  // 94.76 Ah came out at 10 A, 2 to 3 % more than the datasheets have.
  CHECK_THAT(100 * rate_factor(battery, 10), WithinRel(94.76, 0.04));
}

TEST_CASE("rate and voltage are those of the equations in docs/model.md", "[battery][recomputed]") {
  // By hand. 2^0.65 = 1.56917, 10^0.65 = 4.46684.
  CHECK(capacity_ratio(1) == 1);
  CHECK_THAT(capacity_ratio(2), WithinAbs(0.91336, 0.00001));
  CHECK_THAT(capacity_ratio(10), WithinAbs(0.63379, 0.00001));
  // At ten hours x = 2 ratio: 1.84906^0.65 = 1.49116, 1.2/1.29823 = 0.92433 = 1.84866/2.
  CHECK_THAT(capacity_ratio_at_hours(10), WithinAbs(0.9244, 0.0002));
  CHECK_THAT(capacity_ratio_at_hours(20), WithinAbs(1, 1e-12));
  // Half left at 10 A from 100 Ah: 2.05 - (0.0185 + 0.0151/0.58) = 2.00547 V a cell; at 2.5 A half
  // of the drop; at nothing the resting voltage.
  const Battery battery{.kind = battery_kind("agm"), .capacity_ah = 100, .floor_share = 0.5};
  CHECK_THAT(discharging_voltage_v(battery, 0.5, 10), WithinAbs(6 * 2.005466, 6e-6));
  CHECK_THAT(discharging_voltage_v(battery, 0.5, 2.5), WithinAbs(6 * 2.027733, 6e-6));
  CHECK_THAT(discharging_voltage_v(battery, 0.02, 10), WithinAbs(6 * (1.96964 - 0.1695), 6e-5));
  CHECK_THAT(discharging_voltage_v(battery, 0.5, 0), WithinAbs(12.3, 1e-12));
  // The other types in the same way, by hand: at the tenth of the capacity and at a quarter of
  // that.
  struct Row {
    const char* kind;
    int cells;
    double at_10_v, at_2_5_v;
  };
  constexpr Row kRows[] = {{"flooded", 6, 1.9954655, 2.0177328},
                           {"gel", 6, 2.0224655, 2.0447328},
                           {"lifepo4", 4, 3.2695517, 3.2848879}};
  for (const Row& row : kRows) {
    CAPTURE(row.kind);
    const Battery other{.kind = battery_kind(row.kind), .capacity_ah = 100, .floor_share = 0.5};
    CHECK_THAT(discharging_voltage_v(other, 0.5, 10), WithinAbs(row.cells * row.at_10_v, 1e-6));
    CHECK_THAT(discharging_voltage_v(other, 0.5, 2.5), WithinAbs(row.cells * row.at_2_5_v, 1e-6));
  }
}

TEST_CASE("a sealed battery gives back what a measured one gave back",
          "[battery][printed-outside]") {
  // Source: the same log: 96.65 Ah put in, 94.76 Ah came out. The share
  // is a constant fitted to this log; what is tested is that charging keeps just that.
  for (const char* const kind : {"agm", "gel"}) {
    CAPTURE(kind);
    Site site = testing::plain_site();
    site.battery = {.kind = battery_kind(kind), .capacity_ah = 100, .floor_share = 0.5};
    const BatteryBank bank = make_bank(site, {}, {}, 0.5);
    StateOf<double> state{.taken_ah = 94.76, .connected = 1};
    double put_in_ah = 0;
    // Two hours, before it turns anything away.
    for (int hour = 0; hour < 2; ++hour) {
      FlowOf<double> flow{0, 20, 0, 0, 0};
      charge<ScalarArithmetic>(bank.hourly, flow, state);
      put_in_ah += flow.given_ah;
    }
    CHECK_THAT((94.76 - state.taken_ah) / put_in_ah, WithinAbs(94.76 / 96.65, 0.01));
    for (int hour = 0; hour < 24; ++hour) {
      FlowOf<double> flow{0, 30, 0, 0, 0};
      charge<ScalarArithmetic>(bank.hourly, flow, state);
    }
    CHECK(state.taken_ah < 0.5);  // and it is full in the end
  }
}

TEST_CASE("capacity at a rate follows Peukert's relation in rated-hour form",
          "[battery][recomputed]") {
  // t = H (C / (I H))^k: 100 Ah at 20 h, k = 1.2, held at 10 A: 20 (100/200)^1.2 = 8.706 h, so
  // 87.06 Ah. Source: the relation itself (Peukert 1897); the figure is worked here.
  const Battery battery{
      .kind = battery_kind("flooded"), .capacity_ah = 100, .floor_share = 0.5, .peukert = 1.2};
  CHECK_THAT(100 * rate_factor(battery, 10), WithinAbs(87.06, 0.005));
  CHECK(rate_factor(battery, 5) == 1);
  CHECK(rate_factor(battery, 1) == 1);  // never above what is printed
}

TEST_CASE("one exponent of Peukert's meets a datasheet at two rates",
          "[battery][printed-outside]") {
  // Source: datasheet of a 12 V 40 Ah sealed battery, read: 37.2 Ah at 10 h, 34 Ah at 5 h. The
  // exponent that meets the second (1.133) meets the first within 1 %.
  const Battery sealed{
      .kind = battery_kind("agm"), .capacity_ah = 40, .floor_share = 0.5, .peukert = 1.1328};
  CHECK_THAT(40 * rate_factor(sealed, 6.8), WithinRel(34, 0.001));
  CHECK_THAT(40 * rate_factor(sealed, 3.72), WithinRel(37.2, 0.011));
}

TEST_CASE("capacity in the cold is the published tables'", "[battery]") {
  // Source: a trade sizing worksheet, read: capacity multipliers by temperature.
  struct Row {
    double temp_c, multiplier;
  };
  constexpr Row kWorksheet[] = {{26.7, 1.0}, {21.2, 1.04}, {15.6, 1.11}, {10.0, 1.19},
                                {4.4, 1.30}, {-1.1, 1.40}, {-6.7, 1.59}};
  for (const Row& row : kWorksheet) {
    CAPTURE(row.temp_c);
    CHECK_THAT(1 / temperature_factor(battery_type(battery_kind("flooded")), row.temp_c),
               WithinAbs(row.multiplier, 0.005));
  }
  // Source: datasheet of a 12 V 40 Ah sealed battery, read.
  const BatteryType& agm = battery_type(battery_kind("agm"));
  CHECK(temperature_factor(agm, 25) == 1.0);
  CHECK(temperature_factor(agm, 30) == 1.0);  // it prints 1.03; we never go above the label
  CHECK_THAT(temperature_factor(agm, 10), WithinAbs(0.90, 0.005));
  CHECK_THAT(temperature_factor(agm, -10), WithinAbs(0.74, 0.005));
  // Source: US Army TM 10-6140-200-14, read: 40 % at 0 deg F.
  CHECK_THAT(temperature_factor(battery_type(battery_kind("flooded")), -17.8),
             WithinAbs(0.40, 0.005));
}

TEST_CASE("capacity in the cold is near what other sources than the table's have",
          "[battery][printed-outside]") {
  const auto factor = [](const char* kind, double temp_c) {
    return temperature_factor(battery_type(battery_kind(kind)), temp_c);
  };
  // Source: US Army TM 10-6140-200-14, read, motive power at the 6 h rate: 75 % at 0 deg C, where
  // the worksheet of the table has 73 %.
  CHECK_THAT(factor("flooded", 0), WithinAbs(0.75, 0.03));
  // Source: datasheet of a 12 V 7 Ah sealed battery, from memory: 85 % at 0 deg C.
  CHECK_THAT(factor("agm", 0), WithinAbs(0.85, 0.035));
  CHECK_THAT(factor("gel", 0), WithinAbs(0.85, 0.035));
  // Source: a university course's rule, read: 1 % less for each K below the reference; a thesis'
  // model, read: 0.5 %. The table for sealed ones lies between them.
  for (const double temp_c : {20.0, 10.0, 0.0}) {
    CAPTURE(temp_c);
    CHECK(factor("agm", temp_c) > 1 - 0.01 * (25 - temp_c));
    CHECK(factor("agm", temp_c) < 1 - 0.005 * (25 - temp_c));
  }
}

TEST_CASE("a sealed battery fills as a measured one filled",
          "[battery][printed-outside][reference]") {
  // Source: the same log: current over the share of the charge put in, a charger of 31.2 A held
  // near 14.95 V at the end. Ours fills more slowly past 80 %: 85 % after three hours, where 91 %
  // was measured.
  std::optional<std::ifstream> log = published::reference_file("battery_log_100ah.csv");
  if (!log) return;
  struct Point {
    double share, current_a;
  };
  std::vector<Point> points;
  for (std::string line; std::getline(*log, line);) {
    Point p{};
    if (std::sscanf(line.c_str(), "charge (share of the charge put in),%lf,%lf", &p.share,
                    &p.current_a) == 2) {
      points.push_back(p);
    }
  }
  REQUIRE(points.size() > 20);
  // Share put in by the hour, by the mean current between two points.
  constexpr double kPutIn_ah = 96.65;
  std::vector<double> share_at_hour;
  double time_h = kPutIn_ah * points.front().share / points.front().current_a;
  for (std::size_t i = 1; i < points.size(); ++i) {
    const double step = points[i].share - points[i - 1].share;
    const double took_h = kPutIn_ah * step / ((points[i].current_a + points[i - 1].current_a) / 2);
    while (static_cast<double>(share_at_hour.size() + 1) <= time_h + took_h) {
      const double t = (static_cast<double>(share_at_hour.size() + 1) - time_h) / took_h;
      share_at_hour.push_back(points[i - 1].share + t * step);
    }
    time_h += took_h;
  }
  REQUIRE(share_at_hour.size() >= 4);

  Site site = testing::plain_site();
  site.battery = {.kind = battery_kind("agm"), .capacity_ah = 94.76, .floor_share = 0.5};
  const BatteryBank bank = make_bank(site, {}, {}, 0.5);
  StateOf<double> state{.taken_ah = 94.76, .connected = 1};
  for (std::size_t hour = 0; hour < share_at_hour.size(); ++hour) {
    FlowOf<double> flow{0, 31.2, 0, 0, 0};
    charge<ScalarArithmetic>(bank.hourly, flow, state);
    CAPTURE(hour, share_at_hour[hour]);
    CHECK_THAT(1 - state.taken_ah / 94.76, WithinAbs(share_at_hour[hour], 0.065));
  }
}

TEST_CASE("a battery that charges gently stands at Copetti's voltage", "[battery][recomputed]") {
  // Source: Copetti, Lorenzo & Chenlo 1993 (coefficients from memory), volts per cell: 2 + 0.16 S;
  // we never call it fuller than 95 %.
  const Battery battery{
      .kind = battery_kind("flooded"), .capacity_ah = 100, .rated_hours = 10, .floor_share = 0.5};
  CHECK_THAT(state_of_charge_charging(battery, 6 * 2.08), WithinAbs(0.5, 1e-9));
  CHECK(state_of_charge_charging(battery, 14.4) == 0.95);
}

namespace {

// A battery of 40 Ah that nothing draws from or charges.
YearRun resting_year() {
  Site site = testing::plain_site();
  site.battery = {.kind = battery_kind("agm"), .capacity_ah = 40, .floor_share = 0.5};
  site.panel.power_w = 0;
  const Simulation prepared = prepare(site);
  YearSequence system(site, prepared.loads, prepared.load_switch, site.battery.floor_share);
  return system.run_year(prepared.sun, prepared.offer);
}

}  // namespace

TEST_CASE("a resting battery loses what its datasheet says", "[battery][printed-outside]") {
  // Source: datasheet of a 12 V 40 Ah sealed battery, read: 5 % in the first month at 20 deg C. A
  // month is a twelfth of a year; what is lost goes with what is left.
  const YearRun year = resting_year();
  CHECK_THAT(1 - year.state_of_charge[729], WithinAbs(0.05, 0.002));
  // The same datasheet: 10 % in two months, 19 % in three: more and more, where ours goes less.
  CHECK_THAT(1 - year.state_of_charge[1459], WithinAbs(0.10, 0.006));
  CHECK_THAT(1 - year.state_of_charge[2189], WithinAbs(0.19, 0.055));
}

TEST_CASE("self-discharge goes with what is left", "[battery][recomputed]") {
  const YearRun year = resting_year();
  CHECK_THAT(1 - year.state_of_charge[729], WithinAbs(1 - std::exp(-0.05), 1e-5));
}

TEST_CASE("a resting flooded battery loses what its datasheet says", "[battery][printed-outside]") {
  // Source: a flooded deep-cycle datasheet, read: 5 to 15 % a month.
  Site site = testing::plain_site();
  site.battery = {.kind = battery_kind("flooded"), .capacity_ah = 40, .floor_share = 0.5};
  site.panel.power_w = 0;
  const Simulation prepared = prepare(site);
  YearSequence system(site, prepared.loads, prepared.load_switch, site.battery.floor_share);
  const YearRun year = system.run_year(prepared.sun, prepared.offer);
  CHECK(1 - year.state_of_charge[729] > 0.05);
  CHECK(1 - year.state_of_charge[729] < 0.15);
}

TEST_CASE("cycles are near what other sources than the table's have",
          "[battery][printed-outside]") {
  // Sources: listing of a 12 V 7 Ah sealed battery, read: 600 cycles to 50 %; the trade's usual
  // figures for such, from memory: 1200, 450 and 200 to 30, 50 and 100 %.
  const auto cycles = [](double depth) {
    return cycles_at_depth({.kind = battery_kind("agm"), .capacity_ah = 7, .floor_share = 0.5},
                           depth);
  };
  CHECK_THAT(cycles(0.5), WithinRel(600, 0.001));
  CHECK_THAT(cycles(0.3), WithinRel(1200, 0.26));
  CHECK_THAT(cycles(0.5), WithinRel(450, 0.34));
  CHECK_THAT(cycles(1.0), WithinRel(200, 0.001));
}

TEST_CASE("cycles to half depth are the sources'", "[battery]") {
  // Sources, read: datasheet of a 12 V 40 Ah sealed battery, 1500, 600 and 200 cycles to 30, 50 and
  // 100 %; a course on deep-cycle batteries, 1000 to 50 %.
  const auto cycles = [](BatteryKind kind, double depth) {
    return cycles_at_depth({.kind = kind, .capacity_ah = 40, .floor_share = 0.5}, depth);
  };
  CHECK_THAT(cycles(battery_kind("agm"), 0.3), WithinRel(1500, 1e-9));
  CHECK_THAT(cycles(battery_kind("agm"), 0.5), WithinRel(600, 1e-9));
  CHECK_THAT(cycles(battery_kind("agm"), 1.0), WithinRel(200, 1e-9));
  CHECK_THAT(cycles(battery_kind("flooded"), 0.5), WithinRel(1000, 1e-9));
}

TEST_CASE("how long a battery bridges goes by the draw while it flows", "[battery][recomputed]") {
  // Peukert as above: at 10 A 87.06 Ah of 100 can be had, however little that makes in a day.
  Site site = testing::plain_site();
  site.battery = {
      .kind = battery_kind("flooded"), .capacity_ah = 100, .floor_share = 1, .peukert = 1.2};
  Monthly draw{};
  draw.fill(10);
  CHECK_THAT(100 * autonomy_shares(site, draw, 1)[0], WithinAbs(87.06, 0.005));
  CHECK(autonomy_shares(site, draw, 0.5)[0] == 0.5);
  CHECK_THAT(autonomy_days(site.battery, 30, 24, 0.5), WithinAbs(50.0 / 24, 1e-12));
}

TEST_CASE("worksheet: a battery lasts the printed days in the cold", "[balance][printed-outside]") {
  // Source: a worked worksheet after a simplified IEEE method, read (last digit recomputed): 1000
  // Wh a day at 12 V for 2.5 days, half discharged, 40 deg F, multiplier 1.3: 541.67 Ah. So a
  // battery of that size must show 2.5 days of autonomy. 4.4 deg C is the worksheet's row.
  Site site = testing::plain_site();
  site.place.air_temp_c.fill(4.4);
  site.battery = {.kind = battery_kind("flooded"), .capacity_ah = 541.67, .floor_share = 0.5};
  site.loads = {{.name = "all", .draw = {1000.0 / 24, Draw::Unit::watts}, .schedule = AlwaysOn{}}};
  const Balance balance = simulate(site).balance;
  CHECK_THAT(balance.year.autonomy_days, WithinRel(2.5, 0.001));
}

TEST_CASE("worksheet: a 24 V house lasts the printed days", "[balance][printed-outside]") {
  // Source: an off-grid course, worked example, read: loads of 6420 Wh a day, with a loss factor of
  // 1.3 8346 Wh; one day on 24 V, half discharged, temperature factor 0.9: 772.8 Ah.
  Site site = testing::plain_site();
  site.place.air_temp_c.fill(10);  // where the AGM table gives 0.90
  site.battery = {.kind = battery_kind("agm"),
                  .voltage_v = 12,
                  .capacity_ah = 772.78,
                  .rated_hours = 20,
                  .series = 2,
                  .floor_share = 0.5};
  const double watt_hours[] = {4 * 10 * 5.0, 100 * 10.0, 2 * 70 * 7.0,
                               300 * 10.0,   80 * 8.0,   300 * 2.0};
  double sum_wh = 0;
  for (const double wh : watt_hours) {
    sum_wh += wh;
    site.loads.push_back({.name = "appliance " + std::to_string(site.loads.size()),
                          .draw = {1.3 * wh / 24, Draw::Unit::watts},
                          .schedule = AlwaysOn{}});
  }
  CHECK(sum_wh == 6420);
  const Balance balance = simulate(site).balance;
  CHECK_THAT(balance.year.use_ah / kDaysPerYear * 24, WithinAbs(8346, 0.5));
  CHECK_THAT(balance.year.autonomy_days, WithinRel(1.0, 0.001));
}
