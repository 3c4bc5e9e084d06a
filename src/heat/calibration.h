// SPDX-License-Identifier: MIT
// Fits the bath's film coefficient, the sheet's crystallisation half-time at 42 C and its latent heat to a
// user's own bench notes.
//
// Method: the likeliest constants given both the notes and the library (Bayes, normal errors): least squares
// in the logarithms of the constants, in which the library's range of each (its 5 % and 95 % bounds) is one
// more reading. Within bounds, by a kept library's simplex search (NLopt, Nelder & Mead 1965); the covariance
// comes from the Jacobian at the optimum (central differences), the notes' part scaled up, never down, by the
// misfit.
//
// Weights: a stopwatch moment is worth the root of (reaction time)^2 + (judging by eye)^2; a surface reading
// a fixed error. Both are stated in the code, from memory.
//
// Refusal: a constant of which the notes do not tell more than the library knew keeps the library's figure,
// and the others are fitted beside it; their ranges still allow for what is not known of it.
#pragma once

#include <string>
#include <vector>

#include "base/figure.h"
#include "heat/bench_notes.h"

namespace warmsheet::heat {

struct FittedConstant {
  std::string name;  ///< "film", "half_time_42", "latent_heat"
  Figure before;     ///< of the library
  Finding
      after;  ///< basis bench, with its 5 % and 95 % bounds; absent with the reason why it is not determined
};

struct Residual {
  std::string note;
  std::string what;
  Figure observed;
  Figure before;  ///< the model with the library's figures
  Figure after;   ///< the model with the fitted ones
};

struct Calibration {
  std::string sheet;
  std::string bath_state;
  std::vector<FittedConstant> constants;
  std::vector<Residual> residuals;
  Figure misfit_before;  ///< ratio: root mean square of misses, in standard errors of a reading
  Figure misfit_after;
};

/// Throws a Failure (no_answer) if the notes determine none of the constants, or no constants meet them.
Calibration calibrate(const BenchNotes& notes);

/// What to put into the user's library folder: relative path and text of each file ("sheets/x.toml",
/// "surroundings.toml"), only where a constant was determined.
struct CalibratedFile {
  std::string path;
  std::string text;
};

/// `already`: the library with that folder in it. What the bench told before and these notes do not is
/// written again.
std::vector<CalibratedFile> calibrated_files(const Calibration& calibration, const library::Library& already);

/// True of a file that `calibrated_files` made and to which nobody added a figure: the next calibration may
/// write over it. `text` parses as TOML.
bool holds_fits_only(std::string_view text);

}  // namespace warmsheet::heat
