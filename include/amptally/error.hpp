#pragma once

#include <stdexcept>
#include <string>
#include <utility>

namespace amptally::inline v0_1 {

/// Base of every error the library throws. `what()` is one line, ready to show.
class Error : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// A value handed in cannot be used: it names the field, what was given and what is allowed.
class InputError : public Error {
 public:
  /// @param field    dotted path or parameter name, e.g. `battery.capacity`; may be empty
  /// @param message  what was given and what is allowed, without the field's name
  InputError(std::string field, const std::string& message)
      : Error(field.empty() ? message : field + ": " + message),
        field_(std::move(field)),
        message_(message) {}

  [[nodiscard]] const std::string& field() const { return field_; }
  /// The message without the field's name.
  [[nodiscard]] const std::string& message() const { return message_; }

 private:
  std::string field_;
  std::string message_;
};

/// A file cannot be opened, read or understood as a whole.
class DataError : public Error {
 public:
  DataError(std::string path, const std::string& message)
      : Error(path + ": " + message), path_(std::move(path)) {}

  [[nodiscard]] const std::string& path() const { return path_; }

 private:
  std::string path_;
};

/// The inputs are each in range, but the model has no answer for them together.
class ModelError : public Error {
 public:
  using Error::Error;
};

}  // namespace amptally::inline v0_1
