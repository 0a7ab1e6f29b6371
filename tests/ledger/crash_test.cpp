#include <gmock/gmock.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <thread>

#include "ledger/support.h"

namespace stillroom::ledger::tests {
namespace {

using ::testing::IsEmpty;

/// Appends for as long as it lives and says each number once it has been promised. Never returns.
[[noreturn]] void append_and_tell(const std::string& path, int round, int out) {
  auto book = Ledger::open(path);
  if (!book) ::_exit(2);
  for (int i = 0;; ++i) {
    const std::string name = std::to_string(round) + "/" + std::to_string(i);
    Entry e = live(name, plums(name, 2));
    if (i % 7 == 3)
      e = live(name, EatenFresh{id_of(std::to_string(round) + "/" + std::to_string(i - 1)), kilograms(1)});
    if (i % 7 == 5) e = live(name, Undone{id_of(std::to_string(round) + "/" + std::to_string(i - 2))});
    const auto done = book->append(e, kNoon);
    if (!done || ::write(out, &*done, sizeof *done) != sizeof *done) ::_exit(3);
  }
}

std::uint64_t last_promised(int in) {
  std::uint64_t last = 0;
  for (std::uint64_t read = 0; ::read(in, &read, sizeof read) == sizeof read;) last = read;
  return last;
}

TEST(Crash, EveryAcknowledgedEntryIsThereAfterAKill) {
  const Folder folder;
  const std::string path = folder.file("home.stillroom");
  measure::Random random(20261125);
  std::uint64_t before = 0;
  for (int round = 0; round < 12; ++round) {
    int ends[2];
    ASSERT_EQ(::pipe(ends), 0);
    const pid_t child = ::fork();
    ASSERT_GE(child, 0);
    if (child == 0) {
      ::close(ends[0]);
      append_and_tell(path, round, ends[1]);
    }
    ::close(ends[1]);
    // Long enough to be somewhere in the middle, each time elsewhere; the first may fall into the making of the file.
    std::this_thread::sleep_for(std::chrono::milliseconds(20 + random.below(220)));
    ::kill(child, SIGKILL);
    const std::uint64_t promised = last_promised(ends[0]);
    ::close(ends[0]);
    int status = 0;
    ASSERT_EQ(::waitpid(child, &status, 0), child);
    ASSERT_TRUE(WIFSIGNALED(status)) << "the child ended by itself with " << WEXITSTATUS(status);

    const auto book = Ledger::open(path);
    ASSERT_TRUE(book) << book.error().message;
    EXPECT_THAT(book->check(), IsEmpty());
    EXPECT_GE(book->state().sequence, std::max(promised, before));
    EXPECT_LE(book->state().sequence, std::max(promised, before) + 1) << "one may have been written and not yet told";
    before = book->state().sequence;
  }
  EXPECT_GT(before, 0U) << "no child came as far as its first entry";
}

}  // namespace
}  // namespace stillroom::ledger::tests
