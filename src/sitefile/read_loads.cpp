#include <algorithm>
#include <numeric>

#include <fmt/format.h>

#include "sitefile/hint.hpp"
#include "sitefile/section_readers.hpp"
#include "text/closest_word.hpp"
#include "text/message_text.hpp"

namespace amptally::io {

namespace {

template <class Items>
std::string names_of(const Items& items) {
  std::string out;
  for (const auto& item : items) out += (out.empty() ? "" : ", ") + item.name;
  return out;
}

Runs read_runs(ObjectReader& in) {
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

std::string read_water_line(Reading& reading, ObjectReader& in) {
  std::string line = in.text("from_water");
  static const std::vector<WaterLine> none;
  const auto& lines = reading.site.water ? reading.site.water->lines : none;
  const bool known =
      std::any_of(lines.begin(), lines.end(), [&](const WaterLine& l) { return l.name == line; });
  if (!line.empty() && !known) {
    in.problem("from_water",
               fmt::format("no water line is called {} ({})", in_quotes(line),
                           lines.empty() ? "there are none" : "there are: " + names_of(lines)));
  }
  return line;
}

/// Exactly one of the four ways to say when a load runs.
void read_schedule(Reading& reading, ObjectReader& in, Load& load) {
  std::vector<std::string_view> given;
  bool is_misspelled = false;
  for (const std::string_view name : {"always", "per_day", "runs", "from_water"}) {
    if (in.has(name)) given.push_back(name);
    is_misspelled = is_misspelled || in.is_misspelled(name);
  }
  constexpr std::string_view kOneOf = "one of always, per_day, runs and from_water is needed";
  if (given.empty() && !is_misspelled)
    in.problem("", fmt::format("does not say when it runs ({})", kOneOf));
  if (given.size() > 1) {
    in.problem(given[1], fmt::format("given beside {} ({})", given[0], kOneOf));
  }
  if (in.has("when") && !in.has("per_day")) in.problem("when", "goes with per_day only");
  const auto when = in.choice<When>("when").value_or(When::any);
  if (in.has("always")) {
    const Node& always = *in.member("always");
    if (!in.boolean("always") && always.kind == Node::Kind::boolean) {
      in.problem("always", "false says nothing (write true, or give per_day, runs or from_water)");
    }
    load.schedule = AlwaysOn{};
  }
  if (in.has("per_day")) load.schedule = PerDay{in.value_or("per_day", 0), when};
  if (in.has("runs")) load.schedule = read_runs(in);
  if (in.has("from_water")) load.schedule = FromWater{read_water_line(reading, in)};
}

Load read_load(Reading& reading, ObjectReader& in) {
  Load load;
  load.name = in.text("name");
  require_new_name(in, load.name, reading.site.loads, "load");
  if (load.name == "panel" || load.name == "battery") {
    in.problem("name",
               fmt::format("{} is kept for cables (choose another name)", in_quotes(load.name)));
  }
  load.draw = in.draw("draw").value_or(Draw{});
  load.count = in.integer_or("count", load.count);
  read_schedule(reading, in, load);
  load.months = in.months("months");
  load.every_days = in.integer_or("every", load.every_days);
  load.start_factor = in.value_or("start_factor", load.start_factor);
  load.idle = in.draw("idle");
  return load;
}

void require_known_end(Reading& reading, ObjectReader& in, const std::string& feeds) {
  const auto& loads = reading.site.loads;
  const bool known =
      feeds == "panel" || feeds == "battery" ||
      std::any_of(loads.begin(), loads.end(), [&](const Load& load) { return load.name == feeds; });
  if (feeds.empty() || known) return;
  std::vector<std::string_view> names = {"panel", "battery"};
  for (const Load& load : loads) names.push_back(load.name);
  in.problem("feeds", fmt::format("{} is neither a load nor panel nor battery{}", in_quotes(feeds),
                                  hint(near_miss(feeds, names),
                                       fmt::format("there are {}", fmt::join(names, ", ")))));
}

}  // namespace

void read_loads(Reading& reading, ObjectReader& root) {
  for (ObjectReader& in : root.list("loads")) {
    reading.site.loads.push_back(read_load(reading, in));
  }
}

void read_wiring(Reading& reading, ObjectReader& root) {
  for (ObjectReader& in : root.list("wiring")) {
    Cable cable;
    cable.feeds = in.text("feeds");
    require_known_end(reading, in, cable.feeds);
    cable.name = in.has("name") ? in.text("name") : cable.feeds;
    require_new_name(in, cable.name, reading.site.wiring, "cable");
    cable.length_m = in.value_or("length", 0);
    cable.section_mm2 = in.value("section");
    cable.max_drop_share = in.value_or("max_drop", cable.max_drop_share);
    reading.site.wiring.push_back(std::move(cable));
  }
}

}  // namespace amptally::io
