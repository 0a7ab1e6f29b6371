#include "planning/detail/season.h"

#include "planning/detail/publish.h"
#include "planning/detail/search.h"

namespace stillroom::planning::detail {
namespace {

constexpr Time kMorning = 5 * 60;
constexpr Time kSeenAhead = 2 * kDayMinutes;  // a frost or the last of a crop is seen coming so long before
constexpr int kAlittleMore = 15;              // minutes people expect of work that should have been over

}  // namespace

Season::Season(const Project& base, const Plan& plan, const RehearseOptions& options)
    : base_(base), h_(base.h), first_plan_(plan), options_(options), days_(base, options.spreads), known_(base.h) {
  const Schedule empty(base);
  for (int p = 0; p < static_cast<int>(h_.hands.size()); ++p)
    for (int d = 0; d < base.days; ++d)
      worked_first_.push_back(static_cast<double>(empty.board().worked(p, d)) / kWhole);
}

SeasonOutcome Season::live(int season) {
  begin(season);
  const int first = day_of(base_.now);
  for (int d = first; d < base_.days; ++d) {
    now_ = d == first ? base_.now : d * kDayMinutes + kMorning;
    const bool otherwise = morning(d);
    if (options_.replan && (otherwise || otherwise_)) plan_again(d);
    otherwise_ = false;
    day(d + 1 < base_.days ? (d + 1) * kDayMinutes + kMorning : base_.horizon);
  }
  return sum_up();
}

void Season::begin(int season) {
  luck_ = Luck(options_.seed, season);
  days_.draw(luck_);
  plan_ = first_plan_;
  otherwise_ = false;
  known_.stock = h_.stock;
  known_.rooms = h_.rooms;
  known_.worth = h_.worth;
  known_.weather = h_.weather;
  known_.money_per_week = h_.money_per_week;
  foods_.clear();
  total_kg_.clear();
  for (int l = 0; l < static_cast<int>(h_.lots.size()); ++l) {
    foods_.push_back(sampled(base_, l, options_.spreads, luck_));
    total_kg_.push_back(foods_.back().kg);
  }
  saved_kg_.assign(h_.lots.size(), 0);
  batches_.clear();
  busy_.assign(h_.hands.size(), {});
  used_.assign(h_.equipment.size(), {});
  for (const Committed& c : h_.committed)
    for (const almanac::EquipmentUse& use : c.equipment)
      for (std::size_t e = 0; e < h_.equipment.size(); ++e)
        if (h_.equipment[e].key == use.key) used_[e].push_back({c.span.from, c.span.to, use.amount.fixed});
  work_left_.clear();
  work_left_true_.clear();
  for (const OtherJob& job : h_.other) {
    work_left_.push_back(job.minutes);
    work_left_true_.push_back(job.minutes * luck_.factor(options_.spreads.other_work, Chance::other_work, job.key));
  }
  work_done_.assign(h_.other.size(), -1);
  begun_.clear();
  spent_ = 0;
  put_by_.assign(h_.worth.size(), 0);
  other_put_by_ = materials_ = energy_ = later_effort_ = 0;
  worked_ = worked_first_;
  batch_worked_.assign(worked_.size(), 0);
}

/// Looks at everything; true when something is not as it was expected to be.
bool Season::morning(int day) {
  bool otherwise = days_.tell(day, known_);
  if (day == day_of(base_.now)) return otherwise;  // the plan was made this morning
  otherwise = otherwise || days_.weather_changes();
  for (StockLevel& level : known_.stock) {
    for (StockLevel::Arrival& a : level.arriving) {  // promised to a batch before it came
      const double owed = std::clamp(-level.amount, 0.0, a.amount);
      a.amount -= owed;
      level.amount += owed;
    }
    std::erase_if(level.arriving, [&](const StockLevel::Arrival& a) {
      if (a.at <= now_) level.amount += a.amount;
      return a.at <= now_;
    });
  }
  if (day % 7 == 0) spent_ = 0;
  if (h_.money_per_week > 0) known_.money_per_week = std::max(0.01, h_.money_per_week - spent_);
  for (Food& food : foods_) {
    otherwise = arrive(food) || otherwise;
    food.live_until(now_);
    otherwise = food.look() || otherwise;
  }
  return otherwise;
}

/// What is known of food that is still to come, or has just come.
bool Season::arrive(Food& food) {
  bool otherwise = false;
  if (food.standing && food.seen.pick_by != food.pick_by &&
      now_ >= std::min(food.pick_by, food.seen.pick_by) - kSeenAhead) {
    food.seen.pick_by = food.pick_by;
    otherwise = true;
  }
  if (food.here || food.ready == kNever) return otherwise;
  if (food.ready > now_) {
    const Time thought = food.seen.ready;
    // The day before it is clear when it will be there; until then it is not there today.
    food.seen.ready = food.ready < now_ + kDayMinutes ? food.ready : std::max(thought, now_ + kDayMinutes);
    return otherwise || food.seen.ready != thought;
  }
  food.here = true;
  otherwise = otherwise || food.seen.ready != food.ready || food.came_kg != food.expected_kg;
  food.seen.ready = food.ready;
  if (!food.standing && !food.made) change_room(food.place, food.kg);
  return otherwise;
}

void Season::lay_out_lots() {
  known_.lots.clear();
  for (Food& food : foods_) {
    if (food.kg < kLeastKg || food.ready == kNever) continue;
    if (food.standing && food.seen.pick_by <= now_) continue;
    if (food.seen.hazard_by && *food.seen.hazard_by <= now_) continue;
    food.seen.kg = food.here ? food.kg : food.expected_kg;
    known_.lots.push_back(food.seen);
  }
}

/// What is underway holds its people and equipment.
void Season::lay_out_committed() {
  known_.committed.clear();
  for (const Committed& c : h_.committed)
    if (c.span.to > now_) known_.committed.push_back(c);
  for (std::size_t p = 0; p < busy_.size(); ++p)
    for (const Busy& b : busy_[p])
      if (b.to > now_)
        known_.committed.push_back({.batch = {},
                                    .stage = {},
                                    .name = {},
                                    .span = {std::max(b.from, now_), b.to},
                                    .hands = {h_.hands[p].key},
                                    .equipment = {}});
  const auto holds = [&](int e, double amount, Span span) {
    if (amount > 0)
      known_.committed.push_back({.batch = {},
                                  .stage = {},
                                  .name = {},
                                  .span = span,
                                  .hands = {},
                                  .equipment = {{h_.equipment[static_cast<std::size_t>(e)].key, {amount, 0, 0}}}});
  };
  for (std::size_t e = 0; e < used_.size(); ++e)
    for (const Used& u : used_[e])
      if (u.to > now_) holds(static_cast<int>(e), u.amount, {std::max(u.from, now_), u.to});
  for (const Batch& batch : batches_)
    for (const Step& step : batch.steps) {
      if (step.done || step.planned >= base_.horizon) continue;
      const Span span{std::max(step.planned, now_), std::max(step.planned, now_) + step.length};
      for (const Use& use : step.spec->equipment) holds(use.index, use.amount.at(batch.kg, batch.loads), span);
      for (std::size_t p = 0; p < h_.hands.size(); ++p)
        if ((step.team >> p & 1U) != 0)
          known_.committed.push_back(
              {.batch = {}, .stage = {}, .name = {}, .span = span, .hands = {h_.hands[p].key}, .equipment = {}});
    }
}

void Season::lay_out_work(int day) {
  known_.other.clear();
  for (std::size_t o = 0; o < h_.other.size(); ++o) {
    if (work_done_[o] >= 0) continue;
    OtherJob job = h_.other[o];
    job.minutes = work_left_[o] > 0 ? static_cast<int>(std::ceil(work_left_[o])) : kAlittleMore;
    job.weather_windows = days_.told_work_windows(static_cast<int>(o), day);
    known_.other.push_back(std::move(job));
  }
}

/// The near term of the plan that people follow, so that it is not upset for little.
void Season::set_in_force() {
  known_.in_force.clear();
  for (const PlannedBatch& batch : plan_.batches)
    for (const PlacedStage& stage : batch.stages) {
      if (stage.span.from < now_ || stage.span.from >= now_ + kNearTerm) continue;
      for (const auto& part : batch.parts)
        known_.in_force.push_back({.lot = part.lot,
                                   .route = batch.route,
                                   .stage = stage.stage,
                                   .start = stage.span.from,
                                   .hands = stage.hands,
                                   .kg = part.kg,
                                   .batch = batch.key});
    }
}

/// The plan made again for what is left, from the plan in force: cheap, a person's morning look and no more.
void Season::plan_again(int day) {
  known_.now = now_;
  lay_out_lots();
  lay_out_committed();
  lay_out_work(day);
  for (PlannedBatch& batch : plan_.batches) {
    const auto r =
        std::find_if(h_.routes.begin(), h_.routes.end(), [&](const auto& x) { return x.key == batch.route; });
    if (r == h_.routes.end()) continue;
    for (auto& part : batch.parts)
      if (const int food = source_of(part.lot, *r); food >= 0)
        part.lot = foods_[static_cast<std::size_t>(food)].seen.id;
  }
  set_in_force();
  const Project project(known_);
  PlanSearch search(project);
  measure::Random random = luck_.stream(Chance::planning, {}, day);
  search.fill_with(list_from(project, plan_));
  double cost = search.fill_up(random);
  for (int i = 0; i < options_.steps; ++i) {
    search.propose(random, 1);
    const double then = search.evaluate(cost).cost;
    if (then <= cost) {
      cost = then;
      search.accept();
    } else {
      search.reject();
    }
  }
  plan_ = publish(search.schedule(), search.objective().terms());
}

int Season::food_of(const std::string& id) const {
  for (std::size_t i = 0; i < foods_.size(); ++i)
    if (foods_[i].seen.id == id) return static_cast<int>(i);
  return -1;
}

/// The food a plan means by this lot: the lot itself, or what a batch has made of it since; -1 when there is none.
int Season::source_of(const std::string& lot, const almanac::Route& route) const {
  const int own = food_of(lot);
  if (own < 0) return -1;
  const bool main = foods_[static_cast<std::size_t>(own)].seen.crop.starts_with(route.crop);
  if (route.accepts_form == foods_[static_cast<std::size_t>(own)].seen.form || (!main && !route.many_lot_with.empty()))
    return own;
  int best = -1;
  for (std::size_t i = 0; i < foods_.size(); ++i)
    if (foods_[i].seen.id.starts_with(lot + "/") && foods_[i].seen.form == route.accepts_form &&
        (best < 0 || foods_[i].kg > foods_[static_cast<std::size_t>(best)].kg))
      best = static_cast<int>(i);
  return best;
}

}  // namespace stillroom::planning::detail
