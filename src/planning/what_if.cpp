#include "planning/what_if.h"

#include <fmt/format.h>

#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "measure/text.h"
#include "planning/detail/again.h"
#include "planning/detail/rules.h"
#include "planning/detail/words.h"
#include "planning/validate.h"

namespace stillroom::planning {
namespace {

using detail::day_of;
using detail::kDayMinutes;

constexpr int kAskedSeeds = 5;
constexpr Minute kDayBegins = 8 * 60, kDayEnds = 20 * 60;
constexpr int kLeastHelper = 8;   // years: nothing in the kitchen is for younger hands
constexpr double kPlenty = 1e4;   // of every item: more than any plan uses
constexpr double kNothing = 0.5;  // USD: less is not worth a word
constexpr double kGrownUp = 18;

/// A household with something changed, and how that is said.
struct Changed {
  Household household;
  std::string words;
  bool more = true;  ///< something added; else taken away
};

std::string key_like(std::string typed) {
  for (char& c : typed) c = c == '-' || c == ' ' ? '_' : static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return typed;
}

/// Everything some route uses, or the household has.
std::set<std::string> equipment_keys(const Household& h) {
  std::set<std::string> keys;
  for (const EquipmentPiece& e : h.equipment) keys.insert(e.key);
  for (const almanac::Route& r : h.routes)
    for (const almanac::Stage& s : r.stages)
      for (const almanac::EquipmentUse& use : s.equipment) keys.insert(use.key);
  return keys;
}

measure::Result<std::string> equipment_named(const Household& h, const std::string& typed) {
  const std::string key = key_like(typed);
  const auto keys = equipment_keys(h);
  if (keys.contains(key)) return key;
  std::vector<std::string> begins, names;
  for (const std::string& k : keys) {
    names.push_back(detail::thing(k));
    if (!key.empty() && k.starts_with(key)) begins.push_back(k);
  }
  if (begins.size() == 1) return begins.front();
  std::vector<std::string> near = measure::suggest(detail::thing(key), names);
  return measure::refuse("not_found", fmt::format("There is no equipment here called \"{}\".", typed),
                         near.empty() ? names : near);
}

measure::Result<std::size_t> hand_named(const Household& h, const std::string& typed) {
  std::vector<std::string> names;
  for (std::size_t p = 0; p < h.hands.size(); ++p) {
    names.push_back(h.hands[p].name);
    if (h.hands[p].key == typed || key_like(h.hands[p].name) == key_like(typed)) return p;
  }
  std::vector<std::string> near = measure::suggest(typed, names);
  return measure::refuse("not_found", fmt::format("Nobody here is called \"{}\".", typed), near.empty() ? names : near);
}

/// The day asked for, or the first on which `minutes` are still to be had before evening.
measure::Result<int> day_for(const Household& h, const Change& change) {
  const int today = day_of(h.now);
  if (change.day) {
    if (*change.day >= today && *change.day < h.days) return *change.day;
    return measure::refuse("bad_day", "That day is not among the days that are planned.",
                           {fmt::format("Name a day from today to {} days ahead.", h.days - 1 - today)});
  }
  const bool late = h.now - today * kDayMinutes + change.minutes > kDayEnds;
  return std::min(h.days - 1, late ? today + 1 : today);
}

/// `minutes` of the day that are not yet in `free`, as near its middle as may be.
std::optional<Span> more_time(const Household& h, const std::vector<Span>& free, int day, int minutes) {
  const Minute midnight = day * kDayMinutes;
  Minute first = std::max(h.now, midnight + kDayBegins), last = first;
  bool any = false;
  for (const Span& s : free) {
    if (s.to <= midnight || s.from >= midnight + kDayMinutes) continue;
    if (!any) first = s.from;
    last = std::max(last, s.to);
    any = true;
  }
  if (last + minutes <= midnight + kDayMinutes) return Span{last, last + minutes};
  if (first - minutes >= std::max(h.now, midnight)) return Span{first - minutes, first};
  return std::nullopt;
}

void add_free(Hand& hand, Span more) {
  hand.free.push_back(more);
  std::sort(hand.free.begin(), hand.free.end(), [](const Span& a, const Span& b) { return a.from < b.from; });
  std::vector<Span> joined;
  for (const Span& s : hand.free) {
    if (!joined.empty() && s.from <= joined.back().to)
      joined.back().to = std::max(joined.back().to, s.to);
    else
      joined.push_back(s);
  }
  hand.free = std::move(joined);
}

measure::Result<Changed> with_helper(const Household& h, const Change& change) {
  if (change.age < kLeastHelper || change.age > 120)
    return measure::refuse("bad_change", "A helper of that age cannot be planned with.",
                           {fmt::format("An age from {} on.", kLeastHelper)});
  if (change.minutes < detail::kSplitLeast || change.minutes > 16 * 60)
    return measure::refuse("bad_change", "A helper comes for half an hour to sixteen hours.", {"4h", "90min"});
  const auto day = day_for(h, change);
  if (!day) return tl::unexpected(day.error());
  const Minute begins = *day * kDayMinutes + (change.minutes <= kDayEnds - kDayBegins - 60 ? kDayBegins + 60 : 4 * 60);
  const Minute from = detail::grain_up(std::max(h.now, begins));
  Changed out{h,
              fmt::format("with a helper {}{} for {}", change.age < kGrownUp ? fmt::format("of {} ", change.age) : "",
                          detail::day_name(h, from), detail::length_of(change.minutes))};
  Hand helper{.key = "one more pair of hands", .name = "a helper", .age = change.age, .skills = {}, .free = {}};
  helper.free = {{from, from + change.minutes}};
  helper.most_minutes_per_day = change.minutes;
  out.household.hands.push_back(std::move(helper));
  return out;
}

measure::Result<Changed> with_equipment(const Household& h, const Change& change) {
  const auto key = equipment_named(h, change.what);
  if (!key) return tl::unexpected(key.error());
  const double more = *key == "dryer_tray" ? 6 : key->ends_with("_l") ? 10 : 1;
  const auto it = std::find_if(h.equipment.begin(), h.equipment.end(), [&](const auto& e) { return e.key == *key; });
  const double had = it == h.equipment.end() ? 0 : it->count;
  Changed out{h, {}};
  if (it == h.equipment.end()) {
    out.household.equipment.push_back({*key, more});
  } else {
    out.household.equipment[static_cast<std::size_t>(it - h.equipment.begin())].count += more;
  }
  const std::string name = detail::thing(*key);
  out.words = key->ends_with("_l") ? fmt::format("with 10 more litres of {}", name)
              : more > 1           ? fmt::format("with {:.0f} more {}s", more, name)
              : had == 0           ? fmt::format("with a {}", name)
              : had == 1           ? fmt::format("with a second {}", name)
                                   : fmt::format("with one more {}", name);
  return out;
}

measure::Result<Changed> with_hour(const Household& h, const Change& change) {
  const auto hand = hand_named(h, change.what);
  if (!hand) return tl::unexpected(hand.error());
  const auto day = day_for(h, change);
  if (!day) return tl::unexpected(day.error());
  const auto span = more_time(h, h.hands[*hand].free, *day, change.minutes);
  if (!span) return measure::refuse("bad_change", "That day has no such time left.", {"Try another day."});
  Changed out{h,
              fmt::format("with {} more of {} {}", change.minutes == 60 ? "an hour" : detail::length_of(change.minutes),
                          h.hands[*hand].name, detail::day_name(h, span->from))};
  Hand& p = out.household.hands[*hand];
  add_free(p, *span);
  p.most_minutes_per_day = std::min(1440, p.most_minutes_per_day + change.minutes);
  return out;
}

measure::Result<Changed> with_shopping(const Household& h, const Change& change) {
  const auto day = day_for(h, change);
  if (!day) return tl::unexpected(day.error());
  const Minute at = std::max(h.now, *day * kDayMinutes + (*day == day_of(h.now) ? 0 : kDayBegins));
  Changed out{h, fmt::format("with all the jars, lids and bags there could be from {} on", detail::day_name(h, at))};
  for (StockLevel& level : out.household.stock) level.arriving.push_back({at, kPlenty});
  return out;
}

measure::Result<Changed> without_day(const Household& h, const Change& change) {
  const auto day = day_for(h, change);
  if (!day) return tl::unexpected(day.error());
  const Minute from = *day * kDayMinutes, to = from + kDayMinutes;
  Changed out{h, "without " + detail::day_name(h, from), false};
  for (Hand& hand : out.household.hands) {
    std::vector<Span> left;
    for (const Span& s : hand.free) {
      if (s.from < from) left.push_back({s.from, std::min(s.to, from)});
      if (s.to > to) left.push_back({std::max(s.from, to), s.to});
    }
    hand.free = std::move(left);
  }
  return out;
}

measure::Result<Changed> apply(const Household& h, const Change& change) {
  switch (change.kind) {
    case Change::Kind::helper:
      return with_helper(h, change);
    case Change::Kind::equipment:
      return with_equipment(h, change);
    case Change::Kind::hour:
      return with_hour(h, change);
    case Change::Kind::shopping:
      return with_shopping(h, change);
    case Change::Kind::lost_day:
      return without_day(h, change);
  }
  return measure::refuse("bad_change", "There is no such change.");
}

/// What a plan takes of every item beyond what there is and is coming anyway.
std::vector<WhatIf::Bought> short_of(const Household& h, const Plan& plan) {
  std::map<std::string, double> used;
  for (const PlannedBatch& batch : plan.batches)
    for (const almanac::Route& route : h.routes) {
      if (route.key != batch.route) continue;
      for (const almanac::Stage& stage : route.stages)
        for (const almanac::StockUse& use : stage.stock) used[use.item] += use.amount.at(batch.kg_in, batch.loads);
    }
  std::vector<WhatIf::Bought> out;
  for (const StockLevel& level : h.stock) {
    double there = level.amount;
    for (const auto& a : level.arriving) there += a.amount;
    if (const double lacking = used[level.item] - there; lacking > 1e-6) {
      const double step = level.can_buy && level.buy_step > 0 ? level.buy_step : 1;
      const double amount = std::ceil(lacking / step - 1e-9) * step;
      out.push_back({level.item, amount, amount * level.price});
    }
  }
  return out;
}

bool is_let_go(const Plan& plan, const std::string& lot) {
  const LotOutlook* o = detail::outlook_of(plan, lot);
  return o != nullptr && o->kg_let_go > detail::kLetGoShare * o->kg;
}

double put_by(const Plan& plan) {
  double kg = 0;
  for (const LotOutlook& o : plan.lots) kg += o.kg_put_by;
  return kg;
}

std::string lots_words(const Household& h, const std::vector<std::string>& lots) {
  std::vector<std::string> names;
  for (const std::string& id : lots)
    for (const Lot& lot : h.lots)
      if (lot.id == id && names.size() < 4) names.push_back(lot.name.empty() ? lot.crop : lot.name);
  if (lots.size() > names.size()) names.push_back(fmt::format("{} more", lots.size() - names.size()));
  return measure::say_list(names);
}

std::string sentence_of(const Household& h, const WhatIf& w) {
  const std::string begin = detail::capital(w.change) + ", ";
  const double far = std::max(kNothing, 2 * w.noise);
  std::string lots;
  const auto count = [](std::size_t n) { return fmt::format("{} more lot{}", n, n == 1 ? " is" : "s are"); };
  if (w.saved.size() > w.let_go.size())
    lots = fmt::format("{} saved ({})", count(w.saved.size()), lots_words(h, w.saved));
  if (w.let_go.size() > w.saved.size())
    lots = fmt::format("{} let go ({})", count(w.let_go.size()), lots_words(h, w.let_go));
  if (std::abs(w.gain) <= far) return begin + "next to nothing changes.";
  const std::string money = fmt::format("about {} {} (give or take {})", detail::dollars(std::abs(w.gain)),
                                        w.gain > 0 ? "more" : "less", detail::dollars(std::max(0.01, w.noise)));
  std::string out = lots.empty() ? fmt::format("{}the days ahead are worth {}.", begin, money)
                                 : fmt::format("{}{}: worth {}.", begin, lots, money);
  if (w.bought.empty()) return out;
  std::vector<std::string> items;
  double cost = 0;
  for (const auto& b : w.bought) {
    items.push_back(fmt::format("{:.0f} {}", b.amount, detail::thing(b.item)));
    cost += b.cost;
  }
  return out + fmt::format(" It would take {}{}.", measure::say_list(items),
                           cost > 0 ? fmt::format(", {}, which is taken off", detail::dollars(cost))
                                    : ", at a price that is not known here");
}

WhatIf compare(const Household& h, const detail::Again& base, const Changed& changed, const detail::Asker& asker,
               bool shopping) {
  const detail::Again then = asker.solve(changed.household);
  const detail::Difference d = detail::less(then, base);
  WhatIf out{.change = changed.words, .gain = d.mean, .noise = d.noise, .saved = {}, .let_go = {}};
  for (const Lot& lot : h.lots) {
    const bool was = is_let_go(base.best, lot.id), is = is_let_go(then.best, lot.id);
    if (was && !is) out.saved.push_back(lot.id);
    if (!was && is) out.let_go.push_back(lot.id);
  }
  out.kg_more = put_by(then.best) - put_by(base.best);
  if (shopping) out.bought = short_of(h, then.best);
  for (const auto& b : out.bought) out.gain -= b.cost;
  out.sentence = sentence_of(h, out);
  return out;
}

/// The fullest day of a hand in the plan, within a week; today when it has none.
int fullest_day(const Household& h, const Plan& plan, const std::string& hand) {
  std::map<int, int> minutes;
  for (const PlannedBatch& b : plan.batches)
    for (const PlacedStage& s : b.stages)
      if (std::find(s.hands.begin(), s.hands.end(), hand) != s.hands.end())
        minutes[day_of(s.span.from)] += s.span.to - s.span.from;
  int best = day_of(h.now), most = 0;
  for (const auto& [day, sum] : minutes)
    if (sum > most && day < day_of(h.now) + 7) {
      best = day;
      most = sum;
    }
  return best;
}

std::vector<Changed> next_things(const Household& h, const Plan& plan) {
  std::vector<Changed> out;
  for (const Hand& hand : h.hands) {
    if (hand.age < kGrownUp) continue;
    const auto changed = with_hour(h, {.kind = Change::Kind::hour,
                                       .what = hand.key,
                                       .age = hand.age,
                                       .minutes = 60,
                                       .day = fullest_day(h, plan, hand.key)});
    if (changed) out.push_back(*changed);
  }
  Changed jars{h, "with a dozen more jars of each size and their lids"}, freezer{h, "with 20 more litres of freezer"};
  bool any_jars = false, any_freezer = false;
  for (StockLevel& level : jars.household.stock) {
    if (!level.item.starts_with("jar") && level.item != "lid") continue;
    level.amount += level.item == "lid" ? 36 : 12;
    any_jars = true;
  }
  for (RoomLevel& room : freezer.household.rooms) {
    if (room.room != "freezer_l") continue;
    room.capacity += 20;
    any_freezer = true;
  }
  if (any_jars) out.push_back(std::move(jars));
  if (any_freezer) out.push_back(std::move(freezer));
  for (const EquipmentPiece& e : h.equipment) {
    if (!e.key.ends_with("canner") && e.key != "dryer_tray" && e.key != "burner") continue;
    const auto changed = with_equipment(h, {.kind = Change::Kind::equipment, .what = e.key});
    if (changed) out.push_back(*changed);
  }
  return out;
}

nlohmann::json json_of(const WhatIf& w) {
  nlohmann::json bought = nlohmann::json::array();
  for (const auto& b : w.bought) bought.push_back({{"item", b.item}, {"amount", b.amount}, {"cost", b.cost}});
  return {{"change", w.change}, {"gain", w.gain},       {"noise", w.noise}, {"saved", w.saved},
          {"let_go", w.let_go}, {"kg_more", w.kg_more}, {"bought", bought}, {"sentence", w.sentence}};
}

}  // namespace

measure::Result<WhatIf> what_if(const Household& h, const Plan& plan, const Change& change,
                                const PlanOptions& options) {
  if (auto fault = fault_in(h)) return tl::unexpected(std::move(*fault));
  const auto changed = apply(h, change);
  if (!changed) return tl::unexpected(changed.error());
  const detail::Asker asker(plan, options, kAskedSeeds);
  const detail::Again base = asker.solve(h);
  return compare(h, base, *changed, asker, change.kind == Change::Kind::shopping);
}

measure::Result<std::vector<WhatIf>> worth_of_next(const Household& h, const Plan& plan, const PlanOptions& options,
                                                   std::size_t most) {
  if (auto fault = fault_in(h)) return tl::unexpected(std::move(*fault));
  const detail::Asker asker(plan, options, kAskedSeeds);
  const detail::Again base = asker.solve(h);
  std::vector<WhatIf> out;
  for (const Changed& changed : next_things(h, plan)) {
    if (asker.cancelled()) break;
    WhatIf w = compare(h, base, changed, asker, false);
    if (w.gain > std::max(kNothing, 2 * w.noise)) out.push_back(std::move(w));
  }
  std::stable_sort(out.begin(), out.end(), [](const WhatIf& a, const WhatIf& b) { return a.gain > b.gain; });
  if (out.size() > most) out.resize(most);
  return out;
}

std::string to_json(const WhatIf& w) { return json_of(w).dump(); }

std::string to_json(const std::vector<WhatIf>& list) {
  nlohmann::json out = nlohmann::json::array();
  for (const WhatIf& w : list) out.push_back(json_of(w));
  return out.dump();
}

}  // namespace stillroom::planning
