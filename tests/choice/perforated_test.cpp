// SPDX-License-Identifier: MIT
#include "choice/perforated.h"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <cmath>
#include <numbers>

#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::choice;
using library::Lattice;
using testing::near_abs;
using testing::near_rel;

namespace {

Figure millimetres(const char* name, double mm) {
  return Figure::entered(name, Range::exactly(mm * 1e-3), units::millimetre());
}

library::Perforation holes(double d_mm, double p_mm, Lattice lattice) {
  const double cell =
      lattice == Lattice::square ? std::numbers::pi / 4 : std::numbers::pi / (2 * std::numbers::sqrt3);
  Figure d = millimetres("d", d_mm);
  Figure p = millimetres("p", p_mm);
  Figure phi = Figure::derived("phi", Range::exactly(cell * d_mm * d_mm / (p_mm * p_mm)), units::one(),
                               "lattice", {d, p});
  return {"test", "test", library::Perforation::Holes{d, p, lattice, phi}};
}

}  // namespace

// Effective modulus of the ASME code (BPVC VIII-1, part UHX), coefficients read in a public tube-sheet
// program; the values below were worked out from them outside this program, with two printed digits.
TEST_CASE("the code's effective modulus for the triangular pattern") {
  struct Row {
    double ligament;
    double at_010, at_025, at_050, at_200;
  };
  for (const Row& row : {Row{0.6, 0.77, 0.75, 0.73, 0.67}, Row{0.5, 0.66, 0.63, 0.61, 0.54},
                         Row{0.4, 0.54, 0.50, 0.47, 0.41}, Row{0.3, 0.41, 0.37, 0.34, 0.28}}) {
    CAPTURE(row.ligament);
    const auto seen = [&](double h_over_p) {
      return code_modulus_share(Lattice::triangular, row.ligament, h_over_p).value();
    };
    CHECK(near_abs(seen(0.10), row.at_010, 0.0051));
    CHECK(near_abs(seen(0.25), row.at_025, 0.0051));
    CHECK(near_abs(seen(0.50), row.at_050, 0.0051));
    CHECK(near_abs(seen(2.00), row.at_200, 0.0051));
    CHECK(near_rel(seen(9.0), seen(2.0), 1e-12));  // the table ends there
    CHECK(near_rel(seen(0.01), seen(0.10), 1e-12));
    CHECK(near_rel(seen(1.25), 0.5 * (seen(0.5) + seen(2.0)), 1e-12));  // linear between rows
  }
}

TEST_CASE("the code's polynomial is not used outside the range it was fitted in") {
  CHECK_FALSE(code_modulus_share(Lattice::triangular, 0.61, 0.5));
  CHECK_FALSE(code_modulus_share(Lattice::square, 0.09, 0.5));
}

// (1 - phi)/(1 + 2 phi): composite-cylinder bound for in-plane loading (Hashin and Shtrikman), from memory;
// beside the code's thick-plate row for the same holes. Three printed digits.
TEST_CASE("closed form and code agree within five per cent for thick plates up to 45 % open area") {
  struct Row {
    double ligament, open_area, closed, code;
  };
  for (const Row& row : {Row{0.6, 0.145, 0.663, 0.673}, Row{0.5, 0.227, 0.532, 0.544},
                         Row{0.4, 0.326, 0.407, 0.413}, Row{0.3, 0.444, 0.294, 0.281}}) {
    CAPTURE(row.ligament);
    const double closed = closed_form_modulus_share(row.open_area);
    const double code = code_modulus_share(Lattice::triangular, row.ligament, 2.0).value();
    CHECK(near_abs(closed, row.closed, 0.0011));
    CHECK(near_abs(code, row.code, 0.0006));
    CHECK(near_rel(closed, code, 0.05));
  }
}

// Dilute holes weaken a sheet by three times their area: (1 - phi)/(1 + 2 phi) -> 1 - 3 phi. Theory of dilute
// circular holes, from memory.
TEST_CASE("few holes weaken by three times their area") {
  CHECK(near_abs(closed_form_modulus_share(1e-4), 1.0 - 3e-4, 1e-7));
  CHECK(near_abs(closed_form_modulus_share(0.0), 1.0, 0.0));
}

TEST_CASE("the stiffness used is the lower of the two rules and never above the solid sheet") {
  CHECK(rc::check([] {
    const double p = *rc::gen::inRange(30, 120) * 0.1;
    const double d = p * *rc::gen::inRange(5, 85) * 0.01;
    const double t = *rc::gen::inRange(10, 64) * 1e-4;
    const Lattice lattice = *rc::gen::element(Lattice::triangular, Lattice::square);
    const auto perforation = holes(d, p, lattice);
    const Range share = modulus_share(perforation, t);
    RC_ASSERT(share.low == share.value);
    RC_ASSERT(share.value > 0.0);
    RC_ASSERT(share.high <= 1.0);
    RC_ASSERT(share.value <= closed_form_modulus_share(perforation.holes->open_area.si()) + 1e-15);
    if (const auto code = code_modulus_share(lattice, ligament_efficiency(d, p), t / (p * 1e-3)))
      RC_ASSERT(share.value <= *code + 1e-15);
  }));
}

TEST_CASE("solid sheet loses nothing, and a row of holes leaves the ligament's strength") {
  const library::Perforation solid{"solid", "solid", {}};
  CHECK(modulus_share(solid, 3.2e-3).value == 1.0);
  CHECK(strength_share(solid) == 1.0);
  // 3 mm holes at 6 mm: half of each pitch is left.
  CHECK(near_rel(strength_share(holes(3, 6, Lattice::triangular)), 0.5, 1e-12));
}
