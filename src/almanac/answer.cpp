#include "almanac/answer.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace stillroom::almanac {

namespace {

struct SurenessWord {
  Sureness sureness;
  std::string_view code, phrase;
};
constexpr std::array<SurenessWord, 6> kSureness{
    {{Sureness::read, "yes", "read in the source"},
     {Sureness::partial, "partial", "partly read, partly from memory"},
     {Sureness::derived, "derived", "worked out from figures read"},
     {Sureness::derived_from_memory, "derived_memory", "worked out from figures from memory"},
     {Sureness::from_memory, "memory", "from memory, not re-read"},
     {Sureness::common_practice, "common", "common practice"}}};

std::string kin_name(const Crops& crops, std::string_view key) {
  const Crop* c = crops.find(key);
  return c ? c->name : std::string(key);
}

/// Adds `key` and what stands in for it, unless it is there already. `kin` is what this branch is to the crop asked
/// for.
void add_kin(const Crops& crops, std::string_view key, Kin kin, std::vector<KinKey>& out) {
  const Crop* c = crops.find(key);
  if (c == nullptr || std::ranges::count(out, key, &KinKey::key) > 0) return;
  out.push_back({std::string(key), kin});
  for (const auto& child : crops.all()) {
    if (child.parent == key && child.stands_for_parent)
      add_kin(crops, child.key, kin == Kin::own ? Kin::stands_for : kin, out);
  }
  if (!c->borrow_from.empty()) add_kin(crops, c->borrow_from, kin == Kin::parent ? Kin::parent : Kin::borrowed, out);
  if (!c->parent.empty()) add_kin(crops, c->parent, kin == Kin::borrowed ? Kin::borrowed : Kin::parent, out);
}

}  // namespace

std::string_view to_phrase(Sureness s) { return kSureness[static_cast<std::size_t>(s)].phrase; }
std::string_view to_code(Sureness s) { return kSureness[static_cast<std::size_t>(s)].code; }

std::optional<Sureness> sureness_from_code(std::string_view code) {
  for (const auto& w : kSureness) {
    if (w.code == code) return w.sureness;
  }
  return std::nullopt;
}

Sureness weaker(Sureness a, Sureness b) { return std::max(a, b); }

double Span::middle() const { return low > 0 ? std::sqrt(low * high) : (low + high) / 2; }

std::vector<KinKey> kin_of(const Crops& crops, std::string_view key) {
  std::vector<KinKey> out;
  add_kin(crops, key, Kin::own, out);
  return out;
}

std::string from_words(const Crops& crops, std::string_view asked, const KinKey& found) {
  const auto name = kin_name(crops, found.key);
  switch (found.kin) {
    case Kin::own:
      return fmt::format("for {}", name);
    case Kin::stands_for:
      return fmt::format("for {}, taken for {} in general", name, kin_name(crops, asked));
    case Kin::borrowed:
      return fmt::format("for {}, borrowed for {}", name, kin_name(crops, asked));
    case Kin::parent:
      return fmt::format("for {}; no row for {} itself", name, kin_name(crops, asked));
  }
  return name;
}

measure::Refusal no_published_value(const Crops& crops, std::string_view key, std::string_view what) {
  return {"no_published_value", fmt::format("There is no published {} for {}.", what, kin_name(crops, key)), {}};
}

bool speaks_of(const std::vector<std::string>& cell, std::string_view key) { return std::ranges::count(cell, key) > 0; }

}  // namespace stillroom::almanac
