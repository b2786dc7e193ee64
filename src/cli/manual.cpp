#include "cli/manual.hpp"

#include <algorithm>
#include <vector>

#include <fmt/format.h>

#include "amptally/version.hpp"

#include "cli/command_table.hpp"
#include "cli/status.hpp"

namespace amptally::cli {
namespace {

/// An option that so many commands have in the same words is described once.
constexpr std::size_t kCommon = 3;

constexpr std::string_view kDescription = R"(.SH DESCRIPTION
.B amptally
works out the power budget of a small off\-grid solar installation that waters
plants: from a short description of the site it walks the year hour by hour and
says whether the sun carries the draw, how many dull days the battery bridges,
when it falls short and by how much, and what would mend it.
.PP
The site is a JSON file, or \- for standard input.
.B amptally new
prints one to start from,
.B amptally explain
says what each field means, and
.B amptally check
finds every mistake in it at once.
The result goes to standard output, alone; messages go to standard error.
)";

constexpr std::string_view kRest = R"(.SH ENVIRONMENT
.TP
.B NO_COLOR
If set and not empty, nothing is coloured unless
.B \-\-color always
is given.
.TP
.B COLUMNS
Width of the terminal, where the terminal itself does not say.
.TP
.B TERM
.B dumb
refuses colour.
.TP
.BR LC_ALL ", " LC_CTYPE ", " LANG
Whether the terminal shows UTF\-8; if not, plain letters take the place of signs
such as \(de.
.SH FILES
The pages of documentation and the example sites are in the
.I amptally
folder of
.IR /usr/share/doc ,
or of
.I share/doc
where the program was installed.
)";

/// Text of a line that roff shall print as it stands.
std::string plain(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '\\':
        out += "\\e";
        break;
      case '-':
        out += "\\-";
        break;
      case '\'':
        out += "\\(aq";
        break;
      default:
        out += c;
    }
  }
  const bool is_request = out.starts_with('.');
  return is_request ? "\\&" + out : out;
}

/// `-o FILE, --output FILE` as a heading, and what it means.
std::string option_entry(const Option& option) {
  std::string heading;
  for (const std::string& name : option.names) {
    if (!heading.empty()) heading += ", ";
    heading += fmt::format("\\fB{}\\fR", plain(name));
    if (!option.value.empty()) heading += fmt::format(" \\fI{}\\fR", plain(option.value));
  }
  return fmt::format(".TP\n{}\n{}", heading, plain(option.help));
}

/// Whether the page would say the same of both.
bool reads_the_same(const Option& a, const Option& b) {
  return a.names == b.names && a.value == b.value && a.help == b.help &&
         a.is_repeatable == b.is_repeatable;
}

bool holds(const std::vector<Option>& options, const Option& option) {
  return std::ranges::any_of(options,
                             [&](const Option& one) { return reads_the_same(one, option); });
}

std::vector<const Command*> commands_with(const std::vector<Command>& commands,
                                          const Option& option) {
  std::vector<const Command*> with;
  for (const Command& command : commands) {
    if (holds(command.options, option)) with.push_back(&command);
  }
  return with;
}

std::string usage(const Command& command) {
  std::string out = plain(command.name);
  for (const Option& word : command.words) {
    out += fmt::format(" [{}{}]", plain(word.names.front()), word.is_repeatable ? " ..." : "");
  }
  return out + " [options]";
}

/// Command lines as they stand, then a remark on them.
std::string example_lines(std::string_view examples) {
  std::string lines;
  std::string remark;
  for (std::string* part = &lines; !examples.empty();) {
    const std::size_t end = std::min(examples.find('\n'), examples.size());
    const std::string_view line = examples.substr(0, end);
    if (line.empty()) part = &remark;
    if (!line.empty()) *part += plain(line.substr(line.starts_with("  ") ? 2 : 0)) + '\n';
    examples.remove_prefix(std::min(end + 1, examples.size()));
  }
  return ".PP\n.RS 4\n.nf\n" + lines + ".fi\n.RE\n" + (remark.empty() ? "" : ".PP\n" + remark);
}

std::string commands_section(const std::vector<Command>& commands) {
  std::string out = ".SH COMMANDS\n";
  for (const Command& command : commands) {
    out += fmt::format(".SS \"{}\"\n{}\n", usage(command), plain(command.help));
    for (const Option& word : command.words) {
      if (word.names.front() != word.value) out += option_entry(word) + ".\n";
    }
    for (const Option& option : command.options) {
      if (commands_with(commands, option).size() < kCommon) out += option_entry(option) + ".\n";
    }
    out += example_lines(command.examples);
  }
  return out;
}

std::string common_section(const std::vector<Command>& commands) {
  std::string out = ".SH COMMON OPTIONS\n";
  std::vector<Option> told;
  for (const Command& command : commands) {
    for (const Option& option : command.options) {
      const std::vector<const Command*> with = commands_with(commands, option);
      if (with.size() < kCommon || holds(told, option)) continue;
      told.push_back(option);
      out += option_entry(option) + ".\n";
      if (with.size() == commands.size()) continue;
      std::string names;
      for (const Command* one : with) names += (names.empty() ? "" : ", ") + one->name;
      out += fmt::format("With: {}.\n", plain(names));
    }
  }
  return out + ".TP\n\\fB\\-\\-version\\fR\nprint the version and stop; without a command.\n";
}

std::string status_section() {
  std::string out = ".SH EXIT STATUS\n";
  for (const auto& [status, meaning] : kStatusMeanings) {
    out += fmt::format(".TP\n.B {}\n{}.\n", static_cast<int>(status), plain(meaning));
  }
  return out;
}

}  // namespace

std::string manual_page(std::string_view date) {
  const std::vector<Command> commands = all_commands();
  return fmt::format(
             ".\\\" Made by write_manual from the program's own tables; not to be edited.\n"
             ".TH AMPTALLY 1 {} \"amptally {}\" \"User Commands\"\n"
             ".SH NAME\n"
             "amptally \\- power budget of a small off\\-grid solar installation\n"
             ".SH SYNOPSIS\n"
             ".B amptally\n.I COMMAND\n[\\fISITE\\fR | \\-] [\\fIoptions\\fR]\n.br\n"
             ".B amptally\n[\\fICOMMAND\\fR] \\fB\\-\\-help\\fR\n.br\n"
             ".B amptally \\-\\-version\n",
             date, kVersion) +
         std::string(kDescription) + commands_section(commands) + common_section(commands) +
         status_section() + std::string(kRest);
}

}  // namespace amptally::cli
