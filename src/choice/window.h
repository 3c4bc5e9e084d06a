// SPDX-License-Identifier: MIT
// Working windows from the heat room.
#pragma once

#include "choice/choose.h"
#include "heat/situation.h"

namespace warmsheet::choice {

/// Times items in `surroundings` (bath, room, skin, liner; sheet, stock item and area are filled in) with
/// `samples` draws; 0 gives central values. A window the heat room calls unsafe, or a sheet that this bath
/// cannot melt, is absent with the reason. The library must outlive the source.
WindowSource heat_windows(const library::Library& library, heat::Request surroundings, int samples);

/// The choice with both kinds of window from the heat room, over the same surroundings.
Choice choose_timed(const library::Library& library, Request request, const heat::Request& surroundings);

}  // namespace warmsheet::choice
