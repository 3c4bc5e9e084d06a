// SPDX-License-Identifier: MIT
// What the documents say is what the program does: examples run, and README and help name the same things.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "base/problem.h"
#include "cli/command.h"
#include "library/library.h"
#include "library/precautions.h"
#include "plan/job.h"
#include "support/program.h"
#include "support/scratch.h"

namespace fs = std::filesystem;
using warmsheet::testing::Ran;
using warmsheet::testing::run_program;
using warmsheet::testing::Scratch;

namespace {

const fs::path source_dir = WARMSHEET_SOURCE_DIR;

std::string read_text(const fs::path& path) {
  std::ifstream file(path);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

std::set<std::string> words_between(const std::string& text, std::string_view separator) {
  std::set<std::string> words;
  std::size_t from = 0;
  for (std::size_t to = 0; to != std::string::npos; from = to + separator.size()) {
    to = text.find(separator, from);
    words.insert(text.substr(from, to - from));
  }
  return words;
}

/// The words of a command line as a shell would split them (double quotes only).
std::vector<std::string> words_of(const std::string& line) {
  std::vector<std::string> words;
  std::string word;
  bool quoted = false;
  for (const char c : line + " ") {
    if (c == '"')
      quoted = !quoted;
    else if (c != ' ' || quoted)
      word += c;
    else if (!word.empty())
      words.push_back(std::exchange(word, {}));
  }
  return words;
}

/// Keys that the reader of jobs knows in a table, as it tells somebody who misspells one of them.
std::set<std::string> known_job_keys(const std::string& header) {
  static const auto library = warmsheet::library::load({});
  static constexpr std::string_view opening = "known keys: ";
  std::set<std::string> keys;
  try {
    static_cast<void>(warmsheet::plan::parse_job(header + "qqqqqqqqqqqqqqqq = 1\n", "job.toml", library));
  } catch (const warmsheet::Failure& failure) {
    for (const warmsheet::Problem& problem : failure.problems())
      if (problem.hint.starts_with(opening)) keys = words_between(problem.hint.substr(opening.size()), ", ");
  }
  for (const char* any_table : {"basis", "source", "where", "seen"}) keys.erase(any_table);
  return keys;
}

/// What stands in `backticks`, less the brackets of tables: "[[cut.offcut]]" is "offcut".
std::set<std::string> words_in_backticks(const std::string& text) {
  static const std::regex word(R"(`\[*(?:[a-z]+\.)?([a-z_]+)\]*`)");
  std::set<std::string> words;
  for (auto it = std::sregex_iterator(text.begin(), text.end(), word); it != std::sregex_iterator(); ++it)
    words.insert((*it)[1]);
  return words;
}

/// First cell and whole row of each row of the table that opens with this head.
std::vector<std::pair<std::string, std::string>> rows_under(const std::string& text,
                                                            const std::string& head) {
  std::vector<std::pair<std::string, std::string>> rows;
  std::istringstream lines(text.substr(std::min(text.size(), text.find(head))));
  for (std::string line; std::getline(lines, line) && line.starts_with("|");)
    rows.emplace_back(line.substr(0, line.find(" | ")), line);
  return rows;
}

/// A folder from which the examples are reached as from the project's own, and where written files do no
/// harm.
class ProjectCopy {
 public:
  ProjectCopy() : before_(fs::current_path()) {
    for (const char* folder : {"examples", "materials"})
      fs::create_directory_symlink(source_dir / folder, scratch_.path(folder));
    fs::current_path(scratch_.path());
  }
  ProjectCopy(const ProjectCopy&) = delete;
  ProjectCopy& operator=(const ProjectCopy&) = delete;
  ~ProjectCopy() { fs::current_path(before_); }

 private:
  fs::path before_;
  Scratch scratch_;
};

}  // namespace

TEST_CASE("every example in the help runs as it stands") {
  const ProjectCopy here;
  for (const auto& command : warmsheet::cli::commands()) {
    CHECK_FALSE(command.examples.empty());
    for (const std::string_view example : command.examples) {
      CAPTURE(std::string(example));
      std::vector<std::string> words = words_of(std::string(example));
      REQUIRE(words.front() == "warmsheet");
      words.erase(words.begin());
      const Ran ran = run_program(words);
      CAPTURE(ran.err);
      CHECK(ran.code == 0);
      CHECK_FALSE(ran.out.empty());
    }
  }
}

TEST_CASE("every job among the examples can be planned") {
  int jobs = 0;
  for (const auto& entry : fs::recursive_directory_iterator(source_dir / "examples")) {
    if (entry.path().filename() != "job.toml") continue;
    CAPTURE(entry.path().string());
    CHECK(run_program({"plan", entry.path().string(), "--json"}).code == 0);
    ++jobs;
  }
  CHECK(jobs >= 2);
}

TEST_CASE("the README names every command, and shows what the example really prints") {
  const std::string readme = read_text(source_dir / "README.md");
  const auto rows = rows_under(readme, "| command |");
  for (const auto& command : warmsheet::cli::commands()) {
    const std::string name(command.name);
    const bool told = std::any_of(rows.begin(), rows.end(),
                                  [&](const auto& row) { return row.first.starts_with("| `" + name + " "); });
    CHECK_MESSAGE(told, "README's table of commands lacks ", name);
  }

  const std::string printed = run_program({"plan", (source_dir / "examples/wrist/job.toml").string()}).out;
  const std::size_t begin = readme.find("RESULTS\n");
  REQUIRE(begin != std::string::npos);
  std::istringstream block(readme.substr(begin, readme.find("```", begin) - begin));
  for (std::string line; std::getline(block, line);) {
    const bool left_out = line.find("...") != std::string::npos;
    if (!left_out) CHECK_MESSAGE(printed.find(line) != std::string::npos, line);
  }
}

TEST_CASE("the README's table of job keys and the reader of jobs know the same keys") {
  const auto rows = rows_under(read_text(source_dir / "README.md"), "| key of a job |");
  REQUIRE(rows.size() > 2);
  std::set<std::string> told;
  for (const auto& [cell, row] : rows) told.merge(words_in_backticks(cell));
  const std::set<std::string> known = known_job_keys("");
  REQUIRE(known.size() > 5);
  for (const std::string& key : known)
    CHECK_MESSAGE(told.contains(key), "README's table of job keys lacks ", key);
  for (const std::string& key : told) CHECK_MESSAGE(known.contains(key), "a job has no key ", key);
  for (const std::string table : {"[bath]", "[person]", "[cut]", "[[cut.offcut]]"}) {
    const auto row = std::find_if(rows.begin(), rows.end(), [&](const auto& each) {
      return each.second.find(table) != std::string::npos;
    });
    REQUIRE_MESSAGE(row != rows.end(), table);
    const std::set<std::string> in_row = words_in_backticks(row->second);
    for (const std::string& key : known_job_keys(table + "\n"))
      CHECK_MESSAGE(in_row.contains(key), "README's row of ", table, " lacks ", key);
  }
}

TEST_CASE("ids of cautions stay: each frozen one is written somewhere, and those written are frozen") {
  const std::set<std::string> frozen =
      words_between(read_text(source_dir / "tests/cli/caution_ids.txt"), "\n");
  std::string written;
  for (const char* folder : {"src", "materials/conditions"})
    for (const auto& entry : fs::recursive_directory_iterator(source_dir / folder))
      if (entry.is_regular_file()) written += read_text(entry.path());
  for (const std::string& id : frozen) {
    if (id.empty() || id.starts_with("#")) continue;
    CHECK_MESSAGE(written.find("\"" + id + "\"") != std::string::npos, "no source writes the caution id ", id,
                  " any more: programs that read --json go by it");
  }
  std::set<std::string> ids;
  for (const auto& precaution : warmsheet::library::precautions()) ids.emplace(precaution.caution.id);
  for (const auto& [name, condition] : warmsheet::library::load({}).conditions)
    for (const auto& caution : condition.cautions) ids.insert(caution.id);
  static const std::regex stated("\\{\"([a-z][a-z0-9-]*)\",");
  const std::string source = read_text(source_dir / "src/plan/cautions.cpp");
  for (auto it = std::sregex_iterator(source.begin(), source.end(), stated); it != std::sregex_iterator();
       ++it)
    ids.insert((*it)[1]);
  CHECK(ids.size() >= 60);
  for (const std::string& id : ids)
    CHECK_MESSAGE(frozen.contains(id), "tests/cli/caution_ids.txt lacks the caution id ", id);
}

TEST_CASE("the README's commands are those of the program") {
  const std::string readme = read_text(source_dir / "README.md");
  for (const char* option : {"--html", "--pdf", "--outline-pdf", "--explain", "--json", "--why"}) {
    CHECK(readme.find(std::string("`") + option) != std::string::npos);
    CHECK(run_program({"plan", "--help"}).out.find(option) != std::string::npos);
  }
}

TEST_CASE("files and folders that the documents name are there") {
  for (const char* document : {"README.md", "DEVELOPERS.md"}) {
    const std::string text = read_text(source_dir / document);
    static const std::regex path(R"((\.ci|examples|materials|src|tests)/[A-Za-z0-9_./-]*[A-Za-z0-9_])");
    int named = 0;
    for (auto it = std::sregex_iterator(text.begin(), text.end(), path); it != std::sregex_iterator(); ++it) {
      const std::string found = it->str();
      // Places in the build folder, in an installation, and names with a blank to fill in.
      const bool elsewhere = it->position() > 0 && text[static_cast<std::size_t>(it->position()) - 1] == '/';
      if (elsewhere || found.find("NAME") != std::string::npos || found.find("COMMAND") != std::string::npos)
        continue;
      CHECK_MESSAGE(fs::exists(source_dir / found), document, ": ", found);
      ++named;
    }
    CHECK(named >= 5);
  }
}

TEST_CASE("commands that the README shows in passing are the program's, options and all") {
  const std::string readme = read_text(source_dir / "README.md");
  static const std::regex shown("`warmsheet ([a-z]+)([^`]*)`");
  static const std::regex option("--[a-z-]+");
  int commands_shown = 0;
  for (auto it = std::sregex_iterator(readme.begin(), readme.end(), shown); it != std::sregex_iterator();
       ++it) {
    const auto* command = warmsheet::cli::find_command((*it)[1].str());
    if ((*it)[1] == "completion") continue;
    REQUIRE_MESSAGE(command != nullptr, it->str());
    const std::string help = run_program({(*it)[1].str(), "--help"}).out;
    const std::string rest = (*it)[2];
    for (auto at = std::sregex_iterator(rest.begin(), rest.end(), option); at != std::sregex_iterator(); ++at)
      CHECK_MESSAGE(help.find(at->str()) != std::string::npos, it->str());
    ++commands_shown;
  }
  CHECK(commands_shown >= 2);
}
