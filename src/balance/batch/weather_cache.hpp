#pragma once

#include <memory>
#include <utility>
#include <vector>

#include "amptally/balance.hpp"

#include "balance/batch/block.hpp"
#include "parts/offer_shape.hpp"

namespace amptally {

/// A year under one sky, as all designs of one offer shape see it.
struct SharedYear {
  double sun_horizontal_kwh_m2 = 0;
  double sun_panel_kwh_m2 = 0;
  std::vector<double> unit_offer;  ///< 8,760
  std::vector<Light> light;        ///< 8,760
  std::vector<double> day_air_c;   ///< 365
};

/// The years of a weather choice over one sky, for one offer shape. Made when asked for, or once
/// and kept.
class SkyYears {
 public:
  SkyYears(std::shared_ptr<const SiteSky> sky, const WeatherChoice& weather,
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
  [[nodiscard]] const SharedYear* kept(int y) const;

  /// @throws DataError from `series_sun_year`
  [[nodiscard]] SharedYear make(int y) const;

 private:
  std::shared_ptr<const SiteSky> sky_;
  const WeatherChoice* weather_;
  OfferShape shape_;
  std::vector<SharedYear> kept_;
};

}  // namespace amptally
