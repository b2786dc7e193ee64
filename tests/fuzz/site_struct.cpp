#include <cstdint>
#include <span>

#include "fuzz/promises.hpp"
#include "fuzz/targets.hpp"
#include "struct_walk.hpp"

namespace amptally::fuzz {

void site_struct(std::string_view text, bool /*thorough*/) {
  // A byte says which member, the next what it becomes.
  const std::span bytes(reinterpret_cast<const std::uint8_t*>(text.data()), text.size());
  const std::string complaint = testing::complaint(testing::changed_case(bytes));
  require(complaint.empty(), complaint);
}

}  // namespace amptally::fuzz
