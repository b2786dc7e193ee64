#pragma once

/// Whether the processor, and the system on it, run an instruction set.
///
/// The C library has asked the processor already; the compiler's own way, `__builtin_cpu_supports`,
/// asks again before main() of every program, which a virtual machine makes slow. Macros, for the
/// reason given in quantity/lane_arithmetic.hpp.
// glibc 2.33; clang does not read this header in strict C++.
#if __has_include(<sys/platform/x86.h>) && !defined(__clang__)
#include <sys/platform/x86.h>
#define AMPTALLY_RUNS_AVX2 CPU_FEATURE_ACTIVE(AVX2)
#define AMPTALLY_RUNS_AVX512F CPU_FEATURE_ACTIVE(AVX512F)
#else
#define AMPTALLY_RUNS_AVX2 __builtin_cpu_supports("avx2")
#define AMPTALLY_RUNS_AVX512F __builtin_cpu_supports("avx512f")
#endif
