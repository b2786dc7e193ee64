#pragma once

#include <string>

#include "amptally/fit.hpp"
#include "amptally/rough.hpp"

#include "report/output_style.hpp"

namespace amptally::report {

/// What `fit` found.
struct FitAnswer {
  const Site& site;  ///< with the new loads, last in its list
  std::size_t added = 1;
  const Fit& fit;
  std::string weather_file = {};      ///< where the years are those of a file
  const RoughStudy* rough = nullptr;  ///< with the new loads, where the site has ranges
};

/// The answer in any format, ready to write.
[[nodiscard]] std::string fit_report(const FitAnswer& answer, const OutputStyle& style);

}  // namespace amptally::report
