// SPDX-License-Identifier: MIT
#include "base/figure.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <tuple>
#include <unordered_set>
#include <utility>

namespace warmsheet {

struct Figure::Node {
  std::string name;
  Range range;
  const Unit* unit;
  Basis basis;
  std::optional<Origin> origin;
  std::string how;
  std::vector<Figure> rests_on;
};

namespace {

void require_sound(const std::string& name, Range range) {
  const bool finite = std::isfinite(range.value) && std::isfinite(range.low) && std::isfinite(range.high);
  if (finite && range.low <= range.value && range.value <= range.high) return;
  throw std::logic_error("figure " + name + " has no finite value between its bounds");
}

Basis weakest(const std::vector<Figure>& figures) {
  const auto weaker = [](const Figure& a, const Figure& b) { return a.basis() < b.basis(); };
  return std::min_element(figures.begin(), figures.end(), weaker)->basis();
}

/// Orders leaves and tells them apart: all that a reader sees of a statement. Its unit is left out, since the
/// same statement may be shown in two.
auto key_of(const Figure& leaf) {
  const Origin& origin = *leaf.origin();
  return std::tuple(leaf.basis(), std::string_view(leaf.name()), std::string_view(origin.source),
                    std::string_view(origin.where), origin.place.text(), leaf.si(), leaf.low_si(),
                    leaf.high_si());
}

}  // namespace

Figure Figure::stated(std::string name, Range si, const Unit& unit, Origin origin) {
  require_sound(name, si);
  if (origin.basis == Basis::handbook && origin.source.empty())
    throw std::logic_error("figure " + name + " is from a handbook without a source");
  const Basis basis = origin.basis;
  return Figure(
      std::make_shared<const Node>(Node{std::move(name), si, &unit, basis, std::move(origin), {}, {}}));
}

Figure Figure::entered(std::string name, Range si, const Unit& unit, Place place) {
  return stated(std::move(name), si, unit, Origin{.basis = Basis::entered, .place = std::move(place)});
}

Figure Figure::derived(std::string name, Range si, const Unit& unit, std::string how,
                       std::vector<Figure> rests_on) {
  require_sound(name, si);
  if (rests_on.empty()) throw std::logic_error("derived figure " + name + " rests on nothing");
  const Basis basis = weakest(rests_on);
  return Figure(std::make_shared<const Node>(
      Node{std::move(name), si, &unit, basis, std::nullopt, std::move(how), std::move(rests_on)}));
}

const std::string& Figure::name() const {
  return node_->name;
}
double Figure::si() const {
  return node_->range.value;
}
double Figure::low_si() const {
  return node_->range.low;
}
double Figure::high_si() const {
  return node_->range.high;
}
Range Figure::range_si() const {
  return node_->range;
}
double Figure::value() const {
  return unit().from_si(si());
}
double Figure::low() const {
  return unit().from_si(low_si());
}
double Figure::high() const {
  return unit().from_si(high_si());
}
bool Figure::has_range() const {
  return low_si() < high_si();
}
const Unit& Figure::unit() const {
  return *node_->unit;
}
Basis Figure::basis() const {
  return node_->basis;
}
const std::optional<Origin>& Figure::origin() const {
  return node_->origin;
}
const std::string& Figure::how() const {
  return node_->how;
}
const std::vector<Figure>& Figure::rests_on() const {
  return node_->rests_on;
}

std::vector<Figure> Figure::leaves() const {
  std::vector<Figure> found;
  std::unordered_set<const Node*> visited;
  std::vector<Figure> pending{*this};
  while (!pending.empty()) {
    const Figure next = pending.back();
    pending.pop_back();
    if (!visited.insert(next.node_.get()).second) continue;
    if (next.rests_on().empty()) found.push_back(next);
    pending.insert(pending.end(), next.rests_on().begin(), next.rests_on().end());
  }
  std::sort(found.begin(), found.end(),
            [](const Figure& a, const Figure& b) { return key_of(a) < key_of(b); });
  const auto same_statement = [](const Figure& a, const Figure& b) { return key_of(a) == key_of(b); };
  found.erase(std::unique(found.begin(), found.end(), same_statement), found.end());
  return found;
}

Figure Figure::renamed(std::string name) const {
  Node copy = *node_;
  copy.name = std::move(name);
  return Figure(std::make_shared<const Node>(std::move(copy)));
}

Figure Figure::in(const Unit& unit) const {
  require(unit.dimension);
  Node copy = *node_;
  copy.unit = &unit;
  return Figure(std::make_shared<const Node>(std::move(copy)));
}

void Figure::require(Dimension dimension) const {
  if (dimension == this->dimension()) return;
  throw std::logic_error("figure " + name() + " is a " + std::string(dimension_word(this->dimension())) +
                         ", not a " + std::string(dimension_word(dimension)));
}

Finding Finding::absent(std::string reason) {
  if (reason.empty()) throw std::logic_error("a finding is absent without a reason");
  Finding finding;
  finding.reason_ = std::move(reason);
  return finding;
}

const Figure& Finding::figure() const {
  if (!figure_) throw std::logic_error("a finding without a figure was read: " + reason_);
  return *figure_;
}

}  // namespace warmsheet
