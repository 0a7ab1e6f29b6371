#include <fmt/format.h>

#include <cmath>
#include <numeric>

#include "planning/detail/outlook.h"
#include "planning/detail/publish.h"
#include "planning/detail/solve.h"
#include "planning/detail/words.h"
#include "planning/plan.h"
#include "planning/validate.h"

// Why a lot stands where it stands: every figure is a difference between plans made again from the plan in question, with
// the same seeds and step budget and one thing changed.
namespace stillroom::planning {
namespace {

constexpr int kSeeds = 3;
constexpr double kLetGoShare = 0.05;  // of a lot: less is a rest, not a lot let go

/// Totals of plans made with a few seeds, and the best of them.
struct Again {
  std::vector<double> totals;
  Plan best;
};

class Asker {
 public:
  Asker(const Household& h, const Plan& plan, std::string lot, const PlanOptions& options)
      : h_(h), plan_(plan), lot_(std::move(lot)), options_(options) {}

  /// The plan made again for a household that differs a little, from the plan in question.
  [[nodiscard]] Again solve(const Household& changed) const {
    Again out;
    const detail::Project project(changed);
    const detail::JobList warm = detail::list_from(project, plan_);
    detail::PlanSearch teller(project);
    for (int i = 0; i < kSeeds; ++i) {
      const detail::Effort effort{.seed = options_.seed + static_cast<std::uint64_t>(i),
                                  .schedules = std::max(1L, options_.max_schedules),
                                  .seconds = 0,
                                  .workers = options_.workers,
                                  .threads = options_.threads,
                                  .elapsed = {},
                                  .cancelled = options_.cancelled,
                                  .only_warm = true};
      const detail::Solved solved = detail::solve(project, warm, effort);
      if (out.totals.empty() || solved.worth > *std::max_element(out.totals.begin(), out.totals.end())) {
        teller.load(solved.best);
        out.best = detail::publish(teller.schedule(), teller.objective().terms());
        detail::tell_outlooks(teller, out.best);
      }
      out.totals.push_back(solved.worth);
    }
    return out;
  }

  [[nodiscard]] const Household& household() const { return h_; }
  [[nodiscard]] const std::string& lot() const { return lot_; }
  [[nodiscard]] bool cancelled() const { return options_.cancelled && options_.cancelled(); }

 private:
  const Household& h_;
  const Plan& plan_;
  std::string lot_;
  const PlanOptions& options_;
};

struct Difference {
  double mean = 0, noise = 0;
};

/// Seed by seed, so that what both share drops out; the noise is the standard error of the mean.
Difference less(const Again& base, const Again& other) {
  const std::size_t n = std::min(base.totals.size(), other.totals.size());
  if (n == 0) return {};
  std::vector<double> d(n);
  for (std::size_t i = 0; i < n; ++i) d[i] = base.totals[i] - other.totals[i];
  const double mean = std::accumulate(d.begin(), d.end(), 0.0) / static_cast<double>(n);
  double squares = 0;
  for (const double x : d) squares += (x - mean) * (x - mean);
  return {mean, n > 1 ? std::sqrt(squares / static_cast<double>(n - 1) / static_cast<double>(n)) : 0.0};
}

const LotOutlook* outlook_of(const Plan& plan, const std::string& lot) {
  const auto it = std::find_if(plan.lots.begin(), plan.lots.end(), [&](const auto& o) { return o.lot == lot; });
  return it == plan.lots.end() ? nullptr : &*it;
}

std::string route_name(const Household& h, const std::string& key) {
  for (const almanac::Route& r : h.routes)
    if (r.key == key) return r.name;
  return key;
}

/// The batch that takes most of the lot; nullptr when none does.
const PlannedBatch* main_batch(const Plan& plan, const std::string& lot) {
  const PlannedBatch* found = nullptr;
  double most = 0;
  for (const PlannedBatch& b : plan.batches)
    for (const auto& part : b.parts)
      if (part.lot == lot && part.kg > most) {
        most = part.kg;
        found = &b;
      }
  return found;
}

/// The same household, the lot not to be touched for so many days, fading meanwhile where it lies.
Household waiting(const Household& h, const std::string& id, int days) {
  Household later = h;
  Lot& lot = *std::find_if(later.lots.begin(), later.lots.end(), [&](const Lot& l) { return l.id == id; });
  const Minute had = std::max(lot.ready, h.now);
  lot.ready = had + days * 1440;
  if (lot.pick_by > 0 || !lot.model) return later;
  double temp_c = 20;
  for (const HoldPlace& p : h.places)
    if (p.key == lot.place) temp_c = p.temp_c;
  lot.belief = keeping::advance(*lot.model, lot.belief, measure::days(days), measure::Temperature::celsius(temp_c));
  return later;
}

/// One thing more of whatever might be short, the smallest first.
struct Probe {
  std::string words;     ///< "two more hours of Ann's on Saturday"
  std::string short_of;  ///< "hands"
  Household household;
};

void probe_hours(const Household& h, const Minute around, std::vector<Probe>& probes) {
  const Hand* ablest = nullptr;
  for (const Hand& hand : h.hands)
    if (hand.age >= 18 && (ablest == nullptr || hand.skills.size() > ablest->skills.size())) ablest = &hand;
  if (ablest == nullptr) return;
  const int day = std::clamp(around / 1440, h.now / 1440, h.days - 1);
  const Minute from = std::max(grain_free_evening(h, *ablest, day), h.now);
  (void)from;
  Probe p{fmt::format("another grown-up's help {}", detail::day_name(h, day * 1440 + 720)), "hands", h};
  Hand helper = *ablest;
  helper.key = "one more";
  helper.name = "one more";
  helper.free = {{std::max(h.now, day * 1440 + 8 * 60), day * 1440 + 20 * 60}};
  if (helper.free[0].from >= helper.free[0].to) return;
  p.household.hands.push_back(std::move(helper));
  probes.push_back(std::move(p));
}

}  // namespace
}  // namespace stillroom::planning
