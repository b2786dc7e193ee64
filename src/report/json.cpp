#include "report/json.hpp"

#include <cmath>

#include <fmt/format.h>

#include "amptally/version.hpp"

#include "balance/figures.hpp"
#include "report/findings_text.hpp"
#include "sitefile/json_value.hpp"

namespace amptally::report {
namespace {

using io::Json;
using io::list_of;

/// Lines and columns are counted from 1; 0 is none.
Json position_json(int number) { return number > 0 ? Json(number) : Json(nullptr); }

Json result_of(const char* command) {
  return {{"schema", fmt::format("amptally-{}/1", command)},
          {"program", fmt::format("amptally {}", kVersion)}};
}

std::string written(const Json& json) {
  return io::json_text(json, io::JsonLayout::stacked) + '\n';
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
    const bool as_integer = figure.is_whole() && std::isfinite(value);
    json.add(figure.key, as_integer ? Json(static_cast<int>(value)) : Json(value));
  }
}

Json year_object(const YearBalance& year) {
  Json json = Json::object();
  add_figures(json, kYearFigures, year);
  return json;
}

Json spread_object(const Spread& spread) {
  return {{"p10", spread.p10}, {"p50", spread.p50}, {"p90", spread.p90}};
}

void add_spreads(Json& json, const YearSpread& spread) {
  for (const SpreadFigure& told : kSpreadFigures) {
    json.add(year_figure(told.figure).key, spread_object(spread.*told.spread));
  }
}

Json spread_object(const YearSpread& spread) {
  Json json = Json::object();
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
  if (balance.weather == WeatherMode::file) weather.add("file", file);
  return weather;
}

Json aim_met_object(const Balance& balance) {
  return {{"autonomy", balance.autonomy_met},
          {"shortfall", balance.shortfall_met},
          {"floor", balance.floor_met}};
}

Json synthetic_object(const Balance& balance) {
  Json synthetic = {{"years", balance.years},
                    {"seed", balance.seed},
                    {"verdict", verdict_word(balance.holds())},
                    {"aim_met", aim_met_object(balance)},
                    {"year", year_object(balance.year)}};
  if (balance.spread) synthetic.add("spread", spread_object(*balance.spread));
  return synthetic;
}

Json month_list(const Balance& balance) {
  Json months = Json::list();
  for (const MonthBalance& month : balance.months) {
    Json json = {{"month", months.size() + 1}};
    add_figures(json, kMonthFigures, month);
    months.push(std::move(json));
  }
  return months;
}

Json use_list(const std::vector<Use>& uses) {
  return list_of(uses, [](const Use& use) -> Json {
    return {
        {"name", use.name}, {"ah_day", use.ah_day}, {"wh_day", use.wh_day}, {"share", use.share}};
  });
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
  return list_of(findings, [](const Finding& finding) -> Json {
    return {{"level", level_word(finding.level)},
            {"topic", finding.topic},
            {"field", finding.field},
            {"text", finding.text},
            {"source", finding.source}};
  });
}

Json rough_list(const std::vector<RoughInput>& rough) {
  return list_of(rough, [](const RoughInput& input) -> Json {
    return {{"field", input.field},
            {"low", input.low},
            {"high", input.high},
            // The ends are shares, 0..1, though people write and read them in per cent.
            {"unit", input.unit == "%" ? "share" : input.unit}};
  });
}

Json rough_object(const RoughStudy& study) {
  Json json = {{"cases", study.cases},
               {"weather", mode_word(study.weather)},
               {"years", study.years},
               {"climate_error_share", study.climate_error_share},
               {"meets_aim_share", study.meets_aim_share}};
  add_spreads(json, study.spread);
  json.add("measure_first", list_of(study.measure_first, [](const RoughShare& share) -> Json {
             return {{"field", share.field}, {"share_of_spread", share.share_of_spread}};
           }));
  return json;
}

Json spread_object(const std::optional<Spread>& spread) {
  return spread ? spread_object(*spread) : Json(nullptr);
}

Json rough_water_object(const RoughWater& study) {
  Json json = {{"cases", study.cases},
               {"failed_cases", study.failed_cases},
               {"climate_error_share", study.climate_error_share},
               {"holds_share", study.holds_share}};
  json.add("lines", list_of(study.lines, [](const RoughLine& line) -> Json {
             return {{"name", line.name},
                     {"flow_l_h", spread_object(line.flow_l_h)},
                     {"longest_minutes_day", spread_object(line.longest_minutes_day)},
                     {"siphon_night_l", spread_object(line.siphon_night_l)}};
           }));
  json.add("tank", study.tank ? Json({{"days_to_empty", spread_object(study.tank->days_to_empty)},
                                      {"dry_days", spread_object(study.tank->dry_days)}})
                              : Json(nullptr));
  return json;
}

Json rough_sun_object(const RoughSun& study) {
  Json months = Json::list();
  for (std::size_t m = 0; m < 12; ++m) {
    months.push({{"month", m + 1},
                 {"sun_horizontal_kwh_m2_day", spread_object(study.sun_horizontal_kwh_m2_day[m])},
                 {"sun_panel_kwh_m2_day", spread_object(study.sun_panel_kwh_m2_day[m])}});
  }
  return {{"cases", study.cases},
          {"climate_error_share", study.climate_error_share},
          {"panel_year_kwh_m2", spread_object(study.panel_year_kwh_m2)},
          {"months", std::move(months)}};
}

Json rough_wiring_object(const RoughWiring& study) {
  Json json = {{"cases", study.cases},
               {"failed_cases", study.failed_cases},
               {"holds_share", study.holds_share}};
  json.add("cables", list_of(study.cables, [](const RoughCable& cable) -> Json {
             return {{"name", cable.name},
                     {"current_a", spread_object(cable.current_a)},
                     {"drop_share", spread_object(cable.drop_share)},
                     {"loss_wh_day", spread_object(cable.loss_wh_day)},
                     {"holds_share", cable.holds_share}};
           }));
  return json;
}

/// The ranges, and what they leave open where that was studied.
void add_rough(Json& json, const Site& site, const RoughStudy* study) {
  json.add("rough_inputs", rough_list(site.rough));
  if (study != nullptr) json.add("rough", rough_object(*study));
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
          {"autonomy_days", lever.year.autonomy_days},
          {"text", lever_text(site, lever)}};
}

/// Over several years the mean of the years, like all else.
Json ledger_object(const Ledger& ledger, int years) {
  // A balance has sums of all years here, unlike its months and its year.
  return {{"charge_ah", ledger.charge_ah / years},
          {"turned_away_ah", ledger.turned_away_ah / years},
          {"charging_loss_ah", ledger.charging_loss_ah / years},
          {"self_discharge_ah", ledger.self_discharge_ah / years},
          {"served_ah", ledger.served_ah / years},
          {"stored_change_ah", ledger.stored_change_ah / years}};
}

Json day_list(const std::vector<DayBalance>& days) {
  Json list = Json::list();
  for (const DayBalance& day : days) {
    Json json = {{"day", list.size() + 1}};
    add_figures(json, kDayFigures, day);
    list.push(std::move(json));
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
  if (weather.series) json.add("file", weather.series->path);
  return json;
}

/// The part of a year that a choice of sizes is made by.
void add_outcome(Json& json, const JudgedYear& outcome) {
  json.add("shortfall_days", outcome.year.shortfall_days);
  json.add("deepest_discharge", outcome.year.deepest_discharge);
  json.add("autonomy_days", outcome.year.autonomy_days);
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
  Json set = Json::object();
  for (const auto& [field, value] : size_settings(site, pair->sizes)) set.add(field, value);
  json.add("set", std::move(set));
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
  const auto figure = [&](double value) { return line.flow ? Json(value) : Json(nullptr); };
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
          {"demand_l_day", line.demand_l_day},
          {"minutes_day", line.minutes_day},
          {"use_ah_day", line.use_ah_day},
          {"siphon_l_h", line.siphon ? Json(line.siphon->flow_l_h) : Json(nullptr)},
          {"siphon_until_m", line.siphon ? Json(line.siphon->until_m) : Json(nullptr)},
          {"siphon_night_l", line.siphon ? Json(line.siphon->night_l) : Json(nullptr)},
          {"why_no_flow", line.no_flow ? Json(no_flow_text(*line.no_flow)) : Json(nullptr)}};
}

// A year that is not followed has its keys too, and null.
Json tank_object(const TankStudy& tank) {
  const auto of_year = [&](Json figure) {
    return tank.is_filled_by_hand ? Json(nullptr) : std::move(figure);
  };
  return {{"usable_l", tank.usable_l},
          {"days_to_empty", tank.days_to_empty},
          {"dry_days", of_year(tank.dry_days)},
          {"overflow_l", of_year(tank.overflow_l)},
          {"roof_l", tank.catch_l},
          {"refill_l", tank.refill_l},
          {"use_l", tank.use_l},
          {"lowest_l", of_year(tank.lowest_l)},
          {"dry_days_month", of_year(tank.dry_days_month)},
          {"filled_by_hand", tank.is_filled_by_hand},
          {"filling_days", list_of(tank.filling_days, [](const auto& days) { return Json(days); })},
          {"siphon_l", of_year(tank.siphon_l)}};
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
          {"section_mm2", check.cable.section_mm2},
          {"next_section_mm2", thinnest != nullptr ? Json(thinnest->section_mm2) : Json(nullptr)},
          {"next_section_awg", gauge(check.thinnest_awg)},
          {"fuse_a", check.fuse_a},
          {"voltage_at_load_v", check.voltage_at_load_v()},
          {"flow_share", check.pump_flow_share}};
}

}  // namespace

std::string budget_json(const Budget& budget) {
  const Balance& balance = budget.balance;
  Json json = result_of("budget");
  json.add("site", budget.site.name);
  json.add("place", place_object(budget.site.place));
  json.add("weather", weather_object(balance, budget.weather_file));
  json.add("verdict", verdict_word(budget.holds()));
  json.add("aim", aim_object(balance.aim));
  json.add("aim_met", aim_met_object(balance));
  json.add("year", year_object(balance.year));
  json.add("months", month_list(balance));
  if (balance.spread) json.add("spread", spread_object(*balance.spread));
  json.add("uses", use_list(balance.uses));
  json.add("findings", finding_list(budget.findings));
  json.add("assumptions", assumption_texts(balance.assumptions));
  add_rough(json, budget.site, budget.rough);
  json.add("ledger", ledger_object(balance.ledger, balance.years));
  if (budget.changeable != nullptr) json.add("synthetic", synthetic_object(*budget.changeable));
  if (budget.daily) json.add("days", day_list(balance.days));
  return written(json);
}

std::string fit_json(const FitAnswer& answer) {
  const Fit& fit = answer.fit;
  Json json = result_of("fit");
  json.add("site", answer.site.name);
  json.add("weather", weather_object(fit.after, answer.weather_file));
  json.add("fits", fit.fits);
  json.add("room", {{"minutes_per_day", fit.room.minutes_per_day}, {"copies", fit.room.copies}});
  json.add("aim", aim_object(fit.after.aim));
  json.add("before", year_object(fit.before.year));
  json.add("after", year_object(fit.after.year));
  add_rough(json, answer.site, answer.rough);
  return written(json);
}

std::string levers_json(const Levers& levers) {
  const Balance& now = levers.study.now;
  Json json = result_of("levers");
  json.add("site", levers.site.name);
  json.add("weather", weather_object(now, levers.weather_file));
  json.add("verdict", verdict_word(now.holds()));
  json.add("aim", aim_object(now.aim));
  json.add("aim_met", aim_met_object(now));
  json.add("year", year_object(now.year));
  json.add("levers", list_of(levers.study.levers,
                             [&](const Lever& lever) { return lever_object(levers.site, lever); }));
  json.add("assumptions", assumption_texts(now.assumptions));
  add_rough(json, levers.site, levers.rough);
  return written(json);
}

std::string size_json(const SizeAnswer& answer) {
  const Sizing& sizing = answer.sizing;
  Json json = result_of("size");
  json.add("site", answer.site.name);
  json.add("weather", weather_object(answer.weather));
  json.add("aim", aim_object(sizing.aim));
  json.add("prices", {{"panel_per_w", answer.prices.panel_per_w},
                      {"battery_per_ah", answer.prices.battery_per_ah}});
  json.add("best", chosen_object(answer.site, sizing.best));
  json.add("as_sold", chosen_object(answer.site, sizing.as_sold));
  json.add("tilt_deg", sizing.best ? sizing.best->sizes.tilt_deg : answer.site.panel.tilt_deg);
  json.add("tilts_deg", sizing.tilts_deg);
  const auto tried = [](const SizedPair& pair) {
    Json entry = pair_object(pair);
    entry.add("meets_aim", pair.outcome.met.holds());
    add_outcome(entry, pair.outcome);
    return entry;
  };
  Json pairs = list_of(sizing.line, tried);
  if (!sizing.best) pairs.push(tried(sizing.largest));
  json.add("pairs", std::move(pairs));
  json.add("worksheet", {{"design_month", sizing.worksheet.design_month + 1},
                         {"panel_power_w", sizing.worksheet.panel_power_w},
                         {"battery_capacity_ah", sizing.worksheet.battery_capacity_ah}});
  json.add("evaluations", sizing.evaluations);
  json.add("findings", finding_list(answer.findings));
  json.add("assumptions", assumption_texts(answer.site.assumptions));
  add_rough(json, answer.site, answer.rough);
  return written(json);
}

std::string parts_json(const PartsAnswer& answer) {
  Json json = result_of("size");
  json.add("site", answer.site.name);
  json.add("weather", weather_object(answer.weather));
  Json sets = Json::list();
  for (const auto* judged : {&answer.choice.best, &answer.choice.missed}) {
    for (const JudgedSet& set : *judged) sets.push(set_object(answer.parts, set));
  }
  json.add("sets", std::move(sets));
  json.add("possible", answer.choice.possible);
  json.add("evaluations", answer.choice.evaluations);
  Json assumptions = assumption_texts(answer.site.assumptions);
  for (const Assumption& assumption : answer.parts.assumptions) assumptions.push(assumption.text);
  json.add("assumptions", std::move(assumptions));
  add_rough(json, answer.site, answer.rough);
  return written(json);
}

std::string sun_json(const Sun& sun) {
  Json json = result_of("sun");
  json.add("site", sun.site.name);
  json.add("place", place_object(sun.site.place));
  json.add("tilt_deg", sun.site.panel.tilt_deg);
  json.add("azimuth_deg", sun.site.panel.azimuth_deg);
  Json months = Json::list();
  for (const SunMonth& month : sun.months) {
    months.push({{"month", months.size() + 1},
                 {"sun_horizontal_kwh_m2_day", month.sun_horizontal_kwh_m2_day},
                 {"sun_panel_kwh_m2_day", month.sun_panel_kwh_m2_day},
                 {"clearness", month.clearness},
                 {"day_length_h", month.day_length_h},
                 {"shade_share", month.shade_share},
                 {"day_spread_share", month.day_spread_share}});
  }
  json.add("months", std::move(months));
  json.add("day_spread_share", day_spread_share(sun.months));
  json.add("assumptions", assumption_texts(sun.assumptions));
  json.add("rough_inputs", rough_list(sun.site.rough));
  if (sun.rough != nullptr) json.add("rough", rough_sun_object(*sun.rough));
  if (!sun.tilts) return written(json);
  json.add("tilts", list_of(sun.tilts->tilts, tilt_object));
  json.add("best_year", tilt_object(sun.tilts->best_year));
  json.add("best_worst_month", tilt_object(sun.tilts->best_worst_month));
  return written(json);
}

std::string water_json(const WaterAnswer& answer) {
  const WaterStudy& study = answer.study;
  Json json = result_of("water");
  json.add("site", answer.site.name);
  json.add("verdict", verdict_word(study.holds()));
  json.add("lines", list_of(study.lines, line_object));
  json.add("tank", study.tank ? tank_object(*study.tank) : Json(nullptr));
  json.add("findings", finding_list(answer.findings));
  json.add("assumptions", assumption_texts(study.assumptions));
  json.add("rough_inputs", rough_list(answer.site.rough));
  if (answer.rough != nullptr) json.add("rough", rough_water_object(*answer.rough));
  return written(json);
}

std::string wiring_json(const Wiring& wiring) {
  Json json = result_of("wiring");
  json.add("site", wiring.site.name);
  json.add("cables", list_of(wiring.cables, cable_object));
  json.add("findings", finding_list(wiring.findings));
  json.add("assumptions", assumption_texts(wiring.assumptions));
  json.add("rough_inputs", rough_list(wiring.site.rough));
  if (wiring.rough != nullptr) json.add("rough", rough_wiring_object(*wiring.rough));
  return written(json);
}

std::string check_json(const Check& check) {
  Json json = result_of("check");
  json.add("file", check.file);
  json.add("problems", list_of(check.problems, [](const io::Problem& problem) -> Json {
             return {{"file", problem.file},
                     {"line", position_json(problem.line)},
                     {"column", position_json(problem.column)},
                     {"field", problem.field},
                     {"message", problem.message}};
           }));
  json.add("assumptions", assumption_texts(check.assumptions));
  json.add("rough_inputs", rough_list(check.site ? check.site->rough : std::vector<RoughInput>()));
  json.add("findings", finding_list(check.findings));
  return written(json);
}

std::string explain_json(std::span<const Field> fields) {
  Json json = result_of("explain");
  json.add("fields", list_of(fields, [](const Field& field) -> Json {
             return {{"field", field.path},          {"write", expected_text(field)},
                     {"required", field.required},   {"default", field.fallback},
                     {"allowed", range_text(field)}, {"meaning", field.meaning},
                     {"usual", field.usual},         {"source", field.source}};
           }));
  return written(json);
}

std::string places_json(const std::vector<ListedPlace>& places) {
  Json json = result_of("places");
  json.add("places", list_of(places, [](const ListedPlace& place) {
             Json entry = {{"id", place.row.id},
                           {"name", place.row.name},
                           {"country", place.row.country},
                           {"latitude_deg", place.row.latitude_deg},
                           {"longitude_deg", place.row.longitude_deg},
                           {"elevation_m", place.row.elevation_m},
                           {"sun_mean_kwh_m2_day", place.sun_mean_kwh_m2_day},
                           {"sun_horizontal_kwh_m2_day", place.row.sun_horizontal_kwh_m2_day},
                           {"air_temp_c", place.row.air_temp_c},
                           {"rain_mm", place.row.rain_mm}};
             if (place.distance_km) entry.add("distance_km", *place.distance_km);
             return entry;
           }));
  return written(json);
}

}  // namespace amptally::report
