#include "app/detail/names.h"
#include "measure/text.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace stillroom::app::detail {
namespace {

std::string with_spaces(std::string_view key) {
  std::string out(key);
  std::replace(out.begin(), out.end(), '_', ' ');
  return out;
}

}  // namespace

measure::Units units_of(const Settings& s) { return s.metric ? measure::Units::metric : measure::Units::us; }

std::string usual_form(const almanac::Almanac& almanac, std::string_view crop) {
  for (const almanac::Route* route : almanac.routes.for_crop(almanac.crops, crop)) {
    const bool whole = route->accepts_form == "carcass";
    if (!route->is_hold && (whole || route->accepts_form == "fresh")) return whole ? "carcass" : "fresh";
  }
  return "fresh";
}

std::string place_name(const ledger::State& state, std::string_view key) {
  const auto it = state.places.find(std::string(key));
  return it == state.places.end() ? with_spaces(key) : it->second.name;
}

Result<std::string> place_key(const ledger::State& state, std::string_view typed) {
  const std::string wanted = measure::lowered(typed);
  std::vector<std::string> names;
  for (const auto& [key, place] : state.places) {
    if (wanted == measure::lowered(key) || wanted == measure::lowered(place.name) || wanted == with_spaces(key))
      return key;
    names.push_back(place.name);
  }
  // "fridge" is meant even when it is called "kitchen fridge", as long as only one place could be.
  std::string only;
  int found = 0;
  for (const auto& [key, place] : state.places) {
    if (measure::lowered(place.name).find(wanted) != std::string::npos || with_spaces(place.kind) == wanted) {
      only = key;
      ++found;
    }
  }
  if (found == 1) return only;
  std::vector<std::string> instead = measure::suggest(typed, names);
  if (instead.empty()) instead = names;
  return measure::refuse("unknown_place", fmt::format("There is no place called \"{}\" in this household.", typed),
                         std::move(instead));
}

std::string crop_plural(const almanac::Almanac& almanac, std::string_view key) {
  const almanac::Crop* crop = almanac.crops.find(key);
  return crop == nullptr ? with_spaces(key) : crop->plural;
}

bool is_animal(const almanac::Almanac& almanac, std::string_view crop) {
  const almanac::Crop* found = almanac.crops.find(crop);
  return found != nullptr && found->animal;
}

bool is_butchered(const almanac::Almanac& almanac, std::string_view crop) {
  return usual_form(almanac, crop) == "carcass";
}

std::string standing_words(const almanac::Almanac& almanac, std::string_view crop) {
  return is_animal(almanac, crop) ? "still alive" : "not picked yet";
}

std::string crop_name(const almanac::Almanac& almanac, std::string_view key) {
  const almanac::Crop* crop = almanac.crops.find(key);
  return crop == nullptr ? with_spaces(key) : crop->name;
}

std::string with_crop_names(const almanac::Almanac& almanac, std::string_view message) {
  const auto of_key = [](char c) { return c == '_' || c == '/' || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'); };
  std::string out;
  for (auto at = message.begin(); at != message.end();) {
    const auto end = std::find_if_not(at, message.end(), of_key);
    const std::string_view word(at, end);
    const bool key = word.find_first_of("_/") != std::string_view::npos && almanac.crops.find(word) != nullptr;
    out += key ? crop_name(almanac, word) : std::string(word);
    at = std::find_if(end, message.end(), of_key);
    out.append(end, at);
  }
  return out;
}

std::string parcel_name(const almanac::Almanac& almanac, const ledger::Parcel& p) {
  if (p.packs > 0) return crop_name(almanac, p.food) + ", " + with_spaces(p.form);
  std::string name = crop_plural(almanac, p.food);
  if (p.form != "fresh" && !p.form.empty()) name += ", " + with_spaces(p.form);
  return p.condition.empty() ? name : name + ", " + with_spaces(p.condition);
}

std::string parcel_amount(const ledger::Parcel& p, measure::Units units) {
  if (p.packs > 0) return measure::say_count(p.packs, p.pack.empty() ? "pack" : p.pack);
  return measure::say(p.mass, units);
}

std::string item_words(std::string_view key) {
  std::string out(key);
  std::string unit;
  for (const char* ending : {"_kg", "_l", "_g"}) {
    if (!out.ends_with(ending)) continue;
    unit = std::string(" (") + (std::string_view(ending) == "_l" ? "L" : ending + 1) + ")";
    out.resize(out.size() - std::string_view(ending).size());
    break;
  }
  for (const char* holder : {"jar_", "freezer_bag_"}) {
    if (!out.starts_with(holder)) continue;
    const std::string_view noun(holder, std::string_view(holder).size() - 1);
    out = out.substr(noun.size() + 1) + "_" + std::string(noun) + "s";  // "quart_jars"
    break;
  }
  return with_spaces(out) + unit;
}

std::string local_text(const Settings& s, Instant t) {
  const measure::LocalTime local = s.zone.to_local(t);
  const auto day = std::chrono::floor<std::chrono::days>(local);
  const auto minute = std::chrono::duration_cast<std::chrono::minutes>(local - day).count();
  return measure::to_iso(measure::Date{day.time_since_epoch()}) + fmt::format("T{:02}:{:02}", minute / 60, minute % 60);
}

std::string local_text(measure::Date first_day, planning::Minute minute) {
  const int day = minute >= 0 ? minute / 1440 : (minute - 1439) / 1440;
  const int rest = minute - day * 1440;
  return measure::to_iso(first_day + std::chrono::days(day)) + fmt::format("T{:02}:{:02}", rest / 60, rest % 60);
}

std::string span_words(double low, double high, std::string_view unit) {
  const long least = std::lround(low), most = std::lround(high);
  const std::string words = measure::say_count(static_cast<double>(most), unit);
  return least == most ? words : fmt::format("{} to {}", least, words);
}

DaysLeftView days_words(double low, double likely, double high) {
  DaysLeftView v{low, likely, high, ""};
  const bool in_days = likely < 60;
  const double unit_days = in_days ? 1 : 30.44;
  const auto units = [&](double from, double to) {
    return span_words(from / unit_days, to / unit_days, in_days ? "day" : "month");
  };
  if (high < 1) {
    v.words = "less than a day left";
  } else if (std::lround(low / unit_days) == std::lround(high / unit_days)) {
    v.words = "about " + units(likely, likely) + " left";
  } else {
    const bool any_moment = std::lround(low / unit_days) == 0;
    v.words = (any_moment ? "at most " + units(high, high) : units(low, high)) + " left";
  }
  return v;
}

Result<Part> part_of(const House& h, const ledger::Parcel& parcel, std::string_view amount) {
  const Settings settings = settings_of(h.ledger.state());
  const std::string said = measure::lowered(amount);
  if (said.empty() || said == "all") return Part{parcel.mass, parcel.packs};
  if (said == "half") return Part{parcel.mass * 0.5, std::floor(parcel.packs / 2)};
  const auto read = parcel.packs > 0 ? measure::parse_amount_as(amount, measure::AmountKind::count, units_of(settings))
                                     : measure::parse_amount_as(amount, measure::AmountKind::mass, units_of(settings));
  if (!read) return tl::unexpected(read.error());
  Part part;
  if (parcel.packs > 0) {
    part.packs = read->value;
    part.mass = parcel.mass * (read->value / parcel.packs);
  } else {
    part.mass = read->mass();
  }
  const bool too_much = parcel.packs > 0 ? part.packs > parcel.packs + 1e-9 : part.mass > parcel.mass * 1.0005;
  if (too_much) {
    return measure::refuse("more_than_there",
                           fmt::format("Only {} of {} is there.", parcel_amount(parcel, units_of(settings)),
                                       parcel_name(h.almanac, parcel)),
                           {"Say \"all\" to take what is there."});
  }
  if (part.mass > parcel.mass) part.mass = parcel.mass;
  return part;
}

}  // namespace stillroom::app::detail
