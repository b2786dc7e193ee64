#pragma once

#include <optional>
#include <span>
#include <string>
#include <variant>
#include <vector>

#include "amptally/site.hpp"

#include "site/fields.hpp"

/// Where a site has its numbers, in the few words that the table of fields is written in. What the
/// site does not have is nowhere.
namespace amptally::access {

inline NumberAt number(double& value) { return {.real = &value}; }
inline NumberAt number(int& value) { return {.whole = &value}; }
inline NumberAt number(Draw& draw) {
  const bool watts = draw.unit == Draw::Unit::watts;
  return {.real = &draw.value, .said_in = watts ? Dimension::power : Dimension::current};
}
inline NumberAt number(Threshold& threshold) {
  const bool volts = threshold.unit == Threshold::Unit::volts;
  return {.real = &threshold.value, .said_in = volts ? Dimension::voltage : Dimension::share};
}
template <class T>
NumberAt number(std::optional<T>& given) {
  return given ? number(*given) : NumberAt{};
}

template <class T>
T* item(std::vector<T>& list, std::size_t i) {
  return i < list.size() ? &list[i] : nullptr;
}

template <class T, class Member>
NumberAt of(T* object, Member T::*member) {
  return object != nullptr ? number(object->*member) : NumberAt{};
}

template <class T, class Part>
Part* part(T* object, std::optional<Part> T::*member) {
  return object != nullptr && object->*member ? &*(object->*member) : nullptr;
}

inline NumberAt month(Monthly& values, std::size_t i) {
  return i < values.size() ? number(values[i]) : NumberAt{};
}

inline NumberAt per_day(Load* load) {
  return load != nullptr ? of(std::get_if<PerDay>(&load->schedule), &PerDay::minutes) : NumberAt{};
}

inline NumberAt run_length(Load* load, std::size_t i) {
  Runs* const runs = load != nullptr ? std::get_if<Runs>(&load->schedule) : nullptr;
  return runs != nullptr ? of(item(runs->runs, i), &Run::for_minutes) : NumberAt{};
}

inline Tank* tank(Site& site) { return site.water ? part(&*site.water, &Water::tank) : nullptr; }

inline NumberAt refill(Tank* tank, std::size_t i) {
  double* const litres = tank != nullptr ? item(tank->refill_l_month, i) : nullptr;
  return litres != nullptr ? number(*litres) : NumberAt{};
}

inline WaterLine* line(Site& site, std::size_t i) {
  return site.water ? item(site.water->lines, i) : nullptr;
}

template <class Kind>
Kind* demand(WaterLine* line) {
  return line != nullptr && line->demand ? std::get_if<Kind>(&*line->demand) : nullptr;
}

// ---- What is in a list ---------------------------------------------------------------------

inline std::span<const Run> runs_of(const Site& site, std::size_t load) {
  const bool is_there = load < site.loads.size();
  const Runs* const runs = is_there ? std::get_if<Runs>(&site.loads[load].schedule) : nullptr;
  return runs != nullptr ? std::span<const Run>(runs->runs) : std::span<const Run>();
}

inline std::span<const WaterLine> lines_of(const Site& site) {
  return site.water ? std::span<const WaterLine>(site.water->lines) : std::span<const WaterLine>();
}

template <class Items>
std::string name_in(const Items& items, std::size_t i) {
  return i < items.size() ? items[i].name : std::string();
}

}  // namespace amptally::access
