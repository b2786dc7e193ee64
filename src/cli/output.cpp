#include "cli/output.hpp"

#include <cerrno>
#include <cstdlib>
#include <fcntl.h>
#include <filesystem>
#include <optional>
#include <ostream>
#include <string_view>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>

#include "report/text.hpp"

namespace amptally::cli {
namespace {

namespace fs = std::filesystem;

std::string reason(int fault) {
  return fault == 0 ? "the write failed" : std::generic_category().message(fault);
}

}  // namespace

/// An open file, closed at the end of its scope. Not in the unnamed namespace: a class with linkage
/// holds one.
class OpenFile {
 public:
  OpenFile(int descriptor, const std::string& name) : descriptor_(descriptor), name_(name) {
    if (descriptor_ < 0) throw OutputError(name_, errno);
  }
  OpenFile(const OpenFile&) = delete;
  OpenFile& operator=(const OpenFile&) = delete;
  ~OpenFile() {
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

namespace {

/// The permissions a new file would get from the shell.
mode_t new_file_mode() {
  // There is no way to ask for the mask but to set it.
  const mode_t mask = ::umask(0);
  ::umask(mask);
  return mode_t{0666} & ~mask;
}

}  // namespace

OutputError::OutputError(const std::string& target, int fault)
    : std::runtime_error("cannot write " + target + ": " + reason(fault)),
      is_closed_pipe_(fault == EPIPE) {}

void print_message(std::ostream& err, std::string_view message) {
  err << "amptally: " << report::printable(message) << '\n';
}

/// A file on its way: written beside its target and renamed over it, so that a reader sees the old
/// file or the new one; what is no plain file (a device, a named pipe) is written to directly.
class ResultSink::NewFile {
 public:
  explicit NewFile(const std::string& name) : name_(name), target_(target_of(name)) {
    if (is_direct_) {
      file_.emplace(::open(name.c_str(), O_WRONLY | O_CLOEXEC), name_);
      return;
    }
    // In the same folder: a file cannot be renamed from one file system to another.
    temporary_ = (target_.parent_path() / ".amptally-XXXXXX").string();
    file_.emplace(::mkstemp(temporary_.data()), name_);
  }
  NewFile(const NewFile&) = delete;
  NewFile& operator=(const NewFile&) = delete;
  ~NewFile() {
    if (!is_direct_ && !is_kept_) ::unlink(temporary_.c_str());
  }

  void write(std::string_view text) const { file_->write(text); }

  void keep() {
    // mkstemp made it for its owner alone.
    if (!is_direct_) file_->set_mode(mode_);
    file_->close();
    if (is_direct_) return;
    if (::rename(temporary_.c_str(), target_.c_str()) != 0) throw OutputError(name_, errno);
    is_kept_ = true;
  }

 private:
  fs::path target_of(const std::string& name) {
    struct stat status {};
    if (::stat(name.c_str(), &status) != 0) {
      mode_ = new_file_mode();
      return name;
    }
    is_direct_ = !S_ISREG(status.st_mode);
    mode_ = status.st_mode & mode_t{07777};
    if (is_direct_) return name;
    // Through a symbolic link the file it names is replaced, not the link.
    std::error_code fault;
    fs::path target = fs::canonical(name, fault);
    if (fault) throw OutputError(name, fault.value());
    return target;
  }

  std::string name_;
  // Before `target_`, as `target_of` sets this and the mode.
  bool is_direct_ = false;
  bool is_kept_ = false;
  mode_t mode_ = 0;
  fs::path target_;
  std::string temporary_;
  std::optional<OpenFile> file_;
};

ResultSink::ResultSink(const std::string& file, std::ostream& out) : out_(out) {
  if (!file.empty() && file != "-") file_ = std::make_unique<NewFile>(file);
}

ResultSink::~ResultSink() = default;

void ResultSink::write(std::string_view text) {
  if (file_) return file_->write(text);
  // A stream does not say why it failed: the call beneath it leaves that in errno.
  errno = 0;
  out_.write(text.data(), static_cast<std::streamsize>(text.size()));
  out_.flush();
  if (!out_) throw OutputError("standard output", errno);
}

void ResultSink::finish() {
  if (file_) file_->keep();
}

void write_result(const std::string& text, const std::string& file, std::ostream& out) {
  ResultSink sink(file, out);
  sink.write(text);
  sink.finish();
}

}  // namespace amptally::cli
