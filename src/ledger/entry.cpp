#include "ledger/entry.h"

#include <algorithm>
#include <utility>

#include "ledger/detail/entry_fields.h"
#include "ledger/detail/json_io.h"

namespace stillroom::ledger {
namespace {

constexpr int kEntryVersion = 1;
/// A whole season's accepted plan is well under a megabyte.
constexpr std::size_t kLongestEntry = 8'000'000;

using ReadPayload = std::string (*)(const detail::Json&, Payload&);

template <std::size_t I>
std::string read_payload(const detail::Json& json, Payload& into) {
  std::variant_alternative_t<I, Payload> value;
  std::string fault = detail::read_into(json, value, "what");
  into = std::move(value);
  return fault;
}
template <std::size_t... I>
constexpr std::array<ReadPayload, sizeof...(I)> payload_readers(std::index_sequence<I...>) {
  return {read_payload<I>...};
}
constexpr auto kReaders = payload_readers(std::make_index_sequence<std::variant_size_v<Payload>>{});

struct Envelope {
  Id id;
  Instant happened;
  std::string who;
  bool live = true;
};

tl::unexpected<measure::Refusal> bad(std::string what) {
  return measure::refuse("bad_entry", "The entry cannot be read: " + std::move(what) + ".",
                         {"docs/ledger.md lists the fields of every kind."});
}

tl::unexpected<measure::Refusal> newer(const std::string& what) {
  return measure::refuse("newer_entry", "The entry was made by a newer Stillroom: " + what + ".",
                         {"Update Stillroom on this computer, then try again."});
}

/// The envelope is read by hand, not through `fields`, because kind and version decide how the rest is read.
std::string read_envelope(const detail::Json& json, Envelope& e) {
  for (const auto& [key, value] : json.items()) {
    static constexpr std::array<std::string_view, 7> kKnown = {"v", "kind", "id", "happened", "who", "live", "what"};
    if (std::find(kKnown.begin(), kKnown.end(), key) == kKnown.end()) return key + " is not a field of an entry";
  }
  const auto text = [&](const char* name) -> const std::string* {
    const auto it = json.find(name);
    return it != json.end() && it->is_string() ? &it->get_ref<const std::string&>() : nullptr;
  };
  const std::string* id = text("id");
  const auto parsed_id = id != nullptr ? Id::parse(*id) : measure::Result<Id>(measure::refuse("bad_id", ""));
  if (!parsed_id || parsed_id->is_nil()) return "id must be 32 hex digits, not all of them 0";
  e.id = *parsed_id;
  const std::string* happened = text("happened");
  const auto at = measure::parse_instant(happened != nullptr ? *happened : "");
  if (!at) return "happened must be a moment such as 2026-09-14T06:30:00Z";
  e.happened = *at;
  if (const auto it = json.find("who"); it != json.end()) {
    if (!it->is_string()) return "who must be text";
    e.who = it->get<std::string>();
  }
  if (const auto it = json.find("live"); it != json.end()) {
    if (!it->is_boolean()) return "live must be true or false";
    e.live = it->get<bool>();
  }
  return json.contains("what") ? std::string() : "what is missing";
}

}  // namespace

std::string kind_of(const Payload& p) { return std::string(kKindNames.at(p.index())); }

std::string to_json(const Entry& e) {
  detail::Json json = {{"v", kEntryVersion}, {"kind", kKindNames.at(e.what.index())},
                       {"id", e.id.hex()},   {"happened", measure::to_iso(e.happened)},
                       {"who", e.who},       {"live", e.live}};
  json["what"] = std::visit([](const auto& p) { return detail::json_from(p); }, e.what);
  return detail::text_of(json);
}

measure::Result<Entry> entry_from_json(std::string_view text) {
  if (text.size() > kLongestEntry) return bad("it is longer than 8 MB");
  const detail::Json json = detail::Json::parse(text, nullptr, false);
  if (json.is_discarded() || !json.is_object()) return bad("it is not a JSON object");
  const auto version = json.find("v");
  if (version == json.end() || !version->is_number_integer()) return bad("v must be a whole number");
  if (*version > kEntryVersion) return newer("it has version " + version->dump());
  if (*version != kEntryVersion) return bad("v must be " + std::to_string(kEntryVersion));
  const auto kind = json.find("kind");
  if (kind == json.end() || !kind->is_string()) return bad("kind must be text");
  const auto known = std::find(kKindNames.begin(), kKindNames.end(), kind->get_ref<const std::string&>());
  if (known == kKindNames.end()) return newer("its kind is '" + kind->get<std::string>().substr(0, 60) + "'");

  Envelope envelope;
  if (std::string fault = read_envelope(json, envelope); !fault.empty()) return bad(std::move(fault));
  Entry e{envelope.id, envelope.happened, std::move(envelope.who), envelope.live, {}};
  const auto read = kReaders.at(static_cast<std::size_t>(known - kKindNames.begin()));
  if (std::string fault = read(json.at("what"), e.what); !fault.empty()) return bad(std::move(fault));
  return e;
}

}  // namespace stillroom::ledger
