// SPDX-License-Identifier: MIT
#include "library/layer_files.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "base/file.h"
#include "base/text.h"

namespace warmsheet::library {
namespace {

namespace fs = std::filesystem;

template <class List>
bool has(const List& list, std::string_view word) {
  return std::find(list.begin(), list.end(), word) != list.end();
}

std::vector<std::string> known_names() {
  std::vector<std::string> names;
  for (const std::string_view file : single_files) names.push_back(fmt::format("{}.toml", file));
  return names;
}

std::vector<std::string> known_folders() {
  return {entry_folders.begin(), entry_folders.end()};
}

[[noreturn]] void refuse_folder(const LayerFolder& folder, std::string_view why) {
  throw Failure(
      {Trouble::usage,
       {folder.path, 0, 0},
       fmt::format("the library folder ({}) {}", folder.name, why),
       "name a folder with files such as sheets/x.toml or surroundings.toml; see materials/README.md"});
}

bool hidden(const fs::path& path) {
  return path.filename().string().starts_with('.');
}
bool is_toml(const fs::directory_entry& entry) {
  return entry.path().extension() == ".toml" && !entry.is_directory();
}

/// Sorted, so that a load does not depend on the order in which the disk lists them.
std::vector<fs::directory_entry> listing(const fs::path& folder) {
  std::vector<fs::directory_entry> entries;
  for (const auto& entry : fs::directory_iterator(folder))
    if (!hidden(entry.path())) entries.push_back(entry);
  std::sort(entries.begin(), entries.end());
  return entries;
}

class FolderReader {
 public:
  FolderReader(Problems& problems, bool& all_read) : problems_(problems), all_read_(all_read) {}

  std::vector<LayerFile> read(const fs::path& root) {
    for (const auto& entry : listing(root)) {
      const std::string name = entry.path().filename().string();
      if (entry.is_directory())
        has(entry_folders, name) ? take_entries(entry.path(), name) : refuse_entries(entry.path(), name);
      else if (is_toml(entry))
        has(single_files, entry.path().stem().string()) ? take(entry.path(), name)
                                                        : refuse_file(entry.path(), name);
    }
    return std::move(files_);
  }

 private:
  void take(const fs::path& path, std::string inside) {
    try {
      files_.push_back({std::move(inside), path.generic_string(), read_file(path)});
    } catch (const Failure& failure) {
      for (const Problem& problem : failure.problems())
        problems_.add(problem.place, problem.message, problem.hint);
      all_read_ = false;
    }
  }

  void take_entries(const fs::path& folder, const std::string& inside) {
    for (const auto& entry : listing(folder)) {
      const std::string name = fmt::format("{}/{}", inside, entry.path().filename().string());
      if (entry.is_directory())
        refuse_entries(entry.path(), name);
      else if (is_toml(entry))
        take(entry.path(), name);
    }
  }

  void refuse_file(const fs::path& path, const std::string& name) {
    problems_.add({path.generic_string(), 0, 0},
                  fmt::format("\"{}\" is no file of a library", clip(name, 60)),
                  meant_or_known(name, known_names()));
  }

  void refuse_entries(const fs::path& folder, const std::string& name) {
    for (const auto& entry : listing(folder))
      if (is_toml(entry))
        problems_.add({entry.path().generic_string(), 0, 0},
                      fmt::format("\"{}\" is no folder of a library", clip(name, 60)),
                      meant_or_known(name, known_folders()));
  }

  Problems& problems_;
  bool& all_read_;
  std::vector<LayerFile> files_;
};

}  // namespace

std::vector<LayerFile> read_layer(const LayerFolder& folder, Problems& problems, bool& all_read) {
  try {
    if (!fs::exists(folder.path)) refuse_folder(folder, "does not exist");
    if (!fs::is_directory(folder.path)) refuse_folder(folder, "is not a folder");
    return FolderReader(problems, all_read).read(folder.path);
  } catch (const fs::filesystem_error& error) {
    refuse_folder(folder, fmt::format("cannot be listed: {}", error.code().message()));
  }
}

}  // namespace warmsheet::library
