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

std::vector<std::string> assumption_texts(const std::vector<Assumption>& assumptions) {
  std::vector<std::string> texts;
  texts.reserve(assumptions.size());
  for (const Assumption& assumption : assumptions) texts.push_back(assumption.text);
  return texts;
}

void append_assumptions(Document& document, const std::vector<Assumption>& assumptions,
                        const char* heading) {
  append_bullets(document, heading, assumption_texts(assumptions));
}

Paragraph last_word() {
  return {.text =
              "A reckoning, not an inspection: local electrical codes and licensed practice "
              "have the last word."};
}

}  // namespace amptally::report
