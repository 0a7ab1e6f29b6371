#pragma once

#include <atomic>
#include <chrono>
#include <condition_variable>
#include <memory>
#include <mutex>
#include <optional>
#include <thread>

#include "measure/result.h"
#include "planning/plan.h"
#include "service/events.h"
#include "service/household.h"

namespace stillroom::service {

/// A plan with the snapshot it was made from. Immutable, shared by the pages that are being drawn from it.
struct Planned {
  planning::Household snapshot;
  planning::Plan plan;
  std::uint64_t sequence = 0;  ///< of the last entry it knows of
  measure::Instant at;         ///< the household's clock when the snapshot was taken
  double seconds = 0;          ///< how long it took
};
using PlannedPtr = std::shared_ptr<const Planned>;

/// Plans in the background, on an immutable snapshot, whenever something has changed or the plan has grown old.
/// Publishes "planned" when a newer plan is ready.
class Planner {
 public:
  /// A plan older than this is made again the next time it is asked for: time alone changes what comes next.
  static constexpr std::chrono::minutes kOld{5};

  Planner(Household& household, Events& events, double seconds);
  ~Planner();
  Planner(const Planner&) = delete;
  Planner& operator=(const Planner&) = delete;

  /// Starts the background thread; without it, plans are made by the one who asks.
  void start();
  void stop();
  /// Something has changed: plan again.
  void wake();
  /// The newest plan there is, which may not know the last entries (compare its sequence). Waits only for the very
  /// first. The refusal is the planner's own: the household could not be laid out.
  [[nodiscard]] measure::Result<PlannedPtr> latest();

 private:
  void run();
  /// One plan from the household as it stands; keeps and publishes it.
  void plan_once();
  /// The plan to start from, when its minutes still count from that day.
  [[nodiscard]] std::shared_ptr<const planning::Plan> newest_plan(measure::Date first_day);

  Household& household_;
  Events& events_;
  const double seconds_;
  std::mutex mutex_;
  std::condition_variable wake_, ready_;
  std::optional<measure::Result<PlannedPtr>> newest_;
  bool wanted_ = true, running_ = false;
  std::atomic<bool> stopping_ = false;
  std::thread thread_;
};

}  // namespace stillroom::service
