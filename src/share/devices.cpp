#include "share/devices.h"

#include <sys/stat.h>

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>

#include "share/detail/private_file.h"
#include "share/detail/text.h"

namespace stillroom::share {
namespace {

using nlohmann::json;

constexpr std::chrono::minutes kSeenGrain{10};
constexpr std::size_t kLongestDeviceName = 60;  // bytes

std::string random_hex(std::size_t bytes, const Entropy& entropy) {
  std::vector<std::uint8_t> out(bytes);
  entropy(out);
  return detail::to_hex(out);
}

/// Changes whenever the file is replaced.
std::string stamp_of(const std::filesystem::path& file) {
  struct stat s {};
  if (::stat(file.c_str(), &s) != 0) return "none";
  return std::to_string(s.st_ino) + " " + std::to_string(s.st_mtim.tv_sec) + "." + std::to_string(s.st_mtim.tv_nsec) +
         " " + std::to_string(s.st_size);
}

json shown_json(const Device& d) {
  return {{"id", d.id},
          {"name", d.name},
          {"paired", measure::to_iso(d.paired)},
          {"seen", measure::to_iso(d.seen)},
          {"secure", d.secure}};
}

std::optional<Device> device_in(const json& from) {
  if (!from.is_object()) return std::nullopt;
  const auto text = [&](const char* field) {
    const auto it = from.find(field);
    return it != from.end() && it->is_string() ? it->get<std::string>() : std::string();
  };
  const auto paired = measure::parse_instant(text("paired")), seen = measure::parse_instant(text("seen"));
  Device d{text("id"),
           text("name"),
           text("token_hash"),
           paired.value_or(measure::Instant{}),
           seen.value_or(measure::Instant{}),
           from.contains("secure") && from["secure"] == json(true)};
  if (d.id.empty() || d.token_hash.size() != 64 || !paired || !seen) return std::nullopt;
  return d;
}

}  // namespace

std::string to_json(const std::vector<Device>& devices) {
  json list = json::array();
  for (const Device& d : devices) list.push_back(shown_json(d));
  return list.dump();
}

measure::Result<void> fit_device_name(std::string_view name) {
  const auto characters = detail::utf8_characters(name);
  if (!characters || *characters == 0 || name.size() > kLongestDeviceName ||
      name.find_first_not_of(' ') == std::string_view::npos) {
    return measure::refuse("bad_name", "The device needs a name of 1 to 60 plain characters.",
                           {"Name it after who carries it, such as \"Ida's phone\"."});
  }
  return {};
}

Devices::Devices(const std::filesystem::path& folder) : file_(folder / "devices.json"), lock_(folder / "lock") {}

void Devices::catch_up() {
  const std::string stamp = stamp_of(file_);
  if (stamp == stamp_) return;
  devices_.clear();
  const json list = json::parse(detail::read_file(file_).value_or("[]"), nullptr, false);
  // A file that cannot be read lets nobody in; pairing again makes it anew.
  if (list.is_array()) {
    for (const json& one : list) {
      if (auto device = device_in(one)) devices_.push_back(std::move(*device));
    }
  }
  stamp_ = stamp;
}

measure::Result<void> Devices::write() {
  json list = json::array();
  for (const Device& d : devices_) {
    list.push_back(shown_json(d));
    list.back()["token_hash"] = d.token_hash;
  }
  const auto written = detail::write_private(file_, list.dump(1) + "\n");
  // What could not be written does not hold: the file is read again.
  stamp_ = written ? stamp_of(file_) : "";
  return written;
}

measure::Result<Devices::Added> Devices::add(std::string_view name, bool secure, measure::Instant now,
                                             const Entropy& entropy) {
  if (auto fit = fit_device_name(name); !fit) return tl::unexpected(fit.error());
  const std::lock_guard guard(mutex_);
  const detail::FileLock held(lock_);
  catch_up();
  std::erase_if(devices_, [&](const Device& d) { return now - d.seen > kForgottenAfter; });
  if (devices_.size() >= kMost) {
    return measure::refuse("too_many_devices", "There are " + std::to_string(kMost) + " devices already.",
                           {"Withdraw one that is not used any more, on the devices page of the computer."});
  }
  Added added{{random_hex(8, entropy), std::string(name), {}, now, now, secure}, random_hex(32, entropy)};
  added.device.token_hash = detail::sha256_hex(added.token);
  devices_.push_back(added.device);
  if (const auto written = write(); !written) return tl::unexpected(written.error());
  return added;
}

std::optional<Device> Devices::holder_of(std::string_view token, bool secure, measure::Instant now) {
  if (token.size() != 64) return std::nullopt;
  const std::string hash = detail::sha256_hex(token);
  const std::lock_guard guard(mutex_);
  catch_up();
  const auto held_by = [&] {
    return std::find_if(devices_.begin(), devices_.end(), [&](const Device& d) {
      return d.token_hash == hash && d.secure == secure && now - d.seen <= kForgottenAfter;
    });
  };
  auto it = held_by();
  if (it == devices_.end()) return std::nullopt;
  if (now - it->seen >= kSeenGrain) {
    const detail::FileLock held(lock_);
    catch_up();
    it = held_by();
    if (it == devices_.end()) return std::nullopt;
    it->seen = now;
    const Device found = *it;
    (void)write();  // a full disk must not keep a device out; it is noted again next time
    return found;
  }
  return *it;
}

std::vector<Device> Devices::all() {
  const std::lock_guard guard(mutex_);
  catch_up();
  return devices_;
}

measure::Result<Device> Devices::withdraw(std::string_view which) {
  const std::lock_guard guard(mutex_);
  const detail::FileLock held(lock_);
  catch_up();
  const auto by_id = std::find_if(devices_.begin(), devices_.end(), [&](const Device& d) { return d.id == which; });
  const auto has_name = [&](const Device& d) { return d.name == which; };
  const auto it = by_id != devices_.end() ? by_id : std::find_if(devices_.begin(), devices_.end(), has_name);
  if (it == devices_.end()) {
    return measure::refuse("unknown_device", "No device of that name or id has been paired.",
                           {"`stillroom devices` lists those that have."});
  }
  if (by_id == devices_.end() && std::count_if(devices_.begin(), devices_.end(), has_name) > 1) {
    return measure::refuse("bad_name", "Several devices have that name.",
                           {"Say which by its id; `stillroom devices` lists them."});
  }
  const Device gone = *it;
  devices_.erase(it);
  if (const auto written = write(); !written) return tl::unexpected(written.error());
  return gone;
}

}  // namespace stillroom::share
