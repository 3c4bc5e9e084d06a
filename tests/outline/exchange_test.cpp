// SPDX-License-Identifier: MIT
// DXF files written by another library (ezdxf, general-purpose) in four releases and three units: the area
// that is read is the one known by geometry.
#include <doctest/doctest.h>

#include <cstdlib>
#include <numbers>
#include <string>

#include "outline/outline.h"
#include "support/near.h"
#include "support/scratch.h"

using namespace warmsheet;
using namespace warmsheet::outline;
using testing::near_rel;
using testing::Scratch;

TEST_CASE("drawings that another library wrote are read at their size") {
  // A bar of 100 x 40 mm with round ends and a hole of 8 mm radius: once as a polyline with bulges, once as
  // loose lines and arcs.
  const Scratch scratch;
  const std::string program = scratch.file("write.py", R"(
import sys, ezdxf
def bar(msp, modern, k):
    points = [(0, 0, 0), (100*k, 0, 1), (100*k, 40*k, 0), (0, 40*k, 1)]
    add = msp.add_lwpolyline if modern else msp.add_polyline2d
    add(points, format="xyb", close=True)
    msp.add_circle((50*k, 20*k), 8*k)
def loose(msp):
    msp.add_line((100, 0), (0, 0)); msp.add_line((0, 40), (100, 40))
    msp.add_arc((100, 20), 20, 270, 90); msp.add_arc((0, 20), 20, 90, 270)
    msp.add_circle((50, 20), 8)
for name, release, modern, unit, k in (("r12", "R12", False, 0, 1), ("mm", "R2000", True, 4, 1),
                                       ("inch", "R2010", True, 1, 1/25.4), ("cm", "R2018", True, 5, 0.1)):
    doc = ezdxf.new(release); doc.header["$INSUNITS"] = unit
    bar(doc.modelspace(), modern, k); doc.saveas(sys.argv[1] + name + ".dxf")
doc = ezdxf.new("R2000"); doc.header["$INSUNITS"] = 4; loose(doc.modelspace()); doc.saveas(sys.argv[1] + "loose.dxf")
)");
  REQUIRE(std::system((std::string(PYTHON_EZDXF) + " " + program + " " + scratch.path("")).c_str()) == 0);
  ReadOptions fine;
  fine.tolerance = Length{1e-6};
  const double area = 100.0 * 40.0 + std::numbers::pi * (20.0 * 20.0 - 8.0 * 8.0);
  for (const char* name : {"mm", "inch", "cm", "loose"}) {
    CAPTURE(std::string(name));
    const Outline seen = read(scratch.path(std::string(name) + ".dxf"), fine);
    CHECK(near_rel(seen.shape.area_mm2(), area, 1e-4));  // chords within 0.001 mm
    CHECK(seen.shape.holes().size() == 1);
    CHECK(near_rel(seen.shape.box().width_mm(), 140.0, 1e-4));
  }
  // Release 12 has no units of its own: they are asked for, never guessed.
  CHECK_THROWS_WITH_AS((void)read(scratch.path("r12.dxf"), fine), doctest::Contains("unit"), Failure);
  fine.user_unit = Length{1e-3};
  CHECK(near_rel(read(scratch.path("r12.dxf"), fine).shape.area_mm2(), area, 1e-4));
}
