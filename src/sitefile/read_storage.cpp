#include <fmt/format.h>

#include "amptally/battery.hpp"

#include "sitefile/section_readers.hpp"

namespace amptally::io {

namespace {

/// What a small regulator takes for itself. Common practice, no source.
constexpr double kUsualStandby_a = 0.010;

void check_switching(ObjectReader& in, const Regulator& regulator) {
  if (regulator.kind == RegulatorKind::none) {
    for (const std::string_view name : {"cutoff", "reconnect"}) {
      if (in.has(name)) in.problem(name, "there is no regulator (kind none) to switch the loads");
    }
    return;
  }
  if (in.has("reconnect") && !in.has("cutoff")) {
    in.problem("reconnect", "is given without cutoff");
  }
  if (!regulator.cutoff || !regulator.reconnect) return;
  const bool comparable = regulator.cutoff->unit == regulator.reconnect->unit;
  if (comparable && !(regulator.reconnect->value > regulator.cutoff->value)) {
    const bool volts = regulator.cutoff->unit == Threshold::Unit::volts;
    const double scale = volts ? 1 : 100;
    in.problem("reconnect", fmt::format("{0:g} {2} is not above cutoff, {1:g} {2}",
                                        scale * regulator.reconnect->value,
                                        scale * regulator.cutoff->value, volts ? "V" : "%"));
  }
}

void assume_standby(Reading& reading, Regulator& regulator) {
  regulator.standby = {kUsualStandby_a, Draw::Unit::amperes};
  reading.assume(AssumptionKind::regulator,
                 fmt::format("Regulator standby not given: {:g} mA taken, day and night.",
                             1000 * kUsualStandby_a));
}

}  // namespace

void read_regulator(Reading& reading, ObjectReader& root) {
  Regulator& regulator = reading.site.regulator;
  if (!root.has("regulator")) {
    reading.assume(
        AssumptionKind::regulator,
        "No regulator described: a pwm regulator taken, which never cuts the loads off.");
    assume_standby(reading, regulator);
    return;
  }
  std::optional<ObjectReader> in = root.object("regulator");
  if (in) read_regulator_label(reading, *in, regulator);
}

void read_regulator_label(Reading& reading, ObjectReader& in, Regulator& regulator) {
  regulator.kind = in.choice<RegulatorKind>("kind").value_or(regulator.kind);
  if (!in.has("kind"))
    reading.assume(AssumptionKind::regulator, "Regulator kind not given: pwm taken.");
  const std::optional<Draw> standby = in.draw("standby");
  if (standby) {
    regulator.standby = *standby;
  } else if (regulator.kind != RegulatorKind::none) {
    assume_standby(reading, regulator);
  }
  regulator.efficiency_share = in.value_or("efficiency", regulator.efficiency_share);
  regulator.max_current_a = in.value("max_current");
  regulator.max_panel_voltage_v = in.value("max_panel_voltage");
  regulator.cutoff = in.threshold("cutoff");
  regulator.reconnect = in.threshold("reconnect");
  regulator.absorption_v = in.value("absorption");
  check_switching(in, regulator);
}

void read_battery_label(Reading& reading, ObjectReader& in, Battery& battery) {
  battery.kind = in.choice<BatteryKind>("kind").value_or(battery.kind);
  battery.voltage_v = in.value_or("voltage", battery.voltage_v);
  // The 0 is never used: a required field that is missing is told of, and no site comes of a
  // reading with problems.
  battery.capacity_ah = in.value_or("capacity", 0);
  battery.rated_hours = in.value_or("rated_hours", battery.rated_hours);
  battery.max_charge_current_a = in.value("max_charge_current");
  battery.peukert = in.value("peukert");
  battery.self_discharge_pct_month = in.value("self_discharge");
  battery.cycles = in.cycle_points("cycles");
  battery.shelf_life_years = in.value("shelf_life");
  if (!in.has("voltage"))
    reading.assume(AssumptionKind::battery, "Battery voltage not given: 12 V taken.");
}

void read_battery(Reading& reading, ObjectReader& root) {
  std::optional<ObjectReader> in = root.object("battery");
  if (!in) return;
  Battery& battery = reading.site.battery;
  read_battery_label(reading, *in, battery);
  battery.parallel = in->integer_or("parallel", battery.parallel);
  battery.series = in->integer_or("series", battery.series);
  battery.floor_share = in->value_or("floor", battery_type(battery.kind).floor_share);
  battery.health_share = in->value_or("health", battery.health_share);
  battery.start_share = in->value("start");
  battery.price = in->value("price");
  if (!in->has("floor") && in->has("kind")) {
    reading.assume(AssumptionKind::battery,
                   fmt::format("Deepest discharge not given: {:g} % taken, usual for {}.",
                               100 * battery.floor_share, battery_type(battery.kind).label));
  }
}

void read_aim(Reading& reading, ObjectReader& root) {
  std::optional<ObjectReader> in = root.object("aim");
  if (!in) return;
  Aim& aim = reading.site.aim;
  aim.autonomy_days = in->value_or("autonomy", aim.autonomy_days);
  aim.shortfall_days = in->value("shortfall_days");
  aim.floor_share = in->value("floor");
}

}  // namespace amptally::io
