#include "report/places.hpp"

#include <cmath>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "amptally/sun.hpp"

#include "cli/command.hpp"
#include "cli/option_values.hpp"
#include "cli/options.hpp"
#include "cli/output_style.hpp"
#include "sitefile/hint.hpp"

namespace amptally::cli {
namespace {

struct PlacesOptions {
  std::vector<std::string> words;
  std::optional<std::pair<double, double>> near;  ///< latitude, longitude, deg
  OutputOptions output;
};

/// Degrees in a part of LAT,LON.
double degrees_of(std::string_view text, double limit_deg, const char* name) {
  const std::optional<double> value_deg = number_in(text);
  if (value_deg && std::abs(*value_deg) <= limit_deg) return *value_deg;
  throw UsageError(fmt::format("--near: {} \"{}\" is not a number in -{}..{} deg", name, text,
                               limit_deg, limit_deg));
}

std::pair<double, double> point_of(std::string_view text) {
  const std::size_t comma = text.find(',');
  if (comma == std::string_view::npos || text.find(',', comma + 1) != std::string_view::npos) {
    const bool is_a_name = text.find_first_of("0123456789") == text.npos;
    throw UsageError(fmt::format(
        "--near: \"{}\" is not LAT,LON in degrees with decimal points, e.g. 43.36,-5.85{}", text,
        is_a_name ? "; a place by its name is amptally places NAME" : ""));
  }
  return {degrees_of(text.substr(0, comma), 90, "latitude"),
          degrees_of(text.substr(comma + 1), 180, "longitude")};
}

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
      io::hint(likely_place(words))));
}

CommandResult run_places(const PlacesOptions& options, const CommandContext& context) {
  const std::string words = fmt::format("{}", fmt::join(options.words, " "));
  if (options.near && !words.empty()) {
    throw UsageError("places: give words or --near, not both");
  }
  const auto places =
      options.near ? near(options.near->first, options.near->second) : matching(words);
  return {.text = places_report(places, style_of(options.output, context.terminal)),
          .file = options.output.file};
}

}  // namespace

Command places_command() {
  Command command{.name = "places",
                  .help = "Which places have monthly tables?",
                  .examples =
                      "  amptally places port\n"
                      "  amptally places --near 43.4,-5.8"};
  PlacesOptions& options = command.runs(run_places);
  command.words.push_back({.names = {"WORD"},
                           .value = "WORD",
                           .help = "part of a name, or a country in two letters",
                           .is_repeatable = true,
                           .take = any_texts(options.words)});
  command.options.push_back(
      {.names = {"--near"},
       .value = "LAT,LON",
       .help = "the ten places nearest to a point, in degrees",
       .take = [&options](const std::string& text) { options.near = point_of(text); }});
  add_format(command, options.output);
  return command;
}

}  // namespace amptally::cli
