#pragma once

#include "amptally/rough_sun.hpp"
#include "amptally/rough_water.hpp"
#include "amptally/rough_wiring.hpp"
#include "amptally/site.hpp"

#include "report/document.hpp"

/// What rough numbers leave open of sun, water and cables.
namespace amptally::report {

/// Adds in how many cases water is enough, and what eight cases of ten come to; nothing where
/// `study` is null.
void append_rough_water(Document& document, const Site& site, const RoughWater* study);

/// What eight cases of ten come to.
void append_rough_sun(Document& document, const Site& site, const RoughSun* study);

/// As of water.
void append_rough_wiring(Document& document, const Site& site, const RoughWiring* study);

}  // namespace amptally::report
