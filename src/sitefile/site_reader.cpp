#include "sitefile/site_reader.hpp"

#include "amptally/error.hpp"

#include "sitefile/json_text.hpp"
#include "sitefile/object_reader.hpp"
#include "sitefile/site_sections.hpp"

namespace amptally::io {

namespace {

void apply_settings(Reading& reading, Node& root) {
  for (std::size_t i = 0; i < reading.settings.size(); ++i) {
    try {
      apply_setting(root, reading.settings[i], static_cast<int>(i));
    } catch (const InputError& error) {
      note_setting(reading, static_cast<int>(i), error);
    }
  }
}

void read_text(Reading& reading, std::string_view text) {
  std::optional<Node> root = root_object(reading, text, "a site file");
  if (!root) return;
  apply_settings(reading, *root);
  ObjectReader reader(reading, *root, "");
  for (const SitePart& part : site_parts()) part.read(reading, reader);
  name_by_place(reading.site);
}

}  // namespace

ReadResult read_site(std::string_view text, const std::string& file_name,
                     std::span<const Setting> settings) {
  Reading reading{file_name, settings, {}, {}};
  read_text(reading, text);
  sort_by_place(reading.problems);
  ReadResult result{std::nullopt, std::move(reading.problems)};
  if (result.problems.empty()) result.site = std::move(reading.site);
  return result;
}

}  // namespace amptally::io
