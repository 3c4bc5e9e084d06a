// SPDX-License-Identifier: MIT
#include "nesting/task.h"

#include <fmt/format.h>

#include <map>
#include <utility>

#include "base/problem.h"

namespace warmsheet::nesting {
namespace {

constexpr int most_copies = 10'000;       // in one order
constexpr double longest_gap_mm = 500.0;  // spacing or margin: more is a slip of the unit
constexpr int free_angles = 16;           // grid of the search where any angle is allowed
constexpr std::size_t most_angles = 360;

double normal_angle(double angle_deg) {
  const double angle = std::fmod(angle_deg, 360.0);
  return angle < 0.0 ? angle + 360.0 : angle;
}

void check_piece(const Piece& piece, Problems& problems) {
  if (piece.copies < 1 || piece.copies > most_copies)
    problems.add({}, fmt::format("{}: {} copies", piece.name, piece.copies),
                 fmt::format("ask for 1 to {} copies", most_copies));
  if (piece.rotations.free) return;
  if (piece.rotations.angles_deg.empty() || piece.rotations.angles_deg.size() > most_angles)
    problems.add({}, fmt::format("{}: {} allowed angles", piece.name, piece.rotations.angles_deg.size()),
                 fmt::format("list 1 to {} angles in degrees, or allow any", most_angles));
  for (const double angle : piece.rotations.angles_deg) {
    if (!std::isfinite(angle))
      problems.add({}, fmt::format("{}: an allowed angle is not a number", piece.name),
                   "write degrees, e.g. 90");
  }
}

void check_gap(double gap_mm, const char* what, Problems& problems) {
  if (std::isfinite(gap_mm) && gap_mm >= 0.0 && gap_mm <= longest_gap_mm) return;
  problems.add({}, fmt::format("the {} is {} mm", what, gap_mm),
               fmt::format("it may be 0 to {} mm", longest_gap_mm));
}

void check_stock(const Stock& stock, Problems& problems) {
  if (stock.count < -1)
    problems.add({}, fmt::format("{}: {} of it in stock", stock.name, stock.count),
                 "give how many there are, or -1 for as many as needed");
  if (!std::isfinite(stock.price) || stock.price < 0.0)
    problems.add({}, fmt::format("{}: its price is {}", stock.name, stock.price), "a price is 0 or more");
}

void check_pieces(const Order& order, Problems& problems) {
  if (order.pieces.empty()) problems.add({}, "there is nothing to place", "give at least one outline");
  check_gap(order.spacing_mm, "spacing between pieces", problems);
  check_gap(order.margin_mm, "margin at the edge of a sheet", problems);
  long copies = 0;
  for (const Piece& piece : order.pieces) {
    check_piece(piece, problems);
    copies += piece.copies;
  }
  if (copies > most_copies)
    problems.add({}, fmt::format("{} copies in all", copies),
                 fmt::format("place at most {} at once", most_copies));
}

bool is_rectangle(const outline::Polygon& shape) {
  if (shape.outer().size() != 4 || !shape.holes().empty()) return false;
  const outline::Box& box = shape.box();
  for (const outline::Point& p : shape.outer()) {
    const bool on_x = p.x_mm == box.low.x_mm || p.x_mm == box.high.x_mm;
    const bool on_y = p.y_mm == box.low.y_mm || p.y_mm == box.high.y_mm;
    if (!on_x || !on_y) return false;
  }
  return true;
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
    angle_index(0.0);
    for (std::size_t i = 0; i < order_.pieces.size(); ++i) add_piece(i);
    task_.first_ground = task_.forms.size();
    for (const Stock& stock : order_.stock) add_stock(stock);
    set_costs();
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

  void add_piece(std::size_t index) {
    const Piece& piece = order_.pieces[index];
    Kind kind;
    kind.free = piece.rotations.free;
    const Region region = region_of(piece.shape);
    for (const bool flipped : {false, true}) {
      if (flipped && !piece.may_flip) continue;
      task_.forms.push_back(form_of(flipped ? mirrored(region) : region, 0.5 * order_.spacing_mm, {}));
      for (const double angle : angles_of(piece.rotations)) {
        kind.stances.push_back(add_stance(task_.forms.size() - 1, angle, flipped));
      }
    }
    const Form& form = task_.forms.back();
    const Extent& box = task_.stances[kind.stances.front()].box;
    kind.area = form.area;
    kind.hull_area = form.hull_area;
    kind.diameter = form.diameter;
    kind.narrow = std::min(box.width(), box.height());
    task_.kinds.push_back(std::move(kind));
    for (int copy = 0; copy < piece.copies; ++copy) task_.copies.push_back({index, copy});
  }

  void add_stock(const Stock& stock) {
    StockPlan plan;
    const outline::Box& box = stock.shape.box();
    plan.corner = {box.low.x_mm, box.low.y_mm};
    plan.bin = {box.width_mm(), box.height_mm(), order_.margin_mm};
    plan.area = stock.shape.area_mm2();
    plan.available = stock.count < 0 ? static_cast<int>(task_.copies.size()) : stock.count;
    if (!is_rectangle(stock.shape)) {
      for (const Region& region : ground_of(region_of(stock.shape))) {
        task_.forms.push_back(form_of(region, order_.margin_mm, {}));
        const std::size_t stance = add_stance(task_.forms.size() - 1, 0.0, false);
        plan.ground.push_back({stance, task_.forms.back().centre - plan.corner});
      }
    }
    task_.stock.push_back(std::move(plan));
  }

  void set_costs() {
    bool priced = true;
    for (const Stock& stock : order_.stock) priced = priced && (stock.offcut || stock.price > 0.0);
    for (std::size_t i = 0; i < order_.stock.size(); ++i) {
      const Stock& stock = order_.stock[i];
      task_.stock[i].cost = stock.offcut ? 0.0 : priced ? stock.price : task_.stock[i].area;
    }
  }

  const Order& order_;
  Task task_;
  std::map<double, std::size_t> angles_;
};

}  // namespace

void refuse_strange_pieces(const Order& order) {
  Problems problems;
  check_pieces(order, problems);
  problems.throw_if_any();
}

void refuse_nonsense(const Order& order) {
  Problems problems;
  check_pieces(order, problems);
  if (order.stock.empty())
    problems.add({}, "there is nothing to place it on", "give a sheet size or a kept offcut");
  for (const Stock& stock : order.stock) check_stock(stock, problems);
  problems.throw_if_any();
}

Task prepare(const Order& order) {
  return Preparation(order).run();
}

World world_of(const Task& task, const Shapes& shapes, const std::vector<std::size_t>& copies,
               const std::vector<std::size_t>& bin_stock) {
  World world{&shapes, &task.kinds, {}, {}};
  for (const std::size_t copy : copies) world.items.push_back(task.copies[copy].piece);
  for (std::size_t bin = 0; bin < bin_stock.size(); ++bin) {
    for (const Ground& ground : task.stock[bin_stock[bin]].ground)
      world.anchors.push_back({ground.stance, bin, ground.at});
  }
  return world;
}

Placement placement_of(const Shapes& shapes, const Copy& copy, const Spot& spot, Vec corner) {
  const Stance& stance = shapes.stances[spot.stance];
  const double angle_deg = stance.angle_deg + spot.tilt_deg;
  const Vec move = corner + spot.at - turn_by(angle_deg)(shapes.forms[stance.form].centre);
  return {copy.piece, copy.number, spot.bin, angle_deg, stance.flipped, {move.x, move.y}};
}

std::vector<Bin> bins_of(const Task& task, const std::vector<std::size_t>& bin_stock) {
  std::vector<Bin> bins;
  for (const std::size_t stock : bin_stock) bins.push_back(task.stock[stock].bin);
  return bins;
}

}  // namespace warmsheet::nesting
