#include "sitefile/setting.hpp"

#include <algorithm>
#include <charconv>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "amptally/error.hpp"

#include "site/fields.hpp"
#include "sitefile/field_synonyms.hpp"
#include "sitefile/hint.hpp"
#include "sitefile/read_schedules.hpp"
#include "text/closest_word.hpp"
#include "text/message_text.hpp"
#include "text/utf8.hpp"

namespace amptally::io {

namespace {

class Applier {
 public:
  Applier(const std::string& path, int index)
      : path_(path), steps_(steps_of(path)), index_(index) {}

  void apply(Node& root, Node value) const {
    const std::vector<PathStep>& steps = steps_;
    Node* node = &root;
    for (std::size_t i = 0; i < steps.size(); ++i) {
      become_container(*node, steps[i]);
      if (i + 1 == steps.size()) drop_rival_schedules(*node, steps[i]);
      node = steps[i].in_brackets ? &element(*node, steps[i].text) : &member(*node, steps[i].text);
    }
    value.key = node->key;
    mark(value);
    *node = std::move(value);
  }

 private:
  [[noreturn]] void fail(const std::string& message) const {
    throw InputError(on_one_line(path_), message);
  }

  [[nodiscard]] static std::vector<PathStep> steps_of(const std::string& path) {
    const std::optional<FieldPath> parsed = FieldPath::parsed(path);
    const auto is_empty = [](const PathStep& step) { return step.text.empty(); };
    if (!parsed || std::ranges::any_of(parsed->steps(), is_empty)) {
      throw InputError(on_one_line(path), "not a path (write it like loads[pump].draw)");
    }
    return parsed->steps();
  }

  void become_container(Node& node, const PathStep& next) const {
    const Node::Kind wanted = next.in_brackets ? Node::Kind::list : Node::Kind::object;
    if (node.kind == wanted) return;
    if (node.kind == Node::Kind::null) {
      node.kind = wanted;
      node.setting = index_;
      return;
    }
    const std::string what = node.key.empty() ? "the value there" : on_one_line(node.key);
    if (node.kind == Node::Kind::list) {
      fail(fmt::format("{} is a list (write {}[0] or {}[NAME])", what, what, what));
    }
    fail(fmt::format("{} is {}, not {}", what, described(node),
                     next.in_brackets ? "a list" : "an object"));
  }

  static Node& member(Node& object, std::string_view name) {
    if (Node* found = object.member(name)) return *found;
    Node& added = object.children.emplace_back();
    added.key = name;
    return added;
  }

  Node& element(Node& list, std::string_view text) const {
    const bool number = text.find_first_not_of("0123456789") == text.npos;
    if (!number) return named_element(list, text);
    // Past the end, and stays so where the number is too large to be read.
    std::size_t at = list.children.size() + 1;
    std::from_chars(text.data(), text.data() + text.size(), at);
    if (at < list.children.size()) return list.children[at];
    if (at > list.children.size()) {
      fail(fmt::format("[{}] is past the end (counted from 0, there are {})", on_one_line(text),
                       list.children.size()));
    }
    return list.children.emplace_back();
  }

  Node& named_element(Node& list, std::string_view name) const {
    std::vector<std::string> names;
    for (Node& child : list.children) {
      const Node* own = child.member("name");
      if (own == nullptr || own->kind != Node::Kind::string) continue;
      if (own->text == name) return child;
      names.push_back(on_one_line(own->text));
    }
    if (names.empty()) fail(fmt::format("nothing in the list is called {}", in_quotes(name)));
    const std::vector<std::string_view> candidates(names.begin(), names.end());
    fail(fmt::format(
        "nothing in the list is called {}{}", in_quotes(name),
        hint(near_miss(name, candidates), fmt::format("there are {}", fmt::join(names, ", ")))));
  }

  /// A load has one schedule, so giving another is an exchange, not a second one.
  static void drop_rival_schedules(Node& object, const PathStep& step) {
    const auto is_of = [](const ScheduleField& field, std::string_view name) {
      return name == field.name || (!field.choice.empty() && name == field.choice);
    };
    const auto fields = schedule_fields();
    const auto kept = std::ranges::find(fields, step.text, &ScheduleField::name);
    if (step.in_brackets || kept == fields.end()) return;
    std::erase_if(object.children, [&](const Node& child) {
      return !is_of(*kept, child.key) &&
             std::ranges::any_of(fields, [&](const auto& f) { return is_of(f, child.key); });
    });
  }

  void mark(Node& node) const {
    node.setting = index_;
    for (Node& child : node.children) mark(child);
  }

  const std::string& path_;
  std::vector<PathStep> steps_;
  int index_;
};

/// Whether a text that begins like a number ends in a letter or "%": that is never JSON, and the
/// parser would be long in explaining why. (A number with a comment behind it is.)
bool is_number_with_unit(std::string_view text) {
  if (text.empty()) return false;
  const auto is_in = [](char c, char low, char high) { return c >= low && c <= high; };
  const char last = text.back();
  const bool begins = is_in(text.front(), '0', '9') || text.front() == '-';
  const bool ends = is_in(last, 'a', 'z') || is_in(last, 'A', 'Z') || last == '%';
  return begins && ends && text.find("//") == text.npos && text.find("/*") == text.npos;
}

}  // namespace

Setting split_setting(std::string_view text) {
  if (!is_utf8(text)) throw InputError("", in_quotes(text) + " is not UTF-8 text");
  bool in_brackets = false;  // a name there may hold a = of its own
  std::size_t at = 0;
  for (; at < text.size() && (in_brackets || text[at] != '='); ++at) {
    if (text[at] == '[' || text[at] == ']') in_brackets = text[at] == '[';
  }
  if (at == text.size() || at == 0) {
    throw InputError("", fmt::format("{} is not PATH=VALUE (such as battery.capacity='12 Ah')",
                                     in_quotes(text)));
  }
  return {std::string(text.substr(0, at)), std::string(text.substr(at + 1))};
}

const Field& known_field(const std::string& path) {
  if (const Field* field = field_meant_by(path)) return *field;
  throw InputError(on_one_line(path),
                   "the site file has no such field" +
                       hint(on_one_line(near_miss_field(path)), "`amptally explain` lists them"));
}

Node setting_value(std::string_view text) {
  Node plain;
  plain.kind = Node::Kind::string;
  plain.text = text;
  if (is_number_with_unit(text)) return plain;
  try {
    Node value = parse_json(text);
    return value.kind == Node::Kind::null ? plain : value;
  } catch (const JsonError&) {
    return plain;  // `400mA`, as a person types it
  }
}

void put_value(Node& root, const std::string& path, Node value, int index) {
  Applier(path, index).apply(root, std::move(value));
}

void apply_setting(Node& root, const Setting& setting, int index) {
  // Made before the field is looked for: it refuses what is no path at all.
  const Applier applier(setting.path, index);
  (void)known_field(setting.path);
  applier.apply(root, setting_value(setting.value));
}

}  // namespace amptally::io
