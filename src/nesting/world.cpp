// SPDX-License-Identifier: MIT
#include "nesting/world.h"

namespace warmsheet::nesting {

Extent box_of(const Shapes& shapes, const Spot& spot) {
  const Stance& stance = shapes.stances[spot.stance];
  const Extent box = spot.tilt_deg == 0.0 ? stance.box
                                          : extent_turned(shapes.forms[stance.form],
                                                          turn_by(stance.angle_deg + spot.tilt_deg));
  return {spot.at.x + box.x0, spot.at.y + box.y0, spot.at.x + box.x1, spot.at.y + box.y1};
}

Room room_in(const Bin& b, const Extent& box) {
  Room room{{b.margin_mm - box.x0, b.margin_mm - box.y0},
            {b.length_mm - b.margin_mm - box.x1, b.height_mm - b.margin_mm - box.y1}};
  // A piece exactly as wide as the bin has one place, whatever the rounding says.
  if (room.low.x > room.high.x && room.low.x - room.high.x < touching_mm) room.high.x = room.low.x;
  if (room.low.y > room.high.y && room.low.y - room.high.y < touching_mm) room.high.y = room.low.y;
  return room;
}

}  // namespace warmsheet::nesting
