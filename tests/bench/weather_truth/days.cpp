#include "days.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <span>

using namespace amptally;

namespace weather_truth {
namespace {

using Years = std::span<const SunYear>;

// Spread of a series about 0, and how two such series go together.
class Deviations {
 public:
  void add(double value) {
    squares_ += value * value;
    ++count_;
  }
  void add_pair(double one, double other) {
    products_ += one * other;
    one_squares_ += one * one;
    other_squares_ += other * other;
  }
  [[nodiscard]] double standard() const { return std::sqrt(squares_ / count_); }
  [[nodiscard]] double correlation() const {
    const double squares = std::sqrt(one_squares_ * other_squares_);
    return squares > 0 ? products_ / squares : 0;
  }

 private:
  double squares_ = 0;
  double products_ = 0;
  double one_squares_ = 0;
  double other_squares_ = 0;
  double count_ = 0;
};

// Days of `months`, each with the one before it in the same year.
template <typename DeviationOfDay>
Deviations deviations(Years years, const std::vector<int>& months,
                      const DeviationOfDay& deviation) {
  Deviations sums;
  for (const SunYear& year : years) {
    for (const int m : months) {
      const auto first = static_cast<std::size_t>(first_day_of_month(m) - 1);
      for (std::size_t d = first; d < first + static_cast<std::size_t>(days_in_month(m)); ++d) {
        const double value = deviation(year, d);
        sums.add(value);
        if (d > 0) sums.add_pair(deviation(year, d - 1), value);
      }
    }
  }
  return sums;
}

std::vector<double> sun_of_month(const SunYear& year, int month) {
  const auto first = year.days.begin() + (first_day_of_month(month) - 1);
  std::vector<double> sun;
  std::transform(first, first + days_in_month(month), std::back_inserter(sun),
                 [](const WeatherDay& day) { return day.sun_horizontal_kwh_m2; });
  return sun;
}

double mean_of(const std::vector<double>& values) {
  return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

// The least sum of so many in a row, over their number.
double worst_in_a_row(const std::vector<double>& days, int length) {
  double least = 0;
  for (auto from = days.begin(); from + length <= days.end(); ++from) {
    const double sum = std::accumulate(from, from + length, 0.0);
    if (from == days.begin() || sum < least) least = sum;
  }
  return least / length;
}

// Adds a month's spread between years and its worst days, as one of `months`.
void add_month(Years years, int month, double months, SunFigures& figures) {
  std::vector<double> means;
  std::array<double, kSpells_days.size()> worst{};
  for (const SunYear& year : years) {
    const std::vector<double> sun = sun_of_month(year, month);
    for (std::size_t i = 0; i < worst.size(); ++i) {
      const double least = worst_in_a_row(sun, kSpells_days[i]);
      worst[i] = means.empty() ? least : std::min(worst[i], least);
    }
    means.push_back(mean_of(sun));
  }
  const double mean = mean_of(means);
  double squares = 0;
  for (const double m : means) squares += (m - mean) * (m - mean);
  if (means.size() > 1) {
    const double standard = std::sqrt(squares / static_cast<double>(means.size() - 1));
    figures.years_pct += 100 * standard / mean / months;
  }
  for (std::size_t i = 0; i < worst.size(); ++i) {
    figures.worst_pct[i] += 100 * worst[i] / mean / months;
  }
}

SunFigures sun_figures(Years years, const std::vector<WeatherDay>& mean_days,
                       const std::vector<int>& months) {
  const Deviations days = deviations(years, months, [&](const SunYear& year, std::size_t d) {
    return year.days[d].sun_horizontal_kwh_m2 / mean_days[d].sun_horizontal_kwh_m2 - 1;
  });
  SunFigures figures;
  figures.spread = days.standard();
  figures.lag_1 = days.correlation();
  for (const int m : months) add_month(years, m, static_cast<double>(months.size()), figures);
  return figures;
}

void add_part(const SunFigures& part, double share, SunFigures& to) {
  to.years_pct += share * part.years_pct;
  for (std::size_t i = 0; i < to.worst_pct.size(); ++i) {
    to.worst_pct[i] += share * part.worst_pct[i];
  }
}

SunFigures in_lots(Years years, std::size_t lot, const std::vector<WeatherDay>& mean_days,
                   const std::vector<int>& months) {
  const SunFigures all = sun_figures(years, mean_days, months);
  SunFigures figures;
  figures.spread = all.spread;
  figures.lag_1 = all.lag_1;
  const std::size_t lots = std::max<std::size_t>(1, years.size() / lot);
  for (std::size_t i = 0; i < lots; ++i) {
    const std::size_t count = std::min(lot, years.size());
    add_part(sun_figures(years.subspan(i * count, count), mean_days, months),
             1 / static_cast<double>(lots), figures);
  }
  return figures;
}

// The correlation of a day's temperature with its sun, both from the smooth mean year.
double air_with_sun(Years years, const std::vector<WeatherDay>& mean_days,
                    const std::vector<int>& months) {
  Deviations pairs;
  for (const SunYear& year : years) {
    for (const int m : months) {
      const auto first = static_cast<std::size_t>(first_day_of_month(m) - 1);
      for (std::size_t d = first; d < first + static_cast<std::size_t>(days_in_month(m)); ++d) {
        const WeatherDay& mean = mean_days[d];
        pairs.add_pair(year.days[d].sun_horizontal_kwh_m2 / mean.sun_horizontal_kwh_m2 - 1,
                       year.days[d].air_temp_c - mean.air_temp_c);
      }
    }
  }
  return pairs.correlation();
}

AirFigures air_figures(Years years, const std::vector<WeatherDay>& mean_days,
                       const std::vector<int>& months, const std::vector<int>& dull) {
  const Deviations days = deviations(years, months, [&](const SunYear& year, std::size_t d) {
    return year.days[d].air_temp_c - mean_days[d].air_temp_c;
  });
  double frost_days = 0;
  for (const SunYear& year : years) {
    for (const WeatherDay& day : year.days) frost_days += day.air_temp_c < 0 ? 1 : 0;
  }
  return {.deviation_k = days.standard(),
          .lag_1 = days.correlation(),
          .frost_days = frost_days / static_cast<double>(years.size()),
          .with_sun = air_with_sun(years, mean_days, dull)};
}

}  // namespace

DayFigures day_figures(const Station& station, const SunYears& years) {
  std::vector<int> all(12);
  std::iota(all.begin(), all.end(), 0);
  std::vector<int> dull = all;
  std::stable_sort(dull.begin(), dull.end(), [&](int a, int b) {
    const Monthly& sun = station.place.sun_horizontal_kwh_m2_day;
    return sun[static_cast<std::size_t>(a)] < sun[static_cast<std::size_t>(b)];
  });
  dull.resize(3);
  const std::vector<WeatherDay>& mean = years.sky.mean_days;
  const std::size_t lot = years.file.size();
  return {.station = &station,
          .file = sun_figures(years.file, mean, all),
          .synthetic = in_lots(years.synthetic, lot, mean, all),
          .file_dull = sun_figures(years.file, mean, dull),
          .synthetic_dull = in_lots(years.synthetic, lot, mean, dull),
          .file_air = air_figures(years.file, mean, all, dull),
          .synthetic_air = air_figures(years.synthetic, mean, all, dull)};
}

}  // namespace weather_truth
