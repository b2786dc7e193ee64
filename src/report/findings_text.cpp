#include "report/findings_text.hpp"

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

void append_advice(Document& document, const std::vector<Finding>& findings) {
  for (const Finding& finding : findings) {
    document.emplace_back(Advice{finding_lead(finding), finding.text, finding.source});
  }
}

void append_findings(Document& document, const std::vector<Finding>& findings) {
  if (!findings.empty()) document.emplace_back(Heading{"Worth knowing"});
  append_advice(document, findings);
}

Paragraph last_word() {
  return {.text =
              "A reckoning, not an inspection: local electrical codes and licensed practice "
              "have the last word."};
}

}  // namespace amptally::report
