// How close twelve monthly means come to a full year by the hour: sun in the plane month by month,
// and the balance of a grid of systems. Run:
//   weather_truth FILE.epw... [--tilt DEG]... [--markdown]
//                 [--generator markov|markov-raw|autoregressive]
//   weather_truth FILE.epw... --page docs/weather.md [--check]
// The second writes the figures of that page between its marks; with --check it only says whether
// they are those. Only figures that every case has are in it, by all three generators.
#include <algorithm>
#include <array>
#include <cmath>
#include <fstream>
#include <iostream>
#include <memory>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "amptally/balance.hpp"
#include "amptally/battery_type.hpp"
#include "amptally/error.hpp"

#include "place/clearness_chain.hpp"
#include "report/table.hpp"
#include "sitefile/file_text.hpp"
#include "sitefile/weather_file.hpp"

using namespace amptally;
using report::number;
using report::Table;
using report::word;

namespace {

// What is aimed at. Chosen: twelve means cannot tell one real year from another.
constexpr double kMonthlyRms_pct = 4;
constexpr double kWorstMonth_pct = 12;
constexpr double kYear_pct = 3;
constexpr double kServedEach_points = 2;
constexpr double kServedMean_points = 0.7;
constexpr double kInsideShare = 0.85;

// A file's shortfall days are inside within so many days of p10..p90.
constexpr double kSlack_days = 3;

// Poorer months are left out of the monthly errors: an hour of haze is a tenth of them.
constexpr double kPoorMonth_kwh_m2_day = 0.6;

constexpr int kYears = 40;

enum class Generator {
  markov,          // as shipped
  markov_raw,      // with the second matrix as printed
  autoregressive,  // a Gaussian chain over the same days
};

struct Options {
  std::vector<std::string> files;
  std::vector<double> tilts_deg;  // empty: latitude + 15, and 60
  bool markdown = false;
  bool quiet = false;
  std::string page;  // to write the figures into
  bool check = false;
  Generator generator = Generator::markov;
};

Generator generator_named(const std::string& name) {
  if (name == "markov") return Generator::markov;
  if (name == "markov-raw") return Generator::markov_raw;
  if (name == "autoregressive") return Generator::autoregressive;
  throw std::runtime_error(name + " is not markov, markov-raw or autoregressive");
}

Options options_of(int argc, char** argv) {
  Options options;
  for (int i = 1; i < argc; ++i) {
    const std::string word = argv[i];
    const auto value = [&] {
      if (++i >= argc) throw std::runtime_error(word + " needs a value");
      return std::string(argv[i]);
    };
    if (word == "--markdown") {
      options.markdown = true;
    } else if (word == "--page") {
      options.page = value();
    } else if (word == "--check") {
      options.check = true;
    } else if (word == "--tilt") {
      options.tilts_deg.push_back(std::stod(value()));
    } else if (word == "--generator") {
      options.generator = generator_named(value());
    } else if (word.starts_with("-")) {
      throw std::runtime_error("unknown option " + word);
    } else {
      options.files.push_back(word);
    }
  }
  if (options.files.empty()) throw std::runtime_error("no file given");
  return options;
}

double normal_density(double z) { return std::exp(-z * z / 2) / std::sqrt(2 * std::acos(-1.0)); }

double normal_share_below(double z) { return std::erfc(-z / std::sqrt(2.0)) / 2; }

// Where a share of a normal distribution lies below, by halving.
double normal_quantile(double share) {
  double low = -9;
  double high = 9;
  for (int i = 0; i < 60; ++i) {
    const double half = (low + high) / 2;
    (normal_share_below(half) < share ? low : high) = half;
  }
  return low;
}

// The same days in the long run, but following one another as a first-order Gaussian chain does:
// Graham, Hollands & Unny 1988, Solar Energy 40(2), 83-92, whose lag-1 is 0.29 (from memory). Cut
// into the classes of the matrices.
ClearnessMonth gaussian_chain(ClearnessMonth month) {
  constexpr double kLag1 = 0.29;
  constexpr int kSlices = 200;  // of a class, by its share
  std::array<double, kClearnessClasses> cut{};
  double below = 0;
  for (std::size_t j = 0; j < kClearnessClasses; ++j) {
    cut[j] = normal_quantile(below += month.share[j]);
  }
  cut.back() = 9;
  double from = -9;
  for (std::size_t i = 0; i < kClearnessClasses; ++i) {
    std::array<double, kClearnessClasses> up_to{};
    double weight = 0;
    for (int s = 0; s < kSlices; ++s) {
      const double z = from + (cut[i] - from) * (s + 0.5) / kSlices;
      const double density = normal_density(z);
      weight += density;
      for (std::size_t j = 0; j < kClearnessClasses; ++j) {
        up_to[j] +=
            density * normal_share_below((cut[j] - kLag1 * z) / std::sqrt(1 - kLag1 * kLag1));
      }
    }
    for (std::size_t j = 0; j < kClearnessClasses; ++j) {
      month.up_to[i][j] = weight > 0 ? up_to[j] / weight : 1;
    }
    month.up_to[i].back() = 1;
    from = cut[i];
  }
  return month;
}

std::array<ClearnessMonth, 12> chains(const Place& place, Generator generator) {
  const auto second = generator == Generator::markov_raw ? SecondMatrix::as_printed
                                                         : SecondMatrix::mean_of_first_three;
  std::array<ClearnessMonth, 12> months = clearness_months(place, second);
  if (generator == Generator::autoregressive) {
    for (ClearnessMonth& month : months) month = gaussian_chain(month);
  }
  return months;
}

// One file over one plane.
struct Case {
  std::shared_ptr<const WeatherSeries> series;
  Place place;
  double tilt_deg;
  Generator generator;

  [[nodiscard]] PanelPlane plane() const {
    return {.tilt_deg = tilt_deg, .azimuth_deg = place.latitude_deg < 0 ? 0.0 : 180.0};
  }
  [[nodiscard]] std::string title() const {
    return fmt::format("{}, tilt {:.0f}", series->name, tilt_deg);
  }
};

void print(const Options& options, const std::string& title, const Table& table) {
  if (options.quiet) return;
  if (options.markdown) {
    std::cout << "### " << title << "\n\n" << report::table_markdown(table) << '\n';
  } else {
    std::cout << title << "\n\n" << report::table_text(table, {}) << '\n';
  }
}

// How far monthly figures lie from the file's, per cent.
struct MonthErrors {
  Monthly pct{};
  double rms_pct = 0;
  double worst_pct = 0;  // with its sign
  double year_pct = 0;

  [[nodiscard]] bool met() const {
    return rms_pct <= kMonthlyRms_pct && std::abs(worst_pct) <= kWorstMonth_pct &&
           std::abs(year_pct) <= kYear_pct;
  }
};

MonthErrors month_errors(const Monthly& truth, const Monthly& other) {
  MonthErrors errors;
  double squares = 0;
  double truth_year = 0;
  double other_year = 0;
  int counted = 0;
  for (std::size_t m = 0; m < 12; ++m) {
    const int days = days_in_month(static_cast<int>(m));
    truth_year += truth[m] * days;
    other_year += other[m] * days;
    errors.pct[m] = truth[m] > 0 ? 100 * (other[m] / truth[m] - 1) : 0;
    if (truth[m] < kPoorMonth_kwh_m2_day) continue;
    ++counted;
    squares += errors.pct[m] * errors.pct[m];
    if (std::abs(errors.pct[m]) > std::abs(errors.worst_pct)) errors.worst_pct = errors.pct[m];
  }
  errors.rms_pct = counted > 0 ? std::sqrt(squares / counted) : 0;
  errors.year_pct = 100 * (other_year / truth_year - 1);
  return errors;
}

void add_months(const SiteSky& sky, const SunYear& year, double weight, Monthly& to) {
  const auto months = sun_months(sky, year);
  for (std::size_t m = 0; m < 12; ++m) to[m] += months[m].sun_panel_kwh_m2_day * weight;
}

struct SunErrors {
  std::string title;
  MonthErrors synthetic;
  MonthErrors mean;
};

SunErrors compare_sun(const Options& options, const Case& c) {
  SiteSky sky = site_sky(c.place, c.plane());
  Monthly truth{};
  add_months(sky, series_sun_year(sky, *c.series, 0), 1, truth);
  Monthly mean{};
  add_months(sky, mean_sun_year(sky), 1, mean);
  sky.clearness =
      std::make_shared<const std::array<ClearnessMonth, 12>>(chains(c.place, c.generator));
  Monthly synthetic{};
  for (int y = 0; y < kYears; ++y) {
    add_months(sky, synthetic_sun_year(sky, 1, y), 1.0 / kYears, synthetic);
  }
  const SunErrors errors = {c.title(), month_errors(truth, synthetic), month_errors(truth, mean)};
  Table table;
  table.columns = {{"", "", "", report::Align::left},
                   {"file", "kWh/m2/day", ""},
                   {"synthetic", "%", ""},
                   {"mean year", "%", ""}};
  const auto row = [&](const std::string& name, const report::Cell& sun, double a, double b) {
    table.rows.push_back({word(name), sun, number(a, 1), number(b, 1)});
  };
  for (std::size_t m = 0; m < 12; ++m) {
    row(std::string(kMonthNames[m]), number(truth[m], 2), errors.synthetic.pct[m],
        errors.mean.pct[m]);
  }
  row("rms of months", word(""), errors.synthetic.rms_pct, errors.mean.rms_pct);
  row("worst month", word(""), errors.synthetic.worst_pct, errors.mean.worst_pct);
  row("year", word(""), errors.synthetic.year_pct, errors.mean.year_pct);
  print(options, c.title() + ": sun in the plane, and how far off it is from monthly means", table);
  return errors;
}

// How days stand off their month's mean, and how much of that a day passes on to the next.
struct Spells {
  double deviation = 0;  // standard, of a day's sun over its month's mean day
  double lag_1 = 0;      // correlation of one day with the next
};

// @param means  365: a day of the smooth mean year, kWh/m2
Spells spells_of(const std::vector<SunYear>& years, const std::vector<WeatherDay>& means) {
  std::vector<double> kinds;
  for (const SunYear& year : years) {
    for (std::size_t d = 0; d < kDaysPerYear; ++d) {
      kinds.push_back(year.days[d].sun_horizontal_kwh_m2 / means[d].sun_horizontal_kwh_m2 - 1);
    }
  }
  double squares = 0;
  double products = 0;
  for (std::size_t i = 0; i < kinds.size(); ++i) {
    squares += kinds[i] * kinds[i];
    if (i > 0) products += kinds[i] * kinds[i - 1];
  }
  return {.deviation = std::sqrt(squares / static_cast<double>(kinds.size())),
          .lag_1 = products / squares};
}

struct FileSpells {
  std::string name;
  Spells file;
  Spells synthetic;
};

FileSpells compare_spells(const Options& options, const Case& c) {
  SiteSky sky = site_sky(c.place, c.plane());
  const Spells file = spells_of({series_sun_year(sky, *c.series, 0)}, sky.mean_days);
  sky.clearness =
      std::make_shared<const std::array<ClearnessMonth, 12>>(chains(c.place, c.generator));
  std::vector<SunYear> years;
  years.reserve(kYears);
  for (int y = 0; y < kYears; ++y) years.push_back(synthetic_sun_year(sky, 1, y));
  const Spells synthetic = spells_of(years, sky.mean_days);
  Table table;
  table.columns = {{"", "", "", report::Align::left}, {"file", "", ""}, {"synthetic", "", ""}};
  table.rows = {
      {word("deviation from the month's mean"), number(file.deviation, 2),
       number(synthetic.deviation, 2)},
      {word("correlation with the day before"), number(file.lag_1, 2), number(synthetic.lag_1, 2)}};
  print(options, c.series->name + ": a day's sun on the level", table);
  return {c.series->name, file, synthetic};
}

// Two runs a day of half an hour at 2 A, and 20 mA of standby: the small watering system.
constexpr double kUse_ah_day = 2 * 0.5 * 2 + 24 * 0.02;

Site small_system(const Case& c, double usable_days, double panel_w) {
  constexpr double kCutoff = 0.5;
  Site site{.name = "small system",
            .place = c.place,
            .panel = {.power_w = panel_w,
                      .tilt_deg = c.plane().tilt_deg,
                      .azimuth_deg = c.plane().azimuth_deg},
            .regulator = {.kind = RegulatorKind::mppt,
                          .standby = {.value = 0.02},
                          .cutoff = Threshold{kCutoff, Threshold::Unit::state_of_charge},
                          .reconnect = Threshold{0.6, Threshold::Unit::state_of_charge}},
            .battery = {.kind = battery_kind("agm"),
                        .capacity_ah = usable_days * kUse_ah_day / (1 - kCutoff),
                        .floor_share = 1 - kCutoff},
            .aim = {}};
  site.loads.push_back({.name = "pump",
                        .draw = {2, Draw::Unit::amperes},
                        .schedule = Runs{{{390, 30}, {1170, 30}}}});
  return site;
}

// The panel whose poorest month in the file brings as much as is used, W.
double panel_for_use_w(const Case& c) {
  constexpr double kTrial_w = 100;
  const Site site = small_system(c, 3, kTrial_w);
  const SiteSky sky = site_sky(c.place, c.plane());
  const ChargeOffer offer = charge_offer(site, series_sun_year(sky, *c.series, 0));
  Monthly charge_ah{};
  for (std::size_t h = 0; h < kHoursPerYear; ++h) {
    const int day = static_cast<int>(h) / kHoursPerDay + 1;
    charge_ah[static_cast<std::size_t>(month_of_day(day))] += offer.current_a[h];
  }
  for (int m = 0; m < 12; ++m) charge_ah[static_cast<std::size_t>(m)] /= days_in_month(m);
  return kTrial_w * kUse_ah_day / *std::min_element(charge_ah.begin(), charge_ah.end());
}

// What came out over all cases.
struct GridResult {
  int cases = 0;
  int inside = 0;
  int short_cases = 0;  // those with a day of shortfall, in the file or in most synthetic years
  int short_inside = 0;
  double difference_points = 0;  // sum
  double absolute_points = 0;    // sum
  double worst_points = 0;       // with its sign
};

void take(GridResult& result, double difference_points, bool is_short, bool inside) {
  ++result.cases;
  result.inside += inside ? 1 : 0;
  result.short_cases += is_short ? 1 : 0;
  result.short_inside += is_short && inside ? 1 : 0;
  result.difference_points += difference_points;
  result.absolute_points += std::abs(difference_points);
  if (std::abs(difference_points) > std::abs(result.worst_points)) {
    result.worst_points = difference_points;
  }
}

std::vector<report::Cell> compare_balance(const Case& c, double usable_days, double ratio,
                                          double panel_w, GridResult& result) {
  const Site site = small_system(c, usable_days, ratio * panel_w);
  Simulation prepared = prepare(site);
  const Balance file =
      simulate_prepared(site, prepared, {.mode = WeatherMode::file, .series = c.series});
  prepared.sky.clearness =
      std::make_shared<const std::array<ClearnessMonth, 12>>(chains(c.place, c.generator));
  const Balance synthetic = simulate_prepared(
      site, prepared, {.mode = WeatherMode::synthetic, .years = kYears, .threads = 2});
  const double difference = 100 * (synthetic.year.served_share - file.year.served_share);
  const Spread days = synthetic.spread->shortfall_days;
  const bool inside = file.year.shortfall_days >= days.p10 - kSlack_days &&
                      file.year.shortfall_days <= days.p90 + kSlack_days;
  take(result, difference, file.year.shortfall_days > 0 || days.p50 > 0, inside);
  return {number(usable_days, 1),
          number(ratio, 2),
          number(100 * file.year.served_share, 1),
          number(100 * synthetic.year.served_share, 1),
          number(difference, 1),
          number(file.year.shortfall_days, 0),
          number(synthetic.year.shortfall_days, 1),
          word(fmt::format("{:.0f}..{:.0f}", days.p10, days.p90)),
          word(inside ? "yes" : "no")};
}

// Every case of a file and tilt, for the page: its row of `compare_balances`.
struct CaseRows {
  std::string title;
  std::vector<std::vector<report::Cell>> rows;
};

CaseRows compare_balances(const Options& options, const Case& c, GridResult& result) {
  Table table;
  table.columns = {
      {"usable\ncharge", "days", ""}, {"sun/use", "", ""},          {"served\nfile", "%", ""},
      {"synthetic", "%", ""},         {"difference", "points", ""}, {"short\nfile", "days", ""},
      {"synthetic", "days", ""},      {"p10..p90", "days", ""},     {"inside", "", ""}};
  const double panel_w = panel_for_use_w(c);
  for (const double usable_days : {1.5, 3.0, 5.0}) {
    for (const double ratio : {0.5, 0.7, 0.85, 1.0, 1.15, 1.3, 1.6, 2.0}) {
      table.rows.push_back(compare_balance(c, usable_days, ratio, panel_w, result));
    }
  }
  print(options, c.title() + ": what a small system serves", table);
  return {c.title(), table.rows};
}

std::string against(const std::string& what, double value, const std::string& unit, double bar,
                    bool met) {
  return fmt::format("- {}: {:.2f} {}; the bar is {}: {}\n", what, value, unit, bar,
                     met ? "met" : "not met");
}

struct Results {
  std::vector<FileSpells> spells;
  std::vector<SunErrors> suns;
  std::vector<CaseRows> balances;
  GridResult grid;
};

// The largest of all tilts.
struct WorstSun {
  double rms_pct = 0;
  double month_pct = 0;
  double year_pct = 0;
};

WorstSun worst_of(const std::vector<SunErrors>& suns) {
  WorstSun worst;
  for (const SunErrors& sun : suns) {
    worst.rms_pct = std::max(worst.rms_pct, sun.synthetic.rms_pct);
    worst.month_pct = std::max(worst.month_pct, std::abs(sun.synthetic.worst_pct));
    worst.year_pct = std::max(worst.year_pct, std::abs(sun.synthetic.year_pct));
  }
  return worst;
}

std::string verdict_text(const Results& results) {
  const GridResult& grid = results.grid;
  const auto [rms, worst, year] = worst_of(results.suns);
  const double mean = grid.absolute_points / grid.cases;
  const double inside = static_cast<double>(grid.inside) / grid.cases;
  return fmt::format("All files and tilts, synthetic weather, {} cases\n\n", grid.cases) +
         against("months in the plane, rms", rms, "%", kMonthlyRms_pct, rms <= kMonthlyRms_pct) +
         against("worst month", worst, "%", kWorstMonth_pct, worst <= kWorstMonth_pct) +
         against("year", year, "%", kYear_pct, year <= kYear_pct) +
         against("served share, worst", grid.worst_points, "points", kServedEach_points,
                 std::abs(grid.worst_points) <= kServedEach_points) +
         against("served share, mean without sign", mean, "points", kServedMean_points,
                 mean <= kServedMean_points) +
         fmt::format("- served share, mean with sign: {:+.2f} points\n",
                     grid.difference_points / grid.cases) +
         against("short days within 3 of p10..p90", 100 * inside, "% of cases", 100 * kInsideShare,
                 inside >= kInsideShare) +
         fmt::format("- the same, of the {} cases that are ever short: {:.2f} %\n",
                     grid.short_cases, 100.0 * grid.short_inside / grid.short_cases);
}

Results results_of(const Options& options) {
  Results results;
  for (const std::string& file : options.files) {
    const auto series = std::make_shared<const WeatherSeries>(
        io::read_weather(file, io::read_file(file, std::cin, io::kMaxWeatherFileBytes)));
    const Place place = place_of(*series, {});
    std::vector<double> tilts = options.tilts_deg;
    if (tilts.empty()) tilts = {std::min(90.0, std::abs(place.latitude_deg) + 15), 60};
    results.spells.push_back(compare_spells(options, {series, place, 0, options.generator}));
    for (const double tilt : tilts) {
      const Case c = {series, place, tilt, options.generator};
      results.suns.push_back(compare_sun(options, c));
      results.balances.push_back(compare_balances(options, c, results.grid));
    }
  }
  return results;
}

// ---- The page ----

std::string generators_text(const std::vector<std::pair<std::string, Results>>& generators) {
  Table table;
  table.columns = {{"", "", "", report::Align::left},
                   {"months, rms", "%", ""},
                   {"served, worst", "points", ""},
                   {"served, mean without sign", "points", ""},
                   {"inside", "% of cases", ""}};
  for (const FileSpells& spells : generators.front().second.spells) {
    table.columns.push_back({spells.name + ": correlation with the day before", "", ""});
  }
  for (const auto& [name, results] : generators) {
    const GridResult& grid = results.grid;
    table.rows.push_back({word(name), number(worst_of(results.suns).rms_pct, 2),
                          number(grid.worst_points, 2),
                          number(grid.absolute_points / grid.cases, 2),
                          number(100.0 * grid.inside / grid.cases, 2)});
    for (const FileSpells& spells : results.spells) {
      table.rows.back().push_back(number(spells.synthetic.lag_1, 2));
    }
  }
  table.rows.push_back({word("the files themselves"), word(""), word(""), word(""), word("")});
  for (const FileSpells& spells : generators.front().second.spells) {
    table.rows.back().push_back(number(spells.file.lag_1, 2));
  }
  return report::table_markdown(table);
}

std::string suns_text(const Results& results) {
  Table table;
  table.columns = {{"", "", "", report::Align::left}};
  for (const SunErrors& sun : results.suns) table.columns.push_back({sun.title, "%", ""});
  const auto row = [&](const std::string& name, const auto& figure) {
    table.rows.push_back({word(name)});
    for (const SunErrors& sun : results.suns) {
      table.rows.back().push_back(number(figure(sun.synthetic), 1));
    }
  };
  for (std::size_t m = 0; m < 12; ++m) {
    row(std::string(kMonthNames[m]), [m](const MonthErrors& e) { return e.pct[m]; });
  }
  row("rms of months", [](const MonthErrors& e) { return e.rms_pct; });
  row("worst month", [](const MonthErrors& e) { return e.worst_pct; });
  row("year", [](const MonthErrors& e) { return e.year_pct; });
  return report::table_markdown(table);
}

std::string spells_text(const Results& results) {
  Table table;
  table.columns = {{"", "", "", report::Align::left},
                   {"deviation from the month's mean: file", "", ""},
                   {"synthetic", "", ""},
                   {"correlation with the day before: file", "", ""},
                   {"synthetic", "", ""}};
  for (const FileSpells& s : results.spells) {
    table.rows.push_back({word(s.name), number(s.file.deviation, 2),
                          number(s.synthetic.deviation, 2), number(s.file.lag_1, 2),
                          number(s.synthetic.lag_1, 2)});
  }
  return report::table_markdown(table);
}

std::string balances_text(const Results& results) {
  // Of the rows of `compare_balances`: with three days' charge, these of sun over use.
  constexpr std::array<std::size_t, 3> kShown = {8 + 1, 8 + 3, 8 + 5};
  Table table;
  table.columns = {{"", "", "", report::Align::left},
                   {"sun/use", "", ""},
                   {"served, file", "%", ""},
                   {"synthetic", "%", ""},
                   {"short days, file", "", ""},
                   {"synthetic", "", ""},
                   {"p10..p90", "", ""}};
  for (const CaseRows& c : results.balances) {
    for (const std::size_t i : kShown) {
      const auto& row = c.rows.at(i);
      table.rows.push_back({word(c.title), row[1], row[2], row[3], row[5], row[6], row[7]});
    }
  }
  return report::table_markdown(table);
}

// `page` with the text between two marks replaced.
std::string with_part(const std::string& page, const std::string& name, const std::string& text) {
  const std::string begin = "<!-- " + name + ": written by weather_truth -->\n";
  const std::string end = "<!-- end of " + name + " -->\n";
  const std::size_t from = page.find(begin);
  const std::size_t to = page.find(end);
  if (from == page.npos || to == page.npos) {
    throw std::runtime_error("the page has no lines " + begin + "and " + end);
  }
  return page.substr(0, from + begin.size()) + "\n" + text + "\n" + page.substr(to);
}

// 0 where the page is as it should be, or has been written.
int write_page(Options options) {
  options.quiet = true;
  std::vector<std::pair<std::string, Results>> generators;
  for (const auto& [name, generator] :
       {std::pair{"matrices, second blended (the program)", Generator::markov},
        {"matrices as printed", Generator::markov_raw},
        {"Gaussian chain", Generator::autoregressive}}) {
    options.generator = generator;
    generators.emplace_back(name, results_of(options));
  }
  const Results& shipped = generators.front().second;
  const std::string old = io::read_file(options.page, std::cin, io::kMaxFileBytes);
  std::string page = with_part(old, "verdict", verdict_text(shipped));
  page = with_part(page, "generators", generators_text(generators));
  page = with_part(page, "sun", suns_text(shipped));
  page = with_part(page, "days", spells_text(shipped));
  page = with_part(page, "systems", balances_text(shipped));
  if (page == old) return 0;
  if (options.check) {
    std::cerr << options.page << ": figures are not those of today (see tests/weather_page.sh)\n";
    return 1;
  }
  std::ofstream(options.page, std::ios::binary) << page;
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  try {
    const Options options = options_of(argc, argv);
    if (!options.page.empty()) return write_page(options);
    std::cout << verdict_text(results_of(options));
    return 0;
  } catch (const std::exception& e) {
    std::cerr << "weather_truth: " << e.what() << '\n';
    return 2;
  }
}
