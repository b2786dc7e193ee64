#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "amptally/site.hpp"

#include "sitefile/json_text.hpp"
#include "sitefile/setting.hpp"
#include "sitefile/site_reader.hpp"
#include "sitefile/varied_field.hpp"

namespace amptally::io {

/// A site file parsed once and read again and again with other values in some fields.
///
/// What it reads is what `read_site` would with these values as settings. The parts of the site
/// that no varied field can reach are read once: a battery that varies does not look up the place
/// again.
class VariantReader {
 public:
  /// @param settings  put in before the varied values
  VariantReader(std::string_view text, const std::string& file_name, std::vector<Setting> settings,
                std::vector<VariedField> varied);

  /// The site as the file and the settings have it.
  [[nodiscard]] const ReadResult& unchanged() const { return unchanged_; }

  /// The site with a value for each varied field, put in in their order. Only where the unchanged
  /// site has no problems.
  [[nodiscard]] ReadResult read(std::span<const VariedValue> values) const;

  /// Makes sure that each varied field has its place in the site, and that its value stands once
  /// all are put in.
  /// @throws InputError (field: the path) for a list element that is not there, or a value that
  ///   does not last: because the same field is named twice in different words, or because one
  ///   field takes another's place
  void check_places(std::span<const VariedValue> values) const;

 private:
  /// What reading one part added.
  struct Added {
    bool again = true;  ///< a varied field reaches it: read it each time
    std::vector<RoughInput> rough;
    std::vector<Assumption> assumptions;
  };

  /// @throws InputError as `put_value`
  void put(Node& root, std::span<const VariedValue> values, std::size_t v) const;
  [[nodiscard]] ReadResult read_unchanged(std::string_view text);
  void keep(Site& site, const Node& root);

  std::string file_name_;
  std::vector<VariedField> varied_;
  std::vector<Setting> settings_;  ///< the varied fields' after the others
  std::size_t first_varied_;       ///< among the settings
  std::vector<Added> added_;       ///< a part each
  Site site_;                      ///< the parts that are read once
  Node root_;                      ///< the objects that are read each time
  ReadResult unchanged_;
};

}  // namespace amptally::io
