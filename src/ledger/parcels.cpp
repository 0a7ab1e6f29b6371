#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "ledger/detail/folding.h"
#include "ledger/detail/milligrams.h"
#include "measure/text.h"

namespace stillroom::ledger::detail {
namespace {

/// People say "8.8 lb" for what the book holds as 3.9894 kg: a little more than there is still means all of it. Half a
/// percent, or up to 25 g (half of a tenth of a pound) on small lots.
Mass slack_above(Mass there) { return std::max(there * 0.005, std::min(there * 0.05, measure::grams(25))); }
/// And what would stay behind of a lot by rounding alone is nothing.
Mass slack_below(Mass there) { return std::min(there * 0.01, measure::grams(25)); }

constexpr double kPackSlack = 0.005;  // three times a third of a bag is the bag

bool nearly_all(Mass wanted, Mass there) {
  return wanted >= there - slack_below(there) && wanted <= there + slack_above(there);
}

Share part_by_packs(const Parcel& p, double packs) {
  if (packs >= p.packs - kPackSlack) return {p.mass, p.packs};
  return {rounded(p.mass * (packs / p.packs)), rounded_packs(packs)};
}

Share part_by_mass(const Parcel& p, Mass mass) {
  if (nearly_all(mass, p.mass) || mass > p.mass) return {p.mass, p.packs};
  const double packs = p.packs > 0 ? rounded_packs(p.packs * (mass / p.mass)) : 0;
  return {mass, std::min(packs, p.packs)};
}

/// What a line takes out of what is there.
Share part_of_line(const Parcel& p, const Parcel::Line& line) {
  if (!is_here(p)) return {};
  if (line.packs > 0 && p.packs > 0) return part_by_packs(p, line.packs);
  return line.mass > Mass{} ? part_by_mass(p, line.mass) : Share{};
}

Result<Share> by_packs(Folding& f, const Parcel& p, double packs) {
  if (packs > p.packs + kPackSlack) {
    STILLROOM_TRY(f.broken("more_than_there",
                           fmt::format("Only {} left, not {}.", f.name_of(p), measure::say_number(packs)),
                           {"Take what is there, or count the shelf and write the count down."}, p.id));
  }
  return part_by_packs(p, packs);
}

Result<Share> by_mass(Folding& f, const Parcel& p, Mass mass) {
  if (mass > p.mass && !nearly_all(mass, p.mass)) {
    STILLROOM_TRY(f.broken("more_than_there", fmt::format("Only {} left, not {}.", f.name_of(p), f.say(mass)),
                           {"Take what is there, or weigh it and write the weight down."}, p.id));
  }
  return part_by_mass(p, mass);
}

constexpr std::array<std::pair<std::string_view, Mass Parcel::*>, 6> kWays = {{{"eaten", &Parcel::eaten},
                                                                               {"given", &Parcel::given},
                                                                               {"thrown", &Parcel::thrown},
                                                                               {"fed", &Parcel::fed},
                                                                               {"used", &Parcel::used},
                                                                               {"split", &Parcel::split}}};

/// Scales and counting are right: what the book had more or less is `adjusted`.
void find(Parcel& p, Mass mass, double packs) {
  p.adjusted = rounded(p.adjusted + p.mass - mass);
  p.mass = mass;
  p.packs = packs;
}

void tell(Parcel& p, const Parcel::Line& line) {
  if (line.way == "counted") return find(p, mass_of_packs(p, line.packs), line.packs);
  if (line.way == "weighed") return find(p, line.mass, p.packs);
  Share share{line.mass, line.packs};
  if (line.way == "used" || line.way == "split") {
    // Somebody else has it: it was there, whatever the lines before it now say.
    if (share.mass > p.mass) find(p, share.mass, p.packs);
    share.packs = std::min(share.packs, p.packs);
  } else {
    share = part_of_line(p, line);
  }
  for (const auto& [way, account] : kWays)
    if (way == line.way) p.*account = rounded(p.*account + share.mass);
  p.mass = rounded(p.mass - share.mass);
  p.packs = rounded_packs(p.packs - share.packs);
}

/// As it began, before any line.
void clear_account(Parcel& p) {
  p.mass = p.came;
  p.packs = p.packs_made;
  p.eaten = p.given = p.thrown = p.fed = p.used = p.split = p.adjusted = Mass{};
}

/// Where in time the entry stands among the lines: a live one was held against all of them.
std::vector<Parcel::Line>::const_iterator place_among(const Folding& f, const std::vector<Parcel::Line>& lines) {
  if (f.entry.live) return lines.end();
  return std::upper_bound(lines.begin(), lines.end(), f.at, [](Instant t, const Parcel::Line& l) { return t < l.at; });
}

}  // namespace

double rounded_packs(double packs) { return std::round(packs * 1000) / 1000; }

Result<Share> share_of(Folding& f, const Parcel& p, Mass mass, double packs) {
  if (!is_here(p)) {
    STILLROOM_TRY(f.broken("nothing_left", fmt::format("Nothing is left of that {}.", p.food),
                           {"Weigh or count it if there is some after all."}, p.id));
    return Share{};
  }
  const auto number = f.amount(packs, "The number of packs", false);
  if (!number) return tl::unexpected(number.error());
  if (*number > 0 && p.packs > 0) return by_packs(f, p, *number);
  if (*number > 0) {
    STILLROOM_TRY(f.broken("not_in_packs", fmt::format("The {} is loose, not in packs.", p.food),
                           {"Say how much it weighs."}, p.id));
    if (!(mass > Mass{})) return Share{};
  }
  const auto weight = f.mass(mass, "The amount", true);
  if (!weight) return tl::unexpected(weight.error());
  return by_mass(f, p, *weight);
}

Mass mass_of_packs(const Parcel& p, double packs) {
  return rounded(p.packs > 0        ? p.mass * (packs / p.packs)
                 : p.packs_made > 0 ? p.came * (packs / p.packs_made)
                                    : Mass{});
}

Parcel as_it_was(const Folding& f, const Parcel& p) {
  const auto here = place_among(f, p.lines);
  if (here == p.lines.end()) return p;
  Parcel then = p;
  clear_account(then);
  std::for_each(p.lines.begin(), here, [&](const Parcel::Line& line) { tell(then, line); });
  return then;
}

void enter(Folding& f, Parcel& p, std::string_view way, Mass mass, double packs) {
  const auto here = place_among(f, p.lines);
  const bool last = here == p.lines.end();
  const Instant at = last && !p.lines.empty() ? std::max(f.at, p.lines.back().at) : f.at;
  p.lines.insert(here, {at, std::string(way), mass, packs});
  if (last) {
    tell(p, p.lines.back());
  } else {
    clear_account(p);
    for (const Parcel::Line& line : p.lines) tell(p, line);
  }
  settle(f.state, p);
}

void take_out(Folding& f, Parcel& p, const Share& share, std::string_view way) {
  enter(f, p, way, share.mass, share.packs);
}

void settle(const State& state, Parcel& p) {
  if (is_here(p)) {
    p.state = p.made_by.is_nil() && p.packs_made <= 0 ? ParcelState::waiting
              : p.packs_made > 0                      ? ParcelState::put_by
                                                      : ParcelState::resting;
    return;
  }
  const Mass let_go = p.given + p.thrown + p.fed + p.split + std::max(p.adjusted, Mass{});
  if (p.used > Mass{} && p.used >= p.eaten && p.used >= let_go) {
    const auto batch = state.batches.find(p.batch);
    const bool over = batch == state.batches.end() || batch->second.finished || batch->second.abandoned;
    const bool lost = batch != state.batches.end() && batch->second.abandoned && batch->second.packed.empty();
    p.state = !over ? ParcelState::underway : lost ? ParcelState::let_go : ParcelState::put_by;
  } else {
    p.state = p.eaten > Mass{} && p.eaten >= let_go ? ParcelState::eaten : ParcelState::let_go;
  }
}

void give_up(Folding& f, BatchState& b) {
  b.abandoned = true;
  b.lost = rounded(b.lost + still_in(b));
  b.current_stage.clear();
  b.put_down = false;
  for (auto& [id, timer] : f.state.timers) {
    if (timer.batch != b.id || timer.stopped) continue;
    f.changes(Table::timers, id);
    timer.stopped = true;  // nothing is left to wait for
  }
  for (const auto& input : b.inputs) {
    if (Parcel* lot = f.parcel(input.parcel); lot != nullptr) settle(f.state, *lot);
  }
}

void add_stay(Parcel& p, Instant at, const std::string& place) {
  // Nothing is moved before it is here.
  const Parcel::Stay stay{std::max(at, p.since), place};
  const auto later = std::upper_bound(p.stays.begin(), p.stays.end(), stay.from,
                                      [](Instant t, const Parcel::Stay& s) { return t < s.from; });
  p.stays.insert(later, stay);
  p.place = p.stays.back().place;
}

void add_sight(Parcel& p, Instant at, const std::string& condition) {
  const Parcel::Sight sight{std::max(at, p.since), condition};
  const auto later = std::upper_bound(p.sights.begin(), p.sights.end(), sight.at,
                                      [](Instant t, const Parcel::Sight& s) { return t < s.at; });
  p.sights.insert(later, sight);
  p.condition = p.sights.back().condition;
}

void add_facts(Parcel& p, const std::vector<std::string>& facts) {
  for (const std::string& fact : facts) {
    if (!fact.empty() && std::find(p.facts.begin(), p.facts.end(), fact) == p.facts.end()) p.facts.push_back(fact);
  }
}

Result<void> check_is_food(Folding& f, const Parcel& p) {
  const std::string_view why = barred_as_food(p);
  if (why.empty()) return {};
  const std::string name = f.name_of(p);
  if (why == kProcessAgain)
    return f.broken("do_not_eat", fmt::format("{} still want their whole heat process.", name),
                    {"Process them in full with new lids, and finish that step.", "Or throw them away."}, p.id);
  return f.broken(
      "do_not_eat",
      fmt::format("Do not eat {}: {}.", name,
                  why == kNotKnownProcessed ? "they are not known to be processed" : "something went wrong with them"),
      {"Throw them away, untasted; keep them from animals too.",
       "If what was written down about them is wrong, undo that entry."},
      p.id);
}

Parcel part_of(const Folding& f, const Parcel& from, const Share& share) {
  Parcel p = from;
  p.id = f.entry.id;
  p.mass = p.came = share.mass;
  p.packs = p.packs_made = share.packs;
  p.eaten = p.given = p.thrown = p.fed = p.used = p.split = p.adjusted = Mass{};
  p.lines.clear();
  p.parents = {from.id};
  p.split_from = from.id;
  p.code.clear();
  return p;
}

void move_to_fridge(const Folding& f, Parcel& p) {
  for (const auto& [key, place] : f.state.places) {
    if (place.kind != "fridge") continue;
    add_stay(p, f.at, key);
    break;
  }
}

}  // namespace stillroom::ledger::detail
