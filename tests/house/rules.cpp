// SPDX-License-Identifier: MIT
#include "house/rules.h"

#include <algorithm>
#include <fstream>
#include <iterator>
#include <map>
#include <regex>
#include <set>

#include "house/source_text.h"

namespace warmsheet::house {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t longest_function = 60;
constexpr std::size_t longest_file = 600;

/// What each room may include beside itself. choice and stock are neighbours and do not see each other; heat
/// knows nothing of shapes.
const std::map<std::string, std::set<std::string>>& rooms_below() {
  static const std::map<std::string, std::set<std::string>> below{
      {"base", {}},
      {"library", {"base"}},
      {"outline", {"base", "library"}},
      {"nesting", {"base", "outline"}},
      {"heat", {"base", "library"}},
      {"choice", {"base", "library", "outline", "nesting", "heat"}},
      {"stock", {"base", "library", "outline", "nesting"}},
      {"plan", {"base", "library", "outline", "nesting", "heat", "choice"}},
      {"report", {"base", "library", "outline", "nesting", "heat", "choice", "stock", "plan"}},
      {"cli", {"base", "library", "outline", "nesting", "heat", "choice", "stock", "plan", "report"}},
  };
  return below;
}

struct Permission {
  std::string_view header;              // start of its name
  std::vector<std::string_view> files;  // or folders, with a '/' at the end
  std::size_t most;                     // files that may include it
};

/// Compile costs and traps of each are confined to these files; a replacement then touches one place.
const std::vector<Permission>& permissions() {
  static const std::vector<Permission> all{
      {"CLI/", {"src/cli/"}, 1},
      {"toml++/", {"src/base/toml_parse.cpp"}, 1},
      {"nlohmann/", {"src/report/json_writer.cpp", "src/report/read_layout.cpp", "tests/"}, 99},
      {"png", {"src/outline/png_file.cpp", "tests/"}, 99},
      {"turbojpeg", {"src/outline/jpeg_file.cpp", "tests/"}, 99},
      {"pugixml", {"src/outline/read_svg.cpp", "tests/"}, 99},
      {"geos", {"src/outline/geos.cpp", "tests/"}, 99},
      {"hpdf", {"src/report/pdf_writer.cpp"}, 1},
      {"boost/", {"src/stock/probability.cpp", "tests/"}, 99},
      {"nlopt", {"src/heat/fitting.cpp"}, 1},
      {"fmt/", {"src/", "tests/"}, 999},
      {"doctest/", {"tests/"}, 999},
      {"rapidcheck", {"tests/"}, 999},
      {"benchmark/", {"tests/bench/"}, 99},
      // POSIX: files, and the terminal.
      {"fcntl.h", {"src/base/file.cpp", "src/cli/environment.cpp", "tests/"}, 99},
      {"unistd.h", {"src/base/file.cpp", "src/cli/", "tests/"}, 99},
      {"sys/", {"src/base/file.cpp", "src/cli/", "tests/"}, 99},
      {"signal.h", {"src/cli/", "tests/"}, 99},
      {"poll.h", {"src/cli/", "tests/"}, 99},
      {"spawn.h", {"tests/"}, 99},
      {"dlfcn.h", {"tests/cli/"}, 1},
  };
  return all;
}

const std::vector<std::string_view>& calls_of_cli_only() {
  static const std::vector<std::string_view> words{
      "std::cout",
      "std::cerr",
      "std::clog",
      "std::cin",
      "printf",
      "fprintf",
      "vprintf",
      "puts",
      "fputs",
      "putchar",
      "fmt::print",
      "stdout",
      "stderr",
      "stdin",
      "exit",
      "_exit",
      "quick_exit",
      "std::abort",
      "std::terminate",
      "getenv",
      "secure_getenv",
      "environ",
      "setenv",
      "putenv",
      "std::time",
      "time(nullptr)",
      "time(NULL)",
      "time(0)",
      "std::clock",
      "clock_gettime",
      "gettimeofday",
      "system_clock",
      "steady_clock",
      "high_resolution_clock",
      "localtime",
      "gmtime",
      "setlocale",
      "std::locale",
      "argv",
      "isatty",
      "std::random_device",
      "std::rand",
      "srand",
      "std::signal",
      "std::system",
      "popen",
      "chdir",
      "current_path",
      "umask",
  };
  return words;
}

bool is_header(const File& file) {
  return file.path.ends_with(".h");
}
bool in_source(const File& file) {
  return file.path.starts_with("src/");
}

/// "base" of "src/base/text.h" and of "tests/base/text_test.cpp"; empty for files that stand in no room.
std::string room_of(const std::string& path) {
  const std::size_t first = path.find('/');
  const std::size_t second = path.find('/', first + 1);
  return second == std::string::npos ? "" : path.substr(first + 1, second - first - 1);
}

std::string breach(const std::string& path, std::size_t line, const std::string& rule) {
  return path + ":" + std::to_string(line) + ": " + rule;
}

std::string listing(const std::set<std::string>& names) {
  std::string all;
  for (const std::string& name : names) all += (all.empty() ? "" : ", ") + name;
  return all.empty() ? "nothing" : all;
}

bool permitted(const Permission& permission, const std::string& path) {
  return std::any_of(permission.files.begin(), permission.files.end(), [&](std::string_view file) {
    return file.ends_with('/') ? path.starts_with(file) : path == file;
  });
}

/// Names without '/' and '.' are the standard library's.
bool is_standard(const std::string& name) {
  return name.find_first_of("/.+") == std::string::npos;
}

}  // namespace

Files read_tree(const fs::path& top) {
  Files files;
  for (const char* folder : {"src", "tests"}) {
    if (!fs::exists(top / folder)) continue;
    for (const auto& entry : fs::recursive_directory_iterator(top / folder)) {
      const std::string extension = entry.path().extension().string();
      if (!entry.is_regular_file() || (extension != ".cpp" && extension != ".h")) continue;
      std::ifstream in(entry.path(), std::ios::binary);
      files.push_back({fs::relative(entry.path(), top).generic_string(),
                       std::string(std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>())});
    }
  }
  std::sort(files.begin(), files.end(), [](const File& a, const File& b) { return a.path < b.path; });
  return files;
}

Breaches arrows(const Files& files) {
  Breaches found;
  for (const File& file : files) {
    const std::string room = room_of(file.path);
    const auto below = rooms_below().find(room);
    if (!in_source(file)) continue;
    if (below == rooms_below().end()) {
      found.push_back(breach(file.path, 1, "stands in no room of the house"));
      continue;
    }
    for (const Include& include : includes_of(file.text)) {
      if (!include.own) continue;
      const std::string target = include.name.substr(0, include.name.find('/'));
      if (include.name.find('/') == std::string::npos)
        found.push_back(
            breach(file.path, include.line, "name the room: #include \"" + room + "/" + include.name + "\""));
      else if (target != room && !below->second.contains(target))
        found.push_back(
            breach(file.path, include.line,
                   room + "/ may include " + listing(below->second) + " and itself, not " + include.name));
    }
  }
  return found;
}

Breaches arrows_in_cmake(const Files& cmake) {
  Breaches found;
  static const std::regex arrow_list("ARROWS\\s+([^)]*?)(LINK|SOURCES|\\))");
  for (const File& file : cmake) {
    const std::string room = room_of(file.path);
    const auto below = rooms_below().find(room);
    std::smatch match;
    if (below == rooms_below().end() || !std::regex_search(file.text, match, arrow_list)) continue;
    const auto line = std::count(file.text.begin(), file.text.begin() + match.position(), '\n') + 1;
    const std::string arrows = match[1];
    static const std::regex word("[^\\s]+");
    for (auto it = std::sregex_iterator(arrows.begin(), arrows.end(), word); it != std::sregex_iterator();
         ++it)
      if (rooms_below().contains(it->str()) && !below->second.contains(it->str()))
        found.push_back(breach(file.path, static_cast<std::size_t>(line),
                               room + "/ must not be linked to " + it->str() + "/"));
  }
  return found;
}

Breaches third_party(const Files& files) {
  Breaches found;
  std::map<std::string_view, std::set<std::string>> users;
  for (const File& file : files) {
    for (const Include& include : includes_of(file.text)) {
      if (include.own || is_standard(include.name)) continue;
      const auto permission =
          std::find_if(permissions().begin(), permissions().end(),
                       [&](const Permission& each) { return include.name.starts_with(each.header); });
      if (permission == permissions().end())
        found.push_back(
            breach(file.path, include.line,
                   "<" + include.name + "> needs a reason in DEVELOPERS.md and a row in rules.cpp"));
      else if (!permitted(*permission, file.path))
        found.push_back(
            breach(file.path, include.line,
                   "<" + include.name + "> belongs in " + std::string(permission->files.front())));
      else if (users[permission->header].insert(file.path).second &&
               users[permission->header].size() > permission->most)
        found.push_back(breach(file.path, include.line,
                               "<" + include.name + "> is included by another file already: " +
                                   *users[permission->header].begin()));
    }
  }
  return found;
}

Breaches forbidden_calls(const Files& files) {
  Breaches found;
  for (const File& file : files) {
    if (!in_source(file) || room_of(file.path) == "cli") continue;
    const std::string code = code_of(file.text);
    for (const std::string_view word : calls_of_cli_only())
      for (const std::size_t line : lines_with(code, word))
        found.push_back(breach(file.path, line,
                               std::string(word) +
                                   " is for cli/ only: no room below prints, exits, or reads the "
                                   "clock, the environment or the arguments"));
  }
  return found;
}

Breaches forbidden_words(const Files& files) {
  struct Word {
    std::string_view word;
    std::string_view reason;
    bool in_comments;
  };
  static const std::vector<Word> words{
      {"doctest::Approx", "takes 1e-7 for 9e-6; use near_rel or near_abs of support/near.h", false},
      {"Approx(", "takes 1e-7 for 9e-6; use near_rel or near_abs of support/near.h", false},
      {"std::views", "clang 14 cannot compile it with this standard library", false},
      {"using namespace std", "hides where names come from", false},
      {"setlocale", "decimal points must not depend on the user's country", false},
      {"TODO", "finish it, or say in DEVELOPERS.md what is not done", true},
      {"FIXME", "finish it, or say in DEVELOPERS.md what is not done", true},
      {"XXX", "finish it, or say in DEVELOPERS.md what is not done", true},
  };
  Breaches found;
  for (const File& file : files) {
    if (file.path.starts_with("tests/house/")) continue;  // which must name them
    const std::string code = code_of(file.text);
    for (const Word& each : words)
      for (const std::size_t line : lines_with(each.in_comments ? file.text : code, each.word))
        found.push_back(breach(file.path, line, std::string(each.word) + ": " + std::string(each.reason)));
  }
  return found;
}

Breaches units_by_hand(const Files& files) {
  static const std::vector<std::string_view> by_hand{"25.4",
                                                     "0.0254",
                                                     "pi / 180.0",
                                                     "180.0 / std::numbers::pi",
                                                     "* 1e3",
                                                     "/ 1e3",
                                                     "* 1e-3",
                                                     "/ 1e-3",
                                                     "* 1000.0",
                                                     "/ 1000.0",
                                                     "* 0.001",
                                                     "double mm_per_m",
                                                     "double m_per_mm",
                                                     "double um_per_mm",
                                                     "double inch_m",
                                                     "double inch_mm"};
  Breaches found;
  for (const File& file : files) {
    if (!in_source(file) || file.path.starts_with("src/base/dimension.")) continue;
    const std::string code = code_of(file.text);
    for (const std::string_view each : by_hand)
      for (const std::size_t line : lines_with(code, each))
        found.push_back(breach(file.path, line, std::string(each) + ": take it from base/dimension.h"));
  }
  return found;
}

Breaches first_line(const Files& files) {
  Breaches found;
  for (const File& file : files)
    if (!file.text.starts_with("// SPDX-License-Identifier: MIT\n"))
      found.push_back(breach(file.path, 1, "the first line must be \"// SPDX-License-Identifier: MIT\""));
  return found;
}

Breaches headers(const Files& files) {
  Breaches found;
  std::set<std::string> paths;
  for (const File& file : files) paths.insert(file.path);
  for (const File& file : files) {
    if (is_header(file) && lines_with(code_of(file.text), "#pragma once").size() != 1)
      found.push_back(breach(file.path, 1, "a header needs #pragma once"));
    if (is_header(file) && in_source(file))
      for (const std::size_t line : lines_with(code_of(file.text), "using namespace"))
        found.push_back(breach(file.path, line, "a header must not open a namespace for its readers"));
    if (is_header(file) || !in_source(file)) continue;
    const std::string own = file.path.substr(0, file.path.size() - 3) + "h";
    const std::vector<Include> includes = includes_of(file.text);
    if (paths.contains(own) && (includes.empty() || "src/" + includes.front().name != own))
      found.push_back(
          breach(file.path, 1, "its own header must be its first include, to prove that it stands alone"));
  }
  return found;
}

Breaches lengths(const Files& files) {
  Breaches found;
  for (const File& file : files) {
    const std::size_t lines = lines_of(file.text).size();
    if (lines > longest_file)
      found.push_back(
          breach(file.path, lines, "a file ends after " + std::to_string(longest_file) + " lines"));
    // A test is often a table of cases with a loop below it; only the loop counts.
    for (const Function& function : functions_of(file.text, !in_source(file)))
      if (function.length > longest_function)
        found.push_back(breach(file.path, function.line,
                               "this function has " + std::to_string(function.length) + " lines; " +
                                   std::to_string(longest_function) + " are the most"));
  }
  return found;
}

Breaches listed(const Files& files, const Files& cmake) {
  Breaches found;
  for (const File& list : cmake) {
    const std::string folder = list.path.substr(0, list.path.rfind('/') + 1);
    for (const File& file : files) {
      if (is_header(file) || !file.path.starts_with(folder)) continue;
      if (lines_with(list.text, file.path.substr(folder.size())).empty())
        found.push_back(breach(file.path, 1, "is not in " + list.path + ": list it or remove it"));
    }
  }
  return found;
}

Breaches top_level(const std::vector<std::string>& names) {
  static const std::set<std::string> allowed{"CMakeLists.txt", "README.md", "DEVELOPERS.md", "LICENSE",
                                             "materials",      "examples",  "src",           "tests"};
  Breaches found;
  for (const std::string& name : names) {
    const bool built = name.starts_with("build") || name == "out";  // .gitignore keeps them out
    if (!name.starts_with(".") && !built && !allowed.contains(name))
      found.push_back(
          breach(name, 1, "does not belong at the top; there stand " + listing(allowed) + " and dot files"));
  }
  return found;
}

}  // namespace warmsheet::house
