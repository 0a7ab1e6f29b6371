#pragma once

#include "service/household.h"
#include "service/message.h"
#include "service/planner.h"

/// Endpoints that only look. Each is a small struct of what it needs and answers one request.
namespace stillroom::service {

struct GetHousehold {
  Household& household;
  Reply operator()(const Request& request) const;
};
struct GetDay {
  Household& household;
  Planner& planner;
  Reply operator()(const Request& request) const;
};
struct GetAhead {
  Household& household;
  Planner& planner;
  Reply operator()(const Request& request) const;
};
struct GetLot {
  Household& household;
  Planner& planner;
  Reply operator()(const Request& request) const;
};
/// Plans again with the lot waiting 1, 2 and 3 days: takes seconds, outside the household's lock.
struct GetWhy {
  Household& household;
  Planner& planner;
  Reply operator()(const Request& request) const;
};
struct GetBatch {
  Household& household;
  Reply operator()(const Request& request) const;
};
/// What the person named by `who` can help with now.
struct GetHelp {
  Household& household;
  Planner& planner;
  Reply operator()(const Request& request) const;
};
struct GetLarder {
  Household& household;
  Reply operator()(const Request& request) const;
};
struct GetSnapshot {
  Household& household;
  Reply operator()(const Request& request) const;
};
/// Every look at one moment, by its path: what a device keeps so that whatever is open in the household opens there
/// without a signal.
struct GetLooks {
  Household& household;
  Planner& planner;
  Reply operator()(const Request& request) const;
};
struct GetCrops {
  Household& household;
  Reply operator()(const Request& request) const;
};
/// What the household has set down about itself, each part in the form its own entry takes.
struct GetSettings {
  Household& household;
  Reply operator()(const Request& request) const;
};
struct GetStart {
  Household& household;
  Reply operator()(const Request& request) const;
};
struct GetHistory {
  Household& household;
  Reply operator()(const Request& request) const;
};
/// What own batches make of the published figures.
struct GetLearned {
  Household& household;
  Reply operator()(const Request& request) const;
};
/// Published heat processes, for the household's altitude unless another is asked for.
struct GetProcess {
  Household& household;
  Reply operator()(const Request& request) const;
};
/// Tested recipes, and the household's altitude and units for them.
struct GetRecipes {
  Household& household;
  Reply operator()(const Request& request) const;
};
/// One recipe scaled to `amount`, or what is on file for a crop.
struct GetRecipe {
  Household& household;
  Reply operator()(const Request& request) const;
};

}  // namespace stillroom::service
