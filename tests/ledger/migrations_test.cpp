#include <gtest/gtest.h>

#include <map>

#include "ledger/detail/migrations.h"

namespace stillroom::ledger::tests {
namespace {

/// FNV-1a, 64 bits.
std::uint64_t hash_of(std::string_view text) {
  std::uint64_t hash = 0xcbf29ce484222325ULL;
  for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3ULL;
  return hash;
}

// A released step made files that people have: it is never edited. Change the file format by a new step, and add its
// line here.
const std::map<std::string_view, std::uint64_t>& released() {
  static const std::map<std::string_view, std::uint64_t> hashes = {
      {"0001_entries_and_state", 0xfe6d12ba1d90eab8},
  };
  return hashes;
}

TEST(Migrations, AReleasedStepIsNeverEdited) {
  for (const detail::Migration& step : detail::migrations()) {
    ASSERT_TRUE(released().contains(step.name)) << step.name << " has no hash here";
    EXPECT_EQ(released().at(step.name), hash_of(step.sql))
        << step.name << " hashes to 0x" << std::hex << hash_of(step.sql);
  }
  EXPECT_EQ(released().size(), detail::migrations().size());
}

TEST(Migrations, AreNumberedWithoutGaps) {
  int number = 0;
  for (const detail::Migration& step : detail::migrations()) {
    ++number;
    EXPECT_EQ(std::stoi(std::string(step.name.substr(0, 4))), number);
  }
}

}  // namespace
}  // namespace stillroom::ledger::tests
