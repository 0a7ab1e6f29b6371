#include "cli/open.h"

#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <random>

namespace stillroom::cli {
namespace {

std::string variable(const char* name) {
  const char* value = std::getenv(name);  // NOLINT(concurrency-mt-unsafe): read once at start, before any thread
  return value == nullptr ? "" : value;
}

std::uint64_t seed_from_machine() {
  std::random_device device;
  return (static_cast<std::uint64_t>(device()) << 32) ^ device();
}

}  // namespace

std::string household_path(const std::string& given) {
  if (!given.empty()) return given;
  if (const std::string named = variable("STILLROOM_HOUSEHOLD"); !named.empty()) return named;
  std::filesystem::path folder = variable("XDG_DATA_HOME");
  if (folder.empty()) folder = std::filesystem::path(variable("HOME")) / ".local" / "share";
  folder /= "stillroom";
  std::error_code ignored;  // if it cannot be made, opening the file says so
  std::filesystem::create_directories(folder, ignored);
  return (folder / "household.stillroom").string();
}

measure::Result<measure::Instant> clock_or(const std::string& given) {
  if (!given.empty()) return measure::parse_instant(given);
  return std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now());
}

std::string machine_zone() {
  if (const std::string named = variable("TZ"); !named.empty() && measure::Zone::named(named)) return named;
  std::error_code error;
  const auto link = std::filesystem::read_symlink("/etc/localtime", error);
  const std::string path = error ? "" : link.string();
  const auto at = path.find("zoneinfo/");
  if (at == std::string::npos) return "UTC";
  const std::string name = path.substr(at + std::string_view("zoneinfo/").size());
  return measure::Zone::named(name) ? name : "UTC";
}

measure::Result<app::House> open_file(const almanac::Almanac& almanac, const std::string& path) {
  auto ledger = ledger::Ledger::open(path);
  if (!ledger) return tl::unexpected(ledger.error());
  return app::House{almanac, std::move(*ledger), measure::Random(seed_from_machine()), ""};
}

measure::Result<app::House> open_house(const almanac::Almanac& almanac, const std::string& path, measure::Instant now) {
  auto house = open_file(almanac, path);
  if (!house) return house;
  if (house->ledger.state().sequence == 0) {
    const auto zone = app::set(*house, now, "zone", machine_zone());
    if (!zone) return tl::unexpected(zone.error());
  }
  return house;
}

}  // namespace stillroom::cli
