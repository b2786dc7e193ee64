#pragma once

#include <string>

#include "amptally/balance.hpp"

#include "report/table.hpp"

/// The year in tables, and the words around them.
namespace amptally::report {

/// A yearly sum as its mean day, the unit of the monthly columns.
[[nodiscard]] double a_day(double year_sum);
/// "changeable " for synthetic weather, else nothing: what to say before "year".
[[nodiscard]] const char* sort_of_year(WeatherMode weather);

/// What stands above `month_table`.
[[nodiscard]] std::string months_heading(const Balance& balance);
[[nodiscard]] Table month_table(const Balance& balance);
/// What stands below it: its heads in whole sentences.
[[nodiscard]] std::string months_legend(const Balance& balance);
[[nodiscard]] Table day_table(const Balance& balance);
/// Who asks for charge. Not in CSV: its rows are months.
[[nodiscard]] Table use_table(const Balance& balance);
/// How the years differ. Not in CSV either.
[[nodiscard]] Table spread_table(const YearSpread& spread);
/// Where the panel's charge goes besides the uses, in a sentence.
[[nodiscard]] std::string losses_text(const Balance& balance);

}  // namespace amptally::report
