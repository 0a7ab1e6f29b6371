#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "measure/result.h"

/// Files that only the household's own user may read.
namespace stillroom::share::detail {

/// Makes the folder (0700) when it is missing and takes away what others may do with it. Refuses "no_share_folder".
[[nodiscard]] measure::Result<void> make_private_folder(const std::filesystem::path& folder);
/// All of a file; nothing when it is not there.
[[nodiscard]] std::optional<std::string> read_file(const std::filesystem::path& file);
/// Replaces the file as a whole (0600), on disk when this returns. Refuses "cannot_write".
[[nodiscard]] measure::Result<void> write_private(const std::filesystem::path& file, const std::string& text);

/// Held while one program changes what another may be changing too. Waits for its turn.
class FileLock {
 public:
  explicit FileLock(const std::filesystem::path& file);
  ~FileLock();
  FileLock(const FileLock&) = delete;
  FileLock& operator=(const FileLock&) = delete;

 private:
  int descriptor_;
};

}  // namespace stillroom::share::detail
