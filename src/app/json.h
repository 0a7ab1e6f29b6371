#pragma once

#include <string>
#include <vector>

#include "app/app.h"
#include "app/views.h"

/// Views as JSON text; field names are those of views.h. The only JSON the command line and the service print.
namespace stillroom::app {

[[nodiscard]] std::string to_json(const HouseholdView& v);
[[nodiscard]] std::string to_json(const std::vector<StartQuestion>& v);
[[nodiscard]] std::string to_json(const DayView& v);
[[nodiscard]] std::string to_json(const AheadView& v);
[[nodiscard]] std::string to_json(const ForecastView& v);
[[nodiscard]] std::string to_json(const LotView& v);
[[nodiscard]] std::string to_json(const BatchView& v);
[[nodiscard]] std::string to_json(const std::vector<BatchView>& v);
[[nodiscard]] std::string to_json(const std::vector<TimerView>& v);
[[nodiscard]] std::string to_json(const LarderView& v);
[[nodiscard]] std::string to_json(const LearnedView& v);
[[nodiscard]] std::string to_json(const HelpView& v);
[[nodiscard]] std::string to_json(const Snapshot& v);
[[nodiscard]] std::string to_json(const BringInDraft& v);
[[nodiscard]] std::string to_json(const std::vector<HistoryLine>& v);
[[nodiscard]] std::string to_json(const std::vector<TroubleView>& v);
[[nodiscard]] std::string to_json(const TroubleAnswer& v);
[[nodiscard]] std::string to_json(const std::vector<Received>& v);
[[nodiscard]] std::string to_json(const CsvBringIn& v);
[[nodiscard]] std::string to_json(const planning::Why& v);
/// `about` (a JSON object of almanac::to_json) with the lines of `learned` as its field "learned".
[[nodiscard]] std::string about_json(const std::string& about, const LearnedView& learned);
/// {"ok":false,"code","message","instead":[...]}
[[nodiscard]] std::string to_json(const measure::Refusal& r);
/// {"ok":...,"faults":[...]}
[[nodiscard]] std::string checked_json(const std::vector<std::string>& faults);
/// {"ok":true,"id":...}
[[nodiscard]] std::string done_json(const std::string& id);

}  // namespace stillroom::app
