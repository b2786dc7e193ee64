#include "balance/ordered_pipeline.hpp"

#include <algorithm>
#include <atomic>
#include <numeric>
#include <stdexcept>
#include <thread>
#include <vector>

#include "catch.hpp"

namespace amptally::inline v0_1 {
namespace {

TEST_CASE("an ordered pipeline takes each item once, in order, for any number of threads",
          "[relay]") {
  const int threads = GENERATE(-1, 0, 1, 2, 3, 8);
  const int count = GENERATE(0, 1, 2, 7, 500);
  CAPTURE(threads, count);
  std::vector<int> taken;  // without a lock: one at a time is what is promised
  ordered_pipeline(
      count, threads, [](int i) { return 3 * i; },
      [&](int item, int i) {
        CHECK(item == 3 * i);
        taken.push_back(i);
      });
  std::vector<int> expected(static_cast<std::size_t>(count));
  std::iota(expected.begin(), expected.end(), 0);
  CHECK(taken == expected);
}

TEST_CASE("an ordered pipeline keeps few items waiting, however slowly they are taken", "[relay]") {
  constexpr int kThreads = 3;
  std::atomic<int> waiting = 0;
  int most = 0;
  ordered_pipeline(
      200, kThreads,
      [&](int i) {
        ++waiting;
        return i;
      },
      [&](int i, int) {
        for (int pause = 0; pause < 100; ++pause) std::this_thread::yield();
        most = std::max(most, waiting.load());
        --waiting;
        (void)i;
      });
  CHECK(most > 0);
  CHECK(most <= 2 * kThreads);
}

TEST_CASE("an exception while making or taking items ends an ordered pipeline and is thrown on",
          "[relay]") {
  const int threads = GENERATE(1, 2, 8);
  CAPTURE(threads);
  int last = -1;
  const auto fail_at_40 = [](int i) {
    if (i == 40) throw std::runtime_error("forty");
    return i;
  };
  CHECK_THROWS_WITH(ordered_pipeline(100, threads, fail_at_40, [&](int i, int) { last = i; }),
                    "forty");
  CHECK(last < 40);
  last = -1;
  CHECK_THROWS_WITH(
      ordered_pipeline(
          100, threads, [](int i) { return i; }, [&](int i, int) { last = fail_at_40(i); }),
      "forty");
  CHECK(last == 39);
}

}  // namespace
}  // namespace amptally::inline v0_1
