#include "cli/command_line.hpp"

#include <algorithm>
#include <filesystem>
#include <span>
#include <string>
#include <string_view>
#include <system_error>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "amptally/version.hpp"

#include "cli/command_table.hpp"
#include "cli/complete.hpp"
#include "cli/option_parser.hpp"
#include "cli/output.hpp"
#include "sitefile/hint.hpp"
#include "text/closest_word.hpp"

namespace amptally::cli {
namespace {

/// Asked by the shells, with words as unfinished as they come; not for people, so not in the help.
constexpr std::string_view kComplete = "complete";

std::function<CommandResult(const CommandContext&)> shows(std::string text) {
  return
      [text = std::move(text)](const CommandContext&) -> CommandResult { return {.text = text}; };
}

std::string version_line() { return fmt::format("amptally {}", kVersion); }

std::string hint(std::string_view word, std::span<const std::string_view> candidates) {
  return io::hint(near_miss(word, candidates));
}

/// The first word that cannot be used, told with what might be meant.
/// @throws UsageError always
[[noreturn]] void refuse_first_word(std::string_view word, const std::vector<Command>& commands) {
  if (word.starts_with('-') && word.size() > 1) {
    static constexpr std::string_view kOptions[] = {"--help", "--version"};
    throw UsageError(
        fmt::format("unknown option {}{}; the command comes first, see amptally --help", word,
                    hint(word, kOptions)));
  }
  if (word == "-" || word.ends_with(".json")) {
    throw UsageError(fmt::format("the command comes first, such as amptally budget {}", word));
  }
  std::vector<std::string_view> names;
  for (const Command& command : commands) names.push_back(command.name);
  throw UsageError(
      fmt::format("unknown command \"{}\"{}; see amptally --help", word, hint(word, names)));
}

ProgramHelp program_help() {
  ProgramHelp help{
      .version = version_line(),
      .description = "Power budget of a small off-grid solar installation that waters plants.",
      .footer =
          "Start here:\n"
          "  amptally budget --demo\n"
          "  amptally new > site.json\n"
          "amptally COMMAND --help lists the options of a command.\n\n"
          "Exit status:"};
  for (const auto& [status, meaning] : kStatusMeanings) {
    help.footer += fmt::format("\n  {:<4}{}", static_cast<int>(status), meaning);
  }
  return help;
}

/// A site file or a table of weather is soon overwritten by a slip of the hand, and is gone then.
/// @throws OutputError if a file would be written over that the command reads, by whatever name or
///   link; or that is there, where the command keeps those
void require_no_loss(const Parsed& parsed) {
  namespace fs = std::filesystem;
  std::error_code none;  // what cannot be looked at is found out when it is opened
  for (const std::string& file : parsed.written) {
    if (!fs::is_regular_file(file, none)) continue;
    if (parsed.command->keeps_files) {
      throw OutputError(fmt::format(
          "{} is there already and is kept; give another name, or remove it first", file));
    }
    for (const std::string& read : parsed.read) {
      if (!fs::equivalent(file, read, none)) continue;
      throw OutputError(fmt::format(
          "{} is read by this command and would be lost; give --output another name", file));
    }
  }
}

}  // namespace

std::function<CommandResult(const CommandContext&)> read_command_line(int argc,
                                                                      const char* const* argv) {
  if (argc < 2) {
    throw UsageError(
        "no command given; amptally budget --demo shows what it does, amptally new > site.json "
        "begins a site, see amptally --help");
  }
  const bool asks_help = argc == 2 && std::string_view(argv[1]) == "help";
  const std::string_view word = asks_help ? "--help" : argv[1];
  if (word == kComplete) {
    const std::vector<std::string> words(argv + 2, argv + argc);
    return shows(completions(words));
  }
  // What starts the program only to see whether it is there should not wait for its options.
  if (argc == 2 && (word == "--version" || word == "-V")) return shows(version_line() + "\n");

  const std::vector<Command> commands = all_commands();
  const bool is_about_all = word == "--help" || word == "-h" || word == "--version";
  std::span<const Command> possible = commands;
  if (!is_about_all) {
    const auto command = std::ranges::find(commands, word, &Command::name);
    if (command == commands.end()) refuse_first_word(word, commands);
    possible = {command, 1};
  }
  try {
    std::vector<const char*> words(argv + 1, argv + argc);
    if (asks_help) words.front() = "--help";
    Parsed parsed = parse_words(words, possible, program_help());
    if (parsed.command == nullptr) return shows(std::move(parsed.text));
    require_no_loss(parsed);
    return parsed.command->run;
  } catch (const UsageError& error) {
    throw UsageError(fmt::format("{}; see amptally {}--help", error.what(),
                                 is_about_all ? "" : possible.front().name + " "));
  }
}

}  // namespace amptally::cli
