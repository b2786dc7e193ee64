#pragma once

#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace amptally::io {

/// Deepest nesting of objects and lists that is read. Chosen: the site file needs 6, and a tree
/// this shallow can be walked and destroyed by plain recursion.
inline constexpr int kMaxDepth = 64;

/// A place in a text, both counted from 1; the column counts characters, not bytes. 0: none.
struct TextPosition {
  int line = 0;
  int column = 0;
};

/// One JSON value and where it stood.
struct Node {
  enum class Kind { null, boolean, number, string, list, object };

  Kind kind = Kind::null;
  bool boolean = false;
  double number = 0;
  std::string text;            ///< the characters of a string; a number as it was written
  std::vector<Node> children;  ///< members of an object or elements of a list, in file order
  std::string key;             ///< in an object: this member's name
  TextPosition key_position;
  TextPosition position;
  int setting = -1;  ///< index of the --set this value came from; -1: from the file

  /// The first member called `name`; null when there is none.
  [[nodiscard]] const Node* member(std::string_view name) const;
  [[nodiscard]] Node* member(std::string_view name);
};

/// The text is not JSON; `what()` says in plain words what stands there and what should.
class JsonError : public std::runtime_error {
 public:
  JsonError(TextPosition position, const std::string& message)
      : std::runtime_error(message), position_(position) {}

  [[nodiscard]] TextPosition position() const { return position_; }

 private:
  TextPosition position_;
};

/// The tree of a JSON text; // and /* */ comments are skipped. Duplicate names are all kept.
///
/// @param text  UTF-8, with or without a byte order mark
/// @throws JsonError at the first fault of syntax or encoding, a number beyond double precision's
///   range, or nesting deeper than kMaxDepth
[[nodiscard]] Node parse_json(std::string_view text);

/// How JSON text is laid out.
enum class JsonLayout {
  one_line,     ///< without spaces
  stacked,      ///< each member and element on a line of its own, indented by two
  short_lists,  ///< the same, but a list of plain values stays on one line
};

/// `node` as JSON text. A byte that is not UTF-8 is replaced: U+FFFD.
[[nodiscard]] std::string json_text(const Node& node, JsonLayout layout);
/// The same with a line's end, lists short.
[[nodiscard]] std::string to_text(const Node& node);
/// `text` as a JSON string, in quotes.
[[nodiscard]] std::string json_quoted(const std::string& text);
/// A finite number as JSON, at full precision; with a decimal point or an exponent.
[[nodiscard]] std::string json_number(double value);

/// The value in a few words, for a message: `"7 Ahh"`, `12.5`, `true`, `a list`, `an object`.
[[nodiscard]] std::string described(const Node& node);

}  // namespace amptally::io
