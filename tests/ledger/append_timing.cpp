#include <fmt/format.h>

#include <chrono>
#include <ctime>

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
      return tests::live(name, tests::plain_batch(name, before, 3));
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

/// Wall and processor milliseconds since it was made or last told: the first is the disk's and its neighbours' too.
class Watch {
 public:
  void tell(const std::string& what) {
    const double wall = duration<double, std::milli>(steady_clock::now() - wall_).count();
    const double cpu = 1000.0 * static_cast<double>(std::clock() - cpu_) / CLOCKS_PER_SEC;
    fmt::print("{}: {:.0f} ms, of the processor {:.0f} ms\n", what, wall, cpu);
    wall_ = steady_clock::now();
    cpu_ = std::clock();
  }

 private:
  steady_clock::time_point wall_ = steady_clock::now();
  std::clock_t cpu_ = std::clock();
};

}  // namespace

int main(int argc, char** argv) {
  const int count = argc > 1 ? std::stoi(argv[1]) : 10000;
  const tests::Folder folder;
  const std::string path = argc > 2 ? argv[2] : folder.file("home.stillroom");
  Watch watch;
  {
    auto book = ledger::Ledger::open(path);
    for (int n = 0; book && n < count; ++n) {
      if (const auto done = book->append(nth(n), tests::kNoon); !done) {
        fmt::print("entry {}: {}\n", n, done.error().message);
        return 1;
      }
    }
  }
  watch.tell(fmt::format("{} entries appended one by one", count));
  auto book = ledger::Ledger::open(path);
  if (!book) return 1;
  watch.tell(fmt::format("{} KB and {} parcels opened", std::filesystem::file_size(path) / 1024,
                         book->state().parcels.size()));
  const auto undone = book->append(tests::live("undo", ledger::Undone{book->last_entry()->id}), tests::kNoon);
  watch.tell("last entry taken back");
  const auto again = book->append(tests::live("undo 2", ledger::Undone{book->last_entry()->id}), tests::kNoon);
  watch.tell("the one before it too");
  const auto first = book->append(tests::live("undo first", ledger::Undone{tests::id_of("0")}), tests::kNoon);
  watch.tell("first entry taken back");
  const auto wrong = book->check();
  watch.tell(fmt::format("checked, {} faults", wrong.size()));
  return undone && again && first && wrong.empty() ? 0 : 1;
}
