#pragma once

#include <cstddef>
#include <vector>

namespace amptally::inline v0_1 {

/// A cell of the shipped grid, and how much it counts at some point.
struct CellShare {
  std::size_t index;  ///< in tables::cells()
  double share;       ///< of all cells around the point, 0..1
};

/// The cells whose centres are the corners of the rectangle around a point, each with the area of
/// the rectangle's part that lies opposite (bilinear). Corners without a row are left out, and the
/// shares of the others scaled to sum to 1; empty where there is none. From south to north, from
/// west to east; longitudes 360 degrees apart are the same.
[[nodiscard]] std::vector<CellShare> cells_around(double latitude_deg, double longitude_deg);

}  // namespace amptally::inline v0_1
