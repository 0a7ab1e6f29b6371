#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "planning/household.h"

namespace stillroom::planning {

/// One stage placed in time. The picking of a standing crop is a stage with key "pick", one per standing part, before
/// the route's own.
struct PlacedStage {
  std::string batch;  ///< plan-local batch key "b3"
  std::string route, stage, name;
  Span span;
  almanac::Attention attention = almanac::Attention::hands_on;
  std::vector<std::string> hands;                ///< Hand keys
  std::vector<almanac::EquipmentUse> equipment;  ///< resolved: .amount.fixed only
  std::string why;                               ///< one line, filled by explain
};

/// One run of a route over one or more lots.
struct PlannedBatch {
  std::string key, route;
  struct Part {
    std::string lot;
    double kg = 0;
  };
  std::vector<Part> parts;
  double kg_in = 0, kg_out = 0, packs = 0;
  int loads = 1;
  double quality = 1;  ///< quality x usable share at start
  double worth = 0;    ///< USD before concavity
  std::vector<PlacedStage> stages;
};

/// A hold without stages: the lot waits at another place from `from`.
struct PlannedHold {
  std::string lot, place;
  Minute from = 0;
};

/// What becomes of one lot.
struct LotOutlook {
  std::string lot;
  double kg = 0, kg_put_by = 0, kg_eaten = 0, kg_let_go = 0;
  double days_left_low = 0, days_left = 0, days_left_high = 0;
  double loss_kg_per_day = 0;     ///< now, where it lies
  double cost_of_waiting = 0;     ///< USD per day, an estimate (see `why` for the re-solved figure)
  std::optional<Minute> next_at;  ///< start of its next stage
  std::string next_move;          ///< "Peel and can as halves", "Move to the fridge", "Give away", "Let it wait"
  std::string let_go_reason;      ///< empty unless kg_let_go > 0
};

struct ObjectiveTerms {
  double put_by = 0, still_sound = 0, materials = 0, energy = 0, effort = 0, lateness = 0, change = 0;
  [[nodiscard]] double total() const { return put_by + still_sound - materials - energy - effort - lateness - change; }
};

struct Plan {
  std::vector<PlannedBatch> batches;
  std::vector<PlannedHold> holds;
  /// A shopping trip and what it brings.
  struct Trip {
    Span span;
    std::string hand;
    struct Bought {
      std::string item;
      double amount = 0, cost = 0;  ///< cost in USD
    };
    std::vector<Bought> bought;
  };
  std::vector<Trip> trips;
  struct OtherPlaced {
    std::string key;
    std::vector<Span> spans;
    std::vector<std::string> hands;
  };
  std::vector<OtherPlaced> other;
  std::vector<LotOutlook> lots;  ///< sorted by cost of waiting, largest first
  ObjectiveTerms terms;
  long schedules = 0;  ///< complete schedules generated
  std::uint64_t seed = 0;
};

struct PlanOptions {
  std::uint64_t seed = 1;
  long max_schedules = 20000;       ///< step budget per worker: same seed and budget, same plan on any thread count
  double max_seconds = 0;           ///< 0 = budget only; a clock is passed by `elapsed`
  int workers = 2;                  ///< logical workers, exchanging at step barriers
  int threads = 2;                  ///< never changes the result of a step budget
  std::function<double()> elapsed;  ///< seconds since start; may be empty when max_seconds is 0
  std::function<bool()> cancelled;  ///< polled; may be empty
  std::function<void(const Plan&)> on_better;  ///< anytime; may be empty
  /// A plan to start from, with moves, other work and trips, on the same first day; none: what the household says is in
  /// force. What no longer fits is left out.
  std::shared_ptr<const Plan> start_from{};
};

/// Best plan found. Never breaks a constraint; an empty household gives an empty plan. Refuses only an invalid snapshot
/// (code "bad_snapshot" with the field at fault).
[[nodiscard]] measure::Result<Plan> make_plan(const Household& h, const PlanOptions& options);

/// The independent checker: re-derives every constraint from the household and the plan alone (it shares no code with
/// the builder) and recomputes the objective. Empty = the plan holds. Lives in planning/check_plan.cpp.
[[nodiscard]] std::vector<std::string> check_plan(const Household& h, const Plan& plan);

/// `why LOT`: cost of waiting 1, 2, 3 days by re-solve, what binds, next-best move, and for a let-go lot what would
/// save it.
struct Why {
  std::string lot;
  std::vector<std::string> sentences;  ///< in words a person would say, most important first
  struct Wait {
    int days = 1;
    double cost = 0, noise = 0;
  };
  std::vector<Wait> waiting;
  std::string binding;  ///< "the canner on Saturday afternoon", "jars", ...
  std::string next_best;
  double next_best_loss = 0;
  std::string would_save;  ///< let-go lots: the smallest change that saves it
};
[[nodiscard]] measure::Result<Why> why(const Household& h, const Plan& plan, const std::string& lot,
                                       const PlanOptions& options);

/// The stages of a plan as the plan in force of a later household, `shift` minutes later (to its first day).
[[nodiscard]] std::vector<PlacedBefore> in_force(const Plan& plan, Minute shift);

/// JSON text of a plan and back (for the plan in force and for `--json`).
[[nodiscard]] std::string to_json(const Plan& plan);
[[nodiscard]] measure::Result<Plan> plan_from_json(std::string_view json);

}  // namespace stillroom::planning
