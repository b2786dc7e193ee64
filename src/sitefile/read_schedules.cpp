#include "sitefile/read_schedules.hpp"

#include <algorithm>
#include <numeric>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "text/message_text.hpp"

namespace amptally::io {

namespace {

template <class Items>
std::string names_of(const Items& items) {
  std::string out;
  for (const auto& item : items) out += (out.empty() ? "" : ", ") + item.name;
  return out;
}

std::vector<std::string_view> schedule_names() {
  std::vector<std::string_view> names;
  for (const ScheduleField& field : schedule_fields()) names.push_back(field.name);
  return names;
}

Schedule read_always(Reading&, ObjectReader& in) {
  if (!in.boolean("always") && in.member("always")->kind == Node::Kind::boolean) {
    std::vector<std::string_view> others = schedule_names();
    std::erase(others, "always");
    in.problem("always",
               fmt::format("false says nothing (write true, or give {})", any_of(others)));
  }
  return AlwaysOn{};
}

Schedule read_per_day(Reading&, ObjectReader& in) {
  return PerDay{in.value_or("per_day", 0), in.choice<When>("when").value_or(When::any)};
}

Schedule read_runs(Reading&, ObjectReader& in) {
  Runs runs;
  for (ObjectReader& run : in.list("runs")) {
    const double at_min = run.minutes_of_day("at");
    runs.runs.push_back({at_min, run.value_or("for", 0)});
  }
  if (in.member("runs")->kind == Node::Kind::list && runs.runs.empty()) {
    in.problem("runs", "no runs in the list (write {\"at\": \"06:30\", \"for\": \"10 min\"})");
  }
  const double total_min =
      std::accumulate(runs.runs.begin(), runs.runs.end(), 0.0,
                      [](double sum, const Run& run) { return sum + run.for_minutes; });
  if (total_min > kMinutesPerDay) {
    in.problem("runs",
               fmt::format("add up to {:.4g} h a day, more than 24", total_min / kMinutesPerHour));
  }
  return runs;
}

Schedule read_from_water(Reading& reading, ObjectReader& in) {
  std::string line = in.text("from_water");
  static const std::vector<WaterLine> none;
  // Water is read before the loads: the order of the parts in site_sections.cpp.
  const auto& lines = reading.site.water ? reading.site.water->lines : none;
  const auto known =
      std::find_if(lines.begin(), lines.end(), [&](const WaterLine& l) { return l.name == line; });
  if (known != lines.end()) {
    if (!known->tube && !known->outlets) {
      in.problem("from_water",
                 fmt::format("line {} has neither tube nor outlets, which set its minutes (give "
                             "tube, its length and bore)",
                             in_quotes(line)));
    }
  } else if (!line.empty()) {
    in.problem("from_water",
               fmt::format("no water line is called {} ({})", in_quotes(line),
                           lines.empty() ? "there are none" : "there are: " + names_of(lines)));
  }
  return FromWater{std::move(line)};
}

constexpr ScheduleField kFields[] = {
    {.name = "always", .read = read_always},
    {.name = "per_day", .read = read_per_day, .choice = "when"},
    {.name = "runs", .read = read_runs},
    {.name = "from_water", .read = read_from_water},
};

}  // namespace

std::span<const ScheduleField> schedule_fields() { return kFields; }

Schedule read_schedule(Reading& reading, ObjectReader& in) {
  std::vector<std::string_view> given;
  bool is_misspelled = false;
  for (const ScheduleField& field : kFields) {
    if (in.has(field.name)) given.push_back(field.name);
    is_misspelled = is_misspelled || in.is_misspelled(field.name);
  }
  std::vector<std::string_view> names = schedule_names();
  const std::string_view last = names.back();
  names.pop_back();
  const std::string one_of =
      fmt::format("one of {} and {} is needed", fmt::join(names, ", "), last);
  if (given.empty() && !is_misspelled) {
    in.problem("", fmt::format("does not say when it runs ({})", one_of));
  }
  if (given.size() > 1) {
    in.problem(given[1], fmt::format("given beside {} ({})", given[0], one_of));
  }

  Schedule schedule;
  for (const ScheduleField& field : kFields) {
    if (in.has(field.name)) {
      schedule = field.read(reading, in);
    } else if (!field.choice.empty() && in.has(field.choice)) {
      in.problem(field.choice, fmt::format("goes with {} only", field.name));
      (void)in.choice_word(field.choice);  // a wrong word is told all the same
    }
  }
  return schedule;
}

}  // namespace amptally::io
