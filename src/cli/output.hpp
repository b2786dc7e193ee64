#pragma once

#include <iosfwd>
#include <stdexcept>
#include <string>

namespace amptally::cli {

/// A result could not be written.
class OutputError : public std::runtime_error {
 public:
  /// @param fault  errno of the failed call; 0 when unknown
  OutputError(const std::string& target, int fault);

  /// Nobody reads any more (`| head`): not worth a message.
  [[nodiscard]] bool is_closed_pipe() const { return is_closed_pipe_; }

 private:
  bool is_closed_pipe_;
};

/// Writes a whole result and makes sure that it has left.
///
/// @param file  path of a file, replaced as a whole or not at all; "" or "-": `out`. What is not a
///   plain file (a device, a named pipe) is written to directly.
/// @throws OutputError
void write_result(const std::string& text, const std::string& file, std::ostream& out);

}  // namespace amptally::cli
