// SPDX-License-Identifier: MIT
// Every folder below bad/ is a library layer with one defect. Its first lines say what must be reported:
//   # expect 5:11 words | more words
// The place is line:column in that file, "file" for a file that is refused as a whole, or the name of the
// built-in file whose values the slip contradicts. All the words must stand in the message or its hint.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <sstream>

#include "base/file.h"
#include "base/text.h"
#include "library_support.h"

using namespace warmsheet;
using namespace warmsheet::testing;
namespace fs = std::filesystem;

namespace {

struct Expected {
  std::string place;
  std::vector<std::string> words;
};

struct BadLayer {
  std::string folder;
  std::string file;
  std::vector<Expected> expected;
};

std::vector<std::string> parts_of(std::string_view text) {
  std::vector<std::string> parts;
  for (std::size_t bar = text.find('|'); bar != std::string_view::npos; bar = text.find('|')) {
    parts.emplace_back(trim(text.substr(0, bar)));
    text.remove_prefix(bar + 1);
  }
  parts.emplace_back(trim(text));
  return parts;
}

std::vector<Expected> expectations_in(const std::string& text) {
  static constexpr std::string_view mark = "# expect ";
  std::vector<Expected> expected;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    if (!line.starts_with(mark)) continue;
    const std::string_view rest = std::string_view(line).substr(mark.size());
    const std::size_t blank = rest.find(' ');
    expected.push_back({std::string(rest.substr(0, blank)), parts_of(rest.substr(blank))});
  }
  return expected;
}

std::vector<BadLayer> bad_layers() {
  std::vector<BadLayer> layers;
  for (const auto& entry : fs::recursive_directory_iterator(fs::path(WARMSHEET_TEST_DIR) / "bad")) {
    if (entry.path().extension() != ".toml") continue;
    const fs::path inside = fs::relative(entry.path(), fs::path(WARMSHEET_TEST_DIR) / "bad");
    layers.push_back({(fs::path(WARMSHEET_TEST_DIR) / "bad" / *inside.begin()).string(),
                      entry.path().generic_string(), expectations_in(read_file(entry.path()))});
  }
  std::sort(layers.begin(), layers.end(),
            [](const BadLayer& a, const BadLayer& b) { return a.file < b.file; });
  return layers;
}

std::string expected_place(const BadLayer& layer, const std::string& place) {
  if (place == "file") return layer.file;
  const bool in_another_file = place.find(':') == std::string::npos;
  return in_another_file ? place : layer.file + ":" + place;
}

bool says(const Problem& problem, const std::string& words) {
  return (problem.message + "\n" + problem.hint).find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("every defective library file is refused at the place and in the words it states") {
  const std::vector<BadLayer> layers = bad_layers();
  CHECK(layers.size() >= 66);
  for (const BadLayer& layer : layers) {
    CAPTURE(layer.file);
    REQUIRE_FALSE(layer.expected.empty());
    const std::vector<Problem> seen = problems_of([&] { library::load({{"--library", layer.folder}}); });
    REQUIRE(seen.size() == layer.expected.size());
    for (std::size_t i = 0; i < seen.size(); ++i) {
      CAPTURE(seen[i].text());
      CHECK(seen[i].trouble == Trouble::data);
      const std::string place = expected_place(layer, layer.expected[i].place);
      if (place.starts_with("materials/"))
        CHECK(seen[i].place.file == place);
      else
        CHECK(seen[i].place.text() == place);
      for (const std::string& words : layer.expected[i].words) {
        CAPTURE(words);
        CHECK(says(seen[i], words));
      }
    }
  }
}

TEST_CASE("slips in several files are reported together") {
  const Files files{
      {"sheets/a.toml",
       "id = \"elastic-clear\"\n[thermal]\ndensity = { value = 5, unit = \"kg/m3\", basis = \"bench\" }\n"},
      {"sheets/b.toml", "id = \"draping-white\"\ncolour = \"white\"\n"},
      {"surroundings.toml", "room = { value = 90, unit = \"degC\", basis = \"bench\" }\n"},
      {"skins.toml", ""}};
  const std::vector<Problem> seen = problems_of([&] { load_with(files); });
  CHECK(seen.size() == 4);
}

TEST_CASE("a file that cannot be parsed hides neither the other slips nor makes up new ones") {
  const Files files{{"sources.toml", "[[reference]]\nid = \"mine\n"},
                    {"sheets/a.toml",
                     "id = \"elastic-clear\"\n[thermal]\ndensity = { value = 1100, unit = \"kg/m3\", basis = "
                     "\"handbook\", source = \"mine\" }\nlatent = 1\n"}};
  const std::vector<Problem> seen = problems_of([&] { load_with(files); });
  REQUIRE(seen.size() == 2);
  CHECK(seen[0].place.file.ends_with("sources.toml"));
  CHECK(seen[1].message.find("latent: unknown key") != std::string::npos);
}

TEST_CASE("a design that cannot be parsed makes no condition name an unknown one") {
  const Files files{{"designs/band.toml", "id = \"band\nname = \"Band\"\n"},
                    {"conditions/x.toml", "id = \"carpal-tunnel\"\ndesign = \"band\"\n"}};
  const std::vector<Problem> seen = problems_of([&] { load_with(files); });
  REQUIRE(seen.size() == 1);
  CHECK(seen[0].place.file.ends_with("band.toml"));
}

TEST_CASE("a folder that is not there, or is a file, is a slip of the command line") {
  const Scratch scratch;
  const std::string file = scratch.file("plain.toml", "");
  for (const std::string& path : {scratch.path("nowhere"), file}) {
    CAPTURE(path);
    const std::vector<Problem> seen = problems_of([&] { library::load({{"WARMSHEET_LIBRARY", path}}); });
    REQUIRE(seen.size() == 1);
    CHECK(seen[0].trouble == Trouble::usage);
    CHECK(seen[0].place.file == path);
    CHECK(seen[0].message.find("WARMSHEET_LIBRARY") != std::string::npos);
  }
}

TEST_CASE("two files of one folder must not state the same sheet") {
  const Files files{{"sheets/a.toml", "id = \"elastic-clear\"\nname = \"A\"\n"},
                    {"sheets/b.toml", "id = \"elastic-clear\"\nname = \"B\"\n"}};
  const std::vector<Problem> seen = problems_of([&] { load_with(files); });
  REQUIRE(seen.size() == 1);
  CHECK(seen[0].place.file.ends_with("b.toml"));
  CHECK(says(seen[0], "stated twice"));
  CHECK(says(seen[0], "a.toml"));
}
