#include "report/rough.hpp"

#include <cmath>

#include <fmt/format.h>

#include "report/labels.hpp"
#include "report/table.hpp"
#include "site/field_label.hpp"

namespace amptally::report {
namespace {

// Chosen: three numbers are enough to go and measure, and less than this is not worth the walk.
constexpr std::size_t kMostToMeasure = 3;
constexpr double kWorthMeasuring_share = 0.02;

const char* weather_words(WeatherMode weather) {
  switch (weather) {
    case WeatherMode::mean:
      return "in a mean year";
    case WeatherMode::synthetic:
      return "in changeable weather";
    case WeatherMode::file:
      break;
  }
  return "in the weather on file";
}

std::string cases_text(const Site& site, const RoughStudy& study) {
  std::string text;
  if (site.rough.empty()) {
    text = "The tables use the shipped sun as it stands. Over " +
           sun_error_text(study.climate_error_share);
  } else {
    text = fmt::format("The tables use the middle of each range: {}. Over all ranges",
                       ranges_text(site));
    if (study.climate_error_share > 0)
      text += ", and " + sun_error_text(study.climate_error_share) + ",";
  }
  return text + fmt::format(" the aim is met in {} of 100 cases ({} tried, {}).",
                            rounded(100 * study.meets_aim_share, 0), study.cases,
                            weather_words(study.weather));
}

std::string spreads_text(const RoughStudy& study) {
  const std::string autonomy =
      std::isfinite(study.spread.autonomy_days.p90)
          ? fmt::format("{} days without sun, ", span_text(study.spread.autonomy_days, 1))
          : "";
  return fmt::format(
      "In eight cases of ten: {}{} % taken out at the deepest, {} short days a year, {} Wh a year "
      "not served.",
      autonomy, span_text(study.spread.deepest_discharge, 0, 100),
      span_text(study.spread.shortfall_days, 0), span_text(study.spread.shortfall_wh, 0));
}

std::string measure_text(const Site& site, const RoughStudy& study) {
  std::string text;
  std::size_t named = 0;
  for (const RoughShare& share : study.measure_first) {
    if (named == kMostToMeasure || share.share_of_spread < kWorthMeasuring_share) break;
    text += fmt::format("{}{}, {} %{}", named > 0 ? "; then " : "", field_label(site, share.field),
                        rounded(100 * share.share_of_spread, 0),
                        named == 0 ? " of the difference between cases" : "");
    ++named;
  }
  return text.empty() ? "" : text + ".";
}

std::string idle_text(const Site& site, const RoughStudy& study) {
  std::string text;
  for (const RoughShare& share : study.measure_first) {
    if (share.share_of_spread > 0) continue;
    text += (text.empty() ? "" : ", ") + field_label(site, share.field);
  }
  return text.empty() ? "" : text + ".";
}

void append(Document& document, const char* lead, const std::string& text) {
  if (!text.empty()) document.emplace_back(Paragraph{.lead = {lead, Tone::plain}, .text = text});
}

}  // namespace

std::string ranges_text(const Site& site) {
  std::string text;
  for (const RoughInput& input : site.rough) {
    text += (text.empty() ? "" : ", ") + rough_text(site, input);
  }
  return text;
}

std::string span_text(const Spread& spread, int decimals, double scale) {
  const std::string low = rounded(scale * spread.p10, decimals);
  const std::string high = rounded(scale * spread.p90, decimals);
  return low == high ? low : low + " to " + high;
}

std::string sun_error_text(double climate_error_share) {
  return fmt::format("the {} % to which the shipped sun is known",
                     rounded(100 * climate_error_share, 0));
}

std::vector<Paragraph> cases_verdict(const RoughStudy* study) {
  if (study == nullptr) return {};
  const bool only_sun = study->measure_first.size() == 1 && study->climate_error_share > 0;
  return {
      {.lead = {fmt::format("Aim met in {} of 100 cases", rounded(100 * study->meets_aim_share, 0)),
                Tone::plain},
       .text = fmt::format("{}, {}.", weather_words(study->weather),
                           only_sun ? "over " + sun_error_text(study->climate_error_share)
                                    : "over the ranges of the rough numbers")}};
}

void append_rough(Document& document, const Site& site, const RoughStudy* study) {
  if (study == nullptr) return;
  document.emplace_back(Heading{"Rough numbers"});
  document.emplace_back(Paragraph{.text = cases_text(site, *study)});
  document.emplace_back(Paragraph{.text = spreads_text(*study)});
  append(document, "Measure first", measure_text(site, *study));
  append(document, "Makes no difference here", idle_text(site, *study));
}

}  // namespace amptally::report
