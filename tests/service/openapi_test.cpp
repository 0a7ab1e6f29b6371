#include <gtest/gtest.h>

#include <map>
#include <nlohmann/json.hpp>
#include <string>

#include "app/butchering.h"
#include "app/json.h"
#include "service/described.h"
#include "service/house.h"
#include "service/routes.h"

// docs/api/openapi.yaml against what the program really sends and answers. That it has every status is held wherever a
// test asks (tests/service/house.cpp).
namespace stillroom::service {
namespace {

Names fields_of(const nlohmann::json& object) {
  Names names;
  for (const auto& [name, value] : object.items()) names.insert(name);
  return names;
}

class OpenApi : public testing::Test {
 protected:
  /// Every field that is sent is described, and none is left out for want of something to say.
  void same(const std::string& schema, const nlohmann::json& sent) {
    const auto of_schema = [&](const std::map<std::string, Names>& by_schema) {
      const auto it = by_schema.find(schema);
      return it == by_schema.end() ? Names() : it->second;
    };
    EXPECT_EQ(of_schema(described().fields), fields_of(sent)) << schema;
    EXPECT_EQ(of_schema(described().required), fields_of(sent)) << schema;
    compared_.insert(schema);
  }
  Names compared_;
};

TEST_F(OpenApi, NamesEveryRouteAndNoOther) {
  std::map<std::string, Names> real = {{"/events", {"GET"}}};  // the stream is not in the table: it needs the socket
  for (const Route& route : routes()) real[std::string(route.pattern)].insert(std::string(route.method));
  EXPECT_EQ(described().methods, real);
}

TEST_F(OpenApi, NamesTheRefusalsOfWhatCannotBeRead) {
  House house;
  EXPECT_EQ(house.get("/recipes", {{"brine", "salty"}}).status, 400);
  EXPECT_EQ(house.get("/recipes", {{"brine", "5"}, {"amount", "some"}}).status, 422);
  EXPECT_EQ(house.get("/recipes/no such thing").status, 404);
  EXPECT_EQ(house.get("/process", {{"food", "pears"}, {"altitude", "high"}}).status, 400);
  EXPECT_EQ(house.get("/process", {{"food", "unheard-of"}}).status, 404);
  EXPECT_EQ(house.get("/learned", {{"crop", "unheard-of"}}).status, 404);
  for (const char* path : {"/lots/", "/batches/", "/help/"})
    EXPECT_EQ(house.get(path + std::string("none")).status, 404);
  EXPECT_EQ(house.get("/lots/none/why").status, 404);
  for (const auto& [path, methods] : described().methods) {
    const bool of_sharing = path.starts_with("/pairing") || path.starts_with("/devices");
    if (of_sharing || !methods.contains("POST")) continue;
    EXPECT_GE(house.post(path, "no json").status, 400) << path;
  }
}

TEST_F(OpenApi, NamesTheFieldsOfEveryView) {
  using nlohmann::json;
  using namespace app;
  const auto read = [](const auto& view) { return json::parse(app::to_json(view)); };
  DayView day;
  day.timers.resize(1);
  day.running.resize(1);
  day.today.resize(1);
  day.strips.resize(1);
  day.strips[0].marks.resize(1);
  day.discrepancies.resize(1);
  const json day_sent = read(day);
  same("DayView", day_sent);
  same("HouseholdView", day_sent.at("household"));
  same("NextView", day_sent.at("next"));
  same("TimerView", day_sent.at("timers")[0]);
  same("DiscrepancyView", day_sent.at("discrepancies")[0]);
  same("RunningView", day_sent.at("running")[0]);
  same("TaskView", day_sent.at("today")[0]);
  same("ObjectiveView", day_sent.at("objective"));
  const json& strip = day_sent.at("strips")[0];
  same("StripView", strip);
  same("StripMark", strip.at("marks")[0]);
  same("DaysLeftView", strip.at("days_left"));
  AheadView ahead;
  ahead.days.resize(1);
  same("AheadView", read(ahead));
  same("AheadDay", read(ahead).at("days")[0]);
  LotView lot;
  lot.routes.resize(1);
  lot.history.resize(1);
  same("LotView", read(lot));
  same("RouteChoice", read(lot).at("routes")[0]);
  same("HistoryLine", read(lot).at("history")[0]);
  ButcheringView butchering;
  butchering.lines.resize(1);
  same("ButcheringView", read(butchering));
  same("ButcheringLine", read(butchering).at("lines")[0]);
  LearnedView learned;
  learned.lines.resize(1);
  same("LearnedView", read(learned));
  same("LearnedLine", read(learned).at("lines")[0]);
  BatchView batch;
  batch.steps.resize(1);
  batch.process.emplace();
  batch.deadlines.resize(1);
  batch.troubles.resize(1);
  batch.troubles[0].spans.resize(1);
  batch.in_doubt.resize(1);
  batch.also.resize(1);
  same("BatchView", read(batch));
  same("StepView", read(batch).at("steps")[0]);
  same("ProcessView", read(batch).at("process"));
  same("DeadlineView", read(batch).at("deadlines")[0]);
  same("TroubleView", read(batch).at("troubles")[0]);
  same("TroubleSpan", read(batch).at("troubles")[0].at("spans")[0]);
  same("DoubtView", read(batch).at("in_doubt")[0]);
  same("AlsoMadeView", read(batch).at("also")[0]);
  LarderView larder;
  larder.shelves.resize(1);
  larder.eat_first.resize(1);
  same("LarderView", read(larder));
  same("LarderShelf", read(larder).at("shelves")[0]);
  same("PackView", read(larder).at("eat_first")[0]);
  Snapshot snapshot;
  snapshot.crops.resize(1);
  snapshot.places.resize(1);
  snapshot.recent.resize(1);
  same("Snapshot", read(snapshot));
  same("CropChoice", read(snapshot).at("crops")[0]);
  same("PlaceChoice", read(snapshot).at("places")[0]);
  same("RecentCrop", read(snapshot).at("recent")[0]);
  HelpView help;
  help.tasks.resize(1);
  same("HelpView", read(help));
  same("HelpTask", read(help).at("tasks")[0]);
  same("BringInDraft", read(BringInDraft{}));
  same("StartQuestion", read(std::vector<StartQuestion>(1))[0]);
  same("Received", read(std::vector<Received>(1))[0]);
  same("Why", read(planning::Why{}));
  House house;
  same("Refusal", json::parse(house.get("/lots/none").body));
  same("SettingsView", json::parse(house.get("/settings").body));
  // What is asked for, and what tests/service/share_test.cpp gets to see.
  for (const char* elsewhere :
       {"ButcheringAsk", "QrView", "PairingView", "PairingCode", "PairedDevice", "WayIn", "SetUpView", "DevicesView"})
    compared_.insert(elsewhere);
  for (const auto& [schema, fields] : described().fields) EXPECT_TRUE(compared_.contains(schema)) << schema;
}

}  // namespace
}  // namespace stillroom::service
