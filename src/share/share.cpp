#include "share/share.h"

#include <openssl/crypto.h>

#include <algorithm>
#include <array>

#include "share/detail/private_file.h"

namespace stillroom::share {
namespace {

constexpr const char* kPassphraseFile = "passphrase";

Signed read_signed(const std::filesystem::path& folder, const std::string& name) {
  return {detail::read_file(folder / (name + ".crt")).value_or(""),
          detail::read_file(folder / (name + ".key")).value_or("")};
}

measure::Result<void> write_signed(const std::filesystem::path& folder, const std::string& name, const Signed& made) {
  if (auto written = detail::write_private(folder / (name + ".key"), made.key); !written) return written;
  return detail::write_private(folder / (name + ".crt"), made.certificate);
}

std::string wait_words(std::chrono::seconds wait) {
  if (wait.count() == 1) return "a second";
  if (wait.count() < 90) return std::to_string(wait.count()) + " seconds";
  return std::to_string((wait.count() + 59) / 60) + " minutes";
}

ServerNames names_on(const Network& network) {
  ServerNames out{{network.host + ".local", "localhost"}, network.addresses};
  out.addresses.insert(out.addresses.end(), {"127.0.0.1", "::1"});
  return out;
}

}  // namespace

Share::Share(ShareOptions options) : options_(std::move(options)), devices_(options_.folder) {
  if (!options_.clock)
    options_.clock = [] { return std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now()); };
  if (!options_.network) options_.network = look_at_network;
  if (!options_.entropy) options_.entropy = machine_entropy();
}

measure::Result<std::unique_ptr<Share>> Share::open(ShareOptions options) {
  if (auto made = detail::make_private_folder(options.folder); !made) return tl::unexpected(made.error());
  std::unique_ptr<Share> share(new Share(std::move(options)));
  if (auto taken = share->take_authority(); !taken) return tl::unexpected(taken.error());
  if (auto renewed = share->renew(); !renewed) return tl::unexpected(renewed.error());
  return share;
}

measure::Result<void> Share::take_authority() {
  authority_ = read_signed(options_.folder, "ca");
  const bool there = !authority_.certificate.empty() || !authority_.key.empty();
  if (there && !can_sign(authority_)) {
    return measure::refuse(
        "bad_certificate",
        "The household's certificate authority in " + options_.folder.string() + " (ca.crt, ca.key) cannot be read.",
        {"Bring the two files back from a copy.",
         "Or move them away: others are made, and every phone must trust those anew."});
  }
  if (there && valid_until(authority_.certificate) - now() > kLeafLasts) return {};
  // None yet, or so near its end that it cannot outlast what it signs: phones must then trust another.
  authority_ = make_authority(options_.network().host, now(), options_.entropy);
  return write_signed(options_.folder, "ca", authority_);
}

measure::Result<bool> Share::renew() {
  const Network network = options_.network();
  const ServerNames names = names_on(network);
  auto shown = leaf();
  const Signed before = shown ? *shown : read_signed(options_.folder, "server");
  const bool good = still_serves(before, authority_, names, now());
  Signed next = before;
  if (!good) {
    auto made = make_leaf(authority_, names, now(), options_.entropy);
    if (!made) return tl::unexpected(made.error());
    next = std::move(*made);
    if (auto written = write_signed(options_.folder, "server", next); !written) return tl::unexpected(written.error());
  }
  const std::lock_guard guard(mutex_);
  network_ = network;
  if (!good || leaf_ == nullptr) leaf_ = std::make_shared<const Signed>(std::move(next));
  return !good;
}

std::shared_ptr<const Signed> Share::leaf() const {
  const std::lock_guard guard(mutex_);
  return leaf_;
}

Network Share::network() const {
  const std::lock_guard guard(mutex_);
  return network_;
}

std::vector<std::string> Share::host_names() const {
  const Network here = network();
  std::vector<std::string> out = {here.host + ".local"};
  for (const std::string& address : here.addresses)
    out.push_back(address.find(':') == std::string::npos ? address : "[" + address + "]");
  return out;
}

std::string Share::stored_passphrase() const {
  const std::string stored = detail::read_file(options_.folder / kPassphraseFile).value_or("");
  return stored.substr(0, stored.find('\n'));
}

bool Share::has_passphrase() const { return is_passphrase_hash(stored_passphrase()); }

measure::Result<void> Share::set_passphrase(std::string_view passphrase) {
  if (auto fit = fit_passphrase(passphrase); !fit) return fit;
  if (matches(stored_passphrase(), passphrase)) return {};
  return detail::write_private(options_.folder / kPassphraseFile,
                               hash_passphrase(passphrase, options_.cost, options_.entropy) + "\n");
}

Share::Code Share::new_code() {
  // Above the largest multiple of a million, some codes would come a little more often than others.
  constexpr std::uint32_t kCodes = 1'000'000, kFair = (UINT32_MAX / kCodes) * kCodes;
  std::uint32_t drawn = kFair;
  while (drawn >= kFair) {
    std::array<std::uint8_t, 4> bytes{};
    options_.entropy(bytes);
    drawn = 0;
    for (const std::uint8_t byte : bytes) drawn = drawn << 8 | byte;
  }
  std::string digits = std::to_string(drawn % kCodes);
  digits.insert(0, 6 - digits.size(), '0');
  const std::lock_guard guard(mutex_);
  code_ = Code{digits, now() + kCodeLasts};
  code_tries_ = 0;
  return *code_;
}

/// Counts as a try whatever comes of it; the code is gone after the last one, and once it was right.
bool Share::fits_code(std::string_view given) {
  const std::lock_guard guard(mutex_);
  if (!code_ || now() >= code_->until) return false;
  const bool right = given.size() == code_->digits.size() &&
                     CRYPTO_memcmp(given.data(), code_->digits.data(), code_->digits.size()) == 0;
  if (right || ++code_tries_ >= kCodeTries) code_.reset();
  return right;
}

measure::Result<Devices::Added> Share::let_in(const Knock& knock, std::chrono::seconds& wait) {
  const std::lock_guard one_at_a_time(door_);
  wait = attempts_.wait(knock.address, now());
  if (wait.count() > 0) {
    return measure::refuse("too_many_tries",
                           "There were too many wrong tries. Wait " + wait_words(wait) + " before the next one.",
                           {"On the computer, see whether the passphrase is the one you mean."});
  }
  if (knock.code.empty() && !knock.secure) {
    return measure::refuse("not_over_plain",
                           "The passphrase is not taken here: others on the network could read it on its way.",
                           {"Ask for a code on the computer's devices page, and enter that.",
                            "Or open the https address, with the household's certificate installed."});
  }
  if (auto named = fit_device_name(knock.name); !named) return tl::unexpected(named.error());
  const bool by_code = !knock.code.empty();
  if (by_code ? !fits_code(knock.code) : !matches(stored_passphrase(), knock.passphrase)) {
    attempts_.failed(knock.address, now());
    if (by_code) {
      return measure::refuse("wrong_code", "That is not the code, or its time is up.",
                             {"Ask for a new one on the computer's devices page; it holds for five minutes."});
    }
    return measure::refuse("wrong_passphrase", "That is not the household's passphrase.",
                           {"Look at upper and lower case.", "A new one is set by `stillroom devices passphrase`."});
  }
  attempts_.succeeded(knock.address);
  return devices_.add(knock.name, knock.secure, now(), options_.entropy);
}

std::filesystem::path share_folder(const std::filesystem::path& household) {
  std::filesystem::path folder = household;
  folder += ".share";
  return folder;
}

}  // namespace stillroom::share
