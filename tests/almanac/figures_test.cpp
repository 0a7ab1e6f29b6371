#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <map>

#include "almanac/published_tables.h"
#include "reference_rows.h"

// Published figures through the typed look-ups: tests/reference/{keeping,yields,household}_figures.csv, each with its
// source. A row of the look-up is picked by the words in `where`.
namespace stillroom::almanac {
namespace {

struct Asked {
  std::string crop, where, quantity;
};
using Answer = std::optional<Span>;

Span one(double v) { return {v, v}; }

/// "slices;frozen;pint" against the given words, in order; a shorter `where` asks less.
bool picks(const std::string& where, const std::vector<std::string>& words) {
  std::size_t i = 0;
  std::size_t at = 0;
  while (at <= where.size() && i < words.size()) {
    const auto cut = where.find(';', at);
    const auto part = where.substr(at, cut == std::string::npos ? cut : cut - at);
    if (!part.empty() && part != words[i]) return false;
    if (cut == std::string::npos) return true;
    at = cut + 1;
    ++i;
  }
  return i < words.size();
}

template <class Row, class Words, class Value>
Answer pick(const measure::Result<Found<Row>>& found, const Asked& a, Words words, Value value) {
  if (!found) return std::nullopt;
  for (const auto* row : found->rows) {
    if (picks(a.where, words(*row))) return value(*row);
  }
  return std::nullopt;
}

const Crops& crops() { return published().crops; }
const Tables& tables() { return published().tables; }
using Words = std::vector<std::string>;

Answer frozen(const Asked& a) {
  return pick(
      tables().frozen(crops(), a.crop), a, [](const FrozenLife& r) { return Words{r.form}; },
      [&](const FrozenLife& r) -> Answer {
        if (a.quantity == "months") return r.months;
        return r.blanch_min ? Answer(one(*r.blanch_min)) : std::nullopt;
      });
}

Answer dried(const Asked& a) {
  return pick(
      tables().shelf_life(crops(), a.crop, "dried"), a, [](const ShelfLife& r) { return Words{r.form}; },
      [](const ShelfLife& r) -> Answer { return r.months; });
}

Answer drying(const Asked& a) {
  return pick(
      tables().drying(crops(), a.crop), a, [](const Drying& r) { return Words{r.form}; },
      [&](const Drying& r) -> Answer { return a.quantity == "hours" ? r.hours : one(r.yield_ratio); });
}

Answer curing(const Asked& a) {
  return pick(
      tables().curing(crops(), a.crop), a, [](const Curing& r) { return Words{r.way}; },
      [&](const Curing& r) -> Answer {
        if (a.quantity == "cure_days") return r.days;
        return a.quantity == "then_months" ? Answer(r.then_months) : r.temp_c;
      });
}

Answer respiration(const Asked& a) {
  return pick(
      tables().respiration(crops(), a.crop), a,
      [](const Respiration& r) { return Words{std::to_string(static_cast<int>(r.temp_c))}; },
      [](const Respiration& r) -> Answer { return r.rate; });
}

Answer cold(const Asked& a) {
  const auto fact = tables().cold_figure(a.where);
  return fact ? (*fact)->value : std::nullopt;
}

Answer container(const Asked& a) {
  const auto m = tables().pounds_in(crops(), a.where, a.crop);
  if (!m) return std::nullopt;
  return Span{measure::in_pounds(m->low), measure::in_pounds(m->high)};
}

Answer put_up(const Asked& a) {
  return pick(
      tables().put_up_yields(crops(), a.crop), a,
      [](const PutUpYield& r) {
        return Words{r.form, r.method, r.unit};
      },
      [](const PutUpYield& r) -> Answer { return r.range_lb; });
}

Answer poultry(const Asked& a) {
  return pick(
      tables().poultry_yield(crops(), a.crop), a, [](const PoultryYield& r) { return Words{r.class_note}; },
      [&](const PoultryYield& r) -> Answer {
        const auto v = a.quantity == "breast" ? r.breast : r.carcass_fraction;
        return v ? Answer(one(*v)) : std::nullopt;
      });
}

Answer garden(const Asked& a) {
  return pick(
      tables().garden(crops(), a.crop), a, [](const GardenRow& r) { return Words{r.as_grown}; },
      [](const GardenRow& r) -> Answer { return r.lb_per_100ft; });
}

Answer orchard(const Asked& a) {
  return pick(
      tables().orchard(crops(), a.crop), a, [](const OrchardYield& r) { return Words{r.size}; },
      [](const OrchardYield& r) -> Answer { return r.lb; });
}

Answer livestock(const Asked& a) {
  return pick(
      tables().livestock(crops(), a.crop), a,
      [](const LivestockFigure& r) {
        return Words{r.stock, r.measure};
      },
      [](const LivestockFigure& r) -> Answer { return r.value; });
}

Answer labour(const Asked& a) {
  return pick(
      tables().labour(crops(), a.crop), a, [](const Labour& r) { return Words{r.task}; },
      [](const Labour& r) -> Answer { return r.minutes; });
}

Answer nutrients(const Asked& a) {
  return pick(
      tables().nutrients(crops(), a.crop), a,
      [&](const Nutrients& r) { return Words{a.crop == "broth" ? r.food : r.form}; },
      [&](const Nutrients& r) -> Answer {
        if (a.quantity == "kcal") return one(r.kcal);
        return one((a.quantity == "protein_g" ? r.protein_g : r.vitamin_c_mg).value());
      });
}

Answer prices(const Asked& a) {
  return pick(
      tables().prices(crops(), a.crop), a,
      [](const Price& r) {
        return Words{r.food, r.form};
      },
      [](const Price& r) -> Answer { return r.usd; });
}

Answer need(const Asked& a) {
  return pick(
      tables().need(crops(), a.crop), a,
      [](const Need& r) {
        return Words{r.measure, r.food};
      },
      [](const Need& r) -> Answer { return r.amount; });
}

Answer supplies(const Asked& a) {
  for (const auto& s : tables().household.supplies) {
    if (!picks(a.where, {s.item, s.variant})) continue;
    return a.quantity == "life" ? s.life : Answer(one(s.volume_ml.value()));
  }
  return std::nullopt;
}

Answer outdoor(const Asked& a) {
  const auto work = tables().outdoor_work(a.where);
  return work ? Answer((*work)->temp_f) : std::nullopt;
}

const std::map<std::string, std::function<Answer(const Asked&)>, std::less<>>& questions() {
  static const std::map<std::string, std::function<Answer(const Asked&)>, std::less<>> all{
      {"frozen", frozen},           {"dried", dried},         {"drying", drying},       {"curing", curing},
      {"respiration", respiration}, {"cold", cold},           {"container", container}, {"put_up", put_up},
      {"poultry", poultry},         {"garden", garden},       {"orchard", orchard},     {"livestock", livestock},
      {"labour", labour},           {"nutrients", nutrients}, {"prices", prices},       {"need", need},
      {"supplies", supplies},       {"outdoor", outdoor}};
  return all;
}

class PublishedFigures : public testing::TestWithParam<const char*> {};

TEST_P(PublishedFigures, ComeThroughTheTypedLookUps) {
  auto table = reference_rows(GetParam());
  ASSERT_FALSE(table.rows.empty());
  for (std::size_t i = 0; i < table.rows.size(); ++i) {
    RowReader r(table, i);
    const Asked asked{r.text("crop"), r.text("where"), r.text("quantity")};
    const auto answer = questions().at(r.text("table"))(asked);
    const auto what = r.text("table") + " " + asked.crop + " " + asked.where + " (" + r.text("source") + ")";
    ASSERT_TRUE(answer) << what;
    EXPECT_NEAR(answer->low, r.required_number("low", -50, 1e4), 1e-3) << what;
    EXPECT_NEAR(answer->high, r.required_number("high", -50, 1e4), 1e-3) << what;
    ASSERT_FALSE(r.error()) << r.error()->message;
  }
}

INSTANTIATE_TEST_SUITE_P(Tables, PublishedFigures,
                         testing::Values("keeping_figures.csv", "yields_figures.csv", "household_figures.csv"));

/// The fitted temperature coefficients are those of the rates on file: ln(rate) on 1/T with one slope and an intercept
/// for each source; 0.011 is the rounding of the table.
TEST(Q10Table, FollowsFromTheRatesOnFile) {
  for (const auto& q : tables().keeping.q10) {
    std::map<std::string, std::map<double, double>> by_source;
    for (const auto& r : tables().keeping.respiration) {
      const bool same = r.crop == q.crop && (q.part.empty() || r.part == q.part);
      if (same && (r.crop != "potato" || r.part == q.part)) by_source[r.from.source][r.temp_c] = r.rate.middle();
    }
    double sxx = 0;
    double sxy = 0;
    for (const auto& [source, rates] : by_source) {
      if (rates.size() < 2) continue;
      double mx = 0;
      double my = 0;
      for (const auto& [t, rate] : rates) {
        mx += 1 / (t + 273.15) / static_cast<double>(rates.size());
        my += std::log(rate) / static_cast<double>(rates.size());
      }
      for (const auto& [t, rate] : rates) {
        sxx += std::pow(1 / (t + 273.15) - mx, 2);
        sxy += (1 / (t + 273.15) - mx) * (std::log(rate) - my);
      }
    }
    ASSERT_GT(sxx, 0) << q.crop;
    EXPECT_NEAR(std::exp(-sxy / sxx * (1 / 278.15 - 1 / 288.15)), q.fitted, 0.011) << q.crop;
  }
}

}  // namespace
}  // namespace stillroom::almanac
