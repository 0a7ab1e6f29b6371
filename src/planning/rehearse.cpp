#include "planning/rehearse.h"

#include <atomic>
#include <cmath>
#include <mutex>
#include <nlohmann/json.hpp>
#include <thread>

#include "planning/detail/season.h"
#include "planning/validate.h"

namespace stillroom::planning {
namespace {

struct Mean {
  double mean = 0, error = 0;
};

Mean mean_of(const std::vector<double>& x) {
  if (x.empty()) return {};
  const auto n = static_cast<double>(x.size());
  Mean m;
  for (const double v : x) m.mean += v / n;
  double squares = 0;
  for (const double v : x) squares += (v - m.mean) * (v - m.mean);
  if (x.size() > 1) m.error = std::sqrt(squares / (n - 1) / n);
  return m;
}

/// Sorts what it is given.
double quantile(std::vector<double>& x, double share) {
  if (x.empty()) return 0;
  std::sort(x.begin(), x.end());
  const double at = share * static_cast<double>(x.size() - 1);
  const auto i = static_cast<std::size_t>(at);
  return i + 1 < x.size() ? x[i] + (at - static_cast<double>(i)) * (x[i + 1] - x[i]) : x[i];
}

/// Standard error of a share seen in n seasons, never 0: two more seasons are thought of, one of each kind.
double share_error(double share, double n) {
  const double p = (share * n + 1) / (n + 2);
  return std::sqrt(p * (1 - p) / (n + 2));
}

/// USD a kg of each lot brings in the plan: by its best route when that is at its best, at the margin of what the plan
/// puts by, hours, jars and fire taken off.
std::vector<double> worth_of_a_kg(const detail::Project& project, const Plan& plan) {
  std::vector<double> put_by(project.worth.size(), 0), out;
  for (const PlannedBatch& batch : plan.batches)
    for (const detail::RouteSpec& route : project.routes)
      if (route.source->key == batch.route && route.worth >= 0 && !route.source->is_hold)
        put_by[static_cast<std::size_t>(route.worth)] +=
            batch.kg_in * batch.quality * route.source->yield_kg_per_kg * (1 - 1e-6);
  const detail::Appraiser appraiser(project);
  for (int l = 0; l < static_cast<int>(project.lots.size()); ++l) {
    const detail::LotSpec& lot = project.lots[static_cast<std::size_t>(l)];
    double best = 0;
    for (const detail::Option& option : lot.options) {
      if (option.source != detail::Source::lot) continue;
      const detail::Time when = appraiser.best_time(l, option, lot.fade, lot.from, put_by);
      best = std::max(best, appraiser.at(l, option, lot.fade, when, put_by).net(project.h.effort_per_hour));
    }
    out.push_back(best);
  }
  return out;
}

/// All seasons, on as many threads as wished; those that were not lived through are empty.
std::vector<detail::SeasonOutcome> live_all(const detail::Project& project, const Plan& plan,
                                            const RehearseOptions& options) {
  const int all = std::max(0, options.seasons);
  std::vector<detail::SeasonOutcome> outcomes(static_cast<std::size_t>(all));
  std::atomic<int> next = 0;
  std::atomic<bool> stop = false;
  std::mutex telling;
  int done = 0;
  const auto work = [&] {
    detail::Season season(project, plan, options);
    while (!stop) {
      const int s = next++;
      if (s >= all) return;
      if (options.cancelled && options.cancelled()) {
        stop = true;
        return;
      }
      outcomes[static_cast<std::size_t>(s)] = season.live(s);
      const std::scoped_lock lock(telling);
      ++done;
      if (options.on_season) options.on_season(done, all);
    }
  };
  std::vector<std::thread> others;
  for (int t = 1; t < std::min(options.threads, all); ++t) others.emplace_back(work);
  work();
  for (std::thread& t : others) t.join();
  std::erase_if(outcomes, [](const auto& o) { return o.hours.empty(); });
  return outcomes;
}

void tell_lots(const Household& h, const std::vector<detail::SeasonOutcome>& seasons, const std::vector<double>& worth,
               Rehearsal& out) {
  const auto n = static_cast<double>(seasons.size());
  std::vector<double> kg(seasons.size());
  for (std::size_t l = 0; l < h.lots.size(); ++l) {
    double saved = 0;
    for (std::size_t s = 0; s < seasons.size(); ++s) {
      saved += seasons[s].saved[l];
      kg[s] = seasons[s].loss_kg[l];
    }
    saved /= n;
    const Mean loss = mean_of(kg);
    out.lots.push_back({h.lots[l].id, saved, share_error(saved, n), loss.mean, loss.error, loss.mean * worth[l],
                        loss.error * worth[l]});
  }
}

void tell_days(int first, int days, const std::vector<detail::SeasonOutcome>& seasons, Rehearsal& out) {
  std::vector<double> hours(seasons.size());
  for (int d = first; d < days; ++d) {
    for (std::size_t s = 0; s < seasons.size(); ++s) hours[s] = seasons[s].hours[static_cast<std::size_t>(d)];
    const double mean = mean_of(hours).mean;
    out.days.push_back({d, mean, quantile(hours, 0.1), quantile(hours, 0.9)});
  }
}

}  // namespace

measure::Result<Rehearsal> rehearse(const Household& h, const Plan& plan, const RehearseOptions& options) {
  if (auto fault = fault_in(h)) return tl::unexpected(std::move(*fault));
  const detail::Project project(h);
  const std::vector<detail::SeasonOutcome> seasons = live_all(project, plan, options);
  Rehearsal out;
  out.seasons = static_cast<int>(seasons.size());
  out.cancelled = out.seasons < options.seasons;
  out.seed = options.seed;
  out.saved_share = options.saved_share;
  out.planned = plan.terms.total() + plan.terms.change;
  if (seasons.empty()) return out;
  tell_lots(h, seasons, worth_of_a_kg(project, plan), out);
  tell_days(h.now / detail::kDayMinutes, h.days, seasons, out);
  std::vector<double> value, lost;
  for (const detail::SeasonOutcome& s : seasons) {
    value.push_back(s.value);
    double kg = 0;
    for (const double l : s.loss_kg) kg += l;
    lost.push_back(kg);
  }
  const Mean worth = mean_of(value), kg = mean_of(lost);
  out.value = worth.mean;
  out.value_error = worth.error;
  out.value_low = quantile(value, 0.1);
  out.value_high = quantile(value, 0.9);
  out.kg_lost = kg.mean;
  out.kg_lost_error = kg.error;
  return out;
}

std::string to_json(const Rehearsal& r) {
  nlohmann::json lots = nlohmann::json::array(), days = nlohmann::json::array();
  for (const auto& l : r.lots)
    lots.push_back({{"lot", l.lot},
                    {"saved", l.saved},
                    {"saved_error", l.saved_error},
                    {"loss_kg", l.loss_kg},
                    {"loss_kg_error", l.loss_kg_error},
                    {"loss_usd", l.loss_usd},
                    {"loss_usd_error", l.loss_usd_error}});
  for (const auto& d : r.days)
    days.push_back({{"day", d.day}, {"hours", d.hours}, {"hours_low", d.low}, {"hours_high", d.high}});
  return nlohmann::json{{"seasons", r.seasons},
                        {"cancelled", r.cancelled},
                        {"seed", r.seed},
                        {"saved_share", r.saved_share},
                        {"lots", lots},
                        {"days", days},
                        {"value", r.value},
                        {"value_error", r.value_error},
                        {"value_low", r.value_low},
                        {"value_high", r.value_high},
                        {"planned", r.planned},
                        {"kg_lost", r.kg_lost},
                        {"kg_lost_error", r.kg_lost_error}}
      .dump();
}

}  // namespace stillroom::planning
