// SPDX-License-Identifier: MIT
// A document, a drawing and a plot with everything in them that a writer must cope with. All numbers are
// invented and serve as text only; nothing here is checked for being true.
#pragma once

#include "report/document.h"

namespace warmsheet::report::sample {

Figure entered(const char* name, Range si, const Unit& unit);
Figure stated(const char* name, Range si, const Unit& unit, Basis basis);
Figure computed(const char* name, Range si, const Unit& unit);

/// One of each kind of block, with awkward text: markup, control characters, bad UTF-8, a very long word.
Document document();

/// A forearm-like outline with a hole, straps, fold, dimension and guide lines; all strokes occur.
Drawing drawing();

/// A cut sheet 457 x 610 mm, too wide for a page at true size.
Drawing sheet();
Sketch sketch();

/// Two curves, four moments close together, one span.
Plot plot();

}  // namespace warmsheet::report::sample
