#include "balance/batch/day_kernel.hpp"

namespace amptally::inline v0_1 {
namespace {

bool runs_here() { return true; }

}  // namespace

/// One design at a time: for processors without a file of their own, and what the others are
/// compared with.
const DayKernel kPortableKernel = {"portable", 1, runs_here,
                                   run_block_day<ScalarArithmetic, SharedDay>,
                                   run_block_day<ScalarArithmetic, OwnDay>};

}  // namespace amptally::inline v0_1
