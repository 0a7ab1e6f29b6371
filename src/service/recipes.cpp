#include <charconv>

#include "app/json.h"
#include "kitchen/recipe_sheet.h"
#include "process/answer.h"
#include "service/looking.h"

namespace stillroom::service {
namespace {

kitchen::RecipePlace recipe_place(Household& household) {
  return household.with([](app::House& h, measure::Instant now) {
    const auto view = app::household_view(h, now);
    kitchen::RecipePlace place;
    if (view.altitude_ft) place.altitude = measure::Altitude::feet(*view.altitude_ft);
    if (view.units == "metric") place.units = measure::Units::metric;
    return place;
  });
}

Reply recipe_reply(const measure::Result<kitchen::RecipeAnswer>& answer) {
  return answer ? Reply{200, answer->json} : refusal(answer.error());
}

}  // namespace

Reply GetRecipes::operator()(const Request& request) const {
  const auto place = recipe_place(household);
  if (const auto brine = request.asked("brine"); !brine.empty()) {
    double percent = 0;
    const char* end = brine.data() + brine.size();
    if (const auto read = std::from_chars(brine.data(), end, percent); read.ec != std::errc{} || read.ptr != end)
      return refusal({"bad_strength", "\"" + brine + "\" is no strength of a brine.", {"Say it in percent: 5"}});
    const auto water = request.asked("amount");
    return recipe_reply(
        kitchen::brine_answer(household.almanac(), water.empty() ? "1 qt" : water, percent, place.units));
  }
  return recipe_reply(kitchen::recipe_list(household.almanac(), place.units));
}

Reply GetRecipe::operator()(const Request& request) const {
  return recipe_reply(kitchen::recipe_answer(household.almanac(),
                                             {.name = request.id,
                                              .amount = request.asked("amount"),
                                              .change = request.asked("change"),
                                              .one_pot = request.asked("one_pot") == "yes"},
                                             recipe_place(household)));
}

}  // namespace stillroom::service
