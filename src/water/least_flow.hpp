#pragma once

namespace amptally::inline v0_1 {

/// Less is no flow. Chosen: nine millilitres a year are nothing.
inline constexpr double kHardlyAny_l_h = 1e-6;

}  // namespace amptally::inline v0_1
