#pragma once

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <string_view>

#include "ledger/ledger.h"
#include "measure/id.h"
#include "measure/quantity.h"
#include "measure/time.h"

/// What every ledger test wants: ids from names, moments from text, short entries, a folder of its own.
namespace stillroom::ledger::tests {

using measure::grams;
using measure::kilograms;

/// The same name, the same id.
inline Id id_of(std::string_view name) {
  std::uint64_t seed = 0xcbf29ce484222325ULL;
  for (const char c : name) seed = (seed ^ static_cast<unsigned char>(c)) * 0x100000001b3ULL;
  return measure::Random(seed).id();
}
inline Instant at(std::string_view text) { return measure::parse_instant(text).value(); }
inline measure::Date day(std::string_view text) { return measure::parse_date(text).value(); }
inline const Instant kNoon = at("2026-09-14T12:00Z");

inline Entry live(std::string_view name, Payload what, Instant happened = kNoon) {
  return {id_of(name), happened, "", true, std::move(what)};
}
inline Entry fact(std::string_view name, Payload what, Instant happened = kNoon) {
  return {id_of(name), happened, "", false, std::move(what)};
}

inline BroughtIn plums(std::string_view lot, double kg) {
  return {.parcel = id_of(lot),
          .crop = "plum",
          .mass = kilograms(kg),
          .condition = "ripe",
          .place = "",
          .form = "fresh",
          .note = "",
          .as_said = "",
          .facts = {}};
}
/// 4 kg of lot "A" for 7 quarts by a route with the stages pit, fill and process.
inline constexpr std::string_view kCard =
    R"({"packs":7,"kg_in":4,"process":{"id":"plum-quart","time_min":25},)"
    R"("stock":[{"item":"jar_quart","amount":7}],"steps":[{"stage":"pit"},{"stage":"fill"},{"stage":"process"}]})";
inline BatchStarted plum_batch(std::string_view batch, std::string_view lot, double kg) {
  return {id_of(batch), "plum-canned", "Plums in syrup", {{id_of(lot), kilograms(kg)}}, std::string(kCard)};
}
/// The same without a heat process: to be frozen.
inline BatchStarted plain_batch(std::string_view batch, std::string_view lot, double kg) {
  BatchStarted b = plum_batch(batch, lot, kg);
  b.steps_json = R"({"packs":7,"process":null,"steps":[{"stage":"pit"},{"stage":"fill"}]})";
  return b;
}
inline Packed quarts(std::string_view batch, std::string_view parcel, double packs, double kg) {
  return {.batch = id_of(batch),
          .parcel = id_of(parcel),
          .food = "plum",
          .form = "canned halves",
          .pack = "quart jar",
          .packs = packs,
          .mass = kilograms(kg),
          .place = "",
          .code = "",
          .eat_by = day("2027-09-14"),
          .keeps_months = 12};
}

/// A state with places "cellar", "fridge", "porch" and persons "ann" and "bo".
inline State furnished() {
  State s;
  s.places["cellar"] = {"cellar", "Cellar", "cellar", 10, 85, 0};
  s.places["fridge"] = {"fridge", "Fridge", "fridge", 4, 60, 200};
  s.places["porch"] = {"porch", "Porch", "porch", 18, 60, 0};
  s.people["ann"] = {.key = "ann", .name = "Ann"};
  s.people["bo"] = {.key = "bo", .name = "Bo", .age = 12};
  return s;
}

inline const Parcel& parcel(const State& s, std::string_view name) { return s.parcels.at(id_of(name)); }
inline const BatchState& batch(const State& s, std::string_view name) { return s.batches.at(id_of(name)); }

/// Folded, or the code of the refusal.
inline std::string outcome(State& s, const Entry& e, Instant now = kNoon) {
  const auto folded = fold(s, e, now);
  return folded ? "folded" : folded.error().code;
}

/// Runs the heat process of a batch for `minutes`, ending at noon; its card asks for 25.
inline void process(State& s, std::string_view batch, int minutes = 25, const std::string& stage = "process") {
  const std::string name = std::string(batch) + " " + stage;
  ASSERT_EQ(
      outcome(s, live(name + " begun", StageStarted{id_of(batch), stage, ""}, kNoon - std::chrono::minutes(minutes))),
      "folded");
  ASSERT_EQ(outcome(s, live(name + " done", StageFinished{id_of(batch), stage})), "folded");
}

inline void expect_refused(const Entry& e, std::string_view code, State s) {
  const State before = s;
  EXPECT_EQ(outcome(s, e), code);
  EXPECT_TRUE(equal(s, before)) << "a refusal left something behind";
}

class Folder {
 public:
  Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "stillroom-ledger-XXXXXX").string();
    path_ = ::mkdtemp(name.data());
  }
  ~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  [[nodiscard]] std::string file(std::string_view name) const { return (path_ / name).string(); }

 private:
  std::filesystem::path path_;
};

inline std::string bytes_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

}  // namespace stillroom::ledger::tests
