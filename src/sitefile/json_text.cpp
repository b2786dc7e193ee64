#include "sitefile/json_text.hpp"

#include <algorithm>
#include <charconv>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "sitefile/json_mistake.hpp"
#include "sitefile/text_cursor.hpp"
#include "text/message_text.hpp"
#include "text/utf8.hpp"

namespace amptally::io {

namespace {

using After = BrokenAt::After;

/// Hears the parser's events and builds the tree. The parser tells what stands in the text but not
/// where, so a cursor of our own follows it from token to token.
class TreeBuilder {
 public:
  explicit TreeBuilder(std::string_view text) : cursor_(text) {}

  Node take_root() { return std::move(root_); }

  bool null() { return add(Node::Kind::null); }
  bool boolean(bool value) {
    Node* node = add_value(Node::Kind::boolean);
    node->boolean = value;
    return close_value();
  }
  bool number_integer(std::int64_t /*value*/) { return number(); }
  bool number_unsigned(std::uint64_t /*value*/) { return number(); }
  bool number_float(double /*value*/, const std::string& /*text*/) { return number(); }
  bool string(std::string& value) {
    add_value(Node::Kind::string)->text = std::move(value);
    return close_value();
  }
  bool binary(std::vector<std::uint8_t>& /*value*/) { return false; }  // not in JSON text
  bool start_object(std::size_t /*size*/) { return open(Node::Kind::object); }
  bool start_array(std::size_t /*size*/) { return open(Node::Kind::list); }
  bool end_object() { return close(); }
  bool end_array() { return close(); }

  bool key(std::string& name) {
    cursor_.skip_to_token();
    key_position_ = cursor_.position();
    cursor_.take_token();
    key_ = std::move(name);
    after_ = After::key;
    return true;
  }

  template <class Exception>
  bool parse_error(std::size_t /*offset*/, const std::string& /*token*/, const Exception& /*e*/) {
    BrokenAt where{after_, false, {}, key_, token_, token_position_};
    if (!open_.empty()) {
      where.in_object = open_.back()->kind == Node::Kind::object;
      where.opened = open_.back()->position;
    }
    throw explain_mistake(cursor_, where);
  }

 private:
  bool add(Node::Kind kind) {
    add_value(kind);
    return close_value();
  }

  bool number() {
    Node* node = add_value(Node::Kind::number);
    node->text = std::string(token_);
    // Read again from the text: the parser's own conversion depends on the locale.
    std::from_chars(token_.data(), token_.data() + token_.size(), node->number);
    return close_value();
  }

  /// Appends a node where the parser stands and passes its first token.
  Node* add_value(Node::Kind kind) {
    cursor_.skip_to_token();
    Node* node = &root_;
    if (!open_.empty()) node = &open_.back()->children.emplace_back();
    node->kind = kind;
    node->position = cursor_.position();
    if (!open_.empty() && open_.back()->kind == Node::Kind::object) {
      node->key = std::move(key_);
      node->key_position = key_position_;
    }
    token_position_ = cursor_.position();
    token_ = cursor_.take_token();
    return node;
  }

  bool close_value() {
    after_ = open_.empty() ? After::everything : After::value;
    return true;
  }

  bool open(Node::Kind kind) {
    Node* node = add_value(kind);
    if (open_.size() >= kMaxDepth) {
      throw JsonError(node->position, fmt::format("nested deeper than {} brackets", kMaxDepth));
    }
    open_.push_back(node);
    after_ = After::opening;
    return true;
  }

  bool close() {
    cursor_.skip_to_token();
    cursor_.take_token();
    open_.pop_back();
    return close_value();
  }

  TextCursor cursor_;
  Node root_;
  /// Objects and lists not closed yet, outermost first. Only the innermost grows, so the pointers
  /// to its ancestors stay good.
  std::vector<Node*> open_;
  After after_ = After::nothing;
  std::string key_;
  TextPosition key_position_;
  std::string_view token_;
  TextPosition token_position_;
};

bool is_container(const Node& node) {
  return node.kind == Node::Kind::list || node.kind == Node::Kind::object;
}

std::string plain_text(const Node& node) {
  switch (node.kind) {
    case Node::Kind::boolean:
      return node.boolean ? "true" : "false";
    case Node::Kind::number:
      return node.text.empty() ? fmt::format("{}", node.number) : node.text;
    case Node::Kind::string:
      return json_quoted(node.text);
    default:
      return "null";
  }
}

void write(const Node& node, JsonLayout layout, const std::string& indent, std::string& out) {
  if (!is_container(node)) {
    out += plain_text(node);
    return;
  }
  const bool object = node.kind == Node::Kind::object;
  const bool short_list = layout == JsonLayout::short_lists && !object &&
                          std::none_of(node.children.begin(), node.children.end(), is_container);
  const bool stacked = layout != JsonLayout::one_line && !short_list;
  const std::string inner = indent + "  ";
  out += object ? '{' : '[';
  for (std::size_t i = 0; i < node.children.size(); ++i) {
    if (i > 0) out += short_list ? ", " : ",";
    if (stacked) out += '\n' + inner;
    if (object) out += json_quoted(node.children[i].key) + (stacked ? ": " : ":");
    write(node.children[i], layout, inner, out);
  }
  if (stacked && !node.children.empty()) out += '\n' + indent;
  out += object ? '}' : ']';
}

}  // namespace

const Node* Node::member(std::string_view name) const {
  for (const Node& child : children) {
    if (child.key == name) return &child;
  }
  return nullptr;
}

Node* Node::member(std::string_view name) {
  return const_cast<Node*>(std::as_const(*this).member(name));
}

Node parse_json(std::string_view text) {
  text = without_byte_order_mark(text);
  check_encoding(text);
  TreeBuilder builder(text);
  constexpr bool kWholeText = true;
  constexpr bool kComments = true;
  nlohmann::json::sax_parse(text.begin(), text.end(), &builder,
                            nlohmann::json::input_format_t::json, kWholeText, kComments);
  return builder.take_root();
}

std::string json_text(const Node& node, JsonLayout layout) {
  std::string out;
  write(node, layout, "", out);
  return out;
}

std::string to_text(const Node& node) { return json_text(node, JsonLayout::short_lists) + '\n'; }

std::string json_quoted(const std::string& text) {
  return nlohmann::json(text).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

// Not std::to_chars, which in one number of 2,000 finds a shorter or nearer text.
std::string json_number(double value) { return nlohmann::json(value).dump(); }

std::string described(const Node& node) {
  switch (node.kind) {
    case Node::Kind::string:
      return in_quotes(node.text);
    case Node::Kind::list:
      return "a list";
    case Node::Kind::object:
      return "an object";
    default:
      return plain_text(node);
  }
}

}  // namespace amptally::io
