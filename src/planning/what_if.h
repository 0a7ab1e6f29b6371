#pragma once

#include <optional>
#include <string>
#include <vector>

#include "planning/plan.h"

/// What would come of one thing more, or less: the plan made again from the plan in hand for a household that differs.
/// Nothing is kept.
namespace stillroom::planning {

struct Change {
  enum class Kind {
    helper,     ///< one more pair of hands for `minutes` on `day`, of `age`, without special skills
    equipment,  ///< one more of `what` (an equipment key, or the beginning of its name)
    hour,       ///< `minutes` more of the hand `what` on `day`
    shopping,   ///< everything that is counted can be had from `day` on
    lost_day,   ///< nobody does anything on `day`
  } kind = Kind::helper;
  std::string what;
  int age = 30;
  int minutes = 60;
  std::optional<int> day;  ///< days after first_day; none = the first day with time for it
};

struct WhatIf {
  std::string change;          ///< "with one more pressure canner", "without Saturday"
  double gain = 0, noise = 0;  ///< USD against the plan made again unchanged; standard error over seeds. What is bought
                               ///< is paid for where its price is known
  std::vector<std::string> saved, let_go;  ///< lots let go before and not now, and the other way round
  double kg_more = 0;                      ///< put by, against before
  struct Bought {
    std::string item;
    double amount = 0, cost = 0;  ///< more than there is; USD, 0 = price not known
  };
  std::vector<Bought> bought;  ///< shopping: what the plan would use
  std::string sentence;        ///< in words a person would say
};

/// Refuses an invalid snapshot ("bad_snapshot"), a hand or equipment that is not known ("not_found", with near names),
/// a day that is not ahead ("bad_day"), a helper too young to help or hours that make no sense ("bad_change").
/// `options`: seed, schedules per re-solve, workers, threads and cancellation; the clock is not used.
[[nodiscard]] measure::Result<WhatIf> what_if(const Household& h, const Plan& plan, const Change& change,
                                              const PlanOptions& options);

/// What one more of something is worth, by the same re-solves; the scarcest first, at most `most` of them. An hour of
/// each grown-up hand on their fullest day, a dozen jars and lids, twenty litres of freezer, one more of each canner.
/// What makes no difference beyond the noise is left out.
[[nodiscard]] measure::Result<std::vector<WhatIf>> worth_of_next(const Household& h, const Plan& plan,
                                                                 const PlanOptions& options, std::size_t most = 5);

[[nodiscard]] std::string to_json(const WhatIf& w);
[[nodiscard]] std::string to_json(const std::vector<WhatIf>& list);

}  // namespace stillroom::planning
