#include "process/answer.h"

#include <nlohmann/json.hpp>

#include "process/published.h"

namespace stillroom::process_tests {
namespace {

using nlohmann::json;

TEST(ProcessJson, CarriesEveryFieldOfAChoice) {
  const auto out = json::parse(process::to_json(
      published().processes, process::choose(published(), ask("pears", "halves", 2900, "quart", "dial"))));
  EXPECT_EQ(out.at("ok"), true);
  ASSERT_EQ(out.at("choices").size(), 1U);
  const auto& c = out.at("choices").at(0);
  EXPECT_EQ(c.at("id"), "pears_hot");
  EXPECT_EQ(c.at("food"), "pear");
  EXPECT_EQ(c.at("form"), "halves");
  EXPECT_EQ(c.at("style_of_pack"), "hot");
  EXPECT_EQ(c.at("jar"), "quart");
  EXPECT_EQ(c.at("method"), "dial_gauge");
  EXPECT_EQ(c.at("time_min"), 10);
  EXPECT_EQ(c.at("pressure_psi"), 7);  // 2,001 to 4,000 ft, acid foods in a dial-gauge canner
  EXPECT_EQ(c.at("headspace_in"), 0.5);
  EXPECT_EQ(c.at("added_acid"), "");
  EXPECT_TRUE(c.at("requires").is_array());
  EXPECT_EQ(c.at("source"), "USDA AIB-539 Guide 2");
  EXPECT_FALSE(c.at("source_place").get<std::string>().empty());
  EXPECT_FALSE(c.at("edition_read").get<std::string>().empty());
}

TEST(ProcessJson, WritesNullWhereThereIsNoPressure) {
  const auto out = json::parse(process::to_json(
      published().processes, process::choose(published(), ask("pears", "halves", 500, "", "boiling_water"))));
  EXPECT_TRUE(out.at("choices").at(0).at("pressure_psi").is_null());
}

TEST(ProcessJson, OfARefusalSaysCodeMessageAndWaysOn) {
  const auto out =
      json::parse(process::to_json(published().processes, process::choose(published(), ask("pumpkin", "mashed"))));
  EXPECT_EQ(out.at("ok"), false);
  EXPECT_EQ(out.at("code"), "not_safe_to_can");
  EXPECT_FALSE(out.at("message").get<std::string>().empty());
  EXPECT_GE(out.at("instead").size(), 1U);
  EXPECT_FALSE(out.contains("choices"));
}

TEST(ProcessJson, SurvivesBytesThatAreNoText) {
  const auto text = process::to_json(published().processes, process::choose(published(), ask("\xff\xfe qqqq\x01")));
  EXPECT_NO_THROW({ EXPECT_EQ(json::parse(text).at("ok"), false); });
}

TEST(ProcessText, ReadsLikeACardWithItsSourceAndCautions) {
  const auto text = process::to_text(published().processes,
                                     process::choose(published(), ask("green beans", "whole", 2900, "quart", "dial")));
  EXPECT_NE(text.find("25 minutes at 12 psi"), std::string::npos) << text;
  EXPECT_NE(text.find("2,001 to 4,000 ft"), std::string::npos) << text;
  EXPECT_NE(text.find("Processed as published in"), std::string::npos) << text;
  EXPECT_NE(text.find("vent 10 minutes"), std::string::npos) << text;
  EXPECT_NE(text.find("canner's own manual"), std::string::npos) << text;
  EXPECT_NE(text.find("extension service"), std::string::npos) << text;
}

TEST(ProcessText, SaysWhatFreshWeightFillsTheJarsOfThatForm) {
  const auto& table = published().processes;
  const auto text = [&](const process::Question& q) {
    return process::to_text(table, process::choose(published(), q));
  };
  // USDA AIB-539 Guide 2: 17 1/2 lb of pears for 7 quarts, 11 lb for 9 pints; Guide 4: 14 lb of snap beans for 7
  // quarts.
  EXPECT_NE(text(ask("pears", "halves")).find("17.5 lb fresh for 7 quarts, 11 lb fresh for 9 pints"),
            std::string::npos);
  EXPECT_NE(text(ask("green beans", "", 500, "quart")).find("14 lb fresh for 7 quarts (USDA"), std::string::npos);
  EXPECT_EQ(text(ask("peaches", "jam")).find("lb fresh"), std::string::npos);
}

TEST(ProcessText, TellsRecipesOfOneFormApart) {
  const auto text = process::to_text(published().processes, process::choose(published(), ask("beets", "pickled", 500)));
  EXPECT_NE(text.find("Beet, pickle (hot pack): beets no sugar hot\n"), std::string::npos) << text;
}

TEST(ProcessText, NeverCallsAnAnswerSafe) {
  for (const auto& crop : published().crops.all()) {
    for (const auto* form : {"", "pickle", "pie filling", "jam"}) {
      const auto answer = process::choose(published(), ask(crop.key, form));
      if (!answer) continue;
      auto text = process::to_text(published().processes, answer);
      for (char& c : text) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
      EXPECT_EQ(text.find("safe"), std::string::npos) << crop.key << "\n" << text;
    }
  }
}

TEST(ProcessText, HasASentenceForEveryRequirement) {
  for (const auto& row : published().processes.rows) {
    for (const auto& word : row.requirements)
      EXPECT_TRUE(published().processes.requirements.contains(word)) << row.id << ": " << word;
  }
  for (const auto* word :
       {"manufacturer_approved_steam_canner", "steam_canner_not_over_45_min", "half_pint_takes_pint_time"})
    EXPECT_TRUE(published().processes.requirements.contains(word)) << word;
}

TEST(ProcessText, KeepsProseWithinEightyColumns) {
  const auto text = process::to_text(published().processes, process::choose(published(), ask("pumpkin", "mashed")));
  std::size_t start = 0;
  while (start < text.size()) {
    const auto end = text.find('\n', start);
    EXPECT_LE(end - start, 80U) << text.substr(start, end - start);
    start = end + 1;
  }
}

TEST(QuestionWords, AreReadAsTyped) {
  const auto q = process::question_from_words({"pear", "halves", "hot", "half-pint", "boiling-water", "2,900 ft"});
  ASSERT_TRUE(q.has_value());
  EXPECT_EQ(q->jar, "half_pint");
  EXPECT_EQ(q->canner, "boiling_water");
  EXPECT_EQ(q->style_of_pack, "hot");
  EXPECT_NEAR(q->altitude->in_feet(), 2900, 1e-9);
  EXPECT_FALSE(process::question_from_words({"pear", "", "", "", "", ""})->altitude.has_value());
  EXPECT_EQ(process::question_from_words({"pear", "", "", "", "dial-gauge", ""})->canner, "dial");
}

TEST(QuestionWords, RefuseAPackAndAnAltitudeThatAreNone) {
  EXPECT_EQ(process::question_from_words({"pear", "", "cold", "", "", "500"}).error().code, "wrong_use");
  EXPECT_EQ(process::question_from_words({"pear", "", "", "", "", "high"}).error().code, "wrong_use");
}

TEST(AltitudeWords, AreFeetUnlessMetresAreSaid) {
  EXPECT_NEAR(process::altitude_from_words("2900")->in_feet(), 2900, 1e-9);
  EXPECT_NEAR(process::altitude_from_words("880 m")->in_metres(), 880, 1e-9);
  EXPECT_NEAR(process::altitude_from_words("1,000 feet")->in_feet(), 1000, 1e-9);
  EXPECT_NEAR(process::altitude_from_words("-50")->in_feet(), -50, 1e-9);
  for (const auto* bad : {"", "m", "12 miles", "1-2", "inf", "1e5x"})
    EXPECT_FALSE(process::altitude_from_words(bad).has_value()) << bad;
}

}  // namespace
}  // namespace stillroom::process_tests
