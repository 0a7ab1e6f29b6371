#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "process/detail/conditions.h"
#include "process/detail/denial.h"
#include "process/detail/filters.h"
#include "process/detail/low_temperature.h"
#include "process/detail/near_spelling.h"
#include "process/detail/phrase.h"
#include "process/detail/refusals.h"
#include "process/process.h"

namespace stillroom::process {

namespace {

using almanac::ProcessRow;
using detail::Asked;
using detail::RowRefs;
using measure::Refusal;

/// Rows narrowed wish by wish; the first wish that leaves none is what the refusal speaks of.
class Narrowing {
 public:
  explicit Narrowing(RowRefs rows) : rows_(std::move(rows)) {}

  /// Keeps the rows that pass `keep`; when none does, `refuse` is asked with the rows there were.
  template <class Keep, class Refuse>
  Narrowing& keep(Keep keep, Refuse refuse) {
    if (refusal_) return *this;
    RowRefs next;
    std::ranges::copy_if(rows_, std::back_inserter(next), [&](const ProcessRow* row) { return keep(*row); });
    if (next.empty()) refusal_ = refuse(rows_);
    rows_ = std::move(next);
    return *this;
  }

  [[nodiscard]] const RowRefs& rows() const { return rows_; }
  [[nodiscard]] measure::Result<RowRefs> result() && {
    if (refusal_) return tl::unexpected(std::move(*refusal_));
    return std::move(rows_);
  }

 private:
  RowRefs rows_;
  std::optional<Refusal> refusal_;
};

/// Low-acid food in boiling water or steam is a denied practice, not just a missing row.
Refusal no_canner(const Asked& asked, const RowRefs& there) {
  const auto& q = asked.question;
  const bool wet = q.canner == "boiling_water" || q.canner == "steam";
  const bool all_low = std::ranges::all_of(there, [](const auto* row) { return row->acid_class == "low_acid"; });
  const auto* row =
      asked.almanac.processes.deny_by_key(q.canner == "steam" ? "low_acid_steam" : "low_acid_boiling_water");
  if (wet && all_low && row != nullptr) return detail::not_safe_to_can(asked, *row);
  const auto name = q.canner == "dial" || q.canner == "weighted" ? q.canner + "-gauge" : q.canner;
  return detail::no_row(asked, there, fmt::format("it is not published for the {} canner", detail::plain_words(name)));
}

Refusal no_jar(const Asked& asked, const RowRefs& there) {
  auto refusal = detail::no_row(
      asked, there, fmt::format("it is not published for {} jars", detail::jar_in_words(asked.question.jar)));
  if (const auto* row = asked.almanac.processes.deny_by_key("larger_jar"))
    refusal.instead.insert(refusal.instead.begin(), row->instead);
  return refusal;
}

/// The food in the form, recipe and state asked for, by any canner, in any jar, at any altitude.
Narrowing rows_in_form(const Asked& asked, RowRefs of_food) {
  const auto& q = asked.question;
  const auto style = detail::style_asked(asked);
  Narrowing rows(std::move(of_food));
  rows.keep([&](const auto& row) { return detail::fits_form(asked, row); },
            [&](const auto& there) { return detail::no_row(asked, there, "it is published in other forms only"); });
  rows.keep([&](const auto& row) { return detail::has_id(row, q.id); },
            [&](const auto& there) {
              return detail::no_row(asked, there, fmt::format("no process \"{}\" speaks for it", q.id));
            });
  rows.keep([&](const auto& row) { return style.empty() || row.style_of_pack == style; },
            [&](const auto& there) {
              return detail::no_row(asked, there, fmt::format("no {} pack is published for it", style));
            });
  if (detail::was_frozen(q)) {
    rows.keep([&](const auto& row) { return detail::takes_frozen(asked, row); },
              [&](const auto&) {
                return detail::condition_bars(
                    asked, "what was frozen raw goes only into cooked, hot-packed forms",
                    "cook it to a sauce, juice, jam or broth that has a process, or keep it frozen");
              });
  }
  return rows;
}

/// `rows` by the canner, jar and altitude asked for, and only such as were read.
Narrowing rows_that_fit(const Asked& asked, Narrowing rows) {
  const auto& q = asked.question;
  const RowRefs by_any_canner = rows.rows();
  rows.keep([&](const auto& row) { return detail::fits_canner(row, q.canner); },
            [&](const auto& there) { return no_canner(asked, there); });
  const RowRefs in_any_jar = rows.rows();
  rows.keep([&](const auto& row) { return detail::fits_jar(row, q.jar, in_any_jar); },
            [&](const auto& there) { return no_jar(asked, there); });
  rows.keep([&](const auto& row) { return detail::band_holds(row, asked.altitude_ft); },
            [&](const auto& there) {
              RowRefs elsewhere;
              std::ranges::copy_if(by_any_canner, std::back_inserter(elsewhere), [&](const auto* row) {
                return detail::fits_jar(*row, q.jar, by_any_canner) && detail::band_holds(*row, asked.altitude_ft);
              });
              return detail::altitude_outside(asked, there, elsewhere);
            });
  if (q.canner == "steam") {
    rows.keep([](const auto& row) { return detail::fits_steam(row); },
              [&](const auto& there) {
                return detail::no_row(asked, there, "its time here is longer than the 45 minutes a steam canner lasts");
              });
  }
  rows.keep([](const auto& row) { return row.status != almanac::RowStatus::recalled; },
            [&](const auto& there) { return detail::recalled_only(asked, *there.front()); });
  return rows;
}

/// "steam juicer" and its like: a question by them brings its own caution.
bool drawn_by_steam(const detail::Phrase& phrase) { return std::ranges::count(phrase.words, "steam") > 0; }

Choice choice_of(const ProcessRow& row, const Asked& asked) {
  const auto& q = asked.question;
  Choice c{row.id,
           row.food,
           row.form,
           row.style_of_pack,
           row.jar,
           row.method,
           row.time_min,
           row.pressure_psi,
           row.headspace_in,
           row.added_acid,
           row.requirements,
           row.altitude_over_ft,
           row.altitude_to_ft,
           row.notes,
           row.source,
           row.source_place,
           row.edition_read};
  if (q.canner == "steam") {
    c.requirements.emplace_back("manufacturer_approved_steam_canner");
    c.requirements.emplace_back("steam_canner_not_over_45_min");
  }
  if (row.form == "juice" && drawn_by_steam(asked.phrase)) c.requirements.emplace_back("steam_juice_to_the_boil");
  if (q.jar == "half_pint" && row.jar == "pint") c.requirements.emplace_back("half_pint_takes_pint_time");
  return c;
}

/// Feet, with the dust of unit conversion wiped off so that 304.8 m is 1,000 ft and not a hair above.
double clean_feet(measure::Altitude altitude) {
  constexpr double kDust = 1e6;
  return std::round(altitude.in_feet() * kDust) / kDust;
}

/// What is refused whatever the rows say; sets the altitude. The deny list and the state of the food come first: no
/// altitude makes them right.
std::optional<Refusal> refused_outright(Asked& asked) {
  const auto& q = asked.question;
  if (const auto* row = detail::denied(asked.almanac.processes, q, asked.phrase))
    return row->key == "makers_leaflet" ? detail::makers_leaflet(asked, *row) : detail::not_safe_to_can(asked, *row);
  if (const auto near = detail::near_denial(asked.almanac, q, asked.phrase)) return detail::near_not_safe(asked, *near);
  if (asked.phrase.heads.empty()) return detail::unknown_food(asked);
  if (auto refusal = detail::barred(asked)) return refusal;
  if (!detail::is_known_canner(q.canner))
    return detail::no_row(asked, {}, fmt::format("no process is published for a canner called \"{}\"", q.canner));
  if (!q.altitude || !std::isfinite(q.altitude->in_feet())) return detail::altitude_missing(asked);
  asked.altitude_ft = clean_feet(*q.altitude);
  if (asked.altitude_ft < 0) return detail::altitude_outside(asked, {}, {});
  return std::nullopt;
}

}  // namespace

measure::Result<std::vector<Choice>> choose(const almanac::Almanac& almanac, const Question& q) {
  const auto phrase = detail::read_phrase(almanac.crops, almanac.processes, q.food, q.form);
  Asked asked{almanac, q, phrase};
  if (auto refusal = refused_outright(asked)) return tl::unexpected(std::move(*refusal));
  auto of_food = detail::rows_for_food(asked);
  if (of_food.empty()) return tl::unexpected(detail::not_covered(asked));
  auto in_form = rows_in_form(asked, std::move(of_food));
  if (q.canner == "low_temperature") {
    auto named = std::move(in_form).result();
    if (!named) return tl::unexpected(std::move(named.error()));
    return detail::pasteurised(asked, std::move(*named));
  }
  auto rows = rows_that_fit(asked, std::move(in_form)).result();
  if (!rows) return tl::unexpected(std::move(rows.error()));
  detail::put_in_order(*rows);
  std::vector<Choice> choices;
  std::ranges::transform(*rows, std::back_inserter(choices), [&](const auto* row) { return choice_of(*row, asked); });
  return choices;
}

}  // namespace stillroom::process
