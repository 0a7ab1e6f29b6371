#include "app/demo.h"

#include <fmt/format.h>

#include <toml++/toml.h>
#include <algorithm>

#include "almanac/csv.h"
#include "app/detail/barred.h"
#include "app/detail/record.h"
#include "app/detail/settings.h"
#include "kitchen/batch.h"

namespace stillroom::app {
namespace {

constexpr const char* kFile = "demo/household.toml";
constexpr const char* kWeekdays[] = {"weekdays", "weekdays", "weekdays", "weekdays", "weekdays", "saturday", "sunday"};

tl::unexpected<measure::Refusal> bad(const std::string& what) {
  return measure::refuse("bad_demo", std::string(kFile) + ": " + what, {"Mend the file and build again."});
}

Result<toml::table> read_file() {
  try {
    return toml::parse(almanac::embedded_file(kFile));
  } catch (const toml::parse_error& error) {
    return bad(fmt::format("line {}: {}", error.source().begin.line, error.description()));
  }
}

std::string text_of(const toml::table& t, const char* key) { return t[key].value_or(std::string()); }
double number_of(const toml::table& t, const char* key, double otherwise = 0) { return t[key].value_or(otherwise); }

/// "08:10" -> minutes; -1 when it is no time of day.
int minutes_of(std::string_view text) {
  if (text.size() != 5 || text[2] != ':') return -1;
  return ((text[0] - '0') * 10 + (text[1] - '0')) * 60 + (text[3] - '0') * 10 + (text[4] - '0');
}

std::vector<ledger::FreeTime> free_times(const toml::table& person) {
  std::vector<ledger::FreeTime> out;
  for (int day = 0; day < 7; ++day) {
    const std::string spans = text_of(person, kWeekdays[day]);
    for (std::size_t at = 0; at + 11 <= spans.size(); at = spans.find_first_not_of(", ", at + 11)) {
      out.push_back({day, std::nullopt, minutes_of(spans.substr(at, 5)), minutes_of(spans.substr(at + 6, 5))});
      if (at + 11 == spans.size()) break;
    }
  }
  return out;
}

class Filler {
 public:
  Filler(House& h, const toml::table& file, Instant now) : h_(h), file_(file), now_(now) {}

  Result<void> fill() {
    take_settings();
    take_people_and_things();
    take_standing_and_work();
    if (!failure_.has_value()) take_events();
    if (failure_) return tl::unexpected(*failure_);
    return {};
  }

 private:
  void put(ledger::Payload what, Instant when) {
    if (failure_) return;
    const ledger::Entry entry = detail::entry_now(h_, when, std::move(what));
    failure_ = detail::barred(h_, when, entry);
    if (failure_) return;
    const auto stored = h_.ledger.append(entry, now_);
    if (!stored) failure_ = stored.error();
  }
  void each(const char* name, const auto& take) {
    if (const toml::array* rows = file_[name].as_array()) {
      for (const toml::node& row : *rows) {
        if (const toml::table* table = row.as_table()) take(*table);
      }
    }
  }
  [[nodiscard]] Instant moment(double day, int minute) const {
    const auto midnight = std::chrono::floor<std::chrono::days>(zone_.to_local(now_));
    return zone_.to_instant(midnight + std::chrono::days(static_cast<int>(day)) + std::chrono::minutes(minute));
  }
  [[nodiscard]] measure::Date day_of(double offset) const {
    return zone_.date_of(now_) + std::chrono::days(static_cast<int>(offset));
  }

  void take_settings() {
    ledger::SettingsChanged settings;
    if (const toml::table* table = file_["settings"].as_table()) {
      for (const auto& [key, value] : *table) settings.values[std::string(key.str())] = value.value_or(std::string());
    }
    if (const auto zone = measure::Zone::named(settings.values["zone"])) zone_ = *zone;
    start_ = moment(-14, 8 * 60);
    put(std::move(settings), start_);
  }

  void take_people_and_things() {
    each("place", [&](const toml::table& t) {
      put(ledger::PlaceSet{{text_of(t, "key"), text_of(t, "name"), text_of(t, "kind"), number_of(t, "temp_c", 20),
                            number_of(t, "humidity_pct", 60), number_of(t, "capacity")}},
          start_);
    });
    each("person", [&](const toml::table& t) {
      ledger::Person p{.key = text_of(t, "key"),
                       .name = text_of(t, "name"),
                       .age = static_cast<int>(number_of(t, "age", 30)),
                       .free = free_times(t)};
      if (const toml::array* skills = t["skills"].as_array()) {
        for (const toml::node& skill : *skills) p.skills.push_back(skill.value_or(std::string()));
      }
      p.usable_minutes_per_hour = number_of(t, "usable_minutes_per_hour", 45);
      p.most_minutes_per_day = static_cast<int>(number_of(t, "most_minutes_per_day", 600));
      p.needs_minding = t["needs_minding"].value_or(false);
      put(ledger::PersonSet{std::move(p)}, start_);
    });
    for (const char* table_name : {"equipment", "stock"}) {
      if (const toml::table* table = file_[table_name].as_table()) {
        for (const auto& [key, value] : *table) {
          const double amount = value.value_or(0.0);
          if (std::string_view(table_name) == "stock") {
            put(ledger::StockSet{std::string(key.str()), amount}, start_);
          } else {
            put(ledger::EquipmentSet{std::string(key.str()), amount}, start_);
          }
        }
      }
    }
    each("arriving", [&](const toml::table& t) {
      put(ledger::StockArriving{text_of(t, "item"), number_of(t, "amount"), day_of(number_of(t, "day"))}, start_);
    });
    each("need", [&](const toml::table& t) {
      put(ledger::NeedSet{text_of(t, "food"), text_of(t, "form"), number_of(t, "per_year_kg"),
                          number_of(t, "weight", 1)},
          start_);
    });
    std::uint32_t code = 0;
    each("put_by_before", [&](const toml::table& t) {
      put(ledger::PutByBefore{.parcel = h_.random.id(),
                              .food = text_of(t, "food"),
                              .form = text_of(t, "form"),
                              .pack = text_of(t, "pack"),
                              .packs = number_of(t, "packs"),
                              .mass = measure::kilograms(number_of(t, "kg")),
                              .place = text_of(t, "place"),
                              .code = kitchen::pack_code(code++),
                              .note = "",
                              .eat_by = day_of(number_of(t, "eat_by_days"))},
          start_);
    });
  }

  void take_standing_and_work() {
    each("standing", [&](const toml::table& t) {
      put(ledger::StandingSet{text_of(t, "key"), text_of(t, "crop"), measure::kilograms(number_of(t, "kg")),
                              day_of(number_of(t, "from")), day_of(number_of(t, "to")),
                              number_of(t, "pick_min_per_kg", 2), text_of(t, "note")},
          start_);
    });
    each("other_work", [&](const toml::table& t) {
      ledger::OtherWorkSet work{
          .key = text_of(t, "key"), .name = text_of(t, "name"), .minutes = number_of(t, "minutes", 60)};
      work.hands = static_cast<int>(number_of(t, "hands", 1));
      work.least_age = static_cast<int>(number_of(t, "least_age"));
      work.deadline = day_of(number_of(t, "deadline", 20));
      work.importance = number_of(t, "importance", 1);
      work.can_split = t["can_split"].value_or(true);
      work.dry = t["dry"].value_or(false);
      if (t.contains("min_temp_c")) work.min_temp_c = number_of(t, "min_temp_c");
      if (t.contains("max_wind_kmh")) work.max_wind_kmh = number_of(t, "max_wind_kmh");
      put(std::move(work), start_);
    });
    ledger::ForecastSet forecast;
    const auto series = [&](const char* name, std::size_t i) { return file_["forecast"][name][i].value_or(0.0); };
    const toml::array* lows = file_["forecast"]["low_c"].as_array();
    for (std::size_t i = 0; lows != nullptr && i < lows->size(); ++i) {
      forecast.days.push_back({day_of(static_cast<double>(i)), series("low_c", i), series("high_c", i),
                               series("rain_mm", i), series("wind_kmh", i)});
    }
    put(std::move(forecast), moment(0, 6 * 60));
  }

  void take_events() {
    struct Event {
      Instant at;
      const toml::table* row;
      bool look;
    };
    std::vector<Event> events;
    const auto gather = [&](const char* name, bool look) {
      each(name, [&](const toml::table& t) {
        events.push_back({moment(number_of(t, "day"), minutes_of(text_of(t, "at"))), &t, look});
      });
    };
    gather("happened", false);
    gather("look", true);
    std::stable_sort(events.begin(), events.end(), [](const Event& a, const Event& b) { return a.at < b.at; });
    for (const Event& event : events) {
      if (failure_) return;
      if (event.look) {
        put(ledger::Observed{named_[text_of(*event.row, "lot")], text_of(*event.row, "condition"), {}}, event.at);
      } else {
        bring(*event.row, event.at);
      }
    }
  }

  void bring(const toml::table& row, Instant at) {
    const std::string line = text_of(row, "line");
    // A count of squash has no published weight: the file gives what the scales said.
    const double kg = number_of(row, "kg");
    const auto draft = kg > 0 ? weighed_draft(line, kg, at) : read_bring_in(h_, at, line);
    if (!draft) {
      failure_ = draft.error();
      failure_->message = "\"" + line + "\": " + failure_->message;
      return;
    }
    BringInDraft with_time = *draft;
    with_time.when = measure::to_iso(at);
    const auto done = bring_in(h_, now_, with_time);
    if (!done) {
      failure_ = done.error();
      return;
    }
    if (row.contains("name")) named_[text_of(row, "name")] = *ledger::Id::parse(*done);
  }

  Result<BringInDraft> weighed_draft(const std::string& line, double kg, Instant at) {
    const std::size_t space = line.find(' ');
    auto draft = read_bring_in(h_, at, fmt::format("{} kg{}", kg, line.substr(space)));
    if (draft) draft->amount_said = line.substr(0, line.find(','));
    return draft;
  }

  House& h_;
  const toml::table& file_;
  Instant now_;
  Instant start_{};
  measure::Zone zone_ = measure::Zone::utc();
  std::map<std::string, ledger::Id> named_;
  std::optional<measure::Refusal> failure_;
};

}  // namespace

Result<void> fill_with_demo(House& h, Instant now) {
  if (h.ledger.state().sequence > 0) return measure::refuse("not_empty", "This household already has entries.");
  const auto file = read_file();
  if (!file) return tl::unexpected(file.error());
  return Filler(h, *file, now).fill();
}

Result<Instant> demo_opening(Instant real_now) {
  const auto file = read_file();
  if (!file) return tl::unexpected(file.error());
  const auto zone = measure::Zone::named((*file)["settings"]["zone"].value_or(std::string("UTC")));
  if (!zone) return tl::unexpected(zone.error());
  auto day = std::chrono::floor<std::chrono::days>(zone->to_local(real_now));
  Instant opening = zone->to_instant(day + std::chrono::hours(8) + std::chrono::minutes(5));
  if (opening < real_now)
    opening = zone->to_instant(day + std::chrono::days(1) + std::chrono::hours(8) + std::chrono::minutes(5));
  return opening;
}

}  // namespace stillroom::app
