#pragma once

#include <string>
#include <vector>

#include "amptally/findings.hpp"
#include "amptally/rough_wiring.hpp"
#include "amptally/wiring.hpp"

#include "report/document.hpp"
#include "report/output_style.hpp"

namespace amptally::report {

/// What `wiring` found.
struct Wiring {
  const Site& site;
  std::vector<CableCheck> cables;  ///< in the order of the site; may be empty
  std::vector<Finding> findings;   ///< about wiring
  std::vector<Assumption> assumptions;
  const RoughWiring* rough = nullptr;  ///< null for a site without ranges or cables

  /// Whether every cable keeps to its drop and has a fuse that protects it.
  [[nodiscard]] bool holds() const;
};

/// Adds whether the cables do, and their figures.
void append_wiring(Document& document, const Wiring& wiring);

[[nodiscard]] std::string wiring_report(const Wiring& wiring, const OutputStyle& style);

}  // namespace amptally::report
