#include "process/published.h"

namespace stillroom::process_tests {
namespace {

process::Question question_of(almanac::RowReader& r) {
  auto q = ask(r.text("food"), r.text("form"), 0, r.text("jar"), r.text("canner"));
  const auto feet = r.number("altitude_ft", -2000, 30000);
  q.altitude = feet ? std::optional(measure::Altitude::feet(*feet)) : std::nullopt;
  if (const auto condition = r.text("condition"); !condition.empty()) q.conditions = {condition};
  return q;
}

TEST(RefusedWordings, AreRefusedWithTheirCodeAndAWayOn) {
  const auto table = reference_file("process_refusals.csv",
                                    {"food", "form", "jar", "canner", "altitude_ft", "condition", "code", "source"});
  ASSERT_GE(table.rows.size(), 60U);
  for (std::size_t i = 0; i < table.rows.size(); ++i) {
    almanac::RowReader r(table, i);
    const auto answer = process::choose(published(), question_of(r));
    const auto where = "row " + std::to_string(i + 1) + ": " + r.text("food") + " " + r.text("form");
    ASSERT_FALSE(answer.has_value()) << where << " was given " << answer->front().id;
    EXPECT_EQ(answer.error().code, r.text("code")) << where << ": " << answer.error().message;
    EXPECT_FALSE(answer.error().message.empty()) << where;
    ASSERT_FALSE(answer.error().instead.empty()) << where;
    for (const auto& way : answer.error().instead) EXPECT_FALSE(way.empty()) << where;
    EXPECT_FALSE(r.error()) << r.error()->message;
  }
}

TEST(RefusedWordings, OfPlainCauliflowerSayThatPickledMayBeAskedFor) {
  const auto answer = process::choose(published(), ask("cauliflower"));
  ASSERT_FALSE(answer.has_value());
  EXPECT_NE(answer.error().instead.at(1).find("pickle"), std::string::npos) << answer.error().instead.at(1);
  EXPECT_EQ(code_of(ask("cauliflower", "pickled")), "");
}

TEST(RefusedWordings, OfBerriesSayWhichBerriesAreCovered) {
  const auto answer = process::choose(published(), ask("berries"));
  ASSERT_FALSE(answer.has_value());
  EXPECT_NE(answer.error().instead.front().find("raspberry"), std::string::npos) << answer.error().instead.front();
  EXPECT_EQ(answer.error().instead.front().find("elderberry"), std::string::npos);
}

TEST(RefusedWordings, OfARecalledRowSayWhereItIsPrinted) {
  const auto answer = process::choose(published(), ask("Asian pears", "halves", 2500, "quart"));
  ASSERT_FALSE(answer.has_value());
  EXPECT_EQ(answer.error().code, "recalled_only");
  EXPECT_NE(answer.error().message.find("USDA AIB-539 Guide 2 (Pears, Asian"), std::string::npos);
  EXPECT_EQ(answer.error().message.find("minutes"), std::string::npos);
}

TEST(RefusedWordings, AboveTheDialTableNameACannerThatGoesHigher) {
  const auto answer = process::choose(published(), ask("green beans", "whole", 9000, "quart", "dial"));
  ASSERT_FALSE(answer.has_value());
  EXPECT_EQ(answer.error().code, "altitude_outside");
  EXPECT_NE(answer.error().instead.front().find("weighted-gauge"), std::string::npos);
}

TEST(RefusedWordings, OfAnimalFoodNeverProposeDrying) {
  for (const auto* food : {"duck", "ham", "blue crab", "ground beef, raw"}) {
    const auto answer = process::choose(published(), ask(food));
    ASSERT_FALSE(answer.has_value()) << food;
    for (const auto& way : answer.error().instead) EXPECT_EQ(way.find("dry it"), std::string::npos) << food;
  }
}

TEST(RefusedWordings, OfANameMistypedAskForTheNearOne) {
  const auto answer = process::choose(published(), ask("appel"));
  ASSERT_FALSE(answer.has_value());
  EXPECT_EQ(answer.error().instead.front(), "did you mean apple?");
}

}  // namespace
}  // namespace stillroom::process_tests
