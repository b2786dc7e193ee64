#include "report/verdict.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "report/labels.hpp"

namespace amptally::report {
namespace {

/// "Holds in a mean year" for "Holds".
std::string in_weather(const char* outcome, WeatherMode weather) {
  switch (weather) {
    case WeatherMode::mean:
      return std::string(outcome) + " in a mean year";
    case WeatherMode::synthetic:
      return std::string(outcome) + " in changeable weather";
    case WeatherMode::file:
      break;
  }
  return std::string(outcome) + " in the weather on file";
}

/// `decimals`, or as many more as it takes to tell the figure from the aim it misses.
int telling_decimals(double figure, double aim, int decimals) {
  while (decimals < 4 && figure != aim && rounded(figure, decimals) == rounded(aim, decimals)) {
    ++decimals;
  }
  return decimals;
}

/// "6 days", or their mean "6 days a year": not to be taken for the aim, nor for none.
std::string count_text(double days, double allowed, int years) {
  const int least = years > 1 && days < 2 ? 1 : 0;
  const int decimals = std::max(telling_decimals(days, allowed, least),  //
                                telling_decimals(days, 0, least));
  return days_text(days, decimals) + (years > 1 ? " a year" : "");
}

std::string allowed_text(double days) {
  return days > 0 ? fmt::format("; {:g} allowed", days) : "";
}

/// "6 days, first on 14 December", and over many years how they differ.
std::string short_days_text(const Balance& balance) {
  const YearBalance& year = balance.year;
  std::string text = count_text(year.shortfall_days, balance.aim.shortfall_days, balance.years);
  if (differs_by_tenths(balance)) {
    const std::string low = rounded(balance.spread->shortfall_days.p10, 0);
    const std::string high = rounded(balance.spread->shortfall_days.p90, 0);
    if (low != high) text += fmt::format(" ({} to {} in eight years of ten)", low, high);
  }
  if (year.first_short_day) {
    text +=
        (balance.years > 1 ? ", mostly from " : ", first on ") + date_text(*year.first_short_day);
  }
  if (balance.years > 1) {
    const auto short_years = std::lround(year.short_year_share * balance.years);
    text += short_years == balance.years
                ? "; every year has some"
                : fmt::format("; {} of {} years {} some", short_years, balance.years,
                              short_years == 1 ? "has" : "have");
  }
  return text + allowed_text(balance.aim.shortfall_days);
}

std::string autonomy_text(const YearBalance& year, int decimals) {
  return days_text(year.autonomy_days, decimals) + " without sun in " +
         std::string(month_name(year.autonomy_month));
}

Paragraph runs_short(const Balance& balance) {
  return {{in_weather("Runs short", balance.weather), Tone::bad}, short_days_text(balance) + "."};
}

Paragraph does_not_recover(const Balance& balance) {
  const double lost_pct = 100 * balance.sinks_share_a_year;
  return {{in_weather("Does not recover", balance.weather), Tone::bad},
          fmt::format("each year leaves the battery {} % lower than the last.",
                      rounded(lost_pct, telling_decimals(lost_pct, 0, 0)))};
}

Paragraph goes_too_deep(const Balance& balance) {
  const double allowed_pct = 100 * balance.aim.floor_share;
  const Lead lead = {in_weather("Goes too deep", balance.weather), Tone::bad};
  if (balance.years > 1) {
    return {lead, fmt::format("more than {:g} % taken out on {}{}.", allowed_pct,
                              count_text(balance.year.floor_days, balance.aim.shortfall_days,
                                         balance.years),
                              allowed_text(balance.aim.shortfall_days))};
  }
  const auto deepest = std::max_element(
      balance.months.begin(), balance.months.end(),
      [](const auto& a, const auto& b) { return a.deepest_discharge < b.deepest_discharge; });
  const double taken_pct = 100 * deepest->deepest_discharge;
  return {lead,
          fmt::format("{} % taken out in {}, {:g} % allowed.",
                      rounded(taken_pct, telling_decimals(taken_pct, allowed_pct, 0)),
                      month_name(static_cast<int>(deepest - balance.months.begin())), allowed_pct)};
}

Paragraph too_thin(const Balance& balance) {
  const double wanted = balance.aim.autonomy_days;
  const int decimals = telling_decimals(balance.year.autonomy_days, wanted, 1);
  return {{"Too little in store", Tone::bad},
          fmt::format("{}, {:g} wanted.", autonomy_text(balance.year, decimals), wanted)};
}

Paragraph holds(const Balance& balance, bool with_autonomy) {
  const YearBalance& year = balance.year;
  std::string text;
  if (with_autonomy) {
    text = std::isfinite(year.autonomy_days) ? autonomy_text(year, 1) + "."
                                             : "nothing is drawn from the battery.";
  }
  const bool begins = text.empty();
  if (year.shortfall_days > 0) {
    text += (begins ? "short on " : " Short on ") + short_days_text(balance) + ".";
  } else if (balance.years > 1) {
    text += fmt::format("{} in {} years.", begins ? "never short" : " Never short", balance.years);
  } else if (begins) {
    text += "never short.";
  }
  return {{in_weather("Holds", balance.weather), Tone::good}, text};
}

/// "4 years", "1.5 years", "7 months".
std::string life_text(double years) {
  constexpr double kMostMonths_years = 11.5 / 12;  // else it would read "12 months"
  if (years < kMostMonths_years) {
    return fmt::format("{} months", std::max(2L, std::lround(12 * years)));
  }
  // Up to 1.05 it would read "1.0 years".
  if (years < 1.05) return "1 year";
  return rounded(years, years < 3 ? 1 : 0) + " years";
}

std::string longest_dull_text(const Balance& balance) {
  const std::string span =
      balance.years > 1 ? fmt::format("{} years", balance.years) : std::string("the year");
  const int days = balance.year.longest_dull_days;
  if (days >= kDaysPerYear * balance.years) {
    return fmt::format("On no day in {} did as much come in as went out.", span);
  }
  return fmt::format("The longest dull run in {}: {} in which less came in than went out.", span,
                     days_text(days, 0));
}

}  // namespace

bool differs_by_tenths(const Balance& balance) {
  // Of fewer years there is no one in ten.
  return balance.spread.has_value() && balance.years >= 10;
}

std::vector<Paragraph> verdicts(const Balance& balance, bool with_autonomy) {
  std::vector<Paragraph> missed;
  if (!balance.shortfall_met) missed.push_back(runs_short(balance));
  if (balance.sinks_share_a_year > 0) missed.push_back(does_not_recover(balance));
  if (!balance.floor_met) missed.push_back(goes_too_deep(balance));
  if (with_autonomy && !balance.autonomy_met) missed.push_back(too_thin(balance));
  if (missed.empty()) missed.push_back(holds(balance, with_autonomy));
  return missed;
}

std::vector<Paragraph> outlook(const Balance& balance) {
  const Life& life = balance.life;
  std::vector<Paragraph> lines;
  if (life.years <= 0) {
    lines.push_back({.text = "The battery is past the usual end of its life, 80 % of its printed "
                             "capacity: how long it still works cannot be told."});
  } else {
    lines.push_back({.text = fmt::format(
                         "The battery lasts about {}: {}. Indicative only.", life_text(life.years),
                         life.worn_by_depth ? "its daily depth wears it out" : "age ends it")});
  }
  if (balance.weather != WeatherMode::mean && balance.year.longest_dull_days > 0) {
    lines.push_back({.text = longest_dull_text(balance)});
  }
  return lines;
}

}  // namespace amptally::report
