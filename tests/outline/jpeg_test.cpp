// SPDX-License-Identifier: MIT
// JPEG pictures written by the library's own encoder (libjpeg-turbo); areas and sizes against plane geometry.
#include <doctest/doctest.h>
#include <turbojpeg.h>

#include <array>
#include <memory>
#include <numbers>

#include "outline/corners.h"
#include "outline/jpeg_file.h"
#include "outline/scanned.h"
#include "support/near.h"
#include "support/scratch.h"

using namespace warmsheet;
using namespace warmsheet::outline;
using namespace warmsheet::testing;

namespace {

constexpr int usual_quality = 85;

/// `samples`: a pixel's bytes as `format` has them, row by row.
std::string jpeg_of(const std::vector<std::uint8_t>& samples, std::size_t width, std::size_t height,
                    int format, int chroma, int flags = 0) {
  const std::unique_ptr<void, int (*)(tjhandle)> encoder(tjInitCompress(), tjDestroy);
  unsigned char* bytes = nullptr;
  unsigned long size = 0;
  REQUIRE(tjCompress2(encoder.get(), samples.data(), static_cast<int>(width), 0, static_cast<int>(height),
                      format, &bytes, &size, chroma, usual_quality, flags) == 0);
  const std::unique_ptr<unsigned char, void (*)(unsigned char*)> owned(bytes, tjFree);
  return {reinterpret_cast<const char*>(bytes), size};
}

std::string jpeg_of(const GreyImage& image) {
  return jpeg_of(image.grey, image.width, image.height, TJPF_GRAY, TJSAMP_GRAY);
}

/// An A4 sheet with the pattern in its middle on a dark table, seen from straight above.
GreyImage photographed(const Polygon& pattern) {
  const double x_mm = 0.5 * (a4_paper.long_mm - pattern.box().width_mm());
  const double y_mm = 0.5 * (a4_paper.short_mm - pattern.box().height_mm());
  const GreyImage print = rasterised(pattern, 60.0, 230.0, 0.0);
  const Polygon sheet = Polygon::make(
      {{0, 0}, {a4_paper.long_mm, 0}, {a4_paper.long_mm, a4_paper.short_mm}, {0, a4_paper.short_mm}}, {}, {});
  constexpr double table_mm = 40.0;
  GreyImage photo = rasterised(sheet, 230.0, 55.0, table_mm);
  const auto left = static_cast<std::size_t>((table_mm + x_mm) / pixel_mm);
  const auto top = static_cast<std::size_t>((table_mm + y_mm) / pixel_mm);
  for (std::size_t row = 0; row < print.height; ++row)
    for (std::size_t column = 0; column < print.width; ++column)
      photo.grey[(top + row) * photo.width + left + column] = print.grey[row * print.width + column];
  return photo;
}

std::string refusal(std::string_view bytes) {
  try {
    (void)parse_jpeg(bytes, "photo.jpg");
  } catch (const Failure& failure) {
    CHECK(failure.problems().front().place.file == "photo.jpg");
    CHECK_FALSE(failure.problems().front().hint.empty());
    return failure.what();
  }
  return "accepted";
}

}  // namespace

TEST_CASE("a photo of a sheet saved by a phone gives the area to 2 %, whatever the case of its ending") {
  const Polygon ellipse = Polygon::make(ellipse_ring({0, 0}, 75, 40, 1e-3), {}, {});
  GreyImage photo = photographed(ellipse);
  spoil(photo);
  const Scratch scratch;
  ReadOptions options;
  options.paper = a4_paper;
  for (const char* name : {"photo.jpg", "IMG_0001.JPG", "photo.jpeg"}) {
    const Outline seen = read(scratch.file(name, jpeg_of(photo)), options);
    CHECK(near_rel(seen.shape.area_mm2(), std::numbers::pi * 75.0 * 40.0, 0.02));
    CHECK(near_rel(seen.shape.box().width_mm(), 150.0, 0.01));
  }
}

TEST_CASE(
    "a scan saved as JPEG is read once the size of its pixels is stated, and never by what the file says") {
  const Polygon plate = Polygon::make({{0, 0}, {60, 0}, {60, 40}, {0, 40}}, {}, {});
  const Scratch scratch;
  const std::string path = scratch.file("scan.jpg", jpeg_of(rasterised(plate, 40.0, 240.0)));
  CHECK_THROWS_WITH_AS((void)read(path, {}), doctest::Contains("1/150 in"), Failure);
  ReadOptions stated;
  stated.user_unit = Length{0.0254 / 150.0};
  CHECK(near_rel(read(path, stated).shape.area_mm2(), 2400.0, 5e-3));
}

TEST_CASE("colours become grey, baseline or progressive") {
  // ITU-R BT.601, 2.5.1: luma is 0.299 R + 0.587 G + 0.114 B, which JFIF 1.02 takes over.
  constexpr std::size_t side = 16;
  const std::vector<std::array<std::uint8_t, 3>> colours{{255, 0, 0}, {0, 255, 0}, {30, 60, 200}};
  for (const auto& c : colours) {
    std::vector<std::uint8_t> samples;
    for (std::size_t i = 0; i < side * side; ++i) samples.insert(samples.end(), c.begin(), c.end());
    for (const int flags : {0, TJFLAG_PROGRESSIVE}) {
      const GreyImage image = parse_jpeg(jpeg_of(samples, side, side, TJPF_RGB, TJSAMP_420, flags), "a.jpg");
      REQUIRE(image.grey.size() == side * side);
      CHECK(near_abs(image.grey[100], 0.299 * c[0] + 0.587 * c[1] + 0.114 * c[2], 2.0));
    }
  }
}

TEST_CASE("what is no whole JPEG is refused with what to do") {
  const std::string whole =
      jpeg_of(rasterised(Polygon::make({{0, 0}, {30, 0}, {0, 20}}, {}, {}), 40.0, 240.0));
  CHECK(refusal(whole) == "accepted");
  CHECK(refusal("") != "accepted");
  CHECK(refusal("not a picture") != "accepted");
  CHECK(refusal(whole.substr(0, whole.size() / 2)).find("cannot be read") != std::string::npos);
  const std::vector<std::uint8_t> inks(4 * 64, 10);
  CHECK(refusal(jpeg_of(inks, 8, 8, TJPF_CMYK, TJSAMP_444)).find("printing inks") != std::string::npos);
  // The head says 65 000 x 65 000: start of frame, ITU-T T.81, B.2.2.
  std::string huge = whole;
  const std::size_t frame = huge.find("\xff\xc0");
  REQUIRE(frame != std::string::npos);
  for (const std::size_t at : {frame + 5, frame + 7}) huge.replace(at, 2, "\xfd\xe8");
  CHECK(refusal(huge).find("65000 x 65000") != std::string::npos);
}
