#pragma once

#include <cstddef>

namespace amptally::report {

enum class Format { table, json, csv, md };

/// How a result is written. All but the format concerns `table` only, `quiet` also `md`.
struct OutputStyle {
  Format format = Format::table;
  std::size_t width = 80;  ///< columns at which paragraphs wrap; tables keep to 80
  bool colour = false;     ///< as a second sign beside the words, never the only one
  bool utf8 = true;        ///< false: signs such as the degree are spelled out
  bool quiet = false;      ///< the verdict alone, where there is one
  bool chart = false;      ///< drawings; only with UTF-8 and at least 60 columns
};

}  // namespace amptally::report
