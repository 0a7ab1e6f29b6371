#include "ledger/detail/rows.h"

#include <algorithm>

#include "ledger/detail/json_io.h"
#include "ledger/detail/state_fields.h"

namespace stillroom::ledger::detail {
namespace {

constexpr std::array<const char*, 6> kSections = {"arriving", "forecast", "head", "money", "needs", "plan"};

struct Head {
  std::uint64_t sequence = 0;
  Id last_entry;
};
template <class IO>
void fields(IO& io, Head& v) {
  io.must("sequence", v.sequence);
  io.must("last_entry", v.last_entry);
}
struct Money {
  std::optional<double> weekly_limit;
};
template <class IO>
void fields(IO& io, Money& v) {
  io("weekly_limit", v.weekly_limit);
}
struct Plan {
  std::string plan_json;
  Id last_entry;
};
template <class IO>
void fields(IO& io, Plan& v) {
  io.must("plan_json", v.plan_json);
  io.must("last_entry", v.last_entry);
}
/// A row whose body is one text, number or list.
template <class T>
struct One {
  T value{};
};
template <class IO, class T>
void fields(IO& io, One<T>& v) {
  io.must("value", v.value);
}

template <class T>
std::string text_from(const T& value) {
  return text_of(json_from(value));
}
template <class T>
std::string text_from_one(const T& value) {
  return text_from(One<T>{value});
}

template <class Map, class Key>
std::optional<std::string> found(const Map& map, const Key& key) {
  const auto it = map.find(key);
  if (it == map.end()) return std::nullopt;
  return text_from(it->second);
}
template <class T>
std::optional<std::string> found_one(const std::map<std::string, T>& map, const std::string& key) {
  const auto it = map.find(key);
  if (it == map.end()) return std::nullopt;
  return text_from_one(it->second);
}
template <class T>
std::optional<std::string> found_by_id(const std::map<Id, T>& map, const std::string& key) {
  const auto id = Id::parse(key);
  return id ? found(map, *id) : std::nullopt;
}

std::optional<std::string> reading_text(const State& s, const std::string& key) {
  const auto hash = key.rfind('#');
  if (hash == std::string::npos) return std::nullopt;
  const auto place = s.readings.find(key.substr(0, hash));
  if (place == s.readings.end()) return std::nullopt;
  const auto at = measure::parse_instant(std::string_view(key).substr(hash + 1));
  if (!at) return std::nullopt;
  const auto point = std::lower_bound(place->second.begin(), place->second.end(), *at,
                                      [](const TemperaturePoint& p, Instant t) { return p.at < t; });
  if (point == place->second.end() || point->at != *at) return std::nullopt;
  return text_from(*point);
}

std::optional<std::string> discrepancy_text(const State& s, const std::string& key) {
  std::size_t index = 0;
  const auto [end, error] = std::from_chars(key.data(), key.data() + key.size(), index);
  if (error != std::errc{} || index >= s.discrepancies.size()) return std::nullopt;
  return text_from(s.discrepancies[index]);
}

std::optional<std::string> section_text(const State& s, const std::string& key) {
  if (key == "arriving") return text_from_one(s.arriving);
  if (key == "forecast") return text_from_one(s.forecast);
  if (key == "head") return text_from(Head{s.sequence, s.last_entry});
  if (key == "money") return text_from(Money{s.weekly_money});
  if (key == "needs") return text_from_one(s.needs);
  if (key == "plan") return text_from(Plan{s.plan_json, s.plan_last_entry});
  return std::nullopt;
}

template <class Map>
void add_keys(RowKeys& keys, Table table, const Map& map) {
  for (const auto& [key, value] : map) {
    if constexpr (std::is_same_v<std::decay_t<decltype(key)>, Id>) {
      keys.insert({table, key.hex()});
    } else {
      keys.insert({table, key});
    }
  }
}

template <class Map>
void add_differing(RowKeys& keys, Table table, const Map& a, const Map& b) {
  Map changed;
  const auto look = [&](const Map& here, const Map& there) {
    for (const auto& [key, value] : here) {
      const auto other = there.find(key);
      if (other == there.end() || !(other->second == value)) changed.emplace(key, value);
    }
  };
  look(a, b);
  look(b, a);
  add_keys(keys, table, changed);
}

RowKeys row_keys(const State& s) {
  RowKeys keys;
  add_keys(keys, Table::settings, s.settings);
  add_keys(keys, Table::people, s.people);
  add_keys(keys, Table::places, s.places);
  add_keys(keys, Table::equipment, s.equipment);
  add_keys(keys, Table::stock, s.stock);
  add_keys(keys, Table::parcels, s.parcels);
  add_keys(keys, Table::batches, s.batches);
  add_keys(keys, Table::timers, s.timers);
  add_keys(keys, Table::standing, s.standing);
  add_keys(keys, Table::other_work, s.other_work);
  for (const auto& [place, points] : s.readings) {
    for (const TemperaturePoint& p : points) keys.insert({Table::readings, reading_key(place, p.at)});
  }
  for (std::size_t i = 0; i < s.discrepancies.size(); ++i) keys.insert({Table::discrepancies, discrepancy_key(i)});
  for (const char* section : kSections) keys.insert({Table::sections, section});
  return keys;
}

std::string set_section(State& s, const std::string& key, const Json& json) {
  std::string fault;
  const auto list = [&](auto& into) {
    One<std::decay_t<decltype(into)>> one;
    fault = read_into(json, one, key);
    into = std::move(one.value);
  };
  if (key == "arriving") {
    list(s.arriving);
  } else if (key == "forecast") {
    list(s.forecast);
  } else if (key == "needs") {
    list(s.needs);
  } else if (key == "head") {
    Head head;
    fault = read_into(json, head, key);
    s.sequence = head.sequence;
    s.last_entry = head.last_entry;
  } else if (key == "money") {
    Money money;
    fault = read_into(json, money, key);
    s.weekly_money = money.weekly_limit;
  } else if (key == "plan") {
    Plan plan;
    fault = read_into(json, plan, key);
    s.plan_json = std::move(plan.plan_json);
    s.plan_last_entry = plan.last_entry;
  } else {
    fault = key + " is not a section";
  }
  return fault;
}

std::string set_row_json(State& s, const RowKey& row, const Json& json) {
  const std::string& key = row.key;
  const auto one = [&](auto& map) {
    One<std::decay_t<decltype(map[key])>> value;
    std::string fault = read_into(json, value, key);
    map[key] = std::move(value.value);
    return fault;
  };
  const auto by_id = [&](auto& map) {
    const auto id = Id::parse(key);
    return id ? read_into(json, map[*id], key) : key + " is not an id";
  };
  switch (row.table) {
    case Table::settings:
      return one(s.settings);
    case Table::people:
      return read_into(json, s.people[key], key);
    case Table::places:
      return read_into(json, s.places[key], key);
    case Table::readings:
      return read_into(json, s.readings[key.substr(0, key.rfind('#'))].emplace_back(), key);
    case Table::equipment:
      return one(s.equipment);
    case Table::stock:
      return one(s.stock);
    case Table::parcels:
      return by_id(s.parcels);
    case Table::batches:
      return by_id(s.batches);
    case Table::timers:
      return by_id(s.timers);
    case Table::standing:
      return read_into(json, s.standing[key], key);
    case Table::other_work:
      return read_into(json, s.other_work[key], key);
    case Table::discrepancies:
      return read_into(json, s.discrepancies.emplace_back(), key);
    case Table::sections:
      return set_section(s, key, json);
  }
  return "no such table";
}

}  // namespace

std::string reading_key(const std::string& place, Instant at) { return place + "#" + measure::to_iso(at); }

std::string discrepancy_key(std::size_t index) {
  const std::string digits = std::to_string(index);
  return std::string(digits.size() < 8 ? 8 - digits.size() : 0, '0') + digits;
}

std::optional<std::string> row_text(const State& s, const RowKey& row) {
  switch (row.table) {
    case Table::settings:
      return found_one(s.settings, row.key);
    case Table::people:
      return found(s.people, row.key);
    case Table::places:
      return found(s.places, row.key);
    case Table::readings:
      return reading_text(s, row.key);
    case Table::equipment:
      return found_one(s.equipment, row.key);
    case Table::stock:
      return found_one(s.stock, row.key);
    case Table::parcels:
      return found_by_id(s.parcels, row.key);
    case Table::batches:
      return found_by_id(s.batches, row.key);
    case Table::timers:
      return found_by_id(s.timers, row.key);
    case Table::standing:
      return found(s.standing, row.key);
    case Table::other_work:
      return found(s.other_work, row.key);
    case Table::discrepancies:
      return discrepancy_text(s, row.key);
    case Table::sections:
      return section_text(s, row.key);
  }
  return std::nullopt;
}

Rows all_rows(const State& s) {
  Rows rows;
  for (const RowKey& key : row_keys(s)) rows.emplace(key, row_text(s, key).value_or("null"));
  return rows;
}

RowKeys differing_rows(const State& a, const State& b) {
  RowKeys keys;
  add_differing(keys, Table::settings, a.settings, b.settings);
  add_differing(keys, Table::people, a.people, b.people);
  add_differing(keys, Table::places, a.places, b.places);
  add_differing(keys, Table::equipment, a.equipment, b.equipment);
  add_differing(keys, Table::stock, a.stock, b.stock);
  add_differing(keys, Table::parcels, a.parcels, b.parcels);
  add_differing(keys, Table::batches, a.batches, b.batches);
  add_differing(keys, Table::timers, a.timers, b.timers);
  add_differing(keys, Table::standing, a.standing, b.standing);
  add_differing(keys, Table::other_work, a.other_work, b.other_work);
  if (a.readings != b.readings) {
    for (const State* s : {&a, &b}) {
      for (const auto& [place, points] : s->readings) {
        for (const TemperaturePoint& p : points) keys.insert({Table::readings, reading_key(place, p.at)});
      }
    }
  }
  const std::size_t most = std::max(a.discrepancies.size(), b.discrepancies.size());
  for (std::size_t i = 0; i < most; ++i) {
    if (i >= a.discrepancies.size() || i >= b.discrepancies.size() || a.discrepancies[i] != b.discrepancies[i])
      keys.insert({Table::discrepancies, discrepancy_key(i)});
  }
  for (const char* section : kSections) keys.insert({Table::sections, section});
  return keys;
}

std::string set_row(State& s, const RowKey& row, std::string_view body) {
  const Json json = Json::parse(body, nullptr, false);
  if (json.is_discarded()) return row.key + " is not JSON";
  return set_row_json(s, row, json);
}

std::string difference_of(const std::string& found, const std::string& right) {
  const Json a = Json::parse(found, nullptr, false), b = Json::parse(right, nullptr, false);
  if (!a.is_object() || !b.is_object()) return found.substr(0, 80) + " is " + right.substr(0, 80);
  Json all = a;
  all.update(b);
  std::string words;
  for (const auto& [key, value] : all.items()) {
    const std::string was = a.contains(key) ? text_of(a[key]) : "missing";
    const std::string is = b.contains(key) ? text_of(b[key]) : "too much";
    if (was != is) words += (words.empty() ? "" : "; ") + key + " " + was.substr(0, 80) + " is " + is.substr(0, 80);
  }
  return words.empty() ? "written otherwise" : words;
}

std::string ids_text(const std::vector<Id>& ids) {
  Json out = Json::array();
  for (const Id& id : ids) out.push_back(id.hex());
  return text_of(out);
}

std::optional<std::vector<Id>> ids_from_text(std::string_view text) {
  const Json json = Json::parse(text, nullptr, false);
  if (!json.is_array()) return std::nullopt;
  std::vector<Id> ids;
  for (const Json& one : json) {
    const auto id = one.is_string() ? Id::parse(one.get_ref<const std::string&>()) : measure::refuse("bad_id", "");
    if (!id) return std::nullopt;
    ids.push_back(*id);
  }
  return ids;
}

}  // namespace stillroom::ledger::detail
