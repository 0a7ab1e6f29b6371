#include "app/detail/need.h"

#include "measure/quantity.h"

namespace stillroom::app::detail {
namespace {

constexpr double kUsualKgPerEater = 5;   // common practice: a modest yearly share where nothing is published
constexpr double kShareOfOneForm = 0.4;  // where nobody said which forms are eaten

const ledger::NeedSet* own_need(const ledger::State& state, std::string_view food, std::string_view form) {
  const ledger::NeedSet* found = nullptr;
  for (const ledger::NeedSet& need : state.needs) {
    if (need.food == food && need.form == form) found = &need;
  }
  return found;
}

}  // namespace

Need need_of(const almanac::Almanac& almanac, const ledger::State& state, double eaters, std::string_view food,
             std::string_view form) {
  if (const ledger::NeedSet* exact = own_need(state, food, form))
    return {exact->per_year_kg, exact->weight, "your own figure"};
  // A figure for the food, or for the crop it is a variety of, covers all its forms together.
  for (std::string_view key = food; !key.empty();
       key = key.substr(0, key.rfind('/') == std::string_view::npos ? 0 : key.rfind('/'))) {
    if (const ledger::NeedSet* all = own_need(state, key, "")) {
      return {all->per_year_kg * kShareOfOneForm, all->weight, "your own figure for the food in any form"};
    }
  }
  const auto published = almanac.tables.need(almanac.crops, food);
  if (published) {
    for (const almanac::Need* row : published->rows) {
      if (row->measure != "lb_to_put_up_per_person_year") continue;
      const double kg = measure::in_kilograms(measure::pounds((row->amount.low + row->amount.high) / 2)) * eaters;
      return {kg * kShareOfOneForm, 1, "published amount to put up per person: " + row->from.source};
    }
    for (const almanac::Need* row : published->rows) {
      if (row->measure != "lb_per_person_year") continue;
      const double kg = measure::in_kilograms(measure::pounds((row->amount.low + row->amount.high) / 2)) * eaters;
      return {kg * kShareOfOneForm, 1, "what people eat in a year: " + row->from.source};
    }
  }
  return {kUsualKgPerEater * eaters, 1, "a usual share for the table, common practice"};
}

double put_by_kg(const almanac::Almanac& almanac, const ledger::State& state, std::string_view food,
                 std::string_view form) {
  double kg = 0;
  for (const auto& [id, parcel] : state.parcels) {
    if (!ledger::is_here(parcel) || parcel.packs <= 0 || parcel.form != form) continue;
    if (!ledger::barred_as_food(parcel).empty()) continue;
    if (almanac.crops.is_a(parcel.food, food)) kg += measure::in_kilograms(parcel.mass);
  }
  return kg;
}

}  // namespace stillroom::app::detail
