#include "report/water.hpp"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "report/document.hpp"
#include "report/findings_text.hpp"
#include "report/json.hpp"
#include "report/labels.hpp"
#include "report/table.hpp"

namespace amptally::report {
namespace {

double in_month(const std::optional<Monthly>& months, std::size_t m) {
  return months ? (*months)[m] : kNoFigure;
}

Paragraph verdict(const WaterStudy& study) {
  if (study.holds()) {
    return {{"Enough", Tone::good},
            study.tank ? "Every line brings its demand, and the tank never runs dry in a mean year."
                       : "Every line brings its demand."};
  }
  std::string text;
  for (const LineStudy& line : study.lines) {
    if (!line.meets_demand())
      text += fmt::format("{} cannot bring its demand in a day. ", line.name);
  }
  if (study.tank && study.tank->dry_days > 0) {
    text +=
        fmt::format("The tank runs dry on {} of a mean year.", days_text(study.tank->dry_days, 0));
  }
  return {{"Not enough", Tone::bad}, text};
}

// What the head of a line is spent on, and whether a wider tube pays.
std::string tube_text(const LineFlow& flow, const WiderTube& wider, double bore_mm) {
  // Where the outlets lie below the water, the fall is head as well.
  const double available_m = flow.head_m - std::min(0.0, flow.lift_m);
  return fmt::format(
      " The tube takes {} % of the head: {:g} mm instead of {:g} mm would cut the minutes to {} %.",
      rounded(100 * flow.tube_loss_m / available_m, 0), wider.bore_mm, bore_mm,
      rounded(100 * flow.flow_l_h / wider.flow_l_h, 0));
}

std::string outlets_text(const LineFlow& flow) {
  if (flow.outlets_l_h.size() < 2) return "";
  return fmt::format(" Its {} outlets pass {} L/h the first and {} L/h the last, {} % apart.",
                     flow.outlets_l_h.size(), rounded(flow.outlets_l_h.front(), 2),
                     rounded(flow.outlets_l_h.back(), 2), rounded(100 * flow.unevenness(), 1));
}

std::string minutes_text(const LineStudy& line) {
  const std::string span = minutes_span(line);
  return span.empty() ? "" : fmt::format(" For its demand it runs {} min a day.", span);
}

Paragraph line_paragraph(const WaterLine& line, const LineStudy& study) {
  Paragraph paragraph{{study.name, Tone::plain}, ""};
  if (!study.flow) {
    paragraph.text = "nothing drives it: no pump is given, nor outlets below the water.";
    return paragraph;
  }
  const LineFlow& flow = *study.flow;
  const std::string of_printed =
      line.pump ? fmt::format(", {} % of what is printed on its pump",
                              rounded(100 * flow.flow_l_h / line.pump->flow_l_h, 0))
                : "";
  paragraph.text =
      fmt::format("{}{}.", flow_text(flow), of_printed) + minutes_text(study) + outlets_text(flow);
  if (study.wider) paragraph.text += tube_text(flow, *study.wider, line.tube->bore_mm);
  return paragraph;
}

// Where the head goes, and how the water runs in the tube.
Table head_table(const WaterStudy& study) {
  Table table{.columns = {{"Line", "", "", Align::left},
                          {"Pump", "m", ""},
                          {"Lift", "m", ""},
                          {"Tube", "m", ""},
                          {"Ends", "m", ""},
                          {"Outlet", "m", ""},
                          {"Speed", "m/s", ""},
                          {"Reynolds", "", ""},
                          {"Flow", "", "", Align::left}},
              .rows = {}};
  for (const LineStudy& line : study.lines) {
    if (!line.flow) continue;
    const LineFlow& flow = *line.flow;
    table.rows.push_back({word(line.name), number(flow.head_m, 2), number(flow.lift_m, 2),
                          number(flow.tube_loss_m, 2), number(flow.entrance_loss_m, 2),
                          number(flow.last_outlet_m, 2), number(flow.velocity_m_s, 2),
                          number(flow.reynolds, 0), word(regime_word(flow.regime))});
  }
  return table;
}

Table month_table(const WaterAnswer& answer) {
  Table table{.columns = {{"Line", "", "line", Align::left},
                          {"Month", "", "month", Align::left},
                          {"Water", "L/day", "demand_l_day"},
                          {"Runs", "min/day", "minutes_day"},
                          {"Charge", "Ah/day", "use_ah_day"},
                          {"Energy", "Wh/day", "use_wh_day"}},
              .rows = {}};
  const double volts = answer.site.battery.bank_voltage_v();
  for (const LineStudy& line : answer.study.lines) {
    for (std::size_t m = 0; m < kMonthNames.size(); ++m) {
      table.rows.push_back({word(line.name),
                            {std::string(kMonthNames[m]), fmt::format("{}", m + 1)},
                            number(in_month(line.demand_l_day, m), 1),
                            number(in_month(line.minutes_day, m), 1),
                            number(in_month(line.use_ah_day, m), 2),
                            number(in_month(line.use_ah_day, m) * volts, 1)});
    }
  }
  return table;
}

/// The same for people: months alike share a row, and a line no load runs for has no draw.
Table draw_table(const WaterAnswer& answer) {
  Table table = month_table(answer);
  const std::vector<std::vector<Cell>> rows = std::exchange(table.rows, {});
  constexpr std::size_t kMonth = 1;
  const auto alike = [](const std::vector<Cell>& a, const std::vector<Cell>& b) {
    for (std::size_t i = 0; i < a.size(); ++i) {
      // As they are shown: what differs behind the last digit shares a row.
      if (i != kMonth && a[i].text != b[i].text) return false;
    }
    return true;
  };
  for (std::size_t i = 0; i < rows.size();) {
    std::size_t end = i + 1;
    while (end < rows.size() && alike(rows[i], rows[end])) ++end;
    table.rows.push_back(rows[i]);
    if (end > i + 1) table.rows.back()[kMonth].text += " to " + rows[end - 1][kMonth].text;
    i = end;
  }
  const bool any_draw = std::any_of(rows.begin(), rows.end(),
                                    [](const auto& row) { return !row.back().text.empty(); });
  if (!any_draw) {
    // Without charge and energy, which stand last.
    table.columns.resize(4);
    for (auto& row : table.rows) row.resize(4);
  }
  return table;
}

Table tank_table(const TankStudy& tank) {
  Table table{.columns = {{"Month", "", "", Align::left},
                          {"Lowest\ncontent", "L", ""},
                          {"Dry", "days", ""}},
              .rows = {}};
  for (std::size_t m = 0; m < kMonthNames.size(); ++m) {
    table.rows.push_back({word(std::string(kMonthNames[m])), number(tank.lowest_l[m], 0),
                          number(tank.dry_days_month[m], 0)});
  }
  return table;
}

Paragraph tank_paragraph(const TankStudy& tank) {
  const std::string lasts =
      tank.days_to_empty
          ? fmt::format("Full, and without refill, it lasts {} in {}.",
                        days_text(*tank.days_to_empty, *tank.days_to_empty < 10 ? 1 : 0),
                        month_name(tank.days_to_empty_month))
          : "Rain alone keeps up with the lines in every month.";
  std::string inflow;
  if (tank.catch_l > 0) inflow += fmt::format("the roof brings {} L, ", rounded(tank.catch_l, 0));
  if (tank.refill_l > 0) inflow += fmt::format("refills bring {} L, ", rounded(tank.refill_l, 0));
  return {.lead = {"Tank", Tone::plain},
          .text = fmt::format("{} L can be used. {} In a mean year {}the lines take {} L and {} L "
                              "run over.",
                              rounded(tank.usable_l, 0), lasts, inflow, rounded(tank.use_l, 0),
                              rounded(tank.overflow_l, 0))};
}

void append_answer(Document& document, const WaterAnswer& answer) {
  const WaterStudy& study = answer.study;
  document.emplace_back(verdict(study));
  for (std::size_t i = 0; i < study.lines.size(); ++i) {
    document.emplace_back(line_paragraph(answer.site.water->lines[i], study.lines[i]));
  }
  if (study.tank) document.emplace_back(tank_paragraph(*study.tank));
}

void append_tables(Document& document, const WaterAnswer& answer) {
  const WaterStudy& study = answer.study;
  if (Table heads = head_table(study); !heads.rows.empty()) {
    document.emplace_back(Heading{"Where the head goes (metres of water)"});
    document.emplace_back(std::move(heads));
  }
  if (!study.lines.empty()) {
    document.emplace_back(Heading{"Water and draw"});
    document.emplace_back(draw_table(answer));
  }
  if (study.tank) {
    document.emplace_back(Heading{"Tank"});
    document.emplace_back(tank_table(*study.tank));
  }
}

Document water_document(const WaterAnswer& answer, bool quiet) {
  Document document;
  append_answer(document, answer);
  if (quiet) return document;
  document.emplace_back(Facts{site_facts(answer.site)});
  append_tables(document, answer);
  append_findings(document, answer.findings);
  append_assumptions(document, answer.study.assumptions);
  append_bullets(document, "Rough numbers", rough_texts(answer.site));
  return document;
}

}  // namespace

std::string flow_text(const LineFlow& flow) {
  return rounded(flow.flow_l_h, decimals_for(flow.flow_l_h)) + " L/h";
}

std::string minutes_span(const LineStudy& line) {
  if (!line.minutes_day) return "";
  const auto [least, most] =
      std::minmax_element(line.minutes_day->begin(), line.minutes_day->end());
  const int decimals = *most < 10 ? 1 : 0;
  const std::string longest = rounded(*most, decimals);
  const std::string shortest = rounded(*least, decimals);
  return longest == shortest ? longest : shortest + " to " + longest;
}

void append_water(Document& document, const WaterAnswer& answer) {
  append_answer(document, answer);
  append_tables(document, answer);
}

const char* regime_word(FlowRegime regime) {
  switch (regime) {
    case FlowRegime::laminar:
      return "laminar";
    case FlowRegime::between:
      return "between";
    case FlowRegime::turbulent:
      break;
  }
  return "turbulent";
}

std::string water_report(const WaterAnswer& answer, const OutputStyle& style) {
  return in_form(
      style, [&] { return water_json(answer); }, [&] { return table_csv(month_table(answer)); },
      [&] { return water_document(answer, style.quiet); });
}

}  // namespace amptally::report
