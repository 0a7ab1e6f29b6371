#include <fmt/format.h>

#include <chrono>

#include "ledger/support.h"

// How long a well-used book takes: `ledger_append_timing [ENTRIES] [FILE]`. Not a test: it judges nothing.
namespace {

using namespace std::chrono;
namespace ledger = stillroom::ledger;
namespace tests = stillroom::ledger::tests;

/// A plausible mix: lots in, some eaten, every tenth put by in jars and taken out again.
ledger::Entry nth(int n) {
  const std::string name = std::to_string(n), before = std::to_string(n - 1);
  switch (n % 10) {
    case 1:
      return tests::live(name, ledger::EatenFresh{tests::id_of(before), tests::kilograms(1)});
    case 3:
      return tests::live(name, tests::plum_batch(name, before, 3));
    case 4:
      return tests::live(name, tests::quarts(before, name, 7, 3));
    case 5:
      return tests::live(name, ledger::Taken{tests::id_of(before), 1, "supper"});
    case 7:
      return tests::live(name, ledger::Observed{tests::id_of(before), "soft", {}});
    default:
      return tests::live(name, tests::plums(name, 4));
  }
}

double since(steady_clock::time_point start) { return duration<double>(steady_clock::now() - start).count(); }

}  // namespace

int main(int argc, char** argv) {
  const int count = argc > 1 ? std::stoi(argv[1]) : 10000;
  const tests::Folder folder;
  const std::string path = argc > 2 ? argv[2] : folder.file("home.stillroom");
  auto start = steady_clock::now();
  {
    auto book = ledger::Ledger::open(path);
    for (int n = 0; book && n < count; ++n) {
      if (const auto done = book->append(nth(n), tests::kNoon); !done) {
        fmt::print("entry {}: {}\n", n, done.error().message);
        return 1;
      }
    }
  }
  fmt::print("{} entries appended one by one: {:.2f} s\n", count, since(start));
  start = steady_clock::now();
  auto book = ledger::Ledger::open(path);
  if (!book) return 1;
  fmt::print("opened: {:.0f} ms, {} KB, {} parcels\n", since(start) * 1000, std::filesystem::file_size(path) / 1024,
             book->state().parcels.size());
  start = steady_clock::now();
  const auto undone = book->append(tests::live("undo", ledger::Undone{book->last_entry()->id}), tests::kNoon);
  fmt::print("last entry taken back: {:.0f} ms\n", since(start) * 1000);
  start = steady_clock::now();
  const auto first = book->append(tests::live("undo first", ledger::Undone{tests::id_of("0")}), tests::kNoon);
  fmt::print("first entry taken back: {:.0f} ms\n", since(start) * 1000);
  start = steady_clock::now();
  const auto wrong = book->check();
  fmt::print("checked: {:.0f} ms, {} faults\n", since(start) * 1000, wrong.size());
  return undone && first && wrong.empty() ? 0 : 1;
}
