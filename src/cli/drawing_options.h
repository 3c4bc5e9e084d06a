// SPDX-License-Identifier: MIT
// Options for drawings and for the search of a layout, shared by outline, nest and plan.
#pragma once

#include "cli/arguments.h"
#include "cli/command.h"
#include "cli/session.h"
#include "nesting/nest.h"
#include "outline/outline.h"

namespace warmsheet::cli {

/// --svg, --dxf, --pdf of the outline.
OptionGroup outline_drawing_options();
void deliver_outline_drawings(const outline::Outline& outline, const Arguments& arguments, Session& session);

/// --svg, --dxf, --pdf of any drawing.
void deliver_drawing(const report::Drawing& drawing, const Arguments& arguments, Session& session);

/// --seed, --passes, --threads.
OptionGroup effort_options();
nesting::Effort effort_from(const Arguments& arguments);

}  // namespace warmsheet::cli
