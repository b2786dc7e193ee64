#include "site/battery_words.hpp"

#include "amptally/battery_type.hpp"

#include "text/ascii.hpp"
#include "text/message_text.hpp"

namespace amptally::inline v0_1 {
namespace {

std::string made_sentence() {
  std::string sentence;
  const auto types = battery_types();
  for (std::size_t i = 0; i < types.size();) {
    // Types next to one another whose labels end in the same brackets, as in "gel (sealed)".
    const auto brackets_of = [&](std::size_t at) {
      const std::string_view label = types[at].label;
      return label.substr(std::min(label.find(" ("), label.size()));
    };
    const std::string_view brackets = brackets_of(i);
    std::vector<std::string_view> alike;
    do {
      alike.push_back(types[i].label.substr(0, types[i].label.size() - brackets.size()));
      ++i;
    } while (i < types.size() && !brackets.empty() && brackets_of(i) == brackets);
    if (!sentence.empty()) sentence += i < types.size() ? ", " : ", or ";
    sentence += any_of(alike);
    sentence += brackets;
  }
  sentence.front() = upper(sentence.front());
  return sentence + '.';
}

}  // namespace

std::vector<std::string_view> battery_names() {
  std::vector<std::string_view> names;
  for (const BatteryType& type : battery_types()) names.push_back(type.name);
  return names;
}

std::vector<Choice> battery_choices() {
  std::vector<Choice> choices;
  for (const BatteryType& type : battery_types()) choices.emplace_back(type.name, type.kind);
  return choices;
}

const std::string& battery_labels_sentence() {
  static const std::string sentence = made_sentence();
  return sentence;
}

}  // namespace amptally::inline v0_1
