// SPDX-License-Identifier: MIT
#include "stock/history.h"

#include <doctest/doctest.h>

#include <string>
#include <vector>

using namespace warmsheet;
using namespace warmsheet::stock;

TEST_CASE("a history is read in every dialect, with quotes, either line end and a byte order mark") {
  for (const auto& [text, dialect] : std::vector<std::pair<std::string, Dialect>>{
           {"month,wrist,\"thumb, long\"\n2031-01,3,0\n2031-02,4,12\n", Dialect::comma},
           {"\xef\xbb\xbfmonth;wrist;\"thumb, long\"\r\n2031-01;3;0\r\n2031-02; 4;12", Dialect::semicolon},
           {"month\twrist\tthumb, long\r2031-01\t3\t0\r\r2031-02\t4\t12\r", Dialect::tab}}) {
    const History history = read_history(text, "h.csv", dialect);
    CHECK(history.months == std::vector<std::string>{"2031-01", "2031-02"});
    CHECK(history.counts.at("wrist") == std::vector<int>{3, 4});
    CHECK(history.counts.at("thumb, long") == std::vector<int>{0, 12});
  }
}

TEST_CASE("months may be written in any usual way") {
  for (const char* month : {"2031-01", "01/2031", "1.2031", "203112", "2031-03-01", "Jan 2031", "january",
                            "Sept 31", "7", "month 7", "M07", "2031 M07"}) {
    CAPTURE(month);
    CHECK(
        read_history(std::string("month,wrist\n") + month + ",3\n", "h.csv", Dialect::comma).months.size() ==
        1);
  }
}

TEST_CASE("months left out between the first and the last are missed, in whatever way they are written") {
  const auto problem = [](const std::string& months) -> std::string {
    try {
      static_cast<void>(read_history("month,wrist\n" + months, "h.csv", Dialect::comma));
    } catch (const Failure& failure) {
      return failure.what();
    }
    return "";
  };
  for (const char* months :
       {"2030-11,1\n2030-12,1\n2031-01,1\n", "01/2031,1\n12/2030,1\n11/2030,1\n", "203012,1\n203101,1\n",
        "Dec 2030,1\nJan 2031,1\n", "January,1\nMarch,1\n", "1,1\n3,1\n"}) {
    CAPTURE(months);
    CHECK(problem(months).empty());
  }
  for (const char* months : {"2030-11,1\n2031-01,1\n", "01/2031,1\n11/2030,1\n", "203011,1\n203101,1\n",
                             "Nov 2030,1\nJan 2031,1\n"}) {
    CAPTURE(months);
    CHECK(problem(months).find("months are missing between the first and the last one: 1") !=
          std::string::npos);
  }
}

TEST_CASE("what is wrong with a history is told with its place") {
  struct Row {
    std::string text;
    std::string expected;
  };
  const std::vector<Row> rows{
      {"", "h.csv:1:1: a history needs a line of headings"},
      {"month,wrist\n", "h.csv:1:1: a history needs a line of headings"},
      {"month;wrist\n2031-01;3\n", "h.csv:1:1: a history needs a line of headings"},
      {"month,wrist\n2031-01,3.5\n", "h.csv:2:9: \"3.5\" is no count"},
      {"month,wrist\n2031-01,5001\n", "write a whole number from 0 to 5000"},
      {"month,wrist\n2031-01,3\nTotal,3\n", "h.csv:3:1: \"Total\" is no month"},
      {"month,wrist\n2031-01,3\nTotal 2031,3\n", "h.csv:3:1: \"Total 2031\" is no month"},
      {"month,wrist\n2031-01,3\n2031,3\n", "h.csv:3:1: \"2031\" is no month"},
      {"month,wrist\n2031-01,3\n,3\n", "h.csv:3:1: \"\" is no month"},
      {"month,wrist\n2031-13,3\n", "h.csv:2:1: \"2031-13\" is no month"},
      {"month,wrist\nQ1 2031,3\n", "h.csv:2:1: \"Q1 2031\" is no month"},
      {"month,wrist\n2031-01,-1\n", "h.csv:2:9: \"-1\" is no count"},
      {"month,wrist\n2031-01,\n", "h.csv:2:9: \"\" is no count"},
      {"month,wrist\n2031-01,99999999999\n", "h.csv:2:9: \"99999999999\" is no count"},
      {"month,wrist\n2031-01,3,4\n", "h.csv:2:1: this line has 3 cells, the headings are 2"},
      {"month,wrist,wrist\n2031-01,3,4\n", "h.csv:1:13: two columns are headed \"wrist\""},
      {"month,,thumb\n2031-01,3,4\n", "h.csv:1:7: a column has no heading"},
      {"month,wrist\n2031-01,3\n2031-01,4\n", "h.csv:3:1: the month \"2031-01\" stands here twice"},
      {"month,\"wrist\n2031-01,3\n", "h.csv:1:7: this quoted cell never ends"},
      {"month,\"wrist\"s\n2031-01,3\n", "h.csv:1:14: text stands behind the closing quote"}};
  for (const Row& row : rows) {
    CAPTURE(row.text);
    try {
      read_history(row.text, "h.csv", Dialect::comma);
      FAIL_CHECK("was accepted");
    } catch (const Failure& failure) {
      CHECK(failure.trouble() == Trouble::data);
      const std::string seen = failure.problems().front().text();
      CAPTURE(seen);
      CHECK(seen.find(row.expected) != std::string::npos);
    }
  }
}

TEST_CASE("a cell is quoted where its dialect needs it") {
  CHECK(cell_text("plain text", Dialect::comma) == "plain text");
  CHECK(cell_text("a,b", Dialect::comma) == "\"a,b\"");
  CHECK(cell_text("a,b", Dialect::semicolon) == "a,b");
  CHECK(cell_text("say \"so\"", Dialect::tab) == "\"say \"\"so\"\"\"");
}
