#include "place/cells_around.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "place/climate_tables.hpp"

namespace amptally::inline v0_1 {
namespace {

constexpr int kAround = 36000 / tables::kCellSize_cdeg;  ///< cells on a circle of latitude

/// The cell centred `row` cells north of the equator and `column` east of Greenwich.
std::optional<std::size_t> cell_at(int row, int column) {
  column = (column % kAround + kAround + kAround / 2) % kAround - kAround / 2;  // -180 is written
  const auto centre = [](const tables::Figures& cell) {
    return std::pair<int, int>(cell.latitude_cdeg, cell.longitude_cdeg);
  };
  const std::pair wanted(row * tables::kCellSize_cdeg, column * tables::kCellSize_cdeg);
  const auto cells = tables::cells();
  const auto found = std::ranges::lower_bound(cells, wanted, {}, centre);
  if (found == cells.end() || centre(*found) != wanted) return std::nullopt;
  return static_cast<std::size_t>(found - cells.begin());
}

}  // namespace

std::vector<CellShare> cells_around(double latitude_deg, double longitude_deg) {
  constexpr double kSize_deg = tables::kCellSize_cdeg / 100.0;
  const double south = std::floor(latitude_deg / kSize_deg);
  const double west = std::floor(longitude_deg / kSize_deg);
  const double north_share = latitude_deg / kSize_deg - south;
  const double east_share = longitude_deg / kSize_deg - west;

  std::vector<CellShare> around;
  double sum = 0;
  for (const int north : {0, 1}) {
    for (const int east : {0, 1}) {
      const double share =
          (north == 1 ? north_share : 1 - north_share) * (east == 1 ? east_share : 1 - east_share);
      if (share <= 0) continue;
      const auto cell = cell_at(static_cast<int>(south) + north, static_cast<int>(west) + east);
      if (!cell) continue;
      around.push_back({*cell, share});
      sum += share;
    }
  }
  for (CellShare& cell : around) cell.share /= sum;
  return around;
}

}  // namespace amptally::inline v0_1
