#include "balance/batch/kernel_dispatch.hpp"

#include <vector>

namespace amptally::inline v0_1 {

std::span<const DayKernel* const> kernels() {
  static const std::vector<const DayKernel*> found = [] {
    std::vector<const DayKernel*> run_here;
    for (const DayKernel* kernel : {
             // By rising width: `widest_kernel` takes the last.
             &kPortableKernel,
#ifdef AMPTALLY_X86_KERNELS
             &kSse2Kernel,
             &kAvx2Kernel,
             &kAvx512Kernel,
#endif
         }) {
      if (kernel->runs_here()) run_here.push_back(kernel);
    }
    return run_here;
  }();
  return found;
}

const DayKernel& widest_kernel() { return *kernels().back(); }

}  // namespace amptally::inline v0_1
