#pragma once

#include <algorithm>
#include <string>
#include <string_view>

#include "site/problem_list.hpp"
#include "sitefile/object_reader.hpp"
#include "text/message_text.hpp"

namespace amptally::io {

// Each reads one object of the root into `reading.site`, and notes what is wrong with it. In this
// order: a later part may look at what an earlier one found.

void read_place(Reading& reading, ObjectReader& root);
void read_panel(Reading& reading, ObjectReader& root);
void read_regulator(Reading& reading, ObjectReader& root);
void read_battery(Reading& reading, ObjectReader& root);
void read_water(Reading& reading, ObjectReader& root);
void read_loads(Reading& reading, ObjectReader& root);
void read_wiring(Reading& reading, ObjectReader& root);
void read_aim(Reading& reading, ObjectReader& root);

// What a part's label says, wherever the part is described.

void read_panel_label(Reading& reading, ObjectReader& in, Panel& panel);
void read_regulator_label(Reading& reading, ObjectReader& in, Regulator& regulator);
void read_battery_label(Reading& reading, ObjectReader& in, Battery& battery);

/// Notes what `check` finds wrong with `part`, each problem at its field of `in`.
template <class Part>
void note_wrong(ObjectReader& in, const Part& part, void (*check)(const Part&, ProblemList&)) {
  ProblemList found;
  check(part, found);
  for (const SiteProblem& problem : found.take()) {
    in.problem(problem.field.substr(problem.field.rfind('.') + 1), problem.message);
  }
}

/// Notes a name that one of `taken` already has.
/// @param what  one of them is called
template <class Items>
void require_new_name(ObjectReader& in, const std::string& name, const Items& taken,
                      const std::string& what) {
  const bool again =
      std::any_of(taken.begin(), taken.end(), [&](const auto& item) { return item.name == name; });
  if (!name.empty() && again) {
    in.problem("name", in_quotes(name) + " is the name of an earlier " + what + " too");
  }
}

}  // namespace amptally::io
