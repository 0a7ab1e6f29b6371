#include "service/doing.h"

#include <algorithm>
#include <limits>
#include <nlohmann/json.hpp>
#include <optional>

#include "app/butchering.h"
#include "app/json.h"
#include "service/detail/body.h"

namespace stillroom::service {
namespace {

using nlohmann::json;

using detail::object_in;
using detail::text_in;

void tell(Household& household, Planner& planner, Events& events) {
  const auto sequence = household.with([](app::House& h, measure::Instant) { return h.ledger.state().sequence; });
  planner.wake();
  events.publish("changed", sequence);
}

Reply done(const measure::Result<std::string>& made) {
  return made ? Reply{200, app::done_json(*made)} : refusal(made.error());
}

}  // namespace

Reply ReadLine::operator()(const Request& request) const {
  const auto body = object_in(request.body);
  const auto line = body ? text_in(*body, "line") : std::nullopt;
  if (!line) return refusal(detail::bad_body());
  const auto draft =
      household.with([&](app::House& h, measure::Instant now) { return app::read_bring_in(h, now, *line); });
  return draft ? Reply{200, app::to_json(*draft)} : refusal(draft.error());
}

Reply AnswerStart::operator()(const Request& request) const {
  const auto body = object_in(request.body);
  const auto key = body ? text_in(*body, "key") : std::nullopt;
  const auto answer = body ? text_in(*body, "answer") : std::nullopt;
  if (!key || !answer) return refusal(detail::bad_body());
  const auto made =
      household.with([&](app::House& h, measure::Instant now) { return app::answer_start(h, now, *key, *answer); });
  // Some lines of an answer may have been kept even where others were refused.
  tell(household, planner, events);
  return done(made);
}

namespace {

std::optional<app::ButcheringAsk> butchering_in(const std::string& text) {
  const auto body = object_in(text);
  if (!body) return std::nullopt;
  const auto line = text_in(*body, "line"), killed = text_in(*body, "killed"), place = text_in(*body, "place");
  const json whole = body->value("whole", json(0));
  if (!line || !killed || !place || !whole.is_number_integer()) return std::nullopt;
  const auto most = static_cast<std::int64_t>(std::numeric_limits<int>::max());
  const auto count = std::clamp(whole.get<std::int64_t>(), -most, most);
  const json more = body->value("more", json(false));
  if (!more.is_boolean()) return std::nullopt;
  return app::ButcheringAsk{*line, *killed, *place, static_cast<int>(count), more.get<bool>()};
}

}  // namespace

Reply DraftButchering::operator()(const Request& request) const {
  const auto ask = butchering_in(request.body);
  if (!ask) return refusal(detail::bad_body());
  return household.with([&](app::House& h, measure::Instant now) {
    const auto day = app::butchering_day(h, now, *ask);
    if (!day) return refusal(day.error());
    const auto made = app::butchering_entries(h, now, *ask);
    if (!made) return refusal(made.error());
    json entries = json::array();
    for (const ledger::Entry& entry : *made) {
      const json whole = json::parse(ledger::to_json(entry));
      entries.push_back({{"kind", whole.at("kind")}, {"what", whole.at("what")}, {"happened", whole.at("happened")}});
    }
    return Reply{200, json{{"day", json::parse(app::to_json(*day))}, {"entries", entries}}.dump()};
  });
}

Reply DraftBatch::operator()(const Request& request) const {
  const auto body = object_in(request.body);
  const auto route = body ? text_in(*body, "route") : std::nullopt;
  if (!route || !body->contains("lots") || !body->at("lots").is_array()) return refusal(detail::bad_body());
  std::vector<std::string> lots;
  for (const json& lot : body->at("lots")) {
    if (!lot.is_string()) return refusal(detail::bad_body());
    lots.push_back(lot.get<std::string>());
  }
  const json kg = body->value("kg", json(0.0));
  if (!kg.is_number()) return refusal(detail::bad_body());
  return household.with([&](app::House& h, measure::Instant now) {
    const auto draft = app::draft_batch(h, now, *route, lots, kg.get<double>());
    if (!draft) return refusal(draft.error());
    const auto card = app::draft_view(h, now, *draft);
    if (!card) return refusal(card.error());
    const std::string entry = ledger::to_json(ledger::Entry{{}, now, "", true, *draft});
    const json out = {{"card", json::parse(app::to_json(*card))}, {"entry", json::parse(entry).at("what")}};
    return Reply{200, out.dump()};
  });
}

Reply PostEntries::operator()(const Request& request) const {
  const auto received =
      household.with([&](app::House& h, measure::Instant now) { return app::receive_entries(h, now, request.body); });
  if (!received) return refusal(received.error());
  tell(household, planner, events);
  return {200, app::to_json(*received)};
}

Reply PostUndo::operator()(const Request& request) const {
  const auto body = object_in(request.body);
  const auto entry = body ? text_in(*body, "entry") : std::nullopt;
  if (!entry) return refusal(detail::bad_body());
  const auto made = household.with([&](app::House& h, measure::Instant now) { return app::undo(h, now, *entry); });
  if (made) tell(household, planner, events);
  return done(made);
}

}  // namespace stillroom::service
