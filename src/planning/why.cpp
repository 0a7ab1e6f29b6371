#include <fmt/format.h>

#include <cmath>

#include "planning/detail/again.h"
#include "planning/detail/outlook.h"
#include "planning/detail/publish.h"
#include "planning/detail/solve.h"
#include "planning/detail/words.h"
#include "planning/plan.h"
#include "planning/validate.h"

// Why a lot stands where it stands: every figure is a difference between plans made again from the plan in question,
// with the same seeds and step budget and one thing changed.
namespace stillroom::planning {
namespace {

constexpr int kSeeds = 3;
using detail::Again;
using detail::Difference;
using detail::kLetGoShare;
using detail::less;
using detail::outlook_of;

class Asker : public detail::Asker {
 public:
  Asker(const Household& h, const Plan& plan, std::string lot, const PlanOptions& options)
      : detail::Asker(plan, options, kSeeds), h_(h), lot_(std::move(lot)) {}
  [[nodiscard]] const Household& household() const { return h_; }
  [[nodiscard]] const std::string& lot() const { return lot_; }

 private:
  const Household& h_;
  std::string lot_;
};

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

void probe_helper(const Household& h, Minute around, int hours, std::vector<Probe>& probes) {
  const Hand* ablest = nullptr;
  for (const Hand& hand : h.hands)
    if (hand.age >= 18 && (ablest == nullptr || hand.skills.size() > ablest->skills.size())) ablest = &hand;
  if (ablest == nullptr) return;
  // In the middle of the day the lot is ready, or now when that is today and later.
  const int day = std::clamp(around / 1440, h.now / 1440, h.days - 1);
  const Minute from = std::max(h.now, day * 1440 + (hours > 4 ? 8 : 14) * 60);
  Probe p{hours > 4 ? "one more pair of grown-up hands " + detail::day_name(h, from)
                    : fmt::format("{} more hours of a grown-up {}", hours, detail::part_of_day(h, from)),
          "hands", h};
  Hand helper = *ablest;
  helper.key = helper.name = "one more";
  helper.free = {{from, from + hours * 60}};
  p.household.hands.push_back(std::move(helper));
  probes.push_back(std::move(p));
}

void probe_stores(const Household& h, std::vector<Probe>& probes) {
  Probe jars{"two dozen more jars and lids", "jars and lids", h};
  bool any = false;
  for (StockLevel& level : jars.household.stock) {
    if (!level.item.starts_with("jar") && level.item != "lid") continue;
    level.amount += 24;
    any = true;
  }
  if (any) probes.push_back(std::move(jars));
  Probe freezer{"half as much freezer room again", "freezer room", h};
  any = false;
  for (RoomLevel& room : freezer.household.rooms) {
    if (!room.room.starts_with("freezer")) continue;
    room.capacity *= 1.5;
    any = true;
  }
  if (any) probes.push_back(std::move(freezer));
  for (std::size_t i = 0; i < h.equipment.size(); ++i) {
    const std::string& key = h.equipment[i].key;
    if (!key.ends_with("canner") && key != "dryer_tray" && key != "burner" && key != "slow_cooker") continue;
    const int more = key == "dryer_tray" ? 6 : 1;
    Probe p{more == 1 ? "one more " + detail::thing(key) : fmt::format("{} more {}s", more, detail::thing(key)),
            "the " + detail::thing(key), h};
    p.household.equipment[i].count += more;
    probes.push_back(std::move(p));
  }
}

void say_plan(const Household& h, const Plan& plan, const LotOutlook& o, Why& why) {
  const PlannedBatch* batch = main_batch(plan, why.lot);
  const bool let_go = o.kg_let_go > kLetGoShare * o.kg;
  if (batch != nullptr) {
    why.sentences.push_back(fmt::format("The plan is to {}, {}: {:.1f} of {:.1f} kg.", route_name(h, batch->route),
                                        detail::part_of_day(h, batch->stages.front().span.from), o.kg_put_by, o.kg));
  } else if (!let_go) {
    why.sentences.emplace_back("The plan lets it wait: it keeps, and the hours do more elsewhere.");
  }
  if (let_go)
    why.sentences.push_back(fmt::format("{:.1f} kg of it is let go: {}.", o.kg_let_go,
                                        o.let_go_reason.empty() ? "nothing better was found" : o.let_go_reason));
}

void ask_waiting(const Asker& asker, const Again& base, Why& why) {
  const Household& h = asker.household();
  for (int days = 1; days <= 3 && days < h.days && !asker.cancelled(); ++days) {
    const Difference d = less(base, asker.solve(waiting(h, why.lot, days)));
    why.waiting.push_back({days, std::max(0.0, d.mean), d.noise});
  }
  if (why.waiting.empty()) return;
  const Why::Wait& one = why.waiting.front();
  const Why::Wait& last = why.waiting.back();
  if (last.cost <= 2 * last.noise + 0.05) {
    why.sentences.push_back(fmt::format("Waiting up to {} days costs next to nothing.", last.days));
  } else if (one.cost <= 2 * one.noise + 0.05) {
    why.sentences.push_back(fmt::format("Waiting a day costs next to nothing; {} days would cost about {}.", last.days,
                                        detail::dollars(last.cost)));
  } else {
    why.sentences.push_back(fmt::format("Waiting a day would cost about {}, give or take {}; {} days about {}.",
                                        detail::dollars(one.cost), detail::dollars(std::max(0.01, one.noise)),
                                        last.days, detail::dollars(last.cost)));
  }
}

void ask_next_best(const Asker& asker, const Again& base, const std::string& route, Why& why) {
  // Only this lot is barred from the route: it becomes a variety of its own, which the route is not for.
  Household without = asker.household();
  std::string variety;
  for (Lot& lot : without.lots)
    if (lot.id == why.lot) variety = lot.crop += "/this lot";
  for (almanac::Route& r : without.routes)
    if (r.key == route) r.not_for.push_back(variety);
  const Again other = asker.solve(without);
  const PlannedBatch* second = main_batch(other.best, why.lot);
  why.next_best = second == nullptr ? "leave it" : route_name(asker.household(), second->route);
  why.next_best_loss = std::max(0.0, less(base, other).mean);
  why.sentences.push_back(fmt::format("Next best would be to {}, worth about {} less.", why.next_best,
                                      detail::dollars(why.next_best_loss)));
}

void ask_what_would_save(const Asker& asker, const LotOutlook& o, Why& why) {
  const Household& h = asker.household();
  Minute ready = h.now;
  for (const Lot& lot : h.lots)
    if (lot.id == why.lot) ready = std::max(ready, lot.ready);
  std::vector<Probe> probes;
  probe_helper(h, ready, 2, probes);
  probe_stores(h, probes);
  probe_helper(h, ready, 10, probes);
  for (const Probe& probe : probes) {
    if (asker.cancelled()) return;
    const Again more = asker.solve(probe.household);
    const LotOutlook* then = outlook_of(more.best, why.lot);
    if (then == nullptr || then->kg_let_go > 0.5 * o.kg_let_go) continue;
    why.would_save = probe.words;
    if (why.binding.empty()) why.binding = probe.short_of;
    why.sentences.push_back(fmt::format("With {} most of it would be saved.", probe.words));
    return;
  }
  why.sentences.emplace_back(
      "Nothing tried alone saves it: neither more hands, jars, freezer room nor another canner.");
}

/// What keeps the lot's batch from being earlier, read off the plan itself.
std::string binding_in(const Household& h, const Plan& plan, const std::string& lot) {
  const PlannedBatch* batch = main_batch(plan, lot);
  if (batch == nullptr) return {};
  const detail::Project project(h);
  detail::PlanSearch search(project);
  search.fill_with(detail::list_from(project, plan));
  for (const int id : search.schedule().ids()) {
    const detail::Placed& p = search.schedule().placed(id);
    if (p.job.kind != detail::JobKind::batch || h.routes[static_cast<std::size_t>(p.job.what)].key != batch->route)
      continue;
    for (int i = 0; i < p.size; ++i)
      if (h.lots[static_cast<std::size_t>(p.parts[static_cast<std::size_t>(i)].lot)].id == lot)
        return detail::binding_of(search, id);
  }
  return {};
}

}  // namespace

measure::Result<Why> why(const Household& h, const Plan& plan, const std::string& lot, const PlanOptions& options) {
  if (auto fault = fault_in(h)) return tl::unexpected(std::move(*fault));
  const LotOutlook* outlook = outlook_of(plan, lot);
  if (outlook == nullptr || std::none_of(h.lots.begin(), h.lots.end(), [&](const Lot& l) { return l.id == lot; }))
    return measure::refuse("unknown_lot", "This lot is not in the plan.", {"stillroom today lists the lots that are."});
  Why why{.lot = lot, .sentences = {}, .waiting = {}};
  const Asker asker(h, plan, lot, options);
  say_plan(h, plan, *outlook, why);
  const Again base = asker.solve(h);
  ask_waiting(asker, base, why);
  why.binding = binding_in(h, plan, lot);
  if (!why.binding.empty()) why.sentences.push_back("It would be sooner but for " + why.binding + ".");
  if (const PlannedBatch* batch = main_batch(plan, lot); batch != nullptr && !asker.cancelled())
    ask_next_best(asker, base, batch->route, why);
  if (outlook->kg_let_go > kLetGoShare * outlook->kg) ask_what_would_save(asker, *outlook, why);
  return why;
}

}  // namespace stillroom::planning
