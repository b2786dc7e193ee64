#include "report/html.hpp"

#include "catch.hpp"
#include "report/document_html.hpp"
#include "report/svg.hpp"

using namespace amptally::report;

namespace {

bool holds(const Html& html, const std::string& part) {
  return html.markup.find(part) != std::string::npos;
}

Table months(int rows) {
  Table table{.columns = {{"Sun\nflat", "kWh/m²", ""}, {"Name", "", "", Align::left}}, .rows = {}};
  for (int i = 0; i < rows; ++i) table.rows.push_back({number(i, 1), word("<b>")});
  return table;
}

}  // namespace

TEST_CASE("text on a page cannot become markup", "[html]") {
  CHECK(html_text("<script>\"&\"</script>").markup ==
        "&lt;script&gt;&quot;&amp;&quot;&lt;/script&gt;");
  CHECK(element("p", {{"title", "a\" onload=\"b"}}, html_text("x")).markup ==
        "<p title=\"a&quot; onload=&quot;b\">x</p>");
  CHECK(lone("rect", {{"x", "1"}}).markup == "<rect x=\"1\" />");
}

TEST_CASE("what neither XML nor UTF-8 allows is replaced, the rest stays", "[html]") {
  // Source: XML 1.0 fifth edition, production [2] Char; RFC 3629 for the bytes.
  const std::string mark = "\uFFFD";
  CHECK(html_text("Gijón → 60 W\n\tπ").markup == "Gijón → 60 W\n\tπ");
  CHECK(html_text("a\rb").markup == "ab");
  CHECK(html_text(std::string("a\0b", 3)).markup == "a" + mark + "b");
  CHECK(html_text("\x1b[31m").markup == mark + "[31m");
  CHECK(html_text("\xff").markup == mark);
  CHECK(html_text("\xc0\xbc").markup == mark);          // "<" in two bytes
  CHECK(html_text("\xe0\x80\xbc").markup == mark);      // and in three
  CHECK(html_text("\xed\xa0\x80").markup == mark);      // half of a pair of surrogates
  CHECK(html_text("\xef\xbf\xbf").markup == mark);      // U+FFFF
  CHECK(html_text("\xf4\x90\x80\x80").markup == mark);  // beyond U+10FFFF
  CHECK(html_text("\xc3").markup == mark);              // cut off
}

TEST_CASE("the blocks of a document become elements, escaped", "[html]") {
  const Html html = document_html(
      {Paragraph{{"Runs <short>", Tone::bad}, "a & b"}, Bullets{{"<i>"}}, Facts{{{"Site", "<u>"}}},
       Advice{{"Danger", Tone::bad}, "why <", "source >"}, Drawing{"x < y -> z\n"}});
  CHECK(holds(html, "<strong class=\"bad\">Runs &lt;short&gt;</strong>: a &amp; b"));
  CHECK(holds(html, "<li>&lt;i&gt;</li>"));
  CHECK(holds(html, "<dt>Site</dt><dd>&lt;u&gt;</dd>"));
  CHECK(holds(html, "<p class=\"source\">Source: source &gt;</p>"));
  CHECK(holds(html, "x &lt; y -&gt; z\n</pre>"));  // as it is
}

TEST_CASE("a page keeps a figure and its unit on one line and writes an arrow as one sign",
          "[html]") {
  CHECK(holds(document_html({Paragraph{.text = "18 Ah -> 41 Ah, 50 % of 3 days"}}),
              "18\u00A0Ah → 41\u00A0Ah, 50\u00A0% of 3 days"));
}

TEST_CASE("a table names its columns and rows, and a long one is folded", "[html]") {
  const Html table = table_html(months(2), "Sun");
  CHECK(holds(table, "aria-label=\"Sun\""));
  CHECK(holds(table, "<th scope=\"col\">Sun flat <span class=\"unit\">kWh/m²</span></th>"));
  CHECK(holds(table, "<td class=\"words\">&lt;b&gt;</td>"));
  CHECK_FALSE(holds(document_html({Heading{"H"}, months(11)}), "<details>"));
  CHECK(holds(document_html({Heading{"H"}, months(12)}), "<details><summary>H</summary>"));
  CHECK(holds(document_html({months(2), Heading{"H"}}), "<h3>H</h3>"));
}

TEST_CASE("a chart's axis has at most five round steps", "[html]") {
  for (double largest = 0.003; largest < 4000; largest *= 1.07) {
    const double step = axis_step(largest);
    CAPTURE(largest, step);
    CHECK(5 * step >= largest * (1 - 1e-12));
    CHECK(step <= largest / 2);  // never so coarse that one step holds nearly all
  }
  CHECK(axis_step(19.7) == 5);
  CHECK(axis_step(0) == 1);
}

TEST_CASE("lengths in a drawing are written without needless digits", "[html]") {
  CHECK(px(12) == "12");
  CHECK(px(-0.04) == "0");
  CHECK(px(12.54) == "12.5");
  CHECK(across(0.125) == "12.50%");
}
