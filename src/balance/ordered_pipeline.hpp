#pragma once

#include <algorithm>
#include <condition_variable>
#include <exception>
#include <mutex>
#include <type_traits>
#include <utility>
#include <vector>

#include "balance/parallel_for.hpp"

namespace amptally::inline v0_1 {

// The threads of `ordered_pipeline`, and what goes between them. A thread that has made an item
// takes what is ready, unless another is taking, and else goes on making.
template <class Make, class Take>
class OrderedPipeline {
 public:
  OrderedPipeline(int count, int threads, const Make& make, const Take& take)
      : count_(count),
        threads_(std::min(threads, count)),
        make_(make),
        take_(take),
        places_(static_cast<std::size_t>(std::max(2 * threads_, 1))) {}

  void run() {
    on_threads(threads_, [this] { work(); });
    if (error_) std::rethrow_exception(error_);
  }

 private:
  using Item = std::invoke_result_t<Make, int>;
  struct Place {
    Item item;
    bool is_ready = false;
  };

  Place& place(int i) { return places_[static_cast<std::size_t>(i) % places_.size()]; }

  [[nodiscard]] bool is_over() const { return error_ || to_make_ == count_; }
  [[nodiscard]] bool has_room() const {
    return to_make_ < to_take_ + static_cast<int>(places_.size());
  }

  void work() {
    std::unique_lock lock(mutex_);
    while (!error_) {
      if (!is_taking_ && place(to_take_).is_ready) {
        take_ready(lock);
      } else if (is_over()) {
        return;  // whoever makes the last items takes them
      } else if (has_room()) {
        make_next(lock);
      } else {
        moved_.wait(lock, [this] { return is_over() || has_room(); });
      }
    }
  }

  void make_next(std::unique_lock<std::mutex>& lock) {
    const int i = to_make_++;
    lock.unlock();
    try {
      place(i).item = make_(i);
      lock.lock();
      place(i).is_ready = true;
    } catch (...) {
      lock.lock();
      fail();
    }
  }

  void take_ready(std::unique_lock<std::mutex>& lock) {
    is_taking_ = true;
    const int i = to_take_;
    lock.unlock();
    try {
      take_(std::move(place(i).item), i);
      lock.lock();
      place(i).is_ready = false;
      ++to_take_;
    } catch (...) {
      lock.lock();
      fail();
    }
    is_taking_ = false;
    moved_.notify_all();
  }

  void fail() {
    if (!error_) error_ = std::current_exception();
    moved_.notify_all();
  }

  int count_;
  int threads_;
  const Make& make_;
  const Take& take_;
  std::mutex mutex_;
  std::condition_variable moved_;
  std::vector<Place> places_;  // item i in place i modulo their number
  int to_make_ = 0;
  int to_take_ = 0;
  bool is_taking_ = false;
  std::exception_ptr error_;
};

/// Items 0 .. count - 1, made side by side by up to `threads` threads, or as many as the system
/// gives, and taken one at a time in their order. Memory does not grow with their number.
///
/// @param make  Item make(int i); each call must stand alone
/// @param take  void take(Item&&, int i), by one thread or another
/// @throws what either threw first; nothing is taken after that
template <class Make, class Take>
void ordered_pipeline(int count, int threads, const Make& make, const Take& take) {
  OrderedPipeline<Make, Take>(count, threads, make, take).run();
}

}  // namespace amptally::inline v0_1
