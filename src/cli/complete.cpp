#include "cli/complete.hpp"

#include <algorithm>
#include <string>
#include <string_view>

#include "amptally/climate.hpp"

#include "cli/command_table.hpp"
#include "site/fields.hpp"
#include "text/ascii.hpp"

namespace amptally::cli {
namespace {

// What the shell fills in by itself. An output's own name is a new one: only folders are offered,
// never a file that the command reads.
constexpr std::string_view kFiles = "FILE";
constexpr std::string_view kFolders = "FOLDER";

/// Capitals do not matter: "ovi" begins "Oviedo".
bool begins(std::string_view word, std::string_view typed) {
  return word.size() >= typed.size() &&
         std::equal(typed.begin(), typed.end(), word.begin(),
                    [](char a, char b) { return lower(a) == lower(b); });
}

/// The words that begin as what was typed does.
class Offer {
 public:
  /// @param before  stands in front of every word, as in `--format=`
  explicit Offer(std::string_view typed, std::string_view before = "")
      : typed_(typed), before_(before) {}

  [[nodiscard]] std::string_view typed() const { return typed_; }
  [[nodiscard]] const std::string& text() const { return text_; }

  void add(std::string_view word, std::string_view help = "") {
    if (!begins(word, typed_)) return;
    text_.append(before_).append(word);
    if (!help.empty()) text_.append("\t").append(help);
    text_ += '\n';
  }
  void add_files() { text_.append(kFiles).append("\n"); }
  void add_folders() { text_.append(kFolders).append("\n"); }

 private:
  std::string_view typed_;
  std::string_view before_;
  std::string text_;
};

std::string_view first_sentence(std::string_view text) { return text.substr(0, text.find(". ")); }

/// `loads[].draw` with what was typed in its brackets, and [0] where nothing was.
std::string element_path(std::string_view pattern, std::string_view typed) {
  std::string closed(typed);
  const std::size_t open = closed.rfind('[');
  // A number can be closed; nobody can say which name a begun one will be.
  if (open != closed.npos && closed.find_first_not_of("0123456789", open + 1) == closed.npos) {
    closed += ']';
  }
  std::string path = with_brackets_of(closed, pattern);
  for (std::size_t at = path.find("[]"); at != path.npos; at = path.find("[]")) {
    path.insert(at + 1, "0");
  }
  return path;
}

void offer_places(Offer& offer, std::string_view before = "") {
  for (const ClimateRow& place : search_places("")) {
    offer.add(std::string(before) + place.id, place.name + ", " + place.country);
  }
}

/// Words that a field can have.
/// @param before  what was typed in front of the word: PATH=, and in a list the words before it
void offer_field_values(Offer& offer, const std::string& before) {
  const Field* const field = field_meant_by(before.substr(0, before.find('=')));
  if (field == nullptr) return;
  for (const Choice& choice : field->choices) offer.add(before + std::string(choice.word));
  if (field->type == FieldType::boolean) offer.add(before + "true");
  if (field->path == "place.name") offer_places(offer, before);
}

/// PATH=VALUE, or PATH=VALUES with commas between them
void offer_settings(Offer& offer, bool is_list) {
  const std::string typed(offer.typed());
  const std::size_t sign = typed.find('=');
  if (sign != typed.npos) {
    const std::size_t comma = is_list ? typed.find_last_of("=,") : sign;
    offer_field_values(offer, typed.substr(0, comma + 1));
    return;
  }
  for (const Field& field : all_fields()) {
    if (field.type == FieldType::object || field.type == FieldType::list) continue;
    offer.add(element_path(field.path, offer.typed()) + '=', first_sentence(field.meaning));
  }
}

void offer_fields(Offer& offer) {
  for (const Field& field : all_fields()) {
    offer.add(field.path, first_sentence(field.meaning));
  }
}

/// One of the alternatives of `Option::value`.
void offer_alternative(Offer& offer, std::string_view value) {
  if (value == "FILE" || value == "SITE") {
    offer.add_files();
  } else if (value == "PLACE" || value == "WORD") {
    offer_places(offer);
  } else if (value == "PATH") {
    offer_fields(offer);
  } else if (value.starts_with("PATH=")) {
    offer_settings(offer, value == "PATH=VALUES");
  } else if (!value.empty() && value.front() >= 'a' && value.front() <= 'z') {
    offer.add(value);
  }
}

void offer_value(Offer& offer, const Option& option) {
  if (option.is_output) return offer.add_folders();
  std::string_view rest = option.value;
  while (!rest.empty()) {
    const std::size_t bar = std::min(rest.find('|'), rest.size());
    offer_alternative(offer, rest.substr(0, bar));
    rest.remove_prefix(std::min(bar + 1, rest.size()));
  }
}

const Option* find_option(const Command& command, std::string_view name) {
  for (const Option& option : command.options) {
    if (std::ranges::find(option.names, name) != option.names.end()) return &option;
  }
  return nullptr;
}

/// What the finished words of a command leave to say.
struct TypedWords {
  const Option* waiting = nullptr;   ///< an option whose value comes next
  std::vector<const Option*> taken;  ///< options that may not come again
  std::size_t words = 0;             ///< words without an option so far
};

TypedWords typed_words(const Command& command, std::span<const std::string> finished) {
  TypedWords so_far;
  for (const std::string_view word : finished) {
    if (so_far.waiting != nullptr) {
      so_far.waiting = nullptr;
    } else if (word.size() < 2 || word.front() != '-') {
      ++so_far.words;
    } else if (const Option* option = find_option(command, word.substr(0, word.find('=')))) {
      if (!option->is_repeatable) so_far.taken.push_back(option);
      if (!option->value.empty() && word.find('=') == word.npos) so_far.waiting = option;
    }
  }
  return so_far;
}

void offer_options(Offer& offer, const Command& command, const TypedWords& so_far) {
  for (const Option& option : command.options) {
    if (std::ranges::find(so_far.taken, &option) != so_far.taken.end()) continue;
    for (const std::string& name : option.names) offer.add(name, option.help);
  }
}

/// The word a command takes next without the name of an option; null when it has them all.
const Option* next_word(const Command& command, const TypedWords& so_far) {
  if (so_far.words < command.words.size()) return &command.words[so_far.words];
  const bool goes_on = !command.words.empty() && command.words.back().is_repeatable;
  return goes_on ? &command.words.back() : nullptr;
}

std::string completions_of(const Command& command, std::span<const std::string> finished,
                           std::string_view typed) {
  const TypedWords so_far = typed_words(command, finished);
  const std::size_t sign = typed.starts_with("--") ? typed.find('=') : typed.npos;
  if (so_far.waiting == nullptr && sign != typed.npos) {
    const Option* const option = find_option(command, typed.substr(0, sign));
    Offer offer(typed.substr(sign + 1), typed.substr(0, sign + 1));
    if (option != nullptr) offer_value(offer, *option);
    return offer.text();
  }
  Offer offer(typed);
  const Option* const word = next_word(command, so_far);
  if (so_far.waiting != nullptr) {
    offer_value(offer, *so_far.waiting);
  } else if (typed.starts_with('-') || word == nullptr) {
    offer_options(offer, command, so_far);
  } else {
    offer_value(offer, *word);
  }
  return offer.text();
}

std::string first_words(const std::vector<Command>& commands, std::string_view typed) {
  Offer offer(typed);
  for (const Command& command : commands) offer.add(command.name, command.help);
  if (typed.starts_with('-')) {
    for (const char* option : {"-h", "--help", "--version"}) offer.add(option);
  }
  return offer.text();
}

}  // namespace

std::string completions(std::span<const std::string> words) {
  const std::vector<Command> commands = all_commands();
  if (words.size() < 2) return first_words(commands, words.empty() ? "" : words.back());
  const auto command = std::ranges::find(commands, words.front(), &Command::name);
  if (command == commands.end()) return "";
  return completions_of(*command, words.subspan(1, words.size() - 2), words.back());
}

}  // namespace amptally::cli
