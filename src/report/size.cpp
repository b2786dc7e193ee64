#include "report/size.hpp"

#include <cmath>

#include <fmt/format.h>

#include "report/document.hpp"
#include "report/findings_text.hpp"
#include "report/json.hpp"
#include "report/labels.hpp"
#include "report/rough.hpp"

namespace amptally::report {
namespace {

/// A size: written with as many figures as it was run with.
Cell size_cell(double value) { return {fmt::format("{:g}", value), fmt::format("{}", value)}; }

/// "2 × 80 W panel with 33 Ah battery"
std::string pair_text(const Sizes& sizes) {
  const auto times = [](int n) { return n > 1 ? fmt::format("{} × ", n) : std::string(); };
  return fmt::format("{}{:g} W panel with {}{:g} Ah battery", times(sizes.panel_count),
                     sizes.panel_each_w, times(sizes.battery_parallel), sizes.battery_each_ah);
}

std::string tilt_text(const Sizing& sizing) {
  if (sizing.tilts_deg.size() < 2) return "";
  std::string tried;
  for (const double tilt_deg : sizing.tilts_deg) {
    tried += fmt::format("{}{:g}°", tried.empty() ? "" : ", ", tilt_deg);
  }
  return fmt::format(" At a tilt of {:g}°, the cheapest of {}.", sizing.best->sizes.tilt_deg,
                     tried);
}

Paragraph prices_paragraph(const SizeAnswer& answer) {
  return {.text = fmt::format("Prices: {:g} a watt of panel, {:g} an amp-hour of 12 V battery{}.",
                              answer.prices.panel_per_w, answer.prices.battery_per_ah,
                              answer.prices_given ? ""
                                                  : ", invented ones: give your own by "
                                                    "--panel-price and --battery-price")};
}

Paragraph nothing_meets(const SizeAnswer& answer) {
  const Sizing& sizing = answer.sizing;
  const SizedPair& largest = sizing.largest;
  std::string text = fmt::format("even {} is {}.", pair_text(largest.sizes),
                                 why_missed(largest.outcome.year, sizing.aim));
  if (std::isinf(sizing.worksheet.panel_power_w)) {
    text +=
        fmt::format(" No sun reaches the panel in {}.", month_name(sizing.worksheet.design_month));
  }
  return {{"Nothing meets the aim", Tone::bad}, text};
}

void append_verdict(Document& document, const SizeAnswer& answer) {
  const Sizing& sizing = answer.sizing;
  if (!sizing.best) {
    document.emplace_back(nothing_meets(answer));
    return;
  }
  document.emplace_back(Paragraph{{"Smallest cost", Tone::good},
                                  fmt::format("{}: cost {}.{}", pair_text(sizing.best->sizes),
                                              rounded(sizing.best->cost, 0), tilt_text(sizing))});
  if (!sizing.as_sold) return;
  document.emplace_back(Paragraph{{"In sizes as sold", Tone::plain},
                                  fmt::format("{}: cost {}.", pair_text(sizing.as_sold->sizes),
                                              rounded(sizing.as_sold->cost, 0))});
}

std::vector<Cell> pair_row(const SizedPair& pair, const std::string& remark) {
  const YearBalance& year = pair.outcome.year;
  const bool meets = pair.outcome.met.holds();
  return {size_cell(pair.sizes.panel_power_w()),
          size_cell(pair.sizes.battery_capacity_ah()),
          number(pair.cost, 0),
          {meets ? "yes" : "no", meets ? "true" : "false"},
          number(year.shortfall_days, 1),
          percent(year.deepest_discharge),
          number(year.autonomy_days, 1),
          word(remark)};
}

Table pair_table(const Sizing& sizing) {
  Table table{.columns = {{"Panel", "W", "panel_power_w"},
                          {"Battery", "Ah", "battery_capacity_ah"},
                          {"Cost", "", "cost"},
                          {"Meets\nthe aim", "", "meets_aim", Align::left},
                          {"Short", "days/year", "shortfall_days"},
                          {"Deepest\ntaken", "%", "deepest_discharge"},
                          {"Autonomy", "days", "autonomy_days"},
                          {"", "", "", Align::left}},
              .rows = {}};
  if (!sizing.best) {
    table.rows.push_back(pair_row(sizing.largest, "the largest tried"));
    return table;
  }
  for (const SizedPair& pair : sizing.line) {
    // In the table each power of panel stands once.
    const bool is_best = pair.sizes.panel_power_w() == sizing.best->sizes.panel_power_w();
    table.rows.push_back(pair_row(pair, is_best ? "smallest cost" : ""));
  }
  return table;
}

void append_pairs(Document& document, const Sizing& sizing) {
  document.emplace_back(Heading{sizing.best ? "The smallest battery for each panel" : "Tried"});
  document.emplace_back(pair_table(sizing));
}

/// Why the hand method says otherwise, by what it does not know.
std::string difference_text(const Sizing& sizing) {
  const Worksheet& sheet = sizing.worksheet;
  if (std::isinf(sheet.panel_power_w)) {
    return "It has no answer for a month without sun.";
  }
  if (!sizing.best) return "It knows of no spells of weather, and of no limits.";
  const Sizes& best = sizing.best->sizes;
  if (best.panel_power_w() > sheet.panel_power_w) {
    return "It takes every day for its month's mean: dull spells, a battery that charges slowly "
           "near full and nights are what the larger panel is for.";
  }
  if (best.battery_capacity_ah() > sheet.battery_capacity_ah) {
    return "It makes the panel carry its hardest month alone; a battery larger than the days "
           "without sun ask for carries part of it, and a few short days are allowed.";
  }
  return "It makes the panel carry its hardest month with nothing to spare or to miss; over real "
         "years a few short days are allowed.";
}

void append_worksheet(Document& document, const Sizing& sizing) {
  const Worksheet& sheet = sizing.worksheet;
  document.emplace_back(Heading{"A second opinion: the hand method"});
  const bool has_sun = std::isfinite(sheet.panel_power_w);
  document.emplace_back(
      Facts{{{"Design month", std::string(month_name(sheet.design_month))},
             {"Panel", has_sun ? rounded(sheet.panel_power_w, 1) + " W" : "none is large enough"},
             {"Battery", rounded(sheet.battery_capacity_ah, 1) + " Ah"}}});
  document.emplace_back(Paragraph{.text = difference_text(sizing)});
}

/// The options that ask for the same weather again.
std::string weather_options(const WeatherChoice& weather) {
  if (weather.mode == WeatherMode::mean) return "--weather mean";
  if (weather.mode == WeatherMode::file) return "--weather " + weather.series->path;
  const WeatherChoice usual;
  std::string text = "--weather synthetic";
  if (weather.years != usual.years) text += fmt::format(" --years {}", weather.years);
  if (weather.seed != usual.seed) text += fmt::format(" --seed {}", weather.seed);
  return text;
}

void append_check(Document& document, const SizeAnswer& answer) {
  if (!answer.sizing.to_buy()) return;
  const SizedPair& pair = *answer.sizing.to_buy();
  std::string lines = "amptally budget SITE " + weather_options(answer.weather);
  for (const auto& [field, value] : size_settings(answer.site, pair.sizes)) {
    lines += fmt::format(" \\\n  --set {}='{}'", field, value);
  }
  document.emplace_back(Heading{fmt::format("To see the year with the {}", pair_text(pair.sizes))});
  document.emplace_back(Drawing{lines + "\n"});
}

std::vector<std::string> finding_texts(const std::vector<Finding>& findings) {
  std::vector<std::string> texts;
  for (const Finding& finding : findings) {
    if (finding.level == FindingLevel::note) continue;
    texts.push_back(fmt::format("{}: {}. {}",
                                finding.level == FindingLevel::danger ? "Danger" : "Warning",
                                finding.topic, finding.text));
  }
  return texts;
}

Document size_document(const SizeAnswer& answer, bool quiet) {
  Document document;
  append_verdict(document, answer);
  if (quiet) return document;
  document.emplace_back(prices_paragraph(answer));
  if (answer.site.battery.health_share < 1) {
    document.emplace_back(
        Paragraph{.text = fmt::format("A battery that is bought is new: the {:.0f} % health of the "
                                      "present one does not count.",
                                      100 * answer.site.battery.health_share)});
  }
  document.emplace_back(Facts{site_facts(answer.site)});
  append_pairs(document, answer.sizing);
  append_worksheet(document, answer.sizing);
  append_check(document, answer);
  append_bullets(document, "Worth knowing", finding_texts(answer.findings));
  append_assumptions(document, answer.site.assumptions);
  append_rough(document, answer.site, answer.rough);
  return document;
}

}  // namespace

std::vector<std::pair<std::string, std::string>> size_settings(const Site& site,
                                                               const Sizes& sizes) {
  // All that `with_sizes` changes must be among them: the command that is shown runs the site
  // again, and shall come to the same year.
  const Site sized = with_sizes(site, sizes);
  std::vector<std::pair<std::string, std::string>> settings;
  const auto add = [&](const char* field, double value, const char* unit) {
    settings.emplace_back(field, fmt::format("{:.12g}{}", value, unit));
  };
  const auto add_given = [&](const char* field, const std::optional<double>& value) {
    if (value) add(field, *value, " A");
  };
  add("panel.power", sized.panel.power_w, " W");
  add_given("panel.imp", sized.panel.imp_a);
  add_given("panel.isc", sized.panel.isc_a);
  if (sized.panel.count != site.panel.count) add("panel.count", sized.panel.count, "");
  if (sized.panel.tilt_deg != site.panel.tilt_deg) add("panel.tilt", sized.panel.tilt_deg, " deg");
  add("battery.capacity", sized.battery.capacity_ah, " Ah");
  if (sized.battery.parallel != site.battery.parallel) {
    add("battery.parallel", sized.battery.parallel, "");
  }
  add_given("battery.max_charge_current", sized.battery.max_charge_current_a);
  if (sized.battery.health_share != site.battery.health_share) {
    add("battery.health", 100 * sized.battery.health_share, " %");
  }
  return settings;
}

void append_sizes(Document& document, const SizeAnswer& answer) {
  append_verdict(document, answer);
  document.emplace_back(prices_paragraph(answer));
  append_pairs(document, answer.sizing);
  append_worksheet(document, answer.sizing);
}

std::string size_report(const SizeAnswer& answer, const OutputStyle& style) {
  return in_form(
      style, [&] { return size_json(answer); },
      [&] { return table_csv(pair_table(answer.sizing)); },
      [&] { return size_document(answer, style.quiet); });
}

}  // namespace amptally::report
