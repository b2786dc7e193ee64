#include "site/site_numbers.hpp"

#include <utility>

namespace amptally {
namespace {

/// Where the brackets number `which` of a pattern open; npos where it has no more.
std::size_t opening(std::string_view pattern, std::size_t which) {
  std::size_t at = pattern.find('[');
  for (; which > 0 && at != pattern.npos; --which) at = pattern.find('[', at + 1);
  return at;
}

class Collector {
 public:
  explicit Collector(const Site& site) : site_(site) {}

  /// @param known  how many of the path's brackets have their number in `indices`
  void add(const Field& field, PathIndices indices = {}, std::size_t known = 0) {
    const std::size_t open = opening(field.path, known);
    if (open != field.path.npos) {
      const Field& list = *find_field(field.path.substr(0, open));
      const std::size_t size = list.size(site_, indices);
      for (indices[known] = 0; indices[known] < size; ++indices[known]) {
        add(field, indices, known + 1);
      }
    } else if (is_by_month(field)) {
      for (indices[known] = 0; indices[known] < kMonthsPerYear; ++indices[known]) {
        add_one(field, indices);
      }
    } else {
      add_one(field, indices);
    }
  }

  std::vector<SiteNumber> numbers;

 private:
  void add_one(const Field& field, const PathIndices& indices) {
    // One accessor serves reading and writing; nothing is written here.
    const NumberAt number = field.number(const_cast<Site&>(site_), indices);
    if (!number.is_given()) return;
    const Limits& first = field.limits.front();
    const Limits* const limits = limits_in(field, number.said_in.value_or(first.dimension));
    numbers.push_back({&field, indices, number.value(), limits});
  }

  const Site& site_;
};

}  // namespace

std::string SiteNumber::path() const {
  std::string out;
  std::size_t known = 0;
  for (const char c : field->path) {
    out += c;
    if (c == '[') out += std::to_string(indices[known++]);
  }
  if (is_by_month(*field)) out += '[' + std::to_string(indices[known]) + ']';
  return out;
}

std::vector<SiteNumber> site_numbers(const Site& site) {
  Collector collector(site);
  for (const Field& field : all_fields()) {
    if (field.number != nullptr && field.path != "place.insolation.values") collector.add(field);
  }
  return std::move(collector.numbers);
}

}  // namespace amptally
