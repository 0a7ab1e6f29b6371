#include <fmt/format.h>

#include <algorithm>

#include "ledger/detail/card.h"
#include "ledger/detail/clock.h"
#include "ledger/detail/folding.h"
#include "ledger/detail/milligrams.h"
#include "measure/text.h"

// Packs: out of a batch, onto the shelf, and every way food leaves the household.
namespace stillroom::ledger::detail {
namespace {

/// A lid found unsealed within a day: chill, and use within days. Later: growth may already have started, so in doubt.
/// Source: USDA AIB-539 Guide 1 (reprocess or refrigerate within 24 hours).
constexpr std::chrono::hours kSealWindow{24};

/// Bounds on what a batch can have made: far enough off never to argue with a real kitchen, near enough for a slip of
/// the thumb (70 jars for 7).
constexpr double kMostPacksShare = 1.5, kMostPacksExtra = 2;
constexpr double kMostMassShare = 4;  // broth and brined packs hold up to about three times their solids
constexpr Mass kMostMassExtra = measure::kilograms(1);
constexpr double kMostPacksAtOnce = 1e6;

const Parcel* bearer_of(const State& state, const std::string& code) {
  for (const auto& [id, p] : state.parcels) {
    if (p.code == code && is_here(p)) return &p;
  }
  return nullptr;
}

/// The code that packs bear: as said, unless others that are here bear it already. Two phones without a signal can come
/// to the same code; what is on the label stays the beginning of the code, so that either label leads to both.
Result<std::string> code_for(Folding& f, const std::string& said) {
  const Parcel* first = said.empty() ? nullptr : bearer_of(f.state, said);
  if (first == nullptr) return said;
  int n = 2;
  while (bearer_of(f.state, fmt::format("{}/{}", said, n)) != nullptr) ++n;
  std::string own = fmt::format("{}/{}", said, n);
  STILLROOM_TRY(f.broken("code_in_use",
                         fmt::format("The code {} is on {} already. In the book the later ones are {}: write /{} on "
                                     "their labels.",
                                     said, f.name_of(*first), own, n),
                         {"Use the next free code."}, first->id));
  return own;
}

Result<void> check_yield(Folding& f, const BatchState& b, const Packed& p, double packs, Mass mass) {
  const auto card = card_facts(b.steps_json);
  const double packs_made = b.packs_made + packs;
  if (card && card->packs && packs_made > *card->packs * kMostPacksShare + kMostPacksExtra) {
    STILLROOM_TRY(f.broken("more_packs_than_made",
                           fmt::format("{} cannot have made {}: {} were expected.", b.name,
                                       measure::say_count(packs_made, p.pack.empty() ? "pack" : p.pack),
                                       measure::say_number(*card->packs)),
                           {"Count them again."}, b.id));
  }
  if (rounded(b.packed_mass + mass) > b.in * kMostMassShare + kMostMassExtra) {
    STILLROOM_TRY(f.broken("more_than_made",
                           fmt::format("{} took in {} and cannot have made {}.", b.name, f.say(b.in),
                                       f.say(rounded(b.packed_mass + mass))),
                           {"Weigh a pack again."}, b.id));
  }
  return {};
}

/// What a batch's heat process means for packs that come out of it.
enum class Fate {
  processed,  ///< as published; also where no process was asked for
  cold,       ///< a trouble ended the process: food, but only from fridge or freezer
  unknown,    ///< nobody knows that it was processed
};

Result<Fate> fate_of(Folding& f, const BatchState* b, const Packed& p, double packs) {
  if (b == nullptr || packs == 0 || process_loads(*b).empty()) return Fate::processed;
  if (b->abandoned) return Fate::unknown;
  if (!b->not_processed) {
    const auto known = known_processed(f, *b, packs);
    if (!known) return tl::unexpected(known.error());
    return *known ? Fate::processed : Fate::unknown;
  }
  const auto place = f.state.places.find(p.place);
  const bool is_cold =
      place != f.state.places.end() && (place->second.kind == "fridge" || place->second.kind == "freezer");
  if (is_cold) return Fate::cold;
  STILLROOM_TRY(f.broken("needs_cold", fmt::format("{} was not processed: it is no food for the shelf.", b->name),
                         {"Put it into the fridge or the freezer.", "Or throw it away."}, b->id));
  return Fate::unknown;
}

/// Parents, facts and process of what comes out of a batch. Only packs whose load ran its full minutes have a process.
void descend_from(Folding& f, Parcel& p, const BatchState& b, bool processed) {
  p.batch = p.made_by = b.id;
  for (const auto& input : b.inputs) {
    p.parents.push_back(input.parcel);
    if (const Parcel* lot = f.parcel(input.parcel); lot != nullptr) add_facts(p, lot->facts);
  }
  const auto card = card_facts(b.steps_json);
  if (card && p.packs > 0 && processed) p.process_json = card->process_json;
  // Only a lid that went through a heat process has a seal to look at.
  p.seals_unchecked = !p.process_json.empty();
}

/// What was packed first makes up what was thought lost; beyond what went in it is water, syrup or sugar.
void book_into(BatchState& b, Mass mass) {
  const std::int64_t packed = milligrams(b.packed_mass) + milligrams(mass);
  const std::int64_t in = milligrams(b.in);
  b.packed_mass = from_milligrams(packed);
  b.added = from_milligrams(std::max<std::int64_t>(0, packed - in));
  b.lost = from_milligrams(std::max<std::int64_t>(0, in - packed));
}

/// Nothing where what was said is no amount at all.
Mass sane(Mass said) { return said > Mass{} && said <= measure::kilograms(kMostAtOnceKg) ? rounded(said) : Mass{}; }

/// A part or all of a parcel leaves by one of the ways out. What is barred as food leaves only by being thrown away.
Result<void> leave(Folding& f, const Id& id, Mass mass, double packs, std::string_view way) {
  Parcel* p = f.parcel(id);
  if (p == nullptr) return f.no_such_parcel(id);
  if (way != "thrown") STILLROOM_TRY(check_is_food(f, *p));
  const auto share = share_of(f, as_it_was(f, *p), mass, packs);
  if (!share) return tl::unexpected(share.error());
  // As said, not what there was of it: a count that is heard of later may have found more.
  const bool by_packs = p->packs_made > 0 && packs > 0;
  enter(f, *p, way, by_packs ? Mass{} : sane(mass), by_packs && packs <= kMostPacksAtOnce ? rounded_packs(packs) : 0);
  return {};
}

/// The jars whose lids failed, as a parcel of their own: to the fridge, to be eaten first.
Parcel unsealed_part(const Folding& f, const Parcel& from, const Share& share, bool late) {
  Parcel p = part_of(f, from, share);
  p.process_json.clear();  // without its seal it is not shelf food, whatever it went through
  p.seals_unchecked = false;
  add_facts(p, {"unsealed"});
  if (late) add_facts(p, {"in_doubt"});
  const measure::Date day = std::chrono::floor<std::chrono::days>(f.at);
  const measure::Date by = late ? day : day + kFridgeDays;
  p.eat_by = p.eat_by ? std::min(*p.eat_by, by) : by;
  move_to_fridge(f, p);
  return p;
}

/// The parcel that `Packed` and `PutByBefore` tell of.
template <class Entry>
Parcel put_by(const Folding& f, const Entry& p, double packs, Mass mass) {
  Parcel made;
  made.id = p.parcel;
  made.food = p.food;
  made.form = p.form;
  made.pack = p.pack;
  made.packs = made.packs_made = rounded_packs(packs);
  made.mass = made.came = mass;
  made.since = f.at;
  if (p.eat_by != measure::Date{}) made.eat_by = p.eat_by;
  add_stay(made, f.at, p.place);
  return made;
}

}  // namespace

Result<void> apply(Folding& f, const Packed& p) {
  BatchState* b = f.batch(p.batch);
  if (b == nullptr) STILLROOM_TRY(f.no_such_batch(p.batch));
  const bool abandoned = b != nullptr && b->abandoned;
  if (abandoned) {
    STILLROOM_TRY(f.broken("batch_over", fmt::format("The batch {} was abandoned.", b->name),
                           {"Undo that first if it was packed after all."}, b->id));
    b = nullptr;  // its account is closed; the packs exist all the same
  }
  const auto fresh = f.fresh_id(p.parcel, Table::parcels);
  if (!fresh) return tl::unexpected(fresh.error());
  STILLROOM_TRY(f.check_key(p.food, "food"));
  STILLROOM_TRY(f.check_place(p.place));
  auto code = code_for(f, p.code);
  if (!code) return tl::unexpected(code.error());
  const auto packs = f.amount(p.packs, "The number of packs", false);
  if (!packs) return tl::unexpected(packs.error());
  auto mass = f.mass(p.mass, "What was packed", false);
  if (!mass) return tl::unexpected(mass.error());
  if (*mass == Mass{} && b != nullptr) mass = b->finished ? b->lost : still_in(*b);
  if (*mass == Mass{} && *packs == 0) {
    STILLROOM_TRY(f.broken("zero", "Nothing was packed.", {"Say how many packs, or how much it weighs."}, p.batch));
  }
  if (b != nullptr) STILLROOM_TRY(check_yield(f, *b, p, *packs, *mass));
  const auto fate = fate_of(f, abandoned ? f.batch(p.batch) : b, p, *packs);
  if (!fate) return tl::unexpected(fate.error());
  if (!*fresh) return {};

  Parcel made = put_by(f, p, *packs, *mass);
  made.code = std::move(*code);
  if (*fate == Fate::unknown) add_facts(made, {std::string(kNotKnownProcessed)});
  if (*fate == Fate::cold) {
    add_facts(made, {std::string(kKeptCold)});
    if (f.state.places.at(p.place).kind == "fridge")
      made.eat_by = std::chrono::floor<std::chrono::days>(f.at) + kFridgeDays;
  }
  if (b != nullptr) {
    descend_from(f, made, *b, *fate == Fate::processed);
    book_into(*b, *mass);
    b->packs_made = rounded_packs(b->packs_made + made.packs);
    b->packed.push_back(made.id);
    b->finished = true;
    for (const auto& input : b->inputs) {
      if (Parcel* lot = f.parcel(input.parcel); lot != nullptr) settle(f.state, *lot);
    }
  }
  settle(f.state, made);
  f.changes(Table::parcels, made.id);
  f.state.parcels[p.parcel] = std::move(made);
  return {};
}

Result<void> apply(Folding& f, const PutByBefore& p) {
  const auto fresh = f.fresh_id(p.parcel, Table::parcels);
  if (!fresh) return tl::unexpected(fresh.error());
  STILLROOM_TRY(f.check_key(p.food, "food"));
  STILLROOM_TRY(f.check_place(p.place));
  auto code = code_for(f, p.code);
  if (!code) return tl::unexpected(code.error());
  const auto packs = f.amount(p.packs, "The number of packs", true);
  if (!packs) return tl::unexpected(packs.error());
  const auto mass = f.mass(p.mass, "What is in them", true);
  if (!mass) return tl::unexpected(mass.error());
  if (!*fresh) return {};
  Parcel made = put_by(f, p, *packs, *mass);
  made.code = std::move(*code);
  made.note = p.note;
  settle(f.state, made);
  f.changes(Table::parcels, made.id);
  f.state.parcels[p.parcel] = std::move(made);
  return {};
}

Result<void> apply(Folding& f, const SealChecked& p) {
  Parcel* parcel = f.parcel(p.parcel);
  if (parcel == nullptr) return f.no_such_parcel(p.parcel);
  const auto sealed = f.amount(p.sealed, "The number of sealed jars", false);
  if (!sealed) return tl::unexpected(sealed.error());
  const auto failed = f.amount(p.failed, "The number of failed lids", false);
  if (!failed) return tl::unexpected(failed.error());
  const bool again = !parcel->seals_unchecked;
  if (again) {
    STILLROOM_TRY(f.broken("nothing_to_check", fmt::format("The seals of {} need no check.", f.name_of(*parcel)),
                           {"If a lid has come loose since, throw that jar away: write it down as thrown away."},
                           parcel->id));
  }
  if (rounded_packs(*sealed + *failed) != parcel->packs) {
    STILLROOM_TRY(f.broken("seals_do_not_add_up",
                           fmt::format("{} sealed and {} failed do not make {}.", measure::say_number(*sealed),
                                       measure::say_number(*failed), f.name_of(*parcel)),
                           {"Look at every jar; count the shelf first if the number is wrong."}, parcel->id));
  }
  const double loose = std::min(rounded_packs(*failed), parcel->packs);
  const auto fresh = loose > 0 ? f.fresh_id(f.entry.id, Table::parcels) : Result<bool>(false);
  if (!fresh) return tl::unexpected(fresh.error());
  parcel->seals_unchecked = false;
  if (!*fresh) return {};
  const auto share = share_of(f, *parcel, {}, loose);
  if (!share) return tl::unexpected(share.error());
  Parcel apart = unsealed_part(f, *parcel, *share, again || f.at > parcel->since + kSealWindow);
  take_out(f, *parcel, *share, "split");
  settle(f.state, apart);
  f.changes(Table::parcels, apart.id);
  f.state.parcels[f.entry.id] = std::move(apart);
  return {};
}

Result<void> apply(Folding& f, const Taken& p) {
  const auto packs = f.amount(p.packs, "The number of packs", true);
  if (!packs) return tl::unexpected(packs.error());
  if (*packs == 0) return {};
  return leave(f, p.parcel, {}, *packs, "eaten");
}

Result<void> apply(Folding& f, const Counted& p) {
  Parcel* parcel = f.parcel(p.parcel);
  if (parcel == nullptr) return f.no_such_parcel(p.parcel);
  const auto said = f.amount(p.packs, "A count", false);
  if (!said) return tl::unexpected(said.error());
  if (parcel->packs_made <= 0)
    return f.broken("not_in_packs", fmt::format("The {} is loose, not in packs.", parcel->food),
                    {"Weigh it and write the weight down."}, parcel->id);
  const double packs = rounded_packs(*said);
  const Parcel then = as_it_was(f, *parcel);
  const std::string counted = measure::say_count(packs, parcel->pack.empty() ? "pack" : parcel->pack);
  if (mass_of_packs(then, packs) > measure::kilograms(kMostAtOnceKg)) {
    STILLROOM_TRY(f.broken("more_than_made", fmt::format("{} are more than any shelf holds.", counted),
                           {"Count them again."}, parcel->id));
    return {};
  }
  if (packs != then.packs) {
    f.note("count_differs",
           fmt::format("{} of {} were counted where the book had {}.", counted, parcel->food,
                       measure::say_number(then.packs)),
           parcel->id);
  }
  enter(f, *parcel, "counted", Mass{}, packs);
  return {};
}

Result<void> apply(Folding& f, const EatenFresh& p) { return leave(f, p.parcel, p.mass, 0, "eaten"); }

Result<void> apply(Folding& f, const GivenAway& p) { return leave(f, p.parcel, p.mass, p.packs, "given"); }

Result<void> apply(Folding& f, const ThrownAway& p) { return leave(f, p.parcel, p.mass, p.packs, "thrown"); }

Result<void> apply(Folding& f, const FedToStock& p) { return leave(f, p.parcel, p.mass, 0, "fed"); }

}  // namespace stillroom::ledger::detail
