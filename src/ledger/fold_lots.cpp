#include <fmt/format.h>

#include <algorithm>

#include "ledger/detail/folding.h"
#include "ledger/detail/milligrams.h"
#include "measure/text.h"

// Lots on their way in and while they wait: brought in, picked, sorted, moved, looked at, weighed.
namespace stillroom::ledger::detail {
namespace {

/// What a new lot is; its place and condition come from the entry.
Parcel new_lot(const Folding& f, const Id& id, const std::string& food, Mass mass, const std::string& condition,
               const std::string& place) {
  Parcel p;
  p.id = id;
  p.food = food;
  p.form = "fresh";
  p.mass = p.came = mass;
  p.since = f.at;
  add_stay(p, f.at, place);
  add_sight(p, f.at, condition);
  return p;
}

void keep(Folding& f, Parcel p) {
  settle(f.state, p);
  f.changes(Table::parcels, p.id);
  const Id id = p.id;
  f.state.parcels.insert_or_assign(id, std::move(p));
}

/// The part of a lot that sorting makes: it keeps the lot's history and gets a look and a place of its own.
Parcel sorted_part(const Folding& f, const Parcel& from, const Sorted::Part& part, Mass mass) {
  Parcel p = from;
  p.id = part.parcel;
  p.mass = p.came = mass;
  p.packs = p.packs_made = 0;
  p.eaten = p.given = p.thrown = p.fed = p.used = p.split = p.adjusted = Mass{};
  p.lines.clear();
  p.as_said.clear();
  p.code.clear();
  p.parents = {from.id};
  p.split_from = from.id;
  p.batch = p.made_by;
  if (!part.place.empty() && part.place != from.place) add_stay(p, f.at, part.place);
  if (!part.condition.empty()) add_sight(p, f.at, part.condition);
  return p;
}

Result<std::vector<Parcel>> sorted_parts(Folding& f, const Parcel& from, const Sorted& p, Mass& left) {
  std::vector<Parcel> made;
  for (const Sorted::Part& part : p.parts) {
    const auto mass = f.mass(part.mass, "A part", true);
    if (!mass) return tl::unexpected(mass.error());
    STILLROOM_TRY(f.check_place(part.place));
    auto fresh = f.fresh_id(part.parcel, Table::parcels);
    if (!fresh) return tl::unexpected(fresh.error());
    const bool twice = std::any_of(made.begin(), made.end(), [&](const Parcel& m) { return m.id == part.parcel; });
    if (twice) {
      STILLROOM_TRY(f.broken("parcel_exists", "Two parts of one sorting have the same id.",
                             {"Give each part an id of its own."}, from.id));
    }
    const Mass kept = std::min(*mass, left);
    if (!*fresh || twice || kept <= Mass{}) continue;
    left = rounded(left - kept);
    made.push_back(sorted_part(f, from, part, kept));
  }
  return made;
}

}  // namespace

Result<void> apply(Folding& f, const BroughtIn& p) {
  const auto fresh = f.fresh_id(p.parcel, Table::parcels);
  if (!fresh) return tl::unexpected(fresh.error());
  STILLROOM_TRY(f.check_key(p.crop, "crop"));
  const auto mass = f.mass(p.mass, "A lot", true);
  if (!mass) return tl::unexpected(mass.error());
  STILLROOM_TRY(f.check_place(p.place));
  if (!*fresh) return {};
  Parcel lot = new_lot(f, p.parcel, p.crop, *mass, p.condition, p.place);
  lot.form = p.form;
  lot.note = p.note;
  lot.as_said = p.as_said;
  add_facts(lot, p.facts);
  keep(f, std::move(lot));
  return {};
}

Result<void> apply(Folding& f, const StandingSet& p) {
  STILLROOM_TRY(f.check_key(p.key, "standing crop"));
  STILLROOM_TRY(f.check_key(p.crop, "crop"));
  const auto expected = f.mass(p.expected, "What is expected", false);
  if (!expected) return tl::unexpected(expected.error());
  const auto pick = f.amount(p.pick_min_per_kg, "The picking time", false);
  if (!pick) return tl::unexpected(pick.error());
  if (p.ready_to < p.ready_from) {
    STILLROOM_TRY(f.broken("bad_value", fmt::format("'{}' would be over before it is ready.", p.key),
                           {"Give the first day before the last."}));
  }
  if (p.key.empty()) return {};
  f.changes(Table::standing, p.key);
  StandingSet set = p;
  set.expected = *expected;
  set.pick_min_per_kg = *pick;
  set.ready_to = std::max(p.ready_from, p.ready_to);
  f.state.standing[p.key] = {std::move(set), false};
  return {};
}

Result<void> apply(Folding& f, const StandingPicked& p) {
  const auto it = f.state.standing.find(p.key);
  if (it == f.state.standing.end()) {
    std::vector<std::string> known, instead;
    for (const auto& [key, row] : f.state.standing) known.push_back(key);
    for (const std::string& key : measure::suggest(p.key, known)) instead.push_back("Did you mean " + key + "?");
    instead.emplace_back("Bring it in as a lot.");
    STILLROOM_TRY(f.broken("unknown_standing", fmt::format("No standing crop is called '{}'.", p.key),
                           std::move(instead), p.parcel));
  } else if (it->second.picked) {
    STILLROOM_TRY(f.broken("already_picked", fmt::format("'{}' has been picked already.", p.key),
                           {"Bring in what is new as a lot of its own.", "Write the standing crop down again."},
                           p.parcel));
  }
  const auto fresh = f.fresh_id(p.parcel, Table::parcels);
  if (!fresh) return tl::unexpected(fresh.error());
  const auto mass = f.mass(p.mass, "What was picked", true);
  if (!mass) return tl::unexpected(mass.error());
  STILLROOM_TRY(f.check_place(p.place));
  if (!*fresh) return {};
  // A fact about a row nobody knows still brought food in: the row's name is the best word for it.
  const std::string food = it == f.state.standing.end() ? p.key : it->second.set.crop;
  Parcel lot = new_lot(f, p.parcel, food, *mass, p.condition, p.place);
  lot.form = p.form;
  lot.note = p.note;
  add_facts(lot, p.facts);
  keep(f, std::move(lot));
  if (it != f.state.standing.end()) {
    f.changes(Table::standing, p.key);
    Mass& expected = it->second.set.expected;
    expected = rounded(std::max(Mass{}, expected - *mass));
    it->second.picked = !p.more_to_come;
  }
  return {};
}

Result<void> apply(Folding& f, const Sorted& p) {
  Parcel* from = f.parcel(p.parcel);
  if (from == nullptr) return f.no_such_parcel(p.parcel);
  if (from->packs > 0)
    return f.broken("not_loose", fmt::format("{} are in packs, and packs are not sorted.", f.name_of(*from)),
                    {"Check seals, throw away or take out what is not sound."}, from->id);
  const auto discarded = f.mass(p.discarded, "What was discarded", false);
  if (!discarded) return tl::unexpected(discarded.error());
  Mass sum = *discarded;
  for (const Sorted::Part& part : p.parts) sum += std::max(part.mass, Mass{});
  if (sum == Mass{}) return f.broken("zero", "A sorting has at least one part.", {"Say what each part weighs."});
  // Whether the parts may weigh this much is the same question as whether this much may be taken.
  const auto whole = share_of(f, *from, sum, 0);
  if (!whole) return tl::unexpected(whole.error());
  Mass left = from->mass;
  auto made = sorted_parts(f, *from, p, left);
  if (!made) return tl::unexpected(made.error());
  const bool all = whole->mass == from->mass;
  const Mass thrown = all && made->empty() ? left : std::min(*discarded, left);
  left = rounded(left - thrown);
  const Mass split = rounded(from->mass - thrown - left);
  if (all && !made->empty()) {
    // The parts are the whole lot: what rounding left over or took away belongs to the last of them.
    Parcel& last = made->back();
    last.mass = last.came = rounded(last.mass + left);
    take_out(f, *from, {rounded(split + left), 0}, "split");
  } else {
    take_out(f, *from, {split, 0}, "split");
  }
  take_out(f, *from, {thrown, 0}, "thrown");
  for (Parcel& part : *made) keep(f, std::move(part));
  return {};
}

Result<void> apply(Folding& f, const Moved& p) {
  Parcel* parcel = f.parcel(p.parcel);
  if (parcel == nullptr) return f.no_such_parcel(p.parcel);
  STILLROOM_TRY(f.check_key(p.place, "place"));
  STILLROOM_TRY(f.check_place(p.place));
  if (!is_here(as_it_was(f, *parcel))) {
    // A fact stands all the same: a count that is heard of later may find some, and it is where it was taken to.
    STILLROOM_TRY(f.broken("nothing_left", fmt::format("Nothing is left of that {} to move.", parcel->food),
                           {"Weigh or count it if there is some after all."}, parcel->id));
  }
  if (!p.place.empty()) add_stay(*parcel, f.at, p.place);
  return {};
}

Result<void> apply(Folding& f, const Observed& p) {
  Parcel* parcel = f.parcel(p.parcel);
  if (parcel == nullptr) return f.no_such_parcel(p.parcel);
  if (p.condition.empty() && p.facts.empty())
    return f.broken("zero", "Nothing was seen.", {"Say its condition, or what happened to it."}, parcel->id);
  if (!p.condition.empty()) add_sight(*parcel, f.at, p.condition);
  add_facts(*parcel, p.facts);
  return {};
}

Result<void> apply(Folding& f, const Weighed& p) {
  Parcel* parcel = f.parcel(p.parcel);
  if (parcel == nullptr) return f.no_such_parcel(p.parcel);
  const auto mass = f.mass(p.mass, "A weight", true);
  if (!mass) return tl::unexpected(mass.error());
  if (!is_here(as_it_was(f, *parcel))) {
    // The scales are right: there is some after all. Worth a second look all the same.
    f.note("count_differs", fmt::format("{} of {} was weighed where the book had none.", f.say(*mass), parcel->food),
           parcel->id);
  }
  enter(f, *parcel, "weighed", *mass, 0);
  return {};
}

}  // namespace stillroom::ledger::detail
