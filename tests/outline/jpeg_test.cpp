// SPDX-License-Identifier: MIT
// JPEG pictures written by the library's own encoder (libjpeg-turbo); areas and sizes against plane geometry.
#include <doctest/doctest.h>
#include <turbojpeg.h>

#include <algorithm>
#include <array>
#include <cmath>
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

/// The application segment that the encoder writes first, as JFIF 1.02, page 5, lays it out: identifier at
/// byte 6 of the file, units at 13, densities across and down at 14 and 16.
std::string with_density(std::string jpeg, char units, unsigned across, unsigned down) {
  REQUIRE(jpeg.substr(6, 5) == std::string("JFIF\0", 5));
  jpeg[13] = units;
  std::size_t at = 14;
  for (const unsigned density : {across, down}) {
    jpeg[at++] = static_cast<char>(density >> 8U);
    jpeg[at++] = static_cast<char>(density & 255U);
  }
  return jpeg;
}

/// A segment behind the first one (20 bytes with the mark of the start): ITU-T T.81, B.1.1.4.
std::string with_segment(std::string jpeg, char marker, const std::string& data) {
  const std::size_t length = data.size() + 2;
  const std::string head{'\xff', marker, static_cast<char>(length >> 8U), static_cast<char>(length & 255U)};
  return jpeg.insert(20, head + data);
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

/// A camera's segment with the tag Orientation, in either order of bytes (Exif 2.3, 4.5.4 and 4.6.4).
std::string exif_segment(char orientation, bool little) {
  const auto number = [&](std::string big) {
    if (little) std::reverse(big.begin(), big.end());
    return big;
  };
  return std::string("Exif\0\0", 6) + (little ? "II" : "MM") + number({0, 42}) + number({0, 0, 0, 8}) +
         number({0, 2}) +                                                                       // entries
         number({0x01, 0x10}) + number({0, 3}) + number({0, 0, 0, 1}) + std::string(4, '\0') +  // another tag
         number({0x01, 0x12}) + number({0, 3}) + number({0, 0, 0, 1}) + number({0, orientation}) +
         std::string(2, '\0') + std::string(4, '\0');
}

TEST_CASE("a photo is turned as its camera was held, and a broken note of that is none") {
  // Corners darker from the first to the last; where each is to be shown, by Exif's own table: the
  // orientation says at which sides row 0 and column 0 belong (top left, top right, bottom right, bottom
  // left, left top, right top, right bottom, left bottom).
  GreyImage corners{96, 64, std::vector<std::uint8_t>(std::size_t{96} * 64, 0)};
  change(corners, [](std::size_t x, std::size_t y, double) {
    return (y < 32 ? 40.0 : 140.0) + (x < 48 ? 0.0 : 60.0);
  });
  constexpr int a = 40, b = 100, c = 140, d = 200;  // top left, top right, bottom left, bottom right
  const std::vector<std::array<int, 4>> expected{{a, b, c, d}, {b, a, d, c}, {d, c, b, a}, {c, d, a, b},
                                                 {a, c, b, d}, {c, a, d, b}, {d, b, c, a}, {b, d, a, c}};
  for (std::size_t orientation = 1; orientation <= 8; ++orientation)
    for (const bool little : {false, true}) {
      CAPTURE(orientation);
      const std::string jpeg =
          with_segment(jpeg_of(corners), '\xe1', exif_segment(static_cast<char>(orientation), little));
      const GreyImage seen = parse_jpeg(jpeg, "photo.jpg").image;
      CHECK(seen.width == (orientation < 5 ? 96 : 64));
      const auto grey = [&](bool right, bool low) {
        return seen.grey[(low ? seen.height - 8 : 8) * seen.width + (right ? seen.width - 8 : 8)];
      };
      const std::array<int, 4> found{grey(false, false), grey(true, false), grey(false, true),
                                     grey(true, true)};
      for (std::size_t i = 0; i < 4; ++i) CHECK(near_abs(found[i], expected[orientation - 1][i], 6.0));
    }
  const std::string whole = exif_segment(6, true);
  for (std::size_t cut = 0; cut + 6 < whole.size(); ++cut) {
    CAPTURE(cut);
    const std::string jpeg = with_segment(jpeg_of(corners), '\xe1', whole.substr(0, cut));
    CHECK(parse_jpeg(jpeg, "photo.jpg").image.width == 96);
  }
  for (const char nonsense : {'\x00', '\x09', '\x7f'})
    CHECK(parse_jpeg(with_segment(jpeg_of(corners), '\xe1', exif_segment(nonsense, false)), "photo.jpg")
              .image.width == 96);
}

TEST_CASE("a scan saved as JPEG asks for the size of its pixels where the file does not state it") {
  const Polygon plate = Polygon::make({{0, 0}, {60, 0}, {60, 40}, {0, 40}}, {}, {});
  const Scratch scratch;
  const std::string path = scratch.file("scan.jpg", jpeg_of(rasterised(plate, 40.0, 240.0)));
  CHECK_THROWS_WITH_AS((void)read(path, {}), doctest::Contains("1/150 in"), Failure);
  ReadOptions stated;
  stated.user_unit = Length{0.0254 / 150.0};
  CHECK(near_rel(read(path, stated).shape.area_mm2(), 2400.0, 5e-3));
}

TEST_CASE("the density that a scanner states gives the size, in dots per inch and per centimetre") {
  const Polygon plate = Polygon::make({{0, 0}, {60, 0}, {60, 40}, {0, 40}}, {}, {});
  const std::string plain = jpeg_of(rasterised(plate, 40.0, 240.0));
  const Scratch scratch;
  const auto area_mm2 = [&](const std::string& bytes) {
    return read(scratch.file("scan.jpg", bytes), {}).shape.area_mm2();
  };
  CHECK(near_rel(area_mm2(with_density(plain, 1, 150, 150)), 2400.0, 5e-3));
  // 150 dots per inch are 59.06 per centimetre; the format has whole numbers only.
  CHECK(near_rel(area_mm2(with_density(plain, 2, 59, 59)), 2400.0 * std::pow(150.0 / (59 * 2.54), 2), 5e-3));
  // Any number of fill bytes may stand before a marker (ITU-T T.81, B.1.1.2), and other segments before the
  // picture.
  std::string filled = with_segment(with_density(plain, 1, 150, 150), '\xfe', "a remark");
  filled.insert(2, "\xff\xff");
  CHECK(near_rel(area_mm2(filled), 2400.0, 5e-3));
  ReadOptions typed;
  typed.user_unit = Length{0.0254 / 300.0};
  const std::string scan = scratch.file("scan.jpg", with_density(plain, 1, 150, 150));
  CHECK(near_rel(read(scan, typed).shape.area_mm2(), 600.0, 5e-3));
}

TEST_CASE("a density that cannot be the paper's is not believed, and the message says why") {
  const Polygon plate = Polygon::make({{0, 0}, {60, 0}, {60, 40}, {0, 40}}, {}, {});
  const std::string plain = jpeg_of(rasterised(plate, 40.0, 240.0));
  const Scratch scratch;
  const auto said = [&](const std::string& bytes) {
    try {
      (void)read(scratch.file("scan.jpg", bytes), {});
    } catch (const Failure& failure) {
      return std::string(failure.what());
    }
    return std::string("accepted");
  };
  CHECK(said(plain).find("does not say how large a pixel is") != std::string::npos);
  CHECK(said(with_density(plain, 0, 150, 150)).find("does not say") != std::string::npos);  // a ratio only
  CHECK(said(with_density(plain, 3, 150, 150)).find("does not say") != std::string::npos);  // no unit of JFIF
  CHECK(said(with_density(plain, 1, 0, 0)).find("does not say") != std::string::npos);
  CHECK(said(with_density(plain, 1, 72, 72)).find("72 dots per inch, as programs") != std::string::npos);
  CHECK(said(with_density(plain, 1, 7, 7)).find("no scanner") != std::string::npos);
  CHECK(said(with_density(plain, 1, 150, 75)).find("not square") != std::string::npos);
  const std::string camera =
      with_segment(with_density(plain, 1, 300, 300), '\xe1', std::string("Exif\0\0II*\0", 10));
  CHECK(said(camera).find("camera (Exif)") != std::string::npos);
  // A sheet of paper on the photo says the size, whatever the camera wrote.
  ReadOptions photo;
  photo.paper = a4_paper;
  const std::string shot =
      with_density(jpeg_of(photographed(Polygon::make(ellipse_ring({0, 0}, 75, 40, 1e-3), {}, {}))), 1, 7, 3);
  CHECK(near_rel(read(scratch.file("shot.jpg", shot), photo).shape.area_mm2(), std::numbers::pi * 75.0 * 40.0,
                 0.02));
}

TEST_CASE("colours become grey, baseline or progressive") {
  // ITU-R BT.601, 2.5.1: luma is 0.299 R + 0.587 G + 0.114 B, which JFIF 1.02 takes over.
  constexpr std::size_t side = 16;
  const std::vector<std::array<std::uint8_t, 3>> colours{{255, 0, 0}, {0, 255, 0}, {30, 60, 200}};
  for (const auto& c : colours) {
    std::vector<std::uint8_t> samples;
    for (std::size_t i = 0; i < side * side; ++i) samples.insert(samples.end(), c.begin(), c.end());
    for (const int flags : {0, TJFLAG_PROGRESSIVE}) {
      const GreyImage image =
          parse_jpeg(jpeg_of(samples, side, side, TJPF_RGB, TJSAMP_420, flags), "a.jpg").image;
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
