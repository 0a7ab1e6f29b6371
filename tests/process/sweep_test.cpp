#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "process/published.h"
#include "thorough.h"

namespace stillroom::process_tests {
namespace {

using almanac::ProcessRow;
using almanac::RowStatus;

/// Just inside and just outside every border of every table, and far above.
constexpr double kHeights[] = {0,    1,    999,  1000, 1001, 2000, 2001,  3000, 3001,
                               4000, 4001, 6000, 6001, 8000, 8001, 10000, 14000};

bool in_band(const ProcessRow& row, double feet) {
  const bool above = row.altitude_over_ft == 0 ? feet >= 0 : feet > row.altitude_over_ft;
  return above && feet <= row.altitude_to_ft.value_or(1e9);
}

/// The choice carries the row's own fields, and no requirement the row does not have unless the question brought it.
bool verbatim(const process::Choice& c, const ProcessRow& row) {
  const auto same = std::tie(c.id, c.food, c.form, c.style_of_pack, c.jar, c.method, c.time_min, c.pressure_psi,
                             c.headspace_in, c.added_acid, c.requirements, c.altitude_over_ft, c.altitude_to_ft,
                             c.notes, c.source, c.source_place, c.edition_read) ==
                    std::tie(row.id, row.food, row.form, row.style_of_pack, row.jar, row.method, row.time_min,
                             row.pressure_psi, row.headspace_in, row.added_acid, row.requirements, row.altitude_over_ft,
                             row.altitude_to_ft, row.notes, row.source, row.source_place, row.edition_read);
  return same;
}

/// What the rows of one process id are asked by: a crop they cover, or a dish's name.
std::string food_of(const ProcessRow& row) {
  if (!row.covers.empty()) return row.covers.front();
  for (const auto& name : published().processes.names) {
    if (std::ranges::count(name.ids, row.id) == 0) continue;
    std::string food;
    for (const auto& w : name.words) food += w + " ";
    return food;
  }
  return {};
}

/// The row by its id, and by the word that must be said for it ("pickle") where there is one.
process::Question question_of(const ProcessRow& row, double feet) {
  std::string form;
  const auto& said = published().processes.forms.at(row.id).said;
  if (!said.empty()) {
    for (const auto& w : said.front()) form += w + " ";
  }
  if (row.jar == "half_gallon") form = "juice";  // the one food that jar is for
  auto q = ask(food_of(row), form, feet, row.jar, row.method);
  q.style_of_pack = row.style_of_pack;
  q.id = row.id;
  return q;
}

TEST(EveryRow, IsOfferedInItsBandVerbatimAndNowhereElse) {
  std::size_t offered = 0;
  for (const auto& row : published().processes.rows) {
    for (const double feet : kHeights) {
      const auto answer = process::choose(published(), question_of(row, feet));
      const bool there = answer && std::ranges::any_of(*answer, [&](const auto& c) { return verbatim(c, row); });
      const bool wanted = in_band(row, feet) && row.status != RowStatus::recalled;
      ASSERT_EQ(there, wanted) << row.id << " " << row.method << " " << row.jar << " at " << feet
                               << " ft: " << (answer ? "answered" : answer.error().message);
      offered += there;
    }
  }
  EXPECT_GT(offered, 1700U);
}

/// The row itself, whatever else the answer holds.
bool offers(const process::Question& q, const ProcessRow& row) {
  const auto answer = process::choose(published(), q);
  return answer && std::ranges::any_of(*answer, [&](const auto& c) {
           return std::tie(c.id, c.method, c.jar, c.altitude_over_ft) ==
                  std::tie(row.id, row.method, row.jar, row.altitude_over_ft);
         });
}

double inside(const ProcessRow& row) { return row.altitude_over_ft == 0 ? 0 : row.altitude_over_ft + 1; }

/// The published jar, or the half-pint that may take the pint's time: nothing larger, nothing else.
TEST(EveryRow, IsRefusedForEveryOtherJar) {
  std::size_t refused = 0;
  for (const auto& row : published().processes.rows) {
    for (const auto* jar : {"half_pint", "pint", "quart", "half_gallon", "gallon"}) {
      if (row.jar == jar || (row.jar == "pint" && std::string(jar) == "half_pint")) continue;
      auto q = question_of(row, inside(row));
      q.jar = jar;
      const auto answer = process::choose(published(), q);
      if (!answer) {
        ++refused;
        EXPECT_FALSE(answer.error().instead.empty()) << row.id << " " << jar;
        continue;
      }
      for (const auto& c : *answer)  // another row of the same id, printed for this very jar
        EXPECT_TRUE(c.jar == jar || (c.jar == "pint" && std::string(jar) == "half_pint")) << row.id << " " << jar;
    }
  }
  EXPECT_GT(refused, 2000U);
}

TEST(EveryRow, IsRefusedByEveryOtherCanner) {
  for (const auto& row : published().processes.rows) {
    for (const auto* canner : {"boiling_water", "dial", "weighted"}) {
      if (row.method.starts_with(canner)) continue;
      auto q = question_of(row, inside(row));
      q.canner = canner;
      EXPECT_FALSE(offers(q, row)) << row.id << " " << row.method << " by " << canner;
    }
  }
}

/// A crop the row does not cover, and a variety it leaves out, get no such row: not by its id, not by its form.
TEST(EveryRow, IsRefusedForEveryCropAndVarietyItDoesNotSpeakFor) {
  const auto& crops = published().crops;
  std::set<std::string> seen;
  std::size_t asked = 0, turn = 0;
  for (const auto& row : published().processes.rows) {
    if (!seen.insert(row.id).second) continue;
    const auto is_its_dish = [&](const almanac::Crop& crop) {  // "soup" is a food on the shelf and a dish
      const auto& names = published().processes.names;
      return std::ranges::any_of(names, [&](const auto& name) {
        return std::ranges::count(name.ids, row.id) > 0 && name.words == published().processes.wording.words(crop.key);
      });
    };
    for (const auto& crop : crops.all()) {
      // Each id with every 23rd crop, others for the next id; all with all in the long run.
      if (is_its_dish(crop) || (!test::thorough() && ++turn % 23 != 0)) continue;
      // The nearest of the crop and its parents that the row names decides.
      const auto* at = &crop;
      while (at != nullptr && std::ranges::count(row.covers, at->key) == 0 &&
             std::ranges::count(row.excludes, at->key) == 0)
        at = at->parent.empty() ? nullptr : crops.find(at->parent);
      if (at != nullptr && std::ranges::count(row.covers, at->key) > 0) continue;
      auto q = question_of(row, inside(row));
      q.food = crop.key;
      // Words that must be said may name a crop themselves ("plum" for grape-plum jelly): leave those out.
      if (!published().processes.forms.at(row.id).said.empty()) q.form.clear();
      EXPECT_FALSE(offers(q, row)) << row.id << " for " << crop.key;
      ++asked;
    }
    for (const auto& key : row.excludes) {
      auto q = question_of(row, inside(row));
      q.food = key;
      if (!published().processes.forms.at(row.id).said.empty()) q.form.clear();
      EXPECT_FALSE(offers(q, row)) << row.id << " for " << key;
    }
  }
  EXPECT_GT(asked, 2000U);
}

TEST(EveryRow, IsRefusedWithoutAnAltitude) {
  std::set<std::string> seen;
  for (const auto& row : published().processes.rows) {
    if (!seen.insert(row.id).second) continue;
    auto q = question_of(row, 0);
    q.altitude.reset();
    EXPECT_NE(code_of(q), "") << row.id;
  }
}

/// Everything any crop may be given, whatever the jar or canner.
TEST(EveryAnswer, IsARowOfTheTableThatHoldsTheAltitudeAndWasRead) {
  std::map<std::tuple<std::string, std::string, std::string, double>, const ProcessRow*> by_key;
  for (const auto& row : published().processes.rows) by_key[{row.id, row.method, row.jar, row.altitude_over_ft}] = &row;
  std::size_t answers = 0;
  for (const auto& crop : published().crops.all()) {
    for (const auto* form : {"", "pickle", "jam", "juice", "sauce", "puree", "halves", "whole", "broth", "soup"}) {
      for (const double feet : {0., 1000., 1001., 8001.}) {
        const auto answer = process::choose(published(), ask(crop.key, form, feet));
        if (!answer) continue;
        for (const auto& c : *answer) {
          const auto it = by_key.find({c.id, c.method, c.jar, c.altitude_over_ft});
          ASSERT_NE(it, by_key.end());
          EXPECT_TRUE(verbatim(c, *it->second)) << c.id;
          EXPECT_TRUE(in_band(*it->second, feet)) << c.id << " at " << feet;
          EXPECT_NE(it->second->status, RowStatus::recalled) << c.id;
          for (const auto& key : it->second->excludes)
            EXPECT_FALSE(published().crops.is_a(crop.key, key)) << crop.key << " by " << c.id;
          ++answers;
        }
      }
    }
  }
  EXPECT_GT(answers, 1000U);
}

TEST(EveryProcess, NeverFallsWithAltitude) {
  std::map<std::tuple<std::string, std::string, std::string>, process::Choice> last;
  for (const double feet : kHeights) {
    for (const auto& row : published().processes.rows) {
      if (!in_band(row, feet)) continue;
      const auto answer = process::choose(published(), question_of(row, feet));
      if (!answer) continue;
      for (const auto& c : *answer) {
        const auto [it, fresh] = last.try_emplace({c.id, c.method, c.jar}, c);
        EXPECT_GE(c.time_min, it->second.time_min) << c.id << " at " << feet;
        EXPECT_GE(c.pressure_psi.value_or(0), it->second.pressure_psi.value_or(0)) << c.id << " at " << feet;
        it->second = c;
      }
    }
  }
  EXPECT_GT(last.size(), 300U);
}

TEST(EveryLowAcidRow, IsNeverGivenToBoilingWaterOrSteam) {
  for (const auto& row : published().processes.rows) {
    if (row.acid_class != "low_acid") continue;
    for (const auto* canner : {"boiling_water", "steam"}) {
      auto q = question_of(row, 500);
      q.canner = canner;
      EXPECT_EQ(code_of(q), "not_safe_to_can") << row.id;
    }
  }
}

TEST(EveryRow, NamesRequirementsThatFollowFromIt) {
  for (const auto& row : published().processes.rows) {
    const auto has = [&](const char* w) { return std::ranges::count(row.requirements, w) == 1; };
    const auto where = row.id + " " + row.method + " " + row.jar;
    EXPECT_EQ(has("venting_10_min"), row.method != "boiling_water") << where;
    EXPECT_EQ(has("sterilised_jars"), row.method == "boiling_water" && row.time_min < 10) << where;
    EXPECT_TRUE(row.method != "boiling_water" || row.time_min <= 45 || has("no_steam_canner")) << where;
    const bool jar_is_acidified = row.food == "tomato" && row.added_acid.find("citric acid") != std::string::npos;
    EXPECT_TRUE(!jar_is_acidified || has("acid_in_every_jar")) << where;
    EXPECT_TRUE(row.edition_read != "1994" || has("compare_with_current_edition")) << where;
  }
}

TEST(EveryRow, KeepsItsCountOfRows) {
  // 535 fruit, 383 tomato, 180 pickle, 95 jelly, 366 vegetable and 204 meat rows were brought in; 116 of them recalled.
  EXPECT_EQ(published().processes.rows.size(), 1763U);
  EXPECT_EQ(std::ranges::count(published().processes.rows, RowStatus::recalled, &ProcessRow::status), 116);
}

}  // namespace
}  // namespace stillroom::process_tests
