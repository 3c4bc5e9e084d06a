// SPDX-License-Identifier: MIT
// The language of designs. Values are plain arithmetic, worked out by hand.
#include "outline/expression.h"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <string>

#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::outline;
using testing::near_abs;
using testing::near_rel;

namespace {

const Names& names() {
  static const Names all{{"hand_breadth", Amount::length_mm(80.0)},
                         {"wrist_girth", Amount::length_mm(160.0)},
                         {"share", Amount::ratio(0.5)}};
  return all;
}

Expression expression(std::string_view text) {
  return Expression::parse(text, {"d.toml", 7, 3}, "x of vertex 2");
}

std::string refusal(std::string_view text) {
  try {
    const double mm = expression(text).length_mm(names());
    return "accepted as " + std::to_string(mm);
  } catch (const Failure& failure) {
    return failure.what();
  }
}

}  // namespace

TEST_CASE("lengths come out in millimetres") {
  struct Row {
    std::string text;
    double mm;
  };
  const std::vector<Row> rows{
      {"12 mm", 12.0},
      {"1 in", 25.4},
      {"1.5cm", 15.0},
      {"hand_breadth", 80.0},
      {"0.5*hand_breadth + 12 mm", 52.0},
      {"-0.5*share*wrist_girth", -40.0},
      {"hand_breadth - 10 mm - 5 mm", 65.0},  // from the left
      {"hand_breadth - (10 mm - 5 mm)", 75.0},
      {"2*share*hand_breadth", 80.0},
      {"hand_breadth*2", 160.0},
      {"- - 3 mm", 3.0},
      {"2*-3 mm", -6.0},
      {"min(hand_breadth, 70 mm)", 70.0},
      {"max(hand_breadth, min(wrist_girth, 100 mm)) + 1 mm", 101.0},
      {"(share + 0.25)*wrist_girth", 120.0},
      {"1e1 mm", 10.0},
      {".5 mm", 0.5},
  };
  for (const Row& row : rows) {
    CAPTURE(row.text);
    CHECK(near_abs(expression(row.text).length_mm(names()), row.mm, 1e-12));
  }
}

TEST_CASE("what is no length is refused with what was seen and what to write") {
  struct Row {
    std::string text;
    const char* expected;
  };
  const std::vector<Row> rows{
      {"hand_breadth*wrist_girth", "a length times a length is an area"},
      {"hand_breadth + 3", "do not go together"},
      {"min(3, hand_breadth)", "do not go together"},
      {"0.5", "a length is needed"},
      {"share", "a length is needed"},
      {"hand_bredth", "did you mean 'hand_breadth'?"},
      {"zzz", "use a measure, a rule or an earlier let"},
      {"3 hand_breadth", "expected '*' or a unit of length"},
      {"3 kg", "unit of length (mm, cm"},
      {"", "expected a number or a name at character 1, saw its end"},
      {"3 mm +", "saw its end"},
      {"3 mm)", "expected an operator"},
      {"(3 mm", "expected ')'"},
      {"min(3 mm)", "expected ','"},
      {"3 mm / 2", "expected an operator"},
      {"1,5*hand_breadth", "expected an operator"},
      {"inf*hand_breadth", "nothing is called 'inf'"},
      {"1e308*1e308*hand_breadth", "too large"},
      {"hand_breadth # 2", "expected an operator"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.text);
    const std::string seen = refusal(row.text);
    CHECK_MESSAGE(seen.find(row.expected) != std::string::npos, seen);
    CHECK(seen.find("d.toml:7:3: x of vertex 2:") != std::string::npos);
  }
}

TEST_CASE("nesting and length are bounded") {
  CHECK(refusal(std::string(5000, '(')).find("too long") != std::string::npos);
  CHECK(refusal(std::string(900, '(')).find("nested too deeply") != std::string::npos);
  CHECK(refusal(std::string(900, '-')).find("nested too deeply") != std::string::npos);
}

TEST_CASE("any bytes are either read or refused, never more") {
  CHECK(rc::check([] {
    const auto text =
        *rc::gen::container<std::string>(rc::gen::elementOf(std::string("0123456789.+-*(), minaxhd_\n\x80")));
    try {
      (void)expression(text).evaluate(names());
    } catch (const Failure&) {
    }
  }));
}

TEST_CASE("a sum of two expressions is the sum of their values") {
  CHECK(rc::check([](int a, int b) {
    const std::string left = std::to_string(a) + "*hand_breadth";
    const std::string right = std::to_string(b) + " mm";
    const double whole = expression("(" + left + ") + (" + right + ")").length_mm(names());
    RC_ASSERT(near_abs(whole, a * 80.0 + b, 1e-6).near);
  }));
}
