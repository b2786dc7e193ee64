#include "random_site.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <map>
#include <stdexcept>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "amptally/climate.hpp"
#include "amptally/error.hpp"
#include "amptally/sun.hpp"
#include "amptally/water.hpp"

#include "sitefile/site_reader.hpp"
#include "sites.hpp"

namespace amptally::testing {
namespace {

std::string in_quotes(std::string_view text) { return fmt::format("\"{}\"", text); }

/// The members of a JSON object, written one by one; ranges where the site is a rough one.
class Members {
 public:
  Members(Dice& dice, bool rough) : dice_(dice), rough_(rough) {}

  void put(std::string_view name, std::string_view json) {
    text_ += fmt::format("{}\"{}\": {}", text_.empty() ? "" : ", ", name, json);
  }
  void word(std::string_view name, std::string_view value) { put(name, in_quotes(value)); }
  void count(std::string_view name, int value) { put(name, std::to_string(value)); }
  void exact(std::string_view name, double value, std::string_view unit) {
    const std::string number = fmt::format("{:.5g}", value);
    put(name, unit.empty() ? number : in_quotes(number + " " + std::string(unit)));
  }
  /// A quantity that a rough site gives as a range, now and then; never outside low..high.
  void quantity(std::string_view name, double value, std::string_view unit, double low = 0,
                double high = 1e9) {
    if (!rough_ || dice_.one_of(3) != 0 || value <= 0) return exact(name, value, unit);
    const double off = value * dice_.between(0.02, 0.3);
    const std::string from = fmt::format("{:.5g}", std::max(low, value - off));
    const std::string to = fmt::format("{:.5g}", std::min(high, value + off));
    if (from == to) return exact(name, value, unit);
    word(name, fmt::format("{}..{}{}{}", from, to, unit.empty() ? "" : " ", unit));
  }
  [[nodiscard]] std::string object() const { return "{ " + text_ + " }"; }

 private:
  Dice& dice_;
  bool rough_;
  std::string text_;
};

/// Writes one site file.
class Writer {
 public:
  explicit Writer(std::uint64_t seed) : dice_(seed), rough_(dice_.one_of(4) == 0) {
    battery_v_ = kBatteries_v[dice_.one_of(static_cast<int>(std::size(kBatteries_v)))];
    battery_series_ = battery_v_ < 5 ? 4 : 1 + dice_.one_of(2);
    panel_w_ = log_between(0.1, 1e4);
    battery_ah_ = std::clamp(panel_w_ * log_between(0.02, 5), 0.05, 2e4);
    mean_load_a_ = dice_.one_of(5) == 0 ? log_between(1e-3, 10) : panel_w_ * log_between(1e-3, 0.1);
    has_water_ = one_in(4);
  }

  std::string file() {
    Members root = members();
    root.word("format", "amptally-site/1");
    root.word("name", "a site of chance");
    root.put("place", place());
    root.put("panel", panel());
    if (!one_in(12)) root.put("regulator", regulator());
    root.put("battery", battery());
    root.put("loads", loads());
    if (one_in(2)) root.put("wiring", wiring());
    if (has_water_) root.put("water", water());
    if (one_in(2)) root.put("aim", aim());
    return root.object();
  }

 private:
  bool one_in(int n) { return dice_.one_of(n) == 0; }
  double between(double low, double high) { return dice_.between(low, high); }
  /// Each power of ten as likely as the next.
  double log_between(double low, double high) {
    return std::exp(between(std::log(low), std::log(high)));
  }
  Members members() { return {dice_, rough_}; }

  /// `count` values or objects in brackets.
  template <class Make>
  static std::string list(int count, const Make& make) {
    std::string out;
    for (int i = 0; i < count; ++i) out += (i > 0 ? ", " : "") + make(i);
    return "[" + out + "]";
  }

  // A current, in the words of small and large devices.
  void current(Members& out, std::string_view name, double amperes) {
    if (amperes < 0.1 && one_in(2)) return out.quantity(name, 1e3 * amperes, "mA", 0, 1e6);
    out.quantity(name, amperes, "A", 0, 1e3);
  }
  void draw(Members& out, std::string_view name, double amperes) {
    const double capped_a = std::min(amperes, 900.0);
    if (one_in(3)) return out.quantity(name, capped_a * 12, "W", 0, 48000);
    current(out, name, capped_a);
  }

  std::string place() {
    Members out = members();
    // Even over the latitudes: the far north and south as often as the rest.
    double latitude = one_in(50) ? (one_in(2) ? 90.0 : -90.0) : between(-90, 90);
    double longitude = between(-180, 180);
    const bool shipped = one_in(3);
    if (shipped) {  // tables are of land only
      const ClimateRow near = any_place();
      latitude = near.latitude_deg + between(-0.5, 0.5);
      longitude = std::clamp(near.longitude_deg + between(-0.5, 0.5), -180.0, 180.0);
    }
    out.put("latitude", fmt::format("{:.4f}", latitude));
    out.put("longitude", fmt::format("{:.4f}", longitude));
    if (one_in(2)) out.exact("utc_offset", std::round(between(-12, 14) * 4) / 4, "h");
    if (!shipped) out.put("insolation", insolation(latitude));
    if (!one_in(3)) out.put("temperature", temperature(latitude));
    if (one_in(3))
      out.put("rain", list(12, [&](int) { return fmt::format("{:.0f}", between(0, 300)); }));
    if (one_in(4)) out.exact("elevation", between(-400, 4000), "m");
    if (one_in(4)) out.quantity("albedo", between(5, 90), "%", 0, 100);
    if (one_in(4)) out.exact("record_low", between(-60, 10), "deg C");
    if (one_in(4)) out.quantity("day_spread", between(0, 20), "%", 0, 20);
    return out.object();
  }

  ClimateRow any_place() {
    static const std::vector<ClimateRow> kPlaces = search_places("");
    return kPlaces[static_cast<std::size_t>(dice_.one_of(static_cast<int>(kPlaces.size())))];
  }

  std::string insolation(double latitude) {
    const double clear = between(0.05, 0.8);
    return list(12, [&](int month) {
      const double top = extraterrestrial_month_kwh_m2_day(latitude, month);
      return fmt::format("{:.3f}",
                         std::floor(1e3 * top * std::min(clear * between(0.6, 1.3), 0.85)) / 1e3);
    });
  }

  std::string temperature(double latitude) {
    const double mean = between(-25, 30);
    const double swing = (latitude < 0 ? -1 : 1) * between(0, 25);
    return list(12, [&](int month) {
      const double season = std::cos((month - 6.5) / 12 * 2 * 3.14159265358979);
      return fmt::format("{:.1f}", std::clamp(mean + swing * season + between(-2, 2), -59.0, 49.0));
    });
  }

  std::string panel() {
    Members out = members();
    const int series = one_in(4) ? 1 + dice_.one_of(3) : 1;
    label(out, series);
    const int strings = one_in(4) ? 1 + dice_.one_of(4) : 1;
    out.count("count", series * strings);
    out.count("series", series);
    if (one_in(3)) out.exact("temp_coeff_power", between(-0.6, -0.2), "%/K");
    if (one_in(3)) out.exact("temp_coeff_voc", between(-0.5, -0.1), "%/K");
    if (one_in(3)) out.quantity("noct", between(35, 60), "deg C", 20, 80);
    if (!one_in(4))
      out.quantity("tilt", one_in(8) ? 90 * dice_.one_of(2) : between(0, 90), "deg", 0, 90);
    if (!one_in(3)) out.quantity("azimuth", between(0, 360), "deg", 0, 360);
    if (one_in(2)) out.quantity("losses", between(0, 40), "%", 0, 100);
    if (one_in(3)) out.put("shade", list(1 + dice_.one_of(3), [&](int) { return obstacle(); }));
    return out.object();
  }

  // Power alone, power and a voltage, a voltage and a current, or the whole label.
  void label(Members& out, int series) {
    enum Form { power, power_vmp, power_voc, power_both, whole, vmp_imp, kForms };
    const int form = dice_.one_of(kForms);
    // Half the panels fit the battery's voltage, the others any.
    const double vmp =
        one_in(2) ? between(1.3, 1.6) * battery_v_ * battery_series_ / series : between(5, 60);
    const double imp = std::min(panel_w_ / vmp, 800.0);
    if (form != vmp_imp) {
      out.quantity("power", form == whole ? vmp * imp : one_in(30) ? 0 : panel_w_, "W", 0, 1e5);
    }
    if (form != power && form != power_voc) out.exact("vmp", vmp, "V");
    if (form == power_voc || form == power_both || form == whole) {
      out.exact("voc", vmp * between(1.15, 1.35), "V");
    }
    if (form == whole || form == vmp_imp) out.exact("imp", imp, "A");
    if (form == whole) out.exact("isc", imp * between(1.03, 1.12), "A");
  }

  std::string obstacle() {
    Members out = members();
    const int from_deg = dice_.one_of(360);
    const int to_deg = (from_deg + 1 + dice_.one_of(358)) % 360;
    out.word("azimuth", fmt::format("{}..{} deg", from_deg, to_deg));
    out.quantity("elevation", between(0, 80), "deg", 0, 90);
    if (one_in(3)) out.word("months", months());
    if (one_in(2)) out.quantity("blocks", between(0, 100), "%", 0, 100);
    return out.object();
  }

  std::string months() {
    static constexpr std::string_view kShort[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                                  "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
    const auto any = [&] { return kShort[dice_.one_of(12)]; };
    const std::string_view from = any();
    return one_in(4) ? std::string(from) : fmt::format("{}-{}", from, any());
  }

  std::string regulator() {
    Members out = members();
    static constexpr std::string_view kKinds[] = {"pwm", "mppt", "none"};
    const int kind = dice_.one_of(5) % 3;
    out.word("kind", kKinds[kind]);
    if (!one_in(4)) draw(out, "standby", one_in(6) ? 0 : mean_load_a_ * log_between(0.01, 1));
    if (one_in(3)) out.quantity("efficiency", between(70, 99), "%", 0, 100);
    if (one_in(3))
      out.quantity("max_current", std::clamp(panel_w_ * log_between(0.01, 0.2), 0.01, 900.0), "A",
                   0, 1000);
    if (one_in(3)) out.exact("max_panel_voltage", between(15, 150), "V");
    if (one_in(6)) out.exact("absorption", between(13.8, 15) * bank_factor(), "V");
    if (kind != 2 && !one_in(3)) cutoff(out);
    return out.object();
  }

  void cutoff(Members& out) {
    if (one_in(2)) {
      const double cutoff = between(5, 70);
      out.quantity("cutoff", cutoff, "%", 0, 100);
      if (one_in(2)) out.exact("reconnect", std::min(100.0, cutoff * 1.35 + between(1, 30)), "%");
    } else {
      const double cutoff = between(10.5, 12.2);
      out.exact("cutoff", cutoff * bank_factor(), "V");
      if (one_in(2)) out.exact("reconnect", (cutoff + between(0.2, 1.5)) * bank_factor(), "V");
    }
  }

  [[nodiscard]] double bank_factor() const { return battery_v_ * battery_series_ / 12; }

  std::string battery() {
    Members out = members();
    out.word("kind", battery_type(any_kind(dice_)).name);
    const int parallel = one_in(4) ? 1 + dice_.one_of(3) : 1;
    out.exact("voltage", battery_v_, "V");
    out.quantity("capacity", battery_ah_ / parallel, "Ah", 0, 1e5);
    if (one_in(3)) out.exact("rated_hours", log_between(4, 120), "h");
    out.count("series", battery_series_);
    out.count("parallel", parallel);
    if (one_in(2)) out.quantity("floor", between(10, 100), "%", 0, 100);
    if (one_in(2)) out.quantity("health", between(30, 100), "%", 0, 100);
    if (one_in(2)) out.quantity("start", one_in(4) ? 0 : between(0, 100), "%", 0, 100);
    if (one_in(4))
      out.quantity("max_charge_current",
                   std::clamp(battery_ah_ * log_between(0.02, 1), 1e-3, 900.0), "A", 0, 1000);
    if (one_in(5)) out.exact("peukert", between(1, 1.6), "");
    if (one_in(4)) out.quantity("self_discharge", between(0, 20), "%/month", 0, 100);
    if (one_in(5)) out.put("cycles", R"([["20 %", 1500], ["50 %", 500], ["100 %", 200]])");
    if (one_in(5)) out.exact("shelf_life", between(2, 20), "years");
    if (one_in(3)) out.exact("price", log_between(1, 1e4), "");
    return out.object();
  }

  std::string loads() {
    loads_ = one_in(12) ? 0 : 1 + dice_.one_of(4);
    return list(loads_, [&](int i) { return load(i); });
  }

  std::string load(int i) {
    Members out = members();
    out.word("name", fmt::format("load {}", i));
    const double mean_a = mean_load_a_ * log_between(0.05, 2);
    if (i == 0 && has_water_) {
      draw(out, "draw", mean_a * log_between(1, 20));
      out.word("from_water", "line 0");
    } else {
      schedule(out, mean_a);
    }
    if (one_in(3)) out.count("count", 1 + dice_.one_of(3));
    if (one_in(3)) out.word("months", months());
    if (one_in(4)) out.count("every", 1 + dice_.one_of(10));
    if (one_in(4)) out.quantity("start_factor", between(1.5, 6), "", 1, 20);
    if (one_in(4)) draw(out, "idle", mean_a * log_between(1e-3, 0.3));
    return out.object();
  }

  // A schedule, and the draw that makes a day of `mean_a` with it.
  void schedule(Members& out, double mean_a) {
    const int form = dice_.one_of(4);
    if (form == 0) {
      draw(out, "draw", mean_a);
      return out.put("always", "true");
    }
    const double minutes = one_in(20) ? 1440 * dice_.one_of(2) : log_between(0.5, 700);
    draw(out, "draw", mean_a * std::min(1440 / std::max(minutes, 1.0), 100.0));
    if (form == 1) return runs(out, minutes);
    static constexpr std::string_view kWhen[] = {"any", "day", "night"};
    out.quantity("per_day", minutes, "min", 0, 1440);
    out.word("when", kWhen[dice_.one_of(3)]);
  }

  void runs(Members& out, double minutes) {
    const int count = 1 + dice_.one_of(3);
    out.put("runs", list(count, [&](int) {
              Members run = members();
              run.word("at", fmt::format("{:02}:{:02}", dice_.one_of(24), dice_.one_of(60)));
              run.exact("for", minutes / count, "min");
              return run.object();
            }));
  }

  std::string wiring() {
    const int count = 2 + loads_;
    return list(count, [&](int i) {
      Members out = members();
      out.word("feeds", i == 0 ? "panel" : i == 1 ? "battery" : fmt::format("load {}", i - 2));
      out.quantity("length", log_between(0.2, 200), "m", 0, 1e4);
      if (one_in(2)) out.quantity("section", log_between(0.2, 50), "mm2", 0, 1000);
      if (one_in(3)) out.quantity("max_drop", between(0.5, 10), "%", 0, 100);
      return out.object();
    });
  }

  std::string water() {
    Members out = members();
    if (one_in(2)) out.put("tank", tank());
    out.put("lines", list(1 + dice_.one_of(2), [&](int i) { return line(i); }));
    return out.object();
  }

  std::string tank() {
    Members out = members();
    const double level = between(0.2, 3);
    out.quantity("volume", log_between(10, 1e5), "L", 0, 1e6);
    if (!one_in(3)) out.exact("level", level, "m");
    if (one_in(2)) out.exact("outlet_height", level * between(0, 0.9), "m");
    if (one_in(2)) out.quantity("roof", log_between(1, 500), "m2", 0, 1e4);
    if (one_in(3))
      out.put("refill", list(12, [&](int) { return fmt::format("{:.0f}", log_between(1, 1e5)); }));
    return out.object();
  }

  std::string line(int i) {
    Members out = members();
    out.word("name", fmt::format("line {}", i));
    Members pump = members();
    const double head = log_between(0.5, 60);
    const double flow = log_between(20, 5000);
    pump.quantity("flow", flow, "L/h", 0, 1e5);
    pump.quantity("head", head, "m", 0, 500);
    out.put("pump", pump.object());
    if (one_in(2)) out.quantity("lift", head * between(0, 0.6), "m", -100, 500);
    // A line needs one of the two, which set its flow.
    const bool has_tube = one_in(2);
    if (has_tube) out.put("tube", tube(flow));
    if (one_in(2)) {
      out.put("outlets", outlets(flow));
    } else if (!has_tube) {
      out.put("tube", tube(flow));
    }
    out.put("demand", demand(flow));
    static constexpr std::string_view kValves[] = {"none", "solenoid", "air-break"};
    if (one_in(2)) out.word("valve", kValves[dice_.one_of(3)]);
    return out.object();
  }

  std::string tube(double flow_l_h) {
    Members out = members();
    out.quantity("length", log_between(0.5, 200), "m", 0, 1e4);
    out.quantity("bore", std::sqrt(flow_l_h / 100) * between(4, 12), "mm", 0, 1000);
    return out.object();
  }

  std::string outlets(double flow_l_h) {
    Members out = members();
    const int count = 1 + dice_.one_of(40);
    out.count("count", count);
    out.quantity("flow", flow_l_h / count * log_between(0.3, 3), "L/h", 0, 1e4);
    out.quantity("at", log_between(0.5, 30), "m", 0, 500);
    if (one_in(2)) out.quantity("exponent", one_in(3) ? 0 : between(0, 1), "", 0, 1);
    if (one_in(2)) out.exact("height", between(-2, 5), "m");
    return out.object();
  }

  std::string demand(double flow_l_h) {
    const double litres = std::max(flow_l_h * log_between(0.005, 2), 0.1);
    Members out = members();
    switch (dice_.one_of(3)) {
      case 0:
        return in_quotes(fmt::format("{:.4g} L", litres));
      case 1:
        out.count("plants", 10);
        out.quantity("each", litres / 10, "L", 0, 1000);
        return out.object();
      default:
        out.quantity("area", litres / 4, "m2", 0, 1e6);
        out.word("crop", "tomato");
        return out.object();
    }
  }

  std::string aim() {
    Members out = members();
    out.exact("autonomy", one_in(6) ? 0 : between(0, 10), "days");
    if (one_in(2)) out.exact("shortfall_days", dice_.one_of(30), "days");
    if (one_in(3)) out.exact("floor", between(10, 100), "%");
    return out.object();
  }

  static constexpr double kBatteries_v[] = {12, 12, 12, 12.8, 6, 24, 3.2, 2};

  Dice dice_;
  bool rough_;
  double panel_w_ = 0;
  double battery_ah_ = 0;
  double mean_load_a_ = 0;
  bool has_water_ = false;
  int loads_ = 0;
  double battery_v_ = 12;
  int battery_series_ = 1;
};

/// Whether the loads that run by water get theirs within the day.
bool has_time_for_water(const Site& site) {
  try {
    for (std::size_t i = 0; i < site.loads.size(); ++i) {
      if (!std::holds_alternative<FromWater>(site.loads[i].schedule)) continue;
      (void)from_water_minutes_day(site, site.loads[i], "");
    }
    return true;
  } catch (const Error&) {
    return false;
  }
}

using Kinds = std::set<std::string>;

void note_loads(Kinds& kinds, const Site& site) {
  static constexpr std::array<const char*, 4> kSchedules = {"always", "per day", "runs",
                                                            "from water"};
  if (site.loads.empty()) kinds.insert("no loads");
  for (const Load& load : site.loads) {
    kinds.insert(kSchedules.at(load.schedule.index()));
    const auto* per_day = std::get_if<PerDay>(&load.schedule);
    if (per_day && per_day->when == When::day) kinds.insert("by day");
    if (per_day && per_day->when == When::night) kinds.insert("by night");
    if (load.every_days > 1) kinds.insert("not every day");
    if (!load.months.all()) kinds.insert("not all year");
    if (load.idle) kinds.insert("idle draw");
  }
}

void note_parts(Kinds& kinds, const Site& site) {
  const Panel& panel = site.panel;
  if (panel.power_w == 0) kinds.insert("no panel");
  if (!panel.vmp_v && !panel.voc_v) kinds.insert("label of power only");
  if (panel.vmp_v && !panel.voc_v) kinds.insert("label with vmp");
  if (!panel.vmp_v && panel.voc_v) kinds.insert("label with voc");
  if (panel.vmp_v && panel.voc_v && panel.imp_a && panel.isc_a) kinds.insert("whole label");
  if (panel.series > 1) kinds.insert("strings");
  if (!panel.shade.empty()) kinds.insert("shade");
  kinds.insert("regulator " + std::to_string(static_cast<int>(site.regulator.kind)));
  kinds.insert("battery " + std::to_string(static_cast<int>(site.battery.kind)));
  const auto& cutoff = site.regulator.cutoff;
  if (cutoff && cutoff->unit == Threshold::Unit::volts) kinds.insert("cutoff in volts");
  if (cutoff && cutoff->unit == Threshold::Unit::state_of_charge)
    kinds.insert("cutoff in per cent");
  if (panel.power_w > 0 && panel.power_w < 1) kinds.insert("below 1 W");
  if (panel.power_w > 1000) kinds.insert("above 1 kW");
}

void note_place(Kinds& kinds, const Site& site) {
  const Place& place = site.place;
  kinds.insert(place.latitude_deg < 0 ? "south" : "north");
  if (std::abs(place.latitude_deg) > 66.6) kinds.insert("polar");
  if (std::abs(place.latitude_deg) < 23.4) kinds.insert("tropics");
  if (std::abs(place.latitude_deg) == 90) kinds.insert("a pole");
  if (!place.climate.own_sun) kinds.insert("shipped sun");
  for (const double temp_c : place.air_temp_c) {
    if (temp_c < -20) kinds.insert("deep frost");
    if (temp_c > 30) kinds.insert("heat");
  }
  if (!site.rough.empty()) kinds.insert("rough");
  if (!site.wiring.empty()) kinds.insert("cables");
  if (site.water && site.water->tank) kinds.insert("tank");
}

/// The first seeds that have every kind of site between them, each kind twice.
std::vector<std::uint64_t> seeds_of_every_kind() {
  constexpr std::uint64_t kSearched = 1000;  // the rarest kind has 8 in 1,000
  std::vector<std::uint64_t> seeds;
  std::map<std::string, int> met;
  for (std::uint64_t seed = 0; seed < kSearched; ++seed) {
    const Kinds kinds = kinds_of(random_site_file(seed).site);
    if (std::none_of(kinds.begin(), kinds.end(),
                     [&](const std::string& kind) { return met[kind] < 2; })) {
      continue;
    }
    for (const std::string& kind : kinds) ++met[kind];
    seeds.push_back(seed);
  }
  return seeds;
}

}  // namespace

Kinds kinds_of(const Site& site) {
  Kinds kinds;
  note_place(kinds, site);
  note_parts(kinds, site);
  note_loads(kinds, site);
  return kinds;
}

RandomSite random_site_file(std::uint64_t seed) {
  // A line that cannot bring its demand within a day is refused, rightly: another throw.
  for (std::uint64_t again = 0;; ++again) {
    RandomSite made{Writer(seed + (again << 40)).file(), {}};
    io::ReadResult read = io::read_site(made.text, "site", {});
    if (!read.site) {
      throw std::logic_error(io::to_text(read.problems.front()) + "\n" + made.text);
    }
    if (!has_time_for_water(*read.site)) continue;
    made.site = std::move(*read.site);
    return made;
  }
}

std::vector<std::uint64_t> seeds_to_run(std::uint64_t all) {
  static const std::vector<std::uint64_t> kOfEveryKind = seeds_of_every_kind();
  std::vector<std::uint64_t> seeds = kOfEveryKind;
  const std::uint64_t wanted = site_count(all);
  for (std::uint64_t seed = 0; seed < all && seeds.size() < wanted; ++seed) {
    if (!std::binary_search(kOfEveryKind.begin(), kOfEveryKind.end(), seed)) seeds.push_back(seed);
  }
  return seeds;
}

std::uint64_t site_count(std::uint64_t all) {
  constexpr int kUsualShare_pct = 10;
  const char* const asked_pct = std::getenv("AMPTALLY_SITES_PCT");
  const int pct = asked_pct ? std::clamp(std::atoi(asked_pct), 1, 100) : kUsualShare_pct;
  return std::max<std::uint64_t>(1, all * static_cast<std::uint64_t>(pct) / 100);
}

}  // namespace amptally::testing
