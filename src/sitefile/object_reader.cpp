#include "sitefile/object_reader.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include <fmt/format.h>

#include "amptally/error.hpp"

#include "sitefile/calendar_text.hpp"
#include "sitefile/field_synonyms.hpp"
#include "sitefile/hint.hpp"
#include "sitefile/likely_mistakes.hpp"
#include "text/ascii.hpp"
#include "text/message_text.hpp"

namespace amptally::io {

namespace {

/// `loads[0].runs[2]` -> `loads[].runs[]`; "" for the root
std::string pattern_of(std::string_view path) {
  return path.empty() ? std::string() : FieldPath::parsed(path).value().pattern();
}

std::vector<Dimension> dimensions_of(const Field& field) {
  std::vector<Dimension> out;
  for (const Limits& limits : field.limits) out.push_back(limits.dimension);
  return out;
}

/// Whether the trade says `dimension` in a smaller unit as often (mA, mAh), or by the minute
/// (L/min).
bool is_said_in_two_units(Dimension dimension) {
  return dimension == Dimension::current || dimension == Dimension::charge ||
         dimension == Dimension::flow;
}

/// What a bare number may have been meant as instead: "20 mA" or "20 W" for a draw; empty where its
/// base unit alone is usual.
std::string other_units_text(std::string_view number, const std::vector<Dimension>& accepted) {
  std::vector<std::string> meant;
  const Dimension first = accepted.front();
  if (is_said_in_two_units(first)) {
    meant.push_back(fmt::format("\"{} {}\"", number, unit_symbols(first)[1]));
  }
  for (const Dimension other : std::span(accepted).subspan(1)) {
    meant.push_back(fmt::format("\"{} {}\"", number, base_unit(other)));
  }
  return fmt::format("{}", fmt::join(meant, " or "));
}

bool is_control(char c) {
  const auto byte = static_cast<unsigned char>(c);
  return byte < 0x20 || byte == 0x7F;
}

}  // namespace

void Reading::problem(const Node& at, TextPosition position, const std::string& field,
                      const std::string& message) {
  if (at.setting < 0) {
    problems.push_back({file, position.line, position.column, field, message});
    return;
  }
  const Setting& setting = settings[static_cast<std::size_t>(at.setting)];
  const std::string shown =
      setting.shown.empty()
          ? fmt::format("--set {}={}", on_one_line(setting.path), on_one_line(setting.value))
          : on_one_line(setting.shown);
  problems.push_back({shown, 0, 0, field, message});
}

ObjectReader::ObjectReader(Reading& reading, const Node& node, std::string path)
    : reading_(&reading), node_(node), path_(std::move(path)), pattern_(pattern_of(path_)) {
  check_names();
}

// ---- Names ---------------------------------------------------------------------------------

void ObjectReader::check_names() {
  std::vector<std::string_view> known;
  for (const Field* inside : fields_inside(pattern_, reading_->fields))
    known.push_back(field_name(*inside));
  if (!path_.empty()) known.push_back("notes");
  std::vector<const Node*> members;
  for (const Node& member : node_.children) {
    members.push_back(&member);
    if (std::find(known.begin(), known.end(), member.key) == known.end()) {
      note_unknown(member, known);
    }
  }
  // Stable, so that of two alike the one told of is the later in the file.
  std::stable_sort(members.begin(), members.end(),
                   [](const Node* a, const Node* b) { return a->key < b->key; });
  for (std::size_t i = 1; i < members.size(); ++i) {
    const Node& again = *members[i];
    if (again.key != members[i - 1]->key) continue;
    const std::string first = fmt::format(", first on line {}", members[i - 1]->key_position.line);
    reading_->problem(again, again.key_position, path_of(on_one_line(again.key)),
                      "given twice" + (again.setting < 0 ? first : ""));
  }
}

void ObjectReader::note_unknown(const Node& member, std::span<const std::string_view> known) {
  const std::string_view likely = likely_word(member.key, known);
  if (!likely.empty()) misspelled_.push_back(likely);
  std::vector<std::string_view> listed(known.begin(), known.end());
  std::erase(listed, "notes");
  reading_->problem(
      member, member.key_position, path_of(on_one_line(member.key)),
      "unknown field" + hint(likely, fmt::format("allowed here: {}", fmt::join(listed, ", "))));
}

bool ObjectReader::is_misspelled(std::string_view name) const {
  return std::find(misspelled_.begin(), misspelled_.end(), name) != misspelled_.end();
}

std::string ObjectReader::path_of(std::string_view name) const {
  if (path_.empty() || name.empty()) return path_ + std::string(name);
  return path_ + "." + std::string(name);
}

const Field& ObjectReader::field(std::string_view name) const {
  const std::string pattern =
      pattern_.empty() ? std::string(name) : pattern_ + "." + std::string(name);
  const Field* found = find_field(pattern, reading_->fields);
  assert(found != nullptr);
  return *found;
}

// ---- Problems ------------------------------------------------------------------------------

void ObjectReader::problem_at(const Node& node, const std::string& path,
                              const std::string& message) {
  reading_->problem(node, node.position, path, message);
}

void ObjectReader::problem(std::string_view name, const std::string& message) {
  const Node* node = node_.member(name);
  problem_at(node != nullptr ? *node : node_, path_of(name), message);
}

void ObjectReader::wrong_type(const Node& node, const Field& field, const std::string& path) {
  problem_at(node, path,
             fmt::format("{} is not {}{}", described(node), expected_text(field),
                         hint("", object_meant(field.path, node))));
}

const Node* ObjectReader::get(std::string_view name) {
  const Node* node = node_.member(name);
  if (node == nullptr && field(name).required && !is_misspelled(name)) {
    problem(name, fmt::format("is missing ({} is needed)", expected_text(field(name))));
  }
  return node;
}

const Node* ObjectReader::get(std::string_view name, Node::Kind kind) {
  const Node* node = get(name);
  if (node == nullptr || node->kind == kind) return node;
  wrong_type(*node, field(name), path_of(name));
  return nullptr;
}

// ---- Quantities ----------------------------------------------------------------------------

std::optional<Quantity> ObjectReader::read_quantity(const Node& node, const Field& field,
                                                    const std::string& path,
                                                    std::string_view bare_unit) {
  const std::vector<Dimension> accepted = dimensions_of(field);
  Quantity quantity;
  if (node.kind == Node::Kind::number && bare_unit.empty()) {
    quantity = {node.number, node.number, node.number, accepted.front()};
  } else if (node.kind == Node::Kind::number || node.kind == Node::Kind::string) {
    const std::string text =
        node.kind == Node::Kind::string ? node.text : fmt::format("{} {}", node.text, bare_unit);
    try {
      quantity = parse_quantity(text, accepted);
    } catch (const InputError& error) {
      problem_at(node, path, azimuth_meant(field, text).value_or(error.message()));
      return std::nullopt;
    }
  } else {
    wrong_type(node, field, path);
    return std::nullopt;
  }
  if (!in_range(node, field, quantity, path, bare_unit)) return std::nullopt;
  if (node.kind == Node::Kind::number && bare_unit.empty() && quantity.middle != 0) {
    const std::string meant = other_units_text(node.text, accepted);
    if (!meant.empty()) {
      reading_->assume(
          AssumptionKind::unit,
          fmt::format("{0}: {1} without a unit was taken as {1} {2}; write {3} if that "
                      "was meant.",
                      path, node.text, base_unit(quantity.dimension), meant));
    }
  }
  if (quantity.is_rough()) {
    if (field.exact || field.type == FieldType::integer) {
      problem_at(node, path, described(node) + " is a range; this field takes one figure");
      return std::nullopt;
    }
    reading_->site.rough.push_back(
        {path, quantity.low, quantity.high, std::string(base_unit(quantity.dimension))});
  }
  return quantity;
}

bool ObjectReader::in_range(const Node& node, const Field& field, const Quantity& quantity,
                            const std::string& path, std::string_view bare_unit) {
  const Limits& limits = *limits_in(field, quantity.dimension);
  if (limits.allow(quantity.low) && limits.allow(quantity.high)) return true;
  const bool bare = node.kind == Node::Kind::number;
  const bool bare_share = bare && bare_unit.empty() && quantity.dimension == Dimension::share;
  // A bare number is the share itself: 0.5 is a half. Above 1 it was most likely meant in per cent.
  const bool per_cent_meant = bare_share && quantity.middle > 1 && quantity.middle <= 100;
  const std::string meant = per_cent_meant ? fmt::format("\"{} %\"", node.text) : "";
  const std::string_view in = limits.above_low ? "" : "in ";
  const std::string unit = bare && !bare_unit.empty() ? " " + std::string(bare_unit) : "";
  problem_at(node, path,
             fmt::format("{}{} is not {}{}{}", described(node), unit, in,
                         range_text(limits, bare_share), hint(meant)));
  return false;
}

std::optional<Quantity> ObjectReader::quantity(std::string_view name) {
  const Node* node = get(name);
  if (node == nullptr) return std::nullopt;
  return read_quantity(*node, field(name), path_of(name));
}

std::optional<double> ObjectReader::value(std::string_view name) {
  const std::optional<Quantity> given = quantity(name);
  return given ? std::optional(given->middle) : std::nullopt;
}

double ObjectReader::value_or(std::string_view name, double fallback) {
  return value(name).value_or(fallback);
}

std::optional<Draw> ObjectReader::draw(std::string_view name) {
  const std::optional<Quantity> given = quantity(name);
  if (!given) return std::nullopt;
  const bool watts = given->dimension == Dimension::power;
  return Draw{given->middle, watts ? Draw::Unit::watts : Draw::Unit::amperes};
}

std::optional<Threshold> ObjectReader::threshold(std::string_view name) {
  const std::optional<Quantity> given = quantity(name);
  if (!given) return std::nullopt;
  const bool volts = given->dimension == Dimension::voltage;
  return Threshold{given->middle,
                   volts ? Threshold::Unit::volts : Threshold::Unit::state_of_charge};
}

int ObjectReader::integer_or(std::string_view name, int fallback) {
  const Node* node = get(name);
  if (node == nullptr) return fallback;
  const Field& integer = field(name);
  const bool plain = integer.limits.front().dimension == Dimension::number;
  if (plain && node->kind != Node::Kind::number) {
    problem(name, fmt::format("{} is not a whole number (without quotes)", described(*node)));
    return fallback;
  }
  const std::optional<Quantity> given = read_quantity(*node, integer, path_of(name));
  if (!given) return fallback;
  if (given->middle != std::floor(given->middle)) {
    wrong_type(*node, integer, path_of(name));
    return fallback;
  }
  return static_cast<int>(given->middle);
}

// ---- Words ---------------------------------------------------------------------------------

std::string ObjectReader::text(std::string_view name) {
  const Node* node = get(name, Node::Kind::string);
  if (node == nullptr) return {};
  if (node->text.empty()) problem(name, "is empty (write a name, or leave the field out)");
  const bool one_line = std::none_of(node->text.begin(), node->text.end(), is_control);
  if (one_line) return node->text;
  problem(name, described(*node) + " holds a line break or another control character");
  return {};
}

bool ObjectReader::boolean(std::string_view name) {
  const Node* node = get(name, Node::Kind::boolean);
  return node != nullptr && node->boolean;
}

const Choice* ObjectReader::choice_given(std::string_view name) {
  const Node* node = get(name, Node::Kind::string);
  if (node == nullptr) return nullptr;
  const Field& asked = field(name);
  const auto it = std::find_if(asked.choices.begin(), asked.choices.end(),
                               [&](const Choice& choice) { return choice.word == node->text; });
  if (it != asked.choices.end()) return &*it;
  const std::string_view likely = likely_word(node->text, choice_words(asked));
  problem(name, fmt::format("{} is not {}{}", described(*node), expected_text(asked),
                            hint(likely.empty() ? "" : in_quotes(likely),
                                 battery_meant(asked, node->text))));
  return nullptr;
}

std::string_view ObjectReader::choice_word(std::string_view name) {
  const Choice* const given = choice_given(name);
  return given != nullptr ? given->word : std::string_view{};
}

MonthSet ObjectReader::months(std::string_view name) {
  const Node* node = get(name);
  if (node == nullptr) return MonthSet().set();
  if (node->kind != Node::Kind::string && node->kind != Node::Kind::list) {
    wrong_type(*node, field(name), path_of(name));
    return {};
  }
  try {
    if (node->kind == Node::Kind::string) return parse_months(node->text);
    MonthSet all;
    for (const Node& child : node->children) {
      if (child.kind != Node::Kind::string)
        throw InputError("", described(child) + " is not a month");
      all |= parse_months(child.text);
    }
    if (all.none())
      throw InputError("", "the list names no month (leave the field out for all year)");
    return all;
  } catch (const InputError& error) {
    problem(name, error.message());
    return {};
  }
}

double ObjectReader::minutes_of_day(std::string_view name) {
  const Node* node = get(name, Node::Kind::string);
  if (node == nullptr) return 0;
  try {
    return parse_time_of_day(node->text);
  } catch (const InputError& error) {
    problem(name, error.message());
    return 0;
  }
}

// ---- Compound values -----------------------------------------------------------------------

std::optional<std::pair<double, double>> ObjectReader::azimuth_extent(std::string_view name) {
  const Node* node = get(name, Node::Kind::string);
  if (node == nullptr) return std::nullopt;
  try {
    const auto [from, to] = parse_azimuth_extent(node->text);
    const Limits& limits = field(name).limits.front();
    if (limits.allow(from) && limits.allow(to)) return std::pair{from, to};
    problem(name, fmt::format("{} is not in {}", described(*node), range_text(limits)));
  } catch (const InputError& error) {
    problem(name, error.message());
  }
  return std::nullopt;
}

std::vector<CyclePoint> ObjectReader::cycle_points(std::string_view name) {
  const Node* node = get(name, Node::Kind::list);
  std::vector<CyclePoint> points;
  if (node == nullptr) return points;
  const Field depth{.path = {}, .limits = {{Dimension::share, 0, 1, true}}, .exact = true};
  const Field cycles{.path = {}, .limits = {{Dimension::number, 0, 1e7, true}}, .exact = true};
  for (std::size_t i = 0; i < node->children.size(); ++i) {
    const Node& pair = node->children[i];
    const std::string path = fmt::format("{}[{}]", path_of(name), i);
    if (pair.kind != Node::Kind::list || pair.children.size() != 2) {
      problem_at(pair, path, fmt::format("{} is not [depth, cycles]", described(pair)));
      continue;
    }
    // A bare depth above 1 can only be meant in per cent.
    const bool bare_per_cent =
        pair.children[0].kind == Node::Kind::number && pair.children[0].number > 1;
    const auto x = read_quantity(pair.children[0], depth, path + "[0]", bare_per_cent ? "%" : "");
    const auto y = read_quantity(pair.children[1], cycles, path + "[1]");
    if (!x || !y) continue;
    if (!points.empty() && x->middle <= points.back().depth_share) {
      problem_at(pair, path, "the depths do not rise from point to point");
    }
    points.push_back({x->middle, y->middle});
  }
  if (node->children.empty()) problem(name, "is empty (write points, or leave the field out)");
  return points;
}

std::optional<Monthly> ObjectReader::read_monthly(const Node& node, const Field& field,
                                                  const std::string& path,
                                                  std::string_view bare_unit) {
  if (node.kind != Node::Kind::list) {
    wrong_type(node, field, path);
    return std::nullopt;
  }
  Monthly out{};
  if (node.children.size() != out.size()) {
    // In a list 1,5 is two values.
    const bool halves = node.children.size() == 2 * out.size();
    problem_at(node, path,
               fmt::format("{} values instead of 12{}", node.children.size(),
                           halves ? " (decimal commas? write 1.5, not 1,5)" : ""));
    return std::nullopt;
  }
  bool good = true;
  for (std::size_t i = 0; i < out.size(); ++i) {
    const auto value =
        read_quantity(node.children[i], field, fmt::format("{}[{}]", path, i), bare_unit);
    good = good && value.has_value();
    if (value) out[i] = value->middle;
  }
  return good ? std::optional(out) : std::nullopt;
}

std::optional<Monthly> ObjectReader::monthly(std::string_view name) { return monthly(name, {}); }

std::optional<Monthly> ObjectReader::monthly(std::string_view name, std::string_view bare_unit) {
  const Node* node = get(name);
  return node == nullptr ? std::nullopt
                         : read_monthly(*node, field(name), path_of(name), bare_unit);
}

std::optional<ObjectReader> ObjectReader::object(std::string_view name) {
  const Node* node = get(name, Node::Kind::object);
  if (node == nullptr) return std::nullopt;
  return ObjectReader(*reading_, *node, path_of(name));
}

std::vector<ObjectReader> ObjectReader::list(std::string_view name) {
  std::vector<ObjectReader> out;
  const Node* node = get(name, Node::Kind::list);
  if (node == nullptr) return out;
  for (std::size_t i = 0; i < node->children.size(); ++i) {
    const Node& child = node->children[i];
    std::string path = fmt::format("{}[{}]", path_of(name), i);
    if (child.kind == Node::Kind::object) {
      out.emplace_back(*reading_, child, std::move(path));
    } else {
      problem_at(child, path,
                 fmt::format("{} is not an object {{...}}{}", described(child),
                             hint("", object_meant(pattern_of(path), child))));
    }
  }
  return out;
}

// ---- Whole files ---------------------------------------------------------------------------

std::optional<Node> root_object(Reading& reading, std::string_view text, std::string_view what) {
  Node root;
  try {
    root = parse_json(text);
  } catch (const JsonError& error) {
    reading.problem(root, error.position(), "", error.what());
    return std::nullopt;
  }
  if (root.kind == Node::Kind::object) return root;
  reading.problem(root, root.position, "",
                  fmt::format("{} is an object {{...}}, not {}", what, described(root)));
  return std::nullopt;
}

}  // namespace amptally::io
