#include "cli/weather_input.hpp"

#include <algorithm>
#include <memory>
#include <string_view>
#include <thread>
#include <utility>

#include <fmt/format.h>

#include "amptally/climate.hpp"
#include "amptally/error.hpp"

#include "sitefile/file_text.hpp"
#include "sitefile/hint.hpp"
#include "sitefile/weather_file.hpp"
#include "text/closest_word.hpp"

namespace amptally::cli {
namespace {

// Chosen: beyond this a station's dull spells need not be the site's; common practice, no source.
constexpr double kFarStation_km = 50;

// Chosen: the years are walked one after the other, so that more threads would mostly wait.
constexpr unsigned kMostThreads = 4;

int threads() {
  return static_cast<int>(std::clamp(std::thread::hardware_concurrency(), 1U, kMostThreads));
}

std::string weather_text(const std::string& file, std::istream& in) {
  try {
    return io::read_file(file, in, io::kMaxWeatherFileBytes);
  } catch (const DataError& error) {
    static constexpr std::string_view kWords[] = {"mean", "synthetic"};
    const std::string_view near = near_miss(file, kWords);
    if (near.empty()) throw;
    throw UsageError(fmt::format("--weather: {}{}", error.what(), io::hint(near)));
  }
}

std::string distance_text(const WeatherSeries& series, double away_km) {
  if (away_km <= kFarStation_km) {
    return fmt::format(
        "The weather is that of {}, {:.0f} km from the site; the sun is reckoned for "
        "its position.",
        series.name, away_km);
  }
  return fmt::format(
      "The weather is that of {}, {:.0f} km from the site: its dull spells need not "
      "be the site's. The sun is reckoned for its position.",
      series.name, away_km);
}

// Says of the shipped table what still holds, in the place where the reader said it.
void keep_shipped(Site& site, const ShippedFigures& figures) {
  const auto said =
      std::find_if(site.assumptions.begin(), site.assumptions.end(),
                   [](const Assumption& a) { return a.kind == AssumptionKind::shipped_climate; });
  if (said == site.assumptions.end()) return;
  if (!figures.temperature) {  // nor the height that it stood for
    const auto is_shipped = [](const Assumption& a) {
      return a.kind == AssumptionKind::shipped_climate;
    };
    site.assumptions.erase(std::remove_if(said + 1, site.assumptions.end(), is_shipped),
                           site.assumptions.end());
  }
  if (const auto left = shipped_climate(site.place.climate, figures)) {
    *said = *left;
  } else {
    site.assumptions.erase(said);
  }
}

}  // namespace

WeatherChoice synthetic_years(const WeatherOptions& options) {
  WeatherChoice choice{.mode = WeatherMode::synthetic, .threads = threads()};
  choice.years = options.years.value_or(choice.years);
  choice.seed = options.seed.value_or(choice.seed);
  return choice;
}

WeatherChoice weather_choice(const WeatherOptions& options, std::istream& in) {
  if (options.mode == WeatherMode::synthetic) return synthetic_years(options);
  if (options.mode != WeatherMode::file) return {};
  const std::string text = weather_text(options.file, in);
  return {.mode = WeatherMode::file,
          .series = std::make_shared<const WeatherSeries>(
              io::read_weather(io::shown_name(options.file), text)),
          .threads = threads()};
}

WeatherChoice study_weather(const WeatherOptions& options, std::istream& in) {
  return options.mode ? weather_choice(options, in) : synthetic_years(options);
}

WeatherChoice wide_study_weather(const WeatherOptions& options, std::istream& in) {
  WeatherChoice choice = study_weather(options, in);
  choice.threads = static_cast<int>(std::max(std::thread::hardware_concurrency(), 1U));
  return choice;
}

Site site_under(const WeatherSeries& series, Site site) {
  const Place own = site.place;
  site.place = place_of(series, own);
  const bool has_air = !series.air_temp_c.empty();
  keep_shipped(site, {.sun = false,
                      .temperature = !has_air && !own.climate.own_temperature,
                      .rain = !own.climate.own_rain});
  const auto say = [&](std::string text) {
    site.assumptions.push_back({AssumptionKind::weather_file, std::move(text)});
  };
  say(fmt::format("The sun{} of {} {} instead of monthly figures.",
                  has_air ? " and the temperatures" : "", series.name,
                  has_air ? "are taken" : "is taken"));
  if (!series.has_position) {
    say(
        fmt::format("{} does not say where it was recorded: taken to be at the site, by "
                    "the site's clock.",
                    series.name));
    return site;
  }
  const double away_km =
      distance_km(own.latitude_deg, own.longitude_deg, series.latitude_deg, series.longitude_deg);
  site.place.climate.distance_km = away_km;
  if (away_km >= 1) say(distance_text(series, away_km));
  if (series.utc_offset_h != own.utc_offset_h) {
    say(
        fmt::format("Clock times are by the weather file's clock, UTC {:+g} h, not the "
                    "site's, UTC {:+g} h.",
                    series.utc_offset_h, own.utc_offset_h));
  }
  return site;
}

std::string weather_file(const WeatherChoice& weather) {
  return weather.series ? weather.series->path : "";
}

}  // namespace amptally::cli
