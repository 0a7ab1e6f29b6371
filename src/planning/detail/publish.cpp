#include "planning/detail/publish.h"

#include <bit>
#include <map>
#include <tuple>

namespace stillroom::planning::detail {
namespace {

std::vector<std::string> names_of(const Project& project, const Team& team) {
  std::vector<std::string> out;
  for (int i = 0; i < team.size; ++i)
    out.push_back(project.h.hands[static_cast<std::size_t>(team.members[static_cast<std::size_t>(i)])].key);
  return out;
}

PlacedStage stage_of(const Project& project, const RouteSpec& route, const StageSpec& spec, const Placed& batch,
                     const Board::Slot& slot) {
  PlacedStage out;
  out.route = route.source->key;
  out.span = {slot.start, slot.end};
  out.attention = spec.attention;
  out.hands = names_of(project, *slot.team);
  if (spec.source == nullptr) {
    out.stage = "pick";
    return out;
  }
  out.stage = spec.source->key;
  out.name = spec.source->name;
  for (const almanac::EquipmentUse& use : spec.source->equipment) {
    const double amount = use.amount.at(batch.kg, batch.loads);
    if (amount > 0) out.equipment.push_back({use.key, {.fixed = amount}});
  }
  return out;
}

PlannedBatch batch_of(const Project& project, const Placed& placed) {
  const RouteSpec& route = project.routes[static_cast<std::size_t>(placed.job.what)];
  const almanac::Route& source = *route.source;
  PlannedBatch out;
  out.route = source.key;
  int slot = 0;
  for (int i = 0; i < placed.size; ++i) {
    const PlacedPart& part = placed.parts[static_cast<std::size_t>(i)];
    const Lot& lot = project.h.lots[static_cast<std::size_t>(part.lot)];
    out.parts.push_back({lot.id, part.kg});
    out.kg_out += part.kg * part.usable * source.yield_kg_per_kg;
    if (part.picked == 0) continue;
    out.stages.push_back(
        stage_of(project, route, project.lots[static_cast<std::size_t>(part.lot)].pick, placed, placed.slot(slot++)));
    const std::string& what = !lot.pick_what.empty() ? lot.pick_what : lot.name.empty() ? lot.crop : lot.name;
    out.stages.back().name = lot.pick_word + " " + what;
  }
  for (int s = 0; s < placed.stages; ++s)
    out.stages.push_back(
        stage_of(project, route, route.stages[static_cast<std::size_t>(s)], placed, placed.slot(slot++)));
  out.kg_in = placed.kg;
  out.loads = placed.loads;
  const double per_pack = source.yield_kg_per_kg * source.kg_in_per_pack;
  if (per_pack > 0) out.packs = std::ceil(out.kg_out / per_pack - 1e-9);
  const double full = placed.kg * source.yield_kg_per_kg;
  out.quality = full > 0 ? placed.amount / full : 0;
  if (source.is_hold) return out;
  if (route.worth >= 0) {
    out.worth = project.worth[static_cast<std::size_t>(route.worth)].per_kg * placed.amount;
  } else if (source.yield_kg_per_kg > 0) {
    out.worth = source.worth_per_kg_in * placed.amount / source.yield_kg_per_kg;
  }
  return out;
}

Plan::Trip trip_of(const Schedule& schedule, int id) {
  const Project& project = schedule.project();
  const Board::Slot& slot = schedule.placed(id).slot(0);
  Plan::Trip trip{{slot.start, slot.end}, names_of(project, *slot.team).front(), {}};
  for (const Purchase& p : schedule.purchases()) {
    if (p.trip != id) continue;
    const std::string& item = project.h.stock[static_cast<std::size_t>(p.item)].item;
    const auto same =
        std::find_if(trip.bought.begin(), trip.bought.end(), [&](const auto& b) { return b.item == item; });
    const double amount = static_cast<double>(p.amount) / kWhole;
    if (same == trip.bought.end()) {
      trip.bought.push_back({item, amount, p.cost});
    } else {
      same->amount += amount;
      same->cost += p.cost;
    }
  }
  return trip;
}

template <class List>
int index_of(const List& list, const std::string& key) {
  for (std::size_t i = 0; i < list.size(); ++i)
    if (list[i].key == key) return static_cast<int>(i);
  return -1;
}

int lot_index(const Project& project, const std::string& id) {
  for (std::size_t i = 0; i < project.h.lots.size(); ++i)
    if (project.h.lots[i].id == id) return static_cast<int>(i);
  return -1;
}

/// Everybody of them; none when somebody is not here any more.
std::optional<std::uint32_t> all_of(const Project& project, const std::vector<std::string>& hands) {
  const std::uint32_t mask = mask_of(project.h, hands);
  if (static_cast<std::size_t>(std::popcount(mask)) != hands.size()) return std::nullopt;
  return mask;
}

void sort_by_start(PinnedList& jobs) {
  std::stable_sort(jobs.begin(), jobs.end(),
                   [](const PinnedJob& a, const PinnedJob& b) { return a.job.not_before < b.job.not_before; });
}

/// Pins for stages that stand in a plan; none when somebody of them is not here any more.
std::vector<Pin> pins_of(const Project& project, const std::vector<PlacedStage>& stages) {
  std::vector<Pin> pins;
  for (const PlacedStage& stage : stages) {
    const auto hands = all_of(project, stage.hands);
    if (!hands) return {};
    pins.push_back({stage.span.from, stage.span.to, *hands});
  }
  return pins;
}

}  // namespace

Plan publish(const Schedule& schedule, const ObjectiveTerms& terms) {
  const Project& project = schedule.project();
  Plan plan;
  plan.terms = terms;
  for (const int id : schedule.ids()) {
    const Placed& placed = schedule.placed(id);
    const Job& job = placed.job;
    if (job.kind == JobKind::batch) {
      plan.batches.push_back(batch_of(project, placed));
    } else if (job.kind == JobKind::hold) {
      plan.holds.push_back({project.h.lots[static_cast<std::size_t>(job.parts[0].lot)].id,
                            project.h.places[static_cast<std::size_t>(job.what)].key, placed.start});
    } else if (job.kind == JobKind::trip) {
      plan.trips.push_back(trip_of(schedule, id));
    } else {
      Plan::OtherPlaced other{project.h.other[static_cast<std::size_t>(job.what)].key, {}, {}};
      for (int s = 0; s < placed.stages; ++s) other.spans.push_back({placed.slot(s).start, placed.slot(s).end});
      other.hands = names_of(project, *placed.slot(0).team);
      plan.other.push_back(std::move(other));
    }
  }
  std::sort(plan.holds.begin(), plan.holds.end(), [](const PlannedHold& a, const PlannedHold& b) {
    return std::tie(a.from, a.lot) < std::tie(b.from, b.lot);
  });
  std::sort(plan.trips.begin(), plan.trips.end(),
            [](const Plan::Trip& a, const Plan::Trip& b) { return a.span.from < b.span.from; });
  std::sort(plan.other.begin(), plan.other.end(), [](const Plan::OtherPlaced& a, const Plan::OtherPlaced& b) {
    return std::tie(a.spans.front().from, a.key) < std::tie(b.spans.front().from, b.key);
  });
  std::sort(plan.batches.begin(), plan.batches.end(), [](const PlannedBatch& a, const PlannedBatch& b) {
    return std::tie(a.stages.front().span.from, a.route, a.parts.front().lot, a.kg_in) <
           std::tie(b.stages.front().span.from, b.route, b.parts.front().lot, b.kg_in);
  });
  for (std::size_t i = 0; i < plan.batches.size(); ++i) {
    plan.batches[i].key = "b" + std::to_string(i + 1);
    for (PlacedStage& stage : plan.batches[i].stages) stage.batch = plan.batches[i].key;
  }
  return plan;
}

PinnedList list_from(const Project& project, const Plan& plan) {
  PinnedList jobs;
  for (const PlannedHold& hold : plan.holds) {
    const int lot = lot_index(project, hold.lot), place = index_of(project.h.places, hold.place);
    if (lot < 0 || place < 0) continue;
    Job job{.kind = JobKind::hold, .what = place, .not_before = hold.from};
    job.add(lot, 0);
    jobs.push_back({job, {{hold.from, hold.from, 0}}});
  }
  for (const PlannedBatch& batch : plan.batches) {
    Job job{.what = index_of(project.h.routes, batch.route)};
    for (const auto& part : batch.parts) {
      const int lot = lot_index(project, part.lot);
      if (lot >= 0 && job.size < kMostParts) job.add(lot, part.kg);
    }
    if (job.what < 0 || job.size == 0 || batch.stages.empty()) continue;
    for (const PlacedStage& stage : batch.stages)
      if (stage.stage != "pick") {
        job.not_before = stage.span.from;
        break;
      }
    jobs.push_back({job, pins_of(project, batch.stages)});
  }
  for (const auto& other : plan.other) {
    const int index = index_of(project.h.other, other.key);
    if (index < 0 || other.spans.empty()) continue;
    PinnedJob work{{.kind = JobKind::other, .what = index, .not_before = other.spans.front().from}, {}};
    if (const auto hands = all_of(project, other.hands))
      for (const Span& span : other.spans) work.pins.push_back({span.from, span.to, *hands});
    jobs.push_back(std::move(work));
  }
  for (const Plan::Trip& trip : plan.trips) {
    PinnedJob out{{.kind = JobKind::trip, .not_before = trip.span.from}, {}};
    if (const auto hands = all_of(project, {trip.hand})) out.pins = {{trip.span.from, trip.span.to, *hands}};
    jobs.push_back(std::move(out));
  }
  sort_by_start(jobs);
  return jobs;
}

PinnedList list_from_in_force(const Project& project) {
  struct Found {
    Job job;
    bool started = false;
    std::vector<PlacedStage> stages;  ///< as far as starts and hands are known
  };
  std::map<std::string, Found> batches;
  std::map<int, double> unknown;  // lot -> number of batches whose kg is not known
  for (const PlacedBefore& before : project.h.in_force) {
    const int lot = lot_index(project, before.lot), route = index_of(project.h.routes, before.route);
    if (lot < 0 || route < 0) continue;
    Found& found = batches[before.batch.empty() ? before.route + " " + before.lot : before.batch];
    found.job.what = route;
    if (!found.job.has(lot) && found.job.size < kMostParts) {
      found.job.add(lot, before.kg);
      if (before.kg <= 0) unknown[lot] += 1;
    }
    if (found.job.parts[0].lot == lot) {  // every part tells of every stage
      found.stages.emplace_back().span = {before.start, before.start};
      found.stages.back().hands = before.hands;
    }
    if (before.stage == "pick") continue;
    found.job.not_before = found.started ? std::min(found.job.not_before, before.start) : before.start;
    found.started = true;
  }
  PinnedList jobs;
  for (auto& [key, found] : batches) {
    for (int i = 0; i < found.job.size; ++i) {
      Part& part = found.job.parts[static_cast<std::size_t>(i)];
      if (part.kg <= 0) part.kg = project.h.lots[static_cast<std::size_t>(part.lot)].kg / unknown[part.lot];
    }
    jobs.push_back({found.job, pins_of(project, found.stages)});
  }
  sort_by_start(jobs);
  return jobs;
}

}  // namespace stillroom::planning::detail
