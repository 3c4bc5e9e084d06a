// SPDX-License-Identifier: MIT
// A job: one orthosis to make, as the user wrote it down (TOML). It has a free label and measures; no
// identity of a person is asked for, and the reader refuses keys that would hold one, like any other unknown
// key.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/figure.h"
#include "heat/situation.h"
#include "library/library.h"
#include "outline/outline.h"
#include "plan/cutting.h"

namespace warmsheet::plan {

struct Job {
  std::string label;
  std::string file;

  std::string condition;  ///< id; empty for none
  std::string stock;      ///< "sheet/stock item"; empty if the condition is to choose it
  int copies = 1;

  std::optional<outline::Outline> outline;  ///< drawn or read; absent if only `area` is known
  std::optional<Figure> area;
  outline::Measures measures;
  std::optional<outline::Side> side;  ///< as stated; without it a design is drawn for the right

  heat::Request heat;                    ///< the sheet is taken from the stock item when the plan is made
  std::vector<std::string> precautions;  ///< ids of library/precautions.h
  std::optional<Figure> push;            ///< it must hold; the condition's if absent

  Figure spacing;
  Figure margin;
  nesting::Rotations rotations;
  std::vector<Offcut> offcuts;
  std::string edging;  ///< id of a fixing; empty for none
  std::string lining;  ///< id of a fixing; empty for none
};

/// Reads and resolves a job: the outline is drawn or read, so that every slip shows before any work starts.
/// Paths inside are taken from the job's own folder. Throws a Failure (data) with all slips and their places.
Job read_job(const std::string& path, const library::Library& library);

/// The same from text, for tests.
Job parse_job(std::string_view text, const std::string& path, const library::Library& library);

/// "300 x 200 mm": a rectangular offcut.
Offcut rectangular_offcut(std::string name, std::string_view size, const Place& place);

}  // namespace warmsheet::plan
