// SPDX-License-Identifier: MIT
// The rules of the house, over the whole tree as it lies on the disk.
#include <doctest/doctest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "house/rules.h"

namespace warmsheet::house {
namespace {

namespace fs = std::filesystem;

const fs::path top = WARMSHEET_SOURCE_DIR;

const Files& tree() {
  static const Files files = read_tree(top);
  return files;
}

/// CMakeLists.txt of the folders directly in `parent`.
Files lists_in(const char* parent) {
  Files lists;
  for (const auto& entry : fs::directory_iterator(top / parent)) {
    const fs::path list = entry.path() / "CMakeLists.txt";
    if (!fs::exists(list)) continue;
    std::ifstream in(list);
    lists.push_back({fs::relative(list, top).generic_string(),
                     std::string(std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>())});
  }
  return lists;
}

void none_of(const Breaches& breaches) {
  for (const std::string& each : breaches) FAIL_CHECK(each);
}

TEST_SUITE("house") {
  TEST_CASE("the tree was found") {
    CHECK(tree().size() > 20);
    CHECK(lists_in("src").size() > 1);
  }

  TEST_CASE("includes go only to the same or a lower room") {
    none_of(arrows(tree()));
  }
  TEST_CASE("rooms are linked only to lower rooms") {
    none_of(arrows_in_cmake(lists_in("src")));
  }
  TEST_CASE("other people's libraries stand where they may") {
    none_of(third_party(tree()));
  }
  TEST_CASE("nothing below cli prints, exits, or reads clock, environment or arguments") {
    none_of(forbidden_calls(tree()));
  }
  TEST_CASE("words that mislead are not used") {
    none_of(forbidden_words(tree()));
  }
  TEST_CASE("lengths and angles are converted in one place") {
    none_of(units_by_hand(tree()));
  }
  TEST_CASE("every source names its licence first") {
    none_of(first_line(tree()));
  }
  TEST_CASE("headers stand alone") {
    none_of(headers(tree()));
  }
  TEST_CASE("functions and files are short") {
    none_of(lengths(tree()));
  }
  TEST_CASE("every source file is built") {
    none_of(listed(tree(), lists_in("src")));
  }

  TEST_CASE("every test file is built") {
    Files lists = lists_in("tests");
    none_of(listed(tree(), lists));
  }

  TEST_CASE("only what belongs there stands at the top of the repository") {
    std::vector<std::string> names;
    for (const auto& entry : fs::directory_iterator(top)) names.push_back(entry.path().filename().string());
    none_of(top_level(names));
  }

  TEST_CASE("shell scripts can be parsed by any sh") {
    std::size_t scripts = 0;
    for (const char* folder : {".ci", "examples", "src", "tests"}) {
      if (!fs::exists(top / folder)) continue;
      for (const auto& entry : fs::recursive_directory_iterator(top / folder)) {
        if (entry.path().extension() != ".sh") continue;
        ++scripts;
        CAPTURE(entry.path().string());
        CHECK(std::system(("sh -n '" + entry.path().string() + "'").c_str()) == 0);
      }
    }
    CHECK(scripts > 0);
  }
}

}  // namespace
}  // namespace warmsheet::house
