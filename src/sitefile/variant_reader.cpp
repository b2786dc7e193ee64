#include "sitefile/variant_reader.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

#include "amptally/error.hpp"

#include "sitefile/site_sections.hpp"
#include "text/message_text.hpp"

namespace amptally::io {
namespace {

/// Whether each part is reached by a varied field, by itself or through a part it looks at.
std::vector<bool> reached_parts(const std::vector<VariedField>& varied) {
  const auto parts = site_parts();
  std::vector<bool> reached(parts.size());
  const auto at = [&](const SitePart& part) { return static_cast<std::size_t>(&part - &parts[0]); };
  for (const VariedField& field : varied) reached[at(part_of(field.path))] = true;
  for (const SitePart& part : parts) {
    if (!part.looks_at.empty() && reached[at(part_of(part.looks_at))]) reached[at(part)] = true;
  }
  return reached;
}

bool has_mark(const Node& node, int index) {
  return node.setting == index ||
         std::any_of(node.children.begin(), node.children.end(),
                     [&](const Node& child) { return has_mark(child, index); });
}

template <class T>
std::vector<T> tail(const std::vector<T>& all, std::size_t from) {
  return {all.begin() + static_cast<std::ptrdiff_t>(from), all.end()};
}

template <class T>
void append(std::vector<T>& to, const std::vector<T>& more) {
  to.insert(to.end(), more.begin(), more.end());
}

ReadResult finished(Reading reading) {
  sort_by_place(reading.problems);
  ReadResult result{std::nullopt, std::move(reading.problems)};
  if (!result.problems.empty()) return result;
  name_by_place(reading.site);
  result.site = std::move(reading.site);
  return result;
}

}  // namespace

VariantReader::VariantReader(std::string_view text, const std::string& file_name,
                             std::vector<Setting> settings, std::vector<VariedField> varied)
    : file_name_(file_name),
      varied_(std::move(varied)),
      settings_(std::move(settings)),
      first_varied_(settings_.size()),
      added_(site_parts().size()) {
  for (const VariedField& field : varied_) {
    settings_.push_back({.path = field.path, .value = {}, .shown = "--vary " + field.path});
  }
  const std::vector<bool> reached = reached_parts(varied_);
  for (std::size_t p = 0; p < added_.size(); ++p) added_[p].again = reached[p];
  unchanged_ = read_unchanged(text);
}

ReadResult VariantReader::read_unchanged(std::string_view text) {
  Reading reading{file_name_, settings_, {}, {}};
  const std::optional<Node> root = root_object(reading, text, "a site file");
  if (!root) return finished(std::move(reading));
  Node changed = *root;
  for (std::size_t i = 0; i < first_varied_; ++i) {
    try {
      apply_setting(changed, settings_[i], static_cast<int>(i));
    } catch (const InputError& error) {
      note_setting(reading, static_cast<int>(i), error);
    }
  }
  ObjectReader reader(reading, changed, "");
  for (std::size_t p = 0; p < added_.size(); ++p) {
    const std::size_t rough = reading.site.rough.size();
    const std::size_t assumptions = reading.site.assumptions.size();
    site_parts()[p].read(reading, reader);
    added_[p].rough = tail(reading.site.rough, rough);
    added_[p].assumptions = tail(reading.site.assumptions, assumptions);
  }
  keep(reading.site, changed);
  return finished(std::move(reading));
}

// What the variants share: the site without the parts that are read each time, the tree with them
// alone.
void VariantReader::keep(Site& site, const Node& root) {
  site_ = site;
  site_.rough.clear();
  site_.assumptions.clear();
  root_ = root;
  std::erase_if(root_.children, [&](const Node& member) {
    return !added_[static_cast<std::size_t>(&part_of(member.key) - &site_parts()[0])].again;
  });
  for (std::size_t p = 0; p < added_.size(); ++p) {
    if (added_[p].again) site_parts()[p].clear(site_);
  }
}

void VariantReader::put(Node& root, std::span<const VariedValue> values, std::size_t v) const {
  put_value(root, varied_[v].path, values[v].node, static_cast<int>(first_varied_ + v));
}

ReadResult VariantReader::read(std::span<const VariedValue> values) const {
  Reading reading{file_name_, settings_, site_, {}};
  Node root = root_;
  for (std::size_t v = 0; v < values.size(); ++v) {
    try {
      put(root, values, v);
    } catch (const InputError& error) {
      note_setting(reading, static_cast<int>(first_varied_ + v), error);
    }
  }
  ObjectReader reader(reading, root, "");
  for (std::size_t p = 0; p < added_.size(); ++p) {
    if (added_[p].again) {
      site_parts()[p].read(reading, reader);
      continue;
    }
    // Part by part, so that they stand in the order of a site that was read as a whole.
    append(reading.site.rough, added_[p].rough);
    append(reading.site.assumptions, added_[p].assumptions);
  }
  return finished(std::move(reading));
}

void VariantReader::check_places(std::span<const VariedValue> values) const {
  Node root = root_;
  for (std::size_t v = 0; v < values.size(); ++v) put(root, values, v);
  for (std::size_t v = 0; v < values.size(); ++v) {
    if (has_mark(root, static_cast<int>(first_varied_ + v))) continue;
    throw InputError(on_one_line(varied_[v].path),
                     "does not last: what varies after it takes its place (the same field in "
                     "other words, or one that goes without it)");
  }
}

}  // namespace amptally::io
