#include "sitefile/site_sections.hpp"

#include <algorithm>

#include "sitefile/section_readers.hpp"
#include "text/message_text.hpp"

namespace amptally::io {
namespace {

void read_label(Reading& reading, ObjectReader& root) {
  (void)root.choice_word("format");
  reading.site.name = root.text("name");
}

constexpr SitePart kParts[] = {
    {"name", read_label, [](Site& site) { site.name.clear(); }},
    {"place", read_place, [](Site& site) { site.place = {}; }},
    {"panel", read_panel, [](Site& site) { site.panel = {}; }, "place"},
    {"regulator", read_regulator, [](Site& site) { site.regulator = {}; }},
    {"battery", read_battery, [](Site& site) { site.battery = {}; }},
    {"water", read_water, [](Site& site) { site.water.reset(); }},
    {"loads", read_loads, [](Site& site) { site.loads.clear(); }, "water"},
    {"wiring", read_wiring, [](Site& site) { site.wiring.clear(); }, "loads"},
    {"aim", read_aim, [](Site& site) { site.aim = {}; }},
};

}  // namespace

std::span<const SitePart> site_parts() { return kParts; }

const SitePart& part_of(std::string_view path) {
  const std::optional<PathStep> step = PathCursor(path).next();
  const std::string_view first = step ? step->text : std::string_view{};
  const auto* const part = std::find_if(std::begin(kParts), std::end(kParts),
                                        [&](const SitePart& p) { return p.name == first; });
  return part == std::end(kParts) ? kParts[0] : *part;
}

void name_by_place(Site& site) {
  if (site.name.empty()) site.name = site.place.name;
}

void note_setting(Reading& reading, int index, const InputError& error) {
  Node at;
  at.setting = index;
  reading.problem(at, {}, on_one_line(error.field()), error.message());
}

}  // namespace amptally::io
