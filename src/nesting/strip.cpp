// SPDX-License-Identifier: MIT
#include "nesting/strip.h"

#include <fmt/format.h>

#include <stdexcept>
#include <utility>

#include "base/problem.h"
#include "nesting/bounds.h"
#include "nesting/fill.h"
#include "nesting/refusal.h"
#include "nesting/team.h"

namespace warmsheet::nesting {
namespace {

constexpr double first_density = 0.65;  // of the first, random layout: loose enough to come apart quickly

/// Keeps the stances that are no higher than the strip; refuses a piece that has none.
void keep_fitting(Task& task, const StripOrder& order) {
  const double height = order.height_mm - 2.0 * order.margin_mm + touching_mm;
  for (std::size_t i = 0; i < task.kinds.size(); ++i) {
    std::vector<std::size_t>& stances = task.kinds[i].stances;
    std::erase_if(stances, [&](std::size_t stance) { return task.stances[stance].box.height() > height; });
    if (!stances.empty()) continue;
    throw Failure(Problem{Trouble::no_answer,
                          {},
                          fmt::format("{} is higher than the strip of {} mm in every allowed rotation",
                                      order.pieces[i].name, order.height_mm),
                          "allow more rotations, or use a higher strip"});
  }
}

/// Of the turns that are searched.
double narrowest(const Task& task, const Kind& kind) {
  double width = std::numeric_limits<double>::infinity();
  for (const std::size_t stance : kind.stances) width = std::min(width, task.stances[stance].box.width());
  return width;
}

double shortest_of(const Task& task, const StripOrder& order) {
  double claims = 0.0;
  double widest = 0.0;
  for (const Copy& copy : task.copies) {
    const Kind& kind = task.kinds[copy.piece];
    claims += kind.claim;
    widest = std::max(widest, kind.free ? kind.least_width : narrowest(task, kind));
  }
  return std::max(2.0 * order.margin_mm + widest,
                  length_for(claims, {0.0, order.height_mm, order.margin_mm}, order.spacing_mm));
}

Crowd scattered(const World& world, Bin bin, Random& random) {
  std::vector<Spot> spots;
  for (const std::size_t kind : world.items) {
    const std::vector<std::size_t>& stances = (*world.kinds)[kind].stances;
    const std::size_t stance = stances[random.below(stances.size())];
    const Extent& box = world.shapes->stances[stance].box;
    bin.length_mm = std::max(bin.length_mm, box.width() + 2.0 * bin.margin_mm);
    spots.push_back({stance, 0, {random.unit(), random.unit()}});
  }
  for (Spot& spot : spots) {
    const Room room = room_in(bin, world.shapes->stances[spot.stance].box);
    spot.at = {room.low.x + spot.at.x * (room.high.x - room.low.x),
               room.low.y + spot.at.y * (room.high.y - room.low.y)};
  }
  return Crowd(world, {bin}, std::move(spots));
}

/// Without any search, for an effort too small for one.
Found one_after_another(Task& task, const Shapes& shapes, const StripOrder& order) {
  StockPlan long_enough;
  long_enough.bin = {2.0 * order.margin_mm, order.height_mm, order.margin_mm};
  for (const Copy& copy : task.copies)
    long_enough.bin.length_mm += task.kinds[copy.piece].diameter + order.spacing_mm;
  long_enough.area = long_enough.bin.length_mm * order.height_mm;
  long_enough.available = 1;
  task.stock.push_back(std::move(long_enough));
  group_units(task, {order.pieces, {}, 0.0, 0.0});
  const Filling filling = fill(task, shapes, {0});
  Found found{{}, 0.0};
  for (const std::optional<Spot>& spot : filling.spots) {
    if (!spot) throw std::logic_error("nesting: no room on a strip longer than all pieces");
    found.spots.push_back(*spot);
    found.length_mm =
        std::max(found.length_mm, spot->at.x + shapes.stances[spot->stance].box.x1 + order.margin_mm);
  }
  return found;
}

}  // namespace

Strip shortest_strip(const StripOrder& order, const Effort& effort) {
  const Order pieces{order.pieces, {}, order.spacing_mm, order.margin_mm};
  refuse_strange_pieces(pieces);
  if (!(order.height_mm > 2.0 * order.margin_mm))
    throw Failure(Problem{Trouble::data,
                          {},
                          fmt::format("the strip is {} mm high", order.height_mm),
                          "it must be higher than its two margins"});
  Task task = prepare(pieces);
  keep_fitting(task, order);
  const Shapes shapes(std::move(task.forms), task.first_ground, task.stances, task.angles_deg);
  World world{&shapes, &task.kinds, {}, {}, {}};
  for (const Copy& copy : task.copies) world.items.push_back(copy.piece);

  Strip strip;
  strip.shortest_mm = shortest_of(task, order);
  Random random(effort.seed);
  const Bin bin{strip.shortest_mm / first_density, order.height_mm, order.margin_mm};
  const Crowd crowd = scattered(world, bin, random);
  double least_mm = strip.shortest_mm;
  for (const Kind& kind : task.kinds)
    least_mm = std::max(least_mm, 2.0 * order.margin_mm + narrowest(task, kind));
  Team team(crowd, random, least_mm, effort, Budget(effort));
  std::optional<Found> found = team.run();
  strip.evaluations = team.evaluations();
  strip.stopped_early = team.stopped();
  if (!found) found = one_after_another(task, shapes, order);
  strip.length_mm = found->length_mm;
  for (std::size_t i = 0; i < task.copies.size(); ++i)
    strip.placements.push_back(placement_of(shapes, task.copies[i], found->spots[i], {}));
  return strip;
}

}  // namespace warmsheet::nesting
