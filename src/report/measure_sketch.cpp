// SPDX-License-Identifier: MIT
#include "report/measure_sketch.h"

#include <algorithm>

#include "report/limb_views.h"

namespace warmsheet::report {
namespace {

constexpr double rim_mm = 4.0;

outline::Box box_of(const std::vector<Sketch::Line>& lines) {
  outline::Path all;
  for (const Sketch::Line& line : lines) all.insert(all.end(), line.points.begin(), line.points.end());
  outline::Box box = outline::box_of(all);
  box.low = {box.low.x_mm - rim_mm, box.low.y_mm - rim_mm};
  box.high = {box.high.x_mm + rim_mm, box.high.y_mm + rim_mm};
  return box;
}

Sketch sketch_of(const library::Measure& measure, Phrase caption) {
  Sketch sketch{.id = "measure-" + measure.id,
                .title = measure.name,
                .description = "A line figure of the limb with the measure marked: " + measure.how + ".",
                .extent = {},
                .lines = limb(measure.mark->view),
                .caption = std::move(caption)};
  for (Sketch::Line& line : mark_lines(*measure.mark)) sketch.lines.push_back(std::move(line));
  sketch.extent = box_of(sketch.lines);
  return sketch;
}

}  // namespace

std::vector<Sketch> measure_sketches(const library::Design& design, const library::Library& library) {
  std::vector<Sketch> sketches;
  for (const std::string& id : design.measures) {
    const library::Measure& measure = library.measure(id);
    if (!measure.mark) continue;
    sketches.push_back(sketch_of(measure, say("{} ({}): {}. Usual: {}.", Label(measure.name),
                                              Label(measure.id), Label(measure.how), measure.usual)));
  }
  return sketches;
}

Section measures_section(const outline::Outline& outline) {
  Section section{"Measures, and how they are taken", {}};
  for (const outline::UsedMeasure& used : outline.measures) {
    const Phrase caption = say("{}, {}: {}", Label(used.measure.name), used.value, Label(used.measure.how));
    if (used.measure.mark)
      section.blocks.emplace_back(sketch_of(used.measure, caption));
    else
      section.blocks.emplace_back(Bullets{{caption}});
  }
  return section;
}

}  // namespace warmsheet::report
