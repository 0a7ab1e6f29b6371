#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "planning/plan.h"

/// The independent checker's own reading of a household and a plan. Written from docs/science/planning_model.md and the
/// public headers alone; shares nothing with the builder. Plain and slow on purpose.
namespace stillroom::planning::check {

inline constexpr int kDay = 1440;
inline constexpr double kEps = 1e-6;  ///< kg, shares of a person, stock

/// What a part of a batch draws on, and what it is like when the batch's own stages begin.
enum class Source { lot, held_pool, by_product, none };
struct PartFacts {
  const Lot* lot = nullptr;
  double kg = 0;
  bool main = true;  ///< of the route's own crop; false for a many-lot recipe's other crops
  Source source = Source::none;
  const PlannedBatch* hold = nullptr;  ///< the hold batch a held pool came from
  Minute moves_from = 0;               ///< when it begins to fade: in hand, or picked
  Minute take = 0;                     ///< when it leaves its lot or pool
  Minute begin = 0;                    ///< start of the first own stage
  double share = 1;                    ///< S
  double pool_quality = 1;             ///< q_pool
  std::optional<almanac::Condition> condition;
  double quality = 0;  ///< route.quality[condition], best of the tolerance window
};

struct BatchFacts {
  const PlannedBatch* batch = nullptr;
  const almanac::Route* route = nullptr;
  std::size_t picks = 0;  ///< leading "pick" stages
  std::vector<PartFacts> parts;
  std::size_t placed_own = 0;  ///< own stages placed; the rest lies beyond the horizon
};

/// What a lot itself is like at a minute, following the plan's stage-less holds.
struct Waiting {
  double share = 1;
  almanac::Condition condition = almanac::Condition::firm;
};

class Facts {
 public:
  Facts(const Household& h, const Plan& plan);

  const Household& h;
  const Plan& plan;
  Minute horizon;
  std::vector<BatchFacts> batches;
  std::vector<std::string> faults;  ///< found while reading: unknown names, broken structure

  [[nodiscard]] const Lot* lot(const std::string& id) const;
  [[nodiscard]] const Hand* hand(const std::string& key) const;
  [[nodiscard]] const HoldPlace* place(const std::string& key) const;
  [[nodiscard]] const HoldPlace* hold_place(const almanac::Route& route) const;
  /// `from` is when it begins to move (t0, or the end of picking); `at` >= from.
  [[nodiscard]] Waiting waiting(const Lot& lot, Minute from, Minute at) const;
  /// Share of a held pool relative to its hold's start, and the condition it is in.
  [[nodiscard]] Waiting pool_waiting(const BatchFacts& hold, Minute at) const;
  [[nodiscard]] double pool_mass(const BatchFacts& hold) const;
  [[nodiscard]] Minute available_from(const Lot& lot) const;
  [[nodiscard]] const BatchFacts* hold_of(const std::string& lot, const std::string& form) const;
  void fault(std::string what) { faults.push_back(std::move(what)); }

 private:
  void read_batch(const PlannedBatch& batch);
  void read_parts();
};

[[nodiscard]] bool serves(const almanac::Route& route, const std::string& crop);
[[nodiscard]] bool barred(const almanac::Route& route, const std::vector<std::string>& facts);
[[nodiscard]] bool named_leaving(const almanac::Route& route);  ///< "given away", "fed to stock" or "composted"
/// Least usable share a main part may have.
[[nodiscard]] double least_share(const almanac::Route& route);

// Each adds what is broken to facts.faults.
void check_lots(Facts& f);    ///< sections 2 to 4: masses, pools, acceptance, bars, hard clocks
void check_stages(Facts& f);  ///< sections 5, 6, 8: order, lengths, people, lags, weather, other work
void check_stores(Facts& f);  ///< section 7: equipment, stock, room, shopping
void check_worth(Facts& f);   ///< section 9 and the batch fields

/// Text helper: "batch b3 (pear/canned)".
[[nodiscard]] std::string named(const BatchFacts& b);

}  // namespace stillroom::planning::check
