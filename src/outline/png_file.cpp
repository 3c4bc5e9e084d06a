// SPDX-License-Identifier: MIT
#include "outline/png_file.h"

#include <fmt/format.h>
#include <png.h>

#include <cstdint>

#include "base/problem.h"
#include "outline/refuse.h"

namespace warmsheet::outline {
namespace {

/// The library's picture, given back even if reading it is given up.
class OpenPng {
 public:
  OpenPng() { picture_.version = PNG_IMAGE_VERSION; }
  OpenPng(const OpenPng&) = delete;
  OpenPng& operator=(const OpenPng&) = delete;
  ~OpenPng() { png_image_free(&picture_); }
  png_image* get() { return &picture_; }
  png_image* operator->() { return &picture_; }

 private:
  png_image picture_{};
};

[[noreturn]] void refuse_damaged(const std::string& file, const png_image& picture) {
  refuse({file, 0, 0}, fmt::format("the PNG file cannot be read: {}", picture.message),
         "the file is cut short or damaged; copy it or scan it again");
}

std::uint32_t big_endian(std::string_view bytes) {
  std::uint32_t value = 0;
  for (const char byte : bytes.substr(0, 4)) value = value << 8U | static_cast<unsigned char>(byte);
  return value;
}

/// The resolution chunk (PNG specification, 11.3.5.3): pixels a unit along x and y, and the unit, 1 for the
/// metre. Chunks are length, name, data, check sum; only those before the pixels count.
std::string_view resolution_chunk(std::string_view bytes) {
  constexpr std::size_t signature = 8;
  constexpr std::size_t around = 12;  // length, name and check sum
  std::size_t at = signature;
  while (at + around <= bytes.size()) {
    const std::size_t length = big_endian(bytes.substr(at));
    const std::string_view name = bytes.substr(at + 4, 4);
    if (name == "IDAT" || length > bytes.size() - at - around) return {};
    if (name == "pHYs" && length == 9) return bytes.substr(at + 8, length);
    at += length + around;
  }
  return {};
}

Resolution stated_resolution(std::string_view bytes) {
  const std::string_view chunk = resolution_chunk(bytes);
  if (chunk.empty() || chunk[8] != 1) return {};
  return {.x_per_m = static_cast<double>(big_endian(chunk)),
          .y_per_m = static_cast<double>(big_endian(chunk.substr(4)))};
}

}  // namespace

Picture parse_png(std::string_view bytes, const std::string& file) {
  OpenPng picture;
  if (png_image_begin_read_from_memory(picture.get(), bytes.data(), bytes.size()) == 0)
    refuse_damaged(file, *picture.get());
  const std::size_t pixels = std::size_t{picture->width} * picture->height;
  if (pixels > largest_pixel_count)
    refuse({file, 0, 0},
           fmt::format("the picture has {} x {} pixels; at most {} are read", picture->width, picture->height,
                       largest_pixel_count),
           "scan at 150 or 300 dots per inch");
  Picture made;
  made.stated = stated_resolution(bytes);
  made.image = {picture->width, picture->height, std::vector<std::uint8_t>(pixels)};
  picture->format = PNG_FORMAT_GRAY;
  const png_color white{255, 255, 255};
  if (png_image_finish_read(picture.get(), &white, made.image.grey.data(), 0, nullptr) == 0)
    refuse_damaged(file, *picture.get());
  return made;
}

}  // namespace warmsheet::outline
