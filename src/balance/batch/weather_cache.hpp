#pragma once

#include <memory>
#include <utility>
#include <vector>

#include "amptally/balance.hpp"

#include "balance/battery_year.hpp"
#include "parts/offer_shape.hpp"

namespace amptally::inline v0_1 {

/// A year under one sky, as all designs of one offer shape see it.
struct WeatherYear {
  SunSum sun;
  std::vector<double> unit_offer;  ///< 8,760
  std::vector<Light> light;        ///< 8,760
  std::vector<double> day_air_c;   ///< 365
};

/// The years of a weather choice over one sky, for one offer shape. Made when asked for, or once
/// and kept.
class WeatherCache {
 public:
  WeatherCache(std::shared_ptr<const SiteSky> sky, const WeatherChoice& weather,
               const OfferShape& shape)
      : sky_(std::move(sky)), weather_(&weather), shape_(shape) {}

  /// The number of years there are: 1 in mean weather.
  [[nodiscard]] int count() const;

  [[nodiscard]] const SiteSky& sky() const { return *sky_; }
  [[nodiscard]] const OfferShape& shape() const { return shape_; }

  /// Makes all years at once, on the weather's threads, if they are few enough to be kept.
  /// @throws DataError from `series_sun_year`
  void keep();

  /// Year `y`, if the years are kept; else null.
  [[nodiscard]] const WeatherYear* kept(int y) const;

  /// @throws DataError from `series_sun_year`
  [[nodiscard]] WeatherYear make(int y) const;

 private:
  std::shared_ptr<const SiteSky> sky_;
  const WeatherChoice* weather_;
  OfferShape shape_;
  std::vector<WeatherYear> kept_;
};

/// Years that are being run: the latest of each cache, made when it is first asked for where it is
/// not kept. For one thread.
class LatestYears {
 public:
  /// @return the year, until the next of the same cache is asked for
  /// @throws DataError from `series_sun_year`
  const WeatherYear& year(const WeatherCache& weather, int y);

 private:
  struct Made {
    const WeatherCache* weather;
    int y;
    WeatherYear year;
  };
  std::vector<std::unique_ptr<Made>> made_;  // by address: others are made while one is in use
};

}  // namespace amptally::inline v0_1
