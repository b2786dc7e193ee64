#include <immintrin.h>

#include "balance/batch/cpu_features.hpp"
#include "balance/batch/day_kernel.hpp"

namespace amptally::inline v0_1 {
namespace {

/// 4 designs to a vector.
struct Avx2Arithmetic {
  struct Value {
    __m256d v;

    friend Value operator+(Value a, Value b) { return {_mm256_add_pd(a.v, b.v)}; }
    friend Value operator-(Value a, Value b) { return {_mm256_sub_pd(a.v, b.v)}; }
    friend Value operator*(Value a, Value b) { return {_mm256_mul_pd(a.v, b.v)}; }
    friend Value operator/(Value a, Value b) { return {_mm256_div_pd(a.v, b.v)}; }
  };
  static constexpr int kWidth = 4;
  static Value all(double x) { return {_mm256_set1_pd(x)}; }
  static Value load(const double* from) { return {_mm256_load_pd(from)}; }
  static void store(double* to, Value x) { _mm256_store_pd(to, x.v); }
  // In the order a, b, for the reason given in kernel_sse2.cpp.
  static Value min(Value a, Value b) { return {_mm256_min_pd(a.v, b.v)}; }
  static Value max(Value a, Value b) { return {_mm256_max_pd(a.v, b.v)}; }
  static Value if_at_most(Value a, Value b, Value then, Value otherwise) {
    return {_mm256_blendv_pd(otherwise.v, then.v, _mm256_cmp_pd(a.v, b.v, _CMP_LE_OQ))};
  }
  static bool any_positive(Value x) {
    return _mm256_movemask_pd(_mm256_cmp_pd(x.v, _mm256_setzero_pd(), _CMP_GT_OQ)) != 0;
  }
};

bool runs_here() { return AMPTALLY_RUNS_AVX2; }

}  // namespace

const DayKernel kAvx2Kernel = {"avx2", Avx2Arithmetic::kWidth, runs_here,
                               run_block_day<Avx2Arithmetic, SharedDay>,
                               run_block_day<Avx2Arithmetic, OwnDay>};

}  // namespace amptally::inline v0_1
