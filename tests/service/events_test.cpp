#include "service/events.h"

#include <gtest/gtest.h>

#include <thread>

namespace stillroom::service {
namespace {

using std::chrono::milliseconds;

TEST(Events, ReachAListenerInOrder) {
  Events events;
  events.publish("changed", 4);
  events.publish("planned", 4);
  const auto heard = events.after(0, milliseconds(0));
  ASSERT_EQ(heard.size(), 2U);
  EXPECT_EQ(heard[0].name, "changed");
  EXPECT_EQ(heard[1].name, "planned");
  EXPECT_EQ(heard[1].id, 2U);
  EXPECT_TRUE(events.after(2, milliseconds(0)).empty());
}

TEST(Events, AreWaitedFor) {
  Events events;
  std::thread other([&] { events.publish("changed", 9); });
  const auto heard = events.after(0, milliseconds(5000));
  other.join();
  ASSERT_EQ(heard.size(), 1U);
  EXPECT_EQ(heard[0].sequence, 9U);
}

TEST(Events, TellAListenerThatWasAwayTooLongToLookAgain) {
  Events events;
  for (std::uint64_t i = 1; i <= Events::kKept + 10; ++i) events.publish("planned", i);
  const auto heard = events.after(3, milliseconds(0));
  ASSERT_EQ(heard.size(), 1U);
  EXPECT_EQ(heard[0].name, "changed");
  EXPECT_EQ(heard[0].id, events.newest());
}

TEST(Events, TellAListenerOfAnEarlierRunToLookAgain) {
  Events events;
  events.publish("planned", 12);
  const auto heard = events.after(500, milliseconds(0));
  ASSERT_EQ(heard.size(), 1U);
  EXPECT_EQ(heard[0].name, "changed");
  EXPECT_EQ(heard[0].sequence, 12U);
}

TEST(Events, EndForEveryListenerWhenStopped) {
  Events events;
  std::thread other([&] { events.stop(); });
  EXPECT_TRUE(events.after(0, milliseconds(5000)).empty());
  other.join();
  EXPECT_TRUE(events.stopped());
}

TEST(Events, HaveFortySeatsThatAreGivenBack) {
  Events events;
  std::vector<Events::Seat> seats;
  for (int i = 0; i < Events::kMostListeners; ++i) {
    auto seat = events.sit();
    ASSERT_TRUE(seat);
    seats.push_back(std::move(*seat));
  }
  EXPECT_FALSE(events.sit());
  seats.pop_back();
  EXPECT_EQ(events.listeners(), Events::kMostListeners - 1);
  EXPECT_TRUE(events.sit());
}

TEST(Events, GoOverTheWireWithNumberNameAndSequence) {
  EXPECT_EQ(as_stream({3, "changed", 41}), "id: 3\nevent: changed\ndata: {\"sequence\":41}\n\n");
}

}  // namespace
}  // namespace stillroom::service
