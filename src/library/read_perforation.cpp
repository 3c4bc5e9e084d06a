// SPDX-License-Identifier: MIT
// Holes of perforated sheet. Open area is exact geometry: one hole to a cell of p^2 (square) or p^2 sqrt(3)/2
// (triangular, rows at 60 degrees), so phi = pi/4 (d/p)^2 or pi/(2 sqrt 3) (d/p)^2.
#include <fmt/format.h>

#include <numbers>

#include "library/read_records.h"

namespace warmsheet::library {
namespace {

// A needle prick up to the widest hole that still leaves a sheet rather than a net.
constexpr Limits hole_limits_m{0.1e-3, 20e-3};
constexpr Limits pitch_limits_m{0.2e-3, 100e-3};

double cell_share(Lattice lattice) {
  return lattice == Lattice::square ? std::numbers::pi / 4.0 : std::numbers::pi / (2.0 * std::numbers::sqrt3);
}

Figure open_area(const std::string& id, const Figure& diameter, const Figure& pitch, Lattice lattice) {
  const auto phi = [&](double d_m, double p_m) { return cell_share(lattice) * (d_m / p_m) * (d_m / p_m); };
  const Range range{phi(diameter.si(), pitch.si()), phi(diameter.low_si(), pitch.high_si()),
                    phi(diameter.high_si(), pitch.low_si())};
  return Figure::derived(fmt::format("perforation.{}.open_area", id), range, units::percent(),
                         "area of one hole over the area of its cell in the lattice", {diameter, pitch});
}

std::optional<Perforation::Holes> read_holes(toml::Reader& entry, const std::string& id, Problems& problems) {
  if (!entry.has("diameter") && !entry.has("pitch") && !entry.has("lattice")) return std::nullopt;
  const CleanSoFar clean(problems);
  const Figure diameter = entry.figure("diameter", Dimension::length, hole_limits_m);
  const Figure pitch = entry.figure("pitch", Dimension::length, pitch_limits_m);
  const Lattice lattice =
      entry.choice("lattice", {"triangular", "square"}) == "square" ? Lattice::square : Lattice::triangular;
  if (!clean) return std::nullopt;  // a pitch of nothing has no open area
  if (diameter.high_si() >= pitch.low_si())
    entry.problem("diameter", "holes as wide as their pitch run into each other",
                  "the diameter must stay below the pitch over both ranges");
  return Perforation::Holes{diameter, pitch, lattice, open_area(id, diameter, pitch, lattice)};
}

}  // namespace

std::map<std::string, Perforation> read_perforations(const toml::Value& file, Problems& problems) {
  toml::Reader reader(file, "", problems);
  return read_by_id(reader, "perforation", [&](toml::Reader& entry, const std::string& id) {
    return Perforation{id, entry.text("name"), read_holes(entry, id, problems)};
  });
}

}  // namespace warmsheet::library
