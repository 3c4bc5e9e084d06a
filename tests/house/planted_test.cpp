// SPDX-License-Identifier: MIT
// Breaches planted on purpose: a rule that finds nothing in the tree must be known to find something.
#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "house/rules.h"
#include "house/source_text.h"

namespace warmsheet::house {
namespace {

const std::string spdx = "// SPDX-License-Identifier: MIT\n";

struct Planted {
  const char* path;
  std::string text;
  std::string expected;  // the whole breach, or "" for none
};

template <class Rule>
void check_each(const std::vector<Planted>& rows, Rule rule) {
  for (const Planted& row : rows) {
    CAPTURE(std::string(row.path));
    CAPTURE(row.text);
    const Breaches found = rule({File{row.path, row.text}});
    REQUIRE(found.size() == (row.expected.empty() ? 0 : 1));
    if (!row.expected.empty()) CHECK(found.front().starts_with(row.expected));
  }
}

TEST_SUITE("planted") {
  TEST_CASE("comments, texts and raw texts are no code") {
    CHECK(code_of("a // b\nc") == "a     \nc");
    CHECK(code_of("a /* b\nb */ c") == "a     \n     c");
    CHECK(code_of("x = \"a // b\" + 'c';") == "x = \"      \" + ' ';");
    CHECK(code_of("\"\\\"\" y") == "\"  \" y");
    CHECK(code_of("R\"(a \" b)\" y").substr(11) == "y");
    CHECK(code_of("R\"x(a )\" b)x\" y").substr(14) == "y");
    CHECK(code_of("1'000'000 + 2") == "1'000'000 + 2");
    CHECK(code_of("'\"' y '\\'' z") == "' ' y '  ' z");
  }

  TEST_CASE("words are found whole") {
    CHECK(lines_with("a\nexit(1)\n", "exit") == std::vector<std::size_t>{2});
    CHECK(lines_with("on_exit(1) exits", "exit").empty());
    CHECK(lines_with("half_time(0)", "time(0)").empty());
    CHECK(lines_with("x = time(0);", "time(0)").size() == 1);
  }

  TEST_CASE("functions are measured as a whole, with what stands inside them") {
    const std::string text =
        "namespace a {\n"
        "struct B {\n"
        "  int f() const { return 1; }\n"  // line 3
        "  int g(\n"                       // line 4
        "      int x) {\n"
        "    auto h = [] {\n"
        "      return 1;\n"
        "    };\n"
        "  }\n"
        "};\n"
        "constexpr int table[]{\n"
        "    1,\n"
        "    2,\n"
        "};\n"
        "#define X {\n"
        "enum class C { x };\n"
        "template <class T>\n"  // line 17
        "void k(T t)\n"
        "{\n"
        "  if (t) {\n"
        "  }\n"
        "}\n"
        "}\n";
    const std::vector<Function> found = functions_of(text, false);
    REQUIRE(found.size() == 3);
    CHECK(found[0].line == 3);
    CHECK(found[0].length == 1);
    CHECK(found[1].line == 4);
    CHECK(found[1].length == 6);
    CHECK(found[2].line == 17);
    CHECK(found[2].length == 6);
  }

  TEST_CASE("rows of a table are left out where that is asked for") {
    const std::string text =
        "void f() {\n  const Row rows[] = {\n      {1, 2},\n      {3,\n       4},\n  };\n}\n";
    CHECK(functions_of(text, false).front().length == 7);
    CHECK(functions_of(text, true).front().length == 5);
  }

  TEST_CASE("arrows that point up, sideways or nowhere are found") {
    check_each(
        {
            {"src/base/a.cpp", "#include \"base/b.h\"\n#include <vector>\n", ""},
            {"src/base/a.cpp", "\n#include \"heat/b.h\"\n",
             "src/base/a.cpp:2: base/ may include nothing and itself, not heat/b.h"},
            {"src/heat/a.cpp", "#include \"outline/b.h\"\n",
             "src/heat/a.cpp:1: heat/ may include base, library and itself"},
            {"src/choice/a.h", "#include \"stock/b.h\"\n", "src/choice/a.h:1: choice/ may include"},
            {"src/stock/a.h", "#include \"choice/b.h\"\n", "src/stock/a.h:1: stock/ may include"},
            {"src/plan/a.h", "#include \"report/b.h\"\n", "src/plan/a.h:1: plan/ may include"},
            {"src/plan/a.h", "#include \"choice/b.h\"\n", ""},
            {"src/plan/a.h", "#include \"stock/b.h\"\n", "src/plan/a.h:1: plan/ may include"},
            {"src/stock/a.h", "#include \"heat/b.h\"\n", "src/stock/a.h:1: stock/ may include"},
            {"src/nesting/a.h", "#include \"library/b.h\"\n", "src/nesting/a.h:1: nesting/ may include"},
            {"src/base/a.cpp", "#include \"b.h\"\n", "src/base/a.cpp:1: name the room"},
            {"src/attic/a.cpp", "", "src/attic/a.cpp:1: stands in no room"},
            {"tests/base/a.cpp", "#include \"cli/b.h\"\n", ""},
        },
        arrows);
    check_each(
        {
            {"src/heat/CMakeLists.txt",
             "warmsheet_room(heat\n  SOURCES a.cpp\n  ARROWS base library\n  LINK x)\n", ""},
            {"src/heat/CMakeLists.txt", "warmsheet_room(heat\n  SOURCES a.cpp\n  ARROWS base plan)\n",
             "src/heat/CMakeLists.txt:3: heat/ must not be linked to plan/"},
        },
        arrows_in_cmake);
  }

  TEST_CASE("libraries outside their files are found") {
    check_each(
        {
            {"src/base/toml_parse.cpp", "#include <toml++/toml.h>\n", ""},
            {"src/library/load.cpp", "#include <toml++/toml.h>\n",
             "src/library/load.cpp:1: <toml++/toml.h> belongs in src/base/toml_parse.cpp"},
            {"src/heat/a.cpp", "#include <nlohmann/json.hpp>\n",
             "src/heat/a.cpp:1: <nlohmann/json.hpp> belongs in"},
            {"tests/report/a.cpp", "#include <nlohmann/json.hpp>\n", ""},
            {"src/heat/a.cpp", "#include <boost/math/tools/roots.hpp>\n", "src/heat/a.cpp:1: <boost/"},
            {"src/heat/a.cpp", "#include <unistd.h>\n", "src/heat/a.cpp:1: <unistd.h> belongs in"},
            {"src/heat/a.cpp", "#include <Eigen/Dense>\n", "src/heat/a.cpp:1: <Eigen/Dense> needs a reason"},
            {"src/heat/a.cpp", "#include <vector>\n", ""},
            {"src/heat/a.cpp", "#include <doctest/doctest.h>\n",
             "src/heat/a.cpp:1: <doctest/doctest.h> belongs in tests/"},
        },
        third_party);
    const Breaches twice = third_party(
        {{"src/cli/a.cpp", "#include <CLI/CLI.hpp>\n"}, {"src/cli/b.cpp", "#include <CLI/CLI.hpp>\n"}});
    REQUIRE(twice.size() == 1);
    CHECK(twice.front() ==
          "src/cli/b.cpp:1: <CLI/CLI.hpp> is included by another file already: src/cli/a.cpp");
  }

  TEST_CASE("calls that belong to the command line are found below it") {
    for (const char* call :
         {"std::cout << 1;", "std::cerr << 1;", "printf(\"x\");", "std::fprintf(stderr2, \"x\");", "exit(3);",
          "std::exit(3);", "getenv(\"HOME\");", "std::time(&t);", "time(nullptr);",
          "std::chrono::steady_clock::now();", "std::chrono::system_clock::now();",
          "std::setlocale(1, \"\");", "use(argv);", "std::random_device d;", "fmt::print(\"x\");"}) {
      CAPTURE(std::string(call));
      const std::string text = "\n" + std::string(call) + "\n";
      CHECK(forbidden_calls({{"src/heat/a.cpp", text}}).size() == 1);
      CHECK(forbidden_calls({{"src/cli/a.cpp", text}}).empty());
      CHECK(forbidden_calls({{"src/heat/a.cpp", "// " + std::string(call)}}).empty());
    }
  }

  TEST_CASE("misleading words, missing first lines and lone headers are found") {
    check_each({{"tests/a/b.cpp",
                 "CHECK(x == doctest::"
                 "Approx(1));",
                 "tests/a/b.cpp:1: Approx("}},
               [](const Files& files) {
                 Breaches found = forbidden_words(files);
                 return Breaches(found.size() > 1 ? found.begin() + 1 : found.begin(), found.end());
               });
    check_each(
        {{"src/a/b.cpp", "\n// TODO finish", "src/a/b.cpp:2: TODO"}, {"src/a/b.cpp", "// \"TODOS\"", ""}},
        forbidden_words);
    check_each({{"src/a/b.cpp", spdx, ""}, {"src/a/b.cpp", "\n" + spdx, "src/a/b.cpp:1: the first line"}},
               first_line);
    check_each({{"src/a/b.h", "#pragma once\n", ""},
                {"src/a/b.h", "int x;\n", "src/a/b.h:1: a header needs #pragma once"},
                {"src/a/b.h", "// #pragma once\n", "src/a/b.h:1: a header needs #pragma once"},
                {"src/a/b.h", "#pragma once\nusing namespace x;\n", "src/a/b.h:2: a header must not open"}},
               headers);
    const File header{"src/a/b.h", "#pragma once\n"};
    CHECK(headers({{"src/a/b.cpp", "#include \"a/b.h\"\n#include <vector>\n"}, header}).empty());
    CHECK(headers({{"src/a/b.cpp", "#include <vector>\n#include \"a/b.h\"\n"}, header}).size() == 1);
  }

  TEST_CASE("conversions by hand are found outside their home") {
    check_each(
        {{"src/heat/a.cpp", "x = depth_m * 1e3;\n", "src/heat/a.cpp:1: * 1e3: take it from base/dimension.h"},
         {"src/heat/a.cpp", "\nconstexpr double m_per_mm = 1e-3;", "src/heat/a.cpp:2: double m_per_mm"},
         {"src/heat/a.cpp", "turn_deg * std::numbers::pi / 180.0", "src/heat/a.cpp:1: pi / 180.0"},
         {"src/heat/a.cpp", "mm = 25.4;", "src/heat/a.cpp:1: 25.4"},
         {"src/heat/a.cpp", "x = 125.4 * 1e30; step_s = 1e-3; // 25.4", ""},
         {"src/base/dimension.h", "inline constexpr double mm_per_m = 1e3;", ""},
         {"tests/heat/a.cpp", "x = depth_m * 1e3;", ""}},
        units_by_hand);
  }

  TEST_CASE("long functions and files are found, and files that nobody builds") {
    const auto function = [](std::size_t lines) {
      std::string text = "void f() {\n";
      for (std::size_t i = 2; i < lines; ++i) text += "  g();\n";
      return text + "}\n";
    };
    check_each(
        {{"src/a/b.cpp", function(60), ""},
         {"src/a/b.cpp", "\n" + function(61), "src/a/b.cpp:2: this function has 61 lines; 60 are the most"},
         {"src/a/b.cpp", std::string(600, '\n'), ""},
         {"src/a/b.cpp", std::string(601, '\n'), "src/a/b.cpp:601: a file ends after 600 lines"}},
        lengths);
    const Files list{{"src/a/CMakeLists.txt", "SOURCES b.cpp c/d.cpp\n"}};
    CHECK(listed({{"src/a/b.cpp", ""}, {"src/a/c/d.cpp", ""}, {"src/a/x.h", ""}}, list).empty());
    CHECK(listed({{"src/a/ab.cpp", ""}}, list) ==
          Breaches{"src/a/ab.cpp:1: is not in src/a/CMakeLists.txt: list it or remove it"});
  }

  TEST_CASE("strangers at the top are found") {
    CHECK(top_level({"src", "tests", ".git", "build-tests", "out", "README.md"}).empty());
    CHECK(top_level({"notes.txt", "src"}).size() == 1);
    CHECK(top_level({"CMakePresets.json"}).size() == 1);
  }
}

}  // namespace
}  // namespace warmsheet::house
