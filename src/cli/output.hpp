#pragma once

#include <iosfwd>
#include <memory>
#include <stdexcept>
#include <string>
#include <string_view>

namespace amptally::cli {

/// A result could not be written.
class OutputError : public std::runtime_error {
 public:
  /// @param fault  errno of the failed call; 0 when unknown
  OutputError(const std::string& target, int fault);
  /// Nothing is tried at all.
  /// @param why  the whole message
  explicit OutputError(const std::string& why) : std::runtime_error(why), is_closed_pipe_(false) {}

  /// Nobody reads any more (`| head`): not worth a message.
  [[nodiscard]] bool is_closed_pipe() const { return is_closed_pipe_; }

 private:
  bool is_closed_pipe_;
};

/// Puts a message on a line of its own.
void print_message(std::ostream& err, std::string_view message);

/// Where a result goes, piece by piece as it is made.
class ResultSink {
 public:
  /// @param file  path of a file, replaced as a whole or not at all; "" or "-": `out`. What is not
  ///   a plain file (a device, a named pipe) is written to directly.
  /// @throws OutputError
  ResultSink(const std::string& file, std::ostream& out);
  /// Without `finish` a file stays as it was.
  ~ResultSink();
  ResultSink(const ResultSink&) = delete;
  ResultSink& operator=(const ResultSink&) = delete;

  /// Writes a piece and makes sure that it has left.
  /// @throws OutputError
  void write(std::string_view text);

  /// Puts a file in its place.
  /// @throws OutputError
  void finish();

 private:
  class NewFile;
  std::unique_ptr<NewFile> file_;  ///< null: `out_`
  std::ostream& out_;
};

/// Writes a whole result through a `ResultSink`.
/// @throws OutputError
void write_result(const std::string& text, const std::string& file, std::ostream& out);

}  // namespace amptally::cli
