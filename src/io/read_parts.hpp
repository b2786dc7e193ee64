#pragma once

#include "io/object_reader.hpp"

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

}  // namespace amptally::io
