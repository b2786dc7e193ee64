#pragma once

#include <initializer_list>
#include <iosfwd>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "cli/options.hpp"
#include "sitefile/site_reader.hpp"
#include "sitefile/variant_reader.hpp"

namespace amptally::cli {

/// The site cannot be used, for all these reasons.
class RefusedSite : public std::runtime_error {
 public:
  explicit RefusedSite(std::vector<io::Problem> problems)
      : std::runtime_error("the site has problems"), problems_(std::move(problems)) {}

  [[nodiscard]] const std::vector<io::Problem>& problems() const { return problems_; }

 private:
  std::vector<io::Problem> problems_;
};

/// An input that a command may read, by what it is called.
struct NamedInput {
  std::string_view name;
  const std::string& file;
};

/// @throws UsageError if two of the inputs are standard input
void refuse_input_twice(std::initializer_list<NamedInput> inputs);

/// What messages call the site that was asked for.
[[nodiscard]] std::string site_name(const SiteOptions& options);

/// The site asked for, or what is wrong with it.
/// @throws UsageError if none, or more than one, was asked for; DataError if it cannot be read
[[nodiscard]] io::ReadResult read_site(const SiteOptions& options, std::istream& in);

/// The site asked for.
/// @throws as `read_site`, and RefusedSite with all that is wrong
[[nodiscard]] Site good_site(const SiteOptions& options, std::istream& in);

/// The text of the site asked for, before the settings.
/// @throws UsageError if none, or more than one, was asked for; DataError if it cannot be read
[[nodiscard]] std::string site_text(const SiteOptions& options, std::istream& in);

/// The site in a text that was read already, with the settings.
/// @throws RefusedSite with all that is wrong
[[nodiscard]] Site good_site_in(const std::string& text, const SiteOptions& options);

/// A reader of the site asked for with other values in some fields.
/// @throws as `good_site`
[[nodiscard]] io::VariantReader good_variants(const SiteOptions& options,
                                              std::vector<io::VariedField> varied,
                                              std::istream& in);

/// The site asked for with more loads, each in one line (`io::load_object`), at the end of its
/// list.
/// @throws as `good_site`; UsageError for a line that is no load
[[nodiscard]] Site good_site_with_loads(const SiteOptions& options,
                                        const std::vector<std::string>& loads, std::istream& in);

}  // namespace amptally::cli
