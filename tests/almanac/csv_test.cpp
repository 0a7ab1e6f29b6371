#include "almanac/csv.h"

#include <gmock/gmock.h>

namespace stillroom::almanac {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

TEST(Csv, ReadsQuotedCommasQuotesAndLineBreaks) {
  const auto t = read_csv("t.csv", "a,b\r\n\"x, y\",\"said \"\"so\"\"\nand left\"\n", {"a", "b"});
  ASSERT_TRUE(t);
  ASSERT_EQ(t->rows.size(), 1U);
  EXPECT_THAT(t->rows[0], ElementsAre("x, y", "said \"so\"\nand left"));
  EXPECT_EQ(t->column("b"), 1);
  EXPECT_EQ(t->column("c"), -1);
}

TEST(Csv, ReadsALastRowWithoutALineBreak) {
  const auto t = read_csv("t.csv", "a,b\n1,", {});
  ASSERT_TRUE(t);
  EXPECT_THAT(t->rows.at(0), ElementsAre("1", ""));
}

TEST(Csv, RefusesARaggedRowAndNamesIt) {
  const auto t = read_csv("t.csv", "a,b\n1,2\n3\n", {});
  ASSERT_FALSE(t);
  EXPECT_EQ(t.error().code, "bad_table");
  EXPECT_THAT(t.error().message, HasSubstr("t.csv: row 2"));
}

TEST(Csv, RefusesAnEmptyFileAMissingColumnAndOpenQuotes) {
  EXPECT_FALSE(read_csv("t.csv", "", {}));
  const auto missing = read_csv("t.csv", "a\n1\n", {"a", "lb"});
  ASSERT_FALSE(missing);
  EXPECT_THAT(missing.error().message, HasSubstr("column lb is missing"));
  EXPECT_FALSE(read_csv("t.csv", "a,b\n\"1,2\n", {}));
}

class RowOfCells : public testing::Test {
 protected:
  RowOfCells() : table_(*read_csv("t.csv", "n,list,word,empty\n12.5, a ;b;; c,yes,\nx2,,perhaps,\n", {})) {}
  CsvTable table_;
};

TEST_F(RowOfCells, ReadsNumbersListsAndWords) {
  RowReader r(table_, 0);
  EXPECT_EQ(r.number("n", 0, 20), 12.5);
  EXPECT_EQ(r.number("empty", 0, 20), std::nullopt);
  EXPECT_THAT(r.list("list"), ElementsAre("a", "b", "c"));
  EXPECT_EQ(r.one_of("word", {"yes", "no"}), "yes");
  EXPECT_FALSE(r.error());
}

TEST_F(RowOfCells, KeepsTheFirstErrorWithFileRowAndColumn) {
  RowReader r(table_, 1);
  EXPECT_EQ(r.number("n", 0, 20), std::nullopt);
  (void)r.one_of("word", {"yes", "no"});
  ASSERT_TRUE(r.error());
  EXPECT_THAT(r.error()->message, HasSubstr("t.csv: row 2: column n: found \"x2\""));
}

TEST_F(RowOfCells, RefusesNumbersOutOfRangeAndEmptyRequiredCells) {
  RowReader out(table_, 0);
  (void)out.number("n", 0, 5);
  EXPECT_THAT(out.error().value().message, HasSubstr("wanted 0 to 5"));
  RowReader empty(table_, 0);
  (void)empty.required_number("empty", 0, 5);
  EXPECT_THAT(empty.error().value().message, HasSubstr("empty"));
  RowReader gone(table_, 0);
  (void)gone.text("no_such");
  EXPECT_THAT(gone.error().value().message, HasSubstr("missing"));
}

TEST(Embedded, HoldsTheCropListAndNothingUnlisted) {
  EXPECT_THAT(std::string(embedded_file("crops.csv")), HasSubstr("pear_european"));
  EXPECT_TRUE(embedded_file("no_such.csv").empty());
}

}  // namespace
}  // namespace stillroom::almanac
