#include "report/json.hpp"

#include <cmath>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "amptally/version.hpp"

#include "balance/figures.hpp"

namespace amptally::report {
namespace {

using Json = nlohmann::ordered_json;

/// JSON has no infinity: a figure that has none is null.
Json finite(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

template <typename T>
Json optional(const std::optional<T>& value) {
  return value ? Json(*value) : Json(nullptr);
}

/// Lines and columns are counted from 1; 0 is none.
Json position_json(int number) { return number > 0 ? Json(number) : Json(nullptr); }

Json result_of(const char* command) {
  return {{"schema", fmt::format("amptally-{}/1", command)},
          {"program", fmt::format("amptally {}", kVersion)}};
}

std::string written(const Json& json) {
  // A file's name need not be UTF-8; JSON must be.
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

Json place_object(const Place& place) {
  return {{"latitude_deg", place.latitude_deg},
          {"longitude_deg", place.longitude_deg},
          {"source", place.climate.sun},
          {"distance_km", place.climate.distance_km}};
}

Json aim_object(const ResolvedAim& aim) {
  return {{"autonomy_days", aim.autonomy_days},
          {"shortfall_days", aim.shortfall_days},
          {"floor", aim.floor_share}};
}

template <class Figures, class Record>
void add_figures(Json& json, const Figures& figures, const Record& record) {
  for (const auto& figure : figures) {
    if (figure.key.empty()) continue;
    const double value = value_in(record, figure.value);
    json[std::string(figure.key)] =
        figure.is_whole() && std::isfinite(value) ? Json(static_cast<int>(value)) : finite(value);
  }
}

Json year_object(const YearBalance& year) {
  Json json;
  add_figures(json, kYearFigures, year);
  return json;
}

Json spread_object(const Spread& spread) {
  return {{"p10", finite(spread.p10)}, {"p50", finite(spread.p50)}, {"p90", finite(spread.p90)}};
}

void add_spreads(Json& json, const YearSpread& spread) {
  for (const SpreadFigure& told : kSpreadFigures) {
    json[std::string(year_figure(told.figure).key)] = spread_object(spread.*told.spread);
  }
}

Json spread_object(const YearSpread& spread) {
  Json json;
  add_spreads(json, spread);
  return json;
}

const char* verdict_word(bool holds) { return holds ? "holds" : "short"; }

const char* mode_word(WeatherMode mode) {
  switch (mode) {
    case WeatherMode::mean:
      return "mean";
    case WeatherMode::synthetic:
      return "synthetic";
    case WeatherMode::file:
      break;
  }
  return "file";
}

Json weather_object(const Balance& balance, const std::string& file) {
  Json weather = {
      {"mode", mode_word(balance.weather)}, {"years", balance.years}, {"seed", balance.seed}};
  if (balance.weather == WeatherMode::file) weather["file"] = file;
  return weather;
}

Json synthetic_object(const Balance& balance) {
  Json synthetic = {{"years", balance.years},
                    {"seed", balance.seed},
                    {"verdict", verdict_word(balance.holds())},
                    {"year", year_object(balance.year)}};
  if (balance.spread) synthetic["spread"] = spread_object(*balance.spread);
  return synthetic;
}

Json month_list(const Balance& balance) {
  Json months = Json::array();
  for (const MonthBalance& month : balance.months) {
    Json json = {{"month", months.size() + 1}};
    add_figures(json, kMonthFigures, month);
    months.push_back(std::move(json));
  }
  return months;
}

Json use_list(const std::vector<Use>& uses) {
  Json list = Json::array();
  for (const Use& use : uses) {
    list.push_back(
        {{"name", use.name}, {"ah_day", use.ah_day}, {"wh_day", use.wh_day}, {"share", use.share}});
  }
  return list;
}

const char* level_word(FindingLevel level) {
  switch (level) {
    case FindingLevel::danger:
      return "danger";
    case FindingLevel::warning:
      return "warning";
    case FindingLevel::note:
      break;
  }
  return "note";
}

Json finding_list(const std::vector<Finding>& findings) {
  Json list = Json::array();
  for (const Finding& finding : findings) {
    list.push_back({{"level", level_word(finding.level)},
                    {"topic", finding.topic},
                    {"field", finding.field},
                    {"text", finding.text},
                    {"source", finding.source}});
  }
  return list;
}

Json rough_list(const std::vector<RoughInput>& rough) {
  Json list = Json::array();
  for (const RoughInput& input : rough) {
    list.push_back({{"field", input.field},
                    {"low", input.low},
                    {"high", input.high},
                    {"unit", input.unit == "%" ? "share" : input.unit}});
  }
  return list;
}

Json rough_object(const RoughStudy& study) {
  Json json = {{"cases", study.cases},
               {"weather", mode_word(study.weather)},
               {"years", study.years},
               {"climate_error_share", study.climate_error_share},
               {"meets_aim_share", study.meets_aim_share}};
  add_spreads(json, study.spread);
  json["measure_first"] = Json::array();
  for (const RoughShare& share : study.measure_first) {
    json["measure_first"].push_back(
        {{"field", share.field}, {"share_of_spread", share.share_of_spread}});
  }
  return json;
}

/// The ranges, and what they leave open where that was studied.
void add_rough(Json& json, const Site& site, const RoughStudy* study) {
  json["rough_inputs"] = rough_list(site.rough);
  if (study != nullptr) json["rough"] = rough_object(*study);
}

Json lever_value(const LeverValue& value) {
  if (const auto* kind = std::get_if<RegulatorKind>(&value)) return kind_word(*kind);
  return std::get<double>(value);
}

/// `needed` where it reaches the aim, `limit` where it went as far as it would go.
Json lever_object(const Site& site, const Lever& lever) {
  return {{"field", lever.field},
          {"unit", lever.unit == "%" ? "share" : lever.unit},
          {"now", lever_value(lever.now)},
          {"needed", lever.reaches_aim ? lever_value(lever.to) : Json(nullptr)},
          {"limit", lever.reaches_aim ? Json(nullptr) : lever_value(lever.to)},
          {"reaches_aim", lever.reaches_aim},
          {"helps", lever.helps},
          {"shortfall_days", lever.year.shortfall_days},
          {"floor_days", lever.year.floor_days},
          {"autonomy_days", finite(lever.year.autonomy_days)},
          {"text", lever_text(site, lever)}};
}

/// Over several years the mean of the years, like all else.
Json ledger_object(const Ledger& ledger, int years) {
  return {{"charge_ah", ledger.charge_ah / years},
          {"turned_away_ah", ledger.turned_away_ah / years},
          {"charging_loss_ah", ledger.charging_loss_ah / years},
          {"self_discharge_ah", ledger.self_discharge_ah / years},
          {"served_ah", ledger.served_ah / years},
          {"stored_change_ah", ledger.stored_change_ah / years}};
}

Json day_list(const std::vector<DayBalance>& days) {
  Json list = Json::array();
  for (const DayBalance& day : days) {
    Json json = {{"day", list.size() + 1}};
    add_figures(json, kDayFigures, day);
    list.push_back(std::move(json));
  }
  return list;
}

Json tilt_object(const TiltFigure& figure) {
  return {{"tilt_deg", figure.tilt_deg},
          {"year_kwh_m2", figure.year_kwh_m2},
          {"worst_month_kwh_m2_day", figure.worst_month_kwh_m2_day},
          {"worst_month", figure.worst_month + 1}};
}

Json weather_object(const WeatherChoice& weather) {
  const int years = weather.mode == WeatherMode::synthetic ? weather.years
                    : weather.series                       ? weather.series->years
                                                           : 1;
  Json json = {{"mode", mode_word(weather.mode)}, {"years", years}, {"seed", weather.seed}};
  if (weather.series) json["file"] = weather.series->path;
  return json;
}

/// The part of an outcome that a choice of sizes is made by.
void add_outcome(Json& json, const JudgedYear& outcome) {
  json["meets_aim"] = outcome.meets_aim;
  json["shortfall_days"] = outcome.year.shortfall_days;
  json["deepest_discharge"] = outcome.year.deepest_discharge;
  json["autonomy_days"] = finite(outcome.year.autonomy_days);
}

Json pair_object(const SizedPair& pair) {
  return {{"panel_power_w", pair.sizes.panel_power_w()},
          {"battery_capacity_ah", pair.sizes.battery_capacity_ah()},
          {"cost", pair.cost}};
}

/// A pair to buy, and the fields that make the site have it.
Json chosen_object(const Site& site, const std::optional<SizedPair>& pair) {
  if (!pair) return nullptr;
  Json json = pair_object(*pair);
  json["set"] = Json::object();
  for (const auto& [field, value] : size_settings(site, pair->sizes)) json["set"][field] = value;
  return json;
}

Json set_object(const PartsList& parts, const JudgedSet& judged) {
  const PartsSet& set = judged.set;
  Json json = {{"panel", parts.panels[set.panel].name},
               {"battery", parts.batteries[set.battery].name},
               {"regulator", parts.regulators[set.regulator].name},
               {"counts",
                {{"panels", set.panels()},
                 {"panels_in_series", set.panel_series},
                 {"batteries", set.batteries()},
                 {"batteries_in_series", set.battery_series}}},
               {"cost", set.cost},
               {"meets_aim", judged.meets_aim()},
               {"why_not", judged.why_not}};
  if (judged.outcome) add_outcome(json, *judged.outcome);
  return json;
}

// Keys of a line that nothing drives are there, and null.
Json line_object(const LineStudy& line) {
  const LineFlow none;
  const LineFlow& flow = line.flow ? *line.flow : none;
  const auto figure = [&](double value) { return line.flow ? finite(value) : Json(nullptr); };
  return {{"name", line.name},
          {"water_temp_c", line.water_temp_c},
          {"flow_l_h", figure(flow.flow_l_h)},
          {"head_m", figure(flow.head_m)},
          {"lift_m", figure(flow.lift_m)},
          {"tube_loss_m", figure(flow.tube_loss_m)},
          {"entrance_loss_m", figure(flow.entrance_loss_m)},
          {"last_outlet_m", figure(flow.last_outlet_m)},
          {"velocity_m_s", figure(flow.velocity_m_s)},
          {"reynolds", figure(flow.reynolds)},
          {"regime", line.flow ? Json(regime_word(flow.regime)) : Json(nullptr)},
          {"outlets_l_h", flow.outlets_l_h},
          {"unevenness_share", line.flow ? Json(flow.unevenness()) : Json(nullptr)},
          {"wider_bore_mm", line.wider ? Json(line.wider->bore_mm) : Json(nullptr)},
          {"wider_flow_l_h", line.wider ? Json(line.wider->flow_l_h) : Json(nullptr)},
          {"demand_l_day", optional(line.demand_l_day)},
          {"minutes_day", optional(line.minutes_day)},
          {"use_ah_day", optional(line.use_ah_day)},
          {"siphon_l_h", line.siphon ? Json(line.siphon->flow_l_h) : Json(nullptr)},
          {"siphon_until_m", line.siphon ? Json(line.siphon->until_m) : Json(nullptr)},
          {"siphon_night_l", line.siphon ? Json(line.siphon->night_l) : Json(nullptr)}};
}

Json tank_object(const TankStudy& tank) {
  return {{"usable_l", tank.usable_l},
          {"days_to_empty", optional(tank.days_to_empty)},
          {"dry_days", tank.dry_days},
          {"overflow_l", tank.overflow_l},
          {"roof_l", tank.catch_l},
          {"refill_l", tank.refill_l},
          {"use_l", tank.use_l},
          {"lowest_l", tank.lowest_l},
          {"dry_days_month", tank.dry_days_month}};
}

Json gauge(const Conductor* conductor) {
  return conductor != nullptr ? Json(std::stoi(std::string(conductor->size))) : Json(nullptr);
}

Json cable_object(const CableCheck& check) {
  const Conductor* const thinnest = check.thinnest_iec;
  return {{"name", check.cable.name},
          {"feeds", check.cable.feeds},
          {"current_a", check.current_a},
          {"drop_v", check.drop_v},
          {"drop_share", check.drop_share},
          {"max_drop_share", check.cable.max_drop_share},
          {"start_drop_share", check.start_drop_share},
          {"loss_wh_day", check.loss_wh_day},
          {"section_mm2", optional(check.cable.section_mm2)},
          {"next_section_mm2", thinnest != nullptr ? Json(thinnest->section_mm2) : Json(nullptr)},
          {"next_section_awg", gauge(check.thinnest_awg)},
          {"fuse_a", optional(check.fuse_a)},
          {"voltage_at_load_v", check.voltage_at_load_v()},
          {"flow_share", optional(check.pump_flow_share)}};
}

}  // namespace

std::string budget_json(const Budget& budget) {
  const Balance& balance = budget.balance;
  Json json = result_of("budget");
  json["site"] = budget.site.name;
  json["place"] = place_object(budget.site.place);
  json["weather"] = weather_object(balance, budget.weather_file);
  json["verdict"] = verdict_word(budget.holds());
  json["aim"] = aim_object(balance.aim);
  json["year"] = year_object(balance.year);
  json["months"] = month_list(balance);
  if (balance.spread) json["spread"] = spread_object(*balance.spread);
  json["uses"] = use_list(balance.uses);
  json["findings"] = finding_list(budget.findings);
  json["assumptions"] = balance.assumptions;
  add_rough(json, budget.site, budget.rough);
  json["ledger"] = ledger_object(balance.ledger, balance.years);
  if (budget.changeable != nullptr) json["synthetic"] = synthetic_object(*budget.changeable);
  if (budget.daily) json["days"] = day_list(balance.days);
  return written(json);
}

std::string fit_json(const FitAnswer& answer) {
  const Fit& fit = answer.fit;
  Json json = result_of("fit");
  json["site"] = answer.site.name;
  json["weather"] = weather_object(fit.after, answer.weather_file);
  json["fits"] = fit.fits;
  json["room"] = {{"minutes_per_day", optional(fit.room.minutes_per_day)},
                  {"copies", fit.room.copies}};
  json["aim"] = aim_object(fit.after.aim);
  json["before"] = year_object(fit.before.year);
  json["after"] = year_object(fit.after.year);
  add_rough(json, answer.site, answer.rough);
  return written(json);
}

std::string levers_json(const Levers& levers) {
  const Balance& now = levers.study.now;
  Json json = result_of("levers");
  json["site"] = levers.site.name;
  json["weather"] = weather_object(now, levers.weather_file);
  json["verdict"] = verdict_word(now.holds());
  json["aim"] = aim_object(now.aim);
  json["aim_met"] = {
      {"autonomy", now.autonomy_met}, {"shortfall", now.shortfall_met}, {"floor", now.floor_met}};
  json["year"] = year_object(now.year);
  json["levers"] = Json::array();
  for (const Lever& lever : levers.study.levers) {
    json["levers"].push_back(lever_object(levers.site, lever));
  }
  json["assumptions"] = now.assumptions;
  add_rough(json, levers.site, levers.rough);
  return written(json);
}

std::string size_json(const SizeAnswer& answer) {
  const Sizing& sizing = answer.sizing;
  Json json = result_of("size");
  json["site"] = answer.site.name;
  json["weather"] = weather_object(answer.weather);
  json["aim"] = aim_object(sizing.aim);
  json["prices"] = {{"panel_per_w", answer.prices.panel_per_w},
                    {"battery_per_ah", answer.prices.battery_per_ah}};
  json["best"] = chosen_object(answer.site, sizing.best);
  json["as_sold"] = chosen_object(answer.site, sizing.as_sold);
  json["tilt_deg"] = sizing.best ? sizing.best->sizes.tilt_deg : answer.site.panel.tilt_deg;
  json["tilts_deg"] = sizing.tilts_deg;
  json["pairs"] = Json::array();
  const auto add = [&json](const SizedPair& pair) {
    Json entry = pair_object(pair);
    add_outcome(entry, pair.outcome);
    json["pairs"].push_back(std::move(entry));
  };
  for (const SizedPair& pair : sizing.line) add(pair);
  if (!sizing.best) add(sizing.largest);
  json["worksheet"] = {{"design_month", sizing.worksheet.design_month + 1},
                       {"panel_power_w", finite(sizing.worksheet.panel_power_w)},
                       {"battery_capacity_ah", sizing.worksheet.battery_capacity_ah}};
  json["evaluations"] = sizing.evaluations;
  json["findings"] = finding_list(answer.findings);
  json["assumptions"] = answer.site.assumptions;
  add_rough(json, answer.site, answer.rough);
  return written(json);
}

std::string parts_json(const PartsAnswer& answer) {
  Json json = result_of("size");
  json["site"] = answer.site.name;
  json["weather"] = weather_object(answer.weather);
  json["sets"] = Json::array();
  for (const JudgedSet& set : answer.choice.best) {
    json["sets"].push_back(set_object(answer.parts, set));
  }
  for (const JudgedSet& set : answer.choice.missed) {
    json["sets"].push_back(set_object(answer.parts, set));
  }
  json["possible"] = answer.choice.possible;
  json["evaluations"] = answer.choice.evaluations;
  json["assumptions"] = answer.site.assumptions;
  for (const std::string& sentence : answer.parts.assumptions) {
    json["assumptions"].push_back(sentence);
  }
  add_rough(json, answer.site, answer.rough);
  return written(json);
}

std::string sun_json(const Sun& sun) {
  Json json = result_of("sun");
  json["site"] = sun.site.name;
  json["place"] = place_object(sun.site.place);
  json["tilt_deg"] = sun.site.panel.tilt_deg;
  json["azimuth_deg"] = sun.site.panel.azimuth_deg;
  json["months"] = Json::array();
  for (const SunMonth& month : sun.months) {
    json["months"].push_back({{"month", json["months"].size() + 1},
                              {"sun_horizontal_kwh_m2_day", month.sun_horizontal_kwh_m2_day},
                              {"sun_panel_kwh_m2_day", month.sun_panel_kwh_m2_day},
                              {"clearness", month.clearness},
                              {"day_length_h", month.day_length_h},
                              {"shade_share", month.shade_share}});
  }
  if (!sun.tilts) return written(json);
  json["tilts"] = Json::array();
  for (const TiltFigure& figure : sun.tilts->tilts) json["tilts"].push_back(tilt_object(figure));
  json["best_year"] = tilt_object(sun.tilts->best_year);
  json["best_worst_month"] = tilt_object(sun.tilts->best_worst_month);
  return written(json);
}

std::string water_json(const WaterAnswer& answer) {
  const WaterStudy& study = answer.study;
  Json json = result_of("water");
  json["site"] = answer.site.name;
  json["verdict"] = verdict_word(study.holds());
  json["lines"] = Json::array();
  for (const LineStudy& line : study.lines) json["lines"].push_back(line_object(line));
  json["tank"] = study.tank ? tank_object(*study.tank) : Json(nullptr);
  json["findings"] = finding_list(answer.findings);
  json["assumptions"] = study.assumptions;
  json["rough_inputs"] = rough_list(answer.site.rough);
  return written(json);
}

std::string wiring_json(const Wiring& wiring) {
  Json json = result_of("wiring");
  json["site"] = wiring.site.name;
  json["cables"] = Json::array();
  for (const CableCheck& check : wiring.cables) json["cables"].push_back(cable_object(check));
  json["findings"] = finding_list(wiring.findings);
  json["assumptions"] = wiring.assumptions;
  return written(json);
}

std::string check_json(const Check& check) {
  Json json = result_of("check");
  json["file"] = check.file;
  json["problems"] = Json::array();
  for (const io::Problem& problem : check.problems) {
    json["problems"].push_back({{"file", problem.file},
                                {"line", position_json(problem.line)},
                                {"column", position_json(problem.column)},
                                {"field", problem.field},
                                {"message", problem.message}});
  }
  json["assumptions"] = check.assumptions;
  json["rough_inputs"] = rough_list(check.site ? check.site->rough : std::vector<RoughInput>());
  return written(json);
}

std::string explain_json(std::span<const io::Field> fields) {
  Json json = result_of("explain");
  json["fields"] = Json::array();
  for (const io::Field& field : fields) {
    json["fields"].push_back({{"field", field.path},
                              {"write", expected_text(field)},
                              {"required", field.required},
                              {"default", field.fallback},
                              {"allowed", range_text(field)},
                              {"meaning", field.meaning},
                              {"usual", field.usual},
                              {"source", field.source}});
  }
  return written(json);
}

std::string places_json(const std::vector<ListedPlace>& places) {
  Json json = result_of("places");
  json["places"] = Json::array();
  for (const ListedPlace& place : places) {
    Json entry = {{"id", place.row.id},
                  {"name", place.row.name},
                  {"country", place.row.country},
                  {"latitude_deg", place.row.latitude_deg},
                  {"longitude_deg", place.row.longitude_deg},
                  {"elevation_m", optional(place.row.elevation_m)},
                  {"sun_mean_kwh_m2_day", place.sun_mean_kwh_m2_day},
                  {"sun_horizontal_kwh_m2_day", place.row.sun_horizontal_kwh_m2_day},
                  {"air_temp_c", place.row.air_temp_c},
                  {"rain_mm", place.row.rain_mm}};
    if (place.distance_km) entry["distance_km"] = *place.distance_km;
    json["places"].push_back(std::move(entry));
  }
  return written(json);
}

std::string json_quoted(const std::string& text) {
  return Json(text).dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace amptally::report
