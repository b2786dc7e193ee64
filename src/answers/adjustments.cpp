#include "answers/adjustments.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "amptally/load.hpp"
#include "amptally/resize.hpp"

namespace amptally::inline v0_1 {
namespace {

// Chosen: beyond these it would be another system, see study_levers.
constexpr double kMostPanel = 8;
constexpr double kMostBattery = 10;
constexpr double kLeastLosses_share = 0.03;

/// `digits` times ten to the `exponent`, as exact as its decimal form.
double decimal(int digits, int exponent) {
  return exponent < 0 ? digits / std::pow(10, -exponent) : digits * std::pow(10, exponent);
}

/// The numbers of two significant figures from `low` to `high`, both > 0, rising.
std::vector<double> two_figure_numbers(double low, double high) {
  std::vector<double> numbers;
  const int first = static_cast<int>(std::floor(std::log10(low))) - 1;
  for (int exponent = first; decimal(10, exponent) <= high; ++exponent) {
    for (int digits = 10; digits < 100; ++digits) {
      const double value = decimal(digits, exponent);
      if (value >= low && value <= high) numbers.push_back(value);
    }
  }
  return numbers;
}

/// Upwards to `times` as much.
std::vector<double> steps_up(double now, double times) {
  std::vector<double> steps = two_figure_numbers(now, times * now);
  std::erase(steps, now);
  return steps;
}

/// Downwards to nothing; below a hundredth of now there is only nothing.
std::vector<double> steps_down(double now) {
  std::vector<double> steps = two_figure_numbers(now / 100, now);
  std::erase(steps, now);
  std::reverse(steps.begin(), steps.end());
  steps.push_back(0);
  return steps;
}

/// Whole per cent below `now`, down to `limit`.
std::vector<double> per_cent_steps(double now, double limit) {
  std::vector<double> steps;
  for (int per_cent = 100; per_cent >= 0; --per_cent) {
    const double share = per_cent / 100.0;
    if (share < now && share >= limit) steps.push_back(share);
  }
  return steps;
}

Site with_losses(Site site, double share) {
  site.panel.losses_share = share;
  return site;
}

Site with_shade_times(Site site, double factor) {
  for (Obstacle& obstacle : site.panel.shade) obstacle.blocks_share *= factor;
  return site;
}

Site with_standby(Site site, double value) {
  site.regulator.standby.value = value;
  return site;
}

Change with_minutes(std::size_t load) {
  return [load](Site site, double minutes) {
    site.loads[load] = with_minutes_a_day(site.loads[load], minutes);
    return site;
  };
}

Change with_draw(std::size_t load) {
  return [load](Site site, double value) {
    site.loads[load].draw.value = value;
    return site;
  };
}

const char* unit_of(const Draw& draw) { return draw.unit == Draw::Unit::watts ? "W" : "A"; }

void add_parts(std::vector<Adjustment>& adjustments, const Site& site) {
  const Panel& panel = site.panel;
  const double capacity_ah = site.battery.capacity_ah;
  const Draw& standby = site.regulator.standby;
  const bool shaded = std::any_of(panel.shade.begin(), panel.shade.end(),
                                  [](const Obstacle& o) { return o.blocks_share > 0; });
  if (shaded) {
    adjustments.push_back({"panel.shade", "%", 1, per_cent_steps(1, 0), with_shade_times});
  }
  if (panel.power_w > 0) {
    adjustments.push_back(
        {"panel.power", "W", panel.power_w, steps_up(panel.power_w, kMostPanel), with_panel_power});
  }
  adjustments.push_back({"panel.losses", "%", panel.losses_share,
                         per_cent_steps(panel.losses_share, kLeastLosses_share), with_losses});
  adjustments.push_back({"battery.capacity", "Ah", capacity_ah, steps_up(capacity_ah, kMostBattery),
                         with_battery_capacity});
  if (standby.value > 0) {
    adjustments.push_back({"regulator.standby", unit_of(standby), standby.value,
                           steps_down(standby.value), with_standby});
  }
}

void add_loads(std::vector<Adjustment>& adjustments, const Site& site) {
  for (std::size_t i = 0; i < site.loads.size(); ++i) {
    const Load& load = site.loads[i];
    const double minutes = minutes_a_day(load).value_or(0);
    if (load.draw.value <= 0 || !chooses_its_time(load)) continue;
    if (minutes > 0) {
      adjustments.push_back({fmt::format("loads[{}].{}", i, schedule_field(load)), "min", minutes,
                             steps_down(minutes), with_minutes(i)});
    }
    adjustments.push_back({fmt::format("loads[{}].draw", i), unit_of(load.draw), load.draw.value,
                           steps_down(load.draw.value), with_draw(i)});
  }
}

}  // namespace

std::vector<double> degree_steps(double now_deg, double to_deg) {
  std::vector<double> steps;
  for (int tilt = 0; tilt <= kSteepest_deg; ++tilt) {
    const bool between = tilt != now_deg && (tilt - now_deg) * (tilt - to_deg) <= 0;
    if (between) steps.push_back(tilt);
  }
  if (to_deg < now_deg) std::reverse(steps.begin(), steps.end());
  return steps;
}

Site with_tilt(Site site, double tilt_deg) {
  site.panel.tilt_deg = tilt_deg;
  return site;
}

std::vector<Adjustment> adjustments_of(const Site& site) {
  std::vector<Adjustment> adjustments;
  add_parts(adjustments, site);
  add_loads(adjustments, site);
  std::erase_if(adjustments, [](const Adjustment& adjustment) { return adjustment.steps.empty(); });
  return adjustments;
}

}  // namespace amptally::inline v0_1
