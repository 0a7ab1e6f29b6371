#include "service/routes.h"

#include <algorithm>

#include "app/json.h"
#include "service/doing.h"
#include "service/guard.h"
#include "service/looking.h"
#include "service/pairing.h"
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
      {"GET", "/looks",
       [](Service& s) -> Endpoint {
         return GetLooks{s.household, s.planner};
       }},
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
      {"GET", "/pairing", [](Service& s) -> Endpoint { return GetPairing{s.share}; }, Access::everyone},
      {"POST", "/pairing", [](Service& s) -> Endpoint { return PostPairing{s.share}; }, Access::everyone},
      {"POST", "/pairing/code", [](Service& s) -> Endpoint { return PostPairingCode{s.share}; }, Access::computer},
      {"GET", "/devices", [](Service& s) -> Endpoint { return GetDevices{s.share}; }, Access::trusted},
      {"POST", "/devices/withdraw",
       [](Service& s) -> Endpoint {
         return PostWithdraw{s.share, s.events};
       },
       Access::trusted},
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

Service::Service(app::House& house, Household::Clock clock, double plan_seconds, share::Share* shared)
    : household(house, std::move(clock)), planner(household, events, plan_seconds), share(shared) {}

std::optional<measure::Refusal> Service::kept_out(const Request& request, Access access) const {
  if (auto refused = barred(request, share == nullptr ? std::vector<std::string>() : share->host_names()))
    return refused;
  if (access == Access::everyone || request.door == Door::loopback) return std::nullopt;
  if (!device_of(share, request)) {
    return measure::Refusal{"not_paired",
                            "This device is not paired with the household.",
                            {"Open its page /pair and enter the passphrase, or a code from the household's computer."}};
  }
  if (access == Access::trusted && request.door != Door::secure) {
    return measure::Refusal{"not_from_here",
                            "This is not shown without TLS, where others on the network could read it.",
                            {"Open it on the household's computer, or over https."}};
  }
  if (access == Access::computer)
    return measure::Refusal{"not_from_here", "This can be done on the household's own computer only.", {}};
  return std::nullopt;
}

Reply Service::answer(const Request& request) {
  Request filled = request;
  const auto& all = routes();
  const auto route = std::find_if(all.begin(), all.end(), [&](const Route& one) {
    return one.method == request.method && fits(one.pattern, request.path, filled.id);
  });
  if (const auto refused = kept_out(request, route == all.end() ? Access::paired : route->access))
    return refusal(*refused);
  if (route != all.end()) return route->endpoint(*this)(filled);
  return refusal({"no_such_path", "There is nothing at " + request.method + " " + request.path + ".", {}});
}

}  // namespace stillroom::service
