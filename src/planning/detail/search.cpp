#include "planning/detail/search.h"

namespace stillroom::planning::detail {
namespace {

constexpr int kPlacesToTry = 3;  // per job put back by a rebuild

}  // namespace

PlanSearch::PlanSearch(const Project& project, JobList first)
    : project_(project), appraiser_(project), decoder_(project), objective_(project), incumbent_(std::move(first)) {}

double PlanSearch::cost_of(const JobList& list) {
  decoder_.decode(list);
  return -objective_.weigh(decoder_).total();
}

scheduling::Evaluation PlanSearch::start(measure::Random&) {
  remember();
  return {cost_, 1};
}

int PlanSearch::propose(measure::Random& rng, double progress) {
  candidate_ = incumbent_;
  left_ = left_of_;
  pending_.clear();
  // Shares of the moves; measured on generated households (docs/planning.md).
  static constexpr std::array<int, kMoves> kShare = {16, 8, 12, 8, 5, 6, 4, 12, 12, 5, 10, 2};
  constexpr std::uint32_t kTotal = 100;
  for (int tries = 0; tries < 20; ++tries) {
    auto draw = static_cast<int>(rng.below(kTotal));
    int move = 0;
    while (draw >= kShare[static_cast<std::size_t>(move)]) draw -= kShare[static_cast<std::size_t>(move++)];
    if (try_move(static_cast<Move>(move), rng, progress)) return move;
    candidate_ = incumbent_;
    left_ = left_of_;
    pending_.clear();
  }
  return shift;  // nothing to change: the candidate is the incumbent
}

scheduling::Evaluation PlanSearch::evaluate(double) {
  const long before = decoder_.schedules();
  if (pending_.empty()) return {cost_of(candidate_), 1};
  double cost = 0;
  measure::Random places(trials_);
  for (const Job& job : pending_) {
    std::size_t best = 0;
    double best_cost = 0;
    for (int i = 0; i < kPlacesToTry; ++i) {
      const std::size_t at = places.below(static_cast<std::uint32_t>(candidate_.size()) + 1);
      insert_at(at, job);
      const double c = cost_of(candidate_);
      erase_at(at);
      if (i > 0 && c >= best_cost) continue;
      best = at;
      best_cost = c;
    }
    insert_at(best, job);
    cost = best_cost;
  }
  return {cost, static_cast<int>(decoder_.schedules() - before)};
}

void PlanSearch::accept() {
  incumbent_.swap(candidate_);
  remember();
}

void PlanSearch::reject() {}

void PlanSearch::load(const Snapshot& in) {
  incumbent_ = in;
  remember();
}

/// Brings decoder and notes in line with the incumbent, and drops from it what found no place.
void PlanSearch::remember() {
  cost_ = cost_of(incumbent_);
  seen_.clear();
  std::size_t kept = 0;
  for (std::size_t i = 0; i < incumbent_.size(); ++i) {
    const PlacedJob& placed = decoder_.placed(i);
    if (!placed.placed && incumbent_[i].kind != JobKind::other) continue;
    incumbent_[kept++] = incumbent_[i];
    seen_.push_back({placed.placed ? placed.start : kNever, placed.kg});
  }
  incumbent_.resize(kept);
  left_of_.resize(project_.lots.size());
  for (std::size_t l = 0; l < left_of_.size(); ++l)
    left_of_[l] = std::max(0.0, project_.lots[l].source->kg - decoder_.taken(static_cast<int>(l)));
  put_by_ = objective_.put_by();
}

}  // namespace stillroom::planning::detail
