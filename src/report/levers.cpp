#include "report/levers.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "report/document.hpp"
#include "report/findings_text.hpp"
#include "report/json.hpp"
#include "report/labels.hpp"
#include "report/rough.hpp"
#include "report/verdict.hpp"
#include "site/field_label.hpp"
#include "site/fields.hpp"

namespace amptally::report {
namespace {

/// "60 mA", "21 %", "48°".
std::string figure_text(double value, const std::string& unit) {
  if (unit == "%") return fmt::format("{:.4g} %", 100 * value);
  if (unit == "A" && value < 1 && value > 0) return fmt::format("{:.4g} mA", 1000 * value);
  if (unit == "deg") return fmt::format("{:.4g}°", value);
  return fmt::format("{:.4g} {}", value, unit);
}

/// Who a lever of a load belongs to.
std::string load_name(const Site& site, const std::string& field) {
  return site.loads.at(field_at(field).value().indices[0]).name;
}

std::string kind_text(RegulatorKind now, RegulatorKind to) {
  const std::string_view wanted = to == RegulatorKind::mppt ? "an MPPT" : "a PWM";
  return fmt::format("{} regulator instead of {}", wanted,
                     now == RegulatorKind::none ? "none" : "a PWM one");
}

std::string panel_change_text(const Site& site, double now_w, double to_w) {
  const std::string each = site.panel.count > 1 ? " each" : "";
  return fmt::format("{:.4g} W more panel{} ({:.4g} W -> {:.4g} W)", to_w - now_w, each, now_w,
                     to_w);
}

std::string shade_text(double to) {
  return to > 0 ? fmt::format("shade cut back to {:.4g} % of what it takes", 100 * to)
                : "shade gone altogether";
}

std::string number_text(const Site& site, const Lever& lever, double now, double to) {
  const std::string& field = lever.field;
  const std::string change =
      figure_text(now, lever.unit) + " -> " + (to > 0 ? figure_text(to, lever.unit) : "none");
  if (field == "panel.power") return panel_change_text(site, now, to);
  if (field == "panel.shade") return shade_text(to);
  if (field == "panel.tilt") {
    return "tilt " + figure_text(now, lever.unit) + " -> " + figure_text(to, lever.unit);
  }
  if (field == "panel.losses") return "losses of the panel " + change;
  if (field == "battery.capacity") return "battery " + change;
  if (field == "regulator.standby") return "standby " + change;
  // What is left are levers of loads: `load_name` throws for any other field.
  const std::string name = load_name(site, field);
  if (lever.unit == "min") return name + " " + change + (to > 0 ? " a day" : "");
  return name + " draws " + change;
}

bool reaches(const Lever& lever) { return lever.reaches_aim; }

/// A count of days: over several years a mean, seldom whole.
Cell days_cell(const Levers& levers, double days) {
  return number(days, levers.study.now.years > 1 ? 1 : 0);
}

bool only_helps(const Lever& lever) { return lever.helps && !lever.reaches_aim; }

/// The levers for which `chosen` holds.
Table change_table(const Levers& levers, bool (*chosen)(const Lever&)) {
  Table table{.columns = {{"Change", "", "", Align::left},
                          {"Short", "days", ""},
                          {"Below floor", "days", ""},
                          {"Autonomy", "days", ""}},
              .rows = {}};
  for (const Lever& lever : levers.study.levers) {
    if (!chosen(lever)) continue;
    table.rows.push_back(
        {word(lever_text(levers.site, lever)), days_cell(levers, lever.year.shortfall_days),
         days_cell(levers, lever.year.floor_days), number(lever.year.autonomy_days, 1)});
  }
  return table;
}

/// The fields whose levers change nothing that is missed.
std::string idle_fields(const Levers& levers) {
  std::string text;
  for (const Lever& lever : levers.study.levers) {
    if (lever.reaches_aim || lever.helps) continue;
    text += (text.empty() ? "" : ", ") + field_label(levers.site, lever.field);
  }
  return text.empty() ? "" : text + ".";
}

Cell value_cell(const LeverValue& value) {
  if (const auto* kind = std::get_if<RegulatorKind>(&value)) {
    return word(std::string(kind_word(*kind)));
  }
  return number(std::get<double>(value), 2);
}

/// A row a lever, for machines.
Table record_table(const Levers& levers) {
  Table table{.columns = {{"", "", "field", Align::left},
                          {"", "", "unit", Align::left},
                          {"", "", "now"},
                          {"", "", "needed"},
                          {"", "", "limit"},
                          {"", "", "reaches_aim"},
                          {"", "", "helps"},
                          {"", "", "shortfall_days"},
                          {"", "", "floor_days"},
                          {"", "", "autonomy_days"},
                          {"", "", "text", Align::left}},
              .rows = {}};
  for (const Lever& lever : levers.study.levers) {
    const Cell to = value_cell(lever.to);
    table.rows.push_back(
        {word(lever.field), word(lever.unit == "%" ? "share" : lever.unit), value_cell(lever.now),
         lever.reaches_aim ? to : Cell{}, lever.reaches_aim ? Cell{} : to,
         word(lever.reaches_aim ? "true" : "false"), word(lever.helps ? "true" : "false"),
         number(lever.year.shortfall_days, 1), number(lever.year.floor_days, 1),
         number(lever.year.autonomy_days, 1), word(lever_text(levers.site, lever))});
  }
  return table;
}

Document answer_alone(const Levers& levers) {
  const LeverStudy& study = levers.study;
  if (study.now.holds()) return {verdicts(study.now).front()};
  Bullets changes;
  for (const Lever& lever : study.levers) {
    if (lever.reaches_aim) changes.lines.push_back(lever_text(levers.site, lever));
  }
  if (changes.lines.empty()) return {Paragraph{.text = "No single change meets the aim."}};
  return {std::move(changes)};
}

Document levers_document(const Levers& levers) {
  Document document;
  for (const Paragraph& verdict : verdicts(levers.study.now)) document.emplace_back(verdict);
  append_levers(document, levers);
  Facts facts{site_facts(levers.site)};
  facts.lines.emplace_back("Parts", parts_text(levers.site));
  document.emplace_back(std::move(facts));
  append_assumptions(document, levers.study.now.assumptions);
  append_rough(document, levers.site, levers.rough);
  return document;
}

}  // namespace

std::string_view kind_word(RegulatorKind kind) {
  return choice_word(*find_field("regulator.kind"), kind);
}

std::string lever_text(const Site& site, const Lever& lever) {
  if (const auto* kind = std::get_if<RegulatorKind>(&lever.to)) {
    return kind_text(std::get<RegulatorKind>(lever.now), *kind);
  }
  return number_text(site, lever, std::get<double>(lever.now), std::get<double>(lever.to));
}

void append_levers(Document& document, const Levers& levers) {
  const auto& all = levers.study.levers;
  if (levers.study.now.holds()) {
    document.emplace_back(Paragraph{.text = "The aim is met: nothing needs to change."});
    return;
  }
  if (std::any_of(all.begin(), all.end(), reaches)) {
    document.emplace_back(Heading{"Any one of these meets the aim, the smallest change first"});
    document.emplace_back(change_table(levers, reaches));
  } else {
    document.emplace_back(Paragraph{.text = "No single change meets the aim."});
  }
  if (std::any_of(all.begin(), all.end(), only_helps)) {
    document.emplace_back(Heading{"Not enough alone, the most helpful first"});
    document.emplace_back(change_table(levers, only_helps));
  }
  if (const std::string idle = idle_fields(levers); !idle.empty()) {
    document.emplace_back(Paragraph{.lead = {"No help alone", Tone::plain}, .text = idle});
  }
}

std::string levers_report(const Levers& levers, const OutputStyle& style) {
  return in_form(
      style, [&] { return levers_json(levers); }, [&] { return table_csv(record_table(levers)); },
      [&] { return style.quiet ? answer_alone(levers) : levers_document(levers); });
}

}  // namespace amptally::report
