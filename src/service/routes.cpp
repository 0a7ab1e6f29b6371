#include "service/routes.h"

#include "app/json.h"
#include "service/doing.h"
#include "service/guard.h"
#include "service/looking.h"
#include "service/service.h"

namespace stillroom::service {
namespace {

std::string_view next_part(std::string_view& path) {
  path.remove_prefix(path.starts_with('/') ? 1 : 0);
  const auto end = path.find('/');
  const std::string_view part = path.substr(0, end);
  path = end == std::string_view::npos ? std::string_view() : path.substr(end);
  return part;
}

}  // namespace

const std::vector<Route>& routes() {
  static const std::vector<Route> kRoutes = {
      {"GET", "/household", [](Service& s) -> Endpoint { return GetHousehold{s.household}; }},
      {"GET", "/day",
       [](Service& s) -> Endpoint {
         return GetDay{s.household, s.planner};
       }},
      {"GET", "/ahead",
       [](Service& s) -> Endpoint {
         return GetAhead{s.household, s.planner};
       }},
      {"GET", "/lots/{id}",
       [](Service& s) -> Endpoint {
         return GetLot{s.household, s.planner};
       }},
      {"GET", "/lots/{id}/why",
       [](Service& s) -> Endpoint {
         return GetWhy{s.household, s.planner};
       }},
      {"GET", "/batches/{id}", [](Service& s) -> Endpoint { return GetBatch{s.household}; }},
      {"GET", "/help/{id}",
       [](Service& s) -> Endpoint {
         return GetHelp{s.household, s.planner};
       }},
      {"GET", "/larder", [](Service& s) -> Endpoint { return GetLarder{s.household}; }},
      {"GET", "/snapshot", [](Service& s) -> Endpoint { return GetSnapshot{s.household}; }},
      {"GET", "/crops", [](Service& s) -> Endpoint { return GetCrops{s.household}; }},
      {"GET", "/settings", [](Service& s) -> Endpoint { return GetSettings{s.household}; }},
      {"GET", "/start", [](Service& s) -> Endpoint { return GetStart{s.household}; }},
      {"GET", "/history", [](Service& s) -> Endpoint { return GetHistory{s.household}; }},
      {"GET", "/learned", [](Service& s) -> Endpoint { return GetLearned{s.household}; }},
      {"GET", "/process", [](Service& s) -> Endpoint { return GetProcess{s.household}; }},
      {"GET", "/recipes", [](Service& s) -> Endpoint { return GetRecipes{s.household}; }},
      {"GET", "/recipes/{id}", [](Service& s) -> Endpoint { return GetRecipe{s.household}; }},
      {"POST", "/read-line", [](Service& s) -> Endpoint { return ReadLine{s.household}; }},
      {"POST", "/start",
       [](Service& s) -> Endpoint {
         return AnswerStart{s.household, s.planner, s.events};
       }},
      {"POST", "/butchering/draft", [](Service& s) -> Endpoint { return DraftButchering{s.household}; }},
      {"POST", "/batches/draft", [](Service& s) -> Endpoint { return DraftBatch{s.household}; }},
      {"POST", "/entries",
       [](Service& s) -> Endpoint {
         return PostEntries{s.household, s.planner, s.events};
       }},
      {"POST", "/undo",
       [](Service& s) -> Endpoint {
         return PostUndo{s.household, s.planner, s.events};
       }},
  };
  return kRoutes;
}

bool fits(std::string_view pattern, std::string_view path, std::string& id) {
  while (!pattern.empty() || !path.empty()) {
    const std::string_view wanted = next_part(pattern);
    const std::string_view given = next_part(path);
    if (wanted == "{id}") {
      if (given.empty()) return false;
      id = given;
    } else if (wanted != given) {
      return false;
    }
  }
  return true;
}

Service::Service(app::House& house, Household::Clock clock, double plan_seconds)
    : household(house, std::move(clock)), planner(household, events, plan_seconds) {}

Reply Service::answer(const Request& request) {
  if (const auto refused = barred(request)) return refusal(*refused);
  for (const Route& route : routes()) {
    Request filled = request;
    if (route.method == request.method && fits(route.pattern, request.path, filled.id)) {
      return route.endpoint(*this)(filled);
    }
  }
  return refusal({"no_such_path", "There is nothing at " + request.method + " " + request.path + ".", {}});
}

}  // namespace stillroom::service
