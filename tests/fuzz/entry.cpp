#include <cstddef>
#include <cstdint>
#include <string_view>

#include "fuzz/targets.hpp"

/// What libFuzzer calls, for the target that AMPTALLY_FUZZ_TARGET names. What the target throws
/// ends the process, and libFuzzer keeps the input.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(bytes), size);
  // One input in sixteen thoroughly, and the same ones whenever they come again: FNV-1a.
  std::uint32_t hash = 2166136261U;
  for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 16777619U;
  amptally::fuzz::AMPTALLY_FUZZ_TARGET(text, hash % 16 == 0);
  return 0;
}
