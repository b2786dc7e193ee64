#include <algorithm>

#include <fmt/format.h>

#include "sitefile/hint.hpp"
#include "sitefile/read_schedules.hpp"
#include "sitefile/section_readers.hpp"
#include "text/closest_word.hpp"
#include "text/message_text.hpp"

namespace amptally::io {

namespace {

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
  load.schedule = read_schedule(reading, in);
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
