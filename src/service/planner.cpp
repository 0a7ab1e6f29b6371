#include "service/planner.h"

#include <utility>

namespace stillroom::service {

Planner::Planner(Household& household, Events& events, double seconds)
    : household_(household), events_(events), seconds_(seconds) {}

Planner::~Planner() { stop(); }

void Planner::start() {
  const std::lock_guard lock(mutex_);
  if (running_) return;
  running_ = true;
  thread_ = std::thread([this] { run(); });
}

void Planner::stop() {
  stopping_ = true;
  {
    const std::lock_guard lock(mutex_);
    running_ = false;
  }
  wake_.notify_all();
  ready_.notify_all();
  if (thread_.joinable()) thread_.join();
}

void Planner::wake() {
  {
    const std::lock_guard lock(mutex_);
    wanted_ = true;
  }
  wake_.notify_all();
}

void Planner::run() {
  for (;;) {
    {
      std::unique_lock lock(mutex_);
      wake_.wait(lock, [&] { return wanted_ || stopping_; });
      if (stopping_) return;
      wanted_ = false;  // what changes from here on asks for another round
    }
    plan_once();
  }
}

std::shared_ptr<const planning::Plan> Planner::newest_plan(measure::Date first_day) {
  const std::lock_guard lock(mutex_);
  if (!newest_ || !*newest_ || (**newest_)->snapshot.first_day != first_day) return nullptr;
  return {**newest_, &(**newest_)->plan};
}

void Planner::plan_once() {
  Planned made;
  auto snapshot = household_.with([&](app::House& house, measure::Instant now) {
    made.at = now;
    made.sequence = house.ledger.state().sequence;
    return app::snapshot_for_planning(house, now);
  });
  std::uint64_t sequence = made.sequence;
  measure::Result<PlannedPtr> result = tl::unexpected(measure::Refusal{});
  if (snapshot) {
    const auto begun = std::chrono::steady_clock::now();
    const auto elapsed = [begun] {
      return std::chrono::duration<double>(std::chrono::steady_clock::now() - begun).count();
    };
    planning::PlanOptions options;
    options.max_seconds = seconds_;
    options.elapsed = elapsed;
    options.cancelled = [this] { return stopping_.load(); };
    made.snapshot = std::move(*snapshot);
    options.start_from = newest_plan(made.snapshot.first_day);
    auto plan = planning::make_plan(made.snapshot, options);
    if (plan) {
      made.plan = std::move(*plan);
      made.seconds = elapsed();
      household_.with([&](app::House& house, measure::Instant now) {
        // Once entries have come since, the plan that is made with them will do.
        if (house.ledger.state().sequence != made.sequence) return;
        if (app::follow(house, now, made.snapshot, made.plan)) made.sequence = house.ledger.state().sequence;
      });
      sequence = made.sequence;
      result = std::make_shared<const Planned>(std::move(made));
    } else {
      result = tl::unexpected(plan.error());
    }
  } else {
    result = tl::unexpected(snapshot.error());
  }
  {
    const std::lock_guard lock(mutex_);
    newest_ = std::move(result);
  }
  ready_.notify_all();
  events_.publish("planned", sequence);
}

measure::Result<PlannedPtr> Planner::latest() {
  std::unique_lock lock(mutex_);
  if (!running_ && !stopping_ && (!newest_ || wanted_)) {
    wanted_ = false;
    lock.unlock();
    plan_once();
    lock.lock();
  }
  ready_.wait(lock, [&] { return newest_.has_value() || stopping_; });
  if (!newest_) return measure::refuse("busy", "The program is being stopped.");
  if (*newest_ && household_.now() - (**newest_)->at > kOld && !wanted_) {
    wanted_ = true;
    wake_.notify_all();
  }
  return *newest_;
}

}  // namespace stillroom::service
