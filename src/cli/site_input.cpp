#include "cli/site_input.hpp"

#include "cli/demo_site.hpp"
#include "io/file_text.hpp"

namespace amptally::cli {
namespace {

std::vector<io::Setting> settings_of(const SiteOptions& options) {
  std::vector<io::Setting> settings;
  for (const std::string& text : options.settings) settings.push_back(io::split_setting(text));
  return settings;
}

}  // namespace

std::string site_name(const SiteOptions& options) {
  return options.demo ? "the built-in example" : io::shown_name(options.file);
}

io::ReadResult read_site(const SiteOptions& options, std::istream& in) {
  if (options.demo && !options.file.empty()) {
    throw UsageError("--demo and " + options.file + ": give one of them");
  }
  if (!options.demo && options.file.empty()) {
    throw UsageError(
        "no site file given: amptally new > site.json writes one to start from, --demo uses the "
        "built-in example");
  }
  const std::vector<io::Setting> settings = settings_of(options);
  const std::string text =
      options.demo ? std::string(demo_site()) : io::read_file(options.file, in);
  return io::read_site(text, site_name(options), settings);
}

Site good_site(const SiteOptions& options, std::istream& in) {
  io::ReadResult result = read_site(options, in);
  if (result.site && result.problems.empty()) return std::move(*result.site);
  throw RefusedSite(std::move(result.problems));
}

}  // namespace amptally::cli
