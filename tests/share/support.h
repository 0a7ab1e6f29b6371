#pragma once

#include <cstdlib>
#include <filesystem>
#include <stdexcept>
#include <string>

#include "measure/time.h"
#include "share/entropy.h"

namespace stillroom::share {

/// A folder that is gone when the test is.
class TemporaryFolder {
 public:
  TemporaryFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "stillroom-share-XXXXXX").string();
    if (mkdtemp(name.data()) == nullptr) throw std::runtime_error("no temporary folder");
    path = name;
  }
  ~TemporaryFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path, ignored);
  }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;

  std::filesystem::path path;
};

/// Counts up: no two draws are alike.
inline Entropy counting_entropy() {
  return [n = std::uint8_t{0}](std::span<std::uint8_t> bytes) mutable {
    for (std::uint8_t& byte : bytes) byte = n++;
  };
}

inline measure::Instant moment(const std::string& iso) { return *measure::parse_instant(iso); }

}  // namespace stillroom::share
