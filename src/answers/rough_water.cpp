#include "amptally/rough_water.hpp"

#include <algorithm>
#include <utility>
#include <variant>
#include <vector>

#include "amptally/error.hpp"
#include "amptally/validate.hpp"
#include "amptally/water.hpp"

#include "answers/rough_cases.hpp"
#include "balance/year_summary.hpp"

namespace amptally::inline v0_1 {
namespace {

bool follows_the_sun(const Site& site) {
  return site.water &&
         std::any_of(site.water->lines.begin(), site.water->lines.end(), [](const WaterLine& line) {
           return line.demand && std::holds_alternative<CropDemand>(*line.demand);
         });
}

// A line is followed outlet by outlet: chosen so that a site of ten thousand outlets is told within
// seconds, and one of up to a thousand by all its cases.
int affordable_cases(const Site& site, int wanted) {
  constexpr double kMostOutlets = 1000;
  constexpr int kFewest = 16;
  if (!site.water) return wanted;
  double outlets = 0;
  for (const WaterLine& line : site.water->lines) {
    outlets += line.outlets ? line.outlets->count : 1;
  }
  const double share = std::min(1.0, kMostOutlets / std::max(outlets, 1.0));
  return std::min(wanted, std::max(kFewest, static_cast<int>(wanted * share)));
}

// Nothing where a line brings nothing at all.
std::optional<WaterStudy> water_of(const Site& site) {
  try {
    return study_water(site);
  } catch (const Error&) {
    return std::nullopt;
  }
}

// The spread of a figure over the studies that have it.
template <class Figure>
std::optional<Spread> spread_over(const std::vector<WaterStudy>& studies, Figure figure) {
  std::vector<double> values;
  for (const WaterStudy& study : studies) {
    if (const std::optional<double> value = figure(study)) values.push_back(*value);
  }
  if (values.empty()) return std::nullopt;
  return spread_of(values);
}

RoughLine line_over(const std::vector<WaterStudy>& studies, std::size_t i) {
  using Value = std::optional<double>;
  RoughLine line{.name = studies.front().lines[i].name};
  line.flow_l_h = spread_over(studies, [&](const WaterStudy& study) -> Value {
    const auto& flow = study.lines[i].flow;
    return flow ? Value(flow->flow_l_h) : std::nullopt;
  });
  line.longest_minutes_day = spread_over(studies, [&](const WaterStudy& study) -> Value {
    const auto& minutes = study.lines[i].minutes_day;
    return minutes ? Value(*std::max_element(minutes->begin(), minutes->end())) : std::nullopt;
  });
  const bool any_siphons = std::any_of(studies.begin(), studies.end(), [&](const auto& study) {
    return study.lines[i].siphon.has_value();
  });
  line.siphon_night_l = spread_over(studies, [&](const WaterStudy& study) -> Value {
    const auto& siphon = study.lines[i].siphon;
    if (!any_siphons) return std::nullopt;
    return siphon ? siphon->night_l : 0.0;
  });
  return line;
}

RoughTank tank_over(const std::vector<WaterStudy>& studies) {
  using Value = std::optional<double>;
  return {.days_to_empty = spread_over(
              studies, [](const WaterStudy& study) { return study.tank->days_to_empty; }),
          .dry_days = spread_over(studies, [](const WaterStudy& study) -> Value {
            return study.tank->is_filled_by_hand ? std::nullopt : Value(study.tank->dry_days);
          })};
}

}  // namespace

RoughWater study_rough_water(const Site& site, const RoughOptions& options) {
  require_valid(site);
  const RoughCases cases = rough_cases(site, affordable_cases(site, options.cases),
                                       options.exact_climate || !follows_the_sun(site));
  RoughWater result{.cases = static_cast<int>(cases.sites.size()),
                    .climate_error_share = cases.climate_error_share};
  std::vector<WaterStudy> studies;
  for (const Site& one : cases.sites) {
    if (std::optional<WaterStudy> study = water_of(one)) studies.push_back(std::move(*study));
  }
  result.failed_cases = result.cases - static_cast<int>(studies.size());
  const auto held = std::count_if(studies.begin(), studies.end(),
                                  [](const WaterStudy& study) { return study.holds(); });
  result.holds_share = static_cast<double>(held) / result.cases;
  if (studies.empty()) return result;
  for (std::size_t i = 0; i < studies.front().lines.size(); ++i) {
    result.lines.push_back(line_over(studies, i));
  }
  if (studies.front().tank) result.tank = tank_over(studies);
  return result;
}

}  // namespace amptally::inline v0_1
