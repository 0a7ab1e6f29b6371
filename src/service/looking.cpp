#include "service/looking.h"

#include <nlohmann/json.hpp>
#include <set>
#include <string>

#include "app/json.h"
#include "process/answer.h"

namespace stillroom::service {
namespace {

constexpr std::size_t kHistoryLines = 200;
/// Schedules for each of the re-plans behind "why": some hundred milliseconds each.
constexpr long kWhySchedules = 500;

template <class View>
Reply reply(const View& view) {
  return {200, app::to_json(view)};
}
template <class View>
Reply reply(const measure::Result<View>& view) {
  return view ? reply(*view) : refusal(view.error());
}

/// Calls `draw(house, now, planned)` with the newest plan there is.
template <class Draw>
Reply drawn(Household& household, Planner& planner, Draw draw) {
  const auto planned = planner.latest();
  if (!planned) return refusal(planned.error());
  return household.with([&](app::House& house, measure::Instant now) { return reply(draw(house, now, **planned)); });
}

app::DayView day_of(app::House& h, measure::Instant now, const Planned& planned) {
  app::DayView view = app::day_view(h, now, planned.snapshot, planned.plan);
  view.plan_stale = planned.sequence != view.household.sequence;
  view.seconds_to_plan = planned.seconds;
  return view;
}

/// Looks as one JSON object, path by path. The texts come from app/json.h as they are: reading them again to write them
/// again would cost more than making them.
class Looks {
 public:
  void add(const std::string& path, const std::string& text) {
    out_ += (out_.empty() ? "" : ",") + nlohmann::json(path).dump() + ":" + text;
  }
  template <class View>
  void add(const std::string& path, const measure::Result<View>& view) {
    if (view) add(path, app::to_json(*view));
  }
  [[nodiscard]] Reply reply() const { return {200, R"({"looks":{)" + out_ + "}}"}; }

 private:
  std::string out_;
};

/// Batches that somebody may want in hand: those underway, and those whose jars have seals to be looked at.
std::set<std::string> batches_in_hand(const app::DayView& day, const app::LarderView& larder) {
  std::set<std::string> ids;
  for (const app::RunningView& one : day.running) ids.insert(one.batch);
  for (const app::LarderShelf& shelf : larder.shelves) {
    for (const app::PackView& pack : shelf.packs) {
      if (pack.seals_unchecked && !pack.batch.empty()) ids.insert(pack.batch);
    }
  }
  return ids;
}

}  // namespace

Reply GetLooks::operator()(const Request& /*request*/) const {
  const auto planned = planner.latest();
  if (!planned) return refusal(planned.error());
  const std::string settings = GetSettings{household}({}).body;
  return household.with([&](app::House& h, measure::Instant now) {
    const planning::Household& snapshot = (*planned)->snapshot;
    const planning::Plan& plan = (*planned)->plan;
    const app::DayView day = day_of(h, now, **planned);
    const app::LarderView larder = app::larder_view(h, now);
    Looks looks;
    looks.add("/day", app::to_json(day));
    looks.add("/ahead", app::to_json(app::ahead_view(h, now, snapshot, plan)));
    looks.add("/larder", app::to_json(larder));
    looks.add("/snapshot", app::to_json(app::client_snapshot(h, now)));
    looks.add("/settings", settings);
    looks.add("/history", app::to_json(app::history(h, kHistoryLines)));
    for (const app::StripView& strip : day.strips)
      looks.add("/lots/" + strip.lot, app::lot_view(h, now, strip.lot, snapshot, plan));
    for (const std::string& id : batches_in_hand(day, larder)) looks.add("/batches/" + id, app::batch_view(h, now, id));
    return looks.reply();
  });
}

Reply GetHousehold::operator()(const Request& /*request*/) const {
  return household.with([](app::House& h, measure::Instant now) { return reply(app::household_view(h, now)); });
}

Reply GetDay::operator()(const Request& /*request*/) const { return drawn(household, planner, day_of); }

Reply GetAhead::operator()(const Request& /*request*/) const {
  return drawn(household, planner, [](app::House& h, measure::Instant now, const Planned& planned) {
    return app::ahead_view(h, now, planned.snapshot, planned.plan);
  });
}

Reply GetLot::operator()(const Request& request) const {
  return drawn(household, planner, [&](app::House& h, measure::Instant now, const Planned& planned) {
    return app::lot_view(h, now, request.id, planned.snapshot, planned.plan);
  });
}

Reply GetWhy::operator()(const Request& request) const {
  const auto planned = planner.latest();
  if (!planned) return refusal(planned.error());
  const auto lot = household.with([&](app::House& h, measure::Instant) -> measure::Result<std::string> {
    if (h.ledger.state().standing.contains(request.id)) return request.id;
    const auto id = app::resolve(h, request.id);
    if (!id) return tl::unexpected(id.error());
    return id->hex();
  });
  if (!lot) return refusal(lot.error());
  planning::PlanOptions options;
  options.max_schedules = kWhySchedules;
  return reply(planning::why((*planned)->snapshot, (*planned)->plan, *lot, options));
}

Reply GetBatch::operator()(const Request& request) const {
  return household.with(
      [&](app::House& h, measure::Instant now) { return reply(app::batch_view(h, now, request.id)); });
}

Reply GetHelp::operator()(const Request& request) const {
  return drawn(household, planner, [&](app::House& h, measure::Instant now, const Planned& planned) {
    return app::help_view(h, now, request.id, planned.snapshot, planned.plan);
  });
}

Reply GetLarder::operator()(const Request& /*request*/) const {
  return household.with([](app::House& h, measure::Instant now) { return reply(app::larder_view(h, now)); });
}

Reply GetSnapshot::operator()(const Request& /*request*/) const {
  return household.with([](app::House& h, measure::Instant now) { return reply(app::client_snapshot(h, now)); });
}

Reply GetCrops::operator()(const Request& /*request*/) const {
  const Reply snapshot = GetSnapshot{household}({});
  return {200, nlohmann::json::parse(snapshot.body).at("crops").dump()};
}

Reply GetStart::operator()(const Request& /*request*/) const {
  return household.with([](app::House& h, measure::Instant) { return reply(app::start_questions(h)); });
}

Reply GetHistory::operator()(const Request& /*request*/) const {
  return household.with([](app::House& h, measure::Instant) { return reply(app::history(h, kHistoryLines)); });
}

Reply GetLearned::operator()(const Request& request) const {
  return household.with([&](app::House& h, measure::Instant now) {
    std::string key = request.asked("crop");
    if (!key.empty()) {
      const auto named = h.almanac.crops.named(key);
      if (!named) return refusal(named.error());
      key = (*named)->key;
    }
    return reply(app::learned_view(h, now, key));
  });
}

Reply GetProcess::operator()(const Request& request) const {
  auto question = process::question_from_words({.food = request.asked("food"),
                                                .form = request.asked("form"),
                                                .pack = request.asked("pack"),
                                                .jar = request.asked("jar"),
                                                .canner = request.asked("canner"),
                                                .altitude = request.asked("altitude"),
                                                .id = request.asked("id")});
  if (!question) return refusal(question.error());
  if (!question->altitude) {
    const auto feet =
        household.with([](app::House& h, measure::Instant now) { return app::household_view(h, now).altitude_ft; });
    if (feet) question->altitude = measure::Altitude::feet(*feet);
  }
  const auto choices = process::choose(household.almanac(), *question);
  return {choices ? 200 : status_of(choices.error().code), process::to_json(household.almanac().processes, choices)};
}

}  // namespace stillroom::service
