#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "process/detail/refusals.h"

/// The tests a row must pass, one wish each. Nothing here changes a row.
namespace stillroom::process::detail {

[[nodiscard]] bool holds(const std::vector<std::string>& list, std::string_view item);

/// Rows that speak for the food, in whatever form.
[[nodiscard]] RowRefs rows_for_food(const Asked& asked);
/// The row speaks for the food in the form asked for: every word beside the name is one it is asked for by.
[[nodiscard]] bool fits_form(const Asked& asked, const almanac::ProcessRow& row);
/// The row's id is `id`, or one of its equal time and pressure pairs ("..._opt_low").
[[nodiscard]] bool has_id(const almanac::ProcessRow& row, std::string_view id);
/// The pack asked for, or said in passing ("raw pack halves"); empty when neither.
[[nodiscard]] std::string style_asked(const Asked& asked);
[[nodiscard]] bool fits_canner(const almanac::ProcessRow& row, std::string_view canner);
/// The row's jar is the one asked for. A half-pint takes the published pint time where `rows` list no half-pint
/// (National Center for Home Food Preservation; University of California ANR). No other jar stands in for another.
[[nodiscard]] bool fits_jar(const almanac::ProcessRow& row, std::string_view jar, const RowRefs& rows);
[[nodiscard]] bool band_holds(const almanac::ProcessRow& row, double feet);
/// Acid food, at most 45 minutes (extension steam-canner guidance: the water lasts no longer).
[[nodiscard]] bool fits_steam(const almanac::ProcessRow& row);
/// A cooked, hot-packed form that takes what was frozen raw (common practice; the column takes_frozen of forms.csv).
[[nodiscard]] bool takes_frozen(const Asked& asked, const almanac::ProcessRow& row);

/// Foods and forms as the tables list them, then pack, canner, jar and pressure.
void put_in_order(RowRefs& rows);

}  // namespace stillroom::process::detail
