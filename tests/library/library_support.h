// SPDX-License-Identifier: MIT
// What several tests of the library room need: the built-in library once, a layer from texts, a failure's
// problems.
#pragma once

#include <doctest/doctest.h>

#include <functional>
#include <map>
#include <string>
#include <vector>

#include "library/library.h"
#include "support/scratch.h"

namespace warmsheet::testing {

inline const library::Library& built_in() {
  static const library::Library library = library::load({});
  return library;
}

using Files = std::map<std::string, std::string>;

/// The built-in library with these folders laid over it in turn.
inline library::Library load_layers(const std::vector<Files>& layers) {
  const Scratch scratch;
  std::vector<library::LayerFolder> folders;
  for (const Files& files : layers) {
    const std::string name = "layer" + std::to_string(folders.size());
    for (const auto& [file, text] : files) (void)scratch.file(name + "/" + file, text);
    folders.push_back({name, scratch.path(name)});
  }
  return library::load(folders);
}
inline library::Library load_with(const Files& files) {
  return load_layers({files});
}

inline std::vector<Problem> problems_of(const std::function<void()>& action) {
  try {
    action();
  } catch (const Failure& failure) {
    return failure.problems();
  }
  FAIL("nothing was refused");
  return {};
}

}  // namespace warmsheet::testing
