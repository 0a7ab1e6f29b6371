#include "planning/detail/decoder.h"

#include <cassert>

namespace stillroom::planning::detail {
namespace {

constexpr double kLeastPartKg = 1e-3;

int loads_at(const almanac::Route& route, double kg) {
  return route.load_kg > 0 ? std::max(1, static_cast<int>(std::ceil(kg / route.load_kg - 1e-9))) : 1;
}

/// Rounded down to a gram, so that plans hold amounts a person could weigh.
double whole_grams(double kg) { return std::floor(kg * 1000 + 1e-6) / 1000; }

}  // namespace

Decoder::Decoder(const Project& project) : project_(project), board_(project) {
  for (const LotSpec& lot : project.lots) lots_.push_back({lot.fade, {}});
  held_.resize(project.pools.size());
  for (std::size_t i = 0; i < project.pools.size(); ++i)
    by_products_.emplace_back(0, std::span<const scheduling::StockProfile::Arrival>{});
  money_.assign(static_cast<std::size_t>(project.days / 7 + 1), 0);
}

void Decoder::relax(const Relaxed& relaxed) {
  while (!jobs_.empty()) undo(jobs_.size() - 1);
  board_.relaxed = relaxed;
}

void Decoder::decode(const JobList& list) {
  std::size_t same = 0;
  while (same < jobs_.size() && same < list.size() && jobs_[same] == list[same]) ++same;
  while (jobs_.size() > same) undo(jobs_.size() - 1);
  while (jobs_.size() < list.size()) place(list[jobs_.size()]);
  ++schedules_;
}

const PlacedJob& Decoder::append(const Job& job) {
  place(job);
  return placed_.back();
}

void Decoder::undo_last() { undo(jobs_.size() - 1); }

void Decoder::place(const Job& job) {
  before_.push_back({board_.mark(), slots_.size(), purchases_.size()});
  jobs_.push_back(job);
  placed_.emplace_back();
  PlacedJob& out = placed_.back();
  out.first_slot = static_cast<int>(slots_.size());
  switch (job.kind) {
    case JobKind::batch:
      out.placed = place_batch(job, out);
      break;
    case JobKind::hold:
      out.placed = place_hold(job, out);
      break;
    case JobKind::other:
      out.placed = place_other(job, out);
      break;
    case JobKind::trip:
      out.placed = place_trip(job, out);
      break;
  }
  if (out.placed) return;
  board_.rollback(before_.back().mark);
  slots_.resize(before_.back().slots);
  for (; purchases_.size() > before_.back().purchases; purchases_.pop_back()) {
    const Purchase& p = purchases_.back();
    const auto& trip = slots_[static_cast<std::size_t>(placed_[static_cast<std::size_t>(p.trip)].first_slot)];
    money_[static_cast<std::size_t>(day_of(trip.start) / 7)] -= p.cost;
  }
}

void Decoder::undo(std::size_t position) {
  const Job& job = jobs_[position];
  const PlacedJob& was = placed_[position];
  if (was.placed && job.kind == JobKind::batch) {
    for (int i = was.size - 1; i >= 0; --i) {
      const PlacedPart& part = was.parts[static_cast<std::size_t>(i)];
      if (part.source == Source::lot) lots_[static_cast<std::size_t>(part.lot)].takes.pop_back();
      if (part.source == Source::held) held_[static_cast<std::size_t>(part.pool)].taken -= part.kg;
    }
    const RouteSpec& route = project_.routes[static_cast<std::size_t>(job.what)];
    if (route.source->is_hold)
      for (std::size_t pool = 0; pool < held_.size(); ++pool)
        if (project_.pools[pool].source == Source::held && project_.pools[pool].lot == was.parts[0].lot &&
            project_.pools[pool].form == route.source->product_form)
          held_[pool].active = false;
  }
  if (was.placed && job.kind == JobKind::hold) {
    const auto lot = static_cast<std::size_t>(job.parts[0].lot);
    lots_[lot].fade = project_.lots[lot].fade;
  }
  for (; purchases_.size() > before_[position].purchases; purchases_.pop_back()) {
    const Purchase& p = purchases_.back();
    const auto& trip = slots_[static_cast<std::size_t>(placed_[static_cast<std::size_t>(p.trip)].first_slot)];
    money_[static_cast<std::size_t>(day_of(trip.start) / 7)] -= p.cost;
  }
  board_.rollback(before_[position].mark);
  slots_.resize(before_[position].slots);
  before_.pop_back();
  placed_.pop_back();
  jobs_.pop_back();
}

double Decoder::taken(int lot) const {
  double sum = 0;
  for (const Take& take : lots_[static_cast<std::size_t>(lot)].takes) sum += take.kg;
  return sum;
}

double Decoder::usable(const PlacedPart& part, Time t) const {
  if (part.source == Source::by_product) return 1;
  if (part.source == Source::held) {
    const HeldPool& pool = held_[static_cast<std::size_t>(part.pool)];
    return pool.usable_at_start > 0 ? std::min(1.0, pool.fade.usable_at(t) / pool.usable_at_start) : 0;
  }
  return lots_[static_cast<std::size_t>(part.lot)].fade.usable_at(t - part.picked);
}

int Decoder::condition(const PlacedPart& part, Time t) const {
  if (part.source == Source::by_product) return static_cast<int>(almanac::Condition::firm);
  if (part.source == Source::held) return held_[static_cast<std::size_t>(part.pool)].fade.condition_at(t);
  return lots_[static_cast<std::size_t>(part.lot)].fade.condition_at(t - part.picked);
}

/// Gross kg that can still be taken at `at` without starving a later take or the fresh eating before it.
double Decoder::available(const PlacedPart& part, Time at) const {
  if (part.source == Source::held) {
    const HeldPool& pool = held_[static_cast<std::size_t>(part.pool)];
    return pool.active ? pool.mass - pool.taken : 0;
  }
  if (part.source == Source::by_product)
    return static_cast<double>(by_products_[static_cast<std::size_t>(part.pool)].available_from(at)) / kWhole;
  const LotSpec& lot = project_.lots[static_cast<std::size_t>(part.lot)];
  const auto& takes = lots_[static_cast<std::size_t>(part.lot)].takes;
  const auto left_at = [&](Time t) {
    double left = lot.source->kg - lot.eaten_per_minute * std::max(0, t - std::max(project_.h.now, lot.source->ready));
    for (const Take& take : takes)
      if (take.at <= t) left -= take.kg;
    return left;
  };
  double least = left_at(at);
  for (const Take& take : takes)
    if (take.at > at) least = std::min(least, left_at(take.at));
  return std::max(0.0, least);
}

bool Decoder::gather_parts(const Job& job, const RouteSpec& route, PlacedJob& out) const {
  const int recipe = static_cast<int>(route.seconds.size());
  double main_kg = 0;
  std::array<double, 16> second_kg{};
  if (recipe > static_cast<int>(second_kg.size())) return false;
  std::array<int, kMostParts> group{};
  for (int i = 0; i < job.size; ++i) {
    const Part& wish = job.parts[static_cast<std::size_t>(i)];
    for (int earlier = 0; earlier < i; ++earlier)
      if (job.parts[static_cast<std::size_t>(earlier)].lot == wish.lot) return false;
    PlacedPart part{.lot = wish.lot};
    const Option* option = project_.option(wish.lot, job.what);
    int second = -1;
    if (option != nullptr) {
      part.source = option->source;
      part.pool = option->pool;
    } else {
      for (int j = 0; j < recipe; ++j) {
        const auto& lots = route.seconds[static_cast<std::size_t>(j)];
        if (std::find(lots.begin(), lots.end(), wish.lot) != lots.end()) second = j;
      }
      if (second < 0) return false;
      part.main = false;
    }
    const LotSpec& lot = project_.lots[static_cast<std::size_t>(wish.lot)];
    const Time soonest = part.source == Source::by_product ? project_.horizon : std::max(lot.from, project_.now);
    part.kg = std::min(wish.kg, available(part, soonest));
    if (recipe == 0) part.kg = whole_grams(part.kg);
    if (part.kg < kLeastPartKg) continue;
    group[static_cast<std::size_t>(out.size)] = second;
    (second < 0 ? main_kg : second_kg[static_cast<std::size_t>(second)]) += part.kg;
    out.parts[static_cast<std::size_t>(out.size++)] = part;
  }
  if (main_kg <= 0 || (route.source->is_hold && out.size != 1)) return false;
  if (recipe > 0) {  // bring every part to the recipe's shares of the scarcest
    double main = main_kg;
    for (int j = 0; j < recipe; ++j)
      main = std::min(main,
                      second_kg[static_cast<std::size_t>(j)] / route.source->many_lot_kg[static_cast<std::size_t>(j)]);
    if (main < kLeastPartKg) return false;
    for (int i = 0; i < out.size; ++i) {
      const int j = group[static_cast<std::size_t>(i)];
      out.parts[static_cast<std::size_t>(i)].kg *=
          j < 0
              ? main / main_kg
              : main * route.source->many_lot_kg[static_cast<std::size_t>(j)] / second_kg[static_cast<std::size_t>(j)];
    }
  }
  out.kg = 0;
  for (int i = 0; i < out.size; ++i) out.kg += out.parts[static_cast<std::size_t>(i)].kg;
  return true;
}

namespace {

/// Brings the batch to `kg` in all, every part by the same share.
void scale_to(PlacedJob& out, const RouteSpec& route, double kg) {
  const double share = kg / out.kg;
  out.kg = 0;
  for (int i = 0; i < out.size; ++i) {
    double& part = out.parts[static_cast<std::size_t>(i)].kg;
    part = route.seconds.empty() ? whole_grams(part * share) : part * share;
    out.kg += part;
  }
}

}  // namespace

bool Decoder::fit_size(const RouteSpec& route, PlacedJob& out) {
  const almanac::Route& source = *route.source;
  if (out.kg > source.batch_max_kg) scale_to(out, route, source.batch_max_kg);
  for (int tries = 0; tries < 3; ++tries) {
    if (out.kg < source.batch_min_kg) return false;
    out.loads = loads_at(source, out.kg);
    double most = out.kg;
    for (const StageSpec& stage : route.stages) most = std::min(most, board_.most_kg(stage, out.loads));
    if (most >= out.kg) return true;
    if (most < source.batch_min_kg && out.loads == 1) return false;
    // Fewer loads may need less; without loads the smaller batch simply fits.
    scale_to(out, route, out.loads > 1 ? std::min(std::max(most, 0.0) + 1e-9, (out.loads - 1) * source.load_kg) : most);
    if (out.kg <= 0) return false;
  }
  return false;
}

void Decoder::buy_for(const RouteSpec& route, const PlacedJob& out) {
  if (!project_.h.shopping) return;
  const double limit = project_.h.money_per_week;
  const double kg = std::min(out.kg, route.source->batch_max_kg);
  const int loads = loads_at(*route.source, kg);
  for (const StageSpec& stage : route.stages)
    for (const Use& use : stage.stock) {
      const StockLevel& item = project_.h.stock[static_cast<std::size_t>(use.index)];
      if (!item.can_buy) continue;
      const Amount need = units_needed(use.amount.at(kg, loads));
      const Amount there = board_.stock(use.index).available_from(project_.horizon);
      const double step = std::max(1e-3, item.buy_step);
      double packs = std::ceil(static_cast<double>(need - there) / (step * kWhole) - 1e-9);
      for (std::size_t i = 0; i + 1 < jobs_.size() && packs > 0; ++i) {
        if (jobs_[i].kind != JobKind::trip || !placed_[i].placed) continue;
        const Board::Slot& slot = slots_[static_cast<std::size_t>(placed_[i].first_slot)];
        double& spent = money_[static_cast<std::size_t>(day_of(slot.start) / 7)];
        double buy = packs;
        if (limit > 0 && item.price > 0) buy = std::min(buy, std::floor((limit - spent) / (item.price * step) + 1e-9));
        if (buy <= 0) continue;
        const Amount amount = units_there(buy * step);
        const double cost = buy * step * item.price;
        spent += cost;
        board_.stock(use.index).put(slot.end, amount, board_.log());
        purchases_.push_back({static_cast<int>(i), use.index, amount, cost});
        packs -= buy;
      }
    }
}

}  // namespace stillroom::planning::detail
