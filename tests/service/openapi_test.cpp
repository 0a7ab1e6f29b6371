#include <gtest/gtest.h>

#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>
#include <string>

#include "app/butchering.h"
#include "app/json.h"
#include "service/routes.h"

// docs/api/openapi.yaml against what the program really sends and answers. The file is read by its layout: paths stand
// two spaces in, schemas four, their properties eight.
namespace stillroom::service {
namespace {

using Names = std::set<std::string>;

struct Description {
  std::map<std::string, Names> methods;  ///< by path
  std::map<std::string, Names> fields;   ///< by schema
};

/// "name" of a line such as "    name:" or "        name: {...}" that stands exactly `indent` in; empty otherwise.
std::string name_at(const std::string& line, std::size_t indent) {
  if (line.find_first_not_of(' ') != indent) return "";
  const auto end = line.find(':', indent);
  return end == std::string::npos ? "" : line.substr(indent, end - indent);
}

Description described() {
  std::ifstream file(std::string(STILLROOM_SOURCE_DIR) + "/docs/api/openapi.yaml");
  Description d;
  std::string part, path, schema, line;  // part: "paths", "schemas" or something else
  bool properties = false;
  while (std::getline(file, line)) {
    if (const std::string name = name_at(line, 0); !name.empty()) part = name;
    if (name_at(line, 2) == "schemas") part = "schemas";
    if (part == "paths") {
      if (const std::string name = name_at(line, 2); !name.empty()) path = name;
      if (const std::string name = name_at(line, 4); !name.empty())
        d.methods[path].insert(name == "get" ? "GET" : "POST");
    }
    if (part == "schemas") {
      if (const std::string name = name_at(line, 4); !name.empty()) schema = name;
      if (const std::string name = name_at(line, 6); !name.empty()) properties = name == "properties";
      if (const std::string name = name_at(line, 8); properties && !name.empty()) d.fields[schema].insert(name);
    }
  }
  return d;
}

Names fields_of(const nlohmann::json& object) {
  Names names;
  for (const auto& [name, value] : object.items()) names.insert(name);
  return names;
}

class OpenApi : public testing::Test {
 protected:
  void same(const std::string& schema, const nlohmann::json& sent) {
    EXPECT_EQ(description_.fields[schema], fields_of(sent)) << schema;
  }
  Description description_ = described();
};

TEST_F(OpenApi, NamesEveryRouteAndNoOther) {
  std::map<std::string, Names> real = {{"/events", {"GET"}}};  // the stream is not in the table: it needs the socket
  for (const Route& route : routes()) real[std::string(route.pattern)].insert(std::string(route.method));
  EXPECT_EQ(description_.methods, real);
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
  same("BatchView", read(batch));
  same("StepView", read(batch).at("steps")[0]);
  same("ProcessView", read(batch).at("process"));
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
}

}  // namespace
}  // namespace stillroom::service
