#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "app/app.h"
#include "app/detail/batch_words.h"
#include "app/detail/names.h"
#include "app/detail/need.h"
#include "app/detail/settings.h"
#include "app/detail/waiting.h"

// All that is put by, where it lies, and what to eat first.
namespace stillroom::app {
namespace {

constexpr std::size_t kEatFirst = 8;

std::string lots_of(const House& h, const ledger::Parcel& p) {
  std::vector<std::string> names;
  for (const ledger::Id& parent : p.parents) {
    const auto it = h.ledger.state().parcels.find(parent);
    if (it == h.ledger.state().parcels.end()) continue;
    std::string name = detail::crop_plural(h.almanac, it->second.food);
    if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(std::move(name));
  }
  return measure::say_list(names);
}

PackView pack_view(const House& h, const detail::Settings& settings, const ledger::Parcel& p, Instant now) {
  PackView v{
      .parcel = p.id.hex(), .code = p.code, .name = detail::parcel_name(h.almanac, p), .food = p.food, .form = p.form};
  v.pack = p.pack;
  v.place = detail::place_name(h.ledger.state(), p.place);
  v.place_key = p.place;
  v.put_by = measure::to_iso(settings.zone.date_of(p.since));
  v.eat_by = p.eat_by ? measure::to_iso(*p.eat_by) : "";
  v.batch = p.made_by.is_nil() ? "" : p.made_by.hex();
  v.lots = lots_of(h, p);
  v.packs = p.packs;
  v.mass_kg = measure::in_kilograms(p.mass);
  v.seals_unchecked = p.seals_unchecked;
  v.note = p.note;
  v.process_line = detail::process_record(h.almanac, p);
  v.do_not_eat = detail::not_food_words(p);
  if (const auto doubt = detail::doubt_of(h, p); v.do_not_eat.empty() && doubt) v.do_not_eat = *doubt;
  if (const auto by = detail::thawed_by(h.almanac, h.ledger.state(), p, now)) {
    const measure::Date day = settings.zone.date_of(*by);
    if (!p.eat_by || day < *p.eat_by) v.eat_by = measure::to_iso(day);
    if (*by < now && v.do_not_eat.empty()) {
      v.do_not_eat = detail::ran_out_words(h, p, *by);
    } else {
      v.note = fmt::format("Out of the freezer: cook or eat it by {}.{}{}", detail::local_text(settings, *by),
                           v.note.empty() ? "" : " ", v.note);
    }
  }
  return v;
}

/// What can befall the place itself, and all that lies there when it does.
void add_troubles(const House& h, LarderShelf& shelf) {
  auto can_be = troubles_of(h, shelf.place_key);
  if (!can_be) return;
  shelf.troubles = std::move(*can_be);
  for (const auto& [id, parcel] : h.ledger.state().parcels) {
    if (parcel.place == shelf.place_key && ledger::is_here(parcel)) shelf.holds.push_back(id.hex());
  }
}

bool in_larder(const ledger::Parcel& p) { return ledger::is_here(p) && p.packs > 0; }

}  // namespace

LarderView larder_view(const House& h, Instant now) {
  const ledger::State& state = h.ledger.state();
  const detail::Settings settings = detail::settings_of(state);
  LarderView view;
  view.household = household_view(h, now);
  std::map<std::string, LarderShelf> shelves;
  struct Total {
    double packs = 0, kg = 0;
    std::string pack;
  };
  std::map<std::pair<std::string, std::string>, Total> totals;
  for (const auto& [id, parcel] : state.parcels) {
    if (!in_larder(parcel)) continue;
    PackView pack = pack_view(h, settings, parcel, now);
    LarderShelf& shelf = shelves[parcel.place];
    shelf.place = pack.place;
    shelf.place_key = parcel.place;
    if (pack.do_not_eat.empty()) {
      Total& total = totals[{parcel.food, parcel.form}];
      total.packs += parcel.packs;
      total.kg += measure::in_kilograms(parcel.mass);
      total.pack = parcel.pack;
    }
    if (pack.do_not_eat.empty()) view.eat_first.push_back(pack);
    shelf.packs.push_back(std::move(pack));
  }
  const auto sooner = [](const PackView& a, const PackView& b) {
    return std::tie(a.eat_by, a.put_by, a.parcel) < std::tie(b.eat_by, b.put_by, b.parcel);
  };
  for (auto& [key, shelf] : shelves) {
    std::sort(shelf.packs.begin(), shelf.packs.end(), sooner);
    add_troubles(h, shelf);
    view.shelves.push_back(std::move(shelf));
  }
  std::sort(view.eat_first.begin(), view.eat_first.end(), sooner);
  if (view.eat_first.size() > kEatFirst) view.eat_first.resize(kEatFirst);
  for (PackView& pack : view.eat_first) pack.eat_first = true;
  const double eaters = detail::eaters_of(state, settings);
  for (const auto& [product, total] : totals) {
    const detail::Need need = detail::need_of(h.almanac, state, eaters, product.first, product.second);
    std::string form = product.second;
    std::replace(form.begin(), form.end(), '_', ' ');
    std::string line = detail::crop_name(h.almanac, product.first) + ", " + form + ": " +
                       measure::say_count(total.packs, total.pack.empty() ? "pack" : total.pack);
    if (need.kg_per_year > 0) {
      const double months = total.kg / need.kg_per_year * 12.0;
      line +=
          fmt::format("; covers about {} month{} ({})", measure::say_number(std::max(0.5, std::round(months * 2) / 2)),
                      months > 0.75 && months < 1.25 ? "" : "s", need.how_found);
    }
    view.totals.push_back(std::move(line));
  }
  return view;
}

}  // namespace stillroom::app
