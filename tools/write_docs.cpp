// write_docs DIR: writes what is made of the tables of fields and of commands into the files of the
// source tree DIR, between two lines that say so. write_docs --check DIR: says which of them it
// would change.
#include <algorithm>
#include <fstream>
#include <functional>
#include <iostream>
#include <iterator>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "cli/command_table.hpp"
#include "site/fields.hpp"
#include "sitefile/parts_list_fields.hpp"

namespace {

using namespace amptally;

/// Cells of a Markdown table end at a bar.
std::string cell(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == '|') out += '\\';
    out += c;
  }
  return out;
}

std::string markdown_table(std::span<const Field> fields) {
  std::string out =
      "| field | write | allowed | default | meaning | usual |\n|---|---|---|---|---|---|\n";
  for (const Field& field : fields) {
    out +=
        fmt::format("| `{}` | {} | {} | {} | {} | {} |\n", field.path, cell(expected_text(field)),
                    range_text(field), field.required ? "required" : field.fallback,
                    cell(field.meaning), cell(field.usual));
  }
  return out;
}

std::string commands_table() {
  std::string out = "| command | answers |\n|---|---|\n";
  for (const cli::Command& command : cli::all_commands()) {
    out += fmt::format("| `{}` | {} |\n", command.name, cell(command.help));
  }
  return out;
}

/// `-o FILE, --output FILE`
std::string spelled(const cli::Option& option) {
  std::string out;
  for (const std::string& name : option.names) {
    out += fmt::format("{}`{}{}{}`", out.empty() ? "" : ", ", name, option.value.empty() ? "" : " ",
                       cell(option.value));
  }
  return out;
}

/// A row for each option in its own words, with the commands that have it so.
std::string options_table() {
  struct Row {
    std::string option;
    std::string meaning;
    std::string commands;
    std::size_t count;
  };
  std::vector<Row> rows;
  const std::vector<cli::Command> commands = cli::all_commands();
  for (const cli::Command& command : commands) {
    for (const cli::Option& option : command.options) {
      const std::string name = spelled(option);
      const std::string meaning = cell(option.help);
      const auto same = std::find_if(rows.begin(), rows.end(), [&](const Row& row) {
        return row.option == name && row.meaning == meaning;
      });
      if (same == rows.end()) {
        rows.push_back({name, meaning, fmt::format("`{}`", command.name), 1});
      } else {
        same->commands += fmt::format(", `{}`", command.name);
        ++same->count;
      }
    }
  }
  std::string out = "| option | with | meaning |\n|---|---|---|\n";
  for (const Row& row : rows) {
    out += fmt::format("| {} | {} | {} |\n", row.option,
                       row.count == commands.size() ? "all" : row.commands, row.meaning);
  }
  return out;
}

std::string statuses_table() {
  std::string out = "| status | meaning |\n|---|---|\n";
  for (const auto& [status, meaning] : cli::kStatusMeanings) {
    out += fmt::format("| {} | {} |\n", static_cast<int>(status), meaning);
  }
  return out;
}

std::string quoted_lines(const std::set<std::string_view>& words) {
  std::string out;
  for (const std::string_view word : words) out += fmt::format("\"{}\"\n", word);
  return out;
}

/// The words of both kinds of file for libFuzzer: names first, then what may be chosen.
std::string dictionary() {
  std::set<std::string_view> names;
  std::set<std::string_view> choices;
  for (const std::span<const Field> fields : {all_fields(), io::parts_fields()}) {
    for (const Field& field : fields) {
      names.insert(field_name(field));
      for (const Choice& choice : field.choices) choices.insert(choice.word);
    }
  }
  return quoted_lines(names) + quoted_lines(choices);
}

struct Part {
  const char* file;
  std::string_view begin;  ///< the line above it
  std::string_view end;    ///< the line below it
  std::function<std::string()> text;
};

constexpr std::string_view kTable = "<!-- fields: written by tools/write_docs -->\n";
constexpr std::string_view kTableEnd = "<!-- end of fields -->\n";

const Part kParts[] = {
    {"docs/site-file.md", kTable, kTableEnd, [] { return markdown_table(all_fields()); }},
    {"docs/parts-file.md", kTable, kTableEnd, [] { return markdown_table(io::parts_fields()); }},
    {"docs/outputs.md", "<!-- commands: written by tools/write_docs -->\n",
     "<!-- end of commands -->\n", commands_table},
    {"docs/outputs.md", "<!-- options: written by tools/write_docs -->\n",
     "<!-- end of options -->\n", options_table},
    {"docs/outputs.md", "<!-- statuses: written by tools/write_docs -->\n",
     "<!-- end of statuses -->\n", statuses_table},
    {"tests/fuzz/site.dict", "# fields: written by tools/write_docs\n", "# end of fields\n",
     dictionary},
};

std::string read(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// The file's text with the part as it should be; empty where its two lines are missing.
std::string rewritten(const std::string& text, const Part& part) {
  const std::size_t begin = text.find(part.begin);
  const std::size_t end = text.find(part.end, begin);
  if (begin == text.npos || end == text.npos) return {};
  return text.substr(0, begin + part.begin.size()) + part.text() + text.substr(end);
}

}  // namespace

int main(int argc, char** argv) {
  const bool only_check = argc == 3 && std::string_view(argv[1]) == "--check";
  if (argc != 2 && !only_check) return 2;
  const std::string folder = argv[argc - 1];
  bool is_good = true;
  for (const Part& part : kParts) {
    const std::string path = folder + "/" + part.file;
    const std::string text = read(path);
    const std::string wanted = rewritten(text, part);
    if (wanted.empty()) {
      std::cerr << part.file << ": a line that a table begins or ends at is missing\n";
      is_good = false;
    } else if (wanted != text && only_check) {
      std::cerr << part.file << " is not what the program's tables make of it: build the target "
                << "`docs` (cmake --build BUILD_FOLDER --target docs)\n";
      is_good = false;
    } else if (wanted != text) {
      is_good = static_cast<bool>(std::ofstream(path, std::ios::binary) << wanted << std::flush) &&
                is_good;
      std::cout << part.file << " rewritten\n";
    }
  }
  return is_good ? 0 : 1;
}
