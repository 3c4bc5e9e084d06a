// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <utility>

#include "base/dimension.h"
#include "base/text.h"
#include "outline/contour.h"
#include "outline/geos.h"
#include "outline/jpeg_file.h"
#include "outline/photo.h"
#include "outline/png_file.h"
#include "outline/readers.h"
#include "outline/refuse.h"
#include "outline/resolution.h"
#include "outline/ring_nesting.h"

namespace warmsheet::outline {
namespace {

/// Smaller pieces and openings are dust, staples and pencil marks.
constexpr double largest_speck_mm2 = 25.0;
/// A piece that is not dust, but small beside the pattern, is still no pattern.
constexpr double speck_share = 0.02;
/// A pen line is thinner than this; a pattern whose material is thinner everywhere does not exist.
constexpr double widest_line_mm = 3.0;
/// Grey levels between the mean of pattern and ground, below which noise decides.
constexpr double least_contrast = 30.0;

/// Reads the head of a graymap: words apart by white space, remarks from '#' to the end of the line.
class PgmReader {
 public:
  PgmReader(std::string_view bytes, const std::string& file) : rest_(bytes), file_(file) {}

  GreyImage read() {
    if (!rest_.starts_with("P5") && !rest_.starts_with("P2"))
      refuse({file_, 0, 0}, "the file is no portable graymap (P2 or P5)",
             "save the scan as 8-bit greyscale PGM");
    const bool raw = rest_[1] == '5';
    rest_.remove_prefix(2);
    GreyImage image;
    image.width = whole(1, largest_pixel_count);
    image.height = whole(1, largest_pixel_count);
    if (image.width * image.height > largest_pixel_count)
      refuse({file_, 0, 0},
             fmt::format("the scan has {} x {} pixels; at most {} are read", image.width, image.height,
                         largest_pixel_count),
             "scan at 150 or 300 dots per inch");
    const std::size_t white = whole(1, 255);
    image.grey.resize(image.width * image.height);
    if (raw)
      take_raw(image.grey);
    else
      for (std::uint8_t& grey : image.grey) grey = static_cast<std::uint8_t>(whole(0, white));
    for (std::uint8_t& grey : image.grey)
      grey = static_cast<std::uint8_t>(std::min<std::size_t>(255, grey * std::size_t{255} / white));
    return image;
  }

 private:
  void skip_gap() {
    while (!rest_.empty()) {
      if (rest_.front() == '#') {
        const std::size_t end = rest_.find('\n');
        rest_.remove_prefix(end == std::string_view::npos ? rest_.size() : end);
      } else if (rest_.front() == ' ' || (rest_.front() >= '\t' && rest_.front() <= '\r')) {
        rest_.remove_prefix(1);
      } else {
        return;
      }
    }
  }

  std::size_t whole(std::size_t low, std::size_t high) {
    skip_gap();
    std::size_t value = 0;
    const auto read = std::from_chars(rest_.data(), rest_.data() + rest_.size(), value);
    if (read.ec != std::errc() || value < low || value > high)
      refuse({file_, 0, 0},
             fmt::format("expected a whole number from {} to {}, saw \"{}\"", low, high, clip(rest_, 12)),
             "save the scan again as 8-bit greyscale PGM");
    rest_.remove_prefix(static_cast<std::size_t>(read.ptr - rest_.data()));
    return value;
  }

  void take_raw(std::vector<std::uint8_t>& grey) {
    if (!rest_.empty()) rest_.remove_prefix(1);  // one white space after the head
    if (rest_.size() < grey.size())
      refuse({file_, 0, 0}, fmt::format("the scan ends after {} of {} pixels", rest_.size(), grey.size()),
             "the file is cut short; copy it again");
    std::transform(rest_.begin(), rest_.begin() + std::ssize(grey), grey.begin(),
                   [](char c) { return static_cast<std::uint8_t>(c); });
  }

  std::string_view rest_;
  std::string file_;
};

/// Middle grey level along the border: what the pattern lies on.
double ground_level(const GreyImage& image) {
  std::vector<std::uint8_t> border;
  for (std::size_t x = 0; x < image.width; ++x) {
    border.push_back(image.grey[x]);
    border.push_back(image.grey[(image.height - 1) * image.width + x]);
  }
  for (std::size_t y = 0; y < image.height; ++y) {
    border.push_back(image.grey[y * image.width]);
    border.push_back(image.grey[y * image.width + image.width - 1]);
  }
  const auto middle = border.begin() + std::ssize(border) / 2;
  std::nth_element(border.begin(), middle, border.end());
  return *middle;
}

void check_contrast(const GreyImage& image, double level, const std::string& file, std::string_view what) {
  double sums[2] = {0.0, 0.0};
  double counts[2] = {0.0, 0.0};
  for (const std::uint8_t grey : image.grey) {
    sums[grey > level ? 1 : 0] += grey;
    counts[grey > level ? 1 : 0] += 1.0;
  }
  if (counts[0] > 0.0 && counts[1] > 0.0 && sums[1] / counts[1] - sums[0] / counts[0] >= least_contrast)
    return;
  refuse({file, 0, 0}, fmt::format("nothing stands out on the {}", what),
         "lay the pattern on a ground of another colour, or fill it in with a marker");
}

class ScanReader {
 public:
  /// `what` is what the picture shows, for messages: a scan or a sheet.
  ScanReader(const GreyImage& image, double pixel_mm, const std::string& file, std::string_view what)
      : pixel_mm_(pixel_mm), file_(file), what_(what) {
    const GreyImage clean = without_specks(image);
    const double level = parting_level(clean);
    check_contrast(clean, level, file, what);
    const double ground = ground_level(clean);
    std::vector<Ring> lines = level_lines(clean, level, ground);
    for (Ring& line : lines) {
      for (Point& p : line) p = {p.x_mm * pixel_mm_, p.y_mm * pixel_mm_};
      if (std::abs(signed_area_mm2(line)) > largest_speck_mm2) lines_.push_back(std::move(line));
    }
    size_ = {static_cast<double>(image.width) * pixel_mm_, static_cast<double>(image.height) * pixel_mm_};
  }

  std::vector<PlacedRing> read(double tolerance_mm) {
    std::stable_sort(lines_.begin(), lines_.end(), [](const Ring& a, const Ring& b) {
      return std::abs(signed_area_mm2(a)) > std::abs(signed_area_mm2(b));
    });
    if (lines_.empty())
      refuse({file_, 0, 0}, fmt::format("there is no pattern on the {}", what_),
             "lay it on a ground of another colour");
    check_inside(lines_.front());
    drop_specks_outside();
    use_middle_of_line();
    // Thinning cuts every round corner on its inside; half of the tolerance keeps a small pattern's area to
    // 0.3 %.
    constexpr double thinning = 0.5;
    std::vector<PlacedRing> rings;
    for (const Ring& line : lines_)
      rings.push_back({simplified(line, thinning * tolerance_mm),
                       {file_, 0, 0},
                       fmt::format("piece {}", rings.size() + 1)});
    return rings;
  }

 private:
  void check_inside(const Ring& outer) const {
    const Box box = box_of(outer);
    const double edge = 2.0 * pixel_mm_;
    if (box.low.x_mm > edge && box.low.y_mm > edge && box.high.x_mm < size_.x_mm - edge &&
        box.high.y_mm < size_.y_mm - edge)
      return;
    refuse({file_, 0, 0}, fmt::format("the pattern runs off the {}", what_),
           "take it whole, with a border of ground on every side");
  }

  void drop_specks_outside() {
    const double area = std::abs(signed_area_mm2(lines_.front()));
    const Ring outer = lines_.front();
    std::erase_if(lines_, [&](const Ring& line) {
      return std::abs(signed_area_mm2(line)) < speck_share * area && !ring_holds(outer, line.front());
    });
  }

  /// A pattern drawn as a closed line has an outer and an inner edge; the pattern's own edge lies between
  /// them.
  void use_middle_of_line() {
    if (lines_.size() < 2 || !ring_holds(lines_[0], lines_[1].front())) return;
    const double outer = std::abs(signed_area_mm2(lines_[0]));
    const double inner = std::abs(signed_area_mm2(lines_[1]));
    const double width = 2.0 * (outer - inner) / (ring_length_mm(lines_[0]) + ring_length_mm(lines_[1]));
    if (width > widest_line_mm) return;
    if (lines_.size() > 2)
      refuse({file_, 0, 0}, "the pattern is drawn as a line and has more lines inside",
             "fill it in, and leave the openings white");
    const auto middle = geos::offset(Polygon::make(lines_[0], {}, {file_, 0, 0}), -0.5 * width);
    if (middle.size() != 1)
      refuse({file_, 0, 0}, "the pattern's line runs together", "draw it with a finer pen, or fill it in");
    lines_ = {middle.front().outer};
  }

  double pixel_mm_;
  std::string file_;
  std::string_view what_;
  std::vector<Ring> lines_;
  Point size_;
};

Polygon scanned_shape(const GreyImage& image, Length pixel, const std::string& file,
                      const ReadOptions& options, std::string_view what) {
  check_options(options);
  constexpr std::size_t fewest = 16;
  if (image.width < fewest || image.height < fewest)
    refuse({file, 0, 0}, "the scan is too small", "scan at 150 dots per inch");
  const auto rings = ScanReader(image, pixel.si * mm_per_m, file, what).read(options.tolerance.si * mm_per_m);
  return nest_rings(rings, {file, 0, 0});
}

Outline read_picture(const Picture& picture, const std::string& file, const ReadOptions& options) {
  if (options.paper) return read_photo(picture.image, *options.paper, file, options);
  return read_scan(picture.image, pixel_of(picture.stated, file, options), file, options);
}

}  // namespace

GreyImage parse_pgm(std::string_view bytes, const std::string& file) {
  return PgmReader(bytes, file).read();
}

Outline read_scan(const GreyImage& image, Length pixel, const std::string& file, const ReadOptions& options) {
  // An edge is found to about half a pixel at worst, besides the tolerance of its corners.
  return traced(scanned_shape(image, pixel, file, options, "scan"), file,
                Length{options.tolerance.si + 0.5 * pixel.si});
}

Outline read_photo(const GreyImage& photo, const PaperSize& paper, const std::string& file,
                   const ReadOptions& options) {
  constexpr double area_error = 0.02;
  const FlatPhoto flat = flattened(photo, paper, file);
  Polygon shape = scanned_shape(flat.image, flat.pixel, file, options, "sheet");
  const double edge_m = area_error * shape.area_mm2() / shape.perimeter_mm() / mm_per_m;
  return traced(std::move(shape), file, Length{std::max(edge_m, options.tolerance.si + 0.5 * flat.pixel.si)});
}

Outline read_pgm(std::string_view bytes, const std::string& file, const ReadOptions& options) {
  return read_picture({parse_pgm(bytes, file), {}}, file, options);
}

Outline read_png(std::string_view bytes, const std::string& file, const ReadOptions& options) {
  return read_picture(parse_png(bytes, file), file, options);
}

Outline read_jpeg(std::string_view bytes, const std::string& file, const ReadOptions& options) {
  return read_picture(parse_jpeg(bytes, file), file, options);
}

}  // namespace warmsheet::outline
