#include "verdict.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <iterator>
#include <utility>

#include <fmt/format.h>

namespace weather_truth {
namespace {

// What is aimed at. Chosen: twelve means cannot tell one real year from another.
constexpr double kMonthlyRms_pct = 4;
constexpr double kWorstMonth_pct = 12;
constexpr double kYear_pct = 3;
constexpr double kPlaneRms_pct = 3;
constexpr double kServedEach_points = 2;
constexpr double kServedMean_points = 0.45;
constexpr double kInside_pct = 92;
constexpr double kRunServed_points = 0.7;
constexpr double kRuns_pct = 85;

// A year's shortfall days are inside within so many days of p10..p90.
constexpr double kSlack_days = 3;

// Of a run's p50 or p90; or so many days, where that is more.
constexpr double kRunDays_share = 0.3;
constexpr double kRunP50_days = 3;
constexpr double kRunP90_days = 4;

bool is_near(double synthetic, double file, double days) {
  return std::abs(synthetic - file) <= std::max(days, kRunDays_share * file);
}

struct Bar {
  std::string text;
  double value;
  std::string unit;
  double limit;
  bool is_most;  // else the least there may be

  [[nodiscard]] bool met() const { return is_most ? std::abs(value) <= limit : value >= limit; }
  [[nodiscard]] std::string line() const {
    return fmt::format("- {}: {:.2f} {}; the bar is {}: {}\n", text, value, unit, limit,
                       met() ? "met" : "not met");
  }
};

// The farthest from 0, with its sign.
template <typename Items, typename Figure>
double worst_of(const Items& items, const Figure& figure) {
  double worst = 0;
  for (const auto& item : items) {
    if (std::abs(figure(item)) > std::abs(worst)) worst = figure(item);
  }
  return worst;
}

std::string sun_verdict(const std::vector<SunErrors>& suns) {
  const auto worst = [&](double SunErrors::*figure) {
    return worst_of(suns, [&](const SunErrors& sun) { return sun.*figure; });
  };
  return Bar{"months in the plane, worst rms of a plane", worst(&SunErrors::rms_pct), "%",
             kMonthlyRms_pct, true}
             .line() +
         Bar{"worst month", worst(&SunErrors::worst_pct), "%", kWorstMonth_pct, true}.line() +
         Bar{"worst year", worst(&SunErrors::year_pct), "%", kYear_pct, true}.line();
}

std::string plane_verdict(const std::vector<PlaneMonth>& months) {
  std::string text;
  for (const auto& [name, error] : {std::pair{"twelve means", &PlaneMonth::from_means_pct},
                                    {"its own days", &PlaneMonth::from_days_pct}}) {
    const PlaneErrors low =
        errors_of(months, error, [](const PlaneMonth& month) { return !month.is_low_sun(); });
    const PlaneErrors steep =
        errors_of(months, error, [](const PlaneMonth& month) { return month.is_low_sun(); });
    text += Bar{fmt::format("planes all round from {}, rms", name), low.rms_pct, "%", kPlaneRms_pct,
                true}
                .line();
    text += Bar{fmt::format("planes all round from {}, worst month", name), low.worst_pct, "%",
                kPlaneMonth_pct, true}
                .line();
    text +=
        Bar{fmt::format("low sun, from {}, rms", name), steep.rms_pct, "%", kPlaneMonth_pct, true}
            .line();
  }
  return text;
}

std::string year_verdict(const std::vector<Case>& cases) {
  std::vector<Case> ever_short;
  std::copy_if(cases.begin(), cases.end(), std::back_inserter(ever_short), [](const Case& c) {
    return c.file.short_days > 0 || c.synthetic.short_days_of_years.p50 > 0;
  });
  std::string text =
      Bar{"served share, worst", worst_of(cases, std::mem_fn(&Case::served_too_kind_points)),
          "points", kServedEach_points, true}
          .line();
  text += Bar{"served share, mean without sign",
              mean_of(cases, [](const Case& c) { return std::abs(c.served_too_kind_points()); }),
              "points", kServedMean_points, true}
              .line();
  text += fmt::format("- served share, mean with sign (above 0: too kind): {:+.2f} points\n",
                      mean_of(cases, std::mem_fn(&Case::served_too_kind_points)));
  text += Bar{"short days within 3 of p10..p90", per_cent(cases, is_inside), "% of cases",
              kInside_pct, false}
              .line();
  if (ever_short.empty()) return text;
  return text + fmt::format("- the same, of the {} cases that are ever short: {:.2f} %\n",
                            ever_short.size(), per_cent(ever_short, is_inside));
}

bool has_p50(const Case& c) { return check_run(c).p50; }
bool has_p90(const Case& c) { return check_run(c).p90; }
bool has_both(const Case& c) { return has_p50(c) && has_p90(c); }
bool has_served(const Case& c) { return check_run(c).served; }

std::string run_verdict(const std::vector<Case>& cases) {
  const auto bar = [&](const std::string& text, const std::function<bool(const Case&)>& is) {
    return Bar{text, per_cent(cases, is), "% of cases", kRuns_pct, false}.line();
  };
  std::vector<Case> redrawn = cases;
  for (Case& c : redrawn) c.file = c.redrawn.value();
  std::vector<Case> own_spread = cases;
  for (Case& c : own_spread) c.synthetic = c.own_spread.value();
  const auto shares = [](const std::vector<Case>& of) {
    return fmt::format(
        "middle year {:.0f}, one in ten {:.0f}, both {:.0f}, served {:.0f} % of cases",
        per_cent(of, has_p50), per_cent(of, has_p90), per_cent(of, has_both),
        per_cent(of, has_served));
  };
  return bar("short days of the middle year alike", has_p50) +
         bar("short days of one year in ten alike", has_p90) + bar("both alike", has_both) +
         bar("served share within 0.7 points", has_served) +
         fmt::format(
             "- short days of the middle year, mean with sign (below 0: too kind): {:+.2f}\n",
             mean_of(cases, too_many_p50)) +
         fmt::format("- short days of one year in ten, mean with sign: {:+.2f}\n",
                     mean_of(cases, too_many_p90)) +
         fmt::format("- served share, mean with sign (above 0: too kind): {:+.2f} points\n",
                     mean_of(cases, std::mem_fn(&Case::served_too_kind_points))) +
         "- alike where `place.day_spread` is the file's own: " + shares(own_spread) + "\n" +
         "- what chance alone would leave alike, had the program drawn the measured years: " +
         shares(redrawn) + "\n";
}

}  // namespace

double mean_of(const std::vector<Case>& cases, const std::function<double(const Case&)>& figure) {
  double sum = 0;
  for (const Case& c : cases) sum += figure(c);
  return sum / static_cast<double>(cases.size());
}

double per_cent(const std::vector<Case>& cases, const std::function<bool(const Case&)>& is) {
  return mean_of(cases, [&](const Case& c) { return is(c) ? 100.0 : 0.0; });
}

bool is_inside(const Case& c) {
  const amptally::Spread& days = c.synthetic.short_days_of_years;
  return c.file.short_days >= days.p10 - kSlack_days && c.file.short_days <= days.p90 + kSlack_days;
}

bool is_served_alike(const Case& c) {
  return std::abs(c.served_too_kind_points()) <= kServedEach_points;
}

double too_many_p50(const Case& c) {
  return c.synthetic.short_days_of_years.p50 - c.file.short_days_of_years.p50;
}

double too_many_p90(const Case& c) {
  return c.synthetic.short_days_of_years.p90 - c.file.short_days_of_years.p90;
}

RunCheck check_run(const Case& c) {
  const amptally::Spread& synthetic = c.synthetic.short_days_of_years;
  const amptally::Spread& file = c.file.short_days_of_years;
  return {.p50 = is_near(synthetic.p50, file.p50, kRunP50_days),
          .p90 = is_near(synthetic.p90, file.p90, kRunP90_days),
          .served = std::abs(c.served_too_kind_points()) <= kRunServed_points};
}

std::string verdict_text(const Results& results) {
  std::string text;
  if (!results.suns.empty()) {
    text += "Sun in the plane, against hourly years:\n\n" + sun_verdict(results.suns) +
            plane_verdict(results.planes) + "\n";
  }
  if (!results.year_cases.empty()) {
    text += fmt::format("Small systems against single years, {} cases:\n\n{}\n",
                        results.year_cases.size(), year_verdict(results.year_cases));
  }
  if (!results.run_cases.empty()) {
    text += fmt::format("Small systems against measured runs of years, {} cases:\n\n{}\n",
                        results.run_cases.size(), run_verdict(results.run_cases));
  }
  while (text.ends_with("\n")) text.pop_back();
  return text + "\n";
}

}  // namespace weather_truth
