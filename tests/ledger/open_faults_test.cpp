#include <gmock/gmock.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <SQLiteCpp/SQLiteCpp.h>
#include <csignal>

#include "ledger/support.h"

// What happens when the file is not what it should be, or the disk gives out. A refused file must stay byte for byte.
namespace stillroom::ledger::tests {
namespace {

using ::testing::Contains;
using ::testing::IsEmpty;
using ::testing::Not;

void write(const std::string& path, std::string_view bytes) {
  std::ofstream(path, std::ios::binary | std::ios::trunc) << bytes;
}

/// A household with some entries, closed again.
void make_household(const std::string& path, int lots = 40) {
  Ledger book = Ledger::open(path).value();
  for (int i = 0; i < lots; ++i) {
    const std::string name = "lot " + std::to_string(i);
    ASSERT_TRUE(book.append(live(name, plums(name, 1)), kNoon));
  }
}

std::vector<std::string> files_beside(const std::string& path) {
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(std::filesystem::path(path).parent_path())) {
    names.push_back(entry.path().filename().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

void expect_refused_untouched(const std::string& path, std::string_view code) {
  const std::string before = bytes_of(path);
  const auto beside = files_beside(path);
  const auto book = Ledger::open(path);
  ASSERT_FALSE(book);
  EXPECT_EQ(book.error().code, code) << book.error().message;
  EXPECT_THAT(book.error().message, ::testing::HasSubstr(path));
  EXPECT_THAT(book.error().instead, Not(IsEmpty()));
  EXPECT_EQ(bytes_of(path), before);
  EXPECT_EQ(files_beside(path), beside);
}

TEST(OpenFaults, ATextFileIsNoHousehold) {
  const Folder folder;
  write(folder.file("a.txt"), "eggs, flour, 3 lb of plums\n");
  expect_refused_untouched(folder.file("a.txt"), "not_a_household");
  write(folder.file("b.txt"), std::string(5000, 'x'));
  expect_refused_untouched(folder.file("b.txt"), "not_a_household");
}

TEST(OpenFaults, TheDatabaseOfAnotherProgramIsNoHousehold) {
  const Folder folder;
  const std::string path = folder.file("other.db");
  {
    SQLite::Database(path, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE)
        .exec("CREATE TABLE t (x); INSERT INTO t VALUES (1)");
  }
  expect_refused_untouched(path, "not_a_household");
}

TEST(OpenFaults, TheDatabaseOfAnotherProgramInLogModeIsLeftAlone) {
  const Folder folder;
  const std::string path = folder.file("other.db");
  SQLite::Database other(path, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
  other.execAndGet("PRAGMA journal_mode = WAL");
  other.exec("CREATE TABLE t (x); INSERT INTO t VALUES (1)");
  expect_refused_untouched(path, "not_a_household");
}

TEST(OpenFaults, AFolderIsNoHousehold) {
  const Folder folder;
  std::filesystem::create_directory(folder.file("pantry"));
  const auto book = Ledger::open(folder.file("pantry"));
  ASSERT_FALSE(book);
  EXPECT_EQ(book.error().code, "not_a_household");
  EXPECT_TRUE(std::filesystem::is_empty(folder.file("pantry")));
}

TEST(OpenFaults, APipeIsNoHousehold) {
  const Folder folder;
  ASSERT_EQ(::mkfifo(folder.file("pipe").c_str(), 0600), 0);
  EXPECT_EQ(Ledger::open(folder.file("pipe")).error().code, "not_a_household");
}

TEST(OpenFaults, AFileWhoseEndIsMissingIsCorrupt) {
  const Folder folder;
  const std::string path = folder.file("home.stillroom");
  make_household(path);
  const std::string whole = bytes_of(path);
  for (const double share : {0.9, 0.5, 0.1}) {
    write(path, whole.substr(0, static_cast<std::size_t>(static_cast<double>(whole.size()) * share)));
    expect_refused_untouched(path, "corrupt_file");
  }
  write(path, whole.substr(0, 200));
  expect_refused_untouched(path, "corrupt_file");
  write(path, whole.substr(0, 60));
  expect_refused_untouched(path, "not_a_household");
}

TEST(OpenFaults, AFileWithAPageOverwrittenIsCorrupt) {
  const Folder folder;
  const std::string path = folder.file("home.stillroom");
  make_household(path);
  const std::string whole = bytes_of(path);
  for (std::size_t page = 1; page * 4096 < whole.size(); ++page) {
    std::string damaged = whole;
    damaged.replace(page * 4096, 2000, std::string(2000, '\xA5'));
    write(path, damaged);
    const auto book = Ledger::open(path);
    if (book) {
      EXPECT_THAT(book->check(), Not(IsEmpty())) << "page " << page << " was damaged and nobody saw it";
    } else {
      EXPECT_EQ(book.error().code, "corrupt_file") << "page " << page << ": " << book.error().message;
      EXPECT_EQ(bytes_of(path), damaged);
    }
  }
}

TEST(OpenFaults, AFileFromANewerProgramIsLeftToIt) {
  const Folder folder;
  const std::string path = folder.file("home.stillroom");
  make_household(path);
  { SQLite::Database(path, SQLite::OPEN_READWRITE).exec("PRAGMA user_version = 99"); }
  expect_refused_untouched(path, "newer_file");
}

TEST(OpenFaults, AFileFromANewerProgramThatCrashedIsLeftToIt) {
  const Folder folder;
  const std::string path = folder.file("home.stillroom"), copy = folder.file("copy.stillroom");
  make_household(path);
  SQLite::Database newer(path, SQLite::OPEN_READWRITE);
  newer.exec("PRAGMA user_version = 99");  // in the log only, as long as this connection lives
  std::filesystem::copy_file(path, copy);
  std::filesystem::copy_file(path + "-wal", copy + "-wal");
  const std::string before = bytes_of(copy), log = bytes_of(copy + "-wal");
  const auto book = Ledger::open(copy);
  ASSERT_FALSE(book);
  EXPECT_EQ(book.error().code, "newer_file");
  EXPECT_EQ(bytes_of(copy), before);
  EXPECT_EQ(bytes_of(copy + "-wal"), log);
}

TEST(OpenFaults, AFileThatMayNotBeWrittenIsRefused) {
  const Folder folder;
  const std::string path = folder.file("home.stillroom");
  make_household(path);
  std::filesystem::permissions(path, std::filesystem::perms::owner_read);
  expect_refused_untouched(path, "read_only");
}

TEST(OpenFaults, AMissingFolderIsSaid) {
  const Folder folder;
  const auto book = Ledger::open(folder.file("nowhere/home.stillroom"));
  ASSERT_FALSE(book);
  EXPECT_EQ(book.error().code, "cannot_open");
}

TEST(OpenFaults, AnEmptyFileIsANewHousehold) {
  const Folder folder;
  write(folder.file("home.stillroom"), "");
  const auto book = Ledger::open(folder.file("home.stillroom"));
  ASSERT_TRUE(book) << book.error().message;
  EXPECT_EQ(book->state().sequence, 0U);
}

TEST(OpenFaults, ANameWithSignsOfAnAddressIsJustAName) {
  const Folder folder;
  const std::string path = folder.file("50% plums?x=1#2 .stillroom");
  make_household(path, 1);
  EXPECT_EQ(Ledger::open(path).value().state().sequence, 1U);
}

TEST(DiskFaults, AFullDiskIsSaidAndNothingIsLost) {
  const Folder folder;
  const std::string path = folder.file("home.stillroom");
  make_household(path, 1);
  Ledger book = Ledger::open(path, {.most_pages = 60}).value();
  std::string code;
  std::uint64_t written = book.state().sequence;
  for (int i = 0; i < 2000 && code.empty(); ++i) {
    const std::string name = "more " + std::to_string(i);
    const State before = book.state();
    const auto done = book.append(live(name, plums(name, 1)), kNoon);
    if (done) {
      written = *done;
    } else {
      code = done.error().code;
      EXPECT_TRUE(equal(book.state(), before)) << "memory ran ahead of the file";
    }
  }
  EXPECT_EQ(code, "disk_full");
  EXPECT_EQ(book.state().sequence, written);
  EXPECT_THAT(book.check(), IsEmpty());
  Ledger roomy = Ledger::open(path).value();
  EXPECT_EQ(roomy.state().sequence, written);
  EXPECT_TRUE(roomy.append(live("and on", plums("and on", 1)), kNoon));
}

TEST(DiskFaults, ADiskTooSmallToBeginLeavesNoFile) {
  const Folder folder;
  const std::string path = folder.file("home.stillroom");
  const auto book = Ledger::open(path, {.most_pages = 3});
  ASSERT_FALSE(book);
  EXPECT_EQ(book.error().code, "disk_full");
  EXPECT_FALSE(std::filesystem::exists(path));
}

/// In a process of its own, since the limit holds for all of it: the system refuses to let files grow.
int write_until_the_system_refuses(const std::string& path) {
  std::signal(SIGXFSZ, SIG_IGN);
  Ledger book = Ledger::open(path).value();
  const rlimit limit{300 * 1024, 300 * 1024};
  if (::setrlimit(RLIMIT_FSIZE, &limit) != 0) return 2;
  for (int i = 0; i < 5000; ++i) {
    const std::string name = "more " + std::to_string(i);
    const State before = book.state();
    const auto done = book.append(live(name, plums(name, 1)), kNoon);
    if (done) continue;
    const bool said = done.error().code == "disk_full" || done.error().code == "disk_trouble";
    return said && equal(book.state(), before) ? 0 : 3;
  }
  return 4;
}

TEST(DiskFaults, AWriteTheSystemRefusesIsSaidAndTheFileStaysSound) {
  const Folder folder;
  const std::string path = folder.file("home.stillroom");
  make_household(path, 5);
  const pid_t child = ::fork();
  ASSERT_GE(child, 0);
  if (child == 0) ::_exit(write_until_the_system_refuses(path));
  int status = 0;
  ASSERT_EQ(::waitpid(child, &status, 0), child);
  ASSERT_TRUE(WIFEXITED(status));
  EXPECT_EQ(WEXITSTATUS(status), 0);
  Ledger book = Ledger::open(path).value();
  EXPECT_THAT(book.check(), IsEmpty());
  EXPECT_GT(book.state().sequence, 5U);
}

}  // namespace
}  // namespace stillroom::ledger::tests
