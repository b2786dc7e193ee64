#pragma once

#include <string>
#include <vector>

#include "amptally/study.hpp"

#include "report/output_style.hpp"
#include "report/table.hpp"
#include "sitefile/varied_field.hpp"

namespace amptally::report {

/// One combination: what was set, and how it fares or why it cannot be run.
struct SweepRecord {
  const std::vector<io::VariedValue>& values;
  const JudgedYear& outcome;  ///< its battery's life only where that is asked for
  std::string error = {};     ///< one line; empty: it ran
};

/// Records for machines, one after the other.
class SweepLines {
 public:
  /// @param format  json (a line each) or csv
  SweepLines(const std::vector<io::VariedField>& fields, Format format, bool with_life);

  /// What stands before the first record: the names of the columns in CSV, nothing in JSON.
  [[nodiscard]] std::string head() const;

  /// Adds a record, with its line's end.
  void append(std::string& text, const SweepRecord& record) const;

 private:
  void append_json(std::string& text, const SweepRecord& record) const;
  void append_csv(std::string& text, const SweepRecord& record) const;

  std::vector<std::string> names_;  ///< of the varied fields: keys with their colon, or columns
  Format format_;
  bool with_life_;
};

/// Records for people.
class SweepTable {
 public:
  explicit SweepTable(const std::vector<io::VariedField>& fields);

  void add(const SweepRecord& record);
  [[nodiscard]] std::string text(const OutputStyle& style) const;

 private:
  Table table_;
  std::vector<std::string> errors_;  ///< each once
};

}  // namespace amptally::report
