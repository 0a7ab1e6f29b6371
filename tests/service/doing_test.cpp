#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <set>

#include "service/house.h"

namespace stillroom::service {
namespace {

using nlohmann::json;

json entry(char id, const std::string& kind, json what, bool live = true) {
  return {{"v", 1},       {"id", std::string(32, id)}, {"happened", "2026-09-14T13:00:00Z"}, {"live", live},
          {"kind", kind}, {"what", std::move(what)}};
}

json sent(House& house, const json& entries) {
  const Reply reply = house.post("/entries", entries.dump());
  EXPECT_EQ(reply.status, 200) << reply.body;
  return json::parse(reply.body);
}

TEST(ReadLine, UnderstandsALineAndChangesNothing) {
  House house;
  const auto before = house.house.ledger.state().sequence;
  const Reply reply = house.post("/read-line", R"({"line":"2 bu pears, firm, on the counter"})");
  ASSERT_EQ(reply.status, 200) << reply.body;
  EXPECT_EQ(json::parse(reply.body).at("condition"), "firm");
  EXPECT_EQ(house.house.ledger.state().sequence, before);
}

TEST(ReadLine, RefusesWithSomethingToDoInstead) {
  House house;
  const Reply reply = house.post("/read-line", R"({"line":"2 bu peers, firm, on the counter"})");
  EXPECT_EQ(reply.status, 404);
  EXPECT_FALSE(json::parse(reply.body).at("instead").empty());
}

TEST(Bodies, ThatAreNotWhatIsAskedForAreRefused) {
  House house;
  for (const char* body : {"", "{", "[]", "7", R"({"line":7})"}) {
    const Reply reply = house.post("/read-line", body);
    EXPECT_EQ(reply.status, 400) << body;
    EXPECT_EQ(json::parse(reply.body).at("code"), "bad_request");
  }
  EXPECT_EQ(house.post("/entries", "{}").status, 400);
  EXPECT_EQ(house.post("/batches/draft", R"({"route":"x","lots":"y"})").status, 400);
}

TEST(Entries, AreStoredOnceAndSaidToThoseWhoListen) {
  House house;
  const std::string lot = house.bring_in("20 lb pears, ripe, on the counter");
  const json moved = json::array({entry('b', "moved", {{"parcel", lot}, {"place", "cellar"}})});
  EXPECT_TRUE(sent(house, moved).at(0).at("stored"));
  const auto sequence = house.house.ledger.state().sequence;
  EXPECT_TRUE(sent(house, moved).at(0).at("stored"));
  EXPECT_EQ(house.house.ledger.state().sequence, sequence) << "the same id again is the same entry";
  const auto heard = house.service.events.after(0, std::chrono::milliseconds(0));
  ASSERT_FALSE(heard.empty());
  EXPECT_EQ(heard.front().name, "changed");
  EXPECT_EQ(heard.front().sequence, sequence);
}

TEST(Entries, LiveOnesAreRefusedOneByOneAndFactsAreKept) {
  House house;
  const std::string lot = house.bring_in("20 lb pears, ripe, on the counter");
  const json too_much = {{"parcel", lot}, {"mass_g", 90'000'000}};
  const json answer = sent(house, json::array({entry('c', "eaten_fresh", too_much),
                                               entry('d', "moved", {{"parcel", lot}, {"place", "cellar"}}),
                                               entry('e', "eaten_fresh", too_much, false)}));
  EXPECT_FALSE(answer.at(0).at("stored"));
  EXPECT_FALSE(answer.at(0).at("refusal").at("message").get<std::string>().empty());
  EXPECT_TRUE(answer.at(1).at("stored"));
  EXPECT_TRUE(answer.at(2).at("stored"));
  EXPECT_FALSE(json::parse(house.get("/day").body).at("discrepancies").empty());
}

TEST(Entries, TwoPhonesThatPackedUnderOneCodeEndWithTwoAndEitherLabelFindsBoth) {
  House house;
  const auto jars = [](char parcel, int packs) {
    return json{{"parcel", std::string(32, parcel)},
                {"food", "pear_european"},
                {"form", "canned"},
                {"pack", "quart jar"},
                {"packs", packs},
                {"mass_g", 3000},
                {"place", "cellar"},
                {"code", "00000-0"}};
  };
  sent(house, json::array({entry('1', "put_by_before", jars('a', 3), false)}));
  sent(house, json::array({entry('2', "put_by_before", jars('b', 2), false)}));
  const json larder = json::parse(house.get("/larder").body);
  std::set<std::string> codes;
  for (const json& shelf : larder.at("shelves")) {
    for (const json& pack : shelf.at("packs")) codes.insert(pack.at("code"));
  }
  EXPECT_EQ(codes, (std::set<std::string>{"00000-0", "00000-0/2"}));
  const auto either = app::resolve(house.house, "00000-0");
  ASSERT_FALSE(either.has_value());
  EXPECT_EQ(either.error().code, "not_unique");
  EXPECT_EQ(either.error().instead.size(), 2U);
  EXPECT_EQ(app::resolve(house.house, "00000-0/2")->hex(), std::string(32, 'b'));
  EXPECT_EQ(json::parse(house.get("/snapshot").body).at("codes").at(0), "00001-1");
}

TEST(Entries, LiveOnesNameFoodsThatAreKnown) {
  House house;
  const auto beans = [](char parcel, const char* food) {
    return json{{"parcel", std::string(32, parcel)},
                {"food", food},
                {"pack", "quart jar"},
                {"packs", 3},
                {"mass_g", 3000},
                {"place", "cellar"}};
  };
  const json refused = sent(house, json::array({entry('1', "put_by_before", beans('a', "green_bean"))})).at(0);
  EXPECT_FALSE(refused.at("stored"));
  EXPECT_EQ(refused.at("refusal").at("code"), "unknown_food");
  EXPECT_EQ(refused.at("refusal").at("message"),
            "What was put by before names the food \"green_bean\", which is not known here.");
  EXPECT_EQ(refused.at("refusal").at("instead"), json::array({"\"bean_snap\" for snap beans"}));
  const json misspelt = sent(house, json::array({entry('2', "put_by_before", beans('a', "tomatto"))})).at(0);
  EXPECT_EQ(misspelt.at("refusal").at("instead").at(0), "\"tomato\" for tomatoes");
  const json unheard_of = sent(house, json::array({entry('3', "put_by_before", beans('a', "xyzzyxyzzy"))})).at(0);
  EXPECT_FALSE(unheard_of.at("refusal").at("instead").empty());
  const json dates = {{"ready_from", "2026-09-20"}, {"ready_to", "2026-09-30"}};
  json standing = {{"key", "row"}, {"crop", "green_bean"}, {"expected_g", 1000}};
  standing.update(dates);
  const json others = sent(
      house, json::array(
                 {entry('4', "brought_in", {{"parcel", std::string(32, 'b')}, {"crop", "green_bean"}, {"mass_g", 900}}),
                  entry('5', "need_set", {{"food", "green_bean"}, {"per_year_kg", 20}}),
                  entry('6', "standing_set", standing)}));
  for (const json& other : others) EXPECT_EQ(other.at("refusal").at("code"), "unknown_food") << other;
  EXPECT_TRUE(json::parse(house.get("/larder").body).at("shelves").empty());
  EXPECT_TRUE(sent(house, json::array({entry('7', "put_by_before", beans('a', "bean_snap"))})).at(0).at("stored"));
  // A fact has happened, and a book that was written before still opens and shows what it holds.
  EXPECT_TRUE(
      sent(house, json::array({entry('8', "put_by_before", beans('c', "green_bean"), false)})).at(0).at("stored"));
  EXPECT_EQ(json::parse(house.get("/larder").body).at("shelves").at(0).at("packs").size(), 2U);
  EXPECT_EQ(house.get("/looks").status, 200);
  EXPECT_TRUE(app::check(house.house, house.now).empty());
}

TEST(Discrepancies, SayWhatEachSaidAndAreSettledOrTakenBack) {
  House house;
  const json one = {{"parcel", std::string(32, 'a')},
                    {"food", "pear_european"},
                    {"form", "canned"},
                    {"pack", "quart jar"},
                    {"packs", 1},
                    {"mass_g", 900},
                    {"place", "cellar"}};
  const json take = {{"parcel", std::string(32, 'a')}, {"packs", 1}};
  sent(house, json::array({entry('1', "put_by_before", one)}));
  sent(house, json::array({entry('2', "taken", take, false)}));
  sent(house, json::array({entry('3', "taken", take, false), entry('4', "taken", take, false)}));
  const auto open = [&] { return json::parse(house.get("/day").body).at("discrepancies"); };
  ASSERT_EQ(open().size(), 2U);
  const json first = open().at(0);
  EXPECT_EQ(first.at("about"), std::string(32, '3'));
  EXPECT_EQ(first.at("parcel"), std::string(32, 'a'));
  EXPECT_NE(first.at("said").get<std::string>().find("Took"), std::string::npos) << first;
  ASSERT_GE(first.at("before").size(), 2U);
  EXPECT_NE(first.at("before").at(0).at("words").get<std::string>().find("Took"), std::string::npos) << first;
  sent(house, json::array({entry('5', "discrepancy_settled", {{"about", std::string(32, '3')}, {"how", "left"}})}));
  ASSERT_EQ(open().size(), 1U);
  sent(house, json::array({entry('6', "undone", {{"entry", std::string(32, '4')}})}));
  EXPECT_TRUE(open().empty());
}

TEST(Entries, WhatABatchIsPackedIntoIsKeptTogetherOrNotAtAll) {
  House house;
  const std::string lot = house.bring_in("12 lb chicken, in the fridge");
  const Reply reply = house.post("/batches/draft", json{{"route", "chicken/part_out"}, {"lots", {lot}}}.dump());
  ASSERT_EQ(reply.status, 200) << reply.body;
  const json draft = json::parse(reply.body);
  ASSERT_TRUE(sent(house, json::array({entry('a', "batch_started", draft.at("entry"))})).at(0).at("stored"));
  const json batch = json::parse(house.get("/batches/" + draft.at("entry").at("batch").get<std::string>()).body);
  const json beside = batch.at("also");
  ASSERT_FALSE(beside.empty()) << "bones go on as a lot";
  const auto packing = [&](char first, char second, double packs) {
    json bones = {{"batch", batch.at("id")}, {"parcel", std::string(32, first)}, {"packs", 0}};
    json meat = {{"batch", batch.at("id")}, {"parcel", std::string(32, second)}, {"packs", packs}};
    bones.update({{"food", beside[0].at("food")}, {"form", beside[0].at("form")}, {"pack", ""}, {"code", ""}});
    bones.update({{"mass_g", beside[0].at("kg").get<double>() * 1000}, {"place", "fridge"}});
    meat.update({{"food", "chicken"}, {"form", batch.at("product_form")}, {"pack", "freezer bag"}});
    meat.update({{"place", "fridge"}, {"code", ""}});
    return sent(house, json::array({entry(first, "packed", bones), entry(second, "packed", meat)}));
  };
  const json refused = packing('1', '2', 100);
  for (const json& one : refused) {
    EXPECT_FALSE(one.at("stored"));
    EXPECT_EQ(one.at("refusal").at("code"), "more_packs_than_made");
  }
  EXPECT_EQ(house.get("/lots/" + std::string(32, '1')).status, 404) << "no bones without the packs they lie beside";
  for (const json& one : packing('3', '4', 3)) EXPECT_TRUE(one.at("stored")) << one.dump();
  EXPECT_EQ(house.get("/lots/" + std::string(32, '3')).status, 200);
}

TEST(Start, TakesAnAnswerAndPassesAnEmptyOneOver) {
  House house;
  EXPECT_EQ(house.post("/start", R"({"key":"freezer","answer":"5 cu ft"})").status, 200);
  EXPECT_EQ(house.post("/start", R"({"key":"waiting","answer":""})").status, 200);
  for (const json& question : json::parse(house.get("/start").body)) {
    if (question.at("key") == "freezer") {
      EXPECT_NE(question.at("answer"), "");
    }
    if (question.at("key") == "waiting") {
      EXPECT_TRUE(question.at("skipped"));
    }
  }
  EXPECT_EQ(house.post("/start", R"({"key":"altitude","answer":"very high"})").status, 422);
}

/// The first canned route the lot may take, by the household's own word.
std::string canned_route(House& house, const std::string& lot) {
  const json view = json::parse(house.get("/lots/" + lot).body);
  for (const json& route : view.at("routes")) {
    if (route.at("accepted") && route.at("method") == "canned") return route.at("route");
  }
  return "";
}

TEST(BatchDraft, ShowsThePublishedProcessAndBeginsNothing) {
  House house;
  const std::string lot = house.bring_in("20 lb pears, firm, on the counter");
  const std::string route = canned_route(house, lot);
  ASSERT_NE(route, "");
  const Reply reply = house.post("/batches/draft", json{{"route", route}, {"lots", {lot}}, {"kg", 5.0}}.dump());
  ASSERT_EQ(reply.status, 200) << reply.body;
  const json draft = json::parse(reply.body);
  EXPECT_NEAR(draft.at("card").at("kg_in").get<double>(), 5.0, 1e-9);
  ASSERT_FALSE(draft.at("card").at("process").is_null());
  EXPECT_NE(draft.at("card").at("process").at("source"), "");
  EXPECT_TRUE(house.house.ledger.state().batches.empty());

  // Sent as it is, it begins; the batch then shows the very process of the draft.
  sent(house, json::array({entry('f', "batch_started", draft.at("entry"))}));
  const std::string batch = draft.at("entry").at("batch");
  const Reply begun = house.get("/batches/" + batch);
  ASSERT_EQ(begun.status, 200) << begun.body;
  const json process = json::parse(begun.body).at("process");
  for (const char* field : {"time", "pressure", "headspace", "source", "place", "edition", "added_acid"}) {
    EXPECT_EQ(process.at(field), draft.at("card").at("process").at(field)) << field;
  }
}

TEST(BatchDraft, IsRefusedWithASafeAlternative) {
  House house;
  const std::string lot = house.bring_in("20 lb pears, ripe, on the counter");
  const Reply reply = house.post("/batches/draft", json{{"route", "pear/no_such_route"}, {"lots", {lot}}}.dump());
  EXPECT_EQ(reply.status, 404);
  EXPECT_FALSE(json::parse(reply.body).at("message").get<std::string>().empty());
}

TEST(Butchering, GivesEntriesThatThePageSendsAndBringsNothingInItself) {
  House house;
  const Reply drafted =
      house.post("/butchering/draft", R"({"line": "10 chickens, 5 lb each", "killed": "07:00", "whole": 3})");
  ASSERT_EQ(drafted.status, 200) << drafted.body;
  const json draft = json::parse(drafted.body);
  EXPECT_EQ(draft.at("day").at("count"), 10);
  EXPECT_TRUE(house.house.ledger.state().parcels.empty());
  json entries = json::array();
  int n = 0;
  for (json entry : draft.at("entries")) {
    entry["v"] = 1;
    entry["id"] = std::string(31, '0') + std::to_string(++n);
    entry["who"] = "";
    entry["live"] = true;
    entries.push_back(entry);
  }
  ASSERT_GE(n, 3);  // to part, to stay whole, giblets
  for (int twice = 0; twice < 2; ++twice) {
    const Reply sent = house.post("/entries", entries.dump());
    ASSERT_EQ(sent.status, 200) << sent.body;
    for (const json& one : json::parse(sent.body)) EXPECT_TRUE(one.at("stored")) << one.dump();
    EXPECT_EQ(house.house.ledger.state().parcels.size(), 3U);
  }
}

TEST(Undo, TakesBackTheNewest) {
  House house;
  const std::string lot = house.bring_in("20 lb pears, ripe, on the counter");
  ASSERT_EQ(house.post("/undo", "{}").status, 200);
  EXPECT_EQ(house.get("/lots/" + lot).status, 404);
}

}  // namespace
}  // namespace stillroom::service
