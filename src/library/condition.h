// SPDX-License-Identifier: MIT
// What a condition usually asks of an orthosis, as data (materials/conditions/*.toml): what is held, the
// usual starting position, the usual piece, and the needs that sheets are weighed by. It advises on material.
// The prescription overrides every position and schedule in it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/dimension.h"
#include "base/figure.h"

namespace warmsheet::library {

enum class Grade;

/// Limits of a limb's girth, m: a child's finger to a large upper arm.
inline constexpr Limits girth_limits_m{0.03, 0.6};
/// Limits of a push that a piece must hold, N: a finger's resting pull to a heavy adult's weight on a hand.
inline constexpr Limits push_limits_N{0.5, 300.0};

/// A sentence with its basis.
struct Statement {
  std::string says;
  Origin origin;
};

/// A usual starting position of one joint, with its range.
struct JointPosition {
  std::string id;
  std::string joint;
  Figure angle;
  std::string direction;  ///< "extension", "flexion", "palmar abduction" ...; the angle counts from neutral
  std::string note;       ///< may be empty
};

/// A piece of the usual size, for the mechanics where the user gives no outline and no measures. Shares are
/// counted along the limb from the distal end.
struct UsualPiece {
  Figure area;         // m2, flat
  Figure length;       // m, along the limb
  Figure perimeter;    // m, cut edge
  Figure girth;        // m, of the limb where the piece bends most
  Figure wrap;         // ratio, share of that girth which the piece covers; 1 for a closed one
  Figure bends_at;     // ratio of the length: the joint or crease about which the hand bends it
  Figure pushed_at;    // ratio of the length: where the hand or finger pushes
  Figure force;        // N, the push it must hold
  Figure form_time;    // s, usual time to form it on the limb
  Finding palm_width;  // m, of the palmar piece between the two; absent if the section goes on unchanged
  Finding palm_rise;  // m, of its arch where the hand pushes; towards the bend it takes the curve of the limb
  bool closed;        ///< goes all the way round the limb
  bool folds;    ///< the flat outline folds across where it bends: its widths there are not the section's
  bool lasting;  ///< the push lasts for hours (tone, serial stretching), so the sheet creeps
  std::string girth_measure;  ///< id in Library::measures that gives the girth, empty if none
};

/// What sheets are weighed by. Measured needs are linear between `poor` (worth nothing) and `good` (worth
/// all); which of the two is larger says whether more is better. Graded needs name a grade and whether more
/// or less than it is wanted.
struct Need {
  std::string id;  ///< one of `need_ids()`
  std::string why;
  Figure weight;  ///< ratio, points; only their proportions count
  bool must;      ///< a stock item on the wrong side of `poor`, or of the grade, is left out
  std::optional<Figure> good;
  std::optional<Figure> poor;
  std::optional<Grade> grade;
  bool at_most = false;
  Origin origin;  ///< of grade and bounds as a whole
};

struct ConditionCaution {
  std::string id;
  Statement text;
  bool while_forming = false;  ///< asks for something while the sheet is soft, so its step says it too
};

struct Condition {
  std::string id;
  std::string name;
  std::string about;
  std::vector<std::string> words;  ///< other names it is looked for by
  Statement held;
  Statement stays_free;
  Statement wear;    ///< usual schedule
  Statement review;  ///< when to look again, and at what
  std::vector<JointPosition> positions;
  UsualPiece piece;
  Finding thickness;   ///< m; its range is what is usual: stock outside is left out
  std::string design;  ///< id of a design that draws it, empty if none is shipped
  std::string skin;    ///< id of the skin kind to plan with, empty for the library's usual one
  std::string liner;   ///< id of the liner usually worn, empty for none
  std::vector<std::string> precautions;  ///< ids of precautions.h
  std::vector<ConditionCaution> cautions;
  std::vector<Need> needs;
  Place place;
};

/// All ids a need may have, in the order of their explanations.
const std::vector<std::string>& need_ids();

}  // namespace warmsheet::library
