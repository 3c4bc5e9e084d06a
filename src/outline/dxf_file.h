// SPDX-License-Identifier: MIT
// A DXF file taken apart: the unit it states and its entities as group codes (DXF reference, R12 and later,
// ASCII form).
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"

namespace warmsheet::outline {

/// One group: its code, and the text on the line after it.
struct DxfGroup {
  int code;
  std::string_view value;  ///< points into the text that was read
  int line;                ///< of the code, from 1
};

struct DxfEntity {
  std::string_view name;
  Place place;
  std::vector<DxfGroup> groups;

  /// The first value of a code, or `otherwise`. Throws a Failure (data) if it is no number.
  [[nodiscard]] double number(int code, double otherwise) const;
  /// Throws a Failure (data) if the code is missing.
  [[nodiscard]] double number(int code) const;
  [[nodiscard]] std::string_view text(int code) const;
  /// True if a bit of group 70 is set. Throws a Failure (data) if that group is no small whole number.
  [[nodiscard]] bool flag(int bits) const;
};

/// A group's value as a number; throws a Failure (data) at its line.
double dxf_number(const DxfGroup& group, const std::string& file);

struct DxfFile {
  std::optional<double> unit_mm;  ///< from $INSUNITS; absent if the file states none
  std::vector<DxfEntity> entities;
  std::vector<DxfEntity> layers;  ///< as the table of layers describes them
};

/// Throws a Failure (data) with the line: no ASCII DXF, a broken pair, an $INSUNITS that is no unit of this
/// bench.
DxfFile parse_dxf(std::string_view text, const std::string& file);

}  // namespace warmsheet::outline
