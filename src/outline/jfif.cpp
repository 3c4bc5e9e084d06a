// SPDX-License-Identifier: MIT
#include "outline/jfif.h"

#include "base/dimension.h"

namespace warmsheet::outline {
namespace {

std::size_t byte(std::string_view bytes, std::size_t at) {
  return static_cast<unsigned char>(bytes[at]);
}

std::size_t word(std::string_view bytes, std::size_t at) {
  return byte(bytes, at) << 8U | byte(bytes, at + 1);
}

/// Identifier (5 bytes), version (2), units (1), densities across and down (2 each): JFIF 1.02, page 5.
void read_density(std::string_view segment, Resolution& stated) {
  constexpr std::size_t least = 12;
  constexpr double inches_per_m = 1.0 / inch_m;
  constexpr double cm_per_m = 100.0;
  if (segment.size() < least || !segment.starts_with(std::string_view("JFIF\0", 5))) return;
  const std::size_t units = byte(segment, 7);
  if (units != 1 && units != 2) return;  // 0: only their ratio
  const double per_m = units == 1 ? inches_per_m : cm_per_m;
  stated.x_per_m = static_cast<double>(word(segment, 8)) * per_m;
  stated.y_per_m = static_cast<double>(word(segment, 10)) * per_m;
}

constexpr std::size_t application_0 = 0xe0;
constexpr std::size_t application_1 = 0xe1;
constexpr std::string_view exif_mark("Exif\0\0", 6);

/// Calls `see(marker, segment)` for each segment before the pixels, as long as their lengths fit.
template <class See>
void for_each_segment(std::string_view bytes, See see) {
  constexpr std::size_t fill = 0xff;
  constexpr std::size_t scan = 0xda;
  std::size_t at = 2;  // after the mark of its start
  while (at + 4 <= bytes.size() && byte(bytes, at) == fill) {
    const std::size_t marker = byte(bytes, at + 1);
    if (marker == fill) {  // any number of these may stand before a marker (ITU-T T.81, B.1.1.2)
      ++at;
      continue;
    }
    const std::size_t length = word(bytes, at + 2);
    if (marker == scan || length < 2 || length > bytes.size() - at - 2) return;
    see(marker, bytes.substr(at + 4, length - 2));
    at += 2 + length;
  }
}

/// A TIFF file within the segment: byte order, 42, then where its first directory lies (TIFF 6.0, section 2).
class Tiff {
 public:
  explicit Tiff(std::string_view bytes) : bytes_(bytes), little_(bytes.starts_with("II")) {}

  /// Of a tag of the first directory that holds one short number; 0 if there is none.
  [[nodiscard]] std::size_t short_of(std::size_t tag) const {
    constexpr std::size_t entry_bytes = 12;
    constexpr std::size_t short_type = 3;
    const std::size_t directory = number(4, 4);
    const std::size_t entries = number(directory, 2);
    for (std::size_t i = 0; i < entries; ++i) {
      const std::size_t entry = directory + 2 + i * entry_bytes;
      if (entry + entry_bytes > bytes_.size()) return 0;
      if (number(entry, 2) == tag && number(entry + 2, 2) == short_type) return number(entry + 8, 2);
    }
    return 0;
  }

 private:
  /// 0 beyond the end.
  [[nodiscard]] std::size_t number(std::size_t at, std::size_t count) const {
    if (at > bytes_.size() || count > bytes_.size() - at) return 0;
    std::size_t value = 0;
    for (std::size_t i = 0; i < count; ++i)
      value = value << 8U | byte(bytes_, at + (little_ ? count - 1 - i : i));
    return value;
  }

  std::string_view bytes_;
  bool little_;
};

}  // namespace

Resolution stated_by_jfif(std::string_view bytes) {
  Resolution stated;
  for_each_segment(bytes, [&](std::size_t marker, std::string_view segment) {
    if (marker == application_0 && stated.x_per_m == 0.0) read_density(segment, stated);
    if (marker == application_1 && segment.starts_with(exif_mark.substr(0, 5))) stated.camera = true;
  });
  return stated;
}

Orientation stated_orientation(std::string_view bytes) {
  constexpr std::size_t tag = 0x0112;
  std::size_t found = 0;
  for_each_segment(bytes, [&](std::size_t marker, std::string_view segment) {
    if (marker == application_1 && found == 0 && segment.starts_with(exif_mark))
      found = Tiff(segment.substr(exif_mark.size())).short_of(tag);
  });
  const bool known = found >= 1 && found <= static_cast<std::size_t>(Orientation::lying_right);
  return known ? static_cast<Orientation>(found) : Orientation::upright;
}

GreyImage shown(GreyImage image, Orientation orientation) {
  if (orientation == Orientation::upright) return image;
  const bool lying = lies(orientation);
  const bool from_right = orientation == Orientation::mirrored || orientation == Orientation::upside_down ||
                          orientation == Orientation::lying_mirrored_right ||
                          orientation == Orientation::lying_right;
  const bool from_below =
      orientation == Orientation::upside_down || orientation == Orientation::upside_down_mirrored ||
      orientation == Orientation::lying_left || orientation == Orientation::lying_mirrored_right;
  GreyImage made{lying ? image.height : image.width, lying ? image.width : image.height, {}};
  made.grey.reserve(image.grey.size());
  for (std::size_t row = 0; row < made.height; ++row)
    for (std::size_t column = 0; column < made.width; ++column) {
      const std::size_t across = lying ? row : column;
      const std::size_t down = lying ? column : row;
      const std::size_t x = from_right ? image.width - 1 - across : across;
      const std::size_t y = from_below ? image.height - 1 - down : down;
      made.grey.push_back(image.grey[y * image.width + x]);
    }
  return made;
}

}  // namespace warmsheet::outline
