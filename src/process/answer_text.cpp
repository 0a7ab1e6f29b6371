#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <iterator>
#include <utility>

#include "process/answer.h"
#include "process/detail/choice_words.h"
#include "process/detail/refusals.h"

namespace stillroom::process {

namespace {

constexpr std::size_t kCardWidth = 78;

/// Rows of one recipe and pack, which share a card.
struct Card {
  std::string recipe, style;
  std::vector<const Choice*> rows;
};

/// "tomato_juice_hot_opt_low" -> "tomato_juice_hot": equal time and pressure pairs are one recipe.
std::string recipe_of(const std::string& id) { return id.substr(0, id.find("_opt_")); }

std::vector<Card> cards_of(const std::vector<Choice>& choices) {
  std::vector<Card> cards;
  for (const auto& c : choices) {
    auto it = std::ranges::find_if(
        cards, [&](const Card& card) { return card.recipe == recipe_of(c.id) && card.style == c.style_of_pack; });
    if (it == cards.end()) it = cards.insert(cards.end(), Card{recipe_of(c.id), c.style_of_pack, {}});
    it->rows.push_back(&c);
  }
  return cards;
}

std::string process_line(const Choice& c) {
  const auto pressure = c.pressure_psi ? fmt::format(" at {:g} psi", *c.pressure_psi) : std::string();
  return fmt::format("  {:<30} {:<9} {:>3g} minutes{}, headspace {} in ({})\n", canner_words(c),
                     detail::jar_in_words(c.jar), c.time_min, pressure, detail::inches_in_words(c.headspace_in),
                     altitude_band(c));
}

/// Wraps `text` after a label, the following lines indented.
std::string wrapped(std::string_view label, std::string_view text) {
  constexpr std::size_t kDeepest = 10;
  std::string out(label), line(label);
  const std::string indent(std::min(label.size(), kDeepest), ' ');
  std::size_t at = 0;
  while (at < text.size()) {
    const auto end = std::min(text.find(' ', at), text.size());
    const auto word = text.substr(at, end - at);
    if (line.size() + word.size() + 1 > kCardWidth && line != indent) {
      out += "\n" + indent;
      line = indent;
    } else if (!line.empty() && line.back() != ' ') {
      out += ' ';
      line += ' ';
    }
    out += word;
    line += word;
    at = end + 1;
  }
  return out + "\n";
}

/// Each different, non-empty text of the card's rows, in order.
template <class Of>
std::vector<std::string> different(const Card& card, Of of) {
  std::vector<std::string> out;
  for (const auto* c : card.rows) {
    for (auto& text : of(*c)) {
      if (!text.empty() && std::ranges::count(out, text) == 0) out.push_back(std::move(text));
    }
  }
  return out;
}

/// "a; b" -> {"a", "b"}: rows of one recipe share most of their notes.
std::vector<std::string> clauses(const std::string& notes) {
  std::vector<std::string> out;
  for (std::size_t at = 0; at < notes.size();) {
    const auto end = std::min(notes.find("; ", at), notes.size());
    out.push_back(notes.substr(at, end - at));
    at = end + 2;
  }
  return out;
}

std::vector<std::string> one(std::string text) { return {std::move(text)}; }

/// Recipes that would share a title are told apart by their names in the table: "beets no sugar hot".
std::string title_among(const Card& card, const std::vector<Card>& cards) {
  const auto title = detail::title_in_words(*card.rows.front());
  const auto twins =
      std::ranges::count(cards, title, [](const Card& c) { return detail::title_in_words(*c.rows.front()); });
  return twins > 1 ? title + ": " + detail::plain_words(card.recipe) : title;
}

/// The fresh weight printed for the card's food and form. A food listed once, under no form of the process rows, has
/// one weight for all its forms.
const almanac::FreshQuantity* quantity_for(const almanac::ProcessTable& table, const Choice& c) {
  const auto& all = table.fresh_quantities;
  const auto exact = std::ranges::find_if(all, [&](const auto& q) { return q.food == c.food && q.form == c.form; });
  if (exact != all.end()) return &*exact;
  if (std::ranges::count(all, c.food, &almanac::FreshQuantity::food) != 1) return nullptr;
  const auto only = std::ranges::find(all, c.food, &almanac::FreshQuantity::food);
  const bool of_one_form = std::ranges::any_of(
      table.rows, [&](const auto& row) { return row.food == only->food && row.form == only->form; });
  return of_one_form ? nullptr : &*only;
}

/// "17.5 lb fresh for 7 quarts, 11 lb for 9 pints", for the jars on the card.
std::string fresh_weight(const almanac::ProcessTable& table, const Card& card) {
  const auto* q = quantity_for(table, *card.rows.front());
  if (q == nullptr) return {};
  std::vector<std::string> parts;
  const auto add = [&](const char* jar, const std::optional<double>& lb, const char* jars) {
    if (lb && std::ranges::any_of(card.rows, [&](const auto* c) { return c->jar == jar; }))
      parts.push_back(fmt::format("{:g} lb fresh for {}", *lb, jars));
  };
  add("quart", q->lb_per_7qt, "7 quarts");
  add("pint", q->lb_per_9pt, "9 pints");
  return parts.empty() ? "" : fmt::format("{} ({})", fmt::join(parts, ", "), q->source);
}

std::string card_text(const almanac::ProcessTable& table, const Card& card, const std::string& title) {
  std::string out = title + "\n" + std::string(std::min(title.size(), kCardWidth), '-') + "\n";
  for (const auto* c : card.rows) out += process_line(*c);
  if (const auto weight = fresh_weight(table, card); !weight.empty()) out += wrapped("  Takes about: ", weight);
  for (const auto& acid : different(card, [](const auto& c) { return one(c.added_acid); }))
    out += wrapped("  Acid: ", acid);
  for (const auto& word : different(card, [](const auto& c) { return c.requirements; }))
    out += wrapped("  Mind: ", table.sentence_for(word));
  for (const auto& note : different(card, [](const auto& c) { return clauses(c.notes); }))
    out += wrapped("  Note: ", note);
  for (const auto& source : different(card, [](const auto& c) {
         return one(fmt::format("{}, {} (edition read: {})", c.source, c.source_place, c.edition_read));
       }))
    out += wrapped("  Processed as published in ", source + ".");
  return out + "\n";
}

std::string cautions(const std::vector<Choice>& choices) {
  const bool pressure = std::ranges::any_of(choices, [](const auto& c) { return c.pressure_psi.has_value(); });
  std::string out;
  if (pressure)
    out += wrapped("Pressure: ",
                   "vent 10 minutes before closing, never leave the canner, and if the pressure falls below the mark "
                   "bring it back and begin the whole time again. Let it come down by itself.");
  if (std::ranges::any_of(choices, [](const auto& c) { return c.method == "boiling_water"; }))
    out += wrapped("Boiling water: ",
                   "time counts from a full boil with the water over the lids; if the boil stops, begin the whole time "
                   "again.");
  out += wrapped("Always: ",
                 "follow the canner's own manual. Your local extension service knows the current edition and "
                 "answers questions. In doubt, do not taste it; throw it away.");
  return out;
}

}  // namespace

std::string to_text(const almanac::ProcessTable& table, const measure::Result<std::vector<Choice>>& answer) {
  std::string out;
  if (!answer) {
    out = wrapped("", answer.error().message);
    for (const auto& way : answer.error().instead) out += wrapped("  instead: ", way);
    return out;
  }
  const auto cards = cards_of(*answer);
  for (const auto& card : cards) out += card_text(table, card, title_among(card, cards));
  return out + cautions(*answer);
}

}  // namespace stillroom::process
