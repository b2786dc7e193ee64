#pragma once

#include <iosfwd>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "cli/options.hpp"
#include "io/site_reader.hpp"

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

/// What messages call the site that was asked for.
[[nodiscard]] std::string site_name(const SiteOptions& options);

/// The site asked for, or what is wrong with it.
/// @throws UsageError if none, or more than one, was asked for; DataError if it cannot be read
[[nodiscard]] io::ReadResult read_site(const SiteOptions& options, std::istream& in);

/// The site asked for.
/// @throws as `read_site`, and RefusedSite with all that is wrong
[[nodiscard]] Site good_site(const SiteOptions& options, std::istream& in);

/// The site asked for with more loads, each in one line (`io::load_object`), at the end of its
/// list.
/// @throws as `good_site`; UsageError for a line that is no load
[[nodiscard]] Site good_site_with_loads(const SiteOptions& options,
                                        const std::vector<std::string>& loads, std::istream& in);

}  // namespace amptally::cli
