#include "measure/time.h"

#include <gtest/gtest.h>

namespace stillroom::measure {
namespace {

using namespace std::chrono_literals;

Instant at(std::string_view iso) { return parse_instant(iso).value(); }

TEST(Moments, AreWrittenAndReadInUtc) {
  EXPECT_EQ(at("1970-01-01T00:00:00Z"), Instant{});
  EXPECT_EQ(at("2026-09-14T06:30:00Z").time_since_epoch(), 1'789'367'400s);  // date -u -d ... +%s
  EXPECT_EQ(to_iso(at("2026-09-14T06:30:07Z")), "2026-09-14T06:30:07Z");
  EXPECT_EQ(at("2026-09-14T06:30Z"), at("2026-09-14T06:30:00Z"));
  EXPECT_EQ(to_iso(at("1969-12-31T23:59:59Z")), "1969-12-31T23:59:59Z");
}

TEST(Moments, RefuseEverythingElse) {
  for (const char* text : {"", "Z", "2026-09-14", "2026-09-14T06:30", "2026-09-14 06:30:00Z", "2026-09-14T24:00:00Z",
                           "2026-09-14T06:60Z", "2026-09-14T06:30:60Z", "2026-02-30T06:30:00Z", "2026-09-14T6:30:00Z",
                           "2026-09-14T06:30:00+01:00", "2026-09-14T06:30:00.5Z", "2026-09-14T-6:30:00Z", "soon"}) {
    const auto t = parse_instant(text);
    ASSERT_FALSE(t.has_value()) << text;
    EXPECT_EQ(t.error().code, "bad_time");
  }
}

TEST(Days, KnowTheCalendar) {
  EXPECT_TRUE(parse_date("2024-02-29").has_value());
  EXPECT_EQ(to_iso(parse_date("2026-11-25").value()), "2026-11-25");
  for (const char* text : {"", "2026-02-29", "2026-02-30", "1900-02-29", "2026-13-01", "2026-00-10", "2026-01-00",
                           "2026-1-05", "26-01-05", "2026/01/05", "2026-01-05 ", "-026-01-05"}) {
    const auto d = parse_date(text);
    ASSERT_FALSE(d.has_value()) << text;
    EXPECT_EQ(d.error().code, "bad_date");
  }
}

TEST(Days, AllOfFourCenturiesRoundTrip) {
  for (Date d = parse_date("1800-01-01").value(); d < parse_date("2200-01-01").value(); d += std::chrono::days{1}) {
    ASSERT_EQ(parse_date(to_iso(d)).value(), d) << to_iso(d);
  }
}

class ChicagoTime : public testing::Test {
 protected:
  Zone zone = Zone::named("America/Chicago").value();
};

// US daylight saving time 2026: begins Sunday 8 March 02:00, ends Sunday 1 November 02:00 (15 U.S.C. 260a).
TEST_F(ChicagoTime, FollowsDaylightSaving) {
  EXPECT_EQ(zone.to_instant(LocalTime{at("2026-01-15T12:00Z").time_since_epoch()}), at("2026-01-15T18:00Z"));
  EXPECT_EQ(zone.to_instant(LocalTime{at("2026-07-15T12:00Z").time_since_epoch()}), at("2026-07-15T17:00Z"));
}

TEST_F(ChicagoTime, MissingLocalTimeIsTheMomentOfTheChange) {
  const LocalTime missing{at("2026-03-08T02:30Z").time_since_epoch()};
  EXPECT_EQ(zone.to_instant(missing), at("2026-03-08T08:00Z"));
  EXPECT_EQ(zone.to_local(at("2026-03-08T08:00Z")), LocalTime{at("2026-03-08T03:00Z").time_since_epoch()});
}

TEST_F(ChicagoTime, DoubledLocalTimeIsTheEarlierMoment) {
  const LocalTime doubled{at("2026-11-01T01:30Z").time_since_epoch()};
  EXPECT_EQ(zone.to_instant(doubled), at("2026-11-01T06:30Z"));
}

TEST_F(ChicagoTime, TheDayIsTheHouseholdsDay) {
  EXPECT_EQ(to_iso(zone.date_of(at("2026-11-25T05:59:59Z"))), "2026-11-24");
  EXPECT_EQ(to_iso(zone.date_of(at("2026-11-25T06:00:00Z"))), "2026-11-25");
}

TEST_F(ChicagoTime, EveryHourOfAYearGoesThereAndBackExceptTheDoubledOne) {
  int changed = 0;
  for (Instant t = at("2026-01-01T00:00Z"); t < at("2027-01-01T00:00Z"); t += 1h) {
    if (zone.to_instant(zone.to_local(t)) != t) ++changed;
  }
  EXPECT_EQ(changed, 1);  // the second 01:00 of 1 November
}

TEST(Zones, UtcNeedsNoDatabaseAndShiftsNothing) {
  EXPECT_EQ(Zone::utc().name(), "UTC");
  EXPECT_EQ(Zone::utc().to_instant(Zone::utc().to_local(at("2026-07-15T12:00Z"))), at("2026-07-15T12:00Z"));
  EXPECT_EQ(to_iso(Zone::utc().date_of(at("1969-12-31T23:59:59Z"))), "1969-12-31");
}

TEST(Zones, UnknownNamesAreRefused) {
  for (const char* name : {"", "Chicago", "America/Nowhere", "../../etc/passwd"}) {
    const auto zone = Zone::named(name);
    ASSERT_FALSE(zone.has_value()) << name;
    EXPECT_EQ(zone.error().code, "unknown_zone");
  }
}

}  // namespace
}  // namespace stillroom::measure
