// SPDX-License-Identifier: MIT
// How `calibrate` finds constants in bench notes: readings with their errors, the model's value of each, the
// search, and which constants the readings determine (calibration.h says by what method).
#pragma once

#include <array>
#include <string>
#include <vector>

#include "heat/bench_notes.h"
#include "heat/case.h"

namespace warmsheet::heat::fitting {

/// A constant that can be fitted, with bounds no sheet or bath of this kind leaves.
struct Constant {
  const char* name;
  double low_si;
  double high_si;
  double& (*place)(Case&);
  const Figure& (*figure)(const Situation&);
  const char* told_by;  ///< readings that depend on it
};

inline constexpr std::size_t constant_count = 3;
extern const std::array<Constant, constant_count> constants;

/// One reading, and where the model's value for it comes from.
struct Reading {
  const BenchNote* note;
  const char* what;
  Figure observed;
  double error;  // SI
  bool in_bath = false;
};

using Values = std::vector<double>;

std::vector<Reading> readings_of(const BenchNotes& notes);

/// The model's value for every reading, in the order of `readings_of`.
class Model {
 public:
  explicit Model(const BenchNotes& notes);

  /// `fitted`: indices in `constants` whose values are exp(logs); the others are the library's.
  [[nodiscard]] Values predict(const std::vector<std::size_t>& fitted, const Values& logs) const;

 private:
  const BenchNotes& notes_;
  std::vector<Case> cases_;
};

/// In squared standard errors of a reading.
double sum_of_squares(const std::vector<Reading>& readings, const Values& predicted);

/// Of the constants that the notes tell.
struct Fit {
  std::vector<std::size_t> fitted;  ///< indices in `constants`
  Values logs;
  Values errors;  ///< standard errors of the logs
};

/// Why a constant is not told; empty where it is.
using Reasons = std::array<std::string, constant_count>;

/// Throws a Failure (no_answer) if the notes tell none of the constants.
Fit fit(const Model& model, const std::vector<Reading>& readings, const Situation& situation,
        Reasons& reasons);

}  // namespace warmsheet::heat::fitting
