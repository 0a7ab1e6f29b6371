#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "service/house.h"

namespace stillroom::service {
namespace {

using nlohmann::json;

TEST(Planner, PlansForTheOneWhoAsksWhenNoThreadRuns) {
  House house;
  house.bring_in("20 lb pears, ripe, on the counter");
  const auto planned = house.service.planner.latest();
  ASSERT_TRUE(planned) << planned.error().message;
  EXPECT_EQ((*planned)->sequence, house.house.ledger.state().sequence);
  EXPECT_EQ((*planned)->snapshot.lots.size(), 1U);
}

TEST(Planner, MarksADayDrawnFromAPlanThatDoesNotKnowTheLastEntries) {
  House house;
  house.bring_in("20 lb pears, ripe, on the counter");
  EXPECT_FALSE(json::parse(house.get("/day").body).at("plan_stale"));
  house.bring_in("5 lb plums, soft, on the counter");  // behind the planner's back
  EXPECT_TRUE(json::parse(house.get("/day").body).at("plan_stale"));
  house.service.planner.wake();
  EXPECT_FALSE(json::parse(house.get("/day").body).at("plan_stale"));
}

TEST(Planner, PlansAgainInTheBackgroundAndSaysSo) {
  House house;
  const std::uint64_t none = house.service.events.newest();
  house.service.planner.start();
  ASSERT_TRUE(house.service.planner.latest());
  const auto first = house.service.events.after(none, std::chrono::seconds(20));  // told only after it can be had
  ASSERT_FALSE(first.empty());
  const std::uint64_t before = first.back().id;
  house.bring_in("20 lb pears, ripe, on the counter");
  house.service.planner.wake();
  const auto heard = house.service.events.after(before, std::chrono::seconds(20));
  ASSERT_FALSE(heard.empty());
  EXPECT_EQ(heard.front().name, "planned");
  EXPECT_EQ(heard.front().sequence, house.house.ledger.state().sequence);
  house.service.planner.stop();
}

TEST(Planner, PlansAgainWhenTimeHasPassed) {
  House house;
  ASSERT_TRUE(house.service.planner.latest());
  house.now += std::chrono::minutes(6);
  ASSERT_TRUE(house.service.planner.latest());  // the old one, and a new one is wanted
  const auto planned = house.service.planner.latest();
  ASSERT_TRUE(planned);
  EXPECT_EQ((*planned)->at, house.now);
}

}  // namespace
}  // namespace stillroom::service
