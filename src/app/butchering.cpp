#include "app/butchering.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/detail/amounts.h"
#include "app/detail/batch_words.h"
#include "app/detail/family_meal.h"
#include "app/detail/learning.h"
#include "app/detail/names.h"
#include "app/detail/record.h"
#include "app/detail/waiting.h"
#include "keeping/keeping.h"
#include "measure/line.h"
#include "measure/text.h"

// From slaughter to the freezer and the broth pot.
namespace stillroom::app {
namespace {

struct Birds {
  const almanac::Crop* crop = nullptr;
  int count = 0, whole = 0;
  double each_kg = 0;  ///< dressed
  std::string dressed_how, dressed_source;
  Instant killed{};
  std::string place;
  const keeping::HazardClock* clock = nullptr;
  const almanac::Route* part_out = nullptr;
  std::string standing;  ///< key of the row they come from; empty = none
  [[nodiscard]] double dressed_kg() const { return each_kg * count; }
  [[nodiscard]] double parted_kg() const { return each_kg * (count - whole); }
};

measure::Refusal bad_birds(const std::string& line) {
  return measure::Refusal{"bad_birds",
                          fmt::format("\"{}\" does not say how many there are and what one weighs.", line),
                          {"For example: 20 ducks, 4 lb 8 oz each", "or: 12 rabbits, 5 lb each, live"}};
}

std::string place_of_kind(const ledger::State& state, std::initializer_list<const char*> kinds) {
  for (const char* kind : kinds) {
    for (const auto& [key, place] : state.places) {
      if (place.kind == kind) return key;
    }
  }
  return "";
}

Result<Instant> killed_at(const measure::Zone& zone, Instant now, const std::string& said) {
  if (said.empty()) return now;
  const auto at = detail::moment_said(zone, now, said);
  if (at && *at > now) return measure::refuse("future", "They cannot have been killed after now.", {"08:30"});
  return at;
}

/// Dressed weight from live weight by the published share of the class nearest in live weight.
Result<void> dress(const almanac::Almanac& almanac, Birds& birds) {
  const auto found = almanac.tables.poultry_yield(almanac.crops, birds.crop->key);
  const almanac::PoultryYield* best = nullptr;
  if (found) {
    for (const almanac::PoultryYield* row : found->rows) {
      if (!row->carcass_fraction) continue;
      const auto off = [&](const almanac::PoultryYield* r) {
        return std::abs(std::log(r->live_kg.value_or(birds.each_kg * 4) / birds.each_kg));
      };
      if (best == nullptr || off(row) < off(best)) best = row;
    }
  }
  if (best == nullptr)
    return measure::refuse("no_published_value",
                           fmt::format("Nothing published says what {} dress out to.", birds.crop->plural),
                           {"Weigh them dressed."});
  birds.each_kg *= *best->carcass_fraction;
  birds.dressed_how = fmt::format("{:.0f} % of live weight ({})", *best->carcass_fraction * 100, best->class_note);
  birds.dressed_source = best->from.source;
  return {};
}

/// The former federal rule: under 4 lb, 4 to 8 lb, and over 8 lb or a turkey. Rabbits stay on the raw clock from the
/// first minute: no published hours are theirs.
const keeping::HazardClock* carcass_clock(const almanac::Almanac& almanac, const Birds& birds) {
  if (birds.crop->kind != almanac::CropKind::poultry)
    return keeping::hazard_clock_for_crop(almanac.crops, birds.crop->key);
  const double pounds = birds.each_kg / measure::kKilogramsPerPound;
  const bool large = pounds > 8 || almanac.crops.is_a(birds.crop->key, "turkey");
  return keeping::hazard_clock(large ? "carcass_large" : pounds < 4 ? "carcass_small" : "carcass_middle");
}

/// The row of such that stand alive, the one that is ready soonest.
std::string standing_row(const ledger::State& state, const std::string& crop) {
  const ledger::StandingSet* best = nullptr;
  for (const auto& [key, row] : state.standing) {
    if (row.picked || row.set.crop != crop) continue;
    if (best == nullptr || row.set.ready_from < best->ready_from) best = &row.set;
  }
  return best == nullptr ? "" : best->key;
}

Result<Birds> read_birds(const House& h, Instant now, const ButcheringAsk& ask) {
  const ledger::State& state = h.ledger.state();
  const detail::Settings settings = detail::settings_of(state);
  const auto parts = measure::parse_line(ask.line);
  if (!parts) return tl::unexpected(parts.error());
  Birds birds;
  if (!parts->amount || parts->amount->kind != measure::AmountKind::count || parts->amount->value < 1)
    return tl::unexpected(bad_birds(ask.line));
  birds.count = static_cast<int>(std::lround(parts->amount->value));
  const auto crop = h.almanac.crops.named(parts->thing);
  if (!crop) return tl::unexpected(crop.error());
  birds.crop = *crop;
  bool live = false;
  for (const measure::Phrase& phrase : parts->phrases) {
    std::string words = measure::lowered(phrase.words);
    for (const std::string_view word : {"live", "dressed", "each", "apiece"}) {
      const auto at = words.find(word);
      if (at == std::string::npos) continue;
      live = live || word == "live";
      words.erase(at, word.size());
    }
    if (words.find_first_not_of(' ') == std::string::npos) continue;
    const auto mass = measure::parse_amount_as(words, measure::AmountKind::mass, detail::units_of(settings));
    if (!mass) return tl::unexpected(mass.error());
    birds.each_kg = measure::in_kilograms(mass->mass());
  }
  if (birds.each_kg <= 0) return tl::unexpected(bad_birds(ask.line));
  for (const almanac::Route* route : h.almanac.routes.for_crop(h.almanac.crops, birds.crop->key)) {
    if (route->accepts_form == "carcass" && detail::meal_kg(*route)) birds.part_out = route;
  }
  if (birds.part_out == nullptr)
    return measure::refuse("bad_birds", fmt::format("No way to part {} is on file.", birds.crop->plural),
                           {"Birds and rabbits are; bring anything else in as a lot."});
  if (live) {
    if (const auto dressed = dress(h.almanac, birds); !dressed) return tl::unexpected(dressed.error());
  }
  if (ask.whole < 0 || ask.whole > birds.count)
    return measure::refuse("too_many_whole",
                           fmt::format("{} cannot stay whole: there are {}.", ask.whole, birds.count));
  birds.whole = ask.whole;
  const auto killed = killed_at(settings.zone, now, ask.killed);
  if (!killed) return tl::unexpected(killed.error());
  birds.killed = *killed;
  birds.place = place_of_kind(state, {"fridge", "cool_room", "cellar", "counter"});
  if (!ask.place.empty()) {
    const auto place = detail::place_key(state, ask.place);
    if (!place) return tl::unexpected(place.error());
    birds.place = *place;
  }
  birds.clock = carcass_clock(h.almanac, birds);
  birds.standing = standing_row(state, birds.crop->key);
  return birds;
}

/// Where they lay from killing until now, and where they go.
std::vector<keeping::Stay> stays_from(const ledger::State& state, const Birds& birds, Instant now) {
  std::vector<keeping::Stay> stays;
  const std::string warm = place_of_kind(state, {"counter", "porch", "cool_room"});
  if (birds.killed < now) stays.push_back({birds.killed, detail::temperature_now(state, warm)});
  stays.push_back({now, detail::temperature_now(state, birds.place)});
  return stays;
}

/// First published row of the crop that says this of it; nullptr when none does.
template <class Figure>
const almanac::PoultryYield* row_with(const almanac::Almanac& almanac, const almanac::Crop& crop, Figure figure) {
  const auto found = almanac.tables.poultry_yield(almanac.crops, crop.key);
  for (std::size_t i = 0; found && i < found->rows.size(); ++i) {
    if (found->rows[i]->*figure) return found->rows[i];
  }
  return nullptr;
}

class ButcheringDay {
 public:
  ButcheringDay(const House& h, Instant now, const Birds& birds)
      : h_(h),
        now_(now),
        birds_(birds),
        settings_(detail::settings_of(h.ledger.state())),
        units_(detail::units_of(settings_)) {}

  [[nodiscard]] ButcheringView view() {
    v_.crop = birds_.crop->key;
    v_.count = birds_.count;
    v_.whole = birds_.whole;
    v_.each_kg = birds_.each_kg;
    v_.dressed_kg = birds_.dressed_kg();
    v_.words = fmt::format("{} {}, {} dressed", birds_.count,
                           birds_.count == 1 ? birds_.crop->name : birds_.crop->plural, mass(v_.dressed_kg));
    v_.killed = detail::local_text(settings_, birds_.killed);
    v_.standing = birds_.standing;
    if (!birds_.dressed_how.empty())
      add("dressed", "Dressed weight", mass(birds_.each_kg) + " each", birds_.dressed_how, birds_.dressed_source);
    clocks();
    parts();
    giblets();
    broth();
    freezing();
    v_.cautions = birds_.part_out->cautions;
    return std::move(v_);
  }

 private:
  [[nodiscard]] std::string mass(double kg) const { return measure::say(measure::kilograms(kg), units_); }
  [[nodiscard]] std::string at(Instant t) const {
    std::string words = detail::local_text(settings_, t);
    std::replace(words.begin(), words.end(), 'T', ' ');
    return words;
  }
  void add(std::string key, std::string what, std::string amount, std::string then, std::string source) {
    v_.lines.push_back({std::move(key), std::move(what), std::move(amount), std::move(then), std::move(source)});
  }

  void clocks() {
    if (birds_.clock == nullptr) return;
    v_.clock = birds_.clock->key;
    const auto warm = std::chrono::seconds(static_cast<long>(birds_.clock->room_hours * 3600));
    add("cold_by", "40 °F inside by", at(birds_.killed + warm),
        fmt::format("Within {} of killing: ice water or the coldest shelf, birds apart.",
                    measure::say(measure::hours(birds_.clock->room_hours))),
        birds_.clock->source);
    const Instant by = keeping::hazard_deadline(*birds_.clock, stays_from(h_.ledger.state(), birds_, now_), now_);
    use_by_ = by;
    v_.use_by = detail::local_text(settings_, by);
    const bool over = by <= now_;
    add("use_by", "Frozen, canned or cooked by", at(by),
        over ? "That has passed: throw them out. Nothing makes them safe again."
             : "Counted from killing, with the time out of the cold. Bones and giblets have no longer.",
        birds_.clock->source);
    add("rest", "Rest in the cold before freezing", "12 to 24 h",
        "So that the meat is not frozen in rigor; inside the time above.",
        "National Center for Home Food Preservation, from memory");
  }

  void parts() {
    if (birds_.whole > 0)
      add("whole", "Whole", fmt::format("{} of about {}", birds_.whole, mass(birds_.each_kg)),
          "One to a bag, wrapped close.", "");
    if (birds_.parted_kg() <= 0) return;
    const almanac::Route here = detail::for_family(*birds_.part_out, detail::meal_share(h_.ledger.state()));
    parts_kg_ = birds_.parted_kg() * here.yield_kg_per_kg;
    add("parts", "Parts", mass(parts_kg_), fmt::format("From {} parted.", birds_.count - birds_.whole), here.source);
    const double packs = std::ceil(birds_.parted_kg() / here.kg_in_per_pack - 0.05);
    add("packs", "Packs", measure::say_count(std::max(1.0, packs), here.pack),
        fmt::format("About {} each: one meal for those who eat here.", mass(*detail::meal_kg(here))), "");
    for (const almanac::ByProduct& by : here.also_yields) {
      if (by.form != "bones") continue;
      bones_kg_ = birds_.parted_kg() * by.kg_per_kg;
      add("bones", "Frames and necks for broth", mass(bones_kg_), "A lot of their own, on the carcasses' clock.", "");
    }
  }

  void giblets() {
    const almanac::PoultryYield* row = row_with(h_.almanac, *birds_.crop, &almanac::PoultryYield::giblets);
    if (row == nullptr) return;
    add("giblets", "Giblets", mass(*row->giblets * birds_.dressed_kg()),
        "Cold within 2 hours of coming out; frozen or cooked within 2 days.", row->from.source);
  }

  void broth() {
    if (bones_kg_ <= 0) return;
    const auto* row = row_with(h_.almanac, *birds_.crop, &almanac::PoultryYield::broth_quarts);
    if (row == nullptr) return;
    const double frames = birds_.count - birds_.whole;
    std::string yours = "Slow cooker on low 12 to 24 h, or a pot while somebody is there; cool, chill, lift the fat.";
    const kitchen::Learned learned = detail::learned_by(h_);
    for (const almanac::Route* route : h_.almanac.routes.for_crop(h_.almanac.crops, birds_.crop->key)) {
      if (route->accepts_form != "bones" || route->method != "simmered to broth") continue;
      const kitchen::Refined r = learned.of(*route, "");
      if (r.weight < kitchen::kEnoughWeight) continue;
      yours += fmt::format(" Your own batches: {:.0f} % of what is published.", r.factor * 100);
      break;
    }
    add("broth", "Broth",
        detail::span_words(row->broth_quarts->low * frames, row->broth_quarts->high * frames, "quart"), yours,
        row->from.source);
  }

  void freezing() {
    v_.freeze_kg = parts_kg_ + birds_.each_kg * birds_.whole;
    const planning::RoomLevel* daily = nullptr;
    const auto snapshot = snapshot_for_planning(h_, now_);
    for (std::size_t i = 0; snapshot && i < snapshot->rooms.size(); ++i) {
      if (snapshot->rooms[i].room == "freezer_kg_per_day") daily = &snapshot->rooms[i];
    }
    if (daily == nullptr || daily->capacity <= 0) {
      add("freezing", "To freeze", mass(v_.freeze_kg),
          "How much your freezer freezes in a day is not known: 2 to 3 lb to "
          "the cubic foot is usual.",
          "common practice");
      return;
    }
    v_.freeze_days = std::max(1.0, std::ceil(v_.freeze_kg / daily->capacity - 1e-9));
    const double left = std::max(0.0, static_cast<double>((use_by_ - now_).count()) / 86400);
    v_.too_much_to_freeze = birds_.clock != nullptr && v_.freeze_days > std::floor(left) + 1e-9 && v_.freeze_days > 1;
    std::string then = fmt::format("Your freezer takes about {} a day: {}.", mass(daily->capacity),
                                   measure::say_count(v_.freeze_days, "day"));
    if (v_.too_much_to_freeze) {
      then += fmt::format(" That is longer than the cold gives: freeze {} and can, cook or give away the rest by then.",
                          mass(daily->capacity * std::max(1.0, std::floor(left))));
    } else if (v_.freeze_days > 1) {
      then += " What waits its turn stays at 40 °F or colder.";
    }
    add("freezing", "To freeze", mass(v_.freeze_kg), then, "");
  }

  const House& h_;
  Instant now_;
  const Birds& birds_;
  detail::Settings settings_;
  measure::Units units_;
  ButcheringView v_;
  Instant use_by_{};
  double parts_kg_ = 0, bones_kg_ = 0;
};

}  // namespace

Result<ButcheringView> butchering_day(const House& h, Instant now, const ButcheringAsk& ask) {
  const auto birds = read_birds(h, now, ask);
  if (!birds) return tl::unexpected(birds.error());
  return ButcheringDay(h, now, *birds).view();
}

Result<std::vector<ledger::Entry>> butchering_entries(House& h, Instant now, const ButcheringAsk& ask) {
  const auto birds = read_birds(h, now, ask);
  if (!birds) return tl::unexpected(birds.error());
  const std::string warm = place_of_kind(h.ledger.state(), {"counter", "porch", "cool_room"});
  const bool lay_warm = birds->killed < now && !warm.empty();
  std::vector<ledger::Entry> entries;
  const std::string first_place = lay_warm ? warm : birds->place;
  const auto bring = [&](ledger::Payload what, const ledger::Id& parcel) {
    entries.push_back(detail::entry_now(h, now, std::move(what)));
    entries.back().happened = birds->killed;
    if (lay_warm) entries.push_back(detail::entry_now(h, now, ledger::Moved{parcel, birds->place}));
  };
  const auto bring_new = [&](const std::string& crop, const std::string& form, double kg, const std::string& note,
                             const std::vector<std::string>& facts) {
    const ledger::Id parcel = h.random.id();
    bring(ledger::BroughtIn{.parcel = parcel,
                            .crop = crop,
                            .mass = measure::kilograms(kg),
                            .condition = "firm",
                            .place = first_place,
                            .form = form,
                            .note = note,
                            .as_said = ask.line,
                            .facts = facts},
          parcel);
  };
  std::vector<std::string> facts;
  if (birds->clock != nullptr && birds->clock->key.starts_with("carcass_")) facts.push_back(birds->clock->key);
  const auto bring_carcasses = [&](double kg, const std::string& note, bool last) {
    if (kg <= 0) return;
    if (birds->standing.empty()) return bring_new(birds->crop->key, "carcass", kg, note, facts);
    const ledger::Id parcel = h.random.id();
    bring(ledger::StandingPicked{.key = birds->standing,
                                 .parcel = parcel,
                                 .mass = measure::kilograms(kg),
                                 .condition = "firm",
                                 .place = first_place,
                                 .more_to_come = ask.more || !last,
                                 .form = "carcass",
                                 .note = note,
                                 .facts = facts},
          parcel);
  };
  bring_carcasses(birds->parted_kg(), "to part", birds->whole == 0);
  bring_carcasses(birds->each_kg * birds->whole, fmt::format("{} to stay whole", birds->whole), true);
  const auto* row = row_with(h.almanac, *birds->crop, &almanac::PoultryYield::giblets);
  const double giblets_kg = row == nullptr ? 0 : *row->giblets * birds->dressed_kg();
  if (giblets_kg > 0) bring_new("giblets", "fresh", giblets_kg, "of the " + birds->crop->plural, {});
  return entries;
}

Result<std::string> bring_in_butchered(House& h, Instant now, const ButcheringAsk& ask) {
  const auto entries = butchering_entries(h, now, ask);
  if (!entries) return tl::unexpected(entries.error());
  const auto stored = h.ledger.append_all(*entries, now);
  if (!stored) return tl::unexpected(stored.error());
  const ledger::Payload& first = entries->front().what;
  const auto* alive = std::get_if<ledger::StandingPicked>(&first);
  return (alive != nullptr ? alive->parcel : std::get<ledger::BroughtIn>(first).parcel).hex();
}

}  // namespace stillroom::app
