#pragma once

#include <string>
#include <vector>

#include "amptally/balance.hpp"
#include "amptally/findings.hpp"
#include "amptally/rough.hpp"

#include "report/document.hpp"
#include "report/output_style.hpp"

namespace amptally::report {

/// What `budget` found, and how much of it to tell.
struct Budget {
  const Site& site;
  const Balance& balance;
  const Balance* changeable = nullptr;  ///< synthetic years, judged beside a mean year
  std::string weather_file = {};        ///< where the balance is over a file
  std::vector<Finding> findings;
  const RoughStudy* rough = nullptr;  ///< where the site has ranges
  bool daily = false;                 ///< 365 days as well; as CSV, the days instead of the months

  /// The verdict: each weather is judged by its own aim.
  [[nodiscard]] bool holds() const {
    return balance.holds() && (changeable == nullptr || changeable->holds());
  }
  /// The weather with the most to tell: the changeable years where there are any.
  [[nodiscard]] const Balance& most_variable() const {
    return changeable != nullptr ? *changeable : balance;
  }
};

/// In which weather the site was run.
[[nodiscard]] std::string weather_text(const Budget& budget);
/// Adds what each weather says of the aim, then how long the battery lasts.
void append_verdicts(Document& document, const Budget& budget);

/// The budget in any format, ready to write.
[[nodiscard]] std::string budget_report(const Budget& budget, const OutputStyle& style);

}  // namespace amptally::report
