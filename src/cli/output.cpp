#include "cli/output.hpp"

#include <cerrno>
#include <cstdlib>
#include <fcntl.h>
#include <filesystem>
#include <ostream>
#include <string_view>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>

namespace amptally::cli {
namespace {

namespace fs = std::filesystem;

std::string reason(int fault) {
  return fault == 0 ? "the write failed" : std::generic_category().message(fault);
}

/// An open file, closed at the end of its scope.
class File {
 public:
  File(int descriptor, const std::string& name) : descriptor_(descriptor), name_(name) {
    if (descriptor_ < 0) throw OutputError(name_, errno);
  }
  File(const File&) = delete;
  File& operator=(const File&) = delete;
  ~File() {
    if (descriptor_ >= 0) ::close(descriptor_);
  }

  void write(std::string_view text) const {
    while (!text.empty()) {
      const ssize_t written = ::write(descriptor_, text.data(), text.size());
      if (written < 0 && errno != EINTR) throw OutputError(name_, errno);
      if (written > 0) text.remove_prefix(static_cast<std::size_t>(written));
    }
  }

  void set_mode(mode_t mode) const {
    if (::fchmod(descriptor_, mode) != 0) throw OutputError(name_, errno);
  }

  /// Some file systems report a failed write only now.
  void close() {
    const int descriptor = descriptor_;
    descriptor_ = -1;
    if (::close(descriptor) != 0) throw OutputError(name_, errno);
  }

 private:
  int descriptor_;
  const std::string& name_;
};

/// The permissions a new file would get from the shell.
mode_t new_file_mode() {
  const mode_t mask = ::umask(0);
  ::umask(mask);
  return mode_t{0666} & ~mask;
}

/// Writes beside `target` and renames, so that a reader sees the old file or the new one.
void replace_file(const std::string& text, const fs::path& target, mode_t mode,
                  const std::string& shown_name) {
  std::string temporary = (target.parent_path() / ".amptally-XXXXXX").string();
  File file(::mkstemp(temporary.data()), shown_name);
  try {
    file.write(text);
    file.set_mode(mode);
    file.close();
    if (::rename(temporary.c_str(), target.c_str()) != 0) throw OutputError(shown_name, errno);
  } catch (...) {
    ::unlink(temporary.c_str());
    throw;
  }
}

void write_file(const std::string& text, const std::string& name) {
  struct stat status {};
  const bool exists = ::stat(name.c_str(), &status) == 0;
  if (exists && !S_ISREG(status.st_mode)) {
    File file(::open(name.c_str(), O_WRONLY | O_CLOEXEC), name);
    file.write(text);
    file.close();
    return;
  }
  // Through a symbolic link the file it names is replaced, not the link.
  std::error_code fault;
  const fs::path target = exists ? fs::canonical(name, fault) : fs::path(name);
  if (fault) throw OutputError(name, fault.value());
  replace_file(text, target, exists ? status.st_mode & mode_t{07777} : new_file_mode(), name);
}

}  // namespace

OutputError::OutputError(const std::string& target, int fault)
    : std::runtime_error("cannot write " + target + ": " + reason(fault)),
      is_closed_pipe_(fault == EPIPE) {}

void write_result(const std::string& text, const std::string& file, std::ostream& out) {
  if (!file.empty() && file != "-") return write_file(text, file);
  errno = 0;
  out.write(text.data(), static_cast<std::streamsize>(text.size()));
  out.flush();
  if (!out) throw OutputError("standard output", errno);
}

}  // namespace amptally::cli
