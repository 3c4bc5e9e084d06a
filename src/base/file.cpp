// SPDX-License-Identifier: MIT
#include "base/file.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <system_error>

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
  explicit Descriptor(int number) : number_(number) {}
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() {
    if (number_ >= 0) ::close(number_);
  }
  [[nodiscard]] int number() const { return number_; }
  [[nodiscard]] bool open() const { return number_ >= 0; }
  int close() {
    const int result = ::close(number_);
    number_ = -1;
    return result;
  }

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
    refuse_writing(path, fmt::format("cannot be written: {}", reason()));
}

}  // namespace

std::string read_file(const fs::path& path, std::size_t limit) {
  Descriptor file(::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK));
  if (!file.open()) refuse_reading(path, fmt::format("cannot be opened: {}", reason()));
  struct stat status {};
  if (::fstat(file.number(), &status) != 0) refuse_reading(path, fmt::format("cannot be read: {}", reason()));
  if (S_ISDIR(status.st_mode)) refuse_reading(path, "is a folder, not a file", "name a file inside it");
  if (!S_ISREG(status.st_mode)) refuse_reading(path, "is not a regular file");

  std::string bytes;
  std::string buffer(64 * 1024, '\0');
  while (true) {
    const ssize_t got = ::read(file.number(), buffer.data(), buffer.size());
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) refuse_reading(path, fmt::format("cannot be read: {}", reason()));
    if (got == 0) return bytes;
    bytes.append(buffer, 0, static_cast<std::size_t>(got));
    if (bytes.size() > limit)
      refuse_reading(path, fmt::format("is larger than {} bytes, the most that is read", limit));
  }
}

void write_file(const fs::path& path, std::string_view bytes) {
  if (is_special(path)) return write_special(path, bytes);
  // A link is followed, so that what it points at is replaced and not the link itself.
  std::error_code ignored;
  const fs::path resolved = fs::is_symlink(path, ignored) ? fs::weakly_canonical(path, ignored) : path;
  const fs::path target = resolved.empty() ? path : resolved;
  if (fs::is_directory(target, ignored)) refuse_writing(path, "is a folder");

  std::string temporary = (target.string() + ".XXXXXX");
  Descriptor file(::mkstemp(temporary.data()));
  if (!file.open()) refuse_writing(path, fmt::format("cannot be written: {}", reason()));
  const mode_t mask = ::umask(0);
  ::umask(mask);
  const bool written = write_all(file.number(), bytes) && ::fchmod(file.number(), 0666 & ~mask) == 0 &&
                       ::fsync(file.number()) == 0 && file.close() == 0 &&
                       ::rename(temporary.c_str(), target.c_str()) == 0;
  if (written) return;
  const std::string why = reason();
  ::unlink(temporary.c_str());
  refuse_writing(path, fmt::format("cannot be written: {}", why));
}

}  // namespace warmsheet
