#pragma once

#include <iosfwd>
#include <string>

#include "amptally/balance.hpp"

#include "cli/options.hpp"

namespace amptally::cli {

/// The weather asked for, its file read; the mean year where none was asked for.
/// @throws DataError if the file cannot be read or used
[[nodiscard]] WeatherChoice weather_choice(const WeatherOptions& options, std::istream& in);

/// The synthetic years that are run beside the mean year where no weather was asked for.
[[nodiscard]] WeatherChoice synthetic_years(const WeatherOptions& options);

/// The weather asked for; synthetic years where none was asked for, as studies take it.
/// @throws as `weather_choice`
[[nodiscard]] WeatherChoice study_weather(const WeatherOptions& options, std::istream& in);

/// The same on every processor, for runs that do not wait for one another.
/// @throws as `weather_choice`
[[nodiscard]] WeatherChoice wide_study_weather(const WeatherOptions& options, std::istream& in);

/// The site where the series was recorded, and in its assumptions what that changes.
[[nodiscard]] Site site_under(const WeatherSeries& series, Site site);

/// The file that the years are those of; empty for other weather.
[[nodiscard]] std::string weather_file(const WeatherChoice& weather);

}  // namespace amptally::cli
