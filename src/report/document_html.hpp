#pragma once

#include <string>

#include "report/document.hpp"
#include "report/html.hpp"

/// The blocks of a result as HTML.
namespace amptally::report {

/// Blocks one after the other, headings as `<h3>`. A table as long as a year of months is folded
/// under the heading before it.
[[nodiscard]] Html document_html(const Document& document);

/// A table that scrolls by itself where it is wider than the page.
/// @param label  what a reader who cannot see it is told it holds
[[nodiscard]] Html table_html(const Table& table, const std::string& label);

/// A part of the page that opens when its summary is chosen.
[[nodiscard]] Html folded(const std::string& summary, const Html& inside);

}  // namespace amptally::report
