#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/app.h"
#include "app/detail/batch_words.h"
#include "app/detail/record.h"
#include "app/detail/timers.h"

// Timers: kept in the household's file, so that they outlive the program and every device.
namespace stillroom::app {
namespace {

bool is_meant(const TimerView& timer, std::string_view typed) {
  return (typed.size() >= 4 && timer.id.starts_with(typed)) ||
         detail::lower_first(timer.name) == detail::lower_first(std::string(typed));
}

}  // namespace

namespace detail {

std::vector<TimerView> timers_of(const ledger::State& state, Instant now) {
  std::vector<TimerView> out;
  for (const auto& [id, timer] : state.timers) {
    if (timer.stopped) continue;
    const auto batch = state.batches.find(timer.batch);
    out.push_back({.id = id.hex(),
                   .name = timer.name,
                   .batch = timer.batch.is_nil() ? "" : timer.batch.hex(),
                   .batch_name = batch == state.batches.end() ? "" : batch->second.name,
                   .due = measure::to_iso(timer.due),
                   .seconds_left = static_cast<double>((timer.due - now).count()),
                   .note = timer.note.value_or("")});
  }
  std::ranges::stable_sort(out, {}, &TimerView::due);
  return out;
}

}  // namespace detail

std::vector<TimerView> timers(const House& h, Instant now) { return detail::timers_of(h.ledger.state(), now); }

Result<std::string> set_timer(House& h, Instant now, std::string_view batch, std::string_view name, double minutes,
                              std::string_view note) {
  const auto id = batch.empty() ? Result<ledger::Id>(ledger::Id{}) : resolve(h, batch);
  if (!id) return tl::unexpected(id.error());
  const ledger::Id timer = h.random.id();
  const Instant due = now + std::chrono::seconds(std::lround(minutes * 60));
  ledger::TimerSet set{timer, *id, std::string(name), due};
  if (!note.empty()) set.note = note;
  return detail::record(h, now, std::move(set), timer.hex());
}

Result<std::string> stop_timer(House& h, Instant now, std::string_view typed) {
  std::vector<TimerView> meant = timers(h, now);
  std::erase_if(meant, [&](const TimerView& timer) { return !is_meant(timer, typed); });
  if (meant.empty())
    return measure::refuse("no_such_timer", fmt::format("No timer called \"{}\" is set.", typed),
                           {"stillroom timers lists those that are."});
  if (meant.size() > 1) {
    std::vector<std::string> choices;
    for (const TimerView& timer : meant)
      choices.push_back(timer.id.substr(0, 8) + "  " + timer.name +
                        (timer.batch_name.empty() ? "" : ", " + timer.batch_name));
    return measure::refuse("not_unique",
                           fmt::format("\"{}\" could be {} timers: say which by its id.", typed, meant.size()),
                           std::move(choices));
  }
  const auto id = ledger::Id::parse(meant.front().id);
  if (!id) return tl::unexpected(id.error());
  return detail::record(h, now, ledger::TimerStopped{*id}, id->hex());
}

}  // namespace stillroom::app
