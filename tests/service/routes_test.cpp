#include "service/routes.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "service/house.h"

namespace stillroom::service {
namespace {

using nlohmann::json;

TEST(Routes, FitPathsPartByPart) {
  std::string id;
  EXPECT_TRUE(fits("/lots/{id}", "/lots/7f3a", id));
  EXPECT_EQ(id, "7f3a");
  EXPECT_TRUE(fits("/lots/{id}/why", "/lots/row_7/why", id));
  EXPECT_EQ(id, "row_7");
  EXPECT_FALSE(fits("/lots/{id}", "/lots", id));
  EXPECT_FALSE(fits("/lots/{id}", "/lots/", id));
  EXPECT_FALSE(fits("/lots/{id}", "/lots/a/b", id));
  EXPECT_FALSE(fits("/day", "/days", id));
}

TEST(Routes, AnswerEveryPageOfAHouseholdWithALot) {
  House house;
  const std::string lot = house.bring_in("20 lb pears, ripe, on the counter");
  for (const std::string& path :
       {std::string("/household"), std::string("/day"), std::string("/ahead"), "/lots/" + lot, "/lots/" + lot + "/why",
        std::string("/larder"), std::string("/snapshot"), std::string("/crops"), std::string("/settings"),
        std::string("/start"), std::string("/history"), std::string("/help/mary")}) {
    const Reply reply = house.get(path);
    EXPECT_EQ(reply.status, 200) << path << ": " << reply.body.substr(0, 300);
    EXPECT_FALSE(json::parse(reply.body, nullptr, false).is_discarded()) << path;
  }
}

TEST(Routes, RefuseWhatIsNotThere) {
  House house;
  EXPECT_EQ(house.get("/lots/0123456789abcdef0123456789abcdef").status, 404);
  EXPECT_EQ(house.get("/batches/nothing").status, 404);
  EXPECT_EQ(house.get("/help/nobody").status, 404);
  const Reply nowhere = house.get("/cupboards");
  EXPECT_EQ(nowhere.status, 404);
  EXPECT_EQ(json::parse(nowhere.body).at("code"), "no_such_path");
  EXPECT_FALSE(json::parse(nowhere.body).at("ok"));
}

TEST(Routes, RefuseARequestFromElsewhereBeforeLookingAtIt) {
  House house;
  const Reply reply = house.service.answer({.method = "GET", .path = "/day", .host = "rebound.example"});
  EXPECT_EQ(reply.status, 403);
}

TEST(Settings, ComeInTheFormTheirEntriesTake) {
  House house;
  const json settings = json::parse(house.get("/settings").body);
  EXPECT_EQ(settings.at("values").at("zone"), "America/Chicago");
  const json person = settings.at("people").at(0);
  EXPECT_EQ(person.at("name"), "Mary");
  // Sent back as it came, it is taken: what a page does with its form.
  json entry = {{"v", 1},
                {"id", std::string(32, 'a')},
                {"happened", "2026-09-14T13:00:00Z"},
                {"kind", "person_set"},
                {"what", {{"person", person}}}};
  const json received = json::parse(house.post("/entries", json::array({entry}).dump()).body);
  EXPECT_TRUE(received.at(0).at("stored")) << received.dump();
  EXPECT_EQ(json::parse(house.get("/settings").body).at("people").at(0), person);
}

TEST(Process, IsAskedForTheHouseholdsAltitude) {
  House house;
  const Reply reply = house.get("/process", {{"food", "pears"}, {"jar", "quart"}});
  ASSERT_EQ(reply.status, 200) << reply.body;
  const json answer = json::parse(reply.body);
  ASSERT_FALSE(answer.at("choices").empty());
  for (const json& choice : answer.at("choices")) {
    EXPECT_LT(choice.at("altitude_over_ft"), 1250);
    EXPECT_FALSE(choice.at("source").get<std::string>().empty());
  }
  const Reply refused = house.get("/process", {{"food", "pumpkin"}, {"form", "butter"}});
  EXPECT_NE(refused.status, 200);
  EXPECT_FALSE(json::parse(refused.body).at("instead").empty());
}

TEST(Looks, HoldWhatEachPathAnswersForAllThatIsOpen) {
  House house;
  const std::string lot = house.bring_in("20 lb pears, ripe, on the counter");
  const Reply reply = house.get("/looks");
  ASSERT_EQ(reply.status, 200) << reply.body;
  const auto looks = nlohmann::json::parse(reply.body).at("looks");
  for (const char* path : {"/day", "/ahead", "/larder", "/snapshot", "/settings", "/history"})
    EXPECT_TRUE(looks.contains(path)) << path;
  ASSERT_TRUE(looks.contains("/lots/" + lot));
  for (const auto& [path, look] : looks.items()) {
    if (path == "/day" || path == "/ahead") continue;  // a newer plan may have come meanwhile
    EXPECT_EQ(look, nlohmann::json::parse(house.get(path).body)) << path;
  }
}

}  // namespace
}  // namespace stillroom::service
