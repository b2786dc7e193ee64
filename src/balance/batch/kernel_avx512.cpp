#include <immintrin.h>

#include "balance/batch/cpu_features.hpp"
#include "balance/batch/day_kernel.hpp"

namespace amptally::inline v0_1 {
namespace {

/// 8 designs to a vector.
struct Avx512Arithmetic {
  struct Value {
    __m512d v;

    friend Value operator+(Value a, Value b) { return {_mm512_add_pd(a.v, b.v)}; }
    friend Value operator-(Value a, Value b) { return {_mm512_sub_pd(a.v, b.v)}; }
    friend Value operator*(Value a, Value b) { return {_mm512_mul_pd(a.v, b.v)}; }
    friend Value operator/(Value a, Value b) { return {_mm512_div_pd(a.v, b.v)}; }
  };
  static constexpr int kWidth = 8;
  static Value all(double x) { return {_mm512_set1_pd(x)}; }
  static Value load(const double* from) { return {_mm512_load_pd(from)}; }
  static void store(double* to, Value x) { _mm512_store_pd(to, x.v); }
  // The masked forms, since g++ 12 takes the plain ones for reading what was never set.
  static Value min(Value a, Value b) { return {_mm512_maskz_min_pd(0xFF, a.v, b.v)}; }
  static Value max(Value a, Value b) { return {_mm512_maskz_max_pd(0xFF, a.v, b.v)}; }
  static Value if_at_most(Value a, Value b, Value then, Value otherwise) {
    return {_mm512_mask_blend_pd(_mm512_cmp_pd_mask(a.v, b.v, _CMP_LE_OQ), otherwise.v, then.v)};
  }
  static bool any_positive(Value x) {
    return _mm512_cmp_pd_mask(x.v, _mm512_setzero_pd(), _CMP_GT_OQ) != 0;
  }
};

bool runs_here() { return AMPTALLY_RUNS_AVX512F; }

}  // namespace

const DayKernel kAvx512Kernel = {"avx512", Avx512Arithmetic::kWidth, runs_here,
                                 run_block_day<Avx512Arithmetic, SharedDay>,
                                 run_block_day<Avx512Arithmetic, OwnDay>};

}  // namespace amptally::inline v0_1
