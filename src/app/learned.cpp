#include <fmt/format.h>

#include <algorithm>

#include "app/app.h"
#include "app/detail/family_meal.h"
#include "app/detail/learning.h"
#include "app/detail/names.h"
#include "measure/text.h"

// What the kitchen has taught: own figures beside the published ones.
namespace stillroom::app {
namespace {

std::string minutes_words(double minutes, double kg, measure::Units units, bool per_pound) {
  std::string words = measure::say(measure::minutes(minutes)) + " for " + measure::say(measure::kilograms(kg), units);
  if (!per_pound) return words;
  const bool us = units == measure::Units::us;
  const double each = us ? minutes / (kg / measure::kKilogramsPerPound) : minutes / kg;
  return words + fmt::format(" ({:.1f} min {})", each, us ? "a pound" : "a kilogram");
}

std::string packs_words(double packs, const std::string& pack, double kg, measure::Units units) {
  return fmt::format("{} from {}", measure::say_count(std::round(packs * 10) / 10, pack),
                     measure::say(measure::kilograms(kg), units));
}

std::string heard_words(const kitchen::Refined& r) {
  std::string words = measure::say_count(r.batches, "batch");
  if (r.batches == 0) words = "no batch yet";
  if (r.left_out > 0) words += fmt::format("; {} left out (put down, open through a night, or far off)", r.left_out);
  if (r.lent > 0) words += fmt::format("; {} of the same work elsewhere, heard softly", r.lent);
  return words;
}

std::string checked_words(const std::string& checked) {
  if (checked == "yes") return "read in the source";
  if (checked == "common") return "common practice";
  if (checked == "memory") return "from memory";
  return checked == "derived" ? "worked out from the source" : "partly from memory";
}

LearnedLine line_of(const House& h, const kitchen::Figure& f, const almanac::Route& route, measure::Units units) {
  const kitchen::Refined& r = f.refined;
  // Packs are said in the size they are made in here: a meal for this family.
  const double size = detail::for_family(route, detail::meal_share(h.ledger.state())).kg_in_per_pack;
  const double published = f.stage.empty() && size > 0 ? f.published * route.kg_in_per_pack / size : f.published;
  LearnedLine line{.route = f.route, .crop = route.crop, .stage = f.stage};
  line.route_name = detail::crop_plural(h.almanac, route.crop) + ": " + route.name;
  line.kg = f.kg;
  line.published_value = published;
  line.value = published * r.factor;
  line.low = published * r.low;
  line.high = published * r.high;
  line.batches = r.batches;
  line.left_out = r.left_out;
  line.lent = r.lent;
  line.used = r.weight >= kitchen::kEnoughWeight;
  line.source = route.source;
  line.checked = checked_words(route.checked);
  line.from = heard_words(r);
  if (f.stage.empty()) {
    line.what = "what it gives";
    line.published = packs_words(line.published_value, route.pack, f.kg, units);
    line.yours = packs_words(line.value, route.pack, f.kg, units);
    line.sure = fmt::format("8 in 10 between {} and {}", measure::say_number(std::round(line.low * 10) / 10),
                            measure::say_count(std::round(line.high * 10) / 10, route.pack));
  } else {
    const auto stage = std::ranges::find(route.stages, f.stage, &almanac::Stage::key);
    line.what = stage == route.stages.end() ? f.stage : stage->name;
    line.published = minutes_words(line.published_value, f.kg, units, false);
    line.yours = minutes_words(line.value, f.kg, units, true);
    line.sure = "8 in 10 between " + measure::say(measure::minutes(line.low)) + " and " +
                measure::say(measure::minutes(line.high));
  }
  return line;
}

}  // namespace

LearnedView learned_view(const House& h, Instant now, std::string_view crop) {
  LearnedView v;
  v.household = household_view(h, now);
  v.enough = static_cast<int>(kitchen::kEnoughWeight);
  const measure::Units units = detail::units_of(detail::settings_of(h.ledger.state()));
  const kitchen::Learned learned = detail::learned_by(h);
  for (const kitchen::Figure& figure : learned.figures()) {
    const almanac::Route* route = h.almanac.routes.find(figure.route);
    if (route == nullptr) continue;
    const auto& crops = h.almanac.crops;
    if (!crop.empty() && !crops.is_a(crop, route->crop) && !crops.is_a(route->crop, crop)) continue;
    v.lines.push_back(line_of(h, figure, *route, units));
  }
  v.words = fmt::format(
      "From your own finished batches, each figure moves off the published one as batches come in; from {} on the plan "
      "goes by yours. Heat processes are never learned.",
      v.enough);
  return v;
}

}  // namespace stillroom::app
