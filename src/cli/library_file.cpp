// SPDX-License-Identifier: MIT
#include "cli/library_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <optional>
#include <utility>

#include "base/file.h"
#include "base/strict_toml.h"
#include "cli/file_kinds.h"
#include "library/layer_files.h"
#include "outline/fit.h"

namespace warmsheet::cli {
namespace {

namespace fs = std::filesystem;

template <class List>
bool among(const List& list, const std::string& word) {
  return std::find(list.begin(), list.end(), word) != list.end();
}

/// Of one entry a file: "sheets", "designs", "conditions".
bool in_entry_folder(const fs::path& path) {
  return among(library::entry_folders,
               fs::absolute(path).lexically_normal().parent_path().filename().string());
}

/// The library that the file lies in, if its place is one of a library.
std::optional<std::string> folder_around(const fs::path& path) {
  const fs::path beside = path.has_parent_path() ? path.parent_path() : fs::path(".");
  if (in_entry_folder(path)) return (beside / "..").lexically_normal().generic_string();
  if (among(library::single_files, path.stem().string())) return beside.generic_string();
  return std::nullopt;
}

bool same_file(const std::string& a, const std::string& b) {
  std::error_code ignored;
  return fs::equivalent(a, b, ignored);
}

bool is_design(const std::string& path) {
  return in_entry_folder(path) && fs::absolute(path).lexically_normal().parent_path().filename() == "designs";
}

void require_fits(const std::string& path, const library::Library& library) {
  const auto design = library.designs.find(entry_id(path));
  if (!is_design(path) || design == library.designs.end()) return;
  std::vector<Problem> problems = outline::fit_problems(design->second, library);
  if (!problems.empty()) throw Failure(std::move(problems));
}

/// Throws what is wrong with this file out of all that is wrong in its folder.
[[noreturn]] void tell_own(const std::vector<Problem>& all, const std::string& path,
                           const std::string& folder) {
  std::vector<Problem> own;
  std::copy_if(all.begin(), all.end(), std::back_inserter(own),
               [&](const Problem& problem) { return same_file(problem.place.file, path); });
  if (!own.empty()) throw Failure(std::move(own));
  throw Failure(Problem{Trouble::data,
                        {path, 0, 0},
                        fmt::format("cannot be judged while other files of its library have problems, as {}",
                                    all.front().place.text()),
                        fmt::format("check the whole folder: warmsheet check {}", folder)});
}

library::Library load_around(const std::string& path, const std::string& folder, const Arguments& arguments,
                             const Session& session) {
  try {
    return session.load_library(arguments, {{"checked", folder}});
  } catch (const Failure& failure) {
    tell_own(failure.problems(), path, folder);
  }
}

}  // namespace

std::string entry_id(const std::string& path) {
  const toml::Value document = toml::parse(read_file(path), path);
  const std::string* id = document.id();
  return id == nullptr ? "" : *id;
}

bool is_library_file(const std::string& path) {
  const toml::Value document = toml::parse(read_file(path), path);
  const toml::Table& keys = *document.table();
  if (keys.contains("label")) return false;
  return keys.contains("id") || (!keys.empty() && folder_around(path) && !is_of_no_library(document));
}

void check_library_file(const std::string& path, const Arguments& arguments, const Session& session) {
  const auto folder = folder_around(path);
  if (!folder)
    throw Failure(
        Problem{Trouble::data,
                {path, 0, 0},
                "is a file of a library by its id, and lies in no library",
                "put it into sheets, designs or conditions of a folder of yours, and check that folder"});
  require_fits(path, load_around(path, *folder, arguments, session));
}

}  // namespace warmsheet::cli
