#include "report/sweep.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <string_view>

#include <fmt/format.h>

#include "balance/figures.hpp"
#include "report/document.hpp"
#include "sitefile/json_text.hpp"
#include "text/told_number.hpp"

namespace amptally::report {
namespace {

/// How names end that hold a number of this kind; empty for plain counts and factors.
std::string_view unit_in_name(Dimension dimension) {
  switch (dimension) {
    case Dimension::current:
      return "_a";
    case Dimension::power:
      return "_w";
    case Dimension::voltage:
      return "_v";
    case Dimension::charge:
      return "_ah";
    case Dimension::share:
      return "_share";
    case Dimension::minutes:
      return "_min";
    case Dimension::hours:
      return "_h";
    case Dimension::days:
      return "_days";
    case Dimension::years:
      return "_years";
    case Dimension::length:
    case Dimension::head:
      return "_m";
    case Dimension::bore:
      return "_mm";
    case Dimension::section:
      return "_mm2";
    case Dimension::area:
      return "_m2";
    case Dimension::volume:
      return "_l";
    case Dimension::flow:
      return "_l_h";
    case Dimension::angle:
      return "_deg";
    case Dimension::temperature:
      return "_c";
    case Dimension::share_per_kelvin:
      return "_pct_k";
    case Dimension::share_per_month:
      return "_pct_month";
    case Dimension::daily_irradiation:
      return "_kwh_m2_day";
    case Dimension::rain:
      return "_mm_month";
    case Dimension::number:
      break;
  }
  return "";
}

bool is_told(const Figure<YearBalance>& figure, bool with_life) {
  return !figure.key.empty() && (with_life || !figure.needs_cycles);
}

void append_number(std::string& text, double value) {
  fmt::format_to(std::back_inserter(text), "{}", value);
}

/// @param written  how words are written
void append_value(std::string& text, const io::VariedValue& value,
                  std::string (*written)(const std::string&)) {
  if (value.number) {
    append_number(text, *value.number);
  } else {
    text += written(value.text);
  }
}

std::string_view verdict(const SweepRecord& record) {
  return record.outcome.met.holds() ? "holds" : "short";
}

/// Which of its aims a year misses, by their names in `aim_met` of other answers.
std::vector<std::string_view> missed(const Judgement& met) {
  std::vector<std::string_view> names;
  if (!met.shortfall_met) names.push_back("shortfall");
  if (!met.floor_met) names.push_back("floor");
  if (!met.autonomy_met) names.push_back("autonomy");
  return names;
}

/// The first word of `budget`'s verdict.
std::string verdict_words(const Judgement& met) {
  if (!met.shortfall_met) return "runs short";
  if (!met.floor_met) return "goes too deep";
  if (!met.autonomy_met) return "too little in store";
  return "holds";
}

/// The head of a varied field's column: its path, stacked.
Column path_column(const io::VariedField& field) {
  std::string head = field.path;
  for (std::size_t dot = head.find('.'); dot != head.npos; dot = head.find('.', dot + 2)) {
    head.replace(dot, 1, ".\n");
  }
  const std::string_view unit = field.dimension ? base_unit(*field.dimension) : "";
  return {head, std::string(unit), "", field.dimension ? Align::right : Align::left};
}

Cell value_cell(const io::VariedValue& value) {
  if (!value.number) return word(value.text);
  const double scale = value.dimension == Dimension::share ? 100 : 1;
  return word(fmt::format("{:.6g}", scale * *value.number));
}

}  // namespace

SweepLines::SweepLines(const std::vector<io::VariedField>& fields, Format format, bool with_life)
    : format_(format), with_life_(with_life) {
  for (const io::VariedField& field : fields) {
    if (format == Format::json) {
      names_.push_back(io::json_quoted(field.path) + ':');
    } else {
      const std::string_view unit = field.dimension ? unit_in_name(*field.dimension) : "";
      names_.push_back(csv_field(field.path + std::string(unit)));
    }
  }
}

std::string SweepLines::head() const {
  if (format_ == Format::json) return "";
  std::string text;
  for (const std::string& name : names_) text += name + ',';
  text += "verdict,";
  for (const Figure<YearBalance>& figure : kYearFigures) {
    if (is_told(figure, with_life_)) text.append(figure.key) += ',';
  }
  return text + "missed,error\n";
}

void SweepLines::append(std::string& text, const SweepRecord& record) const {
  if (format_ == Format::json) return append_json(text, record);
  append_csv(text, record);
}

void SweepLines::append_json(std::string& text, const SweepRecord& record) const {
  text += '{';
  for (std::size_t i = 0; i < names_.size(); ++i) {
    const io::VariedValue& value = record.values[i];
    text += names_[i];
    append_value(text, value, io::json_quoted);
    text += ',';
  }
  if (!record.error.empty()) {
    text += "\"error\":" + io::json_quoted(record.error) + "}\n";
    return;
  }
  text.append("\"verdict\":\"").append(verdict(record)) += '"';
  for (const Figure<YearBalance>& figure : kYearFigures) {
    if (!is_told(figure, with_life_)) continue;
    text.append(",\"").append(figure.key).append("\":");
    const double value = value_in(record.outcome.year, figure.value);
    if (std::isfinite(value)) {
      append_number(text, as_told(value));
    } else {
      text += "null";
    }
  }
  text += ",\"missed\":[";
  for (const std::string_view name : missed(record.outcome.met)) {
    if (text.back() != '[') text += ',';
    text.append("\"").append(name) += '"';
  }
  text += "]}\n";
}

void SweepLines::append_csv(std::string& text, const SweepRecord& record) const {
  for (const io::VariedValue& value : record.values) {
    append_value(text, value, csv_field);
    text += ',';
  }
  // One that was not run has empty cells, so that all lines have the same columns.
  const bool ran = record.error.empty();
  if (ran) text += verdict(record);
  text += ',';
  for (const Figure<YearBalance>& figure : kYearFigures) {
    if (!is_told(figure, with_life_)) continue;
    const double value = value_in(record.outcome.year, figure.value);
    if (ran && std::isfinite(value)) append_number(text, as_told(value));
    text += ',';
  }
  if (ran)
    fmt::format_to(std::back_inserter(text), "{}", fmt::join(missed(record.outcome.met), " "));
  text += ',' + csv_field(record.error) + '\n';
}

SweepTable::SweepTable(const std::vector<io::VariedField>& fields) {
  for (const io::VariedField& field : fields) table_.columns.push_back(path_column(field));
  table_.columns.insert(table_.columns.end(), {{"Verdict", "", "", Align::left},
                                               {"Short", "days", ""},
                                               {"Below\nfloor", "days", ""},
                                               {"Deepest\ntaken", "%", ""},
                                               {"Autonomy", "days", ""}});
}

void SweepTable::add(const SweepRecord& record) {
  std::vector<Cell>& row = table_.rows.emplace_back();
  for (const io::VariedValue& value : record.values) row.push_back(value_cell(value));
  if (!record.error.empty()) {
    row.push_back(word("not run"));
    row.resize(table_.columns.size());
    if (std::find(errors_.begin(), errors_.end(), record.error) == errors_.end()) {
      errors_.push_back(record.error);
    }
    return;
  }
  const YearBalance& year = record.outcome.year;
  for (const Cell& cell : {word(verdict_words(record.outcome.met)), number(year.shortfall_days, 1),
                           number(year.floor_days, 1), percent(year.deepest_discharge),
                           number(year.autonomy_days, 1)}) {
    row.push_back(cell);
  }
}

std::string SweepTable::text(const OutputStyle& style) const {
  Document document{table_};
  append_bullets(document, "Not run", errors_);
  return style.format == Format::md ? document_markdown(document) : document_text(document, style);
}

}  // namespace amptally::report
