#include "sitefile/json_mistake.hpp"

#include <charconv>
#include <optional>
#include <system_error>

#include <fmt/format.h>

#include "text/ascii.hpp"
#include "text/message_text.hpp"
#include "text/utf8.hpp"

namespace amptally::io {

namespace {

bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_'; }

std::string lowered(std::string_view word) {
  std::string out(word);
  for (char& c : out) c = lower(c);
  return out;
}

bool is_out_of_range(std::string_view word) {
  double value = 0;
  const char* end = word.data() + word.size();
  const auto [stop, error] = std::from_chars(word.data(), end, value);
  return stop == end && error == std::errc::result_out_of_range;
}

constexpr std::size_t kUnicodeEscape = 6;  // \uXXXX

/// The number that "\uXXXX" at the beginning of `text` stands for; nothing where it is none.
std::optional<unsigned> code_unit(std::string_view text) {
  if (text.size() < kUnicodeEscape || text[0] != '\\' || text[1] != 'u') return std::nullopt;
  unsigned value = 0;
  const char* const end = text.data() + kUnicodeEscape;
  const auto [stop, error] = std::from_chars(text.data() + 2, end, value, 16);
  if (error != std::errc{} || stop != end) return std::nullopt;
  return value;
}

/// What is wrong with the escape at the beginning of `text`; nothing where it is right.
std::string_view fault_of_escape(std::string_view text) {
  const char kind = text.size() > 1 ? text[1] : '?';
  if (kind != 'u') {
    return std::string_view("\"\\/bfnrt").find(kind) != std::string_view::npos
               ? ""
               : "a backslash that starts no known escape (write \\\\ for a backslash)";
  }
  const std::optional<unsigned> unit = code_unit(text);
  if (!unit) return "\\u needs four hexadecimal digits, as in \\u00e9";
  // UTF-16: characters beyond \uFFFF are written as a pair of halves, high then low.
  const auto is_half = [](std::optional<unsigned> u, unsigned first) {
    return u && *u >= first && *u < first + 0x400;
  };
  const bool paired =
      is_half(unit, 0xD800) && is_half(code_unit(text.substr(kUnicodeEscape)), 0xDC00);
  if (is_half(unit, 0xDC00) || (is_half(unit, 0xD800) && !paired)) {
    return "\\u with half of a pair (D800 to DFFF) stands for no character: write it as it is";
  }
  return "";
}

class Explainer {
 public:
  Explainer(TextCursor cursor, const BrokenAt& where) : cursor_(cursor), where_(where) {}

  JsonError explain() {
    cursor_.skip_blanks();
    if (cursor_.at_end()) return at_end();
    using After = BrokenAt::After;
    switch (where_.after) {
      case After::nothing:
        return bad_value();
      case After::opening:
        return where_.in_object ? bad_key() : bad_value();
      case After::key:
        if (cursor_.peek() != ':') {
          return here(fmt::format("a colon is missing after {}", in_quotes(where_.key)));
        }
        return next_value();
      case After::value:
        return after_value();
      case After::everything:
        break;
    }
    return here("the file should end with the closing } of its first {, but goes on here");
  }

 private:
  [[nodiscard]] JsonError here(const std::string& message) const {
    return {cursor_.position(), message};
  }

  [[nodiscard]] JsonError at_end() const {
    if (where_.after == BrokenAt::After::nothing) return here("the file is empty");
    return here(fmt::format("the file ends here, but the {} opened on line {} is not closed",
                            where_.in_object ? "{" : "[", where_.opened.line));
  }

  JsonError next_value() {
    cursor_.advance(1);
    cursor_.skip_blanks();
    return cursor_.at_end() ? at_end() : bad_value();
  }

  JsonError after_value() {
    const char c = cursor_.peek();
    const bool number =
        !where_.token.empty() && (is_digit(where_.token.back()) || is_digit(where_.token[0]));
    if (number && !is_whole_number_token()) return bad_number(where_.token, where_.token_position);
    if (number && (is_letter(c) || c == '%')) {
      return {where_.token_position, "a value with a unit needs double quotes"};
    }
    if (c == '}' || c == ']') {
      return here(fmt::format("{} closes nothing: the bracket opened on line {} is {}", c,
                              where_.opened.line, where_.in_object ? "{" : "["));
    }
    if (c != ',') {
      if (where_.in_object && c == ':') return here("a colon where a comma should be");
      return here("a comma is missing before this");
    }
    return after_comma(number);
  }

  /// The parser stops at the first character that cannot belong to a number: "07" is 0, then 7.
  [[nodiscard]] bool is_whole_number_token() const {
    double value = 0;
    const char* end = where_.token.data() + where_.token.size();
    const bool zero_in_front =
        where_.token.size() > 1 && where_.token[0] == '0' && is_digit(where_.token[1]);
    return !zero_in_front && std::from_chars(where_.token.data(), end, value).ptr == end;
  }

  JsonError after_comma(bool number_before) {
    const TextPosition comma = cursor_.position();
    cursor_.advance(1);
    if (number_before && where_.in_object && is_digit(cursor_.peek())) {
      const std::string_view rest = cursor_.rest();
      const std::string_view decimals = rest.substr(0, rest.find_first_not_of("0123456789"));
      return {where_.token_position,
              fmt::format("a decimal comma (write {}.{})", where_.token, decimals)};
    }
    cursor_.skip_blanks();
    if (cursor_.at_end()) return at_end();
    if (cursor_.peek() == '}' || cursor_.peek() == ']') {
      return {comma, fmt::format("a comma before {} (take it out)", cursor_.peek())};
    }
    return where_.in_object ? bad_key() : bad_value();
  }

  JsonError bad_key() {
    const char c = cursor_.peek();
    if (c == '"') return bad_string();
    if (c == '\'') return here("text in single quotes (use double quotes)");
    if (c == ',') return here("a comma with nothing before it");
    const TextCursor start = cursor_;
    const std::string_view word = cursor_.take_token();
    cursor_ = start;
    if (is_letter(c)) {
      return here(fmt::format("a field's name needs double quotes (write {})", in_quotes(word)));
    }
    return here(
        fmt::format("a field's name in double quotes should stand here, not {}", in_quotes(word)));
  }

  JsonError bad_value() {
    const char c = cursor_.peek();
    if (c == '"') return bad_string();
    if (c == '\'') return here("text in single quotes (use double quotes)");
    if (c == ',' || c == '}' || c == ']' || c == ':') {
      return here(fmt::format("a value is missing before {}", c));
    }
    const TextCursor start = cursor_;
    const std::string_view word = cursor_.take_token();
    cursor_ = start;
    const std::string low = lowered(word);
    for (const std::string_view name : {"nan", "inf", "infinity"}) {
      if (low == name || (low.size() > 1 && low.substr(1) == name && !is_letter(c))) {
        return here(fmt::format("{} is not a number that can be used", word));
      }
    }
    for (const std::string_view name : {"true", "false", "null"}) {
      if (low == name) return here(fmt::format("{} is written {}", word, name));
    }
    if (is_digit(c) || c == '-' || c == '+' || c == '.')
      return bad_number(word, cursor_.position());
    const TextPosition at = cursor_.position();
    if (at.line == 1 && at.column == 1) {
      return here(fmt::format(
          "this is not JSON: it begins with {}, not with {{ (amptally new writes a site "
          "file to start from)",
          in_quotes(word)));
    }
    return here(fmt::format("{} is not a value (text needs double quotes)", in_quotes(word)));
  }

  static JsonError bad_number(std::string_view word, TextPosition position) {
    const std::string_view digits = word.substr(word[0] == '-' || word[0] == '+' ? 1 : 0);
    std::string_view why;
    if (word.find_first_not_of("0123456789.eE+-") != word.npos) {
      why = " (a value with a unit needs double quotes)";
    } else if (digits.size() > 1 && digits[0] == '0' && is_digit(digits[1])) {
      why = " (no zeros in front)";
    } else if (word[0] == '+') {
      why = " (no plus sign)";
    } else if (digits.starts_with('.') || word.ends_with('.') || word.find(".e") != word.npos) {
      why = " (a digit is needed on both sides of the point)";
    } else if (is_out_of_range(word)) {
      return {position, fmt::format("{} is too large a number", in_quotes(word))};
    }
    return {position, fmt::format("{} is not a number{}", in_quotes(word), why)};
  }

  /// The string that starts at the cursor has something in it that JSON does not allow.
  JsonError bad_string() {
    const std::string_view text = cursor_.rest();
    for (std::size_t i = 1; i < text.size() && text[i] != '"'; ++i) {
      if (text[i] == '\n' || text[i] == '\r') {
        return here("this text has no closing quote on its line");
      }
      if (static_cast<unsigned char>(text[i]) < 0x20) {
        cursor_.advance(i);
        return here("a tab or control character inside text (write \\t, or use a space)");
      }
      if (text[i] != '\\') continue;
      const std::string_view escape = text.substr(i);
      const std::string_view why = fault_of_escape(escape);
      if (!why.empty()) {
        cursor_.advance(i);
        return here(std::string(why));
      }
      const bool pair =
          escape[1] == 'u' && code_unit(escape) >= 0xD800U && code_unit(escape) < 0xE000U;
      i += (escape[1] != 'u' ? 2 : pair ? 2 * kUnicodeEscape : kUnicodeEscape) - 1;
    }
    return here("this text has no closing quote");
  }

  TextCursor cursor_;
  const BrokenAt& where_;
};

}  // namespace

JsonError explain_mistake(TextCursor cursor, const BrokenAt& where) {
  return Explainer(cursor, where).explain();
}

void check_encoding(std::string_view text) {
  TextCursor cursor(text);
  for (std::size_t at = 0; at < text.size();) {
    const Utf8Character next = utf8_character(text.substr(at));
    if (!next.is_well_formed || text[at] == '\0') {
      cursor.advance(at);
      throw JsonError(cursor.position(), text[at] == '\0'
                                             ? "not a text file: it holds a zero byte"
                                             : "not UTF-8 text (save the file as UTF-8)");
    }
    at += next.bytes;
  }
}

}  // namespace amptally::io
