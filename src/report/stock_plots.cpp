// SPDX-License-Identifier: MIT
#include "report/stock_plots.h"

#include <algorithm>

namespace warmsheet::report {
namespace {

/// "draping-white/3.2-solid" as part of an id.
std::string id_part(std::string key) {
  std::replace(key.begin(), key.end(), '/', '-');
  std::replace(key.begin(), key.end(), '.', '-');
  return key;
}

enum class Part { low, middle, high };

double part_of(const Figure& figure, Part part) {
  if (part == Part::low) return figure.low();
  return part == Part::high ? figure.high() : figure.value();
}

Plot::Curve curve(const std::string& name, const std::vector<Figure>& months, Part part) {
  Plot::Curve made{name, {}, {}};
  for (std::size_t m = 0; m < months.size(); ++m) {
    made.x.push_back(static_cast<double>(m + 1));
    made.y.push_back(part_of(months[m], part));
  }
  return made;
}

Phrase weakest(const Figure& figure) {
  return say("Basis of the curves: {}.", Label(std::string(basis_word(figure.basis()))));
}

}  // namespace

std::vector<Plot> use_plots(const stock::Answers& answers) {
  std::vector<Plot> plots;
  for (const stock::ItemAnswer& item : answers.items) {
    if (item.sheets_by_month.empty()) continue;
    plots.push_back({.id = "use-" + id_part(item.key),
                     .title = "Sheets a month: " + item.key,
                     .description = "By month from today: mean, and nine of ten years.",
                     .x_label = "month, counted from today",
                     .y_label = "sheets",
                     .curves = {curve("mean", item.sheets_by_month, Part::middle),
                                curve("5 %", item.sheets_by_month, Part::low),
                                curve("95 %", item.sheets_by_month, Part::high)},
                     .marks = {},
                     .spans = {},
                     .basis_note = weakest(item.sheets_by_month.front())});
  }
  return plots;
}

std::vector<Plot> year_plots(const stock::Answers& answers) {
  std::vector<Plot> plots;
  for (const stock::ItemAnswer& item : answers.items) {
    if (!item.with_policy || !item.without_orders) continue;
    plots.push_back({.id = "shelf-" + id_part(item.key),
                     .title = "The shelf over the coming year: " + item.key,
                     .description = "On hand by month from today, with orders (mean, nine of ten years) and "
                                    "without; below zero, orthoses wait.",
                     .x_label = "month, counted from today",
                     .y_label = "sheets on hand",
                     .curves = {curve("with orders", item.with_policy->on_hand, Part::middle),
                                curve("with orders, 5 %", item.with_policy->on_hand, Part::low),
                                curve("with orders, 95 %", item.with_policy->on_hand, Part::high),
                                curve("no orders", item.without_orders->on_hand, Part::middle)},
                     .marks = {},
                     .spans = {},
                     .basis_note = weakest(item.with_policy->on_hand.front())});
  }
  return plots;
}

std::vector<Plot> size_plots(const stock::Answers& answers) {
  std::vector<Plot> plots;
  for (const stock::ItemAnswer& item : answers.items) {
    std::vector<const stock::SizeAnswer*> sizes;
    for (const stock::SizeAnswer& size : item.sizes)
      if (size.waste.known()) sizes.push_back(&size);
    if (sizes.size() < 2) continue;
    std::sort(sizes.begin(), sizes.end(),
              [](const auto* a, const auto* b) { return a->sheet_area.si() < b->sheet_area.si(); });
    const auto waste_curve = [&](const char* name, Part part) {
      Plot::Curve made{name, {}, {}};
      for (const stock::SizeAnswer* size : sizes) {
        made.x.push_back(size->sheet_area.value());
        made.y.push_back(part_of(size->waste.figure(), part));
      }
      return made;
    };
    plots.push_back({.id = "waste-" + id_part(item.key),
                     .title = "Waste by sheet size: " + item.key,
                     .description = "Waste against the area of the sheet: mean, and nine of ten years.",
                     .x_label = "area of the sheet, cm2",
                     .y_label = "waste, %",
                     .curves = {waste_curve("mean", Part::middle), waste_curve("5 %", Part::low),
                                waste_curve("95 %", Part::high)},
                     .marks = {},
                     .spans = {},
                     .basis_note = weakest(sizes.front()->waste.figure())});
  }
  return plots;
}

}  // namespace warmsheet::report
