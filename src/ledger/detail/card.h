#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

/// The few things the ledger reads out of a batch's frozen steps_json (docs/ledger.md, "The batch card"). Everything
/// else in it is the kitchen's business and kept as it came.
namespace stillroom::ledger::detail {

struct CardFacts {
  std::optional<double> packs;                        ///< packs the batch should yield
  std::string process_json;                           ///< the frozen heat process; empty when none
  std::vector<std::pair<std::string, double>> stock;  ///< taken when the batch starts
  std::vector<std::string> stages;                    ///< in order; empty when the card names none
  std::map<std::string, int> load_of;                 ///< canner load of a stage, from 1; others are of the whole batch
  std::set<std::string> cannot_pause;                 ///< stages the card says cannot be put down
  std::set<std::string> hold_points;                  ///< stages that must be finished before any after them begins
  std::optional<double> process_min;                  ///< minutes of the frozen heat process
  struct Load {
    std::string stage;
    std::optional<double> packs;
  };
  std::vector<Load> loads;  ///< steps at which the process runs; one named "process" when the card lists none
};
/// Empty text is an empty card. Nothing when the text is not a JSON object or a field has the wrong type.
[[nodiscard]] std::optional<CardFacts> card_facts(std::string_view steps_json);

}  // namespace stillroom::ledger::detail
