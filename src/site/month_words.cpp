#include "site/month_words.hpp"

#include <string_view>
#include <vector>

#include "text/message_text.hpp"

namespace amptally::inline v0_1 {

std::string month_words(const MonthSet& months) {
  if (months.all()) return "all months";
  // From the first month that follows one which is not meant, so that no run is cut.
  std::size_t first = 0;
  while (first < kMonthsPerYear && months[(first + kMonthsPerYear - 1) % kMonthsPerYear]) ++first;
  std::vector<std::string> words;
  for (std::size_t i = 0; i < kMonthsPerYear;) {
    const std::size_t from = (first + i) % kMonthsPerYear;
    std::size_t count = 0;
    while (i + count < kMonthsPerYear && months[(from + count) % kMonthsPerYear]) ++count;
    if (count >= 3) {
      words.push_back(std::string(kMonthNames[from]) + " to " +
                      std::string(kMonthNames[(from + count - 1) % kMonthsPerYear]));
    } else {
      for (std::size_t j = 0; j < count; ++j) {
        words.emplace_back(kMonthNames[(from + j) % kMonthsPerYear]);
      }
    }
    i += count + 1;
  }
  const std::vector<std::string_view> views(words.begin(), words.end());
  return all_of(views);
}

}  // namespace amptally::inline v0_1
