// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <sstream>

#include "report/measure.h"
#include "report/sample.h"
#include "report/writers.h"
#include "support/near.h"
#include "support/scratch.h"

using namespace warmsheet;
using namespace warmsheet::report;
using warmsheet::testing::near_abs;

namespace {

struct Pair {
  int code;
  std::string value;
};

/// Group code on one line, value on the next: the whole grammar of an ASCII DXF file.
std::vector<Pair> pairs_of(const std::string& dxf) {
  std::istringstream lines(dxf);
  std::vector<Pair> pairs;
  std::string code;
  std::string value;
  while (std::getline(lines, code) && std::getline(lines, value)) pairs.push_back({std::stoi(code), value});
  return pairs;
}

struct Entity {
  std::string type;
  std::string layer;
  std::vector<Pair> pairs;
  [[nodiscard]] std::string get(int code) const {
    for (const Pair& pair : pairs)
      if (pair.code == code) return pair.value;
    return {};
  }
};

std::vector<Entity> entities_of(const std::vector<Pair>& pairs) {
  std::vector<Entity> entities;
  bool inside = false;
  for (const Pair& pair : pairs) {
    if (pair.code == 2 && pair.value == "ENTITIES") inside = true;
    if (!inside) continue;
    if (pair.code == 0)
      entities.push_back({pair.value, {}, {}});
    else if (!entities.empty()) {
      if (pair.code == 8) entities.back().layer = pair.value;
      entities.back().pairs.push_back(pair);
    }
  }
  return entities;
}

std::string after(const std::vector<Pair>& pairs, const std::string& variable) {
  for (std::size_t i = 0; i + 1 < pairs.size(); ++i)
    if (pairs[i].code == 9 && pairs[i].value == variable) return pairs[i + 1].value;
  return {};
}

}  // namespace

TEST_CASE("the file says release 12, millimetres and metric, and ends") {
  const std::vector<Pair> pairs = pairs_of(to_dxf(sample::drawing()));
  CHECK(after(pairs, "$ACADVER") == "AC1009");
  CHECK(after(pairs, "$INSUNITS") == "4");
  CHECK(after(pairs, "$MEASUREMENT") == "1");
  CHECK(pairs.back().value == "EOF");
}

TEST_CASE("each shape and each hole is a closed polyline on the layer of its kind, in true millimetres") {
  const Drawing drawing = sample::drawing();
  const std::vector<Entity> entities = entities_of(pairs_of(to_dxf(drawing)));
  std::vector<std::vector<outline::Point>> rings;
  std::vector<std::string> layers;
  for (const Entity& entity : entities) {
    if (entity.type == "POLYLINE") {
      CHECK(entity.get(70) ==
            (entity.layer == "TRIM" || entity.layer == "FLARE" ? "0" : "1"));  // open : closed
      CHECK(entity.get(66) == "1");
      rings.emplace_back();
      layers.push_back(entity.layer);
    }
    if (entity.type == "VERTEX")
      rings.back().push_back({std::stod(entity.get(10)), std::stod(entity.get(20))});
  }
  // Outline, its hole, strap, offcut; lines to mark; then the square to measure.
  REQUIRE(rings.size() == 7);
  CHECK(layers == std::vector<std::string>{"CUT", "CUT", "STRAP", "OFFCUT", "FLARE", "TRIM", "CHECK_100MM"});
  CHECK(rings[0].size() == drawing.shapes[0].polygon.outer().size());
  CHECK(rings[1].size() == drawing.shapes[0].polygon.holes()[0].size());
  // Coordinates have four decimals.
  CHECK(near_abs(outline::signed_area_mm2(rings[0]),
                 outline::signed_area_mm2(drawing.shapes[0].polygon.outer()), 0.05));
  CHECK(near_abs(outline::signed_area_mm2(rings[6]), 10000.0, 1e-6));
}

TEST_CASE("the square to measure is clear of the drawing") {
  const std::vector<Entity> entities = entities_of(pairs_of(to_dxf(sample::drawing())));
  double drawing_lowest = 1e9;
  double square_highest = -1e9;
  for (const Entity& entity : entities) {
    if (entity.type != "VERTEX" && entity.type != "LINE") continue;
    const double y = std::stod(entity.get(20));
    if (entity.layer == "CHECK_100MM")
      square_highest = std::max(square_highest, y);
    else
      drawing_lowest = std::min(drawing_lowest, y);
  }
  CHECK(square_highest < drawing_lowest - 10.0);
}

TEST_CASE("segments are lines, notes are text in ASCII") {
  Drawing drawing = sample::drawing();
  drawing.notes = {{{1, 2}, "70 °C\n0\nEOF", 4.0, true}};
  const std::vector<Entity> entities = entities_of(pairs_of(to_dxf(drawing)));
  const auto lines =
      std::count_if(entities.begin(), entities.end(), [](const Entity& e) { return e.type == "LINE"; });
  CHECK(lines == static_cast<std::ptrdiff_t>(drawing.segments.size()));
  const auto note =
      std::find_if(entities.begin(), entities.end(), [](const Entity& e) { return e.layer == "NOTES"; });
  REQUIRE(note != entities.end());
  // A line end in a note would otherwise end the file there.
  CHECK(note->get(1) == "70 degC 0 EOF");
}

TEST_CASE("an independent reader finds no fault and the same shapes" * doctest::skip(*PYTHON_EZDXF == '\0')) {
  // ezdxf, a general-purpose reader: units, audit, closed flags, extents.
  const testing::Scratch scratch;
  const std::string dxf = scratch.file("drawing.dxf", to_dxf(sample::drawing()));
  const std::string program = scratch.file("check.py", R"(
import sys, ezdxf
doc = ezdxf.readfile(sys.argv[1])
assert doc.dxfversion == "AC1009", doc.dxfversion
assert not doc.audit().has_errors
lines = [e for e in doc.modelspace() if e.dxftype() == "POLYLINE" and e.dxf.layer in ("TRIM", "FLARE")]
assert sorted((e.dxf.layer, e.is_closed, len(e.vertices)) for e in lines) == [("FLARE", False, 3), ("TRIM", False, 2)]
assert doc.layers.get("FLARE").dxf.linetype == "FLARE" and doc.linetypes.get("FLARE") is not None
rings = [e for e in doc.modelspace() if e.dxftype() == "POLYLINE" and e not in lines]
assert len(rings) == 5 and all(r.is_closed for r in rings)
square = [v.dxf.location for r in rings if r.dxf.layer == "CHECK_100MM" for v in r.vertices]
assert max(v.x for v in square) - min(v.x for v in square) == 100
cut = [v.dxf.location for r in rings if r.dxf.layer == "CUT" for v in r.vertices]
assert abs(max(v.y for v in cut) - 206) < 1e-4 and abs(max(v.x for v in cut) - 92) < 1e-4
)");
  CHECK_NOTHROW(testing::run_tool(std::string(PYTHON_EZDXF) + " '" + program + "' '" + dxf + "'"));
}
