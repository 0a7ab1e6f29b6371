#include <algorithm>
#include <future>
#include <map>
#include <random>
#include <tuple>

#include "process/published.h"
#include "thorough.h"

// Whatever is asked, in whatever order: an answer is a row that was read, for a crop it covers.
namespace stillroom::process_tests {
namespace {

using almanac::ProcessRow;
using QuestionRng = std::mt19937_64;
using RowKey = std::tuple<std::string, std::string, std::string, double>;

template <class T>
const T& some(QuestionRng& rng, const std::vector<T>& list) {
  return list[rng() % list.size()];
}

std::string joined_words(const almanac::WordList& words) {
  std::string out;
  for (const auto& w : words) out += (out.empty() ? "" : " ") + w;
  return out;
}

/// Names, forms, denied words and plain nonsense to ask by.
struct Vocabulary {
  std::vector<std::string> names, forms, words;
  std::vector<std::string> ids;
};

const Vocabulary& vocabulary() {
  static const Vocabulary all = [] {
    Vocabulary v;
    const auto& table = published().processes;
    for (const auto& name : table.names) v.names.push_back(joined_words(name.words));
    for (const auto& crop : published().crops.all()) v.names.push_back(crop.key);
    v.forms.emplace_back();
    for (const auto& [id, form] : table.forms) {
      v.ids.push_back(id);
      for (const auto& w : form.words) v.forms.push_back(joined_words(w));
      for (const auto& w : form.said) v.forms.push_back(joined_words(w));
    }
    v.words.assign(table.known_words.begin(), table.known_words.end());
    return v;
  }();
  return all;
}

std::string any_food(QuestionRng& rng) {
  const auto& v = vocabulary();
  auto food = some(rng, v.names);
  const auto kind = rng() % 16;
  if (kind == 0) food += " " + some(rng, v.names);
  if (kind == 1) food = some(rng, v.words) + " " + some(rng, v.words);
  if (kind == 2 && food.size() > 3) food.erase(1 + rng() % (food.size() - 2), 1);
  return food;
}

process::Question any_question(QuestionRng& rng) {
  static const std::vector<std::string> packs{"", "", "", "hot", "raw"};
  static const std::vector<std::string> jars{"", "", "half_pint", "pint", "quart", "half_gallon", "gallon"};
  static const std::vector<std::string> canners{"",         "",         "boiling_water",   "steam", "dial",
                                                "weighted", "pressure", "low_temperature", "oven"};
  static const std::vector<std::string> conditions{"frozen_raw", "frost_killed_vine", "mould", "own_recipe", "odd"};
  static const std::vector<double> borders{-1,   0,    999,  1000, 1001, 2000, 2001,
                                           3000, 4000, 6000, 6001, 8000, 8001, 12000};
  const auto& v = vocabulary();
  auto q = ask(any_food(rng), some(rng, v.forms), some(rng, borders), some(rng, jars), some(rng, canners));
  if (rng() % 8 == 0) q.form += " " + some(rng, v.words);
  q.style_of_pack = some(rng, packs);
  if (rng() % 10 == 0) q.altitude.reset();
  if (rng() % 3 == 0) q.altitude = measure::Altitude::feet(static_cast<double>(rng() % 14000));
  if (rng() % 6 == 0) q.conditions.push_back(some(rng, conditions));
  if (rng() % 12 == 0) q.id = some(rng, v.ids);
  return q;
}

const std::map<RowKey, const ProcessRow*>& rows_by_key() {
  static const std::map<RowKey, const ProcessRow*> all = [] {
    std::map<RowKey, const ProcessRow*> out;
    for (const auto& row : published().processes.rows) out[{row.id, row.method, row.jar, row.altitude_over_ft}] = &row;
    return out;
  }();
  return all;
}

/// Some crop that the words name, or its parent, stands among those the row covers, or the words name a dish of it.
bool covered(const process::Question& q, const ProcessRow& row) {
  const auto& table = published().processes;
  const auto words = table.wording.words(q.food + " " + q.form);
  for (std::size_t at = 0; at < words.size(); ++at) {
    for (const auto& name : table.names) {
      if (!almanac::stands_at(words, at, name.words)) continue;
      if (std::ranges::count(name.ids, row.id) > 0) return true;
      if (name.crop.empty()) continue;
      const auto is = [&](const auto& key) { return published().crops.is_a(name.crop, key); };
      if (std::ranges::any_of(row.covers, is)) return true;
    }
  }
  return false;
}

/// What is wrong with a choice as an answer to the question; empty when nothing is.
std::string wrong_with(const process::Question& q, const process::Choice& c) {
  const bool cool = c.method == "low_temperature";
  const auto it = rows_by_key().find({c.id, cool ? "boiling_water" : c.method, c.jar, c.altitude_over_ft});
  if (it == rows_by_key().end()) return "no such row";
  const auto& row = *it->second;
  if (row.status == almanac::RowStatus::recalled) return "a row that was never read";
  if (!q.altitude) return "no altitude";
  const double feet = q.altitude->in_feet();
  const bool above = row.altitude_over_ft == 0 ? feet >= 0 : feet > row.altitude_over_ft;
  if (!above || feet > row.altitude_to_ft.value_or(1e9) + 1e-6) return "another altitude";
  if (!covered(q, row)) return "a crop it does not cover";
  if (cool) {
    const auto& low = published().processes.low_temperature.front();
    if (q.canner != "low_temperature" || std::ranges::count(low.ids, c.id) == 0)
      return "pasteurised where none is named";
    return c.time_min == low.time_min && !c.pressure_psi ? "" : "another time";
  }
  if (c.time_min != row.time_min || c.pressure_psi != row.pressure_psi || c.headspace_in != row.headspace_in)
    return "other figures";
  if (c.source != row.source || c.edition_read != row.edition_read) return "another source";
  const bool pint_for_half = q.jar == "half_pint" && c.jar == "pint";
  if (!q.jar.empty() && q.jar != c.jar && !pint_for_half) return "another jar";
  if ((q.canner == "boiling_water" || q.canner == "steam") && row.acid_class == "low_acid") return "low acid in water";
  for (const auto& bars : {"mould", "own_recipe", "odd"})
    if (std::ranges::count(q.conditions, bars) > 0) return "a condition that bars it";
  return {};
}

/// What came of a stretch of random questions; `wrong` tells of the first that was answered wrongly.
struct Stretch {
  std::size_t answered = 0;
  std::string wrong;
};

Stretch ask_many(std::uint64_t seed, std::size_t questions) {
  QuestionRng rng(seed);
  Stretch out;
  for (std::size_t n = 0; n < questions && out.wrong.empty(); ++n) {
    const auto q = any_question(rng);
    const auto answer = process::choose(published(), q);
    const auto where = "\"" + q.food + "\" \"" + q.form + "\" " + q.jar + " " + q.canner + ": ";
    if (!answer && answer.error().instead.empty()) out.wrong = where + "a refusal without a way on";
    if (!answer) continue;
    ++out.answered;
    for (const auto& c : *answer) {
      if (const auto wrong = wrong_with(q, c); !wrong.empty()) out.wrong = where + c.id + ": " + wrong;
    }
  }
  return out;
}

TEST(AnyQuestion, GetsARowThatWasReadForACropItCoversOrARefusalWithAWayOn) {
  const std::size_t questions = test::thorough() ? 1'000'002 : 1500;
  const std::uint64_t seed = test::thorough() ? std::random_device{}() : 20261125U;
  (void)vocabulary();
  (void)rows_by_key();
  // Two at once: the answers share nothing.
  auto other = std::async(std::launch::async, ask_many, seed + 1, questions / 2);
  const auto here = ask_many(seed, questions / 2);
  const auto there = other.get();
  EXPECT_EQ(here.wrong, "") << "seed " << seed;
  EXPECT_EQ(there.wrong, "") << "seed " << seed;
  EXPECT_GT(here.answered + there.answered, questions / 100) << "the questions must be such as have answers";
}

/// An answer does not depend on what was asked before.
TEST(AnyQuestion, IsAnsweredTheSameAgain) {
  QuestionRng rng(11);
  std::vector<process::Question> asked;
  std::vector<measure::Result<std::vector<process::Choice>>> first;
  for (int n = 0; n < 300; ++n) {
    asked.push_back(any_question(rng));
    first.push_back(process::choose(published(), asked.back()));
  }
  for (std::size_t n = asked.size(); n-- > 0;) {
    const auto again = process::choose(published(), asked[n]);
    ASSERT_EQ(again.has_value(), first[n].has_value());
    if (again) {
      EXPECT_EQ(*again, *first[n]);
    }
  }
}

}  // namespace
}  // namespace stillroom::process_tests
