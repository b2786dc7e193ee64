#include "sitefile/file_text.hpp"

#include <filesystem>
#include <fstream>
#include <istream>
#include <system_error>

#include <fmt/format.h>

#include "amptally/error.hpp"

namespace amptally::io {

namespace {

std::string size_text(std::size_t bytes) {
  constexpr std::size_t kMiB = std::size_t{1} << 20U;
  return bytes % kMiB == 0 ? fmt::format("{} MiB", bytes / kMiB) : fmt::format("{} bytes", bytes);
}

/// Reads by blocks: the size of a pipe or a device is not known beforehand.
std::string read_stream(std::istream& in, const std::string& name, std::size_t limit_bytes) {
  std::string text;
  constexpr std::size_t kBlock = std::size_t{1} << 16U;
  while (in) {
    const std::size_t before = text.size();
    text.resize(before + kBlock);
    in.read(text.data() + before, static_cast<std::streamsize>(kBlock));
    text.resize(before + static_cast<std::size_t>(in.gcount()));
    if (text.size() > limit_bytes) {
      throw DataError(name,
                      fmt::format("larger than {}, the most that is read", size_text(limit_bytes)));
    }
  }
  if (in.bad()) throw DataError(name, "cannot be read to its end");
  return text;
}

}  // namespace

std::string shown_name(const std::string& path) { return path == "-" ? "standard input" : path; }

std::string read_file(const std::string& path, std::istream& in, std::size_t limit_bytes) {
  const std::string name = shown_name(path);
  if (path == "-") return read_stream(in, name, limit_bytes);
  std::error_code error;
  const std::filesystem::file_status status = std::filesystem::status(path, error);
  if (status.type() == std::filesystem::file_type::not_found) throw DataError(name, "no such file");
  if (std::filesystem::is_directory(status)) throw DataError(name, "is a folder, not a file");
  std::ifstream file(path, std::ios::binary);
  if (!file) throw DataError(name, "cannot be opened (is reading it allowed?)");
  return read_stream(file, name, limit_bytes);
}

}  // namespace amptally::io
