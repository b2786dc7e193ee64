#pragma once

#include <cstdint>
#include <optional>
#include <stdexcept>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "amptally/balance.hpp"

#include "report/output_style.hpp"

/// The command line as plain structs.
namespace amptally::cli {

/// The command line cannot be used; `what()` is one line.
class UsageError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

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

struct BudgetOptions {
  SiteOptions site;
  WeatherOptions weather;
  OutputOptions output;
  bool daily = false;
  bool exact_climate = false;  ///< rough numbers without the shipped sun's own error
};

struct SizeOptions {
  SiteOptions site;
  WeatherOptions weather;
  OutputOptions output;
  std::optional<double> panel_price;    ///< per W
  std::optional<double> battery_price;  ///< per Ah of 12 V
  bool tilt = false;                    ///< try others
  bool exact_climate = false;           ///< as in BudgetOptions
  std::string parts_file;               ///< empty: none; "-": standard input
};

struct FitOptions {
  SiteOptions site;
  WeatherOptions weather;
  OutputOptions output;
  std::vector<std::string> loads;  ///< in one line each, in the order given
  bool exact_climate = false;      ///< as in BudgetOptions
};

struct LeversOptions {
  SiteOptions site;
  WeatherOptions weather;
  OutputOptions output;
  bool exact_climate = false;  ///< as in BudgetOptions
};

/// A part of many: `part` of `of`, counted from 1.
struct ShardChoice {
  std::uint64_t part = 1;
  std::uint64_t of = 1;
};

struct SweepOptions {
  SiteOptions site;
  WeatherOptions weather;
  OutputOptions output;
  std::vector<std::string> axes;       ///< PATH=VALUES, in the order given
  std::string rows_file;               ///< empty: none; "-": standard input
  std::optional<std::uint64_t> draws;  ///< so many by chance instead of all
  ShardChoice shard;
  bool life = false;  ///< how long the battery lasts as well
};

struct SunOptions {
  SiteOptions site;
  OutputOptions output;
  bool tilts = false;
};

struct WaterOptions {
  SiteOptions site;
  OutputOptions output;
};

struct WiringOptions {
  SiteOptions site;
  OutputOptions output;
};

struct CheckOptions {
  SiteOptions site;
  OutputOptions output;
};

struct PlacesOptions {
  std::string words;                              ///< separated by blanks
  std::optional<std::pair<double, double>> near;  ///< latitude, longitude, deg
  OutputOptions output;
};

struct ExplainOptions {
  std::string path;  ///< empty: all fields
  OutputOptions output;
};

struct NewOptions {
  std::string place;  ///< empty: the starter's own
  std::string file;   ///< as in OutputOptions
};

struct SchemaOptions {
  bool parts = false;  ///< of the parts list instead of the site
  std::string file;    ///< as in OutputOptions
};

struct ReportOptions {
  SiteOptions site;
  WeatherOptions weather;
  OutputOptions output;
  bool exact_climate = false;  ///< as in BudgetOptions
};

/// What may come next on a command line that is still being typed.
struct CompleteOptions {
  std::vector<std::string> words;  ///< after the program's name; the last is unfinished
};

/// Help or the version: there is nothing to run.
struct ShowText {
  std::string text;
};

using Command =
    std::variant<ShowText, BudgetOptions, SizeOptions, FitOptions, LeversOptions, SweepOptions,
                 SunOptions, WaterOptions, WiringOptions, CheckOptions, PlacesOptions,
                 ExplainOptions, NewOptions, SchemaOptions, ReportOptions, CompleteOptions>;

/// The command and options of a command line.
/// @throws UsageError
[[nodiscard]] Command parse_options(int argc, const char* const* argv);

}  // namespace amptally::cli
