#include "share/detail/private_file.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <fstream>
#include <sstream>

namespace stillroom::share::detail {
namespace {

bool write_all(int descriptor, const std::string& text) {
  std::size_t done = 0;
  while (done < text.size()) {
    const ssize_t n = ::write(descriptor, text.data() + done, text.size() - done);
    if (n <= 0) return false;
    done += static_cast<std::size_t>(n);
  }
  return ::fsync(descriptor) == 0;
}

}  // namespace

measure::Result<void> make_private_folder(const std::filesystem::path& folder) {
  ::mkdir(folder.c_str(), S_IRWXU);
  // Also for a folder that was there before, perhaps copied with other permissions.
  if (::chmod(folder.c_str(), S_IRWXU) != 0) {
    return measure::refuse("no_share_folder", "The folder " + folder.string() + " cannot be made or made private.",
                           {"Look at who owns it, or name another household file with --household."});
  }
  return {};
}

std::optional<std::string> read_file(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  if (!in) return std::nullopt;
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

measure::Result<void> write_private(const std::filesystem::path& file, const std::string& text) {
  const std::string fresh = file.string() + ".new";
  ::unlink(fresh.c_str());
  const int descriptor = ::open(fresh.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, S_IRUSR | S_IWUSR);
  bool written = descriptor >= 0 && write_all(descriptor, text);
  if (descriptor >= 0) written = ::close(descriptor) == 0 && written;
  if (!written || ::rename(fresh.c_str(), file.c_str()) != 0) {
    ::unlink(fresh.c_str());
    return measure::refuse("cannot_write", "The file " + file.string() + " cannot be written.",
                           {"See whether the disk is full, and who owns the folder."});
  }
  return {};
}

FileLock::FileLock(const std::filesystem::path& file)
    : descriptor_(::open(file.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, S_IRUSR | S_IWUSR)) {
  if (descriptor_ >= 0) ::flock(descriptor_, LOCK_EX);
}

FileLock::~FileLock() {
  if (descriptor_ >= 0) ::close(descriptor_);
}

}  // namespace stillroom::share::detail
