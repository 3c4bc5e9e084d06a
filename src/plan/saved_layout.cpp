// SPDX-License-Identifier: MIT
#include "plan/saved_layout.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/problem.h"
#include "base/text.h"

namespace warmsheet::plan {
namespace {

template <class Named>
std::size_t index_of(const std::vector<Named>& all, const std::string& name, const char* what,
                     const std::string& file, Problems& problems) {
  const auto is_it = [&](const Named& one) { return one.name == name; };
  const auto found = std::find_if(all.begin(), all.end(), is_it);
  if (found != all.end()) return static_cast<std::size_t>(found - all.begin());
  std::vector<std::string> names;
  for (const Named& one : all) names.push_back(one.name);
  problems.add({file, 0, 0},
               fmt::format("the {} \"{}\" is not among those of this run", what, clip(name, 60)),
               "here there are: " + clip(join(names, ", "), 200));
  return 0;
}

}  // namespace

nesting::Layout layout_of(const SavedLayout& saved, const nesting::Order& order) {
  Problems problems;
  nesting::Layout layout;
  for (const std::string& sheet : saved.sheets)
    layout.sheets.push_back({index_of(order.stock, sheet, "stock", saved.file, problems), 0.0, 0.0});
  for (const SavedLayout::Placement& p : saved.placements)
    layout.placements.push_back({index_of(order.pieces, p.outline, "outline", saved.file, problems),
                                 p.copy,
                                 p.sheet,
                                 p.angle_deg,
                                 p.flipped,
                                 {p.x_mm, p.y_mm}});
  problems.throw_if_any();
  return layout;
}

void lay(const SavedLayout& saved, nesting::Order& order) {
  nesting::Layout layout = layout_of(saved, order);
  for (const nesting::UsedSheet& sheet : layout.sheets) order.fixed_sheets.push_back(sheet.stock);
  order.fixed = std::move(layout.placements);
}

void refuse_other_layout(const SavedLayout& saved, const nesting::Order& order,
                         const nesting::Layout& layout) {
  const std::vector<std::string> wrong = nesting::check(order, layout);
  if (wrong.empty()) return;
  throw Failure(
      Problem{Trouble::data,
              {saved.file, 0, 0},
              "the earlier layout is no layout of this order: " + wrong.front(),
              "ask for the same outlines, sheets, spacing and margin, or keep its pieces where they "
              "lie and add others to them"});
}

}  // namespace warmsheet::plan
