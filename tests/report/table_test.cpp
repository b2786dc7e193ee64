#include "report/table.hpp"

#include <limits>

#include "catch.hpp"
#include "report/document.hpp"
#include "report/text.hpp"

using namespace amptally::report;

TEST_CASE("width is counted in terminal columns, not bytes", "[report]") {
  CHECK(display_width("Oviedo") == 6);
  CHECK(display_width("Gijón") == 5);        // 6 bytes
  CHECK(display_width("Gijo\u0301n") == 5);  // the accent as a combining mark
  CHECK(display_width("°C") == 2);           // 3 bytes
  CHECK(display_width("東京") == 4);         // Unicode Annex 11: wide
  CHECK(display_width("\xff\xfe"
                      "a") == 3);     // not UTF-8: a column a byte
  CHECK(display_width("\xc3") == 1);  // cut in the middle of a character
}

TEST_CASE("text is shortened between characters and says so", "[report]") {
  CHECK(shortened("Gijón", 5) == "Gijón");
  CHECK(shortened("Gijón", 4) == "Gij…");
  CHECK(shortened("東京都庁", 5) == "東京…");
  CHECK(display_width(shortened("東京都庁", 4)) <= 4);
}

TEST_CASE("lines break at spaces and lose no word", "[report]") {
  CHECK(wrapped("one two  three", 7) == std::vector<std::string>{"one two", "three"});
  CHECK(wrapped("incomprehensibilities no", 5) ==
        std::vector<std::string>{"incomprehensibilities", "no"});
  CHECK(wrapped("", 10).empty());
  CHECK(wrapped("it draws 2.2 A, seldom 3", 12) ==
        std::vector<std::string>{"it draws", "2.2 A,", "seldom 3"});
}

TEST_CASE("a name cannot carry control codes to the terminal", "[report]") {
  CHECK(printable("a\x1b[31mb\nc") == "a?[31mb?c");
  CHECK(printable("\u009b"
                  "31m") == "?31m");  // the one-character form of the same command
  CHECK(printable("Gijón") == "Gijón");
}

TEST_CASE("without UTF-8 the signs of our tables are spelled out", "[report]") {
  CHECK(ascii("55°, 2 × 60 W, kWh/m²…") == "55 deg, 2 x 60 W, kWh/m2...");
  CHECK(ascii("Gijón") == "Gij?n");
}

TEST_CASE("numbers round without a negative zero", "[report]") {
  CHECK(rounded(-0.004, 2) == "0.00");
  CHECK(rounded(-0.006, 2) == "-0.01");
  CHECK(rounded(1234.5678, 1) == "1234.6");
}

TEST_CASE("a figure that is not finite is left empty", "[report]") {
  const Cell endless = number(std::numeric_limits<double>::infinity(), 1);
  CHECK(endless.text.empty());
  CHECK(endless.data.empty());
}

namespace {

Table sample() {
  return {.columns = {{"Load", "", "name", Align::left}, {"Charge", "Ah/day", "ah_day"}},
          .rows = {{word("Pump, \"big\""), number(1.25, 1)}, {word("Gijón|x"), number(10, 1)}},
          .total = {word("All"), number(11.25, 1)}};
}

}  // namespace

TEST_CASE("a table lines its columns up", "[report]") {
  CHECK(table_text(sample(), {}) ==
        "Load         Charge\n"
        "             Ah/day\n"
        "───────────────────\n"
        "Pump, \"big\"     1.2\n"
        "Gijón|x        10.0\n"
        "───────────────────\n"
        "All            11.2\n");
}

TEST_CASE("the same table as CSV has full figures, quotes and no total", "[report]") {
  // Source: RFC 4180, section 2, rules 5 to 7; LF by our own choice.
  CHECK(table_csv(sample()) == "name,ah_day\n\"Pump, \"\"big\"\"\",1.25\nGijón|x,10\n");
}

TEST_CASE("the same table as Markdown escapes its bars", "[report]") {
  CHECK(table_markdown(sample()) ==
        "| Load        | Charge, Ah/day |\n"
        "| :---------- | -------------: |\n"
        "| Pump, \"big\" |            1.2 |\n"
        "| Gijón\\|x    |           10.0 |\n"
        "| All         |           11.2 |\n");
}

TEST_CASE("Markdown takes a name for text, whatever signs are in it", "[report]") {
  // Source: CommonMark 0.30, section 2.4 (backslash escapes), 2.5 (entities), 5.2 (list items).
  CHECK(markdown_escaped("a|b*c_d`e[f]<g>&amp;#~\\") ==
        "a\\|b\\*c\\_d\\`e\\[f\\]\\<g\\>\\&amp;\\#\\~\\\\");
  CHECK(markdown_escaped("- pump") == "\\- pump");
  CHECK(markdown_escaped("drip-pump, -5 °C") == "drip-pump, -5 °C");
}

TEST_CASE("numbers in a table have their decimal points below each other", "[report]") {
  const Table table = {.columns = {{"Panel", "W", ""}, {"Best", "", "", Align::left}},
                       .rows = {{word("35.8"), word("no")}, {word("103"), word("yes")}}};
  CHECK(table_text(table, {}) ==
        "Panel  Best\n"
        "    W\n"
        "───────────\n"
        " 35.8  no\n"
        "103    yes\n");
}

TEST_CASE("text that does not fit wraps in its column", "[report]") {
  const Table table = {.columns = {{"Part", "", "", Align::left}, {"Cost", "", ""}},
                       .rows = {{word("two panels of fifty watts in series"), number(96, 0)}}};
  CHECK(table_text(table, {.width = 25}) ==
        "Part                 Cost\n"
        "─────────────────────────\n"
        "two panels of fifty    96\n"
        "watts in series\n");
}

TEST_CASE("columns that do not fit follow below, beside the first again", "[report]") {
  const Table table = {
      .columns = {{"Month", "", "", Align::left}, {"Charge", "Ah", ""}, {"Autonomy", "days", ""}},
      .rows = {{word("Jan"), number(9.1, 1), number(1.4, 1)}},
      .total = {word("Year"), number(14.3, 1), number(1.4, 1)}};
  CHECK(table_text(table, {.width = 18}) ==
        "Month  Charge\n"
        "           Ah\n"
        "─────────────\n"
        "Jan       9.1\n"
        "─────────────\n"
        "Year     14.3\n"
        "\n"
        "Month  Autonomy\n"
        "           days\n"
        "───────────────\n"
        "Jan         1.4\n"
        "───────────────\n"
        "Year        1.4\n");
}

TEST_CASE("the columns that follow below have no head or total of other columns", "[report]") {
  const Table table = {
      .columns = {{"Cable", "", "", Align::left}, {"Loss", "Wh", ""}, {"Its\nfuse", "", ""}},
      .rows = {{word("roof"), number(2.5, 1), number(7.5, 1)}},
      .total = {word("All"), number(2.5, 1), {}}};
  CHECK(table_text(table, {.width = 12}) ==
        "Cable  Loss\n"
        "         Wh\n"
        "───────────\n"
        "roof    2.5\n"
        "───────────\n"
        "All     2.5\n"
        "\n"
        "        Its\n"
        "Cable  fuse\n"
        "───────────\n"
        "roof    7.5\n");
}

TEST_CASE("where a table is too wide names are cut, numbers never", "[report]") {
  Table table = sample();
  table.rows.push_back({word(std::string(200, 'n')), number(123456.7, 1)});
  const std::string text = table_text(table, {});
  std::size_t longest = 0;
  std::size_t start = 0;
  for (std::size_t end = text.find('\n'); end != std::string::npos; end = text.find('\n', start)) {
    longest = std::max(longest, display_width(text.substr(start, end - start)));
    start = end + 1;
  }
  CHECK(longest == 80);
  CHECK(text.find("n…") != std::string::npos);
  CHECK(text.find("123456.7") != std::string::npos);
}

TEST_CASE("colour in a table only repeats what the words say", "[report]") {
  const Document document = {Paragraph{{"Runs short", Tone::bad}, "23 days a year."}};
  CHECK(document_text(document, {}) == "Runs short: 23 days a year.\n");
  CHECK(document_text(document, {.colour = true}) ==
        "\x1b[1;31mRuns short\x1b[0m: 23 days a year.\n");
  CHECK(document_markdown(document) == "**Runs short:** 23 days a year.\n");
}
