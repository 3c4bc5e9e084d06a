// SPDX-License-Identifier: MIT
#include "cli/environment.h"

#include <fcntl.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <string_view>

#include "base/text.h"

namespace warmsheet::cli {
namespace {

namespace fs = std::filesystem;

std::string variable(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr ? std::string() : std::string(value);
}

bool is_folder(const fs::path& path) {
  std::error_code ignored;
  return fs::is_directory(path, ignored);
}

/// ../share/warmsheet/materials beside the program's own folder, wherever it was installed.
fs::path installed_folder() {
  std::error_code failed;
  const fs::path program = fs::read_symlink("/proc/self/exe", failed);
  return failed ? fs::path() : program.parent_path().parent_path() / "share" / "warmsheet" / "materials";
}

/// XDG Base Directory Specification 0.8: a relative value counts as unset.
fs::path user_folder() {
  const fs::path data_home = variable("XDG_DATA_HOME");
  if (data_home.is_absolute()) return data_home / "warmsheet" / "materials";
  const fs::path home = variable("HOME");
  return home.empty() ? fs::path() : home / ".local" / "share" / "warmsheet" / "materials";
}

/// POSIX.1-2017, chapter 8: LC_ALL, else LC_CTYPE, else LANG decides the character set.
bool locale_takes_utf8() {
  for (const char* name : {"LC_ALL", "LC_CTYPE", "LANG"}) {
    const std::string locale = lower_case(variable(name));
    if (locale.empty()) continue;
    return locale.find("utf-8") != std::string::npos || locale.find("utf8") != std::string::npos;
  }
  return false;
}

}  // namespace

void keep_standard_streams_apart() {
  // The wrong way round on purpose: writing to a closed stream still fails, and is reported.
  for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO})
    if (::fcntl(stream, F_GETFD) == -1)
      static_cast<void>(::open("/dev/null", stream == 0 ? O_WRONLY : O_RDONLY));
}

Environment read_environment() {
  Environment environment;
  const fs::path installed = installed_folder();
  if (is_folder(installed)) environment.layers.push_back({"installed", installed.string()});
  const fs::path user = user_folder();
  environment.user_folder = user.string();
  if (is_folder(user)) environment.layers.push_back({"user", user.string()});
  // A folder that was named must exist, so that a slip in the name does not pass silently.
  const std::string named = variable("WARMSHEET_LIBRARY");
  if (!named.empty()) environment.layers.push_back({"WARMSHEET_LIBRARY", named});
  environment.out_is_terminal = ::isatty(STDOUT_FILENO) == 1;
  environment.err_is_terminal = ::isatty(STDERR_FILENO) == 1;
  environment.takes_utf8 = locale_takes_utf8();
  environment.color_unwanted = !variable("NO_COLOR").empty() || variable("TERM") == "dumb";
  return environment;
}

}  // namespace warmsheet::cli
