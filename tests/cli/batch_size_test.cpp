#include "cli/batch_size.hpp"

#include "catch.hpp"

using amptally::cli::BatchSize;
using std::chrono::milliseconds;

// Sizes are ours: see batch_size.hpp.
TEST_CASE("many records are run together only while that takes half a second at most",
          "[cli][sweep]") {
  BatchSize batch;
  CHECK(batch.records() == 128);
  batch.took(milliseconds(63));  // 504 ms for the next size
  CHECK(batch.records() == 128);
  batch.took(milliseconds(20));
  CHECK(batch.records() == 1024);
  batch.took(milliseconds(1));
  CHECK(batch.records() == 1024);
  batch.took(milliseconds(500));
  CHECK(batch.records() == 1024);
  batch.took(milliseconds(501));
  CHECK(batch.records() == 128);
  batch.took(milliseconds(9000));
  CHECK(batch.records() == 16);
  batch.took(milliseconds(9000));
  CHECK(batch.records() == 16);
}
