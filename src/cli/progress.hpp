#pragma once

#include <cstddef>
#include <cstdint>
#include <iosfwd>
#include <string>

namespace amptally::cli {

/// How far a long run has come, in one line of a terminal that is gone at the end.
class Progress {
 public:
  /// @param is_shown  false: it says nothing
  Progress(std::ostream& err, std::uint64_t total, bool is_shown)
      : err_(err), total_(total), is_shown_(is_shown) {}
  ~Progress() { show(""); }
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

  void at(std::uint64_t done);

 private:
  void show(const std::string& text);

  std::ostream& err_;
  std::uint64_t total_;
  bool is_shown_;
  std::size_t width_ = 0;  ///< of what stands there
};

}  // namespace amptally::cli
