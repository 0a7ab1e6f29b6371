#pragma once

#include <concepts>
#include <cstdint>
#include <functional>
#include <limits>
#include <vector>

#include "measure/id.h"

namespace stillroom::scheduling {

/// What one evaluation found and what it cost. Lower is better; the unit of `cost` is the problem's own.
struct Evaluation {
  double cost = 0;    ///< what is to be made small: decides which candidate is the best
  int schedules = 1;  ///< complete schedules generated (a forward-backward pass counts two; refused unseen, none)
  double guide = 0;   ///< added to the cost for acceptance only: pulls the walk towards candidates that promise more
};

/// A problem that anneal() can search: one candidate, changed in place. All scratch memory lives inside, so that a
/// worker neither allocates nor shares.
///   start(rng)             builds a first candidate and makes it the incumbent
///   propose(rng, progress) changes the candidate a little; returns the kind of move, 0 <= kind < S::kMoveKinds;
///                          progress runs from 0 to 1 over a leg of the budget (moves may fade in and out with it)
///   evaluate(limit)        cost of the candidate. A candidate with cost + guide above `limit` will be rejected, so the
///                          work may stop as soon as that is certain and return any cost above `limit`
///   accept() / reject()    makes the candidate the incumbent / restores the incumbent
///   save(s) / load(s)      copies the incumbent out / in (load drops the candidate)
/// All randomness comes from the rng passed to propose and start.
template <class S>
concept Searchable = requires(S& s, const S& fixed, measure::Random& rng, typename S::Snapshot& out,
                              const typename S::Snapshot& in, double x) {
  { S::kMoveKinds } -> std::convertible_to<int>;
  { s.start(rng) } -> std::same_as<Evaluation>;
  { s.propose(rng, x) } -> std::convertible_to<int>;
  { s.evaluate(x) } -> std::same_as<Evaluation>;
  s.accept();
  s.reject();
  fixed.save(out);
  s.load(in);
};

/// A problem whose search may have a second leg: restart(best, rng) makes another incumbent out of the best one so far.
/// It may be worse; the best is kept by the driver.
template <class S>
concept Restartable = Searchable<S> && requires(S& s, measure::Random& rng, const typename S::Snapshot& best) {
  { s.restart(best, rng) } -> std::same_as<Evaluation>;
};

/// When to stop. At least one of `schedules` and `seconds` must be set; the first one reached stops the search.
struct SearchBudget {
  long schedules = 0;  ///< per worker; 0 = no limit. Alone it makes the result reproducible
  double seconds = 0;  ///< wall time; 0 = no limit. Needs `elapsed`; the result then depends on the machine
  std::function<double()> elapsed;  ///< seconds since the start; called from every thread
  std::function<bool()> cancelled;  ///< true = stop soon with the best so far; called from every thread; may be empty
  double good_enough = -std::numeric_limits<double>::infinity();  ///< stop at a best cost at or below this
};

enum class Acceptance {
  annealing,        ///< worse by d with probability exp(-d / temperature), temperature falling geometrically
  late_acceptance,  ///< not worse than the incumbent, or than the incumbent `history` evaluations ago
};

struct SearchOptions {
  std::uint64_t seed = 1;
  SearchBudget budget;
  int workers = 2;    ///< logical workers, 1 or more: part of the result. Worker k draws from its own stream of `seed`
  int threads = 2;    ///< 1 or more: never changes the result of a schedule budget
  int barriers = 16;  ///< the budget is cut in this many equal parts; workers meet after each and the ones that are
                      ///< behind go on from the best; `cancelled` and callbacks are served there too
  Acceptance acceptance = Acceptance::annealing;
  double start_temperature = 1, end_temperature = 0.01;  ///< in cost units, > 0; cold at the end
  double restart_at = 1;  ///< share of the budget after which a Restartable problem begins its second leg: a barrier,
                          ///< > 0; 1 = never
  double restart_temperature = 1;  ///< at the start of the second leg, in cost units, > 0; both legs end cold
  int history = 300;               ///< late acceptance
  int poll_every = 32;  ///< evaluations between looks at the clock and at `cancelled`; 1 for slow evaluations
};

/// What happened, per kind of move. Index = kind.
struct SearchStatistics {
  struct Move {
    long proposed = 0, accepted = 0, new_best = 0;
  };
  long schedules = 0;    ///< all workers
  long evaluations = 0;  ///< all workers
  std::vector<Move> moves;
  int exchanges = 0;  ///< times a worker took over another's best
  bool cancelled = false;
};

template <class Snapshot>
struct SearchResult {
  Snapshot best{};
  double cost = std::numeric_limits<double>::infinity();
  SearchStatistics statistics;
};

}  // namespace stillroom::scheduling
