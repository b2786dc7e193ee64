#pragma once

// The tests keep to what Catch2 2.13 and 3 have in common.
#if __has_include(<catch2/catch_all.hpp>)
#include <catch2/catch_all.hpp>
#else
#include <catch2/catch.hpp>
#endif
