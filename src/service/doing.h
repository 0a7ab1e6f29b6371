#pragma once

#include "service/events.h"
#include "service/household.h"
#include "service/message.h"
#include "service/planner.h"

/// Endpoints that understand or change something. Whatever changes the household publishes "changed" and asks for a
/// plan.
namespace stillroom::service {

/// {line} -> BringInDraft; changes nothing.
struct ReadLine {
  Household& household;
  Reply operator()(const Request& request) const;
};
/// {key, answer}; an empty answer passes the question over.
struct AnswerStart {
  Household& household;
  Planner& planner;
  Events& events;
  Reply operator()(const Request& request) const;
};
/// {line, killed, place, whole} -> ButcheringView; changes nothing.
struct DraftButchering {
  Household& household;
  Reply operator()(const Request& request) const;
};
/// {route, lots, kg} -> {card, entry}: the batch as its page would show it, and the fields of the `batch_started` entry
/// with steps and heat process frozen in. Changes nothing.
struct DraftBatch {
  Household& household;
  Reply operator()(const Request& request) const;
};
/// [entries] -> [{id, stored, refusal}].
struct PostEntries {
  Household& household;
  Planner& planner;
  Events& events;
  Reply operator()(const Request& request) const;
};
/// {entry}; empty or absent takes back the newest.
struct PostUndo {
  Household& household;
  Planner& planner;
  Events& events;
  Reply operator()(const Request& request) const;
};

}  // namespace stillroom::service
