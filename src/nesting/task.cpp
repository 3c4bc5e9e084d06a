// SPDX-License-Identifier: MIT
#include "nesting/task.h"

#include <map>
#include <utility>

#include "nesting/bounds.h"
#include "outline/geos.h"

namespace warmsheet::nesting {
namespace {

constexpr int free_angles = 16;  // grid of the search where any angle is allowed
constexpr double rounding = 1e-9;
// Of a sheet without a price: never as much as one sheet more, for any order that can be searched.
constexpr double size_against_count = 1e-6;

double normal_angle(double angle_deg) {
  const double angle = std::fmod(angle_deg, 360.0);
  return angle < 0.0 ? angle + 360.0 : angle;
}

Region mirrored(Region region) {
  const auto mirror = [](Loop& loop) {
    for (Vec& p : loop) p.x = -p.x;
    std::reverse(loop.begin(), loop.end());
  };
  mirror(region.outer);
  for (Loop& hole : region.holes) mirror(hole);
  return region;
}

Loop reversed(Loop loop) {
  std::reverse(loop.begin(), loop.end());
  return loop;
}

/// What a sheet's box holds besides sheet: a frame round the outer loop, and each spoilt zone.
std::vector<Region> ground_of(const Region& sheet) {
  constexpr double frame_share = 0.25;  // of the box: wide enough to push pieces off
  const Extent box = extent_of(sheet.outer);
  const double pad = frame_share * std::max(box.width(), box.height());
  const Loop frame{{box.x0 - pad, box.y0 - pad},
                   {box.x1 + pad, box.y0 - pad},
                   {box.x1 + pad, box.y1 + pad},
                   {box.x0 - pad, box.y1 + pad}};
  std::vector<Region> ground{{frame, {reversed(sheet.outer)}}};
  for (const Loop& hole : sheet.holes) ground.push_back({reversed(hole), {}});
  return ground;
}

class Preparation {
 public:
  explicit Preparation(const Order& order) : order_(order) {}

  Task run() {
    task_.spacing_mm = order_.spacing_mm;
    angle_index(0.0);
    for (std::size_t i = 0; i < order_.pieces.size(); ++i) add_piece(i);
    task_.first_ground = task_.forms.size();
    for (const Stock& stock : order_.stock) add_stock(stock);
    add_odd_angles();
    set_costs();
    pin_fixed();
    add_copies();
    return std::move(task_);
  }

 private:
  std::size_t angle_index(double angle_deg) {
    const auto [it, is_new] = angles_.emplace(angle_deg, task_.angles_deg.size());
    if (is_new) task_.angles_deg.push_back(angle_deg);
    return it->second;
  }

  std::size_t add_stance(std::size_t form, double angle_deg, bool flipped) {
    Stance stance;
    stance.form = form;
    stance.angle = angle_index(angle_deg);
    stance.angle_deg = angle_deg;
    stance.turn = turn_by(angle_deg);
    stance.flipped = flipped;
    stance.box = extent_turned(task_.forms[form], stance.turn);
    for (const Loop& part : task_.forms[form].parts) {
      for (const Vec p : part) stance.grown.take(stance.turn(p));
    }
    task_.stances.push_back(stance);
    return task_.stances.size() - 1;
  }

  static std::vector<double> angles_of(const Rotations& rotations) {
    std::vector<double> angles;
    if (rotations.free) {
      for (int k = 0; k < free_angles; ++k) angles.push_back(360.0 * k / free_angles);
    } else {
      for (const double angle : rotations.angles_deg) angles.push_back(normal_angle(angle));
    }
    std::sort(angles.begin(), angles.end());
    angles.erase(std::unique(angles.begin(), angles.end()), angles.end());
    return angles;
  }

  /// Fewer corners make a faster search. Where a gap is asked for anyway an outline may grow by a small part
  /// of it, less than a tenth of a millimetre for usual gaps, all round: scissors do not follow closer.
  [[nodiscard]] Coarseness coarseness_of(const outline::Polygon& shape) const {
    constexpr double share_of_gap = 0.02;
    Coarseness coarseness;
    coarseness.area_share = std::max(
        coarseness.area_share, share_of_gap * order_.spacing_mm * shape.perimeter_mm() / shape.area_mm2());
    return coarseness;
  }

  void add_piece(std::size_t index) {
    const Piece& piece = order_.pieces[index];
    Kind kind;
    kind.free = piece.rotations.free;
    const Region region = region_of(piece.shape);
    for (const bool flipped : {false, true}) {
      if (flipped && !piece.may_flip) continue;
      const Region seen = flipped ? mirrored(region) : region;
      const double lean_deg = piece.rotations.free ? narrowest_lean_deg(seen) : 0.0;
      task_.forms.push_back(
          form_of(turned(seen, turn_by(lean_deg)), 0.5 * order_.spacing_mm, coarseness_of(piece.shape)));
      task_.forms.back().lean_deg = lean_deg;
      for (const double angle : angles_of(piece.rotations)) {
        kind.stances.push_back(add_stance(task_.forms.size() - 1, angle, flipped));
      }
    }
    const Form& form = task_.forms.back();
    const Extent& box = task_.stances[kind.stances.front()].box;
    kind.area = form.area;
    kind.claim = claimed_mm2(piece.shape, order_.spacing_mm);
    kind.hull_area = form.hull_area;
    kind.diameter = form.diameter;
    kind.narrow = std::min(box.width(), box.height());
    // Where any turn is allowed the grid holds the narrowest: `narrowest_lean_deg`.
    kind.least_width = box.width();
    for (const std::size_t s : kind.stances)
      kind.least_width = std::min(kind.least_width, task_.stances[s].box.width());
    task_.kinds.push_back(std::move(kind));
  }

  void add_stock(const Stock& stock) {
    StockPlan plan;
    const outline::Box& box = stock.shape.box();
    plan.corner = {box.low.x_mm, box.low.y_mm};
    plan.bin = {box.width_mm(), box.height_mm(), order_.margin_mm};
    plan.area = stock.shape.area_mm2();
    plan.capacity = capacity_mm2(stock.shape, order_.spacing_mm, order_.margin_mm);
    plan.available = stock.count < 0 ? std::numeric_limits<int>::max() : stock.count;
    if (!is_rectangle(stock.shape)) {
      for (const Region& region : ground_of(region_of(stock.shape))) add_ground(plan, region);
    }
    for (const outline::Polygon& zone : stock.spoilt) {
      add_ground(plan, region_of(zone));
      plan.area -= outline::geos::overlap_mm2(zone, stock.shape);
    }
    task_.stock.push_back(std::move(plan));
  }

  void add_ground(StockPlan& plan, const Region& region) {
    task_.forms.push_back(form_of(region, order_.margin_mm, {}));
    const std::size_t stance = add_stance(task_.forms.size() - 1, 0.0, false);
    plan.ground.push_back({stance, 0, task_.forms.back().centre - plan.corner});
  }

  /// A long piece may fit a sheet only at an angle between those of the grid, or be shorter there.
  void add_odd_angles() {
    for (Kind& kind : task_.kinds) {
      if (!kind.free) continue;
      for (std::size_t i = 0; i < task_.stock.size(); ++i) {
        const Bin& bin = task_.stock[i].bin;
        const auto fits = [&](std::size_t s) { return overhang(task_.stances[s].box, bin) <= 0.0; };
        double shortest = std::numeric_limits<double>::infinity();
        for (const std::size_t s : kind.stances)
          if (fits(s)) shortest = std::min(shortest, task_.stances[s].box.width());
        const bool short_enough = order_.stock[i].offcut ? shortest <= bin.length_mm
                                                         : shortest <= kind.least_width * (1.0 + rounding);
        if (short_enough) continue;
        const std::size_t form = task_.stances[kind.stances.front()].form;
        const std::size_t odd = add_stance(form, best_angle(task_.forms[form], bin), false);
        if (fits(odd) && task_.stances[odd].box.width() < shortest * (1.0 - rounding))
          kind.stances.push_back(odd);
      }
    }
  }

  /// By how much a box is too long or too high for a bin; negative if it fits.
  static double overhang(const Extent& box, const Bin& bin) {
    return 2.0 * bin.margin_mm + std::max(box.width() - bin.length_mm, box.height() - bin.height_mm);
  }

  /// The angle of least overhang, and of those where it fits the one where it is shortest: a fine grid, then
  /// halved steps round its best.
  static double best_angle(const Form& form, const Bin& bin) {
    constexpr int grid = 720;
    constexpr double finest_deg = 1e-6;
    const auto excess = [&](double angle_deg) {
      const Extent box = extent_turned(form, turn_by(angle_deg));
      return std::pair(std::max(0.0, overhang(box, bin)), box.width());
    };
    double best_deg = 0.0;
    for (int k = 1; k < grid; ++k) {
      const double angle_deg = 180.0 * k / grid;
      if (excess(angle_deg) < excess(best_deg)) best_deg = angle_deg;
    }
    for (double step_deg = 180.0 / grid; step_deg > finest_deg; step_deg *= 0.5) {
      for (const double angle_deg : {best_deg - step_deg, best_deg + step_deg}) {
        if (excess(angle_deg) < excess(best_deg)) best_deg = angle_deg;
      }
    }
    return best_deg;
  }

  void pin_fixed() {
    for (const std::size_t stock : order_.fixed_sheets) {
      task_.pinned.push_back({stock, {}});
      if (task_.stock[stock].available < std::numeric_limits<int>::max()) --task_.stock[stock].available;
    }
    for (const Placement& fixed : order_.fixed) {
      PinnedSheet& sheet = task_.pinned[fixed.sheet];
      if (const std::optional<Spot> spot =
              spot_of(task_, task_.forms, fixed, task_.stock[sheet.stock].corner))
        sheet.pieces.push_back(*spot);
      fixed_.emplace(std::pair(fixed.piece, fixed.copy), fixed.sheet);
    }
  }

  void add_copies() {
    for (std::size_t i = 0; i < order_.pieces.size(); ++i) {
      for (int number = 0; number < order_.pieces[i].copies; ++number) {
        if (!fixed_.contains({i, number})) task_.copies.push_back({i, number});
      }
    }
  }

  void set_costs() {
    const std::vector<double> costs = stock_costs(order_);
    for (std::size_t i = 0; i < costs.size(); ++i) task_.stock[i].cost = costs[i];
  }

  const Order& order_;
  Task task_;
  std::map<double, std::size_t> angles_;
  std::map<std::pair<std::size_t, int>, std::size_t>
      fixed_;  // copies that lie already, and on which pinned sheet
};

}  // namespace

std::vector<double> stock_costs(const Order& order) {
  const bool priced = std::all_of(order.stock.begin(), order.stock.end(),
                                  [](const Stock& stock) { return stock.offcut || stock.price > 0.0; });
  double largest_mm2 = 0.0;
  for (const Stock& stock : order.stock) largest_mm2 = std::max(largest_mm2, stock.shape.area_mm2());
  const auto count_before_size = [&](const Stock& stock) {
    return 1.0 + size_against_count * stock.shape.area_mm2() / largest_mm2;
  };
  std::vector<double> costs;
  for (const Stock& stock : order.stock)
    costs.push_back(stock.offcut ? 0.0 : priced ? stock.price : count_before_size(stock));
  return costs;
}

Task prepare(const Order& order) {
  return Preparation(order).run();
}

void group_units(Task& task, const Order& order) {
  task.units.clear();
  std::map<std::pair<std::string, int>, std::size_t> known;
  std::map<std::pair<std::string, int>, std::size_t> pin;
  for (const Placement& fixed : order.fixed) {
    const std::string& group = order.pieces[fixed.piece].group;
    if (!group.empty()) pin.emplace(std::pair(group, fixed.copy), fixed.sheet);
  }
  for (std::size_t copy = 0; copy < task.copies.size(); ++copy) {
    const Piece& piece = order.pieces[task.copies[copy].piece];
    const std::pair key(piece.group, task.copies[copy].number);
    const bool alone = piece.group.empty();
    const auto [it, is_new] = known.emplace(key, task.units.size());
    if (alone || is_new) {
      if (alone) known.erase(it);
      const auto pinned = pin.find(key);
      task.units.push_back({{}, piece.priority, alone || pinned == pin.end() ? no_pin : pinned->second});
    }
    Unit& unit = task.units[alone ? task.units.size() - 1 : it->second];
    unit.copies.push_back(copy);
    unit.priority = std::max(unit.priority, piece.priority);
  }
}

std::optional<Spot> spot_of(const Task& task, const std::vector<Form>& forms, const Placement& placement,
                            Vec corner) {
  constexpr double same_angle_deg = 1e-9;
  const Kind& kind = task.kinds[placement.piece];
  std::optional<Spot> best;
  for (const std::size_t index : kind.stances) {
    const Stance& stance = task.stances[index];
    if (stance.flipped != placement.flipped) continue;
    const double lean_deg = forms[stance.form].lean_deg;
    double tilt_deg = std::remainder(placement.angle_deg - lean_deg - stance.angle_deg, 360.0);
    if (std::abs(tilt_deg) < same_angle_deg) tilt_deg = 0.0;
    if (!best || std::abs(tilt_deg) < std::abs(best->tilt_deg)) best = Spot{index, 0, {}, tilt_deg};
  }
  if (!best) return std::nullopt;
  const Stance& stance = task.stances[best->stance];
  const Vec move{placement.move.x_mm, placement.move.y_mm};
  best->at = move + turn_by(stance.angle_deg + best->tilt_deg)(forms[stance.form].centre) - corner;
  return best;
}

Placement placement_of(const Shapes& shapes, const Copy& copy, const Spot& spot, Vec corner) {
  const Stance& stance = shapes.stances[spot.stance];
  const Form& form = shapes.forms[stance.form];
  const double turned_deg = stance.angle_deg + spot.tilt_deg;
  const Vec move = corner + spot.at - turn_by(turned_deg)(form.centre);
  const double angle_deg = normal_angle(form.lean_deg + turned_deg);
  return {copy.piece, copy.number, spot.bin, angle_deg, stance.flipped, {move.x, move.y}};
}

std::vector<Spot> lying_on(const Task& task, const BinUse& use) {
  std::vector<Spot> lying = task.stock[use.stock].ground;
  if (use.pin == no_pin) return lying;
  const std::vector<Spot>& pieces = task.pinned[use.pin].pieces;
  lying.insert(lying.end(), pieces.begin(), pieces.end());
  return lying;
}

World world_of(const Task& task, const Shapes& shapes, const std::vector<std::size_t>& copies,
               const std::vector<BinUse>& uses) {
  World world{&shapes, &task.kinds, {}, {}, {}};
  std::vector<char> stays(task.copies.size(), 0);
  for (const Unit& unit : task.units) {
    for (const std::size_t copy : unit.copies)
      stays[copy] = unit.copies.size() > 1 || unit.pin != no_pin ? 1 : 0;
  }
  for (const std::size_t copy : copies) {
    world.items.push_back(task.copies[copy].piece);
    world.stays.push_back(stays[copy]);
  }
  for (std::size_t bin = 0; bin < uses.size(); ++bin) {
    for (Spot lies : lying_on(task, uses[bin])) {
      lies.bin = bin;
      world.anchors.push_back(lies);
    }
  }
  return world;
}

std::vector<Bin> bins_of(const Task& task, const std::vector<BinUse>& uses) {
  std::vector<Bin> bins;
  for (const BinUse& use : uses) bins.push_back(task.stock[use.stock].bin);
  return bins;
}

}  // namespace warmsheet::nesting
