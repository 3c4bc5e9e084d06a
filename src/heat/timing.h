// SPDX-License-Identifier: MIT
// From the bath to a hard orthosis: when the sheet is ready, when it may touch skin, when it no longer
// shapes. This is the room's front door; the physics is in slab.h, bath.h, air.h, crystallisation.h, skin.h
// and burn.h.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/figure.h"
#include "base/parallel.h"
#include "library/library.h"

namespace warmsheet::heat {

/// Draws for the ranges if nobody says otherwise: the 5 % and 95 % bounds then repeat from seed to seed
/// within a few per cent of the range, the wait, a sure bound of a long tail, lies near what many draws ask
/// for, and a plan stays under a second on two cores (tests/bench/heat_bench.cpp).
inline constexpr int default_samples = 256;

/// What of a piece is heated: all of it in the bath, an edge or end dipped, or a spot with hot water spooned
/// over one face.
enum class Reheat { whole, edge, spot };

/// What the timing is asked for. Figures come from the library unless the user typed them.
struct Situation {
  const library::Sheet* sheet;
  const library::Crystallisation* crystallisation;
  const library::Tissue* tissue;
  const library::SkinKind* skin;  ///< of the person
  const library::SkinKind* hand;  ///< of the back of the hand that works at the bath
  const library::SkinKind* palm;  ///< of its palm
  const library::Surroundings* surroundings;

  Figure thickness;  // m
  library::Perforation perforation;
  Figure area;              // m2, one face of the blank, or of the part that is heated
  Figure bath;              // K
  Figure bath_water;        // m3
  bool bath_cools = false;  ///< as it gives its heat; otherwise a heater keeps it as hot as it is
  Figure film;              // W/m2K, bath water to sheet
  Figure start;             // K, sheet before the bath
  Figure room;              // K
  bool dried = true;        ///< patted dry when lifted out
  std::optional<library::Covering> liner;
  std::optional<library::Covering> wrap;
  int layers = 1;  ///< 2 for a folded or doubled sheet

  std::uint64_t seed = 1;
  int samples = default_samples;  ///< 0: central values only, no ranges

  bool upright = false;                ///< held by an edge after the bath; otherwise flat on a towel
  bool on_rack = false;                ///< flat with air under it
  std::optional<Figure> crystallised;  ///< ratio; below 1 for a second dip of a piece that has not set
  std::optional<Figure> lifted;        ///< s in the bath; absent: until it is soaked with the bath's heat
  Reheat reheat = Reheat::whole;
  int threads = usual_threads();  ///< results are the same to the last bit
};

/// One curve for the plots: seconds against degrees Celsius (or a share).
struct Curve {
  std::string name;
  std::vector<double> time_s;
  std::vector<double> value;
};

/// Which input widens a result most.
struct Driver {
  std::string result;
  Figure input;
  Figure share;  ///< ratio: first-order share of the variance
};

/// How to read the figures: `value` is for the central figures, `low` and `high` are the 5 % and 95 % bounds
/// of the draws. `wait` is a limit and has no range: enough for 95 % of all draws with 95 % confidence, up to
/// a whole second; and everything after it supposes the sheet is laid on at that moment and left there,
/// whatever it is made of. So `window` = `closes` - `wait` errs short, and it is there only if even the low
/// bound of `closes` comes after the wait. Without draws all of them are those of the central figures, and
/// nothing is on the safe side.
struct Timing {
  Finding half_soft;    // s from immersion
  Finding ready;        // s from immersion
  Finding wait;         // s from removal
  Finding closes;       // s from removal
  Finding window;       // s, closes - wait
  Finding holds_shape;  // s from removal
  Finding set;          // s from removal
  Finding peak_skin;    // K, laid on at `wait` and left there
  Finding damage;       // ratio
  Finding bath_drop;    // K by which a small bath cools
  Finding edge_reach;   // m beyond the waterline that softens when an edge is dipped until it is ready
  Finding bath_scald;   // s of the back of a bare hand in the bath water to a first-degree burn
  Finding palm_scald;   // s of its palm
  std::vector<Driver> drivers;

  Curve bath_middle;    ///< mid-plane in the bath, C
  Curve sheet_surface;  ///< after removal, in air, C
  Curve crystallinity;  ///< after removal, thickness mean, share
  Curve skin_basal;     ///< after contact at `wait`, C
  Curve bath_molten;    ///< from each wet face in the bath, mm
  Curve skin_damage;    ///< after contact at `wait`, the integral so far

  /// False: no moment at which it may touch skin and can still be shaped.
  [[nodiscard]] bool safe_window() const { return window.known(); }
  /// In the order of the contract: half_soft, ready, wait, closes, window, holds_shape, set, peak_skin,
  /// damage.
  [[nodiscard]] std::vector<NamedFinding> results() const;
};

/// Throws a Failure (no_answer) if the sheet cannot melt in this bath or cannot set in this room, saying
/// which temperature to change; a Failure (data) if a figure makes no sense (zero thickness).
Timing time(const Situation& situation);

}  // namespace warmsheet::heat
