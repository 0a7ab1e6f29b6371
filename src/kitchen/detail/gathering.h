#pragma once

#include "kitchen/batch.h"
#include "kitchen/detail/amounts.h"

/// The first step of a batch, and what good looks like at each. Inside kitchen/ only.
namespace stillroom::kitchen::detail {

/// Puts one step in front that names everything the batch takes, all loads together: beside `first` (what else the
/// recipe takes) jars, lids, acid, salt and equipment of every stage, and the small things of data/kitchen/gather.csv.
/// A route that wants nothing laid ready gets no such step.
void add_gather_step(BatchCard& card, const almanac::Route& route, const Scale& scale, std::vector<std::string> first);

/// Fills Step::looks_right by the key of its stage.
[[nodiscard]] Step looking_right(Step step);
void say_what_looks_right(BatchCard& card);

}  // namespace stillroom::kitchen::detail
