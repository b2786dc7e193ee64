#pragma once

#include <memory>
#include <span>
#include <vector>

#include "amptally/balance.hpp"

/// Many balances over one weather: what sizing, fitting and levers are made of.
namespace amptally::inline v0_1 {

/// A site's weather made once, and variants of the site run in it.
///
/// A variant may change anything. What it shares with the site or with other variants of a batch
/// (place and plane, the panel's label but for its size, the loads) is worked out once, and designs
/// are run side by side, which is what makes a study fast (docs/kernel.md). Results are those of
/// `simulate`, to the last bit, whatever the batch and the number of threads.
class Study {
 public:
  /// @throws as `simulate`
  Study(const Site& base, const WeatherChoice& weather);
  ~Study();
  Study(Study&&) noexcept;
  Study& operator=(Study&&) noexcept;

  [[nodiscard]] const Site& base() const;
  [[nodiscard]] const WeatherChoice& weather() const;

  /// The figures of a variant.
  /// @throws as `simulate`
  [[nodiscard]] JudgedYear run(const Site& variant) const;

  /// The figures of many variants, one each, in their order.
  /// @throws as `simulate`, for any of the variants
  [[nodiscard]] std::vector<JudgedYear> run(std::span<const Site> variants) const;

  /// Whether a variant meets its aim; stops at the year that makes it certain that it does not.
  [[nodiscard]] bool meets(const Site& variant) const;

  /// The same of many, one each, in their order.
  [[nodiscard]] std::vector<bool> meets(std::span<const Site> variants) const;

 private:
  friend struct UncheckedStudy;
  struct Made;
  std::unique_ptr<const Made> made_;
};

}  // namespace amptally::inline v0_1
