#include "app/detail/learning.h"

#include <algorithm>
#include <map>
#include <set>

#include "app/detail/settings.h"
#include "app/detail/waiting.h"
#include "kitchen/batch.h"

namespace stillroom::app::detail {
namespace {

using PutDown = std::set<std::pair<ledger::Id, std::string>>;

/// Nobody peels at three in the morning: a stage open then was forgotten, or left for the day.
bool through_a_night(const measure::Zone& zone, Instant from, Instant to) {
  constexpr std::chrono::hours kSmallHours{3};
  const auto next = std::chrono::ceil<std::chrono::days>(zone.to_local(from) - kSmallHours) + kSmallHours;
  return next < zone.to_local(to);
}

/// A stage as the sum of its steps; nothing while one of them lacks its beginning or its end.
std::optional<kitchen::FinishedStage> stage_from(const ledger::BatchState& batch,
                                                 const std::vector<const kitchen::Step*>& steps,
                                                 const measure::Zone& zone, const PutDown& put_down) {
  kitchen::FinishedStage done{.stage = kitchen::stage_of_step(steps.front()->stage)};
  for (const kitchen::Step* step : steps) {
    const auto from = batch.stage_started.find(step->stage);
    const auto to = batch.stage_finished.find(step->stage);
    if (from == batch.stage_started.end() || to == batch.stage_finished.end()) return std::nullopt;
    done.minutes += static_cast<double>((to->second - from->second).count()) / 60;
    done.doubtful =
        done.doubtful || put_down.contains({batch.id, step->stage}) || through_a_night(zone, from->second, to->second);
  }
  return done;
}

/// Share still sound of what went in, by mass, when the batch began: the planner counts that apart from the yield.
double usable_share_of(const House& h, const ledger::BatchState& batch) {
  const ledger::State& state = h.ledger.state();
  double kg = 0, sound = 0;
  for (const ledger::BatchStarted::Input& input : batch.inputs) {
    const auto it = state.parcels.find(input.parcel);
    if (it == state.parcels.end()) continue;
    ledger::Parcel then = it->second;
    std::erase_if(then.stays, [&](const auto& stay) { return stay.from > batch.started; });
    std::erase_if(then.sights, [&](const auto& sight) { return sight.at > batch.started; });
    const Waiting waiting = waiting_of(h.almanac, state, then, batch.started);
    const double mass = measure::in_kilograms(input.mass);
    kg += mass;
    sound += mass * (waiting.model ? keeping::usable_share(*waiting.model, waiting.belief.age) : 1);
  }
  return kg > 0 && sound > 0 ? sound / kg : 1;
}

PutDown stages_put_down(const House& h) {
  PutDown out;
  for (const ledger::Entry& entry : h.ledger.standing_of_kind("stage_put_down")) {
    if (const auto* e = std::get_if<ledger::StagePutDown>(&entry.what)) out.insert({e->batch, e->stage});
  }
  return out;
}

}  // namespace

std::vector<kitchen::FinishedBatch> finished_batches(const House& h) {
  std::vector<kitchen::FinishedBatch> out;
  const measure::Zone zone = settings_of(h.ledger.state()).zone;
  const PutDown put_down = stages_put_down(h);
  for (const auto& [id, batch] : h.ledger.state().batches) {
    if (!batch.finished || batch.abandoned) continue;
    const auto card = kitchen::card_from_json(batch.steps_json);
    if (!card) continue;
    kitchen::FinishedBatch done{.route = batch.route,
                                .kg_in = card->kg_in,
                                .usable = usable_share_of(h, batch),
                                .packs = batch.packs_made,
                                .packs_expected = card->packs,
                                .stages = {}};
    std::map<std::string, std::vector<const kitchen::Step*>> by_stage;
    for (const kitchen::Step& step : card->steps) by_stage[kitchen::stage_of_step(step.stage)].push_back(&step);
    for (const auto& [key, steps] : by_stage) {
      if (auto stage = stage_from(batch, steps, zone, put_down)) done.stages.push_back(std::move(*stage));
    }
    out.push_back(std::move(done));
  }
  return out;
}

kitchen::Learned learned_by(const House& h) { return {h.almanac.routes, finished_batches(h)}; }

}  // namespace stillroom::app::detail
