#include "report/verdict.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "report/labels.hpp"

namespace amptally::report {
namespace {

/// "23 days a year", and from when.
std::string short_days_text(const YearBalance& year) {
  std::string text = days_text(year.shortfall_days, 0) + " a year";
  if (year.first_short_day) text += ", first on " + date_text(*year.first_short_day);
  return text;
}

std::string autonomy_text(const YearBalance& year, int decimals) {
  return days_text(year.autonomy_days, decimals) + " without sun in " +
         std::string(month_name(year.autonomy_month));
}

/// `decimals`, or as many more as it takes to tell the figure from the aim it misses.
int telling_decimals(double figure, double aim, int decimals) {
  while (decimals < 4 && rounded(figure, decimals) == rounded(aim, decimals)) ++decimals;
  return decimals;
}

Paragraph runs_short(const Balance& balance) {
  std::string text = short_days_text(balance.year);
  if (balance.aim.shortfall_days > 0) {
    text += fmt::format("; {:g} allowed", balance.aim.shortfall_days);
  }
  return {{"Runs short", Tone::bad}, text + "."};
}

Paragraph goes_too_deep(const Balance& balance) {
  const auto deepest = std::max_element(
      balance.months.begin(), balance.months.end(),
      [](const auto& a, const auto& b) { return a.deepest_discharge < b.deepest_discharge; });
  const double taken_pct = 100 * deepest->deepest_discharge;
  const double allowed_pct = 100 * balance.aim.floor_share;
  return {{"Goes too deep", Tone::bad},
          fmt::format("{} % taken out in {}, {:g} % allowed.",
                      rounded(taken_pct, telling_decimals(taken_pct, allowed_pct, 0)),
                      month_name(static_cast<int>(deepest - balance.months.begin())), allowed_pct)};
}

Paragraph too_thin(const Balance& balance) {
  const double wanted = balance.aim.autonomy_days;
  const int decimals = telling_decimals(balance.year.autonomy_days, wanted, 1);
  return {{"Too thin", Tone::bad},
          fmt::format("{}, {:g} wanted.", autonomy_text(balance.year, decimals), wanted)};
}

Paragraph holds(const Balance& balance) {
  const YearBalance& year = balance.year;
  std::string text = std::isfinite(year.autonomy_days) ? autonomy_text(year, 1) + "."
                                                       : "nothing is drawn from the battery.";
  if (year.shortfall_days > 0) {
    text += fmt::format(" Short on {}; {:g} allowed.", short_days_text(year),
                        balance.aim.shortfall_days);
  }
  return {{"Holds", Tone::good}, text};
}

}  // namespace

std::vector<Paragraph> verdicts(const Balance& balance) {
  std::vector<Paragraph> missed;
  if (!balance.shortfall_met) missed.push_back(runs_short(balance));
  if (!balance.floor_met) missed.push_back(goes_too_deep(balance));
  if (!balance.autonomy_met) missed.push_back(too_thin(balance));
  if (missed.empty()) missed.push_back(holds(balance));
  return missed;
}

}  // namespace amptally::report
