#include "amptally/study.hpp"

#include <algorithm>
#include <utility>

#include "answers/unchecked_study.hpp"
#include "balance/aim.hpp"
#include "balance/batch/batch_simulation.hpp"
#include "balance/batch/kernel_dispatch.hpp"
#include "balance/parallel_for.hpp"
#include "parts/offer_shape.hpp"
#include "place/sun_year.hpp"
#include "site/problem_list.hpp"

namespace amptally::inline v0_1 {
namespace {

// ---- What variants share ------------------------------------------------------------------

// Whether two sites' panels see the sun's path alike: one's geometry serves the other. A new field
// of the place or the panel that turns or shades light belongs here, or variants of it get wrong
// years.
bool same_plane(const Site& a, const Site& b) {
  const Place& p = a.place;
  const Place& q = b.place;
  return p.latitude_deg == q.latitude_deg && p.longitude_deg == q.longitude_deg &&
         p.utc_offset_h == q.utc_offset_h && p.albedo == q.albedo &&
         a.panel.tilt_deg == b.panel.tilt_deg && a.panel.azimuth_deg == b.panel.azimuth_deg &&
         a.panel.shade == b.panel.shade;
}

// Whether two sites lie under the same sky: one's years serve the other.
bool same_sky(const Site& a, const Site& b) {
  return same_plane(a, b) &&
         a.place.sun_horizontal_kwh_m2_day == b.place.sun_horizontal_kwh_m2_day &&
         a.place.air_temp_c == b.place.air_temp_c &&
         a.place.day_spread_share == b.place.day_spread_share;
}

// Things sorted into kinds: the first of each kind, and the kind of each thing.
template <class Thing>
struct Kinds {
  std::vector<const Thing*> firsts;
  std::vector<std::size_t> kind;  // one a thing
};

// @param known  the first of kind 0, which may have no other
template <class Thing, class Same>
Kinds<Thing> sort_into_kinds(const Thing& known, std::span<const Thing> things, const Same& same) {
  Kinds<Thing> kinds{.firsts = {&known}, .kind = {}};
  std::size_t last = 0;  // neighbours are often alike
  for (const Thing& thing : things) {
    if (!same(*kinds.firsts[last], thing)) {
      const auto found = std::find_if(kinds.firsts.begin(), kinds.firsts.end(),
                                      [&](const Thing* first) { return same(*first, thing); });
      last = static_cast<std::size_t>(found - kinds.firsts.begin());
      if (found == kinds.firsts.end()) kinds.firsts.push_back(&thing);
    }
    kinds.kind.push_back(last);
  }
  return kinds;
}

// ---- Tasks --------------------------------------------------------------------------------

// Designs that one thread runs together, by their place among all.
struct Task {
  std::vector<std::size_t> members;
  bool shared;
};

// Splits `members` among the threads. A task whose designs have skies of their own is no larger
// than a block, since each design brings its year.
void add_tasks(const std::vector<std::size_t>& members, bool shared, int threads,
               std::vector<Task>& tasks) {
  constexpr std::size_t kVector = 8;  // the widest: less than that is not worth a thread
  const auto up = [](std::size_t n, std::size_t by) { return (n + by - 1) / by; };
  const std::size_t n = members.size();
  const std::size_t even =
      up(up(n, static_cast<std::size_t>(std::max(threads, 1))), kVector) * kVector;
  const std::size_t each = shared ? even : std::min<std::size_t>(even, kBlockLanes);
  for (std::size_t from = 0; from < n; from += each) {
    const auto first = members.begin() + static_cast<std::ptrdiff_t>(from);
    const auto last = members.begin() + static_cast<std::ptrdiff_t>(std::min(from + each, n));
    tasks.push_back({{first, last}, shared});
  }
}

// Designs with years and loads in common go together; the few that have no such group fill
// blocks in which each has its own.
std::vector<Task> plan_tasks(const std::vector<Design>& designs, int threads) {
  constexpr std::size_t kLeastGroup = 8;
  std::vector<std::vector<std::size_t>> groups;
  std::size_t last = 0;
  for (std::size_t i = 0; i < designs.size(); ++i) {
    const auto fits = [&](const std::vector<std::size_t>& group) {
      const Design& first = designs[group.front()];
      return first.years == designs[i].years && first.loads == designs[i].loads;
    };
    if (groups.empty() || !fits(groups[last])) {
      const auto found = std::find_if(groups.begin(), groups.end(), fits);
      last = static_cast<std::size_t>(found - groups.begin());
      if (found == groups.end()) groups.emplace_back();
    }
    groups[last].push_back(i);
  }
  std::vector<Task> tasks;
  std::vector<std::size_t> alone;
  for (const std::vector<std::size_t>& group : groups) {
    if (group.size() >= kLeastGroup || groups.size() == 1) {
      add_tasks(group, true, threads, tasks);
    } else {
      alone.insert(alone.end(), group.begin(), group.end());
    }
  }
  if (!alone.empty()) add_tasks(alone, false, threads, tasks);
  return tasks;
}

}  // namespace

// ---- The study -----------------------------------------------------------------------------

struct Study::Made {
  Made(const Site& site, const WeatherChoice& choice);

  Site base;
  // The caches of years hold its address: a Made stays where it was made.
  WeatherChoice weather;
  std::shared_ptr<const SiteSky> sky;
  std::shared_ptr<const WeatherCache> years;  // kept where they are few enough
  std::shared_ptr<const SharedLoads> loads;

  [[nodiscard]] std::vector<Design> designs(std::span<const Site> variants) const;
  [[nodiscard]] std::vector<JudgedYear> run(const std::vector<Design>& designs,
                                            bool only_whether) const;

 private:
  [[nodiscard]] SiteSky sky_of(const Site& site) const;
  [[nodiscard]] std::vector<std::shared_ptr<const WeatherCache>> years_of(
      std::span<const Site> variants) const;
  [[nodiscard]] std::vector<std::shared_ptr<const SharedLoads>> loads_of(
      std::span<const Site> variants,
      const std::vector<std::shared_ptr<const WeatherCache>>& years) const;
};

Study::Made::Made(const Site& site, const WeatherChoice& choice)
    : base(site),
      weather(choice),
      sky(std::make_shared<const SiteSky>(site_sky(base.place, panel_plane(base)))) {
  const auto made = std::make_shared<WeatherCache>(sky, weather, offer_shape(base));
  made->keep();
  years = made;
  loads = std::make_shared<const SharedLoads>(shared_loads(base, sky->geometry));
}

SiteSky Study::Made::sky_of(const Site& site) const {
  if (!same_plane(site, base)) return site_sky(site.place, panel_plane(site));
  return in_other_climate(*sky, site.place);
}

// One a variant; those under one sky with one offer shape share theirs.
std::vector<std::shared_ptr<const WeatherCache>> Study::Made::years_of(
    std::span<const Site> variants) const {
  const Kinds<Site> by_sky = sort_into_kinds(base, variants, same_sky);
  std::vector<std::shared_ptr<const SiteSky>> skies(by_sky.firsts.size(), sky);
  in_parallel(static_cast<int>(skies.size()) - 1, weather.threads, [&](int i) {
    const auto n = static_cast<std::size_t>(i) + 1;  // the first is the study's own
    skies[n] = std::make_shared<const SiteSky>(sky_of(*by_sky.firsts[n]));
  });

  std::vector<std::shared_ptr<const WeatherCache>> made;
  std::vector<std::shared_ptr<const WeatherCache>> result;
  for (std::size_t i = 0; i < variants.size(); ++i) {
    const SiteSky* own_sky = skies[by_sky.kind[i]].get();
    const OfferShape shape = offer_shape(variants[i]);
    const auto fits = [&](const std::shared_ptr<const WeatherCache>& other) {
      return &other->sky() == own_sky && other->shape() == shape;
    };
    if (fits(years)) {
      result.push_back(years);
      continue;
    }
    auto found = std::find_if(made.rbegin(), made.rend(), fits);  // the latest first
    if (found == made.rend()) {
      made.push_back(std::make_shared<const WeatherCache>(skies[by_sky.kind[i]], weather, shape));
      found = made.rbegin();
    }
    result.push_back(*found);
  }
  return result;
}

// One a variant; those that ask for the same at every hour share theirs.
std::vector<std::shared_ptr<const SharedLoads>> Study::Made::loads_of(
    std::span<const Site> variants,
    const std::vector<std::shared_ptr<const WeatherCache>>& variant_years) const {
  const Kinds<Site> kinds = sort_into_kinds(base, variants, same_loads);
  std::vector<const SiteSky*> skies(kinds.firsts.size(), nullptr);
  for (std::size_t i = 0; i < variants.size(); ++i) {
    // Any of the variants will do: loads ask for daylight only, which follows from the place and
    // not from the panel.
    skies[kinds.kind[i]] = &variant_years[i]->sky();
  }
  std::vector<std::shared_ptr<const SharedLoads>> made(kinds.firsts.size(), loads);
  in_parallel(static_cast<int>(made.size()) - 1, weather.threads, [&](int i) {
    const auto n = static_cast<std::size_t>(i) + 1;
    made[n] =
        std::make_shared<const SharedLoads>(shared_loads(*kinds.firsts[n], skies[n]->geometry));
  });
  std::vector<std::shared_ptr<const SharedLoads>> result;
  for (const std::size_t kind : kinds.kind) result.push_back(made[kind]);
  return result;
}

std::vector<Design> Study::Made::designs(std::span<const Site> variants) const {
  const auto own_years = years_of(variants);
  const auto own_loads = loads_of(variants, own_years);
  std::vector<Design> designs(variants.size());
  in_parallel(static_cast<int>(variants.size()), weather.threads, [&](int i) {
    const auto n = static_cast<std::size_t>(i);
    designs[n] = make_design(variants[n], weather.mode, own_years[n], own_loads[n]);
  });
  return designs;
}

std::vector<JudgedYear> Study::Made::run(const std::vector<Design>& designs,
                                         bool only_whether) const {
  const std::vector<Task> tasks = plan_tasks(designs, weather.threads);
  std::vector<JudgedYear> outcomes(designs.size());
  in_parallel(static_cast<int>(tasks.size()), weather.threads, [&](int n) {
    const Task& task = tasks[static_cast<std::size_t>(n)];
    std::vector<const Design*> members;
    for (const std::size_t i : task.members) members.push_back(&designs[i]);
    const std::vector<JudgedYear> own =
        simulate_batch(widest_kernel(), members, weather.mode, task.shared, only_whether);
    for (std::size_t i = 0; i < own.size(); ++i) outcomes[task.members[i]] = own[i];
  });
  return outcomes;
}

Study::Study(const Site& base, const WeatherChoice& weather) {
  require_valid(base, weather);
  made_ = std::make_unique<const Made>(base, weather);
}

Study::~Study() = default;
Study::Study(Study&&) noexcept = default;
Study& Study::operator=(Study&&) noexcept = default;

const Site& Study::base() const { return made_->base; }
const WeatherChoice& Study::weather() const { return made_->weather; }

namespace {

void require_valid_variants(std::span<const Site> variants) {
  for (const Site& variant : variants) {
    ProblemList problems;
    check_all_but_rough(variant, problems);
    require_none(problems.take());
  }
}

}  // namespace

std::vector<JudgedYear> Study::run(std::span<const Site> variants) const {
  require_valid_variants(variants);
  return UncheckedStudy::run(*this, variants);
}

std::vector<bool> Study::meets(std::span<const Site> variants) const {
  require_valid_variants(variants);
  return UncheckedStudy::meets(*this, variants);
}

std::vector<JudgedYear> UncheckedStudy::run(const Study& study, std::span<const Site> variants) {
  return study.made_->run(study.made_->designs(variants), false);
}

std::vector<bool> UncheckedStudy::meets(const Study& study, std::span<const Site> variants) {
  std::vector<Design> designs = study.made_->designs(variants);
  // Autonomy follows from the design alone: a battery too small for it need not be run.
  std::vector<std::size_t> candidates;
  std::vector<Design> to_run;
  for (std::size_t i = 0; i < designs.size(); ++i) {
    if (!judge(designs[i].fixed, designs[i].aim).autonomy_met) continue;
    candidates.push_back(i);
    to_run.push_back(std::move(designs[i]));
  }
  const std::vector<JudgedYear> outcomes = study.made_->run(to_run, true);
  std::vector<bool> met(variants.size(), false);
  for (std::size_t i = 0; i < candidates.size(); ++i) met[candidates[i]] = outcomes[i].met.holds();
  return met;
}

JudgedYear Study::run(const Site& variant) const { return run(std::span(&variant, 1)).front(); }

bool Study::meets(const Site& variant) const { return meets(std::span(&variant, 1)).front(); }

}  // namespace amptally::inline v0_1
