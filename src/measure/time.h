#pragma once

#include <chrono>
#include <cstdint>
#include <string>
#include <string_view>
#include <utility>

#include "measure/result.h"

namespace date {
class time_zone;
}

namespace stillroom::measure {

/// A moment, UTC, to the second. The core never reads a clock: moments are passed in.
using Instant = std::chrono::sys_seconds;
/// A calendar day (household's zone) without a time.
using Date = std::chrono::sys_days;
/// Wall-clock time in the household's zone.
using LocalTime = std::chrono::local_seconds;

/// "2026-09-14T06:30:00Z". Round trips with parse_instant.
[[nodiscard]] std::string to_iso(Instant t);
/// "2026-09-14".
[[nodiscard]] std::string to_iso(Date d);
/// Accepts "YYYY-MM-DDThh:mm:ssZ" and "YYYY-MM-DDThh:mmZ"; refuses (code "bad_time") anything else.
[[nodiscard]] Result<Instant> parse_instant(std::string_view text);
/// Accepts "YYYY-MM-DD"; refuses (code "bad_date") impossible days such as 2026-02-30.
[[nodiscard]] Result<Date> parse_date(std::string_view text);

/// IANA time zone arithmetic. A missing local time (spring gap) maps to the first moment after it,
/// an ambiguous one to the earlier moment.
class Zone {
 public:
  /// Refuses (code "unknown_zone") a name the system's zone database does not have.
  [[nodiscard]] static Result<Zone> named(std::string_view iana_name);
  [[nodiscard]] static Zone utc();
  [[nodiscard]] const std::string& name() const { return name_; }
  [[nodiscard]] LocalTime to_local(Instant t) const;
  [[nodiscard]] Instant to_instant(LocalTime t) const;
  [[nodiscard]] Date date_of(Instant t) const;

 private:
  Zone(std::string name, const date::time_zone* zone) : name_(std::move(name)), zone_(zone) {}
  std::string name_;
  const date::time_zone* zone_;  // in the process-wide zone database, never freed; null for UTC, which needs none
};

}  // namespace stillroom::measure
