// SPDX-License-Identifier: MIT
// What completion offers, as the shells ask for it; the shells themselves are driven by completion.sh.
#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "cli/command.h"
#include "cli/completion.h"
#include "library/library.h"
#include "support/program.h"
#include "support/scratch.h"

using warmsheet::cli::Offers;
using warmsheet::testing::run_program;
using warmsheet::testing::Scratch;

namespace {

Offers after(const std::vector<std::string>& words) {
  return warmsheet::cli::offers_for(words, warmsheet::cli::Environment{});
}

std::set<std::string> words_after(const std::vector<std::string>& words) {
  std::set<std::string> found;
  for (const auto& offer : after(words).words) found.insert(offer.word);
  return found;
}

using Words = std::set<std::string>;

/// Of "MEASURE=LENGTH" or "free|none|ANGLES": the words that stand for others.
Words kinds_in(std::string_view value) {
  Words kinds;
  std::string word;
  for (const char c : std::string(value) + " ") {
    const bool letter = (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
    if (letter) word += c;
    if (letter || word.empty()) continue;
    if (word.front() <= 'Z') kinds.insert(word);
    word.clear();
  }
  return kinds;
}

}  // namespace

TEST_CASE("every command and every option of it is offered") {
  for (const auto& command : warmsheet::cli::commands()) {
    const std::string name(command.name);
    CHECK(words_after({""}).contains(name));
    CHECK(words_after({"help", ""}).contains(name));
    const Words offered = words_after({name, "--"});
    for (const auto& option : warmsheet::cli::options_of(command))
      CHECK_MESSAGE(offered.contains(std::string(option.name)), name, " ", option.name);
  }
}

TEST_CASE("words to choose from and names of the library are offered where they fit") {
  const auto library = warmsheet::library::load({});
  Words sheets;
  for (const auto& [id, sheet] : library.sheets) sheets.insert(id);
  CHECK(words_after({"timing", "--sheet", ""}) == sheets);
  CHECK(words_after({"sheets", ""}) == sheets);
  CHECK(words_after({"choose", "--condition", ""}).size() == library.conditions.size());
  CHECK(words_after({"choose", "--compare", ""}).size() == library.all_stock().size());
  CHECK(words_after({"timing", "--skin", ""}).size() == library.skins.size());
  CHECK(words_after({"timing", "--skin", "th"}) == Words{"thin"});
  CHECK(words_after({"timing", "--bath-state", "st"}) == Words{"still", "stirred"});
  CHECK(words_after({"outline", "--side", "r"}) == Words{"right"});
  CHECK(words_after({"nest", "--rotations", ""}) == Words{"free", "none", "90", "180"});
  CHECK(words_after({"choose", "--liner", "none"}) == Words{"none"});
  CHECK(words_after({"completion", ""}) == Words{"bash", "zsh", "fish"});
  CHECK(words_after({"outline", "--measure", "wrist_g"}) == Words{"wrist_girth="});
}

TEST_CASE("an option and its value may stand in one word, cut at the equals sign or not") {
  CHECK(words_after({"timing", "--color=a"}) == Words{"--color=auto", "--color=always"});
  CHECK(words_after({"timing", "--color", "=", "a"}) == Words{"--color=auto", "--color=always"});
  CHECK(words_after({"timing", "--color", "="}).size() == 3);
}

TEST_CASE("files and folders are left to the shell, where they fit") {
  CHECK(after({"plan", ""}).files);
  CHECK(after({"outline", ""}).files);
  CHECK_FALSE(after({"outline", ""}).words.empty());
  CHECK(after({"timing", "--html", ""}).files);
  CHECK(after({"timing", "--library", ""}).folders);
  CHECK_FALSE(after({"timing", "--bath", ""}).files);
  CHECK_FALSE(after({"sheets", ""}).files);
}

TEST_CASE("an option that was given is not offered again, unless it may be") {
  CHECK_FALSE(words_after({"timing", "--skin", "thin", "--"}).contains("--skin"));
  CHECK(words_after({"outline", "--measure", "a=1 mm", "--"}).contains("--measure"));
}

TEST_CASE("the folder named on the line is looked into, and a broken one spoils nothing") {
  const Scratch scratch;
  static_cast<void>(scratch.file("good/measures.toml", ""));
  static_cast<void>(scratch.file("bad/sheets/x.toml", "id = 3\n"));
  const std::size_t usual = words_after({"timing", "--sheet", ""}).size();
  CHECK(words_after({"timing", "--library", scratch.path("bad"), "--sheet", ""}).size() == usual);
  CHECK(words_after({"timing", "--library", scratch.path("none"), "--sheet", ""}).size() == usual);
}

TEST_CASE("nonsense is offered nothing and breaks nothing") {
  CHECK(after({}).words.size() == after({""}).words.size());
  CHECK(after({"frobnicate", ""}).words.empty());
  CHECK(after({"timing", "\xff\xfe"}).words.empty());
  CHECK(after({"=", "="}).words.empty());
  CHECK(after({"timing", "--skin", std::string(10'000, 'x')}).words.empty());
  CHECK(run_program({"completion", "suggest", "--"}).code == 0);
  CHECK(run_program({"completion"}).code == 2);
  CHECK(run_program({"completion", "csh"}).code == 2);
}

TEST_CASE("every option says exactly enough what it takes") {
  // Words to choose from are written out ("a4|letter"); else it is a kind of name of completion.cpp, a file,
  // a quantity, or a form that the option's help shows.
  const Words kinds{"SHEET",       "STOCK",   "DESIGN",      "OUTLINE", "CONDITION", "SKIN", "LINER", "WRAP",
                    "STATE",       "MEASURE", "PERFORATION", "VARIANT", "FILE",      "DIR",  "NAME",  "N",
                    "LENGTH",      "AREA",    "VOLUME",      "SIZE",    "WxH",       "TIME", "FORCE", "H",
                    "TEMPERATURE", "SHARE",   "ANGLES",      "WHICH",   "ZONE"};
  for (const auto& command : warmsheet::cli::commands())
    for (const auto& option : warmsheet::cli::options_of(command)) {
      CAPTURE(command.name);
      CAPTURE(option.name);
      for (const std::string& kind : kinds_in(option.value)) CHECK_MESSAGE(kinds.contains(kind), kind);
    }
}
