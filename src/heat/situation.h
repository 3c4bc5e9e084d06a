// SPDX-License-Identifier: MIT
// From what somebody asked for to a whole situation: whatever was not typed is a figure of the library.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "heat/timing.h"

namespace warmsheet::heat {

inline constexpr int most_layers = 4;
inline constexpr const char* usual_bath_state = "still";
/// Where sheets are tested and most orthoses lie; the trunk's skin ("adult") is thicker and would wait less.
inline constexpr const char* usual_skin = "forearm";
/// One draw in twenty lies below the 5 % bound: fewer do not show it.
inline constexpr int fewest_samples = 20;

/// Ids are those of the library; figures that are absent are taken from it.
struct Request {
  std::string sheet;
  std::optional<Figure> thickness = {};
  std::optional<std::string> stock_item =
      {};  ///< "sheet/item" or the item's id; gives thickness and perforation
  std::optional<std::string> perforation = {};
  std::optional<Figure> area = {};
  std::optional<Figure> bath = {};
  std::optional<Figure> bath_water = {};
  std::optional<std::string> bath_state = {};
  std::optional<Figure> film = {};  ///< overrides the bath state
  std::optional<Figure> start = {};
  std::optional<Figure> room = {};
  std::optional<bool> dried = {};
  std::optional<std::string> skin = {};
  std::optional<std::string> liner = {};
  std::optional<std::string> wrap = {};
  int layers = 1;
  int samples = default_samples;
  std::uint64_t seed = 1;
  int threads = usual_threads();
  bool upright = false;
  bool on_rack = false;
  std::optional<Figure> crystallised = {};
  std::optional<Figure> lifted = {};
  Reheat reheat = Reheat::whole;
};

/// The stock item that `request` names, which must be one of its sheet. Throws a Failure (usage).
const library::StockItem& stock_item_of(const library::Library& library, const Request& request);

/// Points into `library`, which must outlive it. Throws a Failure (usage) for an unknown id.
/// Defaults: the sheet's stock item nearest to 3.2 mm (solid if there is a choice), the sheet's usual bath, a
/// still bath, the library's room, a sheet at room temperature, patted dry, on an adult's forearm without
/// liner or wrap, a piece as large as the conditions of the library usually take.
Situation resolve(const library::Library& library, const Request& request);

/// Throws a Failure: data for a figure that makes no sense (zero thickness, no water), no_answer for a bath
/// that cannot melt the sheet or would boil, or a room in which it can never be laid on skin; each says what
/// to change. `time` calls it.
void require_sound(const Situation& situation);

}  // namespace warmsheet::heat
