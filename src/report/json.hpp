#pragma once

#include <span>
#include <string>
#include <vector>

#include "report/budget.hpp"
#include "report/check.hpp"
#include "report/explain.hpp"
#include "report/fit.hpp"
#include "report/levers.hpp"
#include "report/part_sets.hpp"
#include "report/places.hpp"
#include "report/size.hpp"
#include "report/sun.hpp"
#include "report/water.hpp"
#include "report/wiring.hpp"

/// Results for machines: full precision, finite numbers only (null where there is none), keys in
/// the order docs/outputs.md gives.
namespace amptally::report {

[[nodiscard]] std::string budget_json(const Budget& budget);
[[nodiscard]] std::string fit_json(const FitAnswer& answer);
[[nodiscard]] std::string size_json(const SizeAnswer& answer);
[[nodiscard]] std::string parts_json(const PartsAnswer& answer);
[[nodiscard]] std::string levers_json(const Levers& levers);
[[nodiscard]] std::string sun_json(const Sun& sun);
[[nodiscard]] std::string water_json(const WaterAnswer& answer);
[[nodiscard]] std::string wiring_json(const Wiring& wiring);
[[nodiscard]] std::string check_json(const Check& check);
[[nodiscard]] std::string explain_json(std::span<const Field> fields);
[[nodiscard]] std::string places_json(const std::vector<ListedPlace>& places);

}  // namespace amptally::report
