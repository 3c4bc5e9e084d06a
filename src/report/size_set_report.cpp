// SPDX-License-Identifier: MIT
#include "report/size_set_report.h"

#include <utility>

#include "plan/cautions.h"
#include "report/drawings.h"
#include "report/sections.h"

namespace warmsheet::report {
namespace {

constexpr double gap_mm = 20.0;
constexpr double letter_mm = 8.0;

Table size_table(const outline::SizeSet& set) {
  Table table{{Phrase("size"), Phrase("area"), Phrase("width"), Phrase("height"), Phrase("fits best")}, {}};
  for (const outline::Size& size : set.sizes)
    table.rows.push_back({Phrase(Label(size.name)), Phrase(size.outline.area), Phrase(size.outline.width),
                          Phrase(size.outline.height), Phrase(size.share)});
  return table;
}

/// Which size to take for a person: every measure of each.
Table measure_table(const outline::SizeSet& set) {
  Table table{{Phrase("measure")}, {}};
  for (const outline::Size& size : set.sizes) table.head.push_back(Phrase(Label(size.name)));
  for (const outline::UsedMeasure& used : set.sizes.front().outline.measures)
    table.rows.push_back({Phrase(Label(used.measure.name))});
  for (const outline::Size& size : set.sizes)
    for (std::size_t i = 0; i < table.rows.size(); ++i)
      table.rows[i].push_back(Phrase(size.outline.measures[i].value));
  return table;
}

Facts coverage_facts(const outline::SizeSet& set) {
  Facts facts;
  for (const Figure& coverage : set.by_count)
    facts.lines.push_back({Phrase(Label(coverage.name())), Finding(coverage)});
  facts.lines.push_back({Phrase("coverage of any number"), Finding(set.reach)});
  return facts;
}

RecordArray sizes_array(const outline::SizeSet& set) {
  RecordArray array{"sizes", {}};
  for (const outline::Size& size : set.sizes) {
    Record record{{{"size", size.name},
                   {"area", Finding(size.outline.area)},
                   {"width", Finding(size.outline.width)},
                   {"height", Finding(size.outline.height)},
                   {"share", Finding(size.share)}}};
    for (const outline::UsedMeasure& used : size.outline.measures)
      record.fields.push_back({used.measure.id, Finding(used.value)});
    array.records.push_back(std::move(record));
  }
  return array;
}

}  // namespace

Document size_set_report(const library::Design& design, const outline::SizeSet& set, LibraryStamp stamp) {
  Document document("outline", "Sizes of: " + design.name, with_standing(plan::cutting_cautions()),
                    std::move(stamp));
  document.inputs = {
      {"outline", design.id}, {"sizes", std::to_string(set.sizes.size())}, {"fit", Finding(set.fit)}};
  document.results = {{"coverage", set.coverage}, {"sizes_for_90", set.for_most}};
  Section sizes{"Sizes", {size_table(set), measure_table(set)}};
  sizes.blocks.emplace_back(Paragraph{say(
      "A size fits a person if every measure the design takes lies within {} of the size's. Measure before "
      "you reach for a size: whom none fits gets an outline from measures, and every pattern is tried on "
      "before it is cut. The survey measured fit soldiers; patients, swollen limbs and children differ.",
      set.fit)});
  Section coverage{"Share of adults that the best set fits", {coverage_facts(set)}};
  Section drawings{"Drawings", {}};
  for (const outline::Size& size : set.sizes) drawings.blocks.emplace_back(outline_drawing(size.outline));
  document.sections = {std::move(sizes), std::move(coverage), std::move(drawings)};
  document.arrays = {sizes_array(set)};
  return document;
}

Drawing size_set_drawing(const outline::SizeSet& set) {
  Drawing all;
  all.id = "sizes";
  // Without the size: "Volar wrist orthosis, right, S".
  const outline::Size& first = set.sizes.front();
  const std::string& name = first.outline.name;
  all.title = "Sizes of " + name.substr(0, name.size() - first.name.size() - 2);
  all.description = "The outlines of all sizes beside each other, from small to large, outer face up.";
  double at_mm = 0.0;
  for (const outline::Size& size : set.sizes) {
    const Drawing one = outline_drawing(size.outline);
    at_mm -= one.extent.low.x_mm;
    append_at(all, one, {at_mm, 0.0});
    all.notes.push_back({{at_mm, one.extent.low.y_mm - letter_mm}, size.name, letter_mm});
    at_mm += one.extent.high.x_mm + gap_mm;
  }
  return all;
}

}  // namespace warmsheet::report
