#pragma once

#include <algorithm>
#include <exception>
#include <system_error>
#include <thread>
#include <vector>

namespace amptally {

/// Calls `work(i)` for i = 0 .. count - 1, shared among `threads` threads, or as many as the system
/// gives; each call must stand alone.
/// @throws what the lowest i that threw has thrown, when all calls are done
template <class Work>
void in_parallel(int count, int threads, const Work& work) {
  std::vector<std::exception_ptr> thrown(static_cast<std::size_t>(std::max(count, 0)));
  const int used = std::clamp(threads, 1, std::max(count, 1));
  const auto every = [&](int from) {
    for (int i = from; i < count; i += used) {
      try {
        work(i);
      } catch (...) {
        thrown[static_cast<std::size_t>(i)] = std::current_exception();
      }
    }
  };
  {
    std::vector<std::jthread> helpers;
    int shared_out = 1;
    try {
      for (; shared_out < used; ++shared_out) helpers.emplace_back(every, shared_out);
    } catch (const std::system_error&) {
      // The system has no thread to give: what is left of the work is done in this one.
    }
    for (int t = shared_out; t < used; ++t) every(t);
    every(0);
  }  // the threads are joined here
  for (const std::exception_ptr& error : thrown) {
    if (error) std::rethrow_exception(error);
  }
}

}  // namespace amptally
