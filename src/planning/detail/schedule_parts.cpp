#include "planning/detail/schedule.h"

namespace stillroom::planning::detail {
namespace {

constexpr double kLeastPartKg = 1e-3;

int loads_at(const almanac::Route& route, double kg) {
  return route.load_kg > 0 ? std::max(1, static_cast<int>(std::ceil(kg / route.load_kg - 1e-9))) : 1;
}

/// Rounded down to a gram, so that plans hold amounts a person could weigh.
double whole_grams(double kg) { return std::floor(kg * 1000 + 1e-6) / 1000; }

}  // namespace

double Schedule::usable(const PlacedPart& part, Time t) const {
  if (part.source == Source::by_product) return 1;
  if (part.source == Source::held) {
    const HeldPool& pool = held_[static_cast<std::size_t>(part.pool)];
    return pool.usable_at_start > 0 ? std::min(1.0, pool.fade.usable_at(t) / pool.usable_at_start) : 0;
  }
  return lots_[static_cast<std::size_t>(part.lot)].fade.usable_at(t - part.picked);
}

int Schedule::condition(const PlacedPart& part, Time t) const {
  if (part.source == Source::by_product) return static_cast<int>(almanac::Condition::firm);
  if (part.source == Source::held) return held_[static_cast<std::size_t>(part.pool)].fade.condition_at(t);
  return lots_[static_cast<std::size_t>(part.lot)].fade.condition_at(t - part.picked);
}

/// Gross kg that can still be taken at `at` without starving a later take or the fresh eating before it.
double Schedule::available(const PlacedPart& part, Time at) const {
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

bool Schedule::gather_parts(const Job& job, const RouteSpec& route, Placed& out) const {
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

/// Parts of less than a gram are no parts.
void drop_empty_parts(Placed& out) {
  int kept = 0;
  out.kg = 0;
  for (int i = 0; i < out.size; ++i) {
    const PlacedPart part = out.parts[static_cast<std::size_t>(i)];
    if (part.kg < kLeastPartKg) continue;
    out.kg += part.kg;
    out.parts[static_cast<std::size_t>(kept++)] = part;
  }
  out.size = kept;
}

/// Brings the batch to `kg` in all, every part by the same share.
void scale_to(Placed& out, const RouteSpec& route, double kg) {
  const double share = kg / out.kg;
  for (int i = 0; i < out.size; ++i) {
    double& part = out.parts[static_cast<std::size_t>(i)].kg;
    part = route.seconds.empty() ? whole_grams(part * share) : part * share;
  }
  if (route.seconds.empty()) {
    drop_empty_parts(out);
  } else {
    out.kg = kg;
  }
}

}  // namespace

bool Schedule::fit_size(const RouteSpec& route, Placed& out) const {
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

double Schedule::spent_in_week_of(Time t) const {
  double spent = 0;
  for (const Purchase& p : purchases_)
    if (day_of(placed(p.trip).start) / 7 == day_of(t) / 7) spent += p.cost;
  return spent;
}

/// Buys what a batch lacks on the trips there are, as far as the week's money goes.
void Schedule::buy_for(const RouteSpec& route, const Placed& out) {
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
      for (const int id : ids_) {
        if (packs <= 0) break;
        if (placed(id).job.kind != JobKind::trip) continue;
        const Board::Slot& slot = placed(id).slot(0);
        double buy = packs;
        if (limit > 0 && item.price > 0)
          buy = std::min(buy, std::floor((limit - spent_in_week_of(slot.start)) / (item.price * step) + 1e-9));
        if (buy <= 0) continue;
        const Amount amount = units_there(buy * step);
        board_.stock(use.index).put(slot.end, amount, board_.log());
        purchases_.push_back({id, use.index, amount, buy * step * item.price});
        packs -= buy;
      }
    }
}

bool Schedule::enough_left(const RouteSpec& route, Placed& out) const {
  std::array<double, kMostParts> left{};
  double share = 1;
  for (int i = 0; i < out.size; ++i) {
    const PlacedPart& part = out.parts[static_cast<std::size_t>(i)];
    left[static_cast<std::size_t>(i)] = available(part, part.taken);
    share = std::min(share, left[static_cast<std::size_t>(i)] / part.kg);
  }
  if (share >= 1 - 1e-9) return true;
  if (!route.seconds.empty()) {  // a recipe keeps its proportions
    scale_to(out, route, out.kg * std::max(0.0, share));
    return false;
  }
  for (int i = 0; i < out.size; ++i) {
    double& kg = out.parts[static_cast<std::size_t>(i)].kg;
    kg = std::min(kg, whole_grams(left[static_cast<std::size_t>(i)]));
  }
  drop_empty_parts(out);
  return false;
}

void Schedule::settle_parts(const RouteSpec& route, Placed& out) const {
  double main_kg = 0, main_quality = 0;
  for (int i = 0; i < out.size; ++i) {
    PlacedPart& part = out.parts[static_cast<std::size_t>(i)];
    part.usable = usable(part, out.start);
    if (!part.main) continue;
    part.quality = route.source->quality[static_cast<std::size_t>(condition(part, out.start))];
    if (part.source == Source::held) part.quality *= held_[static_cast<std::size_t>(part.pool)].quality;
    main_kg += part.kg;
    main_quality += part.kg * part.quality;
  }
  out.amount = 0;
  for (int i = 0; i < out.size; ++i) {
    PlacedPart& part = out.parts[static_cast<std::size_t>(i)];
    if (!part.main) part.quality = main_quality / main_kg;
    out.amount += part.kg * part.quality * part.usable * route.source->yield_kg_per_kg;
  }
}

}  // namespace stillroom::planning::detail
