#include "share/share.h"

#include <gtest/gtest.h>
#include <sys/stat.h>

#include <fstream>

#include "share/support.h"

namespace stillroom::share {
namespace {

constexpr const char* kSecret = "plum jar attic hen";

class ShareTest : public testing::Test {
 protected:
  std::unique_ptr<Share> open() {
    auto opened = Share::open({.folder = folder.path / "house.share",
                               .clock = [this] { return now; },
                               .network = [this] { return network; },
                               .entropy = machine_entropy(),
                               .cost = {.log2_n = 4}});
    EXPECT_TRUE(opened) << opened.error().message;
    return std::move(*opened);
  }
  /// The code of the refusal, or "in".
  std::string knock(Share& share, Share::Knock knock) {
    wait = {};
    const auto let = share.let_in(knock, wait);
    return let ? "in" : let.error().code;
  }
  std::string by_passphrase(Share& share, const std::string& passphrase, const std::string& from = "192.168.1.20") {
    return knock(share, {from, true, passphrase, "", "phone"});
  }
  std::string by_code(Share& share, const std::string& code, bool secure = true,
                      const std::string& from = "192.168.1.20") {
    return knock(share, {from, secure, "", code, "phone"});
  }

  TemporaryFolder folder;
  measure::Instant now = moment("2026-09-14T08:00:00Z");
  Network network{"kitchen", {"192.168.1.5", "fd00::2"}, false};
  std::chrono::seconds wait{};
};

TEST_F(ShareTest, KeepsItsAuthorityAndItsFilesPrivate) {
  const std::string first = open()->authority_certificate();
  EXPECT_EQ(open()->authority_certificate(), first);
  struct stat s {};
  ASSERT_EQ(::stat((folder.path / "house.share").c_str(), &s), 0);
  EXPECT_EQ(s.st_mode & 0777U, 0700U);
  for (const char* file : {"ca.key", "server.key", "ca.crt", "server.crt"}) {
    ASSERT_EQ(::stat((folder.path / "house.share" / file).c_str(), &s), 0) << file;
    EXPECT_EQ(s.st_mode & 0777U, 0600U) << file;
  }
}

TEST_F(ShareTest, RenewsTheLeafWhenItsTimeComesAndWhenTheAddressChanges) {
  const auto share = open();
  const auto first = share->leaf();
  EXPECT_FALSE(*share->renew());
  EXPECT_EQ(share->leaf(), first);
  now += std::chrono::days{370};
  EXPECT_TRUE(*share->renew());
  const auto second = share->leaf();
  EXPECT_NE(second->certificate, first->certificate);
  EXPECT_GT(valid_until(second->certificate) - now, std::chrono::days{390});
  network.addresses = {"10.0.0.9"};
  EXPECT_TRUE(*share->renew());
  EXPECT_EQ(share->host_names(), (std::vector<std::string>{"kitchen.local", "10.0.0.9"}));
  // Another start takes up the one there is.
  EXPECT_EQ(open()->leaf()->certificate, share->leaf()->certificate);
}

TEST_F(ShareTest, AnAuthorityNearItsEndIsReplacedADamagedOneIsNot) {
  const std::string first = open()->authority_certificate();
  now += kAuthorityLasts - std::chrono::days{300};
  EXPECT_NE(open()->authority_certificate(), first);
  std::ofstream(folder.path / "house.share" / "ca.key") << "damaged";
  const auto opened = Share::open({.folder = folder.path / "house.share"});
  ASSERT_FALSE(opened);
  EXPECT_EQ(opened.error().code, "bad_certificate");
  EXPECT_FALSE(opened.error().instead.empty());
}

TEST_F(ShareTest, LetsInByThePassphraseOverTlsOnly) {
  const auto share = open();
  EXPECT_FALSE(share->has_passphrase());
  EXPECT_EQ(by_passphrase(*share, ""), "wrong_passphrase") << "none is set";
  EXPECT_EQ(share->set_passphrase("short").error().code, "bad_passphrase");
  ASSERT_TRUE(share->set_passphrase(kSecret));
  EXPECT_TRUE(open()->has_passphrase());
  EXPECT_EQ(by_passphrase(*share, "plum jar attic hem"), "wrong_passphrase");
  EXPECT_EQ(knock(*share, {"192.168.1.20", false, kSecret, "", "phone"}), "not_over_plain");
  EXPECT_EQ(knock(*share, {"192.168.1.20", true, kSecret, "", " "}), "bad_name");
  EXPECT_EQ(by_passphrase(*share, kSecret), "in");
}

TEST_F(ShareTest, AnotherPassphraseHoldsAtOnceForAProgramThatRuns) {
  const auto serving = open();
  ASSERT_TRUE(serving->set_passphrase(kSecret));
  ASSERT_TRUE(open()->set_passphrase("quince crock ladder"));
  EXPECT_EQ(by_passphrase(*serving, kSecret), "wrong_passphrase");
  EXPECT_EQ(by_passphrase(*serving, "quince crock ladder"), "in");
}

TEST_F(ShareTest, ACodeLetsOneDeviceInOnceAndForFiveMinutes) {
  const auto share = open();
  const auto code = share->new_code();
  EXPECT_EQ(code.digits.size(), 6U);
  EXPECT_EQ(code.digits.find_first_not_of("0123456789"), std::string::npos);
  EXPECT_EQ(by_code(*share, code.digits, false), "in") << "also without TLS";
  EXPECT_EQ(by_code(*share, code.digits), "wrong_code") << "twice";
  const auto late = share->new_code();
  now = late.until;
  EXPECT_EQ(by_code(*share, late.digits), "wrong_code");
  const auto old = share->new_code();
  const auto fresh = share->new_code();
  if (old.digits != fresh.digits) {
    EXPECT_EQ(by_code(*share, old.digits, true, "192.168.1.21"), "wrong_code");
  }
  EXPECT_EQ(by_code(*share, fresh.digits, true, "192.168.1.22"), "in");
}

TEST_F(ShareTest, ACodeDiesOfWrongTriesFromWhereverTheyCome) {
  const auto share = open();
  const auto code = share->new_code();
  const std::string wrong = code.digits == "000000" ? "000001" : "000000";
  for (int i = 0; i < Share::kCodeTries; ++i)
    EXPECT_EQ(by_code(*share, wrong, true, "192.168.1." + std::to_string(30 + i)), "wrong_code");
  EXPECT_EQ(by_code(*share, code.digits, true, "192.168.1.50"), "wrong_code");
}

TEST_F(ShareTest, GuessingIsSlowedAndTheRightOneMustWaitToo) {
  const auto share = open();
  ASSERT_TRUE(share->set_passphrase(kSecret));
  for (int i = 0; i <= Attempts::kEach.free; ++i) EXPECT_EQ(by_passphrase(*share, "guess"), "wrong_passphrase");
  EXPECT_EQ(by_passphrase(*share, "guess"), "too_many_tries");
  EXPECT_EQ(wait, std::chrono::seconds{10});
  EXPECT_EQ(by_passphrase(*share, kSecret), "too_many_tries") << "no telling right from wrong meanwhile";
  EXPECT_EQ(by_passphrase(*share, kSecret, "192.168.1.21"), "in") << "another device need not wait";
  now += std::chrono::seconds{10};
  EXPECT_EQ(by_passphrase(*share, kSecret), "in");
}

TEST(Network, KnowsHomeAddresses) {
  for (const char* home : {"10.1.2.3", "172.16.0.1", "172.31.9.9", "192.168.0.1", "127.0.0.1", "169.254.1.1", "::1",
                           "fd00::2", "fe80::1%eth0", "::ffff:192.168.1.7"})
    EXPECT_TRUE(is_private(home)) << home;
  for (const char* away : {"", "8.8.8.8", "172.32.0.1", "192.0.2.2", "2001:db8::1", "::ffff:203.0.113.7",
                           "::", "localhost", "10.1.2.3.4", "100.64.0.1"})
    EXPECT_FALSE(is_private(away)) << away;
  EXPECT_EQ(plain_address("::ffff:192.168.1.7"), "192.168.1.7");
  EXPECT_EQ(plain_address("fd00::2"), "fd00::2");
}

TEST(Network, IsLookedAtWithoutAddressesOfElsewhere) {
  const Network here = look_at_network();
  EXPECT_FALSE(here.host.empty());
  for (const std::string& address : here.addresses) EXPECT_TRUE(is_private(address)) << address;
}

}  // namespace
}  // namespace stillroom::share
