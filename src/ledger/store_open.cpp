#include <fmt/format.h>
#include <sqlite3.h>
#include <unistd.h>

#include <array>
#include <filesystem>
#include <fstream>

#include "ledger/detail/migrations.h"
#include "ledger/detail/store.h"

// Opening a household file: look before touching, so that a file we refuse stays as it is, byte for byte.
namespace stillroom::ledger::detail {
namespace {

namespace fs = std::filesystem;

constexpr int kBusyTimeoutMs = 5000;
constexpr std::uintmax_t kHeaderBytes = 100;

tl::unexpected<measure::Refusal> not_a_household(const std::string& path, std::string_view what) {
  return measure::refuse("not_a_household", fmt::format("{} is {}.", path, what),
                         {"Choose a household file, or a name that is not taken yet to begin a new one."});
}
tl::unexpected<measure::Refusal> corrupt(const std::string& path, std::string_view what) {
  return measure::refuse("corrupt_file", fmt::format("{} is damaged: {}.", path, what),
                         {"Go back to the newest copy of it.", "Keep the damaged file: much of it may be readable."});
}
tl::unexpected<measure::Refusal> newer(const std::string& path, std::int64_t version) {
  return measure::refuse("newer_file",
                         fmt::format("{} was written by a newer Stillroom (file version {}, this one knows {}).", path,
                                     version, migrations().size()),
                         {"Update Stillroom on this computer, then open it again."});
}

/// The 100 bytes every SQLite file begins with. Source: "Database File Format" of the SQLite project, section 1.3.
class Header {
 public:
  [[nodiscard]] bool read(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    return static_cast<bool>(in.read(bytes_.data(), static_cast<std::streamsize>(bytes_.size())));
  }
  [[nodiscard]] bool is_sqlite() const {
    static constexpr std::string_view kMagic("SQLite format 3\0", 16);
    return std::string_view(bytes_.data(), 16) == kMagic;
  }
  [[nodiscard]] std::int64_t application_id() const { return number(68); }
  [[nodiscard]] std::int64_t user_version() const { return number(60); }
  /// Bytes the file must have at least; 0 when the header does not say.
  [[nodiscard]] std::uintmax_t bytes() const {
    if (number(24) != number(92)) return 0;
    const std::int64_t page = number(16) >> 16;
    return static_cast<std::uintmax_t>(number(28)) * static_cast<std::uintmax_t>(page == 1 ? 65536 : page);
  }

 private:
  [[nodiscard]] std::int64_t number(std::size_t at) const {
    std::int64_t value = 0;
    for (std::size_t i = 0; i < 4; ++i) value = value << 8 | static_cast<unsigned char>(bytes_.at(at + i));
    return value;
  }
  std::array<char, kHeaderBytes> bytes_{};
};

bool has_bytes(const std::string& path) {
  std::error_code error;
  const auto size = fs::file_size(path, error);
  return !error && size > 0;
}

/// Nothing there yet, or an empty file.
bool is_new(const std::string& path) {
  return path == ":memory:" || !fs::exists(path) || (fs::is_regular_file(path) && !has_bytes(path));
}

/// `file:` address of a path, opened so that SQLite neither writes nor makes files beside it.
std::string immutable_uri(const std::string& path) {
  std::string uri = "file:";
  for (const char c : fs::absolute(path).string()) {
    if (c == '%' || c == '?' || c == '#') {
      uri += fmt::format("%{:02X}", static_cast<unsigned>(static_cast<unsigned char>(c)));
    } else {
      uri += c;
    }
  }
  return uri + "?immutable=1";
}

measure::Result<void> verify(SQLite::Database& db, const std::string& path) {
  if (db.execAndGet("PRAGMA application_id").getInt64() != kApplicationId)
    return not_a_household(path, "an SQLite file of another program");
  const std::int64_t version = db.execAndGet("PRAGMA user_version").getInt64();
  if (version > static_cast<std::int64_t>(migrations().size())) return newer(path, version);
  const std::string found = db.execAndGet("PRAGMA quick_check(1)").getString();
  if (found != "ok") return corrupt(path, found.substr(0, 200));
  return {};
}

/// What can be known from outside, without SQLite opening the file for writing.
measure::Result<void> look_at(const std::string& path) {
  const auto status = fs::status(path);
  if (fs::is_directory(status)) return not_a_household(path, "a folder");
  if (!fs::is_regular_file(status)) return not_a_household(path, "not a file");
  Header header;
  if (!header.read(path) || !header.is_sqlite()) return not_a_household(path, "not a household file");
  if (header.application_id() != kApplicationId) return not_a_household(path, "an SQLite file of another program");
  if (header.user_version() > static_cast<std::int64_t>(migrations().size())) return newer(path, header.user_version());
  const auto writable = fs::perms::owner_write | fs::perms::group_write | fs::perms::others_write;
  if ((status.permissions() & writable) == fs::perms::none || ::access(path.c_str(), W_OK) != 0) {
    return measure::refuse("read_only", fmt::format("{} may not be written to.", path),
                           {"Allow writing to it, or open a copy."});
  }
  // After a crash the rest of the file is still in its log, and only SQLite can put the two together.
  if (has_bytes(path + "-wal") || has_bytes(path + "-journal")) return {};
  if (fs::file_size(path) < header.bytes()) return corrupt(path, "its end is missing");
  SQLite::Database db(immutable_uri(path), SQLite::OPEN_READONLY | SQLite::OPEN_URI);
  return verify(db, path);
}

void checkpoint_on_close(SQLite::Database& db, bool on) {
  sqlite3_db_config(db.getHandle(), SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, on ? 0 : 1, nullptr);
}

}  // namespace

measure::Refusal refusal_from(const SQLite::Exception& error, const std::string& path) {
  const auto refusal = [&](std::string code, std::string_view what, std::vector<std::string> instead) {
    return measure::Refusal{std::move(code), fmt::format("{} {} ({}).", path, what, error.what()), std::move(instead)};
  };
  switch (error.getErrorCode() & 0xFF) {
    case SQLITE_FULL:
      return refusal("disk_full", "cannot grow: the disk is full", {"Free some room, then do it again."});
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return refusal("file_busy", "is being written by another program", {"Try again in a moment."});
    case SQLITE_READONLY:
    case SQLITE_PERM:
      return refusal("read_only", "may not be written to", {"Allow writing to it, or open a copy."});
    case SQLITE_CANTOPEN:
    case SQLITE_AUTH:
      return refusal("cannot_open", "cannot be opened", {"Check that its folder exists and that you may write in it."});
    case SQLITE_NOTADB:
      return refusal("not_a_household", "is not a household file", {"Choose another file."});
    case SQLITE_CORRUPT:
      return refusal("corrupt_file", "is damaged", {"Go back to the newest copy of it."});
    default:
      return refusal("disk_trouble", "could not be read or written",
                     {"Look after the disk and make a copy of the file."});
  }
}

Store::Store(const std::string& path, int flags) : db_(path, flags, kBusyTimeoutMs) {}

measure::Result<void> Store::bring_up_to_date(const std::string& path) {
  SQLite::Transaction transaction(db_, SQLite::TransactionBehavior::IMMEDIATE);
  const auto from = static_cast<std::size_t>(db_.execAndGet("PRAGMA user_version").getInt64());
  if (from == 0 && db_.execAndGet("SELECT count(*) FROM sqlite_schema").getInt64() != 0)
    return not_a_household(path, "an SQLite file of another program");
  for (std::size_t i = from; i < migrations().size(); ++i) db_.exec(std::string(migrations()[i].sql));
  if (from < migrations().size()) {
    db_.exec(fmt::format("PRAGMA application_id = {}", kApplicationId));
    db_.exec(fmt::format("PRAGMA user_version = {}", migrations().size()));
  }
  transaction.commit();
  return {};
}

measure::Result<std::unique_ptr<Store>> Store::open(const std::string& path, const OpenLimits& limits) {
  const bool fresh = is_new(path);
  const bool existed = path == ":memory:" || fs::exists(path);
  try {
    if (!fresh) {
      if (auto looked = look_at(path); !looked) return tl::unexpected(std::move(looked.error()));
    }
    std::unique_ptr<Store> store(new Store(path, SQLite::OPEN_READWRITE | (fresh ? SQLite::OPEN_CREATE : 0)));
    SQLite::Database& db = store->db_;
    if (!fresh) {
      checkpoint_on_close(db, false);
      // A crash before the first step was done leaves a file that rolls back to nothing: begin it again.
      const bool empty = db.execAndGet("PRAGMA page_count").getInt64() == 0;
      if (auto verified = empty ? measure::Result<void>() : verify(db, path); !verified)
        return tl::unexpected(std::move(verified.error()));
      checkpoint_on_close(db, true);
    }
    if (limits.most_pages > 0) db.execAndGet(fmt::format("PRAGMA max_page_count = {}", limits.most_pages));
    if (auto done = store->bring_up_to_date(path); !done) return tl::unexpected(std::move(done.error()));
    // Only now the log: until here the header of the file itself says whose it is.
    db.execAndGet("PRAGMA journal_mode = WAL");
    db.exec("PRAGMA synchronous = FULL");
    return store;
  } catch (const SQLite::Exception& error) {
    measure::Refusal refusal = refusal_from(error, path);
    std::error_code ignored;
    if (!existed && !has_bytes(path)) fs::remove(path, ignored);
    return tl::unexpected(std::move(refusal));
  } catch (const fs::filesystem_error& error) {
    return measure::refuse("cannot_open", fmt::format("{} cannot be opened ({}).", path, error.what()),
                           {"Check that its folder exists and that you may read it."});
  }
}

}  // namespace stillroom::ledger::detail
