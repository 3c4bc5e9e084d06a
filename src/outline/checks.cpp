// SPDX-License-Identifier: MIT
#include "outline/checks.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <string_view>
#include <utility>

#include "base/dimension.h"
#include "outline/geos.h"

namespace warmsheet::outline {
namespace {

/// Lengths read off a drawn shape are good to the chords of its arcs.
constexpr double slack_mm = 0.1;

Figure length_figure(const Subject& s, std::string name, double mm, std::string how) {
  return Figure::derived(std::move(name), Range::exactly(mm * m_per_mm), units::millimetre(), std::move(how),
                         s.rests_on);
}

Figure ratio_figure(const Subject& s, std::string name, double value, std::string how) {
  return Figure::derived(std::move(name), Range::exactly(value), units::one(), std::move(how), s.rests_on);
}

double let_mm(const Subject& s, const library::DesignRule& rule, const std::string& id) {
  const auto found = s.drawn.names.find(id);
  if (found != s.drawn.names.end() && found->second.kind == Amount::Kind::length) return found->second.value;
  throw Failure(
      Problem{Trouble::data, s.design.place,
              fmt::format("the rule '{}' of {} is checked with the let '{}', which is missing or no length",
                          rule.id, s.design.id, id),
              fmt::format("add [[let]] id = \"{}\" with a length", id)});
}

double low_mm(const library::DesignRule& rule) {
  return rule.factor.low_si() / m_per_mm;
}
double high_mm(const library::DesignRule& rule) {
  return rule.factor.high_si() / m_per_mm;
}

/// Where the outer edge crosses a vertical line: the most distal crossing, or none.
std::optional<double> top_at(const Ring& ring, double x_mm) {
  std::optional<double> top;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Point& a = ring[i];
    const Point& b = ring[(i + 1) % ring.size()];
    if ((a.x_mm <= x_mm) == (b.x_mm <= x_mm)) continue;
    const double y = a.y_mm + (x_mm - a.x_mm) / (b.x_mm - a.x_mm) * (b.y_mm - a.y_mm);
    if (!top || y > *top) top = y;
  }
  return top;
}

/// Width of the outer shape at a height: from its leftmost to its rightmost crossing.
double width_at(const Ring& ring, double y_mm) {
  double low = std::numeric_limits<double>::infinity();
  double high = -low;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Point& a = ring[i];
    const Point& b = ring[(i + 1) % ring.size()];
    if ((a.y_mm <= y_mm) == (b.y_mm <= y_mm)) continue;
    const double x = a.x_mm + (y_mm - a.y_mm) / (b.y_mm - a.y_mm) * (b.x_mm - a.x_mm);
    low = std::min(low, x);
    high = std::max(high, x);
  }
  return high > low ? high - low : 0.0;
}

using Checks = std::vector<RuleCheck>;

/// A line that the distal edge must stop short of: a palmar crease, or the row of knuckles. `line` names its
/// lets.
void distal_edge(const Subject& s, const library::DesignRule& rule, const std::string& line, Checks& checks) {
  const Point from{let_mm(s, rule, line + "_from_x"), let_mm(s, rule, line + "_from_y")};
  const Point to{let_mm(s, rule, line + "_to_x"), let_mm(s, rule, line + "_to_y")};
  constexpr int stations = 24;
  double least = std::numeric_limits<double>::infinity();
  for (int i = 0; i <= stations; ++i) {
    const double t = static_cast<double>(i) / stations;
    const auto edge = top_at(s.shape.outer(), from.x_mm + t * (to.x_mm - from.x_mm));
    if (edge) least = std::min(least, from.y_mm + t * (to.y_mm - from.y_mm) - *edge);
  }
  if (std::isinf(least)) return;  // no material below the line at all
  const Figure gap = length_figure(s, "distal gap", least,
                                   "least distance along the limb from the distal edge to the " + line);
  checks.push_back(
      {rule.id, least >= low_mm(rule) - slack_mm && least <= high_mm(rule) + slack_mm,
       say("{}: it ends {} short at its nearest; {} is wanted", Label(rule.says), gap, rule.factor)});
}

void crease(const Subject& s, const library::DesignRule& rule, Checks& checks) {
  distal_edge(s, rule, "crease", checks);
}
void knuckle(const Subject& s, const library::DesignRule& rule, Checks& checks) {
  distal_edge(s, rule, "knuckle", checks);
}

void thenar(const Subject& s, const library::DesignRule& rule, Checks& checks) {
  const Point centre{let_mm(s, rule, "thenar_x"), let_mm(s, rule, "thenar_y")};
  const Ring ring =
      ellipse_ring(centre, let_mm(s, rule, "thenar_rx"), let_mm(s, rule, "thenar_ry"), slack_mm);
  const Polygon mound = Polygon::make(ring, {}, s.design.place);
  const double covered = geos::overlap_mm2(mound, s.shape) / mound.area_mm2();
  const double gap = geos::distance_mm(mound, s.shape);
  const Figure clearance =
      length_figure(s, "thenar gap", gap, "least distance from the thenar eminence to the material");
  const Figure share =
      ratio_figure(s, "thenar covered", covered, "share of the thenar eminence under material");
  checks.push_back({rule.id, gap >= low_mm(rule) - slack_mm,
                    say("{}: the edge stays {} away and covers {} of it; {} is wanted", Label(rule.says),
                        clearance, share.in(units::percent()), rule.factor)});
}

bool within(double value, const Figure& factor, double slack) {
  return value >= factor.low_si() - slack && value <= factor.high_si() + slack;
}

void forearm(const Subject& s, const library::DesignRule& rule, Checks& checks) {
  const auto length = s.measures.find("forearm_length");
  if (length == s.measures.end()) return;
  const double below_mm = let_mm(s, rule, "wrist_y") - s.shape.box().low.y_mm;
  const double share = below_mm * m_per_mm / length->second.si();
  const Figure seen =
      ratio_figure(s, "forearm share", share, "length below the wrist over the forearm's length");
  const double slack = slack_mm * m_per_mm / length->second.si();
  checks.push_back({rule.id, within(share, rule.factor, slack),
                    say("{}: this one takes {} of it; {} is wanted", Label(rule.says), seen, rule.factor)});
}

void trough(const Subject& s, const library::DesignRule& rule, Checks& checks) {
  const double girth = let_mm(s, rule, "trough_girth");
  const double share = width_at(s.shape.outer(), let_mm(s, rule, "trough_y")) / girth;
  const Figure seen =
      ratio_figure(s, "trough share", share, "width of the trough over the limb's girth there");
  checks.push_back({rule.id, within(share, rule.factor, slack_mm / girth),
                    say("{}: this one spans {} of it; {} is wanted", Label(rule.says), seen, rule.factor)});
  // A sheet that spans the share s of a round limb rises (1 - cos(pi s)) / 2 of its depth on both sides.
  const auto rise = [](double of) { return 0.5 * (1.0 - std::cos(std::numbers::pi * of)); };
  const Figure wall =
      ratio_figure(s, "wall height", rise(share), "of a trough round a circular limb, over the limb's depth");
  const Figure wanted = Figure::derived(
      "usual wall height", {rise(rule.factor.si()), rise(rule.factor.low_si()), rise(rule.factor.high_si())},
      units::one(), "of a trough round a circular limb", {rule.factor});
  checks.push_back(
      {"trough_walls", within(wall.si(), wanted, slack_mm / girth),
       say("walls reach half of the limb's depth: these reach {} of it; {} is wanted", wall, wanted)});
}

void corners(const Subject& s, const library::DesignRule& rule, Checks& checks) {
  constexpr double corner_deg = 30.0;  // a gentler bend neither presses nor tears
  const RoundedCorner* worst = nullptr;
  const auto look = [&](const RoundedRing& ring) {
    for (const RoundedCorner& corner : ring.corners)
      if (std::abs(corner.turn_deg) > corner_deg && (worst == nullptr || corner.radius_mm < worst->radius_mm))
        worst = &corner;
  };
  look(s.drawn.outer);
  for (const RoundedRing& hole : s.drawn.holes) look(hole);
  if (worst == nullptr) return;
  const Figure radius =
      length_figure(s, "smallest corner radius", worst->radius_mm, "of the corners as drawn");
  const Figure x =
      length_figure(s, "corner x", s.across * worst->at.x_mm, "across the limb from the middle line");
  const Figure y = length_figure(s, "corner y", worst->at.y_mm, "along the limb from the wrist");
  checks.push_back({rule.id, worst->radius_mm >= low_mm(rule) - slack_mm,
                    say("{}: the tightest corner (x {}, y {}) is drawn with {}; {} is wanted",
                        Label(rule.says), x, y, radius, rule.factor)});
}

void bridges(const Subject& s, const library::DesignRule& rule, Checks& checks) {
  const std::vector<Ring>& holes = s.shape.holes();
  if (holes.empty()) return;
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < holes.size(); ++i) {
    least = std::min(least, geos::distance_mm(s.shape.outer(), holes[i]));
    for (std::size_t j = i + 1; j < holes.size(); ++j)
      least = std::min(least, geos::distance_mm(holes[i], holes[j]));
  }
  const Figure width = length_figure(s, "narrowest bridge", least, "least width of material beside a hole");
  checks.push_back({rule.id, least >= low_mm(rule) - slack_mm,
                    say("{}: the narrowest is {}; {} is wanted", Label(rule.says), width, rule.factor)});
}

void wrist_strap(const Subject& s, const library::DesignRule& rule, Checks& checks) {
  for (const library::DesignStrap& strap : s.design.straps) {
    if (strap.id != "wrist") continue;
    const Finding& width = s.library.fixing(strap.fixing).width;
    if (!width.known()) continue;
    checks.push_back(
        {rule.id, within(width.figure().si(), rule.factor, 0.0),
         say("{}: this one is {} wide; {} is wanted", Label(rule.says), width.figure(), rule.factor)});
  }
}

void strap_count(const Subject& s, const library::DesignRule& rule, Checks& checks) {
  const auto count = static_cast<double>(s.design.straps.size());
  const Figure seen =
      Figure::derived("straps", Range::exactly(count), units::one(), "straps of the design", {rule.factor});
  checks.push_back({rule.id, within(count, rule.factor, 0.0),
                    say("{}: the design has {}; {} is wanted", Label(rule.says), seen, rule.factor)});
}

void strap_places(const Subject& s, Checks& checks) {
  for (std::size_t i = 0; i < s.design.straps.size(); ++i) {
    const double y = s.drawn.straps[i].y_mm;
    const double width = width_at(s.shape.outer(), y);
    if (width > 0.0) continue;
    checks.push_back({"strap_place", false,
                      say("the {} lies off the outline, at {} from the wrist", Label(s.design.straps[i].name),
                          length_figure(s, "strap place", y, "along the limb from the wrist"))});
  }
}

/// Straps are as wide as they are sold: on a small limb they may hang over an end, or lie on each other.
void strap_room(const Subject& s, Checks& checks) {
  struct Band {
    const library::DesignStrap* strap;
    const Figure* width;
    double low_mm;
    double high_mm;
  };
  std::vector<Band> bands;
  for (std::size_t i = 0; i < s.design.straps.size(); ++i) {
    const Finding& width = s.library.fixing(s.design.straps[i].fixing).width;
    if (!width.known()) continue;
    const double half_mm = 0.5 * width.figure().si() / m_per_mm;
    const double y_mm = s.drawn.straps[i].y_mm;
    bands.push_back({&s.design.straps[i], &width.figure(), y_mm - half_mm, y_mm + half_mm});
  }
  std::sort(bands.begin(), bands.end(), [](const Band& a, const Band& b) { return a.low_mm < b.low_mm; });
  const Box box = s.shape.box();
  for (const Band& band : bands)
    if (band.low_mm < box.low.y_mm - slack_mm || band.high_mm > box.high.y_mm + slack_mm)
      checks.push_back({"strap_room", false,
                        say("the {}, {} wide, hangs over the end of a piece as short as this: take a "
                            "narrower one, or fix it further in",
                            Label(band.strap->name), *band.width)});
  for (std::size_t i = 1; i < bands.size(); ++i)
    if (bands[i].low_mm < bands[i - 1].high_mm - slack_mm)
      checks.push_back({"strap_room", false,
                        say("the {}, {} wide, and the {}, {} wide, lie on each other: take narrower ones, or "
                            "leave one out",
                            Label(bands[i - 1].strap->name), *bands[i - 1].width, Label(bands[i].strap->name),
                            *bands[i].width)});
}

using Check = void (*)(const Subject&, const library::DesignRule&, Checks&);
constexpr std::array<std::pair<std::string_view, Check>, 9> rule_checks{{{"crease_clearance", crease},
                                                                         {"knuckle_clearance", knuckle},
                                                                         {"thenar_clearance", thenar},
                                                                         {"forearm_share", forearm},
                                                                         {"trough_share", trough},
                                                                         {"corner_radius", corners},
                                                                         {"bridge_width", bridges},
                                                                         {"wrist_strap_width", wrist_strap},
                                                                         {"strap_count", strap_count}}};

}  // namespace

bool is_checked(std::string_view rule) {
  return std::any_of(rule_checks.begin(), rule_checks.end(),
                     [&](const auto& known) { return known.first == rule; });
}

std::vector<RuleCheck> check_rules(const Subject& subject) {
  Checks checks;
  for (const library::DesignRule& rule : subject.design.rules)
    for (const auto& [id, check] : rule_checks)
      if (rule.id == id) check(subject, rule, checks);
  strap_places(subject, checks);
  strap_room(subject, checks);
  return checks;
}

}  // namespace warmsheet::outline
