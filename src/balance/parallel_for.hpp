#pragma once

#include <algorithm>
#include <atomic>
#include <exception>
#include <system_error>
#include <thread>
#include <vector>

namespace amptally::inline v0_1 {

/// Calls `work()` in this thread and in `threads - 1` others, or as many as the system gives, and
/// waits for all; `work` must not throw.
template <class Work>
void on_threads(int threads, const Work& work) {
  std::vector<std::jthread> helpers;
  try {
    for (int t = 1; t < threads; ++t) helpers.emplace_back(work);
  } catch (const std::system_error&) {
    // The system has no thread to give: those there are do the work.
  }
  work();
}  // the threads are joined here

/// Calls `work(i)` for i = 0 .. count - 1, shared among `threads` threads, or as many as the system
/// gives; each call must stand alone.
/// @throws what the lowest i that threw has thrown, when all calls are done
template <class Work>
void in_parallel(int count, int threads, const Work& work) {
  std::vector<std::exception_ptr> thrown(static_cast<std::size_t>(std::max(count, 0)));
  std::atomic<int> next = 0;
  on_threads(std::min(threads, count), [&] {
    for (int i = next++; i < count; i = next++) {
      try {
        work(i);
      } catch (...) {
        thrown[static_cast<std::size_t>(i)] = std::current_exception();
      }
    }
  });
  for (const std::exception_ptr& error : thrown) {
    if (error) std::rethrow_exception(error);
  }
}

}  // namespace amptally::inline v0_1
