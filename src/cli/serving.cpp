#include "cli/serving.h"

#include <fmt/format.h>
#include <termios.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <chrono>
#include <fstream>
#include <iostream>
#include <memory>

#include "app/demo.h"
#include "cli/open.h"
#include "service/serve.h"
#include "share/share.h"

namespace stillroom::cli {
namespace {

using measure::Result;

/// Hides what is typed while it lives.
class NoEcho {
 public:
  NoEcho() {
    tcgetattr(STDIN_FILENO, &before_);
    termios quiet = before_;
    quiet.c_lflag &= ~static_cast<tcflag_t>(ECHO);
    tcsetattr(STDIN_FILENO, TCSAFLUSH, &quiet);
  }
  ~NoEcho() {
    tcsetattr(STDIN_FILENO, TCSAFLUSH, &before_);
    std::cerr << "\n";
  }
  NoEcho(const NoEcho&) = delete;
  NoEcho& operator=(const NoEcho&) = delete;

 private:
  termios before_{};
};

std::string ask_unseen(const std::string& words) {
  std::cerr << words << std::flush;
  const NoEcho quiet;
  std::string line;
  std::getline(std::cin, line);
  return line;
}

/// The first line of a file.
Result<std::string> passphrase_in(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  std::string line;
  if (!file || !std::getline(file, line)) {
    return measure::refuse("no_passphrase", "There is no passphrase in " + path + ".",
                           {"Write it as the file's first line, and let nobody else read the file (chmod 600)."});
  }
  if (line.ends_with('\r')) line.pop_back();
  return line;
}

/// Twice, until both are alike and fit.
Result<std::string> passphrase_typed() {
  if (isatty(STDIN_FILENO) == 0) {
    return measure::refuse("no_passphrase", "A passphrase for the home network is needed, and there is no terminal.",
                           {"Give one with --passphrase-file FILE (its first line)."});
  }
  std::cerr << "Devices on your home network are let in by a passphrase. Choose one of 12 characters or more:\n"
               "five or six words that do not belong together are good. It is not shown while you type.\n";
  while (std::cin) {
    const std::string first = ask_unseen("Passphrase: ");
    if (const auto fit = share::fit_passphrase(first); !fit) {
      if (std::cin) std::cerr << fit.error().message << "\n";
      continue;
    }
    if (ask_unseen("Once more: ") == first) return first;
    std::cerr << "The two are not alike.\n";
  }
  return measure::refuse("no_passphrase", "No passphrase was given.", {});
}

Result<std::string> passphrase_from(const std::string& file) {
  return file.empty() ? passphrase_typed() : passphrase_in(file);
}

/// A demo household is not kept, but the phones that know its address are.
std::filesystem::path folder_for(const std::string& household) {
  if (household != ":memory:") return share::share_folder(household_path(household));
  return share::share_folder(std::filesystem::path(household_path("")).parent_path() / "demo");
}

struct Sharing {
  bool wanted = false;
  int port = 8643, plain_port = 8642;
  std::string passphrase_file;
};

Result<std::unique_ptr<share::Share>> share_with(const Sharing& how, const std::string& household) {
  auto opened =
      share::Share::open({.folder = folder_for(household), .secure_port = how.port, .plain_port = how.plain_port});
  if (!opened) return opened;
  if ((*opened)->has_passphrase() && how.passphrase_file.empty()) return opened;
  const auto passphrase = passphrase_from(how.passphrase_file);
  if (!passphrase) return tl::unexpected(passphrase.error());
  if (const auto set = (*opened)->set_passphrase(*passphrase); !set) return tl::unexpected(set.error());
  return opened;
}

int serve_household(Context& c, int port, bool demo, const Sharing& sharing) {
  if (demo && c.household.empty()) c.household = ":memory:";
  const auto machine = clock_or("");
  if (!machine) return c.refused(machine.error());
  const auto opening = demo && c.at.empty() ? app::demo_opening(*machine) : clock_or(c.at);
  if (!opening) return c.refused(opening.error());
  c.at = measure::to_iso(*opening);
  if (const auto loaded = c.load_almanac(); !loaded) return c.refused(loaded.error());
  auto opened =
      demo ? open_file(*c.almanac, c.household) : open_house(*c.almanac, household_path(c.household), *opening);
  if (!opened) return c.refused(opened.error());
  if (demo && opened->ledger.state().sequence == 0) {
    if (const auto filled = app::fill_with_demo(*opened, *opening); !filled) return c.refused(filled.error());
  }
  std::unique_ptr<share::Share> share;
  if (sharing.wanted) {
    auto made = share_with(sharing, c.household);
    if (!made) return c.refused(made.error());
    share = std::move(*made);
  }
  const auto ahead = *opening - *machine;
  const auto clock = [ahead] {
    return std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now()) + ahead;
  };
  const auto served = service::serve(*opened, {.port = port, .clock = clock, .share = share.get()});
  return served ? 0 : c.refused(served.error());
}

int list_devices(const Context& c, share::Devices& devices) {
  const auto all = devices.all();
  if (c.json) {
    std::cout << share::to_json(all) << "\n";
    return 0;
  }
  if (all.empty()) std::cout << "No device is paired.\n";
  for (const share::Device& d : all) {
    std::cout << fmt::format("{}  {}\n    paired {}, last seen {}{}\n", d.id, d.name, measure::to_iso(d.paired),
                             measure::to_iso(d.seen), d.secure ? "" : ", without TLS");
  }
  return 0;
}

}  // namespace

void add_serving(CLI::App& cli_app, Action& chosen) {
  static int port = 8137;
  static bool demo = false;
  static Sharing sharing;
  auto* serve = cli_app.add_subcommand("serve", "Serve the pages on this machine and print the address");
  serve->add_option("--port", port, "First port to try on this machine; the next free one is taken")
      ->check(CLI::Range(1, 65535))
      ->capture_default_str();
  serve->add_flag("--demo", demo, "A demo household: in memory, nothing is kept, unless --household names a file");
  auto* share =
      serve->add_flag("--share", sharing.wanted,
                      "Answer paired devices of the home network too: over TLS, and without it for live pages "
                      "and the certificate (docs/share.md)");
  serve
      ->add_option("--passphrase-file", sharing.passphrase_file,
                   "Set the passphrase to the first line of this file; without it one is asked for the first time")
      ->needs(share);
  serve->add_option("--share-port", sharing.port, "Port on the home network, TLS")
      ->check(CLI::Range(1, 65535))
      ->capture_default_str()
      ->needs(share);
  serve->add_option("--plain-port", sharing.plain_port, "Port on the home network without TLS; 0 for none")
      ->check(CLI::Range(0, 65535))
      ->capture_default_str()
      ->needs(share);
  serve->callback([&] { chosen = [](Context& c) { return serve_household(c, port, demo, sharing); }; });
}

void add_devices(CLI::App& cli_app, Action& chosen) {
  static std::string which, file;
  auto* devices = cli_app.add_subcommand("devices", "The devices of the home network that have been let in");
  devices->require_subcommand(0, 1);
  auto* withdraw = devices->add_subcommand("withdraw", "Let a device in no longer; works while the pages are served");
  withdraw->add_option("DEVICE", which, "Its id or its name")->required();
  auto* passphrase = devices->add_subcommand("passphrase", "Set another passphrase; devices that are in stay in");
  passphrase->add_option("--passphrase-file", file, "Take the first line of this file instead of asking");
  devices->callback([&chosen, withdraw, passphrase] {
    const bool takes_away = withdraw->parsed(), renames = passphrase->parsed();
    chosen = [takes_away, renames](Context& c) {
      const std::filesystem::path folder = folder_for(c.household);
      if (!std::filesystem::exists(folder)) {
        return c.refused({"not_shared", "This household has not been shared yet.", {"stillroom serve --share"}});
      }
      share::Devices known(folder);
      if (takes_away) {
        const auto gone = known.withdraw(which);
        return c.done(gone ? Result<std::string>(gone->id) : tl::unexpected(gone.error()), "Withdrawn.");
      }
      if (!renames) return list_devices(c, known);
      const auto typed = passphrase_from(file);
      if (!typed) return c.refused(typed.error());
      auto share = share::Share::open({.folder = folder});
      if (!share) return c.refused(share.error());
      if (const auto set = (*share)->set_passphrase(*typed); !set) return c.refused(set.error());
      return c.done(Result<std::string>(""), "The passphrase is set.");
    };
  });
}

}  // namespace stillroom::cli
