#pragma once

#include <map>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "almanac/routes.h"

/// What a household's own finished batches make of the published minutes and yields. Pure, and blind to the order of
/// the batches. Minutes at a canner are never heard and never changed. Model: docs/science/learning.md.
namespace stillroom::kitchen {

/// A figure as refined by own batches: a factor on the published one.
struct Refined {
  double factor = 1;         ///< the middle of what is believed; 1 without a batch
  double low = 1, high = 1;  ///< the truth lies between them in 8 cases of 10
  int batches = 0;           ///< own batches that were heard
  int lent = 0;              ///< batches of other routes with the same work, heard more softly
  int left_out = 0;          ///< own batches that were not believed
  double weight = 0;         ///< batches in all, the lent ones at what they count for
  bool operator==(const Refined&) const = default;
};

/// What a published figure counts for, in own batches.
inline constexpr double kPublishedWeight = 2;
/// What a batch of another route counts for, and all of them together at most.
inline constexpr double kLentWeight = 0.25, kMostLent = 1;
/// From this weight on the planner goes by the refined figure.
inline constexpr double kEnoughWeight = 3;
/// A stage this many times longer or shorter than published is a forgotten or a late tap.
inline constexpr double kMostOffMinutes = 4;
/// A batch that gave this many times more or less than published had something else happen to it.
inline constexpr double kMostOffYield = 2;
/// Coefficient of variation of what a batch gives: the middle low-to-high of the 177 ranges in
/// data/yields/put_up_yield.csv, read as 8 cases of 10, is 0.094 either way.
inline constexpr double kYieldSpread = 0.1;

/// Own and lent ratios (found / published, above 0) weighed against the published figure, whose coefficient of
/// variation is `spread` (at least 0.05 is taken). Ratios more than `most_off` times off are left out; so are those
/// that are not above 0.
[[nodiscard]] Refined refine(double spread, std::span<const double> own, std::span<const double> lent, double most_off);

/// One stage of a finished batch, as it was recorded.
struct FinishedStage {
  std::string stage;  ///< almanac::Stage::key
  double minutes = 0;
  bool doubtful = false;  ///< put down on the way, or left open through a night
};
struct FinishedBatch {
  std::string route;
  double kg_in = 0;
  double usable = 1;          ///< share of what went in that was still sound, as the planner counts it
  double packs = 0;           ///< made; 0 = not counted
  double packs_expected = 0;  ///< as its card had it, for all that went in; 0 = as the route has it
  std::vector<FinishedStage> stages;
};

/// One line of what a kitchen has taught: a figure of a route with own batches.
struct Figure {
  std::string route, stage;  ///< no stage = what the batch gives, in packs
  double kg = 0;             ///< size the two figures are said for: the mean of the own batches
  double published = 0;      ///< minutes, or packs, at that size
  Refined refined;
};

class Learned {
 public:
  Learned() = default;
  /// Batches of routes that are not in the book any more are passed over.
  Learned(const almanac::RouteBook& book, const std::vector<FinishedBatch>& batches);

  /// By route and stage; those whose own batches were all left out are among them.
  [[nodiscard]] const std::vector<Figure>& figures() const { return figures_; }
  /// The factor on a stage's minutes; what the route gives when `stage` is empty.
  [[nodiscard]] Refined of(const almanac::Route& route, std::string_view stage) const;
  /// The route as it goes in this kitchen, for planning only: attended minutes and yield by the refined figures where
  /// there are batches enough. The price of a pack, lags, hazard clocks and everything at a canner stay as they are.
  [[nodiscard]] almanac::Route as_here(const almanac::Route& route) const;

 private:
  struct Heard {
    std::vector<double> ratios;
    int doubtful = 0;
    double kg = 0;  ///< sum over batches
  };
  using Key = std::pair<std::string, std::string>;  // route and stage
  void hear(const almanac::Route& route, const FinishedBatch& batch);
  void note(const almanac::Route& route, const almanac::Stage* stage, const FinishedBatch& batch, double ratio,
            bool doubtful);

  std::map<Key, Heard> heard_;
  std::map<std::string, std::map<std::string, std::vector<double>>> by_kind_;  ///< kind of work, route, ratios
  std::vector<Figure> figures_;
};

/// True for a stage whose minutes may be learned: somebody is at it, and no canner is.
[[nodiscard]] bool may_learn(const almanac::Stage& stage);

}  // namespace stillroom::kitchen
