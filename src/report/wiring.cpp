#include "report/wiring.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "report/document.hpp"
#include "report/findings_text.hpp"
#include "report/json.hpp"
#include "report/labels.hpp"
#include "report/rough_parts.hpp"
#include "report/table.hpp"

namespace amptally::report {
namespace {

/// Wh in a day, where a cable that loses next to nothing is no zero.
Cell loss_cell(double loss_wh_day) { return number(loss_wh_day, loss_wh_day < 1 ? 2 : 1); }

Cell section_cell(const std::optional<double>& section_mm2) {
  return word(section_mm2 ? section_text(*section_mm2) : "not given");
}

Cell thinnest_cell(const CableCheck& check) {
  const std::string text = thinnest_text(check);
  return word(text.empty() ? "none in the table" : text);
}

Cell fuse_cell(const CableCheck& check) {
  return word(check.fuse_a ? fmt::format("{:g}", *check.fuse_a) : "none fits");
}

Table cable_table(const Wiring& wiring) {
  Table table{.columns = {{"Cable", "", "", Align::left},
                          {"Current", "A", ""},
                          {"Drop", "V", ""},
                          {"Drop", "%", ""},
                          {"Loss", "Wh/day", ""},
                          {"Section", "", "", Align::left},
                          {"Thinnest\nthat does", "", "", Align::left},
                          {"Fuse", "A", ""}},
              .rows = {}};
  double loss_wh_day = 0;
  for (const CableCheck& check : wiring.cables) {
    table.rows.push_back({word(check.cable.name), number(check.current_a, 2),
                          number(check.drop_v, 2), percent(check.drop_share, 1),
                          loss_cell(check.loss_wh_day), section_cell(check.cable.section_mm2),
                          thinnest_cell(check), fuse_cell(check)});
    loss_wh_day += check.loss_wh_day;
  }
  if (wiring.cables.size() > 1) {
    table.total = {word("Together"), {}, {}, {}, loss_cell(loss_wh_day), {}, {}, {}};
  }
  return table;
}

Table end_table(const Wiring& wiring) {
  Table table{.columns = {{"At the far end", "", "", Align::left},
                          {"Feeds", "", "", Align::left},
                          {"Running", "V", ""},
                          {"Starting", "V", ""},
                          {"Flow, if a pump", "%", ""}},
              .rows = {}};
  for (const CableCheck& check : wiring.cables) {
    if (!check.pump_flow_share) continue;
    table.rows.push_back({word(check.cable.name), word(check.cable.feeds),
                          number(std::max(0.0, check.voltage_at_load_v()), 2),
                          number(std::max(0.0, check.voltage_v * (1 - check.start_drop_share)), 2),
                          percent(*check.pump_flow_share)});
  }
  return table;
}

/// A row a cable, for machines.
Table record_table(const Wiring& wiring) {
  Table table{.columns = {{"", "", "name", Align::left},
                          {"", "", "feeds", Align::left},
                          {"", "", "current_a"},
                          {"", "", "drop_v"},
                          {"", "", "drop_share"},
                          {"", "", "max_drop_share"},
                          {"", "", "start_drop_share"},
                          {"", "", "loss_wh_day"},
                          {"", "", "section_mm2"},
                          {"", "", "next_section_mm2"},
                          {"", "", "next_section_awg"},
                          {"", "", "fuse_a"},
                          {"", "", "voltage_at_load_v"},
                          {"", "", "flow_share"}},
              .rows = {}};
  for (const CableCheck& check : wiring.cables) {
    const auto size = [](const Conductor* conductor) {
      return conductor != nullptr ? word(std::string(conductor->size)) : Cell{};
    };
    table.rows.push_back(
        {word(check.cable.name), word(check.cable.feeds), number(check.current_a, 3),
         number(check.drop_v, 3), number(check.drop_share, 4),
         number(check.cable.max_drop_share, 4), number(check.start_drop_share, 4),
         number(check.loss_wh_day, 3), number(check.cable.section_mm2.value_or(kNoFigure), 3),
         size(check.thinnest_iec), size(check.thinnest_awg),
         number(check.fuse_a.value_or(kNoFigure), 1), number(check.voltage_at_load_v(), 3),
         number(check.pump_flow_share.value_or(kNoFigure), 4)});
  }
  return table;
}

/// Where no section is given, those the figures are for.
std::string ungiven_text(const Wiring& wiring) {
  std::string names;
  for (const CableCheck& check : wiring.cables) {
    if (!check.cable.section_mm2) names += (names.empty() ? "" : ", ") + check.cable.name;
  }
  return names.empty() ? "" : " No section is given for " + names + ": the thinnest that does.";
}

std::vector<Paragraph> verdict(const Wiring& wiring) {
  if (wiring.cables.empty()) {
    return {{.text = "No cables in the site file. Add them: \"wiring\": [{ \"feeds\": \"pump\", "
                     "\"length\": \"9 m\", \"section\": \"0.75 mm2\" }], where feeds is a load's "
                     "name, panel or battery."}};
  }
  if (wiring.holds()) {
    return {{{"Good", Tone::good}, "All cables are thick enough." + ungiven_text(wiring)}};
  }
  std::vector<Paragraph> paragraphs;
  for (const CableCheck& check : wiring.cables) {
    if (const std::string text = drop_text(check); !text.empty()) {
      paragraphs.push_back({{"Too thin", Tone::caution}, text});
    }
    if (const std::string text = fuse_text(check); !text.empty()) {
      paragraphs.push_back({{"No fuse fits", Tone::bad}, text});
    }
  }
  return paragraphs;
}

/// What the verdict does not say already.
std::vector<Finding> further_findings(const Wiring& wiring) {
  std::vector<Finding> further;
  std::copy_if(wiring.findings.begin(), wiring.findings.end(), std::back_inserter(further),
               // Findings on a cable (answers/wiring_findings.cpp) have its field.
               [](const Finding& finding) { return !finding.field.starts_with("wiring["); });
  return further;
}

void append_verdict(Document& document, const Wiring& wiring) {
  for (Paragraph& paragraph : verdict(wiring)) document.emplace_back(std::move(paragraph));
}

void append_tables(Document& document, const Wiring& wiring) {
  if (!wiring.cables.empty()) document.emplace_back(cable_table(wiring));
  if (Table ends = end_table(wiring); !ends.rows.empty()) document.emplace_back(std::move(ends));
}

Document wiring_document(const Wiring& wiring, bool quiet) {
  Document document;
  append_verdict(document, wiring);
  if (quiet) return document;
  append_tables(document, wiring);
  Facts facts{site_facts(wiring.site)};
  facts.lines.emplace_back("Parts", parts_text(wiring.site));
  document.emplace_back(std::move(facts));
  append_findings(document, further_findings(wiring));
  append_assumptions(document, wiring.assumptions);
  append_rough_wiring(document, wiring.site, wiring.rough);
  return document;
}

}  // namespace

bool Wiring::holds() const {
  return std::all_of(cables.begin(), cables.end(),
                     [](const CableCheck& check) { return check.does(); });
}

void append_wiring(Document& document, const Wiring& wiring) {
  append_verdict(document, wiring);
  append_tables(document, wiring);
}

std::string wiring_report(const Wiring& wiring, const OutputStyle& style) {
  return in_form(
      style, [&] { return wiring_json(wiring); }, [&] { return table_csv(record_table(wiring)); },
      [&] { return wiring_document(wiring, style.quiet); });
}

}  // namespace amptally::report
