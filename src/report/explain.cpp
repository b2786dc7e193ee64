#include "report/explain.hpp"

#include "report/document.hpp"
#include "report/json.hpp"

namespace amptally::report {
namespace {

std::string fallback_text(const Field& field) {
  if (field.required) return "none: it has to be given";
  return std::string(field.fallback);
}

/// Every field a line; the words of the text are in the CSV only, a table has no room for them.
Table field_table(std::span<const Field> fields) {
  Table table{.columns = {{"Field", "", "field", Align::left},
                          {"Write", "", "write", Align::left},
                          {"Default", "", "default", Align::left}},
              .rows = {}};
  for (const Field& field : fields) {
    table.rows.push_back(
        {word(std::string(field.path)), word(expected_text(field)), word(fallback_text(field))});
  }
  return table;
}

std::string field_csv(std::span<const Field> fields) {
  Table table = field_table(fields);
  for (const char* key : {"allowed", "meaning", "usual", "source"}) {
    table.columns.push_back({.head = "", .unit = "", .key = key});
  }
  for (std::size_t i = 0; i < fields.size(); ++i) {
    const Field& field = fields[i];
    for (const std::string& text : {range_text(field), std::string(field.meaning),
                                    std::string(field.usual), std::string(field.source)}) {
      table.rows[i].push_back(word(text));
    }
  }
  return table_csv(table);
}

Document field_document(const Field& field) {
  Facts facts;
  const auto add = [&facts](const char* label, std::string text) {
    if (!text.empty()) facts.lines.emplace_back(label, std::move(text));
  };
  add("Write", expected_text(field));
  add("Allowed", range_text(field));
  add("Default", fallback_text(field));
  add("Usual", std::string(field.usual));
  add("Source", std::string(field.source));
  return {Heading{std::string(field.path)}, Paragraph{.text = std::string(field.meaning)}, facts};
}

Document explain_document(std::span<const Field> fields) {
  const Field& first = fields.front();
  if (fields.size() == 1) return field_document(first);
  if (first.type == FieldType::object || first.type == FieldType::list) {
    Document document = field_document(first);
    document.emplace_back(Heading{"What may stand in it"});
    document.emplace_back(field_table(fields.subspan(1)));
    return document;
  }
  return {
      field_table(fields),
      Paragraph{.text = "Where nothing stands under Default, a field left out plays no part. More "
                        "on each: amptally explain FIELD"}};
}

}  // namespace

std::string explain_report(std::span<const Field> fields, const OutputStyle& style) {
  return in_form(
      style, [&] { return explain_json(fields); }, [&] { return field_csv(fields); },
      [&] { return explain_document(fields); });
}

}  // namespace amptally::report
