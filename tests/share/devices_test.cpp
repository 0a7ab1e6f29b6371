#include "share/devices.h"

#include <gtest/gtest.h>
#include <sys/stat.h>

#include <fstream>
#include <sstream>

#include "share/support.h"

namespace stillroom::share {
namespace {

class DevicesTest : public testing::Test {
 protected:
  Devices::Added add(Devices& devices, const std::string& name, bool secure = true) {
    auto added = devices.add(name, secure, now, entropy);
    EXPECT_TRUE(added) << name;
    return std::move(*added);
  }
  [[nodiscard]] std::string file_text() const {
    std::ifstream in(folder.path / "devices.json");
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
  }

  TemporaryFolder folder;
  Entropy entropy = counting_entropy();
  measure::Instant now = moment("2026-09-14T08:00:00Z");
};

TEST_F(DevicesTest, ADeviceIsKnownByItsSecretAloneAndOnItsOwnWayIn) {
  Devices devices(folder.path);
  const auto added = add(devices, "Ida's phone");
  EXPECT_EQ(added.token.size(), 64U);
  ASSERT_TRUE(devices.holder_of(added.token, true, now));
  EXPECT_EQ(devices.holder_of(added.token, true, now)->name, "Ida's phone");
  EXPECT_FALSE(devices.holder_of(added.token, false, now)) << "a secret of TLS means nothing without";
  EXPECT_FALSE(devices.holder_of(std::string(64, '0'), true, now));
  EXPECT_FALSE(devices.holder_of("", true, now));
  EXPECT_FALSE(devices.holder_of(added.device.token_hash, true, now)) << "what is stored lets nobody in";
}

TEST_F(DevicesTest, SecretsAreNotStoredAndTheFileIsPrivate) {
  Devices devices(folder.path);
  const auto added = add(devices, "Ida's phone");
  EXPECT_EQ(file_text().find(added.token), std::string::npos);
  struct stat s {};
  ASSERT_EQ(::stat((folder.path / "devices.json").c_str(), &s), 0);
  EXPECT_EQ(s.st_mode & 0777U, 0600U);
  EXPECT_EQ(to_json(devices.all()).find(added.device.token_hash), std::string::npos);
}

TEST_F(DevicesTest, OutlivesTheProgram) {
  std::string token;
  {
    Devices devices(folder.path);
    token = add(devices, "Ida's phone").token;
  }
  EXPECT_TRUE(Devices(folder.path).holder_of(token, true, now));
}

TEST_F(DevicesTest, WithdrawnByAnotherProgramItIsOutAtOnce) {
  Devices serving(folder.path), command_line(folder.path);
  const auto ida = add(serving, "Ida's phone"), jon = add(serving, "Jon's phone");
  EXPECT_TRUE(serving.holder_of(ida.token, true, now));
  ASSERT_TRUE(command_line.withdraw("Ida's phone"));
  EXPECT_FALSE(serving.holder_of(ida.token, true, now));
  EXPECT_TRUE(serving.holder_of(jon.token, true, now));
  // What the serving program writes later must not bring it back.
  now += std::chrono::hours{1};
  EXPECT_TRUE(serving.holder_of(jon.token, true, now));
  EXPECT_EQ(Devices(folder.path).all().size(), 1U);
}

TEST_F(DevicesTest, LastSeenIsKept) {
  Devices devices(folder.path);
  const auto added = add(devices, "Ida's phone");
  now += std::chrono::hours{3};
  EXPECT_TRUE(devices.holder_of(added.token, true, now));
  EXPECT_EQ(Devices(folder.path).all().front().seen, now);
  now += Devices::kForgottenAfter + std::chrono::hours{1};
  EXPECT_FALSE(devices.holder_of(added.token, true, now)) << "a year unseen";
}

TEST_F(DevicesTest, RefusesWhatIsNoNameAndSaysWhatIsNotThere) {
  Devices devices(folder.path);
  for (const std::string& name : {std::string(), std::string("  "), std::string("a\nb"), std::string(61, 'x')}) {
    const auto added = devices.add(name, true, now, entropy);
    ASSERT_FALSE(added) << name;
    EXPECT_EQ(added.error().code, "bad_name");
  }
  EXPECT_EQ(devices.withdraw("nobody").error().code, "unknown_device");
  add(devices, "phone");
  const auto second = add(devices, "phone");
  EXPECT_EQ(devices.withdraw("phone").error().code, "bad_name") << "two of that name";
  EXPECT_TRUE(devices.withdraw(second.device.id));
  EXPECT_TRUE(devices.withdraw("phone"));
}

TEST_F(DevicesTest, AFileThatCannotBeReadLetsNobodyIn) {
  Devices devices(folder.path);
  const auto added = add(devices, "Ida's phone");
  for (const char* text : {"", "{", "{}", "[1,null,{}]", R"([{"id":1,"name":[]}])"}) {
    std::ofstream(folder.path / "devices.json") << text;
    EXPECT_FALSE(Devices(folder.path).holder_of(added.token, true, now)) << text;
    EXPECT_TRUE(Devices(folder.path).all().empty()) << text;
  }
}

TEST_F(DevicesTest, ThereAreNoMoreThanAHouseholdHas) {
  Devices devices(folder.path);
  for (std::size_t i = 0; i < Devices::kMost; ++i) add(devices, "phone " + std::to_string(i));
  EXPECT_EQ(devices.add("one more", true, now, entropy).error().code, "too_many_devices");
}

}  // namespace
}  // namespace stillroom::share
