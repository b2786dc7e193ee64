#pragma once

#include <optional>
#include <string>
#include <vector>

#include "amptally/findings.hpp"
#include "amptally/site.hpp"

#include "report/output_style.hpp"
#include "sitefile/problem.hpp"

namespace amptally::report {

/// What `check` found.
struct Check {
  std::string file;
  std::vector<io::Problem> problems;
  std::vector<Assumption> assumptions;  ///< what a good site leaves to be assumed
  std::optional<Site> site;             ///< where it could be read
  std::vector<Finding> findings{};      ///< on figures that may be a slip
};

/// Problems in every format but `table`, where they are messages and not a result: empty.
[[nodiscard]] std::string check_report(const Check& check, const OutputStyle& style);

}  // namespace amptally::report
