#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "kitchen/batch.h"

namespace stillroom::kitchen {
namespace {

/// Words with the signs that JSON, labels and people use; always valid UTF-8.
std::string any_text() {
  const auto parts = *rc::gen::container<std::vector<std::string>>(
      rc::gen::element<std::string>("pear", " ", "\"", "\\", "½", "\n", "é", "{kg}", "0", "/", "\t", "漢", "'"));
  std::string out;
  for (const auto& p : parts) out += p;
  return out;
}
std::vector<std::string> any_texts() {
  std::vector<std::string> out(*rc::gen::inRange<std::size_t>(0, 4));
  for (auto& t : out) t = any_text();
  return out;
}
double any_number() {
  return *rc::gen::inRange(-1'000'000, 1'000'000) / static_cast<double>(*rc::gen::inRange(1, 997));
}
std::optional<double> maybe_number() {
  return *rc::gen::arbitrary<bool>() ? std::optional(any_number()) : std::nullopt;
}

Step any_step() {
  Step s{.stage = any_text(), .title = any_text(), .text = any_text(), .caution = any_text()};
  s.expected_min = any_number();
  s.attention = any_text();
  s.can_pause = *rc::gen::arbitrary<bool>();
  s.hold_point = *rc::gen::arbitrary<bool>();
  s.least_age = *rc::gen::inRange(0, 19);
  for (int i = *rc::gen::inRange(0, 3); i > 0; --i) s.timers.push_back({any_text(), any_number()});
  s.gather = any_texts();
  s.shows_process = *rc::gen::arbitrary<bool>();
  s.lag_min_min = maybe_number();
  s.lag_max_min = maybe_number();
  s.hazard = any_text();
  return s;
}

process::Choice any_choice() {
  process::Choice c;
  for (std::string* t : {&c.id, &c.food, &c.form, &c.style_of_pack, &c.jar, &c.method, &c.added_acid, &c.notes,
                         &c.source, &c.source_place, &c.edition_read})
    *t = any_text();
  c.time_min = any_number();
  c.pressure_psi = maybe_number();
  c.headspace_in = any_number();
  c.requirements = any_texts();
  c.altitude_over_ft = any_number();
  c.altitude_to_ft = maybe_number();
  return c;
}

BatchCard any_card() {
  BatchCard c{.route = any_text(), .name = any_text(), .crop = any_text()};
  c.kg_in = any_number();
  for (int i = *rc::gen::inRange(0, 3); i > 0; --i) c.also.push_back({any_text(), any_text(), any_number()});
  c.loads = *rc::gen::inRange(1, 9);
  c.packs = any_number();
  c.pack = any_text();
  for (int i = *rc::gen::inRange(0, 5); i > 0; --i) c.steps.push_back(any_step());
  if (*rc::gen::arbitrary<bool>()) c.process = any_choice();
  c.product_food = any_text();
  c.product_form = any_text();
  c.store_in = any_text();
  c.keeps_months = any_number();
  c.cautions = any_texts();
  c.defer_to = any_text();
  return c;
}

RC_GTEST_PROP(BatchCardJson, ComesBackExactlyAsItWentOut, ()) {
  const BatchCard card = any_card();
  const auto back = card_from_json(to_json(card));
  RC_ASSERT(back.has_value());
  RC_ASSERT(*back == card);
}

RC_GTEST_PROP(BatchCardJson, RefusesAnyTextCutShort, ()) {
  const std::string whole = to_json(any_card());
  const auto length = *rc::gen::inRange<std::size_t>(0, whole.size());
  const auto back = card_from_json(std::string_view(whole).substr(0, length));
  RC_ASSERT(!back.has_value());
  RC_ASSERT(back.error().code == "bad_card");
}

}  // namespace
}  // namespace stillroom::kitchen
