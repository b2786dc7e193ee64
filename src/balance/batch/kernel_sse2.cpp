#include <immintrin.h>

#include "balance/batch/day_kernel.hpp"

namespace amptally::inline v0_1 {
namespace {

/// 2 designs to a vector.
struct Sse2Arithmetic {
  struct Value {
    __m128d v;

    friend Value operator+(Value a, Value b) { return {_mm_add_pd(a.v, b.v)}; }
    friend Value operator-(Value a, Value b) { return {_mm_sub_pd(a.v, b.v)}; }
    friend Value operator*(Value a, Value b) { return {_mm_mul_pd(a.v, b.v)}; }
    friend Value operator/(Value a, Value b) { return {_mm_div_pd(a.v, b.v)}; }
  };
  static constexpr int kWidth = 2;
  static Value all(double x) { return {_mm_set1_pd(x)}; }
  // Aligned: rows are (batch/block.hpp), and lanes are taken a whole vector at a time.
  static Value load(const double* from) { return {_mm_load_pd(from)}; }
  static void store(double* to, Value x) { _mm_store_pd(to, x.v); }
  // Where neither is less (0 and -0, NaN) the instruction gives the second, as ScalarArithmetic
  // does. So the order of a and b matters to the bits.
  static Value min(Value a, Value b) { return {_mm_min_pd(a.v, b.v)}; }
  static Value max(Value a, Value b) { return {_mm_max_pd(a.v, b.v)}; }
  static Value if_at_most(Value a, Value b, Value then, Value otherwise) {
    const __m128d where = _mm_cmple_pd(a.v, b.v);
    return {_mm_or_pd(_mm_and_pd(where, then.v), _mm_andnot_pd(where, otherwise.v))};
  }
  static bool any_positive(Value x) {
    return _mm_movemask_pd(_mm_cmpgt_pd(x.v, _mm_setzero_pd())) != 0;
  }
};

// Every x86-64 processor has it.
bool runs_here() { return true; }

}  // namespace

const DayKernel kSse2Kernel = {"sse2", Sse2Arithmetic::kWidth, runs_here,
                               run_block_day<Sse2Arithmetic, SharedDay>,
                               run_block_day<Sse2Arithmetic, OwnDay>};

}  // namespace amptally::inline v0_1
