#include "report/page.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "amptally/battery.hpp"
#include "amptally/version.hpp"

#include "report/document_html.hpp"
#include "report/findings_text.hpp"
#include "report/html.hpp"
#include "report/labels.hpp"
#include "report/page_style.hpp"
#include "report/rough.hpp"
#include "report/svg_charge.hpp"
#include "report/svg_months.hpp"
#include "report/svg_site.hpp"
#include "report/svg_uses.hpp"
#include "report/verdict.hpp"
#include "report/year_tables.hpp"

namespace amptally::report {
namespace {

/// A part of the page under a heading of its own.
struct Section {
  const char* id;
  std::string title;
  Html inside;
};

Html paragraph(const std::string& text, const char* css_class = "lead-in") {
  return element("p", {{"class", css_class}}, html_text(text)) + Html{"\n"};
}

/// The findings of a page, the gravest first: those to act on, or the notes.
std::vector<Finding> chosen(const std::vector<Finding>& findings, bool notes) {
  std::vector<Finding> result;
  std::copy_if(findings.begin(), findings.end(), std::back_inserter(result),
               [notes](const Finding& f) { return (f.level == FindingLevel::note) == notes; });
  std::stable_sort(result.begin(), result.end(),
                   [](const Finding& a, const Finding& b) { return a.level < b.level; });
  return result;
}

Document advice(const std::vector<Finding>& findings) {
  Document document;
  append_advice(document, findings);
  return document;
}

// ---- The sections, in the order of the page --------------------------------------------------

/// Whatever the verdict: what would go wrong by itself.
Html look_at_first(const Budget& budget) {
  Html topics;
  for (const Finding& finding : chosen(budget.findings, false)) {
    if (!topics.markup.empty()) topics += {", "};
    topics += html_text(finding.topic);
  }
  if (topics.markup.empty()) return {};
  return element("p", element("a", {{"href", "#findings"}}, html_text("To look at first")) +
                          Html{": "} + topics + Html{"."});
}

Html answer(const Budget& budget) {
  Document document;
  append_verdicts(document, budget);
  return element("div", {{"class", budget.holds() ? "answer good" : "answer bad"}},
                 element("h2", html_text(budget.holds() ? "The aim is met" : "The aim is missed")) +
                     Html{"\n"} + document_html(document) + look_at_first(budget));
}

/// "1 day without sun; no more than 3 short days in a changeable year, ..."
std::string aim_text(const Budget& budget) {
  const auto short_days = [](const Balance& balance) {
    const double allowed = balance.aim.shortfall_days;
    const std::string days =
        allowed > 0 ? fmt::format("at most {:g} short day{}", allowed, allowed == 1 ? "" : "s")
                    : "no short day";
    return fmt::format(
        "{} in a {}year", days,
        balance.weather == WeatherMode::mean ? "mean " : sort_of_year(balance.weather));
  };
  std::string text =
      fmt::format("to last {} without sun; {}", days_text(budget.balance.aim.autonomy_days, 0),
                  short_days(budget.balance));
  if (budget.changeable != nullptr) text += ", " + short_days(*budget.changeable);
  return text + fmt::format("; to take no more than {} % out of the battery",
                            rounded(100 * budget.balance.aim.floor_share, 0));
}

Section site_section(const Page& page) {
  const Budget& budget = page.budget;
  const Facts facts{{{"Place", place_text(budget.site.place)},
                     {"Weather", weather_text(budget)},
                     {"Parts", parts_text(budget.site)},
                     {"The aim", aim_text(budget)}}};
  Html beside = document_html({facts});
  if (!page.settings.empty()) {
    beside += paragraph("Changed for this page, whatever the site file says:") +
              document_html({Bullets{page.settings}});
  }
  return {"site", "The site",
          element("div", {{"class", "site"}},
                  site_drawing(budget, page.water) + element("div", beside))};
}

Section battery_section(const Budget& budget) {
  const Balance& balance = budget.most_variable();
  Html inside = paragraph(fmt::format(
      "The shaded part is what is left in the battery {}. Where it sinks under the dashed line, "
      "more is taken out than should be.",
      balance.years > 1 ? "in a bad spell of weather at that time of year"
                        : "at the lowest hour of each day"));
  inside += charge_figure(balance);
  if (differs_by_tenths(balance)) {
    inside += document_html({Heading{fmt::format("How the {} {}years differ", balance.years,
                                                 sort_of_year(balance.weather))},
                             spread_table(*balance.spread)});
  }
  return {"battery", "The battery over the year", inside};
}

Section months_section(const Budget& budget) {
  return {"months", "Charge and use, month by month",
          paragraph("Where the line lies above its bar, more is asked for in that month than the "
                    "panel could bring. A bar well above its line leaves room for dull days.") +
              months_figure(budget.balance)};
}

Section uses_section(const Budget& budget) {
  return {"uses", "Where the amp-hours go",
          uses_figure(budget.balance) +
              document_html({Paragraph{.text = losses_text(budget.balance)}})};
}

Section levers_section(const Levers& levers) {
  Document document;
  append_levers(document, levers);
  return {"levers", "What would mend it",
          paragraph("Each line is one change on its own, with all else as it is; the figures are "
                    "for a year after the change.") +
              document_html(document)};
}

Section sizes_section(const SizeAnswer& sizes) {
  Document document;
  append_sizes(document, sizes);
  return {"sizes", "Sizes that would do",
          paragraph("What panel and battery this site would want if you bought them now, for the "
                    "same loads and the same aim.") +
              document_html(document)};
}

Section water_section(const WaterAnswer& water) {
  Document document;
  append_water(document, water);
  return {"water", "Water", document_html(document)};
}

Section wiring_section(const Wiring& wiring) {
  Document document;
  append_wiring(document, wiring);
  return {"wiring", "Cables and fuses", document_html(document)};
}

Section rough_section(const Budget& budget) {
  Document document;
  append_rough(document, budget.site, budget.rough);
  document.erase(document.begin());  // its heading is the section's
  return {
      "rough", "Rough numbers",
      paragraph("What the site file gives only roughly, as a range, and how much that matters.") +
          document_html(document)};
}

Section safety_section(const Budget& budget) {
  Document document = advice(chosen(budget.findings, true));
  document.emplace_back(Paragraph{
      .text = "A panel is live whenever there is light: cover it before you work on it."});
  document.emplace_back(last_word());
  return {"safety", "Before you touch anything", document_html(document)};
}

Section words_section(const Page& page) {
  Facts words{
      {{"Amp-hour (Ah)",
        "what a draw of one ampere takes in an hour; a battery's size, and what goes in and out of "
        "it in a day"},
       {"Sun (kWh/m²)", "what falls on a square metre in a day; 1 is an hour of full sun"},
       {"PWM, MPPT",
        "two kinds of regulator: PWM joins the panel straight to the battery, MPPT turns the "
        "panel's higher voltage into more current"},
       {"Charge",
        "what panel and regulator could give, whether or not the battery has room for it"},
       {"Use", "what the loads and the regulator itself ask for"},
       {"Floor", "the charge that should stay in the battery, so that it lives long"},
       {"Autonomy, days without sun",
        "how long a full battery carries the use down to the floor when no sun comes at all"},
       {"Deepest taken", "the most that was out of the battery: 0 % is full, 100 % is empty"},
       {"Short day",
        "a day on which something asked for was not served, because the battery was too low"},
       {"Mean year", "every day has the mean sun of its month: no dull spells, no bright ones"},
       {"Changeable year", "dull and clear spells by chance around the same monthly means"},
       {"Shipped table",
        "monthly means that come with the program, for named places and, between them, for cells "
        "of a grid over the map"}}};
  if (page.water != nullptr) {
    words.lines.emplace_back("Head",
                             "pressure told as the height of water it would hold up, in metres; "
                             "lift, tube and outlets each take their part of it");
  }
  return {"words", "Words used here", document_html({words})};
}

void append_new(std::vector<std::string>& all, const std::vector<std::string>& more) {
  for (const std::string& line : more) {
    if (std::find(all.begin(), all.end(), line) == all.end()) all.push_back(line);
  }
}

std::vector<std::string> assumptions(const Page& page) {
  std::vector<std::string> all = assumption_texts(page.budget.balance.assumptions);
  if (page.water != nullptr) append_new(all, assumption_texts(page.water->study.assumptions));
  if (page.wiring != nullptr) append_new(all, assumption_texts(page.wiring->assumptions));
  return all;
}

Section sources_section(const Page& page) {
  Html inside = element("h3", html_text("Not given, so assumed"));
  inside += document_html({Bullets{assumptions(page)}});
  inside += element("h3", html_text("Sources"));
  std::vector<std::string> sources = {"Sun: " + page.budget.site.place.climate.sun + "."};
  for (const Finding& finding : page.budget.findings) {
    if (!finding.source.empty()) append_new(sources, {finding.topic + ": " + finding.source + "."});
  }
  inside += document_html({Bullets{sources}});
  inside += paragraph(
      "Each equation and its source: docs/model.md; each shipped table: data/README.md; what the "
      "program does not know, and what to do about it: docs/limits.md. All come with the program.");
  return {"sources", "What this rests on", inside};
}

Section file_section(const Page& page) {
  return {"file", "The site file",
          paragraph("With this text, saved as a file, the page can be made again.") +
              folded("Show the site file",
                     element("pre", {{"tabindex", "0"}}, html_text(page.site_text)))};
}

std::vector<Section> sections_of(const Page& page) {
  const Budget& budget = page.budget;
  std::vector<Section> sections = {site_section(page), battery_section(budget),
                                   months_section(budget), uses_section(budget)};
  if (const auto found = chosen(budget.findings, false); !found.empty()) {
    sections.push_back({"findings", "What to look at first", document_html(advice(found))});
  }
  if (page.levers != nullptr) sections.push_back(levers_section(*page.levers));
  if (page.sizes != nullptr) sections.push_back(sizes_section(*page.sizes));
  if (page.water != nullptr) sections.push_back(water_section(*page.water));
  if (page.wiring != nullptr) sections.push_back(wiring_section(*page.wiring));
  if (budget.rough != nullptr) sections.push_back(rough_section(budget));
  sections.push_back(safety_section(budget));
  sections.push_back(words_section(page));
  sections.push_back(sources_section(page));
  sections.push_back(file_section(page));
  return sections;
}

// ---- The page --------------------------------------------------------------------------------

Html section_html(const Section& section) {
  return element(
             "section", {{"id", section.id}, {"aria-labelledby", std::string(section.id) + "-h"}},
             Html{"\n"} +
                 element("h2", {{"id", std::string(section.id) + "-h"}}, html_text(section.title)) +
                 Html{"\n"} + section.inside) +
         Html{"\n"};
}

Html contents(const std::vector<Section>& sections) {
  Html items;
  for (const Section& section : sections) {
    items += element("li", element("a", {{"href", std::string("#") + section.id}},
                                   html_text(section.title))) +
             Html{"\n"};
  }
  return element("nav", {{"aria-label", "On this page"}}, element("ul", items)) + Html{"\n"};
}

Html head(const std::string& title) {
  return element("head", lone("meta", {{"charset", "utf-8"}}) +
                             lone("meta", {{"name", "viewport"},
                                           {"content", "width=device-width, initial-scale=1"}}) +
                             lone("meta", {{"name", "color-scheme"}, {"content", "light dark"}}) +
                             element("title", html_text(title)) +
                             element("style", Html{std::string(page_style())})) +
         Html{"\n"};
}

}  // namespace

std::string page_html(const Page& page) {
  const Site& site = page.budget.site;
  const std::string name = site.name.empty() ? "The site" : site.name;
  const std::vector<Section> sections = sections_of(page);
  Html main = element("header", paragraph("Power budget of a small solar site", "kind") +
                                    element("h1", html_text(name)) + Html{"\n"}) +
              answer(page.budget) + contents(sections);
  for (const Section& section : sections) main += section_html(section);
  const Html footer = element("footer", html_text(fmt::format("Made by amptally {}.", kVersion)));
  return "<!DOCTYPE html>\n" +
         element("html", {{"lang", "en-GB"}},
                 head(name + ": power budget") +
                     element("body", element("main", main) + footer + Html{"\n"}))
             .markup +
         "\n";
}

}  // namespace amptally::report
