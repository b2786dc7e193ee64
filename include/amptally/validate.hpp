#pragma once

#include <string>
#include <vector>

#include "amptally/site.hpp"

/// What is wrong with a site that was put together by hand. `validate` with a choice of weather is
/// in balance.hpp.
///
/// Every function of the library that takes a whole site or a place and works through a year of it
/// begins with `require_valid`: simulate, prepare, simulate_prepared, load_profile, site_sky,
/// mean_days, year_geometry, compare_tilts, Study, size_site, fit_loads, study_levers, study_rough,
/// choose_parts, study_water, check_wiring, site_findings, water_findings. Formulas of a few lines
/// (battery, panel, regulator, hydraulics) trust their caller.
namespace amptally::inline v0_1 {

/// One thing wrong with a site.
struct SiteProblem {
  std::string field;    ///< dotted path as in the site file, e.g. `loads[0].draw`
  std::string message;  ///< what was given and what is allowed, without the field's name

  bool operator==(const SiteProblem&) const = default;
};

/// Everything that is wrong with a site, in the order of its fields; empty where nothing is.
///
/// The limits are those of the site file (docs/site-file.md), but sizes and numbers of panels and
/// batteries may be far larger, since `size_site` may come to such, and monthly temperatures
/// may be those of any weather file. Beside them: names that are looked up are there and are given
/// once, lists of months have twelve values, panels make whole strings, runs fit into a day, curves
/// rise. Whether a crop is in the list, and whether the sun is more than reaches the top of the
/// air, is found out where it is first looked at.
[[nodiscard]] std::vector<SiteProblem> validate(const Site& site);

/// The same of a place.
[[nodiscard]] std::vector<SiteProblem> validate(const Place& place);

/// @throws InputError with the first problem and how many more there are
void require_valid(const Site& site);
void require_valid(const Place& place);

/// @throws InputError likewise, unless `problems` is empty
void require_none(const std::vector<SiteProblem>& problems);

}  // namespace amptally::inline v0_1
