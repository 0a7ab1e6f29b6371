#pragma once

#include <charconv>
#include <limits>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ledger/detail/milligrams.h"
#include "measure/id.h"
#include "measure/time.h"

/// Writer and Reader walk the same `fields(io, value)` list, so a field is named once for both directions.
/// Only for .cpp files: it draws in the whole JSON library.
namespace stillroom::ledger::detail {

using Json = nlohmann::json;
using measure::Date;
using measure::Id;
using measure::Instant;
using measure::Mass;

class Writer;
class Reader;

class Writer {
 public:
  explicit Writer(Json& to) : to_(to) { to_ = Json::object(); }
  template <class T>
  void operator()(const char* name, T& v) {
    to_[name] = json_of(v);
  }
  template <class T>
  void operator()(const char* name, std::optional<T>& v) {
    if (v) to_[name] = json_of(*v);
  }
  template <class T>
  void must(const char* name, T& v) {
    (*this)(name, v);
  }
  /// A field that a kind got later: lines without it are written as they were.
  template <class T>
  void added(const char* name, T& v, const T& usual) {
    if (v != usual) (*this)(name, v);
  }
  /// A day whose epoch means "not said".
  void day_if_said(const char* name, Date& v) {
    if (v != Date{}) to_[name] = json_of(v);
  }

 private:
  static Json json_of(const std::string& v) { return v; }
  static Json json_of(bool v) { return v; }
  static Json json_of(int v) { return v; }
  static Json json_of(std::uint64_t v) { return v; }
  static Json json_of(double v) { return v; }
  static Json json_of(const Id& v) { return v.hex(); }
  static Json json_of(Mass v) {
    if (!std::isfinite(measure::in_kilograms(v))) return nullptr;
    return static_cast<double>(milligrams(v)) / 1000.0;
  }
  static Json json_of(Instant v) { return measure::to_iso(v); }
  static Json json_of(Date v) { return measure::to_iso(v); }
  template <class T>
  static Json json_of(std::vector<T>& v) {
    Json out = Json::array();
    for (T& one : v) out.push_back(json_of(one));
    return out;
  }
  template <class T>
  static Json json_of(std::map<std::string, T>& v) {
    Json out = Json::object();
    for (auto& [key, one] : v) out[key] = json_of(one);
    return out;
  }
  template <class T>
    requires requires(Writer& w, T& v) { fields(w, v); }
  static Json json_of(T& v) {
    Json out;
    Writer inner(out);
    fields(inner, v);
    return out;
  }

  Json& to_;
};

/// Reads into a value; the first fault is kept in `fault` as "where: what".
class Reader {
 public:
  Reader(const Json& from, std::string where, std::string& fault)
      : from_(from), where_(std::move(where)), fault_(fault) {
    if (!from_.is_object()) say("", "must be an object");
  }
  template <class T>
  void operator()(const char* name, T& v) {
    const Json* found = find(name);
    if (found != nullptr) read(*found, v, name);
  }
  template <class T>
  void operator()(const char* name, std::optional<T>& v) {
    const Json* found = find(name);
    if (found != nullptr) read(*found, v.emplace(), name);
  }
  template <class T>
  void must(const char* name, T& v) {
    const Json* found = find(name);
    if (found == nullptr) return say(name, "is missing");
    read(*found, v, name);
  }
  template <class T>
  void added(const char* name, T& v, const T&) {
    (*this)(name, v);
  }
  /// Where a day or an id may be left out, "" leaves it out too.
  void day_if_said(const char* name, Date& v) { read_if_said(name, v); }
  void operator()(const char* name, Id& v) { read_if_said(name, v); }
  /// Call after the last field: a field nobody asked for is a fault, so that a misspelt one is never lost in silence.
  void finish() {
    if (!from_.is_object() || from_.size() == seen_.size()) return;
    for (const auto& [key, value] : from_.items()) {
      if (std::find(seen_.begin(), seen_.end(), key) == seen_.end()) return say(key, "is not a field of this kind");
    }
  }

 private:
  template <class T>
  void read_if_said(const char* name, T& v) {
    const Json* found = find(name);
    if (found != nullptr && !(found->is_string() && found->get_ref<const std::string&>().empty()))
      read(*found, v, name);
  }
  const Json* find(const char* name) {
    if (!from_.is_object()) return nullptr;
    const auto it = from_.find(name);
    if (it == from_.end()) return nullptr;
    seen_.emplace_back(name);
    return &*it;
  }
  void say(std::string_view name, std::string_view what) {
    if (!fault_.empty()) return;
    fault_ = where_;
    if (!name.empty()) fault_.append(where_.empty() ? "" : ".").append(name);
    fault_.append(" ").append(what);
  }
  [[nodiscard]] std::string path(std::string_view name) const {
    return where_.empty() ? std::string(name) : where_ + "." + std::string(name);
  }

  void read(const Json& j, std::string& v, const char* name) {
    if (!j.is_string()) return say(name, "must be text");
    v = j.get_ref<const std::string&>();
  }
  void read(const Json& j, bool& v, const char* name) {
    if (!j.is_boolean()) return say(name, "must be true or false");
    v = j.get<bool>();
  }
  void read(const Json& j, int& v, const char* name) {
    if (!j.is_number_integer()) return say(name, "must be a whole number");
    if (j.is_number_unsigned() ? j.get<std::uint64_t>() > 2'000'000'000
                               : std::abs(j.get<std::int64_t>() / 2) > 1'000'000'000)
      return say(name, "is too large");
    v = j.get<int>();
  }
  void read(const Json& j, std::uint64_t& v, const char* name) {
    if (!j.is_number_unsigned()) return say(name, "must be a whole number");
    v = j.get<std::uint64_t>();
  }
  void read(const Json& j, double& v, const char* name) {
    if (!j.is_number()) return say(name, "must be a number");
    v = j.get<double>();
    if (!std::isfinite(v)) say(name, "must be a number");
  }
  void read(const Json& j, Mass& v, const char* name) {
    double grams = 0;
    read(j, grams, name);
    if (std::abs(grams) > kMostKilograms * 1000) return say(name, "is more than a household can hold");
    v = rounded(measure::grams(grams));
  }
  void read(const Json& j, Id& v, const char* name) {
    const auto id = j.is_string() ? Id::parse(j.get_ref<const std::string&>()) : measure::refuse("bad_id", "");
    if (!id) return say(name, "must be 32 hex digits");
    v = *id;
  }
  void read(const Json& j, Instant& v, const char* name) {
    const auto at = j.is_string() ? measure::parse_instant(j.get_ref<const std::string&>())
                                  : measure::Result<Instant>(measure::refuse("bad_time", ""));
    if (!at) return say(name, "must be a moment such as 2026-09-14T06:30:00Z");
    v = *at;
  }
  void read(const Json& j, Date& v, const char* name) {
    const auto day = j.is_string() ? measure::parse_date(j.get_ref<const std::string&>())
                                   : measure::Result<Date>(measure::refuse("bad_date", ""));
    if (!day) return say(name, "must be a day such as 2026-09-14");
    v = *day;
  }
  template <class T>
  void read(const Json& j, std::vector<T>& v, const char* name) {
    if (!j.is_array()) return say(name, "must be a list");
    v.clear();
    v.reserve(j.size());
    for (const Json& one : j) {
      const std::string at = std::string(name) + "[" + std::to_string(v.size()) + "]";
      read(one, v.emplace_back(), at.c_str());
    }
  }
  template <class T>
  void read(const Json& j, std::map<std::string, T>& v, const char* name) {
    if (!j.is_object()) return say(name, "must be an object");
    v.clear();
    for (const auto& [key, one] : j.items()) read(one, v[key], (std::string(name) + "." + key).c_str());
  }
  template <class T>
    requires requires(Reader& r, T& v) { fields(r, v); }
  void read(const Json& j, T& v, const char* name) {
    Reader inner(j, path(name), fault_);
    fields(inner, v);
    inner.finish();
  }

  const Json& from_;
  std::string where_;
  std::string& fault_;
  std::vector<std::string_view> seen_;
};

/// Text that is not UTF-8 is written with the replacement character instead of failing.
[[nodiscard]] inline std::string text_of(const Json& j) {
  return j.dump(-1, ' ', false, Json::error_handler_t::replace);
}

template <class T>
[[nodiscard]] Json json_from(const T& value) {
  T copy = value;
  Json out;
  Writer writer(out);
  fields(writer, copy);
  return out;
}
/// Reads `value`; returns the fault, empty when all is well.
template <class T>
[[nodiscard]] std::string read_into(const Json& json, T& value, std::string where) {
  std::string fault;
  Reader reader(json, std::move(where), fault);
  fields(reader, value);
  reader.finish();
  return fault;
}

}  // namespace stillroom::ledger::detail
