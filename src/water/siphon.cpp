#include "water/siphon.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

#include "amptally/error.hpp"

#include "water/least_flow.hpp"

namespace amptally::inline v0_1 {
namespace {

constexpr double kNight_h = 12;

// Chosen: the head at one level over that at the next. Between two the flow is a power of the head,
// whose exponent hardly changes on the way: a night's litres come out within 0.1 % of steps of six
// seconds.
constexpr double kHeadStep = 1.5;
// Chosen: the last ten thousandth of the head counts as run out.
constexpr double kLastHead_share = 1e-4;

// Height of a line's outlets above the tank's floor, where it is known.
std::optional<double> outlet_height_m(const Tank& tank, const WaterLine& line) {
  if (line.outlets) return line.outlets->height_m;
  if (tank.level_m) return *tank.level_m + line.lift_m;
  return std::nullopt;
}

// Unset where so little head brings no water: outlets that want their flow at any head have none
// left at the end of a tube.
std::optional<double> flow_at_head_l_h(const WaterLine& line, double head_m,
                                       double viscosity_m2_s) {
  try {
    const double flow_l_h = line_flow(line, -head_m, Drive::gravity, viscosity_m2_s).flow_l_h;
    if (flow_l_h > kHardlyAny_l_h) return flow_l_h;
  } catch (const ModelError&) {
    // It says why nothing flows, which at the end of a siphon is no news.
  }
  return std::nullopt;
}

// The least head that brings water, above `none_m`, which brings none.
template <class Flows>
double least_head_m(double none_m, double some_m, Flows flows) {
  while (some_m - none_m > 1e-6 * some_m) {
    const double middle_m = none_m + (some_m - none_m) / 2;
    (flows(middle_m) ? some_m : none_m) = middle_m;
  }
  return some_m;
}

// Integral of s^-exponent from `from` to 1.
double inverse_power_integral(double exponent, double from) {
  const double rest = 1 - exponent;
  return std::abs(rest) < 1e-9 ? -std::log(from) : (1 - std::pow(from, rest)) / rest;
}

// Its `from`, where it has that value.
double inverse_power_from(double exponent, double integral) {
  const double rest = 1 - exponent;
  if (std::abs(rest) < 1e-9) return std::exp(-integral);
  return std::pow(std::max(0.0, 1 - rest * integral), 1 / rest);
}

}  // namespace

std::optional<SiphonFlow> SiphonFlow::of(const Tank& tank, const WaterLine& line,
                                         double viscosity_m2_s) {
  const std::optional<double> outlet_m = outlet_height_m(tank, line);
  if (line.valve != SiphonValve::none || !tank.level_m || !outlet_m) return std::nullopt;
  if (!line.tube && !line.outlets) return std::nullopt;
  SiphonFlow siphon;
  siphon.outlet_m_ = *outlet_m;
  siphon.until_m_ = std::max({*outlet_m, tank.outlet_height_m.value_or(0), 0.0});
  if (!(siphon.until_m_ < *tank.level_m)) return std::nullopt;

  const auto flow_l_h = [&](double head_m) {
    return flow_at_head_l_h(line, head_m, viscosity_m2_s);
  };
  const double full_m = *tank.level_m - *outlet_m;
  if (!flow_l_h(full_m)) return std::nullopt;
  double last_m = std::max(siphon.until_m_ - *outlet_m, kLastHead_share * full_m);
  if (!flow_l_h(last_m)) {
    last_m = least_head_m(last_m, full_m, flow_l_h);
    siphon.until_m_ = *outlet_m + last_m;
  }
  const int steps =
      std::max(1, static_cast<int>(std::ceil(std::log(full_m / last_m) / std::log(kHeadStep))));
  for (int i = 0; i <= steps; ++i) {
    const double head_m =
        i == steps ? last_m : full_m * std::pow(last_m / full_m, static_cast<double>(i) / steps);
    siphon.levels_m_.push_back(*outlet_m + head_m);
    // Where a long line feeds one outlet less, flow can be lacking in between.
    siphon.flows_l_h_.push_back(flow_l_h(head_m).value_or(kHardlyAny_l_h));
  }
  return siphon;
}

double SiphonFlow::at_l_h(double level_m) const {
  if (level_m < levels_m_.back()) return 0;
  if (level_m >= levels_m_.front()) return flows_l_h_.front();
  const auto below =
      std::lower_bound(levels_m_.begin() + 1, levels_m_.end(), level_m, std::greater<>());
  const auto i = static_cast<std::size_t>(below - levels_m_.begin());
  const double step = std::log((levels_m_[i] - outlet_m_) / (levels_m_[i - 1] - outlet_m_));
  if (step == 0) return flows_l_h_[i];
  const double along = std::log((level_m - outlet_m_) / (levels_m_[i - 1] - outlet_m_)) / step;
  return flows_l_h_[i - 1] * std::pow(flows_l_h_[i] / flows_l_h_[i - 1], along);
}

SiphonFall::SiphonFall(const Tank& tank, const std::vector<SiphonFlow>& flows)
    : area_l_m_(tank.volume_l / *tank.level_m),  // straight sides
      base_m_(flows.front().outlet_m()),
      until_m_(flows.front().until_m()) {
  std::vector<double> levels_m;
  for (const SiphonFlow& flow : flows) {
    base_m_ = std::min(base_m_, flow.outlet_m());
    until_m_ = std::min(until_m_, flow.until_m());
    levels_m.insert(levels_m.end(), flow.levels_m().begin(), flow.levels_m().end());
  }
  std::sort(levels_m.begin(), levels_m.end(), std::greater<>());
  levels_m.erase(std::unique(levels_m.begin(), levels_m.end()), levels_m.end());
  double from_h = 0;
  for (std::size_t i = 0; i + 1 < levels_m.size(); ++i) {
    double at_top_l_h = 0;
    double at_bottom_l_h = 0;
    for (const SiphonFlow& flow : flows) {
      // A line that stops at this piece's top has no part in it.
      if (flow.levels_m().back() > levels_m[i + 1]) continue;
      at_top_l_h += flow.at_l_h(levels_m[i]);
      at_bottom_l_h += flow.at_l_h(levels_m[i + 1]);
    }
    Piece piece{.top_m = levels_m[i] - base_m_,
                .bottom_m = levels_m[i + 1] - base_m_,
                .flow_l_h = at_top_l_h,
                .exponent = 0,
                .from_h = from_h};
    // Two levels of different lines can lie so close that their heights are the same number.
    if (!(piece.bottom_m < piece.top_m)) continue;
    piece.exponent = std::log(at_bottom_l_h / at_top_l_h) / std::log(piece.bottom_m / piece.top_m);
    from_h += hours_down_to(piece, piece.bottom_m);
    pieces_.push_back(piece);
  }
}

double SiphonFall::hours_down_to(const Piece& piece, double height_m) const {
  return area_l_m_ * piece.top_m / piece.flow_l_h *
         inverse_power_integral(piece.exponent, height_m / piece.top_m);
}

double SiphonFall::height_after_m(const Piece& piece, double hours) const {
  const double share =
      inverse_power_from(piece.exponent, hours * piece.flow_l_h / (area_l_m_ * piece.top_m));
  return std::max(piece.bottom_m, share * piece.top_m);
}

double SiphonFall::level_after_m(double level_m, double hours) const {
  const double height_m = level_m - base_m_;
  // The first piece that goes below the level, or below the hour, is the one it lies in.
  const auto start = std::find_if(pieces_.begin(), pieces_.end(),
                                  [&](const Piece& piece) { return piece.bottom_m < height_m; });
  if (start == pieces_.end()) return level_m;
  const double end_h =
      start->from_h + hours_down_to(*start, std::min(height_m, start->top_m)) + hours;
  const auto after = std::find_if(start + 1, pieces_.end(),
                                  [&](const Piece& piece) { return piece.from_h > end_h; });
  const Piece& last = *(after - 1);
  const double left_h = end_h - last.from_h;
  if (after == pieces_.end() && left_h >= hours_down_to(last, last.bottom_m)) {
    return std::min(level_m, until_m_);
  }
  return std::min(level_m, base_m_ + height_after_m(last, left_h));
}

SiphonNights::SiphonNights(const Tank& tank, std::vector<SeasonalSiphon> siphons)
    : bottom_m_(tank.outlet_height_m.value_or(0)) {
  if (siphons.empty()) return;
  area_l_m_ = tank.volume_l / *tank.level_m;
  for (std::size_t m = 0; m < kMonthsPerYear; ++m) {
    std::vector<std::size_t> open;
    std::vector<SiphonFlow> flows;
    for (std::size_t i = 0; i < siphons.size(); ++i) {
      if (!siphons[i].months.test(m)) continue;
      open.push_back(i);
      flows.push_back(siphons[i].flow);
    }
    if (open.empty()) continue;
    const auto known = std::find(open_lines_.begin(), open_lines_.end(), open);
    fall_of_month_[m] = static_cast<std::size_t>(known - open_lines_.begin());
    if (known != open_lines_.end()) continue;
    open_lines_.push_back(open);
    falls_.emplace_back(tank, flows);
  }
}

double SiphonNights::lost_l(std::size_t month, double content_l) const {
  if (!fall_of_month_[month]) return 0;
  const double level_m = bottom_m_ + content_l / area_l_m_;
  const double fallen_m = level_m - falls_[*fall_of_month_[month]].level_after_m(level_m, kNight_h);
  return std::clamp(fallen_m * area_l_m_, 0.0, content_l);
}

Siphon night_from_full(const Tank& tank, const SiphonFlow& flow) {
  const double full_m = *tank.level_m;
  const double fallen_m = full_m - SiphonFall(tank, {flow}).level_after_m(full_m, kNight_h);
  return {.flow_l_h = flow.at_l_h(full_m),
          .until_m = flow.until_m(),
          .night_l = fallen_m * tank.volume_l / full_m};
}

std::optional<Siphon> line_siphon(const Tank& tank, const WaterLine& line, double viscosity_m2_s) {
  const std::optional<SiphonFlow> flow = SiphonFlow::of(tank, line, viscosity_m2_s);
  if (!flow) return std::nullopt;
  return night_from_full(tank, *flow);
}

}  // namespace amptally::inline v0_1
