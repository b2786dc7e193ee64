#include "report/water.hpp"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "report/document.hpp"
#include "report/findings_text.hpp"
#include "report/json.hpp"
#include "report/labels.hpp"
#include "report/rough_parts.hpp"
#include "report/table.hpp"

namespace amptally::report {
namespace {

/// "0.8 days", "12 days"
std::string filling_text(double days) { return days_text(days, days < 10 ? 1 : 0); }

const char* no_flow_advice(NoFlow why) {
  if (why == NoFlow::nothing_drives_it) {
    return "nothing drives it: no pump is given, nor outlets below the water (give its pump, or a "
           "lift below 0).";
  }
  return "what it passes is not known: neither tube nor outlets are given, and they hold most of "
         "the water back (give its tube, length and bore).";
}

double in_month(const std::optional<Monthly>& months, std::size_t m) {
  return months ? (*months)[m] : kNoFigure;
}

/// What is enough where all is.
std::string enough_text(const WaterStudy& study) {
  if (!study.tank) return "Every line brings its demand.";
  if (!study.tank->is_filled_by_hand) {
    return "Every line brings its demand, and the tank never runs dry in a mean year.";
  }
  if (!study.tank->days_to_empty) return "Every line brings its demand.";
  return fmt::format("Every line brings its demand, and a filling of the tank lasts {} or more.",
                     filling_text(*study.tank->days_to_empty));
}

std::string lacking_text(const TankStudy& tank) {
  if (tank.is_filled_by_hand) {
    return fmt::format("A filling of the tank lasts only {} in {}.",
                       filling_text(*tank.days_to_empty), month_name(tank.days_to_empty_month));
  }
  return fmt::format("The tank runs dry on {} of a mean year.", days_text(tank.dry_days, 0));
}

Paragraph verdict(const WaterStudy& study) {
  if (study.holds()) return {{"Enough", Tone::good}, enough_text(study)};
  std::string text;
  const auto add = [&](const std::string& sentence) {
    text += (text.empty() ? "" : " ") + sentence;
  };
  bool only_unknown = true;
  for (const LineStudy& line : study.lines) {
    if (line.no_flow) add(fmt::format("{} {}.", line.name, no_flow_text(*line.no_flow)));
    if (!line.meets_demand()) add(fmt::format("{} cannot bring its demand in a day.", line.name));
    only_unknown &= line.meets_demand() && line.no_flow != NoFlow::nothing_drives_it;
  }
  if (study.tank && !study.tank->holds()) {
    only_unknown = false;
    add(lacking_text(*study.tank));
  }
  if (only_unknown) return {{"Not known", Tone::caution}, text};
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
    paragraph.text = no_flow_advice(*study.no_flow);
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

/// For people: rows alike but for their month share one.
void join_months(Table& table, std::size_t month_column) {
  const std::vector<std::vector<Cell>> rows = std::exchange(table.rows, {});
  const auto alike = [&](const std::vector<Cell>& a, const std::vector<Cell>& b) {
    for (std::size_t i = 0; i < a.size(); ++i) {
      // As they are shown: what differs behind the last digit shares a row.
      if (i != month_column && a[i].text != b[i].text) return false;
    }
    return true;
  };
  for (std::size_t i = 0; i < rows.size();) {
    std::size_t end = i + 1;
    while (end < rows.size() && alike(rows[i], rows[end])) ++end;
    table.rows.push_back(rows[i]);
    if (end > i + 1) {
      table.rows.back()[month_column].text += " to " + rows[end - 1][month_column].text;
    }
    i = end;
  }
}

/// Without charge and energy, which stand last, where no load runs for any line.
Table draw_table(const WaterAnswer& answer) {
  Table table = month_table(answer);
  join_months(table, 1);
  const bool any_draw = std::any_of(table.rows.begin(), table.rows.end(),
                                    [](const auto& row) { return !row.back().text.empty(); });
  if (!any_draw) {
    table.columns.resize(4);
    for (auto& row : table.rows) row.resize(4);
  }
  return table;
}

Cell filling_cell(const std::optional<double>& days) {
  return number(days.value_or(kNoFigure), days && *days < 10 ? 1 : 0);
}

Table tank_table(const TankStudy& tank) {
  Table table{.columns = {{"Month", "", "", Align::left}}, .rows = {}};
  if (!tank.is_filled_by_hand) {
    table.columns.push_back({"Lowest\ncontent", "L", ""});
    table.columns.push_back({"Dry", "days", ""});
  }
  table.columns.push_back({"A filling\nlasts", "days", ""});
  for (std::size_t m = 0; m < kMonthNames.size(); ++m) {
    std::vector<Cell> row = {word(std::string(kMonthNames[m]))};
    if (!tank.is_filled_by_hand) {
      row.push_back(number(tank.lowest_l[m], 0));
      row.push_back(number(tank.dry_days_month[m], 0));
    }
    row.push_back(filling_cell(tank.filling_days[m]));
    table.rows.push_back(std::move(row));
  }
  if (tank.is_filled_by_hand) join_months(table, 0);
  return table;
}

/// How long a filling lasts.
std::string lasts_text(const TankStudy& tank) {
  if (tank.use_l <= 0) return "No line takes anything from it.";
  if (!tank.days_to_empty) return "Rain alone keeps up with the lines in every month.";
  if (!tank.is_filled_by_hand) {
    return fmt::format("Full, and without refill, it lasts {} in {}.",
                       filling_text(*tank.days_to_empty), month_name(tank.days_to_empty_month));
  }
  double longest = 0;
  for (const std::optional<double>& days : tank.filling_days) {
    longest = std::max(longest, days.value_or(0));
  }
  const std::string shortest = filling_text(*tank.days_to_empty);
  const std::string in_other_months = filling_text(longest);
  return "Neither roof nor refill fills it. A filling lasts " +
         (shortest == in_other_months
              ? shortest + "."
              : fmt::format("{} in {}, and up to {} in other months.", shortest,
                            month_name(tank.days_to_empty_month), in_other_months));
}

Paragraph tank_paragraph(const TankStudy& tank) {
  const std::string holds = rounded(tank.usable_l, 0) + " L can be used. " + lasts_text(tank);
  if (tank.is_filled_by_hand && tank.use_l <= 0) return {{"Tank", Tone::plain}, holds};
  std::string year;
  if (tank.catch_l > 0) year += fmt::format("the roof brings {} L, ", rounded(tank.catch_l, 0));
  if (tank.refill_l > 0) year += fmt::format("refills bring {} L, ", rounded(tank.refill_l, 0));
  year += fmt::format("the lines take {} L", rounded(tank.use_l, 0));
  if (tank.siphon_l > 0) {
    year += fmt::format(", {} L siphon away at night", rounded(tank.siphon_l, 0));
  }
  if (!tank.is_filled_by_hand)
    year += fmt::format(" and {} L run over", rounded(tank.overflow_l, 0));
  return {{"Tank", Tone::plain}, holds + " In a mean year " + year + "."};
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
  if (study.tank && study.tank->use_l + study.tank->catch_l + study.tank->refill_l > 0) {
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
  append_rough_water(document, answer.site, answer.rough);
  return document;
}

}  // namespace

const char* no_flow_text(NoFlow why) {
  return why == NoFlow::nothing_drives_it
             ? "has nothing that drives it"
             : "has neither tube nor outlets, so its flow is not known";
}

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
