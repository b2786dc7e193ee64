#include "cli/option_parser.hpp"

#include <algorithm>
#include <string_view>

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <fmt/format.h>

#include "sitefile/hint.hpp"
#include "text/closest_word.hpp"

namespace amptally::cli {
namespace {

// Where the words on options and on commands begin: a terminal of 80 columns holds them all.
constexpr std::size_t kOptionColumn = 33;
constexpr std::size_t kCommandColumn = 13;

std::string joined_names(const Option& option) {
  return fmt::format("{}", fmt::join(option.names, ","));
}

bool reads_file(const Option& option) {
  return !option.is_output && (option.value.find("FILE") != std::string::npos ||
                               option.value.find("SITE") != std::string::npos);
}

/// Declares an option, or a word.
/// @param parsed  gets the files that are given
void declare(CLI::App& app, const Option& option, Parsed& parsed) {
  const std::string names = joined_names(option);
  if (option.value.empty()) {
    app.add_flag_callback(
        names, [&option] { option.take(""); }, option.help);
    return;
  }
  const CLI::callback_t take = [&option, &parsed](const CLI::results_t& values) {
    if (values.size() > 1 && !option.is_repeatable) {
      throw UsageError(option.names.back() + " is given more than once");
    }
    for (const std::string& value : values) {
      option.take(value);
      if (reads_file(option)) parsed.read.push_back(value);
      if (option.is_output) parsed.written.push_back(value);
    }
    return true;
  };
  CLI::Option* const added = app.add_option(names, take, option.help);
  added->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
  added->required(option.is_required);
  if (option.is_repeatable) {
    added->expected(CLI::detail::expected_max_vector_size);
    // An option has one value each time; a word has as many as come.
    added->allow_extra_args(added->get_positional());
  }
  if (option.value != names) added->option_text(option.value);
}

void declare(CLI::App& program, const Command& command, Parsed& parsed) {
  CLI::App& app = *program.add_subcommand(command.name, command.help);
  app.group("Commands");
  app.footer("Examples:\n" + command.examples);
  for (const Option& word : command.words) declare(app, word, parsed);
  for (const Option& option : command.options) {
    if (option.take) declare(app, option, parsed);
  }
  if (command.check) app.parse_complete_callback(command.check);
}

void describe(CLI::App& program, const ProgramHelp& help) {
  program.description(help.description);
  program.get_formatter()->column_width(kOptionColumn);
  program.get_formatter()->label("SUBCOMMAND", "COMMAND");
  program.set_help_flag(joined_names(help_option()), help_option().help);
  program.set_version_flag("--version", help.version, "print the version and stop");
  program.footer(help.footer);
  program.require_subcommand(1);
}

/// Why the words left over cannot be used.
std::string leftover_message(const CLI::App& app) {
  const std::vector<std::string> words = app.remaining();
  if (words.empty()) return "too many words";
  const std::string& word = words.front();
  if (!word.starts_with('-')) return fmt::format("\"{}\" is one word too many", word);
  std::vector<std::string> names;
  for (const CLI::Option* option : app.get_options()) {
    for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
  }
  const std::string given = word.substr(0, word.find('='));
  const std::vector<std::string_view> candidates(names.begin(), names.end());
  return fmt::format("unknown option {}{}", given, io::hint(near_miss(given, candidates)));
}

/// The option that ends a command line and has no value there.
std::string name_at_end(std::string_view last_word, std::span<const Command> commands) {
  std::string name(last_word.substr(0, last_word.find('=')));
  // Of short options written together the last may have a value.
  if (!name.starts_with("--") && name.size() > 2) name = {'-', name.back()};
  for (const Command& command : commands) {
    for (const Option& option : command.options) {
      if (std::ranges::find(option.names, name) != option.names.end()) return option.names.back();
    }
  }
  return name;
}

/// The required option that is not there.
std::string missing_option(std::span<const Command> commands, const CLI::App& program) {
  for (const Command& command : commands) {
    const CLI::App& app = *program.get_subcommand(command.name);
    if (!app.parsed()) continue;
    for (const Option& option : command.options) {
      const std::string& name = option.names.back();
      if (option.is_required && app.count(name) == 0) return name;
    }
  }
  return "an option";
}

}  // namespace

Parsed parse_words(std::span<const char* const> words, std::span<const Command> commands,
                   const ProgramHelp& help) {
  CLI::App program("", "amptally");
  describe(program, help);
  Parsed parsed;
  for (const Command& command : commands) declare(program, command, parsed);
  const bool is_one = commands.size() == 1;
  const Command& first = commands.front();
  const CLI::App& app = is_one ? *program.get_subcommand(first.name) : program;
  try {
    // The parser takes the words from the last to the first.
    program.parse(std::vector<std::string>(words.rbegin(), words.rend()));
    parsed.command = &first;
    return parsed;
  } catch (const CLI::CallForHelp&) {
    if (!is_one) program.get_formatter()->column_width(kCommandColumn);
    return {.text = app.help(is_one ? "amptally" : "")};
  } catch (const CLI::CallForVersion&) {
    return {.text = help.version + "\n"};
  } catch (const CLI::ExtrasError&) {
    throw UsageError(leftover_message(app));
  } catch (const CLI::RequiredError&) {
    // An option that is missing may be there, misspelled.
    if (app.remaining_size() > 0) throw UsageError(leftover_message(app));
    throw UsageError(missing_option(commands, program) + " is required");
  } catch (const CLI::ArgumentMismatch&) {
    throw UsageError(name_at_end(words.back(), commands) + " needs a value");
  } catch (const CLI::ParseError& error) {
    throw UsageError(error.what());
  }
}

}  // namespace amptally::cli
