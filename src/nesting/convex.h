// SPDX-License-Identifier: MIT
// A region cut into convex parts. Overlap of two shapes is then overlap of two convex parts, which is decided
// by half-planes alone and needs no intersection points, so it cannot fail on slivers or touching edges.
#pragma once

#include <vector>

#include "nesting/plane.h"

namespace warmsheet::nesting {

/// Counter-clockwise convex loops that cover the region and do not overlap.
/// Ear clipping with the holes joined to the outer loop, then diagonals removed while both sides stay convex
/// (Hertel and Mehlhorn 1983: at most four times the fewest parts).
/// \pre the region is valid: simple loops, holes inside and apart
std::vector<Loop> convex_parts(const Region& region);

/// Outward unit normals that a part keeps when it grows: those of the region's edges that meet at its
/// corners.
using Normals = std::vector<Vec>;

/// All points within `distance` of the part, a little more at sharp corners and never less: the part's edges
/// and `tangents` moved outward, with further tangents where two neighbours differ by more than 60 degrees.
Loop grown(const Loop& part, const Normals& tangents, double distance);

/// For each part, the normals of region edges at those of its corners that are convex corners of the region.
std::vector<Normals> corner_tangents(const Region& region, const std::vector<Loop>& parts);

/// The points p such that b moved by p touches or overlaps a: Minkowski sum of a and -b. Both convex.
Loop contact_loop(const Loop& a, const Loop& b);

}  // namespace warmsheet::nesting
