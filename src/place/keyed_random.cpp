#include "place/keyed_random.hpp"

namespace amptally::inline v0_1 {
namespace {

std::uint64_t mixed(std::uint64_t z) {
  z += 0x9e3779b97f4a7c15U;
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9U;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebU;
  return z ^ (z >> 31);
}

}  // namespace

double keyed_random(std::uint64_t seed, std::uint64_t year, std::uint64_t day) {
  const std::uint64_t bits = mixed(mixed(mixed(seed) ^ year) ^ day);
  return static_cast<double>(bits >> 11) * 0x1p-53;
}

}  // namespace amptally::inline v0_1
