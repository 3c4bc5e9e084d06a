// SPDX-License-Identifier: MIT
#include "outline/jfif.h"

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
  constexpr double inches_per_m = 1.0 / 0.0254;
  constexpr double cm_per_m = 100.0;
  if (segment.size() < least || !segment.starts_with(std::string_view("JFIF\0", 5))) return;
  const std::size_t units = byte(segment, 7);
  if (units != 1 && units != 2) return;  // 0: only their ratio
  const double per_m = units == 1 ? inches_per_m : cm_per_m;
  stated.x_per_m = static_cast<double>(word(segment, 8)) * per_m;
  stated.y_per_m = static_cast<double>(word(segment, 10)) * per_m;
}

}  // namespace

Resolution stated_by_jfif(std::string_view bytes) {
  constexpr std::size_t fill = 0xff;
  constexpr std::size_t application_0 = 0xe0;
  constexpr std::size_t application_1 = 0xe1;
  constexpr std::size_t scan = 0xda;
  Resolution stated;
  std::size_t at = 2;  // after the mark of its start
  while (at + 4 <= bytes.size() && byte(bytes, at) == fill) {
    const std::size_t marker = byte(bytes, at + 1);
    if (marker == fill) {  // any number of these may stand before a marker (ITU-T T.81, B.1.1.2)
      ++at;
      continue;
    }
    const std::size_t length = word(bytes, at + 2);
    if (marker == scan || length < 2 || length > bytes.size() - at - 2) return stated;
    const std::string_view segment = bytes.substr(at + 4, length - 2);
    if (marker == application_0 && stated.x_per_m == 0.0) read_density(segment, stated);
    if (marker == application_1 && segment.starts_with(std::string_view("Exif\0", 5))) stated.camera = true;
    at += 2 + length;
  }
  return stated;
}

}  // namespace warmsheet::outline
