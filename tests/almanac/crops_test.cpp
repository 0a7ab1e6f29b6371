#include "almanac/crops.h"

#include <gmock/gmock.h>

namespace stillroom::almanac {
namespace {

using testing::Contains;
using testing::HasSubstr;

class PublishedCrops : public testing::Test {
 protected:
  PublishedCrops() : crops_(load_crops().value()) {}
  std::string key(std::string_view typed) const {
    const auto c = crops_.named(typed);
    return c ? (*c)->key : c.error().code;
  }
  Crops crops_;
};

TEST_F(PublishedCrops, AreFoundByKeyNamePluralAliasAndCase) {
  EXPECT_EQ(key("pear_european"), "pear_european");
  EXPECT_EQ(key("Pears"), "pear_european");
  EXPECT_EQ(key("  ACORN   squash "), "squash_winter/acorn");
  EXPECT_EQ(key("squash"), "squash_winter");
  EXPECT_EQ(key("green beans"), "bean_snap");
  EXPECT_EQ(key("zucchini"), "squash_summer/zucchini");
  EXPECT_EQ(key("black walnuts"), "walnut_black");
}

TEST_F(PublishedCrops, UnknownNamesAreRefusedWithNearOnes) {
  const auto c = crops_.named("elderbery");
  ASSERT_FALSE(c);
  EXPECT_EQ(c.error().code, "unknown_crop");
  EXPECT_THAT(c.error().instead, Contains("elderberry"));
  EXPECT_LE(c.error().instead.size(), 3U);
  EXPECT_EQ(key(""), "unknown_crop");
}

TEST_F(PublishedCrops, AVarietyIsItsParentButNotTheOtherWayRound) {
  EXPECT_TRUE(crops_.is_a("squash_winter/kabocha", "squash_winter"));
  EXPECT_TRUE(crops_.is_a("cherry_sour", "cherry"));
  EXPECT_FALSE(crops_.is_a("squash_winter", "squash_winter/acorn"));
  EXPECT_FALSE(crops_.is_a("no_such", "squash_winter"));
  // Elderberry must not pass as a berry: the published berry processes do not cover it.
  EXPECT_FALSE(crops_.is_a("elderberry", "berry"));
}

TEST_F(PublishedCrops, ForagedAndAnimalFoodIsMarked) {
  EXPECT_TRUE(crops_.find("elderberry")->foraged);
  EXPECT_TRUE(crops_.find("mushroom_wild")->foraged);
  EXPECT_TRUE(crops_.find("broth")->animal);
  EXPECT_TRUE(crops_.find("venison")->animal);
  EXPECT_FALSE(crops_.find("apple")->animal);
  for (const auto& c : crops_.all()) {
    if (c.kind == CropKind::poultry || c.kind == CropKind::meat || c.kind == CropKind::fish ||
        c.kind == CropKind::egg || c.kind == CropKind::dairy) {
      EXPECT_TRUE(c.animal) << c.key;
    }
  }
}

TEST(CropConditions, HaveOneWordEach) {
  for (int i = 0; i < kConditions; ++i) {
    const auto c = static_cast<Condition>(i);
    EXPECT_EQ(condition_from_word(to_word(c)), c);
  }
  EXPECT_EQ(condition_from_word("going_over"), Condition::going_over);
  EXPECT_EQ(condition_from_word("mushy"), std::nullopt);
}

// A broken list is refused with the place of the fault.
struct BrokenList {
  const char* name;
  const char* rows;
  const char* says;
};
class BrokenCropList : public testing::TestWithParam<BrokenList> {};

TEST_P(BrokenCropList, IsRefusedWithFileRowAndColumn) {
  const std::string head =
      "key,name,plural,kind,aliases,parent,borrow_from,stands_for_parent,foraged,animal,density_kg_per_l,source\n";
  const auto crops =
      read_crops("crops.csv", head + "fig,fig,figs,fruit,,,,no,no,no,0.6,common practice\n" + GetParam().rows);
  ASSERT_FALSE(crops);
  EXPECT_EQ(crops.error().code, "bad_table");
  EXPECT_THAT(crops.error().message, HasSubstr(GetParam().says));
}

INSTANTIATE_TEST_SUITE_P(
    Lists, BrokenCropList,
    testing::Values(
        BrokenList{"kind", "pear,pear,pears,fruity,,,,no,no,no,0.6,x\n", "crops.csv: row 2: column kind"},
        BrokenList{"parent", "pear,pear,pears,fruit,,pome,,no,no,no,0.6,x\n",
                   "row 2: column parent: no crop has the key pome"},
        BrokenList{"borrow", "pear,pear,pears,fruit,,,pome,no,no,no,0.6,x\n", "row 2: column borrow_from"},
        BrokenList{"circle", "a,a,aa,fruit,,b,,no,no,no,0.6,x\nb,b,bb,fruit,,a,,no,no,no,0.6,x\n", "circle"},
        BrokenList{"name_twice", "pear,pear,pears,fruit,fig,,,no,no,no,0.6,x\n", "already means fig"},
        BrokenList{"key_twice", "fig,fig,figs,fruit,,,,no,no,no,0.6,x\n", "column key: the key fig stands twice"},
        BrokenList{"density", "pear,pear,pears,fruit,,,,no,no,no,6,x\n", "column density_kg_per_l: found 6"},
        BrokenList{"yes_no", "pear,pear,pears,fruit,,,,no,maybe,no,0.6,x\n", "column foraged"},
        BrokenList{"source", "pear,pear,pears,fruit,,,,no,no,no,0.6,\n", "column source"}),
    [](const auto& info) { return info.param.name; });

}  // namespace
}  // namespace stillroom::almanac
