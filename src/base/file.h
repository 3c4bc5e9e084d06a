// SPDX-License-Identifier: MIT
// Reading whole files within a limit, and writing so that a failure leaves what was there before.
#pragma once

#include <cstddef>
#include <filesystem>
#include <string>
#include <string_view>

namespace warmsheet {

/// Library, job, outline and bench files: more is refused before it is read.
inline constexpr std::size_t largest_input_bytes = 16UL * 1024 * 1024;

/// The bytes of a regular file. Standard input is not read here; cli/ does that.
/// Throws a Failure (data) if it is missing, unreadable, a folder, or larger than `limit`.
std::string read_file(const std::filesystem::path& path, std::size_t limit = largest_input_bytes);

/// What `file` means by a `path` it names: taken from its own folder, unless it is absolute.
std::string beside(const std::string& file, const std::string& path);

/// Writes to a temporary file in the same folder, then renames it over `path`, or over what a link at `path`
/// points to; permissions are kept. A device or pipe ("/dev/stdout") is written as it is. Throws a Failure
/// (write); `path` then holds what it held before (a device or pipe may have got a part).
void write_file(const std::filesystem::path& path, std::string_view bytes);

/// While one lives, it remembers which files this process reads and writes, under whatever name. One at a
/// time.
class FileWatch {
 public:
  FileWatch();
  FileWatch(const FileWatch&) = delete;
  FileWatch& operator=(const FileWatch&) = delete;
  ~FileWatch();

  /// True if the regular file at `path` was read or written since. Devices and pipes are never known.
  [[nodiscard]] bool knows(const std::filesystem::path& path) const;
};

}  // namespace warmsheet
