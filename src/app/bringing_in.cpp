#include <fmt/format.h>

#include <algorithm>

#include "almanac/csv.h"
#include "app/app.h"
#include "app/detail/amounts.h"
#include "app/detail/names.h"
#include "app/detail/record.h"
#include "measure/line.h"
#include "measure/text.h"

// Bringing in: one typed line, or a CSV file of many.
namespace stillroom::app {
namespace {

/// The moment a word such as "yesterday" or a date means. Nothing when it is not about time.
std::optional<Result<Instant>> moment(std::string_view words, Instant now, const detail::Settings& settings) {
  const std::string said = measure::lowered(words);
  if (said == "now" || said == "today" || said == "just now") return Result<Instant>(now);
  if (said == "this morning") {
    const auto day = std::chrono::floor<std::chrono::days>(settings.zone.to_local(now));
    return Result<Instant>(std::min(now, settings.zone.to_instant(day + std::chrono::hours(8))));
  }
  if (said == "yesterday") return Result<Instant>(now - std::chrono::hours(24));
  if (said.ends_with(" days ago")) {
    const auto days = measure::parse_amount(said.substr(0, said.size() - 4));
    if (!days) return tl::unexpected(days.error());
    if (days->kind != measure::AmountKind::duration) return std::nullopt;
    return Result<Instant>(now - std::chrono::seconds(static_cast<long>(days->value)));
  }
  if (said.size() >= 10 && said[4] == '-') {
    if (said.size() > 10) {
      const auto instant = measure::parse_instant(words);
      if (!instant) return tl::unexpected(instant.error());
      return Result<Instant>(*instant);
    }
    const auto date = measure::parse_date(said);
    if (!date) return tl::unexpected(date.error());
    // Noon of that day, or now when that day is today and noon has not come.
    const Instant noon =
        settings.zone.to_instant(measure::LocalTime{date->time_since_epoch()} + std::chrono::hours(12));
    return Result<Instant>(settings.zone.date_of(now) == *date ? std::min(now, noon) : noon);
  }
  return std::nullopt;
}

std::string default_place(const ledger::State& state) {
  for (const char* kind : {"counter", "cool_room", "porch", "cellar", "fridge"}) {
    for (const auto& [key, place] : state.places) {
      if (place.kind == kind) return key;
    }
  }
  return state.places.empty() ? std::string("kitchen_counter") : state.places.begin()->first;
}

struct CropWords {
  const almanac::Crop* crop;
  std::optional<measure::Phrase> place;
  std::string condition;
};

/// The crop meant by the thing's words; a place said in the same breath and a leading condition ("soft pears") come off
/// it.
Result<CropWords> crop_in(const almanac::Almanac& almanac, const std::string& thing) {
  if (const auto whole = almanac.crops.named(thing)) return CropWords{*whole, std::nullopt, ""};
  std::string rest = thing;
  std::optional<measure::Phrase> place;
  if (const auto cut = measure::cut_at_place(thing)) {
    rest = cut->first;
    place = cut->second;
    if (const auto crop = almanac.crops.named(rest)) return CropWords{*crop, place, ""};
  }
  for (const char* word : {"underripe", "firm", "ripe", "soft", "going over"}) {
    const std::string lead = std::string(word) + " ";
    if (!measure::lowered(rest).starts_with(lead)) continue;
    if (const auto crop = almanac.crops.named(rest.substr(lead.size()))) return CropWords{*crop, place, word};
  }
  return tl::unexpected(almanac.crops.named(rest).error());
}

Result<void> take_phrase(const House& h, Instant now, const detail::Settings& settings, const measure::Phrase& phrase,
                         BringInDraft& draft) {
  if (phrase.lead.empty()) {
    if (const auto condition = almanac::condition_from_word(measure::lowered(phrase.words))) {
      draft.condition = almanac::to_word(*condition);
      return {};
    }
  }
  if (const auto when = moment(phrase.words, now, settings)) {
    if (!*when) return tl::unexpected(when->error());
    draft.when = measure::to_iso(**when);
    return {};
  }
  const std::string words = measure::lowered(phrase.words);
  if (words == "frozen whole") {
    draft.form = "frozen_whole";
    return {};
  }
  const auto place = detail::place_key(h.ledger.state(), phrase.words);
  if (!place) {
    measure::Refusal refusal = place.error();
    if (phrase.lead.empty()) {
      refusal.code = "unknown_words";
      refusal.message = fmt::format("\"{}\" is not a condition, a place here, or a day.", phrase.words);
      refusal.instead.emplace_back("Conditions: underripe, firm, ripe, soft, going over.");
    }
    return tl::unexpected(refusal);
  }
  draft.place = *place;
  return {};
}

}  // namespace

Result<BringInDraft> read_bring_in(const House& h, Instant now, std::string_view line) {
  const ledger::State& state = h.ledger.state();
  const detail::Settings settings = detail::settings_of(state);
  const auto parts = measure::parse_line(line);
  if (!parts) return tl::unexpected(parts.error());
  if (!parts->amount) {
    return measure::refuse("no_amount", "Say how much there is, by weight or by basket.",
                           {"For example: 2 bu pears, firm, in the pantry", "Half a basket is a fine answer."});
  }
  const auto words = crop_in(h.almanac, parts->thing);
  if (!words) return tl::unexpected(words.error());
  BringInDraft draft;
  draft.crop = words->crop->key;
  draft.crop_name = words->crop->plural;
  draft.form = detail::usual_form(h.almanac, words->crop->key);
  draft.condition = words->condition.empty() ? "firm" : words->condition;
  draft.when = measure::to_iso(now);
  std::vector<measure::Phrase> phrases = parts->phrases;
  if (words->place) phrases.insert(phrases.begin(), *words->place);
  for (const measure::Phrase& phrase : phrases) {
    const auto taken = take_phrase(h, now, settings, phrase, draft);
    if (!taken) return tl::unexpected(taken.error());
  }
  if (draft.place.empty()) draft.place = default_place(state);
  draft.place_name = detail::place_name(state, draft.place);
  const auto weighed = detail::mass_of(h.almanac, *parts->amount, *words->crop, detail::units_of(settings));
  if (!weighed) return tl::unexpected(weighed.error());
  draft.amount_said = parts->amount->said;
  draft.mass_kg = measure::in_kilograms(weighed->mass);
  draft.mass_words = measure::say(weighed->mass, detail::units_of(settings));
  draft.how_found = weighed->how_found;
  return draft;
}

Result<std::string> bring_in(House& h, Instant now, const BringInDraft& draft) {
  const auto happened = draft.when.empty() ? Result<Instant>(now) : measure::parse_instant(draft.when);
  if (!happened) return tl::unexpected(happened.error());
  const ledger::Id parcel = h.random.id();
  ledger::BroughtIn brought{.parcel = parcel,
                            .crop = draft.crop,
                            .mass = measure::kilograms(draft.mass_kg),
                            .condition = draft.condition,
                            .place = draft.place,
                            .form = draft.form,
                            .note = "",
                            .as_said = draft.amount_said,
                            .facts = {}};
  ledger::Entry entry = detail::entry_now(h, now, std::move(brought));
  entry.happened = *happened;
  const auto appended = h.ledger.append(entry, now);
  if (!appended) return tl::unexpected(appended.error());
  return parcel.hex();
}

Result<CsvBringIn> bring_in_csv(House& h, Instant now, std::string_view csv) {
  const auto table = almanac::read_csv("the file", csv, {"crop", "amount", "unit", "condition", "place", "when"},
                                       almanac::Ragged::keep);
  if (!table) return tl::unexpected(table.error());
  const auto cell = [&](std::size_t row, const char* column) {
    return table->rows[row][static_cast<std::size_t>(table->column(column))];
  };
  CsvBringIn out;
  for (std::size_t row = 0; row < table->rows.size(); ++row) {
    const int file_line = static_cast<int>(row) + 2;  // the header is line 1
    if (table->rows[row].size() != table->header.size()) {
      out.bad.push_back(
          {file_line,
           {"ragged_row",
            fmt::format("{} cells where the header has {}.", table->rows[row].size(), table->header.size()),
            {"Put quotes round a cell that holds a comma."}}});
      continue;
    }
    std::string line = cell(row, "amount") + " " + cell(row, "unit") + " " + cell(row, "crop");
    for (const char* column : {"condition", "when"}) {
      if (!cell(row, column).empty()) line += ", " + cell(row, column);
    }
    if (!cell(row, "place").empty()) line += ", in " + cell(row, "place");
    const auto draft = read_bring_in(h, now, line);
    const auto done = draft ? bring_in(h, now, *draft) : Result<std::string>(tl::unexpected(draft.error()));
    if (done) {
      ++out.kept;
    } else {
      out.bad.push_back({file_line, done.error()});
    }
  }
  return out;
}

}  // namespace stillroom::app
