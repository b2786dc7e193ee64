#include "cli/site_input.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "amptally/error.hpp"

#include "cli/demo_site.hpp"
#include "sitefile/file_text.hpp"
#include "sitefile/load_text.hpp"

namespace amptally::cli {
namespace {

std::vector<io::Setting> settings_of(const SiteOptions& options) {
  std::vector<io::Setting> settings;
  for (const std::string& text : options.settings) settings.push_back(io::split_setting(text));
  return settings;
}

Site good(io::ReadResult result) {
  if (result.site && result.problems.empty()) return std::move(*result.site);
  throw RefusedSite(std::move(result.problems));
}

}  // namespace

void refuse_input_twice(std::initializer_list<NamedInput> inputs) {
  const auto from_input = std::count_if(inputs.begin(), inputs.end(),
                                        [](const NamedInput& input) { return input.file == "-"; });
  if (from_input < 2) return;
  std::vector<std::string_view> names;
  for (const NamedInput& input : inputs) names.push_back(input.name);
  if (names.size() == 2) {
    throw UsageError(fmt::format("the {} and the {} cannot both be read from standard input",
                                 names[0], names[1]));
  }
  const std::string_view last = names.back();
  names.pop_back();
  throw UsageError(fmt::format("only one of {} and {} can be read from standard input",
                               fmt::join(names, ", "), last));
}

std::string site_text(const SiteOptions& options, std::istream& in) {
  if (options.demo && !options.file.empty()) {
    throw UsageError("--demo and " + options.file + ": give one of them");
  }
  if (!options.demo && options.file.empty()) {
    throw UsageError(
        "no site file given: amptally new > site.json writes one to start from, --demo uses the "
        "built-in example");
  }
  return options.demo ? std::string(demo_site()) : io::read_file(options.file, in);
}

std::string site_name(const SiteOptions& options) {
  return options.demo ? "the built-in example" : io::shown_name(options.file);
}

io::ReadResult read_site(const SiteOptions& options, std::istream& in) {
  const std::string text = site_text(options, in);
  return io::read_site(text, site_name(options), settings_of(options));
}

Site good_site(const SiteOptions& options, std::istream& in) {
  return good(read_site(options, in));
}

Site good_site_in(const std::string& text, const SiteOptions& options) {
  return good(io::read_site(text, site_name(options), settings_of(options)));
}

io::VariantReader good_variants(const SiteOptions& options, std::vector<io::VariedField> varied,
                                std::istream& in) {
  const std::string text = site_text(options, in);
  io::VariantReader variants(text, site_name(options), settings_of(options), std::move(varied));
  (void)good(variants.unchanged());
  return variants;
}

Site good_site_with_loads(const SiteOptions& options, const std::vector<std::string>& loads,
                          std::istream& in) {
  const std::string text = site_text(options, in);
  const std::string name = site_name(options);
  std::vector<io::Setting> settings = settings_of(options);
  // The site must be good without them: only then is the place in the list known.
  std::size_t next = good(io::read_site(text, name, settings)).loads.size();
  for (const std::string& load : loads) {
    try {
      settings.push_back({.path = fmt::format("loads[{}]", next++),
                          .value = io::load_object(load),
                          .shown = fmt::format("--load '{}'", load)});
    } catch (const InputError& error) {
      throw UsageError(fmt::format("--load: {}", error.what()));
    }
  }
  return good(io::read_site(text, name, settings));
}

}  // namespace amptally::cli
