#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "app/household.h"
#include "kitchen/batch.h"
#include "kitchen/process_words.h"
#include "thorough.h"

// Random sequences of everything a person can do to a batch, said live or heard of later, and taken back. However they
// end, no pack is said to be processed as published unless its card came from a verified row and its process ran.
namespace stillroom::app {
namespace {

using ledger::Entry;
using ledger::Id;
using ledger::Payload;

struct MadeCard {
  std::string json;
  kitchen::BatchCard card;
};

/// The card as it would be frozen, without the words that the ledger passes over: a third of the steps, whole process.
std::string slim(const kitchen::BatchCard& card) {
  const auto whole = nlohmann::json::parse(kitchen::to_json(card));
  nlohmann::json small = {{"packs", whole["packs"]}, {"process", whole["process"]}, {"steps", nlohmann::json::array()}};
  if (!small["process"].is_null()) small["process"]["requirements"] = nlohmann::json::array();
  for (const auto& step : whole["steps"])
    small["steps"].push_back(
        {{"stage", step["stage"]}, {"load", step["load"]}, {"packs", step["packs"]}, {"can_pause", step["can_pause"]}});
  return small.dump();
}

/// Boiling water with two loads, pressure with one, and one that is frozen.
const std::vector<MadeCard>& made_cards() {
  static const std::vector<MadeCard> kMade = [] {
    std::vector<MadeCard> made;
    process::Question where;
    where.altitude = measure::Altitude::feet(500);
    where.canner = "weighted";
    for (const auto& [route, kg] : {std::pair("pear_european/canned_halves_hot", 12.0),
                                    std::pair("bean_snap/canned_raw", 6.0), std::pair("bean_snap/frozen", 5.0)}) {
      auto card = kitchen::make_card(test::published(), *test::published().routes.find(route), kg, where).value();
      // A step to come from and one to go on to beside each process: enough to end one by starting another.
      std::erase_if(card.steps, [](const kitchen::Step& s) {
        return !s.shows_process && !s.stage.starts_with("fill") && s.stage != "clear_up" && s.stage != "gather";
      });
      made.push_back({slim(card), card});
    }
    return made;
  }();
  return kMade;
}

Id numbered(char kind, std::size_t n) {
  measure::Random random(static_cast<std::uint64_t>(kind) * 1000 + n);
  return random.id();
}

class Sequence {
 public:
  explicit Sequence(std::uint64_t seed) : random_(seed), mine_(seed % 2) {
    for (std::size_t lot = 0; lot < 3; ++lot) {
      tell(ledger::BroughtIn{.parcel = numbered('l', lot),
                             .crop = "pear_european",
                             .mass = measure::kilograms(30),
                             .condition = "firm",
                             .place = "",
                             .form = "fresh",
                             .note = "",
                             .as_said = "",
                             .facts = {}},
           true);
      tell(ledger::BatchStarted{.batch = numbered('b', lot),
                                .route = "",
                                .name = "Batch",
                                .inputs = {{numbered('l', lot), measure::kilograms(12)}},
                                .steps_json = made_cards()[lot].json},
           true);
    }
  }

  void go_on(int actions) {
    for (int i = 0; i < actions; ++i) {
      now_ += std::chrono::minutes(below(4) == 0 ? below(200) : below(20));
      act(below(100) < 65);
    }
  }

  /// What was said of packs that cannot be so; empty when all is well.
  [[nodiscard]] std::string lie() const {
    for (const auto& [id, parcel] : state_.parcels) {
      if (parcel.process_json.empty() || !ledger::barred_as_food(parcel).empty()) continue;
      const auto process = kitchen::process_from_json(parcel.process_json);
      if (!process || !kitchen::is_published(test::published().processes, *process)) return "by no verified row";
      for (std::size_t b = 0; b < made_cards().size(); ++b)
        if (numbered('b', b) == parcel.made_by && !truly_ran(b)) return "but no load ran its time";
    }
    return "";
  }
  [[nodiscard]] bool some_are_processed() const {
    for (const auto& [id, parcel] : state_.parcels)
      if (!parcel.process_json.empty()) return true;
    return false;
  }

 private:
  int below(int n) { return static_cast<int>(random_.below(static_cast<std::uint32_t>(n))); }
  const kitchen::Step& some_step(std::size_t batch) {
    const auto& steps = made_cards()[batch].card.steps;
    // Process steps are what this is about: half of all moves are theirs.
    std::vector<const kitchen::Step*> at_canner;
    for (const auto& step : steps)
      if (step.shows_process) at_canner.push_back(&step);
    if (!at_canner.empty() && below(2) == 0)
      return *at_canner[static_cast<std::size_t>(below(static_cast<int>(at_canner.size())))];
    return steps[static_cast<std::size_t>(below(static_cast<int>(steps.size())))];
  }

  Payload some_move() {
    // Mostly one and the same batch: what goes wrong goes wrong in a row.
    const auto batch = below(5) == 0 ? static_cast<std::size_t>(below(3)) : mine_;
    const Id id = numbered('b', batch);
    const std::string stage = some_step(batch).stage;
    switch (below(12)) {
      case 0:
      case 1:
      case 2:
        return ledger::StageStarted{id, stage, ""};
      case 3:
      case 4:
      case 5:
        return ledger::StageFinished{id, stage};
      case 6:
        return ledger::StagePutDown{id, stage};
      case 7:
        return ledger::ClockCorrected{id, stage, now_ - std::chrono::minutes(below(60))};
      case 8:
      case 9:
        return packing(id);
      case 10:
        return trouble(id, stage);
      default:
        return below(3) == 0 ? Payload(ledger::BatchAbandoned{id, "", below(2) == 0})
                             : Payload(ledger::SealChecked{made_.empty() ? Id{} : made_.back(), 7, 0});
    }
  }
  Payload packing(const Id& batch) {
    made_.push_back(numbered('p', made_.size()));
    return ledger::Packed{.batch = batch,
                          .parcel = made_.back(),
                          .food = "pear_european",
                          .form = "canned halves",
                          .pack = "quart jar",
                          .packs = static_cast<double>(1 + below(12)),
                          .mass = {},
                          .place = "",
                          .code = "",
                          .eat_by = {}};
  }
  Payload trouble(const Id& batch, const std::string& stage) {
    static const std::vector<std::string> kOutcomes{"process_again", "chill", "discard", "keep_watch", "go_on"};
    ledger::TroubleMet t{.fault = "boil_stopped",
                         .outcome = kOutcomes[static_cast<std::size_t>(below(5))],
                         .batch = batch,
                         .stage = stage.starts_with("process") && below(2) == 0 ? stage : "",
                         .place = "",
                         .parcels = {}};
    if (!made_.empty() && below(3) == 0) {
      t.parcels = {made_.back()};
      t.packs = below(3);
    }
    return t;
  }

  void act(bool live) {
    if (below(12) == 0 && !told_.empty()) {
      const Entry& back = told_[static_cast<std::size_t>(below(static_cast<int>(told_.size())))].entry;
      if (undone_.contains(back.id) || std::holds_alternative<ledger::Undone>(back.what)) return;
      undone_.insert(back.id);
      told_.push_back({{numbered('e', count_++), now_, "", true, ledger::Undone{back.id}}, now_});
      state_ = ledger::fold_all(told_);
      return;
    }
    tell(some_move(), live);
  }
  void tell(Payload what, bool live) {
    // Heard of late, or by a clock that runs a little ahead.
    const auto off = std::chrono::minutes(live ? below(6) : -below(40));
    const Entry e{numbered('e', count_++), now_ + (below(3) == 0 ? off : std::chrono::minutes(0)), "", live,
                  std::move(what)};
    if (ledger::fold(state_, e, now_)) told_.push_back({e, now_});
  }

  /// By the entries that still stand, and nothing else: some load was begun, and the word that ended it came its whole
  /// minutes later. What was finished too early stays finished, whatever is begun or ended afterwards.
  [[nodiscard]] bool truly_ran(std::size_t b) const {
    const kitchen::BatchCard& card = made_cards()[b].card;
    const auto least = std::chrono::seconds(std::llround(card.process->time_min * 60));
    for (const kitchen::Step& step : card.steps) {
      if (!step.shows_process) continue;
      std::optional<Instant> from, ended;
      std::optional<Instant> left;  // for another step: that ended it as well, and the word of its clock may come later
      for (const auto& [e, arrived] : told_) {
        if (undone_.contains(e.id)) continue;
        const auto* said = std::get_if<ledger::ClockCorrected>(&e.what);
        const auto* begun = std::get_if<ledger::StageStarted>(&e.what);
        const auto* done = std::get_if<ledger::StageFinished>(&e.what);
        const auto* wrong = std::get_if<ledger::TroubleMet>(&e.what);
        const Id id = numbered('b', b);
        const bool of_this = (said && said->batch == id && said->stage == step.stage) ||
                             (begun && begun->batch == id && begun->stage == step.stage);
        const bool ends =
            (done && done->batch == id && done->stage == step.stage) ||
            (begun && begun->batch == id && begun->stage != step.stage && same_way(b, begun->stage, step));
        const bool fails =
            wrong && wrong->batch == id && wrong->packs == 0 &&
            ((wrong->outcome == "process_again" && (wrong->stage.empty() || wrong->stage == step.stage)) ||
             wrong->stage == step.stage);
        if (fails && wrong->outcome != "keep_watch" && wrong->outcome != "go_on") from = ended = left = std::nullopt;
        if (wrong && wrong->batch == id && wrong->packs > 0) ended.reset();  // one more load may be run for a few jars
        if (said && of_this && ended) from = said->began;
        if (of_this && !ended)
          from = from ? std::min(*from, said ? said->began : e.happened) : said ? said->began : e.happened;
        const Instant at = std::min(e.happened, arrived);
        const bool finishes = done && ends;
        if (said && of_this && left && *left - said->began >= least) return true;
        if (from && begun && ends && !left) left = at;
        if (from && (ended || ends) && (ended ? *ended : at) - *from >= least) return true;
        if (finishes && !ended) ended = at;
      }
    }
    return false;
  }

  /// Starting that stage ends this step: the same load, or the whole batch.
  static bool same_way(std::size_t b, const std::string& stage, const kitchen::Step& step) {
    const auto& steps = made_cards()[b].card.steps;
    const auto other = std::ranges::find(steps, stage, &kitchen::Step::stage);
    return other != steps.end() && (other->load == step.load || other->load == 0);
  }

  measure::Random random_;
  std::size_t mine_;
  Instant now_ = test::morning();
  ledger::State state_;
  std::vector<ledger::Arrived> told_;
  std::set<Id> undone_;
  std::vector<Id> made_;
  std::size_t count_ = 0;
};

TEST(ProcessedSequences, NeverSayOfAPackWhatDidNotHappen) {
  // Twenty actions each: a million of them in the long run.
  const bool thorough = stillroom::test::thorough();
  const std::uint64_t sequences = thorough ? 50'000 : 250;
  std::uint64_t with_packs = 0;
  for (std::uint64_t seed = 1; seed <= sequences; ++seed) {
    Sequence s(seed);
    s.go_on(20);
    ASSERT_EQ(s.lie(), "") << "seed " << seed;
    with_packs += s.some_are_processed() ? 1U : 0U;
  }
  EXPECT_GT(with_packs, sequences / 20) << "a property of nothing is no property";
}

}  // namespace
}  // namespace stillroom::app
