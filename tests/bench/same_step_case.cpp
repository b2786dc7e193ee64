// Writes designs and a year for the same step in other languages, and prints what the widest kernel
// makes of them, in the form they do. Run: same_step_case FILE DESIGNS DAYS [lithium]
#include <cstdlib>
#include <fstream>
#include <string_view>

#include <fmt/core.h>

#include "balance/batch/kernel_dispatch.hpp"
#include "day_walk.hpp"
#include "garden.hpp"

using namespace amptally;

namespace {

// Lithium in a hard winter, so that it is kept from charging in frost.
Site site_of(bool lithium) {
  Site site =
      bench::garden(lithium ? battery_kind("lifepo4") : battery_kind("agm"), RegulatorKind::pwm);
  if (lithium) {
    for (double& temp_c : site.place.air_temp_c) temp_c -= 9;
  }
  return site;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 4) {
    fmt::print(stderr, "same_step_case FILE DESIGNS DAYS [lithium]\n");
    return 2;
  }
  const int designs = std::atoi(argv[2]);
  const int days = std::atoi(argv[3]);
  if (designs < 1 || designs > kBlockLanes || days < 1 || days > kDaysPerYear) {
    fmt::print(stderr, "same_step_case: 1..{} designs and 1..{} days\n", kBlockLanes, kDaysPerYear);
    return 2;
  }
  const bench::Variants variants(site_of(argc > 4 && std::string_view(argv[4]) == "lithium"),
                                 designs);
  std::ofstream file(argv[1]);
  file << bench::same_step_input(variants);
  if (!file.flush()) {
    fmt::print(stderr, "same_step_case: {} cannot be written\n", argv[1]);
    return 2;
  }
  bench::DayWalk walk(variants.designs);
  walk.run(widest_kernel(), days);
  const bench::Totals totals = walk.totals();
  fmt::print("{} {}\n", totals.taken_ah, totals.short_ah);
  return 0;
}
