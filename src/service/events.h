#pragma once

#include <chrono>
#include <condition_variable>
#include <cstdint>
#include <deque>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

namespace stillroom::service {

/// What has happened, for pages that listen: numbered, the newest kept in a ring, so that a page that was away for a
/// moment misses nothing and one that was away for long is told to look again.
class Events {
 public:
  struct Event {
    std::uint64_t id = 0;
    std::string name;            ///< "changed": there is a new entry; "planned": a newer plan is ready
    std::uint64_t sequence = 0;  ///< of the last entry it knows of
  };
  static constexpr std::size_t kKept = 256;
  /// A stream holds a thread; beyond this many a listener is turned away, so that requests always find one.
  static constexpr int kMostListeners = 40;

  void publish(std::string name, std::uint64_t sequence);
  /// Id of the newest event; 0 before the first.
  [[nodiscard]] std::uint64_t newest() const;
  /// Events after `id`, oldest first; waits up to `patience` for one. Empty when none came, on a nudge, or when all was
  /// stopped. An id from before the ring, or from another run of the program, yields one "changed" with the newest id
  /// and sequence.
  [[nodiscard]] std::vector<Event> after(std::uint64_t id, std::chrono::milliseconds patience);
  /// Wakes every listener once, without an event: each looks whether it may still listen.
  void nudge();
  /// Wakes every listener for good.
  void stop();
  [[nodiscard]] bool stopped() const;

  /// A place among the listeners, given back when destroyed.
  class Seat {
   public:
    explicit Seat(Events& events) : events_(&events) {}
    Seat(Seat&& other) noexcept : events_(other.events_) { other.events_ = nullptr; }
    Seat& operator=(Seat&&) = delete;
    Seat(const Seat&) = delete;
    Seat& operator=(const Seat&) = delete;
    ~Seat();

   private:
    Events* events_;
  };
  /// Nothing when all places are taken.
  [[nodiscard]] std::optional<Seat> sit();
  [[nodiscard]] int listeners() const;

 private:
  mutable std::mutex mutex_;
  std::condition_variable changed_;
  std::deque<Event> ring_;
  std::uint64_t newest_ = 0;
  std::uint64_t nudges_ = 0;
  int listeners_ = 0;
  bool stopped_ = false;
};

/// One event as it goes over the wire (text/event-stream).
[[nodiscard]] std::string as_stream(const Events::Event& event);

}  // namespace stillroom::service
