// SPDX-License-Identifier: MIT
#include "base/file.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <mutex>
#include <set>
#include <system_error>
#include <utility>

#include "base/problem.h"

namespace warmsheet {
namespace {

namespace fs = std::filesystem;

std::string reason() {
  return std::generic_category().message(errno);
}

[[noreturn]] void refuse_reading(const fs::path& path, std::string message, std::string hint = {}) {
  throw Failure({Trouble::data, {path.string(), 0, 0}, std::move(message), std::move(hint)});
}

[[noreturn]] void refuse_writing(const fs::path& path, std::string message) {
  throw Failure({Trouble::write,
                 {path.string(), 0, 0},
                 std::move(message),
                 "nothing was changed there; name a folder that exists and that you may write to"});
}

/// Closes on every way out.
class Descriptor {
 public:
  explicit Descriptor(int number = -1) : number_(number) {}
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() {
    if (number_ >= 0) ::close(number_);
  }
  [[nodiscard]] int number() const { return number_; }
  [[nodiscard]] bool open() const { return number_ >= 0; }
  void take(int number) { number_ = number; }
  int close() { return ::close(std::exchange(number_, -1)); }

 private:
  int number_;
};

bool write_all(int descriptor, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t written = ::write(descriptor, bytes.data(), bytes.size());
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  return true;
}

/// A device or pipe ("/dev/stdout") cannot be replaced by renaming.
bool is_special(const fs::path& path) {
  struct stat status {};
  return ::stat(path.c_str(), &status) == 0 && !S_ISREG(status.st_mode) && !S_ISDIR(status.st_mode);
}

void write_special(const fs::path& path, std::string_view bytes) {
  Descriptor file(::open(path.c_str(), O_WRONLY | O_CLOEXEC));
  if (!file.open() || !write_all(file.number(), bytes) || file.close() != 0)
    throw Failure({Trouble::write,
                   {path.string(), 0, 0},
                   fmt::format("cannot be written: {}", reason()),
                   "it is no regular file; part of the result may have gone there"});
}

/// The file that a chain of links ends at, even if it does not exist yet.
fs::path behind_links(fs::path path) {
  constexpr int most_links = 40;  // Linux stops there too: path_resolution(7)
  std::error_code error;
  for (int i = 0; i < most_links && fs::is_symlink(path, error); ++i) {
    const fs::path next = fs::read_symlink(path, error);
    if (error) break;
    path = path.parent_path() / next;  // an absolute `next` replaces all of it
  }
  return path;
}

/// A new file in the target's folder, which becomes the target only when it is complete.
class Replacement {
 public:
  explicit Replacement(const fs::path& target) : target_(target) {
    // What a killed run left behind must not stand in the way; the name is short, since the target's may not
    // be.
    constexpr int most_tries = 1000;
    for (int i = 0; i < most_tries && !file_.open(); ++i) {
      path_ = target.parent_path() / fmt::format(".warmsheet-{}-{}.part", ::getpid(), i);
      file_.take(::open(path_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666));
      if (!file_.open() && errno != EEXIST) break;
    }
    made_ = file_.open();
  }
  Replacement(const Replacement&) = delete;
  Replacement& operator=(const Replacement&) = delete;
  ~Replacement() {
    if (made_) ::unlink(path_.c_str());
  }

  /// False with `errno` set if anything failed; the target is then untouched.
  bool replace_by(std::string_view bytes) {
    if (!made_ || !write_all(file_.number(), bytes) || !keep_permissions() || ::fsync(file_.number()) != 0)
      return false;
    if (file_.close() != 0 || ::rename(path_.c_str(), target_.c_str()) != 0) return false;
    made_ = false;
    return true;
  }

 private:
  /// A file that only its owner may read stays so; a new one follows the user's mask.
  bool keep_permissions() {
    constexpr mode_t permission_bits = 0777;
    struct stat before {};
    return ::stat(target_.c_str(), &before) != 0 ||
           ::fchmod(file_.number(), before.st_mode & permission_bits) == 0;
  }

  fs::path target_;
  fs::path path_;
  Descriptor file_;
  bool made_ = false;
};

/// ctrl-C and its like wait while this lives, so that no half-made file is left beside the target.
class HeldSignals {
 public:
  HeldSignals() {
    sigset_t held;
    sigemptyset(&held);
    for (const int signal : {SIGINT, SIGTERM, SIGHUP}) sigaddset(&held, signal);
    held_ = pthread_sigmask(SIG_BLOCK, &held, &before_) == 0;
  }
  HeldSignals(const HeldSignals&) = delete;
  HeldSignals& operator=(const HeldSignals&) = delete;
  ~HeldSignals() {
    if (held_) pthread_sigmask(SIG_SETMASK, &before_, nullptr);
  }

 private:
  sigset_t before_{};
  bool held_ = false;
};

/// Another program that saves the file meanwhile would give us half of each.
bool changed(const struct stat& before, const struct stat& after) {
  return before.st_size != after.st_size || before.st_mtim.tv_sec != after.st_mtim.tv_sec ||
         before.st_mtim.tv_nsec != after.st_mtim.tv_nsec;
}

bool is_write_protected(const fs::path& target) {
  return ::access(target.c_str(), F_OK) == 0 && ::access(target.c_str(), W_OK) != 0;
}

/// Device and number tell a file, whatever links lead to it.
struct Watched {
  std::mutex mutex;
  bool watching = false;
  std::set<std::pair<dev_t, ino_t>> files;
};

Watched& watched() {
  static Watched state;
  return state;
}

void remember(const struct stat& status) {
  const std::scoped_lock lock(watched().mutex);
  if (watched().watching) watched().files.emplace(status.st_dev, status.st_ino);
}

}  // namespace

FileWatch::FileWatch() {
  const std::scoped_lock lock(watched().mutex);
  watched().watching = true;
}

FileWatch::~FileWatch() {
  const std::scoped_lock lock(watched().mutex);
  watched().watching = false;
  watched().files.clear();
}

bool FileWatch::knows(const fs::path& path) const {
  struct stat status {};
  if (::stat(path.c_str(), &status) != 0 || !S_ISREG(status.st_mode)) return false;
  const std::scoped_lock lock(watched().mutex);
  return watched().files.contains({status.st_dev, status.st_ino});
}

std::string read_file(const fs::path& path, std::size_t limit) {
  Descriptor file(::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK));
  if (!file.open()) refuse_reading(path, fmt::format("cannot be opened: {}", reason()));
  struct stat status {};
  if (::fstat(file.number(), &status) != 0) refuse_reading(path, fmt::format("cannot be read: {}", reason()));
  if (S_ISDIR(status.st_mode)) refuse_reading(path, "is a folder, not a file", "name a file inside it");
  if (!S_ISREG(status.st_mode)) refuse_reading(path, "is not a regular file");

  remember(status);

  std::string bytes;
  std::string buffer(64 * 1024, '\0');
  while (true) {
    const ssize_t got = ::read(file.number(), buffer.data(), buffer.size());
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) refuse_reading(path, fmt::format("cannot be read: {}", reason()));
    if (got == 0) break;
    bytes.append(buffer, 0, static_cast<std::size_t>(got));
    if (bytes.size() > limit)
      refuse_reading(path, fmt::format("is larger than {} bytes, the most that is read", limit));
  }
  struct stat now {};
  if (::fstat(file.number(), &now) != 0 || changed(status, now))
    refuse_reading(path, "changed while it was read", "run again when nothing writes to it");
  return bytes;
}

std::string beside(const std::string& file, const std::string& path) {
  const fs::path given(path);
  return given.is_absolute() ? path : (fs::path(file).parent_path() / given).string();
}

void write_file(const fs::path& path, std::string_view bytes) {
  if (is_special(path)) return write_special(path, bytes);
  const fs::path target = behind_links(path);
  std::error_code ignored;
  if (fs::is_symlink(target, ignored)) refuse_writing(path, "is a link that leads in a circle");
  if (fs::is_directory(target, ignored)) refuse_writing(path, "is a folder");
  if (is_write_protected(target)) refuse_writing(path, "is write-protected");
  const HeldSignals held;
  if (!Replacement(target).replace_by(bytes))
    refuse_writing(path, fmt::format("cannot be written: {}", reason()));
  struct stat status {};
  if (::stat(target.c_str(), &status) == 0) remember(status);
}

}  // namespace warmsheet
