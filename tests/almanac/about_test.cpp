#include "almanac/about.h"

#include <gmock/gmock.h>

#include <nlohmann/json.hpp>

namespace stillroom::almanac {
namespace {

using testing::Contains;
using testing::HasSubstr;
using testing::Not;

const Almanac& almanac() {
  static const Almanac all = load_almanac().value();
  return all;
}

About known(std::string_view crop) { return about(almanac(), crop).value(); }

const AboutPart* part(const About& a, std::string_view key) {
  for (const auto& p : a.parts) {
    if (p.key == key) return &p;
  }
  return nullptr;
}

/// A figure with a unit of a heat process ("25 min", "11 psi").
bool shows_a_process_figure(std::string_view text) {
  for (const std::string_view unit : {"min", "psi", "lb"}) {
    for (auto at = text.find(unit); at != std::string_view::npos; at = text.find(unit, at + 1)) {
      const auto before = text.substr(0, at).find_last_not_of(' ');
      if (before != std::string_view::npos && text[before] >= '0' && text[before] <= '9') return true;
    }
  }
  return false;
}

TEST(About, TellsOfAPearFromCellarToShelf) {
  const auto a = known("pears");
  EXPECT_EQ(a.crop, "pear_european");
  const auto text = to_text(a);
  for (const auto* words :
       {"Keeping fresh", "30 to 32 °F (-1 to 0 °C)", "2 to 3 months", "bushel: 48 to 50 lb", "lb to the quart",
        "Frozen", "Dried", "minutes to the lb", "for Bartlett pear, taken for pear in general", "read in the source"}) {
    EXPECT_THAT(text, HasSubstr(words));
  }
}

TEST(About, NamesHeatProcessesWithoutTheirTimes) {
  for (const auto* crop : {"pear", "green bean", "tomato", "chicken"}) {
    const auto a = known(crop);
    const auto* canning = part(a, "canning");
    ASSERT_NE(canning, nullptr) << crop;
    ASSERT_FALSE(canning->facts.empty()) << crop;
    for (const auto& f : canning->facts) {
      if (f.what.starts_with("never:")) continue;
      EXPECT_THAT(f.value, HasSubstr("ask for the process at your altitude")) << crop;
      EXPECT_FALSE(shows_a_process_figure(f.value)) << f.value;
      EXPECT_THAT(f.source, HasSubstr("edition read")) << crop;
    }
  }
}

TEST(About, AProcessFigureWouldBeNoticed) {
  EXPECT_TRUE(shows_a_process_figure("hot pack, 25 min"));
  EXPECT_TRUE(shows_a_process_figure("at 11psi"));
  EXPECT_FALSE(shows_a_process_figure("minutes are not told (jelly_7)"));
}

TEST(About, ElderberryIsDeniedWithASafeAlternativeAndACaution) {
  const auto a = known("elderberry");
  EXPECT_THAT(a.cautions, Contains(HasSubstr("be certain what it is")));
  const auto* canning = part(a, "canning");
  ASSERT_NE(canning, nullptr);
  EXPECT_THAT(to_text(a), HasSubstr("never: elderberries, plain"));
}

TEST(About, WhatNoProcessCoversSaysSo) {
  const auto a = known("lettuce");
  const auto text = to_text(a);
  EXPECT_TRUE(text.find("No published heat process") != std::string::npos || text.find("never:") != std::string::npos);
}

TEST(About, SaysTheWaysAndWhoseFiguresTheyRestOn) {
  const auto text = to_text(known("boysenberry"));
  EXPECT_THAT(text, HasSubstr("Ways it can take"));
  EXPECT_THAT(text, HasSubstr("with the figures of blackberries"));
  EXPECT_THAT(text, HasSubstr("composted: compost"));
  EXPECT_THAT(to_text(known("tomato")), HasSubstr("can crushed tomatoes, hot pack (quarts, pints)"));
}

TEST(About, SaysWhatIsLeftOutAndWhy) {
  EXPECT_THAT(to_text(known("turnip")), HasSubstr("left out (turnips_hot): read for the dial gauge only"));
  EXPECT_THAT(to_text(known("honey")), HasSubstr("it keeps as it is on the shelf"));
}

TEST(About, AnimalFoodShowsItsTimeLimit) {
  const auto a = known("ground venison");
  ASSERT_NE(part(a, "limits"), nullptr);
  EXPECT_THAT(part(a, "limits")->facts.at(0).value, HasSubstr("1 to 2 days in the refrigerator"));
  EXPECT_EQ(part(a, "keeping"), nullptr);
}

TEST(About, ShowsHowSurelyEachFactIsKnown) {
  for (const auto& c : almanac().crops.all()) {
    const auto a = known(c.key);
    for (const auto& p : a.parts) {
      for (const auto& f : p.facts) {
        EXPECT_FALSE(f.what.empty()) << c.key << " " << p.key;
        EXPECT_FALSE(f.value.empty()) << c.key << " " << p.key << " " << f.what;
        EXPECT_FALSE(f.source.empty()) << c.key << " " << p.key << " " << f.what;
        EXPECT_THAT(f.source, Not(HasSubstr("http"))) << c.key;
      }
    }
  }
}

TEST(About, PrintsTheSameAsJson) {
  const auto a = known("acorn squash");
  const auto json = nlohmann::json::parse(to_json(a));
  EXPECT_EQ(json["crop"], "squash_winter/acorn");
  EXPECT_EQ(json["parts"].size(), a.parts.size());
  EXPECT_EQ(json["parts"][0]["facts"][0]["value"], a.parts[0].facts[0].value);
  EXPECT_EQ(json["parts"][0]["facts"][0]["checked"], to_code(a.parts[0].facts[0].checked));
}

TEST(About, RefusesUnknownCropsWithNearNames) {
  const auto a = about(almanac(), "tomatoe");
  ASSERT_FALSE(a);
  EXPECT_EQ(a.error().code, "unknown_crop");
  EXPECT_THAT(a.error().instead, Contains("tomato"));
}

}  // namespace
}  // namespace stillroom::almanac
