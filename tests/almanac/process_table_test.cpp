#include "almanac/process_table.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>

#include "almanac/crops.h"
#include "almanac/csv.h"

namespace stillroom::almanac {
namespace {

const Crops& crops() {
  static const Crops loaded = load_crops().value();
  return loaded;
}

/// The published files with one of them replaced.
class Files {
 public:
  Files& replace(const std::string& name, std::string text) {
    other_[name] = std::move(text);
    return *this;
  }
  /// Replaces, in one file, the first occurrence of `from` by `to`.
  Files& change(const std::string& name, const std::string& from, const std::string& to) {
    std::string text(embedded_file("canning/" + name));
    const auto at = text.find(from);
    EXPECT_NE(at, std::string::npos) << name << " holds no \"" << from << "\"";
    return replace(name, text.replace(at, from.size(), to));
  }
  [[nodiscard]] std::string fault() const {
    const auto table = read_process_table(crops(), [this](std::string_view name) {
      const auto it = other_.find(std::string(name));
      return it == other_.end() ? embedded_file("canning/" + std::string(name)) : std::string_view(it->second);
    });
    if (table) return {};
    EXPECT_EQ(table.error().code, "bad_table");
    EXPECT_FALSE(table.error().instead.empty());
    return table.error().message;
  }

 private:
  std::map<std::string, std::string> other_;
};

void expect_fault(const Files& files, const std::string& place, const std::string& what) {
  const auto fault = files.fault();
  EXPECT_TRUE(fault.starts_with(place)) << "wanted " << place << ", found: " << fault;
  EXPECT_NE(fault.find(what), std::string::npos) << "wanted " << what << ", found: " << fault;
}

const std::string kHeader =
    "id,food,form,style_of_pack,acid_class,method,jar,altitude_over_ft,altitude_to_ft,time_min,pressure_psi,"
    "headspace_in,added_acid,covers,excludes,requires,notes,source,source_place,edition_read,status\n";

/// A row of fruit.csv with the cells under test; the rest is in order.
std::string row(const std::string& band, const std::string& time = "20", const std::string& id = "test_hot") {
  return id + ",pear,halves,hot,acid,boiling_water,pint," + band + "," + time +
         ",,0.5,,pear_european,pear_asian,peeled,,USDA AIB-539 Guide 2,Table 1,2015,verified\n";
}

std::string dial(const std::string& band, const std::string& psi, const std::string& time = "10") {
  return "test_hot,pear,halves,hot,acid,dial_gauge,pint," + band + "," + time + "," + psi +
         ",0.5,,pear_european,,venting_10_min,,USDA AIB-539 Guide 2,Table 1,2015,verified\n";
}

TEST(ProcessTable, LoadsAsItStands) {
  const auto table = load_process_table(crops());
  ASSERT_TRUE(table.has_value()) << table.error().message;
  EXPECT_EQ(table->rows.size(), 1763U);
  EXPECT_EQ(table->fresh_quantities.size(), 59U);
  EXPECT_GT(table->names.size(), table->forms.size());
}

// USDA AIB-539 Guide 6: 180 to 185 degF for 30 minutes, and never for pickles with reduced salt.
TEST(ProcessTable, RefusesALowTemperatureRowThatIsTooShortTooCoolOrForbidden) {
  const auto row = [](const char* ids, const char* hold, const char* minutes) {
    return "ids,start_low_f,start_high_f,hold_low_f,hold_high_f,time_min,water_over_lids_in,source,source_place,"
           "edition_read,status\n" +
           std::string(ids) + ",120,140," + hold + ",185," + minutes + ",1,USDA AIB-539 Guide 6,Table,1994,verified\n";
  };
  const char* file = "low_temperature.csv";
  const std::string place = "canning/low_temperature.csv: row 1: column ";
  expect_fault(Files().replace(file, row("gherkins_sweet_raw", "170", "30")), place + "hold_low_f:", "170");
  expect_fault(Files().replace(file, row("gherkins_sweet_raw", "180", "20")), place + "time_min:", "20");
  expect_fault(Files().replace(file, row("dill_reduced_sodium_raw", "180", "30")), place + "ids:", "forbid");
  expect_fault(Files().replace(file, row("nothing_raw", "180", "30")), place + "ids:", "nothing_raw");
}

TEST(ProcessTable, NamesTheRowWhereBandsLeaveAGap) {
  expect_fault(Files().replace("fruit.csv", kHeader + row("0,1000") + row("1000,3000") + row("6000,")),
               "canning/fruit.csv: row 3: column altitude_over_ft:", "leave a gap");
}

TEST(ProcessTable, NamesTheRowWhereBandsOverlap) {
  expect_fault(Files().replace("fruit.csv", kHeader + row("0,3000") + row("1000,")),
               "canning/fruit.csv: row 2: column altitude_over_ft:", "overlap");
  expect_fault(Files().replace("fruit.csv", kHeader + row("0,") + row("1000,")),
               "canning/fruit.csv: row 2: column altitude_over_ft:", "overlap");
}

TEST(ProcessTable, NamesTheRowWhereBandsDoNotBeginAtTheSea) {
  expect_fault(Files().replace("fruit.csv", kHeader + row("1000,")),
               "canning/fruit.csv: row 1: column altitude_over_ft:", "do not begin at 0");
}

TEST(ProcessTable, NamesTheRowWhereTheTimeFallsWithAltitude) {
  expect_fault(Files().replace("fruit.csv", kHeader + row("0,1000", "25") + row("1000,", "20")),
               "canning/fruit.csv: row 2: column time_min:", "falls with altitude");
}

TEST(ProcessTable, NamesTheRowWhereThePressureFallsWithAltitude) {
  expect_fault(Files().replace("fruit.csv", kHeader + dial("0,2000", "7") + dial("2000,4000", "6")),
               "canning/fruit.csv: row 2: column pressure_psi:", "falls with altitude");
}

TEST(ProcessTable, NamesACellThatIsNoNumberOrOutOfRange) {
  expect_fault(Files().replace("fruit.csv", kHeader + row("0,1000", "twenty")),
               "canning/fruit.csv: row 1: column time_min:", "\"twenty\"");
  expect_fault(Files().replace("fruit.csv", kHeader + row("0,1000", "900")),
               "canning/fruit.csv: row 1: column time_min:", "900");
  expect_fault(Files().replace("fruit.csv", kHeader + row("0,1000", "")),
               "canning/fruit.csv: row 1: column time_min:", "empty");
  expect_fault(Files().replace("fruit.csv", kHeader + row("1000,500")),
               "canning/fruit.csv: row 1: column altitude_to_ft:", "500");
  expect_fault(Files().replace("fruit.csv", kHeader + dial("0,2000", "25")),
               "canning/fruit.csv: row 1: column pressure_psi:", "25");
}

TEST(ProcessTable, NamesAWordOutsideItsList) {
  for (const auto& [from, to, column] : {std::tuple{",hot,", ",warm,", "style_of_pack"},
                                         {",boiling_water,", ",steam,", "method"},
                                         {",pint,", ",gallon,", "jar"},
                                         {",acid,", ",sour,", "acid_class"},
                                         {",verified2", ",sure", "status"}}) {
    expect_fault(Files().change("fruit.csv", from, to), std::string("canning/fruit.csv: row 1: column ") + column + ":",
                 "wanted one of");
  }
}

TEST(ProcessTable, NamesACropKeyNobodyKnows) {
  expect_fault(Files().change("meat.csv", "chicken; rabbit", "chicken; unicorn"),
               "canning/meat.csv: row 1: column covers:", "unicorn");
  expect_fault(Files().change("fruit.csv", "apple,crabapple", "apple,cranapple"),
               "canning/fruit.csv: row 1: column excludes:", "cranapple");
  expect_fault(Files().change("fruit.csv", "apple,crabapple", "apple,apple"),
               "canning/fruit.csv: row 1: column excludes:", "covered as well");
  expect_fault(Files().change("not_safe_to_can.csv", "pumpkin; squash_winter", "pumpkin; squash_wintry"),
               "canning/not_safe_to_can.csv: row 1: column crops:", "squash_wintry");
}

TEST(ProcessTable, HoldsLowAcidFoodOutOfBoilingWater) {
  auto text = row("0,1000");
  text.replace(text.find(",acid,"), 6, ",low_acid,");
  expect_fault(Files().replace("fruit.csv", kHeader + text), "canning/fruit.csv: row 1: column method:", "low-acid");
}

TEST(ProcessTable, HoldsPressureToGaugesOnly) {
  expect_fault(Files().replace("fruit.csv", kHeader + dial("0,2000", "")),
               "canning/fruit.csv: row 1: column pressure_psi:", "empty");
  auto text = row("0,1000");
  text.replace(text.find(",20,,"), 5, ",20,6,");
  expect_fault(Files().replace("fruit.csv", kHeader + text),
               "canning/fruit.csv: row 1: column pressure_psi:", "no pressure");
}

TEST(ProcessTable, DemandsTheRequirementsThatFollowFromTheRow) {
  expect_fault(Files().replace("fruit.csv", kHeader + row("0,1000", "5")),
               "canning/fruit.csv: row 1: column requires:", "sterilised_jars");
  expect_fault(Files().change("vegetable.csv", "venting_10_min; ", ""),
               "canning/vegetable.csv: row 1: column requires:", "venting_10_min");
  expect_fault(Files().change("vegetable.csv", "venting_10_min; ", "venting_10_min; dance; "),
               "canning/vegetable.csv: row 1: column requires:", "dance");
}

TEST(ProcessTable, RefusesAWebAddressWhereASourceBelongs) {
  expect_fault(Files().change("fruit.csv", "raw pack not advised (quality)", "see http://example.org"),
               "canning/fruit.csv: row 1: column notes:", "web address");
}

TEST(ProcessTable, NamesAColumnThatIsMissing) {
  auto header = kHeader;
  header.replace(header.find("covers"), 6, "spans");
  expect_fault(Files().replace("jelly.csv", header + row("0,")), "canning/jelly.csv: header: column covers", "missing");
}

TEST(ProcessTable, RefusesAnIdThatGoesOnInAnotherFile) {
  expect_fault(Files().replace("tomato.csv", kHeader + row("0,", "20", "pears_hot")),
               "canning/tomato.csv: column id:", "pears_hot");
}

TEST(ProcessTable, WantsFormWordsForEveryProcessAndOnlyForThose) {
  expect_fault(Files().change("forms.csv", "applesauce_hot,", "applesause_hot,"),
               "canning/forms.csv: row 3: column ids:", "applesause_hot");
  expect_fault(Files().change("forms.csv", "apples_sliced_hot,", "applesauce_hot,"),
               "canning/forms.csv: row 3: column ids:", "twice");
  const std::string text(embedded_file("canning/forms.csv"));
  expect_fault(Files().replace("forms.csv", text.substr(0, text.find("\nturnips_hot")) + "\n"),
               "canning/forms.csv: column ids:", "no row for process");
}

TEST(ProcessTable, WantsADenyRowThatCanSpeak) {
  const std::string header = "key,what,why,instead,crops,words,unless,source\n";
  expect_fault(Files().replace("not_safe_to_can.csv", header + ",this,because,that,,,,a book\n"),
               "canning/not_safe_to_can.csv: row 1: column words:", "never speak");
  expect_fault(Files().replace("not_safe_to_can.csv", header + ",this,because,,apple,,,a book\n"),
               "canning/not_safe_to_can.csv: row 1: column instead:", "empty");
  expect_fault(Files().replace("not_safe_to_can.csv", header + ",this,because,that,apple,+,,a book\n"),
               "canning/not_safe_to_can.csv: row 1: column words:", "holds no word");
}

TEST(ProcessTable, WantsTheLowEndOfAYieldBelowItsHighEnd) {
  expect_fault(Files().change("fresh_quantity.csv", ",48,16,19,", ",48,19,16,"),
               "canning/fresh_quantity.csv: row 1: column yield_qt_per_bushel_high:", "above");
}

TEST(ProcessTable, RefusesAWordThatStandsForTwo) {
  expect_fault(Files().change("wordings.csv", "dice,diced;", "dice,sliced;"),
               "canning/wordings.csv: row 3: column also:", "sliced");
}

TEST(Wording, FoldsCaseAccentsPluralsAndSpellings) {
  const auto wording = load_process_table(crops())->wording;
  EXPECT_EQ(wording.words("Pur\xC3\xA9"
                          "ed PUMPKINS"),
            (WordList{"puree", "pumpkin"}));
  EXPECT_EQ(wording.words("PUR\xC3\x89"
                          "E"),
            WordList{"puree"});
  EXPECT_EQ(wording.words("tomatoes, halved"), (WordList{"tomato", "half"}));
  EXPECT_EQ(wording.words("berries peaches radishes asparagus leaves"),
            (WordList{"berry", "peach", "radish", "asparagus", "leaf"}));
  EXPECT_EQ(wording.words("cow's pear_european/bartlett"), (WordList{"cow", "pear", "european", "bartlett"}));
  EXPECT_EQ(wording.words(" ,;  "), WordList{});
}

TEST(WordPatterns, FindPartsAnywhereAndSequencesInOrder) {
  const auto wording = load_process_table(crops())->wording;
  const auto hit = [&](const char* written, const char* said) {
    return matches(wording, word_pattern(wording, written), wording.words(said));
  };
  EXPECT_TRUE(hit("cream+quart", "a quart of corn with cream"));
  EXPECT_FALSE(hit("cream+quart", "a pint of corn with cream"));
  EXPECT_TRUE(hit("bread and butter", "sweet bread and butter pickles"));
  EXPECT_FALSE(hit("bread and butter", "butter and bread"));
  EXPECT_TRUE(hit("=butter", "my canned butter"));
  EXPECT_FALSE(hit("=butter", "apple butter"));
}

}  // namespace
}  // namespace stillroom::almanac
