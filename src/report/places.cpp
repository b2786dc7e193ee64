#include "report/places.hpp"

#include "report/document.hpp"
#include "report/json.hpp"

namespace amptally::report {
namespace {

Table place_table(const std::vector<ListedPlace>& places) {
  Table table{.columns = {{"Write in\nthe file", "", "id", Align::left},
                          {"Place", "", "name", Align::left},
                          {"Country", "", "country", Align::left},
                          {"Latitude", "°", "latitude_deg"},
                          {"Longitude", "°", "longitude_deg"},
                          {"Height", "m", "elevation_m"},
                          {"Sun on\nground", "kWh/m²/day", "sun_mean_kwh_m2_day"}},
              .rows = {}};
  const bool with_distance = !places.empty() && places.front().distance_km.has_value();
  if (with_distance) table.columns.push_back({"Away", "km", "distance_km"});
  for (const ListedPlace& place : places) {
    table.rows.push_back({word(place.row.id), word(place.row.name), word(place.row.country),
                          number(place.row.latitude_deg, 2), number(place.row.longitude_deg, 2),
                          place.row.elevation_m ? number(*place.row.elevation_m, 0) : Cell{},
                          number(place.sun_mean_kwh_m2_day, 2)});
    if (with_distance) table.rows.back().push_back(number(*place.distance_km, 0));
  }
  return table;
}

}  // namespace

std::string places_report(const std::vector<ListedPlace>& places, const OutputStyle& style) {
  return in_form(
      style, [&] { return places_json(places); }, [&] { return table_csv(place_table(places)); },
      [&] { return Document{place_table(places)}; });
}

}  // namespace amptally::report
