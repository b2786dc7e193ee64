#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "amptally/balance.hpp"

#include "cli/command.hpp"
#include "report/output_style.hpp"

/// Options that many commands share: as plain structs, and how a command comes by them.
namespace amptally::cli {

enum class ColourChoice { automatic, always, never };

/// Which site to read, and what to change in it.
struct SiteOptions {
  std::string file;                   ///< "-": standard input; empty: none given
  bool demo = false;                  ///< the built-in example instead of a file
  std::vector<std::string> settings;  ///< PATH=VALUE, in the order given
};

struct OutputOptions {
  std::string file;  ///< empty or "-": standard output
  report::Format format = report::Format::table;
  bool quiet = false;
  ColourChoice colour = ColourChoice::automatic;
  bool chart = true;  ///< where it can be shown

  [[nodiscard]] bool goes_to_file() const { return !file.empty() && file != "-"; }
};

/// In which weather to run.
struct WeatherOptions {
  std::optional<WeatherMode> mode;  ///< unset: the mean year, and synthetic years beside it
  std::string file;                 ///< for WeatherMode::file; "-": standard input
  std::optional<int> years;         ///< of synthetic weather
  std::optional<std::uint64_t> seed;
};

/// What the commands share that run a site many times.
struct StudyOptions {
  SiteOptions site;
  WeatherOptions weather;
  OutputOptions output;
  bool exact_climate = false;  ///< rough numbers without the shipped sun's own error
};

/// An option without a value.
void add_flag(Command& command, const char* name, const char* help, bool& is_set);
void add_site(Command& command, SiteOptions& site);
void add_output_file(Command& command, std::string& file);
/// The form of the result, and the file.
void add_format(Command& command, OutputOptions& output,
                const char* help = "form of the result (table)");
void add_style(Command& command, OutputOptions& output, const char* quiet_help);
/// @param usual  what is run where none is asked for
void add_weather(Command& command, WeatherOptions& weather, const char* usual);
void add_exact_climate(Command& command, bool& exact_climate);
/// All but the site, behind options of the command's own.
void add_study(Command& command, StudyOptions& study, const char* quiet_help);

/// Only synthetic weather has a number of years to choose, and chance in it.
/// @throws UsageError
void check_weather(const WeatherOptions& weather);

}  // namespace amptally::cli
