// SPDX-License-Identifier: MIT
#include "nesting/cut_tree.h"

#include <algorithm>

namespace warmsheet::nesting {

CutPlanner::CutPlanner(Micrometres width, Micrometres height, Micrometres kerf) : kerf_(kerf) {
  add(0, 0, width, height);
}

std::size_t CutPlanner::add(Micrometres x, Micrometres y, Micrometres width, Micrometres height) {
  Slab slab;
  slab.x = x;
  slab.y = y;
  slab.width = std::max<Micrometres>(width, 0);
  slab.height = std::max<Micrometres>(height, 0);
  tree_.push_back(slab);
  return tree_.size() - 1;
}

std::pair<std::size_t, std::size_t> CutPlanner::cut_across(std::size_t slab, Micrometres width) {
  const Slab whole = tree_[slab];
  const std::size_t first = add(whole.x, whole.y, width - kerf_, whole.height);
  const std::size_t second = add(whole.x + width, whole.y, whole.width - width, whole.height);
  tree_[slab].kind = Slab::Kind::cut_across;
  tree_[slab].cut_at = whole.x + width - kerf_;
  tree_[slab].first = first;
  tree_[slab].second = second;
  return {first, second};
}

std::pair<std::size_t, std::size_t> CutPlanner::cut_along(std::size_t slab, Micrometres height) {
  const Slab whole = tree_[slab];
  const std::size_t first = add(whole.x, whole.y, whole.width, height - kerf_);
  const std::size_t second = add(whole.x, whole.y + height, whole.width, whole.height - height);
  tree_[slab].kind = Slab::Kind::cut_along;
  tree_[slab].cut_at = whole.y + height - kerf_;
  tree_[slab].first = first;
  tree_[slab].second = second;
  return {first, second};
}

void CutPlanner::piece(std::size_t slab, Micrometres width, Micrometres height, std::size_t blank,
                       bool turned) {
  if (width - kerf_ < tree_[slab].width) slab = cut_across(slab, width).first;
  if (height - kerf_ < tree_[slab].height) slab = cut_along(slab, height).first;
  tree_[slab].kind = Slab::Kind::piece;
  tree_[slab].blank = blank;
  tree_[slab].turned = turned;
}

CutTree with_rest_cut_off(const CutTree& tree, Micrometres kerf) {
  Micrometres used = 0;
  for (const Slab& slab : tree)
    if (slab.kind == Slab::Kind::piece) used = std::max(used, slab.x + slab.width);
  const Slab& whole = tree.front();
  const Micrometres rest = whole.width - used - kerf;
  if (used == 0 || rest <= 0) return tree;
  Slab root = whole;
  root.kind = Slab::Kind::cut_across;
  root.cut_at = used;
  root.first = 1;
  root.second = tree.size() + 1;
  CutTree cut{root};
  for (Slab slab : tree) {
    slab.width = std::clamp<Micrometres>(used - slab.x, 0, slab.width);
    ++slab.first;
    ++slab.second;
    cut.push_back(slab);
  }
  Slab end;
  end.x = used + kerf;
  end.width = rest;
  end.height = whole.height;
  cut.push_back(end);
  return cut;
}

}  // namespace warmsheet::nesting
