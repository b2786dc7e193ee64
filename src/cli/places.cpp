#include "report/places.hpp"

#include <fmt/format.h>

#include "amptally/sun.hpp"

#include "cli/commands.hpp"
#include "sitefile/hint.hpp"

namespace amptally::cli {
namespace {

// Chosen: enough to see past the nearest coast or ridge, few enough for a screen.
constexpr std::size_t kNearest = 10;

report::ListedPlace listed(const ClimateRow& row, std::optional<double> distance_km = {}) {
  return {row, year_mean(row.sun_horizontal_kwh_m2_day), distance_km};
}

std::vector<report::ListedPlace> near(double latitude_deg, double longitude_deg) {
  std::vector<report::ListedPlace> places;
  for (const ClimateMatch& match : places_near(latitude_deg, longitude_deg, kNearest)) {
    places.push_back(listed(match.row, match.distance_km));
  }
  return places;
}

std::vector<report::ListedPlace> matching(const std::string& words) {
  std::vector<report::ListedPlace> places;
  for (const ClimateRow& row : search_places(words)) places.push_back(listed(row));
  if (!places.empty()) return places;
  throw UsageError(fmt::format(
      "no shipped place matches \"{}\"{}; amptally places --near LAT,LON lists the nearest", words,
      io::hint(near_miss_place(words))));
}

}  // namespace

CommandResult run_command(const PlacesOptions& options, const CommandContext& context) {
  if (options.near && !options.words.empty()) {
    throw UsageError("places: give words or --near, not both");
  }
  const auto places =
      options.near ? near(options.near->first, options.near->second) : matching(options.words);
  return {.text = places_report(places, style_of(options.output, context.terminal)),
          .file = options.output.file};
}

}  // namespace amptally::cli
