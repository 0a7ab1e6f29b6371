#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "measure/result.h"
#include "measure/time.h"
#include "share/attempts.h"
#include "share/certificate.h"
#include "share/devices.h"
#include "share/entropy.h"
#include "share/network.h"
#include "share/passphrase.h"

/// Opening a household to its home network: who may come in, and how the server proves what it is. Knows nothing of
/// HTTP nor of what is in the household.
namespace stillroom::share {

/// What it takes from outside; the defaults are the machine's own.
struct ShareOptions {
  std::filesystem::path folder;  ///< private to this user; made when missing. docs/share.md lists its files
  int secure_port = 8643;        ///< TLS
  int plain_port = 8642;         ///< without; 0 = not offered
  std::function<measure::Instant()> clock{};
  std::function<Network()> network{};
  Entropy entropy{};
  ScryptCost cost{};
};

/// Thread-safe.
class Share {
 public:
  static constexpr std::chrono::minutes kCodeLasts{5};
  static constexpr int kCodeTries = 5;

  /// Makes or reads the authority and the leaf. Refuses "no_share_folder", "cannot_write", "bad_certificate".
  [[nodiscard]] static measure::Result<std::unique_ptr<Share>> open(ShareOptions options);

  [[nodiscard]] bool has_passphrase() const;
  /// Replaces it (fit_passphrase, "cannot_write"); devices that are in stay in. The same one again changes nothing.
  [[nodiscard]] measure::Result<void> set_passphrase(std::string_view passphrase);

  /// What the server shows just now; replaced as a whole by renew().
  [[nodiscard]] std::shared_ptr<const Signed> leaf() const;
  /// Looks at the clock and the network again and makes another leaf if the old one no longer serves; true when it did.
  [[nodiscard]] measure::Result<bool> renew();
  [[nodiscard]] Network network() const;
  /// Every name a browser may call this machine by from the home network, as in a Host header without its port:
  /// "kitchen.local", "192.168.1.5", "[fd00::2]".
  [[nodiscard]] std::vector<std::string> host_names() const;
  [[nodiscard]] const std::string& authority_certificate() const { return authority_.certificate; }

  struct Code {
    std::string digits;  ///< six
    measure::Instant until{};
  };
  /// A code that lets one device in, once, within kCodeLasts; the one before it no longer does.
  [[nodiscard]] Code new_code();

  /// Someone at the door.
  struct Knock {
    std::string address;  ///< where from
    bool secure = false;  ///< over TLS
    std::string passphrase, code, name;
  };
  /// Lets a device in. Refuses "too_many_tries" (`wait` then says how long), "wrong_passphrase", "wrong_code",
  /// "not_over_plain" (a passphrase, where others on the network could read it), and what Devices::add refuses.
  [[nodiscard]] measure::Result<Devices::Added> let_in(const Knock& knock, std::chrono::seconds& wait);

  [[nodiscard]] Devices& devices() { return devices_; }
  [[nodiscard]] measure::Instant now() const { return options_.clock(); }
  [[nodiscard]] int secure_port() const { return options_.secure_port; }
  [[nodiscard]] int plain_port() const { return options_.plain_port; }

 private:
  explicit Share(ShareOptions options);
  [[nodiscard]] measure::Result<void> take_authority();
  /// From the file each time: `stillroom devices passphrase` may have changed it.
  [[nodiscard]] std::string stored_passphrase() const;
  [[nodiscard]] bool fits_code(std::string_view given);

  ShareOptions options_;
  Signed authority_;
  Devices devices_;
  mutable std::mutex mutex_;  ///< of what follows
  Network network_;
  std::shared_ptr<const Signed> leaf_;
  std::optional<Code> code_;
  int code_tries_ = 0;
  std::mutex door_;  ///< one knock at a time: guesses cannot run side by side, nor fill the memory
  Attempts attempts_;
};

/// The folder for a household file: beside it, with ".share" added. It is not part of the file, so that copying the
/// household gives no keys away.
[[nodiscard]] std::filesystem::path share_folder(const std::filesystem::path& household);

}  // namespace stillroom::share
