#include <gmock/gmock.h>

#include <algorithm>
#include <filesystem>

#include "ledger/script.h"
#include "ledger/support.h"

namespace stillroom::ledger::tests {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::SizeIs;

std::vector<std::string> scripts() {
  std::vector<std::string> paths;
  for (const auto& entry : std::filesystem::directory_iterator(STILLROOM_SOURCE_DIR "/tests/scripts")) {
    if (entry.path().extension() == ".ledger") paths.push_back(entry.path().string());
  }
  std::sort(paths.begin(), paths.end());
  return paths;
}

class Scripts : public ::testing::TestWithParam<std::string> {};

TEST_P(Scripts, EndsAsItSays) { EXPECT_THAT(run_script(GetParam()), IsEmpty()); }

INSTANTIATE_TEST_SUITE_P(Story, Scripts, ::testing::ValuesIn(scripts()),
                         [](const auto& story) { return std::filesystem::path(story.param).stem().string(); });

/// The runner itself must be able to fail.
std::vector<std::string> run(const std::string& text) {
  const Folder folder;
  std::ofstream(folder.file("x.ledger")) << text;
  return run_script(folder.file("x.ledger"));
}
constexpr const char* kPlums = "at 2026-09-14T10:00Z brought_in lot=A crop=plum mass_kg=10\n";

TEST(ScriptRunner, SaysWhatIsNotAsExpected) {
  const auto wrong = run(std::string(kPlums) + "expect lot A mass_kg 9\n");
  ASSERT_THAT(wrong, SizeIs(1));
  EXPECT_THAT(wrong.front(), HasSubstr(":2: A mass_kg is '10', not '9'"));
}

TEST(ScriptRunner, SaysWhatWasRefusedUnasked) {
  EXPECT_THAT(run(std::string(kPlums) + kPlums), SizeIs(1));
  EXPECT_THAT(run(std::string(kPlums) + "refused zero\n"), SizeIs(1));
  EXPECT_THAT(run(std::string(kPlums) + kPlums + "refused zero\n"), SizeIs(1));
}

TEST(ScriptRunner, SaysWhatItCannotRead) {
  EXPECT_THAT(run("perhaps\n"), SizeIs(1));
  EXPECT_THAT(run("at 2026-09-14T10:00Z brought_in lot=A crop=plum\n"), SizeIs(1));
  EXPECT_THAT(run("remember\n" + std::string(kPlums) + "as remembered\n"), SizeIs(1));
}

}  // namespace
}  // namespace stillroom::ledger::tests
