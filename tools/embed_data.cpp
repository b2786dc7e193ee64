// Turns the shipped data into C++ sources at build time, so that the program starts without reading
// or parsing anything. What is not as data/README.md says fails the build, by file and line.

#include <algorithm>
#include <array>
#include <charconv>
#include <climits>
#include <cmath>
#include <fstream>
#include <iostream>
#include <iterator>
#include <limits>
#include <set>
#include <span>
#include <sstream>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <nlohmann/json.hpp>

namespace {

using nlohmann::json;

constexpr std::size_t kPlaces = 451;
constexpr std::size_t kCells = 3395;
constexpr int kCellSize_cdeg = 250;  // as in src/place/climate_tables.hpp
constexpr std::array kMonths = {"jan", "feb", "mar", "apr", "may", "jun",
                                "jul", "aug", "sep", "oct", "nov", "dec"};

/// A position in a file, for messages.
struct Spot {
  std::string file;
  std::size_t line;
};

[[noreturn]] void fail(const Spot& spot, const std::string& message) {
  throw std::runtime_error(spot.file + ":" + std::to_string(spot.line) + ": " + message);
}

std::string read(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  if (!in) throw std::runtime_error(path + ": cannot be opened");
  return {std::istreambuf_iterator<char>(in), {}};
}

/// `text` as a C++ string literal.
std::string literal(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    if (c == '\n') {
      out += "\\n";
    } else {
      out += c;
    }
  }
  return out + '"';
}

// ---- Climate: CSV ----

struct Row {
  Spot spot;
  std::vector<std::string> fields;
};

/// The fields of one CSV line; a quoted one may hold commas. Runs of blanks become one.
std::vector<std::string> split(const Spot& spot, std::string_view line) {
  std::vector<std::string> fields(1);
  bool quoted = false;
  for (const char c : line) {
    if (c == '"') {
      quoted = !quoted;
    } else if (c == ',' && !quoted) {
      fields.emplace_back();
    } else if (c != ' ' || !fields.back().ends_with(' ')) {
      fields.back() += c;
    }
  }
  if (quoted) fail(spot, "a quote is not closed");
  return fields;
}

/// Column names of a table: `first`, then twelve months of sun, temperature and rain.
std::vector<std::string> columns(std::vector<std::string> first) {
  for (const auto& [name, unit] : {std::pair{"ghi", "kwh_m2_day"}, {"temp", "c"}, {"rain", "mm"}}) {
    for (const char* month : kMonths) first.push_back(std::string(name) + '_' + month + '_' + unit);
  }
  return first;
}

std::vector<Row> read_table(const std::string& path, const std::vector<std::string>& header,
                            std::size_t rows_expected) {
  std::istringstream in(read(path));
  std::vector<Row> rows;
  std::string line;
  for (std::size_t number = 1; std::getline(in, line); ++number) {
    Row row{{path, number}, split({path, number}, line)};
    if (row.fields.size() != header.size()) {
      fail(row.spot, std::to_string(row.fields.size()) + " columns instead of " +
                         std::to_string(header.size()));
    }
    if (number > 1) {
      rows.push_back(std::move(row));
    } else if (row.fields != header) {
      const auto differ = std::ranges::mismatch(row.fields, header);
      fail(row.spot, "column \"" + *differ.in1 + "\" instead of \"" + *differ.in2 + '"');
    }
  }
  if (rows.size() != rows_expected) {
    fail({path, rows.size() + 1},
         std::to_string(rows.size()) + " rows instead of " + std::to_string(rows_expected));
  }
  return rows;
}

/// A kind of number: how many decimals it may have, and its range.
struct Format {
  std::size_t decimals;
  double low;
  double high;
};

constexpr Format kLatitude{2, -90, 90};
constexpr Format kLongitude{2, -180, 180};
constexpr Format kElevation{0, -450, 9000};
constexpr Format kSun{2, 0, 15};
constexpr Format kTemperature{1, -90, 60};
constexpr Format kRain{0, 0, 3000};

/// The number in `text` times 10^decimals: exact, for a number with no more decimals than that.
int scaled(const Spot& spot, const std::string& text, const Format& format) {
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size()) {
    fail(spot, '"' + text + "\" is not a number");
  }
  const std::size_t point = text.find('.');
  if (point != std::string::npos && text.size() - point - 1 > format.decimals) {
    fail(spot, text + " has more than " + std::to_string(format.decimals) + " decimals");
  }
  if (!(value >= format.low && value <= format.high)) {
    fail(spot, text + " is not in " + std::to_string(static_cast<int>(format.low)) + ".." +
                   std::to_string(static_cast<int>(format.high)));
  }
  return static_cast<int>(
      std::lround(value * std::pow(10.0, static_cast<double>(format.decimals))));
}

/// Initialiser of tables::Figures from the 36 monthly fields that start at `first`.
std::string figures(const Row& row, std::size_t latitude, std::size_t first) {
  const auto number = [&row](std::size_t field, const Format& format) {
    return std::to_string(scaled(row.spot, row.fields[field], format));
  };
  std::string out = "{" + number(latitude, kLatitude) + ',' + number(latitude + 1, kLongitude);
  for (const Format& format : {kSun, kTemperature, kRain}) {
    out += ",{";
    for (std::size_t month = 0; month < kMonths.size(); ++month) {
      out += number(first++, format) + (month + 1 < kMonths.size() ? "," : "}");
    }
  }
  return out + '}';
}

void embed_climate(std::ostream& out, const std::string& places, const std::string& grid) {
  out << "#include \"place/climate_tables.hpp\"\n\nnamespace amptally::tables {\nnamespace {\n\n"
      << "constexpr NamedPlace kPlaces[] = {\n";
  std::set<std::string> ids;
  const auto named =
      columns({"id", "place", "country", "latitude_deg", "longitude_deg", "elevation_m"});
  for (const Row& row : read_table(places, named, kPlaces)) {
    const auto& field = row.fields;
    if (field[0].empty() || !ids.insert(field[0]).second) {
      fail(row.spot, "id \"" + field[0] + "\" is empty or used before");
    }
    out << '{' << literal(field[0]) << ',' << literal(field[1]) << ',' << literal(field[2]) << ','
        << (field[5].empty() ? "kUnknown_m"
                             : std::to_string(scaled(row.spot, field[5], kElevation)))
        << ',' << figures(row, 3, 6) << "},\n";
  }
  out << "};\n\nconstexpr Figures kCells[] = {\n";
  std::pair<int, int> before{INT_MIN, 0};
  for (const Row& row : read_table(grid, columns({"latitude_deg", "longitude_deg"}), kCells)) {
    const std::pair centre{scaled(row.spot, row.fields[0], kLatitude),
                           scaled(row.spot, row.fields[1], kLongitude)};
    // The program finds a cell by halving.
    if (centre <= before) fail(row.spot, "is not in the order of latitude, then longitude");
    if (centre.first % kCellSize_cdeg != 0 || centre.second % kCellSize_cdeg != 0) {
      fail(row.spot, "is not centred on multiples of 2.5 degrees");
    }
    before = centre;
    out << figures(row, 0, 2) << ",\n";
  }
  out << "};\n\n}  // namespace\n\n"
      << "std::span<const NamedPlace> named_places() { return kPlaces; }\n"
      << "std::span<const Figures> cells() { return kCells; }\n\n}  // namespace "
         "amptally::tables\n";
}

// ---- Battery types: JSON ----

/// Members of BatteryType, in its order, that are plain numbers.
constexpr std::array kNumbersBefore = {
    "cell_v",      "charging_cell_v",         "absorption_cell_v", "highest_charge_cell_v",
    "floor_share", "charge_efficiency_share", "max_charge_c",      "self_discharge_pct_month"};
constexpr std::array kCurves = {"temp_capacity", "rest_cell_v", "cycles"};
constexpr std::array kNumbersAfter = {"drop_cell_v", "empty_drop_cell_v", "drop_power",
                                      "shelf_life_years"};

std::string shortest(double value) {
  std::array<char, 32> buffer{};
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value).ptr;
  return {buffer.data(), end};
}

/// The member `key` of a battery type; it must be there and have its source.
const json& sourced(const Spot& spot, const json& type, const char* key) {
  if (!type.contains(key)) fail(spot, std::string(key) + " is missing");
  if (!(type.contains("sources") && type["sources"].contains(key))) {
    fail(spot, std::string(key) + " has no source");
  }
  return type[key];
}

std::string number(const Spot& spot, const json& type, const char* key) {
  const json& value = sourced(spot, type, key);
  if (value.is_null() && std::string_view(key) == "charge_efficiency_share") return "1";
  if (!value.is_number()) fail(spot, std::string(key) + " is not a number");
  return shortest(value.get<double>());
}

/// Initialiser of an array of points, first column rising.
std::string points(const Spot& spot, const json& type, const char* key) {
  const json& curve = sourced(spot, type, key);
  std::string out;
  double before = -std::numeric_limits<double>::infinity();
  for (const json& point : curve) {
    if (!(point.is_array() && point.size() == 2 && point[0].is_number() && point[1].is_number())) {
      fail(spot, std::string(key) + ": a point is not two numbers");
    }
    const auto x = point[0].get<double>();
    if (!(x > before)) fail(spot, std::string(key) + ": " + shortest(x) + " does not rise");
    before = x;
    out += "{" + shortest(x) + ", " + shortest(point[1].get<double>()) + "}, ";
  }
  return out;
}

/// Where in `text` the type called `kind` begins.
Spot spot_of(const std::string& path, const std::string& text, const std::string& kind) {
  const std::string before = text.substr(0, text.find('"' + kind + '"'));
  return {path, 1 + static_cast<std::size_t>(std::ranges::count(before, '\n'))};
}

bool boolean(const Spot& spot, const json& type, const char* key) {
  const json& value = sourced(spot, type, key);
  if (!value.is_boolean()) fail(spot, std::string(key) + " is neither true nor false");
  return value.get<bool>();
}

std::string word(const Spot& spot, const json& type, const char* key) {
  if (!type.contains(key)) fail(spot, std::string(key) + " is missing");
  const json& value = type[key];
  const std::string text = value.is_string() ? value.get<std::string>() : "";
  if (text.empty()) fail(spot, std::string(key) + " is not a word");
  return text;
}

/// The initialiser of the chemistry, whose equations want the figures that go with it.
std::string chemistry(const Spot& spot, const json& type) {
  const std::string name = word(spot, type, "chemistry");
  const bool lead_acid = name == "lead-acid";
  if (!lead_acid && name != "lithium") {
    fail(spot, "chemistry \"" + name + "\" is neither lead-acid nor lithium");
  }
  const bool gases = lead_acid && !boolean(spot, type, "sealed");
  if (gases != type["charge_efficiency_share"].is_null()) {
    fail(spot, gases ? "charge_efficiency_share of lead-acid that is not sealed is computed"
                     : "charge_efficiency_share is missing");
  }
  return lead_acid ? "Chemistry::lead_acid" : "Chemistry::lithium";
}

/// The types as C++: arrays, and the rows that refer to them.
struct BatteryTypes {
  std::string arrays;
  std::string rows;
  std::set<std::string> names;  ///< and other words for them
};

void take_name(const Spot& spot, BatteryTypes& types, const std::string& name) {
  if (!types.names.insert(name).second) fail(spot, "\"" + name + "\" is used before");
}

/// Adds an array, unless it is empty, and its name to the row.
void add_array(BatteryTypes& types, const char* element, const std::string& name,
               const std::string& elements) {
  types.rows += elements.empty() ? ", {}" : ", " + name;
  if (elements.empty()) return;
  types.arrays += std::string("constexpr ") + element + ' ' + name + "[] = {" + elements + "};\n";
}

/// Adds type `index`.
void add_battery(const Spot& spot, const json& type, std::size_t index, BatteryTypes& types) {
  const std::string kind = word(spot, type, "kind");
  const std::string number_of = std::to_string(index);
  take_name(spot, types, kind);
  std::string other_words;
  for (const json& other : type.value("other_words", json::array())) {
    take_name(spot, types, other.get<std::string>());
    other_words += literal(other.get<std::string>()) + ", ";
  }
  types.rows += "    {BatteryKind{" + number_of + "}, " + literal(kind) + ", " +
                literal(word(spot, type, "label"));
  add_array(types, "std::string_view", "other_words_" + number_of, other_words);
  types.rows += ", " + chemistry(spot, type);
  for (const char* key : {"sealed", "charges_in_frost"}) {
    types.rows += boolean(spot, type, key) ? ", true" : ", false";
  }
  for (const char* key : kNumbersBefore) types.rows += ", " + number(spot, type, key);
  for (const char* key : kCurves) {
    const std::string curve = points(spot, type, key);
    if (curve.empty()) fail(spot, std::string(key) + " has no points");
    add_array(types, "Point", std::string(key) + '_' + number_of, curve);
  }
  for (const char* key : kNumbersAfter) types.rows += ", " + number(spot, type, key);
  types.rows += "},\n";
}

void embed_batteries(std::ostream& out, const std::string& path) {
  const std::string text = read(path);
  const json document = json::parse(text);
  BatteryTypes types;
  std::size_t index = 0;
  for (const json& type : document.at("types")) {
    add_battery(spot_of(path, text, type.at("kind").get<std::string>()), type, index++, types);
  }
  out << "#include \"amptally/battery_type.hpp\"\n\nnamespace amptally::inline v0_1 {\nnamespace "
         "{\n\n"
      << "using Point = std::pair<double, double>;\n"
      << types.arrays << "constexpr BatteryType kTypes[] = {\n"
      << types.rows << "};\n\n}  // namespace\n\n"
      << "std::span<const BatteryType> battery_types() { return kTypes; }\n\n"
      << "}  // namespace amptally::inline v0_1\n";
}

// ---- Conductors: CSV ----

constexpr std::size_t kConductors = 23;

/// Each standard's rows go from thin to thick: less resistance, more current.
void check_order(const Row& row, const Row& before, const Format& section, const Format& resistance,
                 const Format& current) {
  if (row.fields[0] != before.fields[0]) return;
  const auto compare = [&](std::size_t field, const Format& format) {
    return scaled(row.spot, row.fields[field], format) -
           scaled(before.spot, before.fields[field], format);
  };
  if (compare(2, section) <= 0) fail(row.spot, "section_mm2 does not rise");
  if (compare(3, resistance) >= 0) fail(row.spot, "resistance_ohm_km does not fall");
  if (compare(5, current) <= 0) fail(row.spot, "ampacity_a does not rise");
}

void embed_conductors(std::ostream& out, const std::string& path) {
  constexpr Format kSection{4, 0, 1000};
  constexpr Format kResistance{3, 0, 1000};
  constexpr Format kCelsius{0, 0, 100};
  constexpr Format kCurrent{0, 1, 1000};
  const std::vector<Row> rows = read_table(
      path, {"standard", "size", "section_mm2", "resistance_ohm_km", "at_c", "ampacity_a"},
      kConductors);
  out << "#include \"amptally/wiring.hpp\"\n\nnamespace amptally::inline v0_1 {\nnamespace {\n\n"
      << "constexpr Conductor kConductors[] = {\n";
  for (std::size_t r = 0; r < rows.size(); ++r) {
    const auto& field = rows[r].fields;
    const Spot& spot = rows[r].spot;
    if (field[0] != "IEC" && field[0] != "AWG") {
      fail(spot, '"' + field[0] + "\" is neither IEC nor AWG");
    }
    if (r > 0) check_order(rows[r], rows[r - 1], kSection, kResistance, kCurrent);
    out << "    {ConductorStandard::" << (field[0] == "IEC" ? "iec" : "awg") << ", "
        << literal(field[1]) << ", " << shortest(scaled(spot, field[2], kSection) / 10000.0) << ", "
        << shortest(scaled(spot, field[3], kResistance) / 1000.0) << ", "
        << scaled(spot, field[4], kCelsius) << ", " << scaled(spot, field[5], kCurrent) << "},\n";
  }
  out << "};\n\n}  // namespace\n\n"
      << "std::span<const Conductor> conductors() { return kConductors; }\n\n"
      << "}  // namespace amptally::inline v0_1\n";
}

// ---- Crops: CSV ----

constexpr std::size_t kCrops = 21;

void embed_crops(std::ostream& out, const std::string& path) {
  constexpr Format kCoefficient{2, 0, 2};
  out << "#include \"amptally/water.hpp\"\n\nnamespace amptally::inline v0_1 {\nnamespace {\n\n"
      << "constexpr Crop kCrops[] = {\n";
  std::set<std::string> names;
  for (const Row& row : read_table(path, {"crop", "kc_mid"}, kCrops)) {
    const std::string& name = row.fields[0];
    if (name.empty() || !names.insert(name).second) {
      fail(row.spot, "crop \"" + name + "\" is empty or used before");
    }
    out << "    {" << literal(name) << ", "
        << shortest(scaled(row.spot, row.fields[1], kCoefficient) / 100.0) << "},\n";
  }
  out << "};\n\n}  // namespace\n\nstd::span<const Crop> crops() { return kCrops; }\n\n"
      << "}  // namespace amptally::inline v0_1\n";
}

// ---- Heights of the climate's cells: CSV ----

void embed_heights(std::ostream& out, const std::string& grid, const std::string& heights) {
  const auto cells = read_table(grid, columns({"latitude_deg", "longitude_deg"}), kCells);
  out << "#include \"place/climate_tables.hpp\"\n\nnamespace amptally::tables {\nnamespace {\n\n"
      << "constexpr std::int16_t kHeights_m[] = {\n";
  auto cell = cells.begin();
  for (const Row& row :
       read_table(heights, {"latitude_deg", "longitude_deg", "height_m"}, kCells)) {
    if (row.fields[0] != cell->fields[0] || row.fields[1] != cell->fields[1]) {
      fail(row.spot, "is not the cell that stands in this line of the grid");
    }
    ++cell;
    out << "    " << scaled(row.spot, row.fields[2], kElevation) << ",\n";
  }
  out << "};\n\n}  // namespace\n\n"
      << "std::span<const std::int16_t> cell_heights_m() { return kHeights_m; }\n\n"
      << "}  // namespace amptally::tables\n";
}

// ---- Clocks: CSV ----

constexpr std::size_t kClocks = 624;

void embed_clocks(std::ostream& out, const std::string& path) {
  constexpr Format kOffset{2, -12, 14};
  out << "#include \"place/climate_tables.hpp\"\n\nnamespace amptally::tables {\nnamespace {\n\n"
      << "constexpr ClockPoint kClocks[] = {\n";
  for (const Row& row :
       read_table(path, {"latitude_deg", "longitude_deg", "utc_offset_h", "zone"}, kClocks)) {
    const auto& field = row.fields;
    if (field[3].empty()) fail(row.spot, "zone is missing");
    const int hundredths_h = scaled(row.spot, field[2], kOffset);
    if (hundredths_h % 25 != 0) fail(row.spot, field[2] + " is no whole number of quarter hours");
    out << "    {" << scaled(row.spot, field[0], kLatitude) << ", "
        << scaled(row.spot, field[1], kLongitude) << ", " << hundredths_h / 25 << ", "
        << literal(field[3]) << "},\n";
  }
  out << "};\n\n}  // namespace\n\n"
      << "std::span<const ClockPoint> clock_points() { return kClocks; }\n\n"
      << "}  // namespace amptally::tables\n";
}

// ---- The example site: text ----

void embed_demo(std::ostream& out, const std::string& path) {
  const std::string text = read(path);
  const json site = json::parse(text, nullptr, true, /*ignore_comments=*/true);
  if (!site.is_object()) fail({path, 1}, "is not a JSON object");
  out << "#include \"cli/demo_site.hpp\"\n\nnamespace amptally::cli {\n\n"
      << "std::string_view demo_site() {\n  return";
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) out << "\n      " << literal(line + '\n');
  out << ";\n}\n\n}  // namespace amptally::cli\n";
}

void embed(std::string_view kind, const std::string& output, std::span<const std::string> inputs) {
  std::ostringstream out;
  out << "// Generated from";
  for (const std::string& input : inputs) out << ' ' << input;
  out << " by tools/embed_data.cpp, in every build.\n";

  if (kind == "climate" && inputs.size() == 2) {
    embed_climate(out, inputs[0], inputs[1]);
  } else if (kind == "batteries" && inputs.size() == 1) {
    embed_batteries(out, inputs[0]);
  } else if (kind == "conductors" && inputs.size() == 1) {
    embed_conductors(out, inputs[0]);
  } else if (kind == "crops" && inputs.size() == 1) {
    embed_crops(out, inputs[0]);
  } else if (kind == "clocks" && inputs.size() == 1) {
    embed_clocks(out, inputs[0]);
  } else if (kind == "heights" && inputs.size() == 2) {
    embed_heights(out, inputs[0], inputs[1]);
  } else if (kind == "demo" && inputs.size() == 1) {
    embed_demo(out, inputs[0]);
  } else {
    throw std::runtime_error(
        "use: embed_data climate|batteries|conductors|crops|clocks|heights|demo OUTPUT "
        "INPUT...");
  }

  std::ofstream file(output, std::ios::binary);
  file << out.str();
  if (!file.flush()) throw std::runtime_error(output + ": cannot be written");
}

}  // namespace

int main(int argc, char** argv) {
  try {
    const std::vector<std::string> arguments(argv + 1, argv + argc);
    if (arguments.size() < 3) throw std::runtime_error("too few arguments");
    embed(arguments[0], arguments[1], std::span(arguments).subspan(2));
    return 0;
  } catch (const std::exception& e) {
    std::cerr << e.what() << '\n';
    return 1;
  }
}
