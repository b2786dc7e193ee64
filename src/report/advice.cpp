#include "report/advice.hpp"

namespace amptally::report {
namespace {

Lead finding_lead(const Finding& finding) {
  switch (finding.level) {
    case FindingLevel::danger:
      return {"Danger: " + finding.topic, Tone::bad};
    case FindingLevel::warning:
      return {"Warning: " + finding.topic, Tone::caution};
    case FindingLevel::note:
      break;
  }
  return {"Note: " + finding.topic, Tone::plain};
}

}  // namespace

void append_findings(Document& document, const std::vector<Finding>& findings) {
  if (!findings.empty()) document.emplace_back(Heading{"Worth knowing"});
  for (const Finding& finding : findings) {
    document.emplace_back(Advice{finding_lead(finding), finding.text, finding.source});
  }
}

}  // namespace amptally::report
