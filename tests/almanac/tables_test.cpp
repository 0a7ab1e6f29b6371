#include "almanac/tables.h"

#include <gmock/gmock.h>

#include <map>
#include <set>

#include "almanac/almanac.h"
#include "almanac/csv.h"
#include "almanac/published_tables.h"

namespace stillroom::almanac {
namespace {

using testing::HasSubstr;
using testing::Not;

TEST(Almanac, LoadsEverythingThatIsCompiledIn) {
  const auto almanac = load_almanac();
  ASSERT_TRUE(almanac) << almanac.error().message;
  EXPECT_GT(almanac->crops.all().size(), 200U);
  EXPECT_GT(almanac->tables.keeping.fresh.size(), 99U);
  EXPECT_FALSE(almanac->processes.rows.empty());
  EXPECT_FALSE(almanac->routes.all().empty());
}

// Every row of the reference tables came over: the counts are those of the tables as gathered.
TEST(Tables, HoldEveryRowGathered) {
  const auto& t = published().tables;
  EXPECT_GE(t.keeping.fresh.size(), 99U);
  EXPECT_EQ(t.keeping.rooms.size(), 189U);
  EXPECT_EQ(t.keeping.respiration.size(), 466U);
  EXPECT_EQ(t.keeping.q10.size(), 72U);
  EXPECT_EQ(t.keeping.curing.size(), 29U);
  EXPECT_EQ(t.keeping.frozen.size(), 118U);
  EXPECT_EQ(t.keeping.shelf.size(), 98U);
  EXPECT_EQ(t.keeping.drying.size(), 55U);
  EXPECT_GE(t.keeping.cold.size(), 92U);
  EXPECT_EQ(t.yields.container_weights.size(), 147U);
  EXPECT_EQ(t.yields.put_up.size(), 181U);
  EXPECT_EQ(t.yields.poultry.size(), 18U);
  EXPECT_EQ(t.yields.labour.size(), 80U);
  EXPECT_EQ(t.yields.garden.size(), 49U);
  EXPECT_EQ(t.yields.orchard.size(), 27U);
  EXPECT_EQ(t.yields.livestock.size(), 31U);
  EXPECT_EQ(t.household.need.size(), 124U);
  EXPECT_EQ(t.household.nutrients.size(), 168U);
  EXPECT_EQ(t.household.prices.size(), 99U);
  EXPECT_EQ(t.household.supplies.size(), 47U);
  EXPECT_EQ(t.household.outdoor.size(), 50U);
}

TEST(Tables, SayWhoseRowAnswers) {
  const auto& p = published();
  const auto own = p.tables.fresh_storage(p.crops, "quince");
  ASSERT_TRUE(own);
  EXPECT_EQ(own->kin, Kin::own);
  const auto stands = p.tables.fresh_storage(p.crops, "squash_winter");
  ASSERT_TRUE(stands);
  EXPECT_EQ(stands->crop, "squash_winter/butternut");
  EXPECT_EQ(stands->from, "for butternut squash, taken for winter squash in general");
  const auto borrowed = p.tables.respiration(p.crops, "nectarine");
  ASSERT_TRUE(borrowed);
  EXPECT_EQ(borrowed->kin, Kin::borrowed);
  EXPECT_EQ(borrowed->from, "for peach, borrowed for nectarine");
  const auto parent = p.tables.frozen(p.crops, "squash_winter/acorn");
  ASSERT_TRUE(parent);
  EXPECT_EQ(parent->kin, Kin::parent);
}

TEST(Tables, RefuseWhereNothingIsPublished) {
  const auto& p = published();
  for (const auto& refusal :
       {p.tables.fresh_storage(p.crops, "venison").error(), p.tables.curing(p.crops, "strawberry").error(),
        p.tables.fresh_storage(p.crops, "no_such_crop").error()}) {
    EXPECT_EQ(refusal.code, "no_published_value");
    EXPECT_THAT(refusal.message, HasSubstr("no published"));
  }
}

TEST(Tables, FallBackToTheGeneralRowOfAKindForFrozenAndDried) {
  const auto& p = published();
  const auto frozen = p.tables.frozen(p.crops, "serviceberry");  // borrows from blueberry
  ASSERT_TRUE(frozen);
  EXPECT_EQ(frozen->crop, "blueberry");
  const auto general = p.tables.frozen(p.crops, "pawpaw");
  ASSERT_TRUE(general);
  EXPECT_THAT(general->from, HasSubstr("fruit in general"));
  const auto dried = p.tables.shelf_life(p.crops, "parsnip", "dried");
  ASSERT_TRUE(dried);
  EXPECT_THAT(dried->from, HasSubstr("vegetables in general"));
  for (const auto* row : dried->rows) EXPECT_EQ(row->method, "dried");
  // Meat has no general row: nothing may be made up for it.
  EXPECT_FALSE(p.tables.shelf_life(p.crops, "pork", "dried"));
}

TEST(Tables, EveryOwnCropOfEveryTableIsReachedByItsKey) {
  const auto& p = published();
  for (const auto& row : p.tables.keeping.fresh) {
    const auto found = p.tables.fresh_storage(p.crops, row.crop);
    ASSERT_TRUE(found) << row.crop;
    EXPECT_EQ(found->kin, Kin::own) << row.crop;
  }
  for (const auto& row : p.tables.yields.put_up) {
    const auto found = p.tables.put_up_yields(p.crops, row.crop);
    ASSERT_TRUE(found) << row.crop;
    EXPECT_EQ(found->kin, Kin::own) << row.crop;
  }
}

TEST(Tables, EverySourceNamedInARowStandsInTheBibliography) {
  const auto& p = published();
  const auto check = [&p](std::string_view file, const auto& rows) {
    for (const auto& row : rows) {
      bool named = false;
      for (const auto& publication : p.tables.publications) {
        for (const auto& words : publication.named_as)
          named = named || row.from.source.find(words) != std::string::npos;
      }
      EXPECT_TRUE(named) << file << " row " << row.from.row << ": " << row.from.source;
      EXPECT_THAT(row.from.source, Not(HasSubstr("http"))) << file << " row " << row.from.row;
    }
  };
  check("fresh", p.tables.keeping.fresh);
  check("rooms", p.tables.keeping.rooms);
  check("respiration", p.tables.keeping.respiration);
  check("q10", p.tables.keeping.q10);
  check("curing", p.tables.keeping.curing);
  check("frozen", p.tables.keeping.frozen);
  check("shelf", p.tables.keeping.shelf);
  check("drying", p.tables.keeping.drying);
  check("cold", p.tables.keeping.cold);
  check("hazards", p.tables.keeping.hazards);
  check("exceptions", p.tables.keeping.exceptions);
  check("ripening", p.tables.keeping.ripening);
  check("shapes", p.tables.keeping.shapes);
  check("containers", p.tables.yields.containers);
  check("weights", p.tables.yields.container_weights);
  check("put up", p.tables.yields.put_up);
  check("poultry", p.tables.yields.poultry);
  check("labour", p.tables.yields.labour);
  check("garden", p.tables.yields.garden);
  check("orchard", p.tables.yields.orchard);
  check("livestock", p.tables.yields.livestock);
  check("broth", p.tables.yields.broth);
  check("need", p.tables.household.need);
  check("nutrients", p.tables.household.nutrients);
  check("prices", p.tables.household.prices);
  check("supplies", p.tables.household.supplies);
  check("outdoor", p.tables.household.outdoor);
}

// The planning labour of a canner load must not read like a heat process.
TEST(Tables, LabourOfACannerLoadNamesNoProcessTime) {
  for (const auto& row : published().tables.yields.labour) {
    if (row.task == "process") {
      EXPECT_THAT(row.notes, HasSubstr("only from the process tables"));
    }
  }
}

class Containers : public testing::Test {
 protected:
  ContainerMass in(std::string_view container, std::string_view crop) const {
    return published().tables.pounds_in(published().crops, container, crop).value();
  }
};

TEST_F(Containers, PublishedWeightsComeFirstAndCarryTheirRange) {
  const auto m = in("bushel", "apple");
  EXPECT_NEAR(measure::in_pounds(m.likely), 45, 1e-9);
  EXPECT_NEAR(measure::in_pounds(m.low), 42, 1e-9);
  EXPECT_NEAR(measure::in_pounds(m.high), 48, 1e-9);
  EXPECT_EQ(m.checked, Sureness::read);
}

TEST_F(Containers, VarietiesUseTheWeightOfTheirParent) {
  const auto m = in("bushel", "apple/early");
  EXPECT_NEAR(measure::in_pounds(m.likely), 45, 1e-9);
  EXPECT_THAT(m.from, HasSubstr("no row for early apple itself"));
}

TEST_F(Containers, OtherwiseVolumeTimesBulkDensityMarkedCommonPractice) {
  const auto m = in("wheelbarrow", "pumpkin");
  EXPECT_EQ(m.checked, Sureness::common_practice);
  const auto& pumpkin = *published().crops.find("pumpkin");
  EXPECT_NEAR(measure::in_kilograms(m.likely), 110 * pumpkin.density_kg_per_l, 1e-9);
  EXPECT_LT(m.low, m.likely);
  EXPECT_GT(m.high, m.likely);
}

TEST_F(Containers, AreKnownByTheWordsPeopleUse) {
  EXPECT_EQ(in("Bucket", "tomato").likely, in("five_gallon_bucket", "tomato").likely);
  EXPECT_EQ(in("5-gallon bucket", "tomato").likely, in("bucket", "tomato").likely);
  EXPECT_EQ(in("quart", "raspberry").likely, in("quart_basket", "raspberry").likely);
}

TEST_F(Containers, UnknownOnesAreRefused) {
  const auto m = published().tables.pounds_in(published().crops, "thimble", "fig");
  ASSERT_FALSE(m);
  EXPECT_EQ(m.error().code, "unknown_container");
  EXPECT_FALSE(m.error().instead.empty());
}

TEST_F(Containers, AFuzzyBasketOfAnyProduceCanBeGuessed) {
  for (const auto& c : published().crops.all()) {
    const auto m = published().tables.pounds_in(published().crops, "basket", c.key);
    ASSERT_TRUE(m) << c.key;
    EXPECT_LE(m->low, m->likely) << c.key;
    EXPECT_LE(m->likely, m->high) << c.key;
  }
}

}  // namespace
}  // namespace stillroom::almanac
