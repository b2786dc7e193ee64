#include "sitefile/load_text.hpp"

#include <utility>

#include <fmt/format.h>

#include "amptally/error.hpp"

#include "sitefile/json_value.hpp"
#include "text/ascii.hpp"
#include "text/message_text.hpp"
#include "text/utf8.hpp"

namespace amptally::io {
namespace {

constexpr std::string_view kBlanks = " \t";

[[noreturn]] void refuse(std::string_view text, const std::string& why) {
  throw InputError("", fmt::format("{}: {} (a load is written \"NAME: DRAW, TIME/day [at HH:MM] "
                                   "[Mon-Mon]\", such as \"valve: 300 mA, 20 min/day at 06:30\")",
                                   in_quotes(text), why));
}

std::string written(std::string_view whole, const Json& load) {
  if (!is_utf8(whole)) refuse(whole, "not UTF-8 text");
  return json_text(load, JsonLayout::one_line);
}

// Words after the time: "at 06:30", "Apr-Sep", or both.
void add_words(std::string_view whole, std::string_view words, Json& load, std::string& at) {
  while (!words.empty()) {
    const std::string_view word = words.substr(0, words.find_first_of(kBlanks));
    words = trimmed(words.substr(word.size()));
    if (word == "at") {
      at = words.substr(0, words.find_first_of(kBlanks));
      if (at.empty()) refuse(whole, "no time after \"at\"");
      words = trimmed(words.substr(at.size()));
    } else if (load.member("months") == nullptr) {
      load.add("months", word);
    } else {
      refuse(whole, fmt::format("{} is not understood", in_quotes(word)));
    }
  }
}

}  // namespace

std::string load_object(std::string_view text) {
  const std::size_t colon = text.find(':');
  if (colon == std::string_view::npos) refuse(text, "no \":\" after a name");
  const std::string_view name = trimmed(text.substr(0, colon));
  if (name.empty()) refuse(text, "no name before the \":\"");
  const std::string_view rest = text.substr(colon + 1);
  const std::size_t comma = rest.find(',');
  const std::string_view draw = trimmed(rest.substr(0, comma));
  if (draw.empty()) refuse(text, "no draw");
  // Figures stay as they are written: the site's reader checks them and names the field.
  Json load = {{"name", name}, {"draw", draw}};
  if (comma == std::string_view::npos) {
    load.add("always", true);
    return written(text, load);
  }
  const std::string_view schedule = trimmed(rest.substr(comma + 1));
  constexpr std::string_view kADay = "/day";
  const std::size_t slash = schedule.find('/');
  const std::string_view time = trimmed(schedule.substr(0, slash));
  if (slash == std::string_view::npos || !schedule.substr(slash).starts_with(kADay)) {
    refuse(text, "no time a day, such as \"20 min/day\"");
  }
  std::string at;
  add_words(text, trimmed(schedule.substr(slash + kADay.size())), load, at);
  if (at.empty()) {
    load.add("per_day", time);
  } else {
    Json runs = Json::list();
    runs.push({{"at", at}, {"for", time}});
    load.add("runs", std::move(runs));
  }
  return written(text, load);
}

}  // namespace amptally::io
