// SPDX-License-Identifier: MIT
#include "outline/photo.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

#include "base/dimension.h"
#include "outline/contour.h"
#include "outline/projection.h"
#include "outline/refuse.h"
#include "outline/sheet_corners.h"

namespace warmsheet::outline {
namespace {

/// Less than half of what A4 and letter paper differ by in their proportions (8.9 %).
constexpr double largest_misfit = 0.04;
/// The sheet must fit the view this much worse with its sides swapped, or nobody can tell them apart.
constexpr double least_gap = 0.1;
/// At 45 degrees a sheet that bulges by 1 mm shifts its edge by as much.
constexpr double largest_tilt_rad = std::numbers::pi / 4.0;
/// What is left off at the rim of the paper, so that no ground shows there.
constexpr double rim_mm = 3.0;
constexpr double pixels_per_mm = 6.0;

constexpr const char* from_above = "hold the camera level above the middle of the sheet";

/// Pixels from the middle of the photo, over its longer side.
Corners from_middle(const Corners& corners, const GreyImage& photo) {
  const double middle_x = 0.5 * static_cast<double>(photo.width - 1);
  const double middle_y = 0.5 * static_cast<double>(photo.height - 1);
  const auto longer = static_cast<double>(std::max(photo.width, photo.height));
  Corners seen;
  for (std::size_t i = 0; i < 4; ++i)
    seen[i] = {(corners[i].x_mm - middle_x) / longer, (corners[i].y_mm - middle_y) / longer};
  return seen;
}

/// The sheet lies with the first side along its long or its short side.
struct Lie {
  View along;
  View across;
  [[nodiscard]] const View& better() const { return along.misfit <= across.misfit ? along : across; }
  [[nodiscard]] const View& worse() const { return along.misfit <= across.misfit ? across : along; }
};

Lie lie_of(const Corners& seen, const PaperSize& paper) {
  return {view_of(seen, paper.long_mm, paper.short_mm), view_of(seen, paper.short_mm, paper.long_mm)};
}

[[noreturn]] void refuse_proportions(const Corners& seen, const PaperSize& paper, const std::string& file) {
  for (const PaperSize& other : {a4_paper, letter_paper})
    if (lie_of(seen, other).better().misfit <= largest_misfit)
      refuse(
          {file, 0, 0},
          fmt::format("the sheet has the proportions of {} paper, not of {}", other.name, paper.name),
          "name the paper that lies there; if it is the right one, light all of it and take the photo again");
  refuse({file, 0, 0},
         fmt::format("what looks like the sheet has not the proportions of {} paper", paper.name),
         fmt::format("light the whole sheet evenly, cover none of it, leave the photo uncropped, and {}",
                     from_above));
}

/// The paper with its corners in the photo, counter-clockwise from the lower left one as it lies there.
struct LyingSheet {
  Corners corners;
  double width_mm;
  double height_mm;
};

/// What points up in the photo points up on the flat picture, as far as quarter turns go: stiffness is worked
/// out with the distal end up.
LyingSheet as_it_lies(Corners corners, bool first_side_is_long, const PaperSize& paper) {
  const auto run = [&](std::size_t i) {
    const double x = corners[(i + 1) % 4].x_mm - corners[i].x_mm;
    return x / std::hypot(x, corners[(i + 1) % 4].y_mm - corners[i].y_mm);
  };
  std::size_t lower = 0;
  for (std::size_t i = 1; i < 4; ++i)
    if (run(i) > run(lower)) lower = i;
  std::rotate(corners.begin(), corners.begin() + static_cast<std::ptrdiff_t>(lower), corners.end());
  const bool wide = first_side_is_long == (lower % 2 == 0);
  return {corners, wide ? paper.long_mm : paper.short_mm, wide ? paper.short_mm : paper.long_mm};
}

LyingSheet lying_sheet(const Corners& corners, const GreyImage& photo, const PaperSize& paper,
                       const std::string& file) {
  const Corners seen = from_middle(corners, photo);
  const Lie lie = lie_of(seen, paper);
  // Corners in one line have no view at all: not a number, which is no smaller than anything.
  if (!(lie.better().misfit <= largest_misfit)) refuse_proportions(seen, paper, file);
  if (lie.better().tilt_rad > largest_tilt_rad)
    refuse(
        {file, 0, 0},
        fmt::format("the photo is taken too much from the side: {:.0f} degrees from straight above, at most "
                    "{:.0f} are read",
                    std::ceil(deg_of_rad(lie.better().tilt_rad)), deg_of_rad(largest_tilt_rad)),
        from_above);
  if (lie.worse().misfit < lie.better().misfit + least_gap)
    refuse({file, 0, 0},
           "the photo is taken too much from the side to tell the sheet's long sides from its short ones",
           from_above);
  return as_it_lies(corners, &lie.better() == &lie.along, paper);
}

/// One level parts light paper from a dark ground; where the ground is light too, or the light uneven, that
/// of the lighter or of the darker pixels does.
LyingSheet sheet_on(const GreyImage& photo, const PaperSize& paper, const std::string& file) {
  const GreyImage clean = without_specks(photo);
  const double middle = parting_level(clean);
  std::optional<Failure> first;
  for (const double level : {middle, parting_level(clean, middle), parting_level(clean, -1.0, middle)}) {
    try {
      return lying_sheet(sheet_corners(clean, level, file), photo, paper, file);
    } catch (const Failure& failure) {
      if (!first) first = failure;
    }
  }
  throw *first;
}

/// Grey level between pixel centres; y points up.
double grey_at(const GreyImage& photo, const Point& p) {
  const double x = std::clamp(p.x_mm, 0.0, static_cast<double>(photo.width - 1) - 1e-9);
  const double y = std::clamp(static_cast<double>(photo.height - 1) - p.y_mm, 0.0,
                              static_cast<double>(photo.height - 1) - 1e-9);
  const auto column = static_cast<std::size_t>(x);
  const auto row = static_cast<std::size_t>(y);
  const double s = x - static_cast<double>(column);
  const double t = y - static_cast<double>(row);
  const auto grey = [&](std::size_t r, std::size_t c) {
    return static_cast<double>(photo.grey[r * photo.width + c]);
  };
  return (1.0 - t) * ((1.0 - s) * grey(row, column) + s * grey(row, column + 1)) +
         t * ((1.0 - s) * grey(row + 1, column) + s * grey(row + 1, column + 1));
}

/// Each pixel of the flat picture is the mean of 2 x 2 points, as a finer photo has more pixels than it.
GreyImage resampled(const GreyImage& photo, const LyingSheet& sheet) {
  const Homography to_photo = homography(sheet_rectangle(sheet.width_mm, sheet.height_mm), sheet.corners);
  GreyImage flat;
  flat.width = static_cast<std::size_t>((sheet.width_mm - 2.0 * rim_mm) * pixels_per_mm);
  flat.height = static_cast<std::size_t>((sheet.height_mm - 2.0 * rim_mm) * pixels_per_mm);
  flat.grey.resize(flat.width * flat.height);
  const auto at = [&](double column, double row) {
    return projected(to_photo,
                     {rim_mm + column / pixels_per_mm, sheet.height_mm - rim_mm - row / pixels_per_mm});
  };
  for (std::size_t row = 0; row < flat.height; ++row)
    for (std::size_t column = 0; column < flat.width; ++column) {
      double sum = 0.0;
      for (const double dy : {0.25, 0.75})
        for (const double dx : {0.25, 0.75})
          sum += grey_at(photo, at(static_cast<double>(column) + dx, static_cast<double>(row) + dy));
      flat.grey[row * flat.width + column] = static_cast<std::uint8_t>(std::lround(0.25 * sum));
    }
  return flat;
}

/// How light the paper is along its four sides, where nothing but paper may lie.
class Rim {
 public:
  Rim(const GreyImage& flat, const std::string& file) : flat_(flat) {
    top_ = along(flat.width, [&](std::size_t i, std::size_t deep) { return at(i, deep); });
    bottom_ =
        along(flat.width, [&](std::size_t i, std::size_t deep) { return at(i, flat.height - 1 - deep); });
    left_ = along(flat.height, [&](std::size_t i, std::size_t deep) { return at(deep, i); });
    right_ =
        along(flat.height, [&](std::size_t i, std::size_t deep) { return at(flat.width - 1 - deep, i); });
    for (const auto* side : {&top_, &bottom_, &left_, &right_}) {
      check_soft(*side, file);
      darkest_ = std::min(darkest_, *std::min_element(side->begin(), side->end()));
    }
    darkest_ = std::max(least_grey, darkest_);
  }

  /// What the paper under a pixel would show: the two sides above and below it, blended, and those beside it,
  /// less what both have of the corners (Coons 1967, surfaces for computer-aided design).
  [[nodiscard]] double under(std::size_t column, std::size_t row) const {
    const double s = static_cast<double>(column) / static_cast<double>(flat_.width - 1);
    const double t = static_cast<double>(row) / static_cast<double>(flat_.height - 1);
    const double up_and_down = (1.0 - t) * top_[column] + t * bottom_[column];
    const double sideways = (1.0 - s) * left_[row] + s * right_[row];
    const double corners = (1.0 - t) * ((1.0 - s) * top_.front() + s * top_.back()) +
                           t * ((1.0 - s) * bottom_.front() + s * bottom_.back());
    return std::max(darkest_, up_and_down + sideways - corners);
  }

 private:
  static constexpr std::size_t depth = 6;     // pixels, 1 mm
  static constexpr std::size_t reach = 12;    // to both sides
  static constexpr double least_grey = 20.0;  // darker paper is noise

  [[nodiscard]] double at(std::size_t column, std::size_t row) const {
    return flat_.grey[row * flat_.width + column];
  }

  template <typename Pixel>
  static std::vector<double> along(std::size_t count, const Pixel& pixel) {
    std::vector<double> sums{0.0};
    for (std::size_t i = 0; i < count; ++i) {
      sums.push_back(sums.back());
      for (std::size_t deep = 0; deep < depth; ++deep) sums.back() += pixel(i, deep) / double{depth};
    }
    std::vector<double> means;
    for (std::size_t i = 0; i < count; ++i) {
      const std::size_t from = i > reach ? i - reach : 0;
      const std::size_t to = std::min(count, i + reach + 1);
      means.push_back((sums[to] - sums[from]) / static_cast<double>(to - from));
    }
    return means;
  }

  /// Light falls off softly; what darkens the rim within 4 mm is no paper.
  static void check_soft(const std::vector<double>& side, const std::string& file) {
    constexpr double largest_step = 0.15;
    for (std::size_t i = 2 * reach; i < side.size(); ++i)
      if (std::abs(side[i] - side[i - 2 * reach]) > largest_step * std::max(side[i], side[i - 2 * reach]))
        refuse({file, 0, 0},
               "the rim of the sheet is not clear: the pattern, a hard shadow or a fold lies there",
               "keep the pattern 5 mm inside the sheet, lay the sheet flat and light it evenly");
  }

  const GreyImage& flat_;
  std::vector<double> top_;
  std::vector<double> bottom_;
  std::vector<double> left_;
  std::vector<double> right_;
  double darkest_ = 255.0;
};

/// A lamp to one side, or a soft shadow, leaves some of the paper darker; its rim says how much.
void even_out(GreyImage& flat, const std::string& file) {
  constexpr double white = 235.0;
  const Rim rim(flat, file);
  GreyImage evened = flat;
  for (std::size_t row = 0; row < flat.height; ++row)
    for (std::size_t column = 0; column < flat.width; ++column) {
      const std::size_t i = row * flat.width + column;
      const double grey = flat.grey[i] * white / rim.under(column, row);
      evened.grey[i] = static_cast<std::uint8_t>(std::min(255.0, std::round(grey)));
    }
  flat = std::move(evened);
}

}  // namespace

FlatPhoto flattened(const GreyImage& photo, const PaperSize& paper, const std::string& file) {
  constexpr std::size_t fewest = 200;
  if (photo.width < fewest || photo.height < fewest)
    refuse({file, 0, 0}, "the photo has too few pixels", "take it with at least 1000 pixels along the sheet");
  FlatPhoto flat{resampled(photo, sheet_on(photo, paper, file)), Length{m_per_mm / pixels_per_mm}};
  even_out(flat.image, file);
  return flat;
}

}  // namespace warmsheet::outline
