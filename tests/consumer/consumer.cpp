#include <cmath>
#include <iostream>

#include "amptally/climate.hpp"
#include "amptally/quantity.hpp"
#include "amptally/version.hpp"

// A header, a shipped table and a package the library itself needs: each must have been installed.
int main() {
  const auto place = amptally::find_place("Madrid");
  const auto draw = amptally::parse_quantity("350 mA", amptally::Dimension::current);
  std::cout << "amptally " << amptally::kVersion << ": " << draw.middle << " A\n";
  return place && std::abs(draw.middle - 0.35) < 1e-12 ? 0 : 1;
}
