#include "cli/batch_size.hpp"

#include "catch.hpp"

using amptally::cli::Pace;
using std::chrono::milliseconds;

// Sizes are ours: see pace.hpp.
TEST_CASE("many records are run together only while that takes half a second at most",
          "[cli][sweep]") {
  Pace pace;
  CHECK(pace.size() == 128);
  pace.took(milliseconds(63));  // 504 ms for the next size
  CHECK(pace.size() == 128);
  pace.took(milliseconds(20));
  CHECK(pace.size() == 1024);
  pace.took(milliseconds(1));
  CHECK(pace.size() == 1024);
  pace.took(milliseconds(500));
  CHECK(pace.size() == 1024);
  pace.took(milliseconds(501));
  CHECK(pace.size() == 128);
  pace.took(milliseconds(9000));
  CHECK(pace.size() == 16);
  pace.took(milliseconds(9000));
  CHECK(pace.size() == 16);
}
