// SPDX-License-Identifier: MIT
// PNG scans: written here by the library's own writer, with a resolution chunk put in by hand as the PNG
// specification (W3C, 11.3.5.3) lays it out.
#include <doctest/doctest.h>
#include <png.h>

#include <string>

#include "outline/design_fixture.h"
#include "outline/png_file.h"
#include "outline/scanned.h"
#include "support/near.h"
#include "support/scratch.h"

using namespace warmsheet;
using namespace warmsheet::outline;
using namespace warmsheet::testing;

namespace {

std::string big_endian(std::uint32_t value) {
  std::string bytes;
  for (const unsigned shift : {24U, 16U, 8U, 0U}) bytes += static_cast<char>(value >> shift & 255U);
  return bytes;
}

/// Check sum of a chunk (PNG specification, annex D).
std::uint32_t crc(const std::string& bytes) {
  std::uint32_t sum = ~0U;
  for (const char byte : bytes) {
    sum ^= static_cast<unsigned char>(byte);
    for (int bit = 0; bit < 8; ++bit) sum = (sum & 1U) != 0 ? 0xEDB88320U ^ sum >> 1U : sum >> 1U;
  }
  return ~sum;
}

std::string chunk(const std::string& name, const std::string& data) {
  return big_endian(static_cast<std::uint32_t>(data.size())) + name + data + big_endian(crc(name + data));
}

std::string png_of(const std::vector<std::uint8_t>& samples, std::size_t width, std::size_t height,
                   std::uint32_t format) {
  png_image picture{};
  picture.version = PNG_IMAGE_VERSION;
  picture.width = static_cast<std::uint32_t>(width);
  picture.height = static_cast<std::uint32_t>(height);
  picture.format = format;
  png_alloc_size_t size = 0;
  REQUIRE(png_image_write_to_memory(&picture, nullptr, &size, 0, samples.data(), 0, nullptr) != 0);
  std::string bytes(size, '\0');
  REQUIRE(png_image_write_to_memory(&picture, bytes.data(), &size, 0, samples.data(), 0, nullptr) != 0);
  bytes.resize(size);
  return bytes;
}

/// With a resolution chunk after the head (8 bytes of signature, 25 of IHDR).
std::string with_resolution(std::string png, std::uint32_t x, std::uint32_t y, char unit) {
  constexpr std::size_t after_head = 33;
  return png.insert(after_head, chunk("pHYs", big_endian(x) + big_endian(y) + unit));
}

std::string png_of(const GreyImage& image) {
  return png_of(image.grey, image.width, image.height, PNG_FORMAT_GRAY);
}

std::string refusal(const std::string& bytes) {
  try {
    (void)read_png(bytes, "scan.png", {});
  } catch (const Failure& failure) {
    CHECK(failure.problems().front().place.file == "scan.png");
    CHECK_FALSE(failure.problems().front().hint.empty());
    return failure.what();
  }
  return "accepted";
}

constexpr std::uint32_t dots_a_metre = 5906;  // 150 dots per inch, as scanners round it

Polygon drawn(const std::string& id) {
  const library::Design& design = shipped().design(id);
  return draw(design, shipped(), measures_for(design, usual_adult()), Side::right).shape;
}

}  // namespace

TEST_CASE(
    "a PNG scan with its resolution gives the area to half a percent, noise, shadow and skew included") {
  for (const std::string id : {"volar-wrist", "radial-wrist", "hand-thumb"}) {
    CAPTURE(id);
    const Polygon shape = drawn(id).placed(-5.2, {});
    GreyImage image = rasterised(shape, 45.0, 235.0);
    spoil(image);
    const Scratch scratch;
    const std::string path =
        scratch.file("pattern.png", with_resolution(png_of(image), dots_a_metre, dots_a_metre, 1));
    const Outline seen = read(path, {});
    CHECK(near_rel(seen.shape.area_mm2(), shape.area_mm2(), 5e-3));
    CHECK(seen.shape.holes().size() == shape.holes().size());
    CHECK(seen.name == "pattern");
  }
}

TEST_CASE("the stated size of a pixel is asked for where the file has none, and goes before the file's own") {
  const Polygon disc = Polygon::make({{0, 0}, {60, 0}, {60, 40}, {0, 40}}, {}, {});
  const GreyImage image = rasterised(disc, 40.0, 240.0);
  const Scratch scratch;
  const std::string path = scratch.file("a.png", png_of(image));
  CHECK_THROWS_WITH_AS((void)read(path, {}), doctest::Contains("1/150 in"), Failure);
  ReadOptions stated;
  stated.user_unit = Length{0.0254 / 150.0};
  CHECK(near_rel(read(path, stated).shape.area_mm2(), 2400.0, 5e-3));
  // Many programs write 72 dots per inch whatever the scanner did.
  const std::string wrong = scratch.file("b.png", with_resolution(png_of(image), 2835, 2835, 1));
  CHECK(near_rel(read(wrong, stated).shape.area_mm2(), 2400.0, 5e-3));
  // Unit 0 states a ratio only.
  CHECK_FALSE(parse_png(with_resolution(png_of(image), 1, 1, 0), "c.png").stated.known());
}

TEST_CASE(
    "a resolution that programs make up is not believed, and none counts for a photo or a stated pixel") {
  const Polygon plate = Polygon::make({{0, 0}, {60, 0}, {60, 40}, {0, 40}}, {}, {});
  const std::string plain = png_of(rasterised(plate, 40.0, 240.0));
  for (const std::uint32_t screen : {2835U, 3780U})  // 72 and 96 dots per inch, in dots a metre
    CHECK(refusal(with_resolution(plain, screen, screen, 1)).find("that do not know") != std::string::npos);
  ReadOptions stated;
  stated.user_unit = Length{0.0254 / 150.0};
  // 3 dots per inch and oblong pixels: nothing that is asked when the size of a pixel was typed.
  const Outline typed = read_png(with_resolution(plain, 100, 50, 1), "scan.png", stated);
  CHECK(near_rel(typed.shape.area_mm2(), 2400.0, 5e-3));
}

TEST_CASE("what is asked for is what the reader of the message can write") {
  const std::string plain =
      png_of(rasterised(Polygon::make({{0, 0}, {30, 0}, {0, 20}}, {}, {}), 40.0, 240.0));
  const auto refused = [&](AskFor ask) {
    try {
      (void)read_png(plain, "scan.png", {.ask = ask});
    } catch (const Failure& failure) {
      return failure.problems().front().hint;
    }
    return std::string("accepted");
  };
  CHECK(refused(AskFor::option).find("--unit \"1/150 in\"") != std::string::npos);
  CHECK(refused(AskFor::option).find("--photo a4") != std::string::npos);
  CHECK(refused(AskFor::key).find("unit = \"1/150 in\" }") != std::string::npos);
  CHECK(refused(AskFor::key).find("photo = \"a4\" }") != std::string::npos);
  CHECK(refused(AskFor::key).find("--") == std::string::npos);
}

TEST_CASE("colour, transparency, a palette and 16 bits become grey") {
  const std::vector<std::uint8_t> colours{255, 255, 255, 255, 0, 0, 0, 255, 90, 90, 90, 255, 0, 0, 0, 0};
  const GreyImage grey = parse_png(png_of(colours, 4, 1, PNG_FORMAT_RGBA), "a.png").image;
  CHECK(grey.grey == std::vector<std::uint8_t>{255, 0, 90, 255});  // nothing shows white
  const std::vector<std::uint8_t> red{255, 0, 0, 0, 255, 0};
  const GreyImage weighed = parse_png(png_of(red, 2, 1, PNG_FORMAT_RGB), "a.png").image;
  CHECK(weighed.grey[0] < weighed.grey[1]);  // green is the brighter of the two
  // A grey ramp of two bits a pixel, 4 x 1, as the specification packs it: 0, 1, 2, 3 -> 0, 85, 170, 255.
  const std::string packed =
      std::string("\x89PNG\r\n\x1a\n", 8) +
      chunk("IHDR", big_endian(4) + big_endian(1) + std::string("\x02\0\0\0\0", 5)) +
      // stored deflate block of one filter byte and 0b00011011, with its Adler-32
      chunk("IDAT", std::string("\x78\x01\x01\x02\x00\xfd\xff\x00\x1b\x00\x1d\x00\x1c", 13)) +
      chunk("IEND", "");
  CHECK(parse_png(packed, "b.png").image.grey == std::vector<std::uint8_t>{0, 85, 170, 255});
}

TEST_CASE("bad PNG files are refused with their name, in bounded time and memory") {
  const std::string good = with_resolution(
      png_of(rasterised(Polygon::make({{0, 0}, {30, 0}, {0, 20}}, {}, {}), 40.0, 240.0)), 5906, 5906, 1);
  CHECK(refusal(good) == "accepted");
  CHECK(refusal("") != "accepted");
  CHECK(refusal("P5 3 3 255 .........").find("cannot be read") != std::string::npos);
  // Only the end mark may be missing.
  for (std::size_t kept = 0; kept + 24 < good.size(); kept += 7) {
    CAPTURE(kept);
    CHECK(refusal(good.substr(0, kept)) != "accepted");
  }
  std::string flipped = good;
  flipped[20] = static_cast<char>(flipped[20] ^ 1);  // in the head, against its check sum
  CHECK(refusal(flipped) != "accepted");
  const std::string small = png_of(GreyImage{8, 8, std::vector<std::uint8_t>(64, 9)});
  CHECK(refusal(with_resolution(small, 100, 100, 1)).find("3 dots per inch") != std::string::npos);
  CHECK(refusal(with_resolution(small, 5906, 2953, 1)).find("not square") != std::string::npos);
  // A head that promises 10^10 pixels is refused before anything is unpacked.
  const std::string vast =
      std::string("\x89PNG\r\n\x1a\n", 8) +
      chunk("IHDR", big_endian(100'000) + big_endian(100'000) + std::string("\x08\0\0\0\0", 5)) +
      chunk("IDAT", std::string("\x78\x01\x03\x00\x00\x00\x00\x01", 8)) + chunk("IEND", "");
  CHECK(refusal(vast).find("100000 x 100000 pixels") != std::string::npos);
}
