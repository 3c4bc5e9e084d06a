// SPDX-License-Identifier: MIT
// Files with one defect each, in bad/. `expected.toml` there says for each what the message must hold: the
// place, and words that tell the reader what is wrong.
#include <doctest/doctest.h>

#include <filesystem>
#include <set>
#include <string>

#include "base/file.h"
#include "base/strict_toml.h"
#include "outline/outline.h"

using namespace warmsheet;

namespace {

const std::string folder = std::string(WARMSHEET_TEST_DIR) + "/bad/";

std::string refusal(const std::string& path) {
  try {
    (void)outline::read(path, {});
  } catch (const Failure& failure) {
    CHECK(failure.trouble() == Trouble::data);
    for (const Problem& problem : failure.problems()) CHECK_FALSE(problem.hint.empty());
    return failure.what();
  }
  return "accepted";
}

}  // namespace

TEST_CASE("every bad file is refused at its place, with what is wrong and what to do") {
  const toml::Value expected = toml::parse(read_file(folder + "expected.toml"), "expected.toml");
  std::set<std::string> told;
  for (const auto& [name, value] : *expected.table()) {
    const std::string seen = refusal(folder + name);
    const auto& of_name = name;  // clang 14 captures no structured binding
    CAPTURE(of_name);
    told.insert(name);
    for (const toml::Value& words : *value.array())
      CHECK_MESSAGE(seen.find(std::get<std::string>(words.data)) != std::string::npos, seen);
  }
  CHECK(told.size() >= 25);
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    const std::string name = entry.path().filename().string();
    CAPTURE(name);
    CHECK((name == "expected.toml" || told.contains(name)));
  }
}
