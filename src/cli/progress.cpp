#include "cli/progress.hpp"

#include <algorithm>
#include <ostream>

#include <fmt/format.h>

namespace amptally::cli {

void Progress::at(std::uint64_t done) {
  show(fmt::format("{} of {} records ({:.0f} %)", done, total_,
                   100 * static_cast<double>(done) / static_cast<double>(total_)));
}

void Progress::show(const std::string& text) {
  if (!is_shown_ || text.size() + width_ == 0) return;
  err_ << '\r' << text << std::string(width_ - std::min(width_, text.size()), ' ');
  if (text.empty()) err_ << '\r';
  err_.flush();
  width_ = text.size();
}

}  // namespace amptally::cli
