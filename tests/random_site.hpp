#pragma once

#include <cstdint>
#include <string>

#include "amptally/site.hpp"

namespace amptally::testing {

/// A site of chance, as a file and as read from it.
struct RandomSite {
  std::string text;  ///< a site file: what a failing test shows, to be run by hand
  Site site;         ///< what the reader makes of it
};

/// Any site that the reader lets pass and whose year can be walked, the same on every machine.
///
/// Every latitude, both hemispheres' climates, labels of every form, regulators, chemistries, loads
/// of each kind, shade, water, cables, rough numbers; panels of 0.1 W to 10 kW with batteries and
/// loads from hopeless to far too large for them. One site in four has numbers given as ranges.
[[nodiscard]] RandomSite random_site_file(std::uint64_t seed);

/// How many of `all` sites of chance a test walks: all, or the share that the environment variable
/// AMPTALLY_SITES_PCT asks for (1..100) where time is short, as under a sanitizer.
[[nodiscard]] std::uint64_t site_count(std::uint64_t all);

}  // namespace amptally::testing
