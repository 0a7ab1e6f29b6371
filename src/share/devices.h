#pragma once

#include <filesystem>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "measure/result.h"
#include "measure/time.h"
#include "share/entropy.h"

namespace stillroom::share {

/// A device that has been let in.
struct Device {
  std::string id;          ///< 16 hex digits, no secret
  std::string name;        ///< "Ida's phone"
  std::string token_hash;  ///< SHA-256 of its secret, hex
  measure::Instant paired{}, seen{};
  bool secure = false;  ///< paired over TLS: its secret counts there and nowhere else
  bool operator==(const Device&) const = default;
};

/// [{id, name, paired, seen, secure}] as JSON; what proves who they are stays here.
[[nodiscard]] std::string to_json(const std::vector<Device>& devices);

/// Refuses (code "bad_name") a name that is empty, longer than 60 bytes or not plain text.
[[nodiscard]] measure::Result<void> fit_device_name(std::string_view name);

/// The devices that have been let in, in one private file. Thread-safe; another program may change the file meanwhile
/// (`stillroom devices withdraw`), which is noticed at the next question.
class Devices {
 public:
  /// A device not seen for so long must be paired again.
  static constexpr std::chrono::days kForgottenAfter{365};
  static constexpr std::size_t kMost = 64;

  explicit Devices(const std::filesystem::path& folder);

  struct Added {
    Device device;
    std::string token;  ///< 256 random bits in hex; told once, to the device
  };
  /// Refuses what fit_device_name refuses, "too_many_devices", "cannot_write".
  [[nodiscard]] measure::Result<Added> add(std::string_view name, bool secure, measure::Instant now,
                                           const Entropy& entropy);
  /// Whose secret this is, on a way in of that kind; notes that it was seen.
  [[nodiscard]] std::optional<Device> holder_of(std::string_view token, bool secure, measure::Instant now);
  /// Longest paired first.
  [[nodiscard]] std::vector<Device> all();
  /// Lets a device in no longer, by its id or by its name. Refuses "unknown_device", and "bad_name" where two have it.
  [[nodiscard]] measure::Result<Device> withdraw(std::string_view which);

 private:
  /// Reads the file again when it is not the one that was read last.
  void catch_up();
  [[nodiscard]] measure::Result<void> write();

  std::filesystem::path file_, lock_;
  std::mutex mutex_;
  std::vector<Device> devices_;
  std::string stamp_;  ///< which file was read last
};

}  // namespace stillroom::share
