#include "text/closest_word.hpp"

#include <algorithm>
#include <vector>

#include "text/ascii.hpp"

namespace amptally::inline v0_1 {
namespace {

/// Most slips a word of this length may hold and still be recognised. Chosen: one in a short word,
/// three in a long one; a single letter is never corrected, only its case.
std::size_t slips_allowed(std::size_t length) {
  if (length <= 1) return 0;
  if (length <= 4) return 1;
  return length <= 8 ? 2 : 3;
}

/// Whether `word`, of three letters or more, is how `candidate` begins: "cap" for "capacity".
bool abbreviates(std::string_view word, std::string_view candidate) {
  if (word.size() < 3 || word.size() >= candidate.size()) return false;
  return std::equal(word.begin(), word.end(), candidate.begin(),
                    [](char a, char b) { return lower(a) == lower(b); });
}

/// Optimal string alignment distance, ignoring ASCII case.
std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> before(b.size() + 1);
  std::vector<std::size_t> last(b.size() + 1);
  std::vector<std::size_t> row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const bool same = lower(a[i - 1]) == lower(b[j - 1]);
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + (same ? 0U : 1U)});
      const bool swapped = i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) &&
                           lower(a[i - 2]) == lower(b[j - 1]);
      if (swapped) row[j] = std::min(row[j], before[j - 2] + 1);
    }
    before.swap(last);
    last.swap(row);
  }
  return last[b.size()];
}

}  // namespace

std::string_view near_miss(std::string_view word, std::span<const std::string_view> candidates) {
  std::string_view best;
  std::size_t fewest = slips_allowed(word.size()) + 1;
  for (const std::string_view candidate : candidates) {
    const std::size_t longer = std::max(word.size(), candidate.size());
    const std::size_t shorter = std::min(word.size(), candidate.size());
    const bool cut_short = abbreviates(word, candidate);
    if (shorter == 0 || (longer - shorter >= fewest && !cut_short)) continue;
    const std::size_t slips = cut_short ? 1 : edit_distance(word, candidate);
    // Every letter replaced is no resemblance.
    if (slips < fewest && slips < longer) {
      fewest = slips;
      best = candidate;
    }
  }
  return best;
}

}  // namespace amptally::inline v0_1
