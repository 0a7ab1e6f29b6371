#include "service/events.h"

#include <algorithm>
#include <utility>

namespace stillroom::service {

void Events::publish(std::string name, std::uint64_t sequence) {
  {
    const std::lock_guard lock(mutex_);
    ring_.push_back({++newest_, std::move(name), sequence});
    if (ring_.size() > kKept) ring_.pop_front();
  }
  changed_.notify_all();
}

std::uint64_t Events::newest() const {
  const std::lock_guard lock(mutex_);
  return newest_;
}

std::vector<Events::Event> Events::after(std::uint64_t id, std::chrono::milliseconds patience) {
  std::unique_lock lock(mutex_);
  const std::uint64_t nudges = nudges_;
  changed_.wait_for(lock, patience, [&] { return stopped_ || newest_ != id || nudges_ != nudges; });
  if (stopped_ || newest_ == id) return {};
  const bool unknown = id > newest_ || ring_.empty() || id + 1 < ring_.front().id;
  if (unknown) return {{newest_, "changed", ring_.empty() ? 0 : ring_.back().sequence}};
  std::vector<Event> out;
  std::copy_if(ring_.begin(), ring_.end(), std::back_inserter(out), [&](const Event& e) { return e.id > id; });
  return out;
}

void Events::nudge() {
  {
    const std::lock_guard lock(mutex_);
    ++nudges_;
  }
  changed_.notify_all();
}

void Events::stop() {
  {
    const std::lock_guard lock(mutex_);
    stopped_ = true;
  }
  changed_.notify_all();
}

bool Events::stopped() const {
  const std::lock_guard lock(mutex_);
  return stopped_;
}

std::optional<Events::Seat> Events::sit() {
  const std::lock_guard lock(mutex_);
  if (listeners_ >= kMostListeners) return std::nullopt;
  ++listeners_;
  return Seat(*this);
}

Events::Seat::~Seat() {
  if (events_ == nullptr) return;
  const std::lock_guard lock(events_->mutex_);
  --events_->listeners_;
}

int Events::listeners() const {
  const std::lock_guard lock(mutex_);
  return listeners_;
}

std::string as_stream(const Events::Event& event) {
  return "id: " + std::to_string(event.id) + "\nevent: " + event.name +
         "\ndata: {\"sequence\":" + std::to_string(event.sequence) + "}\n\n";
}

}  // namespace stillroom::service
