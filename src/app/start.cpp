#include <fmt/format.h>

#include <algorithm>

#include "app/app.h"
#include "app/detail/names.h"
#include "app/detail/record.h"
#include "app/detail/settings.h"
#include "measure/amount.h"
#include "measure/text.h"

// The six questions of an empty household. Each can be skipped, and each answer is ordinary entries.
namespace stillroom::app {
namespace {

const std::string kSkip = "skip";

std::vector<std::string> split(std::string_view text, char at) {
  std::vector<std::string> parts;
  std::string part;
  const auto finish = [&] {
    const auto first = part.find_first_not_of(" \t\n");
    if (first != std::string::npos) parts.push_back(part.substr(first, part.find_last_not_of(" \t\n") - first + 1));
    part.clear();
  };
  for (const char c : text) {
    if (c == at) {
      finish();
    } else {
      part += c;
    }
  }
  finish();
  return parts;
}

std::string key_from(std::string_view name) {
  std::string key = measure::lowered(name);
  for (char& c : key) c = std::isalnum(static_cast<unsigned char>(c)) != 0 ? c : '_';
  return key;
}

/// A household's usual places, so that the first lot has somewhere to lie. Temperatures: USDA fridge and freezer
/// targets (40 F and 0 F), a cool cellar and a warm kitchen (common practice).
std::vector<ledger::Place> usual_places() {
  return {{"counter", "kitchen counter", "counter", 20, 55, 0},
          {"fridge", "fridge", "fridge", 4, 85, 150},
          {"cellar", "cellar", "cellar", 11, 80, 0},
          {"shelf", "pantry shelf", "shelf", 18, 55, 0}};
}

using Payloads = std::vector<ledger::Payload>;

/// "me 40 pressure, Ada 12, Jon 9": name, age, skills. Free time: weekdays 16:00 to 20:00, weekends 8:00 to 18:00; a
/// first guess to be corrected in the settings.
Result<Payloads> people_from(std::string_view answer) {
  Payloads out;
  for (const std::string& one : split(answer, ',')) {
    const std::vector<std::string> words = split(one, ' ');
    ledger::Person person;
    bool age_said = false;
    for (const std::string& word : words) {
      const auto number = measure::parse_amount(word);
      if (number && number->kind == measure::AmountKind::count &&
          std::isdigit(static_cast<unsigned char>(word.front())) != 0) {
        person.age = static_cast<int>(number->value);
        age_said = true;
      } else if (measure::lowered(word) == "pressure") {
        person.skills.emplace_back("pressure_canning");
      } else {
        person.name += (person.name.empty() ? "" : " ") + word;
      }
    }
    if (person.name.empty() || (age_said && (person.age < 1 || person.age > 110))) {
      return measure::refuse("bad_person", fmt::format("\"{}\" does not say a name and an age.", one),
                             {"For example: Mary 41 pressure, Tom 15, Ann 9",
                              "The word \"pressure\" marks who may run a pressure canner."});
    }
    person.key = key_from(person.name);
    person.needs_minding = person.age < 5;
    if (out.empty()) person.skills.emplace_back("cooks");
    for (int day = 0; day < 7; ++day) {
      person.free.push_back(day < 5 ? ledger::FreeTime{day, std::nullopt, 16 * 60, 20 * 60}
                                    : ledger::FreeTime{day, std::nullopt, 8 * 60, 18 * 60});
    }
    out.emplace_back(ledger::PersonSet{std::move(person)});
  }
  return out;
}

/// "boiling water 1, dial 1, 4 burners": what there is to cook and can with.
Result<Payloads> equipment_from(std::string_view answer) {
  struct Word {
    const char* said;
    const char* key;
  };
  static constexpr Word kWords[] = {{"boiling", "boiling_water_canner"},
                                    {"water bath", "boiling_water_canner"},
                                    {"steam", "steam_canner"},
                                    {"dial", "pressure_canner_dial"},
                                    {"weighted", "pressure_canner_weighted"},
                                    {"burner", "burner"},
                                    {"slow cooker", "slow_cooker"},
                                    {"dryer", "dryer_tray"},
                                    {"dehydrator", "dryer_tray"},
                                    {"pot", "big_pot"},
                                    {"crock", "crock_l"}};
  Payloads out;
  bool burners = false;
  for (const std::string& one : split(measure::lowered(answer), ',')) {
    const auto* const found = std::find_if(std::begin(kWords), std::end(kWords),
                                           [&](const Word& w) { return one.find(w.said) != std::string::npos; });
    if (found == std::end(kWords)) {
      if (one == "none" || one == "no canner") continue;
      const bool vague = one.find("pressure") != std::string::npos;
      return measure::refuse("unknown_equipment",
                             vague ? "Say which kind of pressure canner it is: its process times differ."
                                   : fmt::format("\"{}\" is not a canner or other equipment known here.", one),
                             {"dial (a gauge with a needle) or weighted (a weight that rocks)",
                              "also: boiling water, steam, burners, big pot, slow cooker, dryer trays, crock"});
    }
    double count = 1;
    for (const std::string& word : split(one, ' ')) {
      const auto number = measure::parse_amount(word);
      if (number && number->kind == measure::AmountKind::count && number->value > 0) count = number->value;
    }
    burners = burners || std::string_view(found->key) == "burner";
    out.emplace_back(ledger::EquipmentSet{found->key, count});
  }
  if (!burners) out.emplace_back(ledger::EquipmentSet{"burner", 4});  // a usual stove, corrected in the settings
  out.emplace_back(ledger::EquipmentSet{"big_pot", 2});
  return out;
}

/// "24 quart, 30 pint, 40 lids".
Result<Payloads> jars_from(std::string_view answer) {
  Payloads out;
  double jars = 0;
  bool lids = false;
  for (const std::string& one : split(measure::lowered(answer), ',')) {
    const auto* const half = "half";
    std::string item;
    if (one.find("lid") != std::string::npos) {
      item = "lid";
    } else if (one.find(half) != std::string::npos && one.find("pint") != std::string::npos) {
      item = "jar_half_pint";
    } else if (one.find("pint") != std::string::npos) {
      item = "jar_pint";
    } else if (one.find("quart") != std::string::npos || one.find("qt") != std::string::npos) {
      item = "jar_quart";
    }
    double count = -1;
    for (const std::string& word : split(one, ' ')) {
      if (std::isdigit(static_cast<unsigned char>(word.front())) == 0) continue;
      const auto number = measure::parse_amount(word);
      if (number && number->kind == measure::AmountKind::count) count = number->value;
    }
    if (item.empty() || count < 0) {
      return measure::refuse("bad_jars", fmt::format("\"{}\" is not a number of jars or lids.", one),
                             {"For example: 24 quart, 30 pint, 60 lids"});
    }
    lids = lids || item == "lid";
    jars += item == "lid" ? 0 : count;
    out.emplace_back(ledger::StockSet{item, count});
  }
  if (!lids && jars > 0) out.emplace_back(ledger::StockSet{"lid", jars});
  return out;
}

Result<Payloads> freezer_from(std::string_view answer, measure::Units units) {
  const std::string said = measure::lowered(answer);
  double litres = 0;
  if (said.find("cu") != std::string::npos || said.find("cubic") != std::string::npos) {
    const auto number = measure::parse_amount(said.substr(0, said.find_first_of(" c")));
    if (!number) return tl::unexpected(number.error());
    litres = number->value * 28.3168;  // cubic foot, exact by definition to this precision
  } else if (said == "none" || said == "0") {
    return Payloads{};
  } else {
    const auto volume = measure::parse_amount_as(answer, measure::AmountKind::volume, units);
    if (!volume) return tl::unexpected(volume.error());
    litres = measure::in_litres(volume->volume());
  }
  return Payloads{ledger::PlaceSet{{"freezer", "freezer", "freezer", -18, 50, litres}}};
}

Result<std::string> append_all(House& h, Instant now, Payloads payloads, std::string_view key) {
  // That it was answered comes first: undo, which takes back the last entry, takes back the answer itself.
  std::vector<ledger::Entry> entries{
      detail::entry_now(h, now, ledger::SettingsChanged{{{"answered:" + std::string(key), "yes"}}})};
  for (ledger::Payload& payload : payloads) entries.push_back(detail::entry_now(h, now, std::move(payload)));
  if (h.ledger.state().places.empty()) {
    for (ledger::Place& place : usual_places()) {
      entries.insert(entries.begin(), detail::entry_now(h, now, ledger::PlaceSet{std::move(place)}));
    }
  }
  const auto stored = h.ledger.append_all(entries, now);
  if (!stored) return tl::unexpected(stored.error());
  return std::string(key);
}

}  // namespace

std::vector<StartQuestion> start_questions(const House& h) {
  const ledger::State& state = h.ledger.state();
  const detail::Settings settings = detail::settings_of(state);
  std::vector<StartQuestion> questions = {
      {"altitude", "How high above sea level is your kitchen?",
       "For example 1,250 ft or 380 m. Published heat processes depend on it; until it is known, canning is left out.",
       "", false},
      {"hands", "Who helps, and how old are they?",
       "For example: Mary 41 pressure, Tom 15, Ann 9. \"pressure\" marks who may run a pressure canner.", "", false},
      {"canners", "What is there to can and cook with?",
       "For example: boiling water 1, dial 1, burners 4, slow cooker 1, dryer 6 trays. Say dial or weighted for a "
       "pressure canner.",
       "", false},
      {"jars", "How many empty jars and lids?", "For example: 24 quart, 30 pint, 60 lids.", "", false},
      {"freezer", "How much freezer room is free?", "For example: 5 cu ft, 140 L, or none. A guess will do.", "",
       false},
      {"waiting", "What is waiting now?",
       "One a line, by weight, by basket or by eye: 2 bu pears, firm, in the cellar; half a basket of plums, soft.", "",
       false}};
  const auto answered = [&](const std::string& key) {
    const auto it = state.settings.find("answered:" + key);
    return it == state.settings.end() ? std::string() : it->second;
  };
  for (StartQuestion& q : questions) {
    const std::string how = answered(q.key);
    q.skipped = how == kSkip;
    if (how.empty() || q.skipped) continue;
    if (q.key == "altitude" && settings.altitude)
      q.answer = measure::say(*settings.altitude, detail::units_of(settings));
    if (q.key == "hands") {
      std::vector<std::string> names;
      for (const auto& [key, person] : state.people) names.push_back(person.name);
      q.answer = measure::say_list(names);
    }
    if (q.key == "canners") {
      std::vector<std::string> items;
      for (const auto& [key, count] : state.equipment)
        items.push_back(measure::say_number(count) + " " + detail::item_words(key));
      q.answer = measure::say_list(items);
    }
    if (q.key == "jars") {
      std::vector<std::string> items;
      for (const auto& [item, amount] : state.stock)
        items.push_back(measure::say_number(amount) + " " + detail::item_words(item));
      q.answer = measure::say_list(items);
    }
    if (q.key == "freezer") {
      for (const auto& [key, place] : state.places) {
        if (place.kind == "freezer")
          q.answer = measure::say(measure::litres(place.capacity), detail::units_of(settings));
      }
      if (q.answer.empty()) q.answer = "none";
    }
    if (q.key == "waiting") q.answer = fmt::format("{} lots", state.parcels.size());
  }
  return questions;
}

Result<std::string> answer_start(House& h, Instant now, std::string_view key, std::string_view answer) {
  const detail::Settings settings = detail::settings_of(h.ledger.state());
  if (answer.empty() || answer == kSkip) {
    return detail::record(h, now, ledger::SettingsChanged{{{"answered:" + std::string(key), kSkip}}}, std::string(key));
  }
  Result<Payloads> payloads = Payloads{};
  if (key == "altitude") {
    const auto altitude = measure::parse_amount_as(answer, measure::AmountKind::altitude, detail::units_of(settings));
    if (!altitude) return tl::unexpected(altitude.error());
    payloads =
        Payloads{ledger::SettingsChanged{{{"altitude_ft", fmt::format("{:.1f}", altitude->altitude().in_feet())}}}};
  } else if (key == "hands") {
    payloads = people_from(answer);
  } else if (key == "canners") {
    payloads = equipment_from(answer);
  } else if (key == "jars") {
    payloads = jars_from(answer);
  } else if (key == "freezer") {
    payloads = freezer_from(answer, detail::units_of(settings));
  } else if (key == "waiting") {
    const auto ready = append_all(h, now, {}, key);
    if (!ready) return ready;
    // Every line on its own: a bad one is said, the good ones stay.
    std::string bad;
    std::vector<std::string> instead;
    std::string lines(answer);
    std::replace(lines.begin(), lines.end(), ';', '\n');
    for (const std::string& line : split(lines, '\n')) {
      const auto draft = read_bring_in(h, now, line);
      const auto done = draft ? bring_in(h, now, *draft) : Result<std::string>(tl::unexpected(draft.error()));
      if (done) continue;
      bad += (bad.empty() ? "" : " ") + std::string("\"") + line + "\": " + done.error().message;
      instead.insert(instead.end(), done.error().instead.begin(), done.error().instead.end());
    }
    if (!bad.empty()) return measure::refuse("some_lines", bad, std::move(instead));
    return std::string(key);
  } else {
    return measure::refuse("unknown_question", fmt::format("There is no question called \"{}\".", key),
                           {"altitude, hands, canners, jars, freezer, waiting"});
  }
  if (!payloads) return tl::unexpected(payloads.error());
  return append_all(h, now, std::move(*payloads), key);
}

}  // namespace stillroom::app
