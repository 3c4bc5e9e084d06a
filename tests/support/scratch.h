// SPDX-License-Identifier: MIT
// A folder for files of one test, gone afterwards.
#pragma once

#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <string>
#include <string_view>

namespace warmsheet::testing {

class Scratch {
 public:
  Scratch() {
    std::string name = (std::filesystem::temp_directory_path() / "warmsheet-test-XXXXXX").string();
    path_ = ::mkdtemp(name.data());
  }
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;
  ~Scratch() { std::filesystem::remove_all(path_); }

  /// Writes a file in it and returns its path.
  [[nodiscard]] std::string file(const std::string& name, std::string_view text) const {
    const std::filesystem::path path = path_ / name;
    std::filesystem::create_directories(path.parent_path());
    std::ofstream(path, std::ios::binary) << text;
    return path.string();
  }
  [[nodiscard]] std::string path(const std::string& name = "") const { return (path_ / name).string(); }
  [[nodiscard]] bool empty() const { return std::filesystem::is_empty(path_); }

 private:
  std::filesystem::path path_;
};

}  // namespace warmsheet::testing
