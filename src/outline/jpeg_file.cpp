// SPDX-License-Identifier: MIT
#include "outline/jpeg_file.h"

#include <fmt/format.h>
#include <turbojpeg.h>

#include <memory>
#include <type_traits>
#include <utility>

#include "base/problem.h"
#include "outline/jfif.h"
#include "outline/refuse.h"

namespace warmsheet::outline {
namespace {

struct Destroy {
  void operator()(tjhandle handle) const { tjDestroy(handle); }
};
using Decoder = std::unique_ptr<std::remove_pointer_t<tjhandle>, Destroy>;

[[noreturn]] void refuse_damaged(const std::string& file, const Decoder& decoder) {
  refuse({file, 0, 0}, fmt::format("the JPEG file cannot be read: {}", tjGetErrorStr2(decoder.get())),
         "the file is cut short or damaged; copy it again, or save it anew from a picture viewer");
}

struct Head {
  int width = 0;
  int height = 0;
  int colours = 0;
};

Head head_of(const Decoder& decoder, const unsigned char* bytes, unsigned long count,
             const std::string& file) {
  Head head;
  int chroma = 0;
  if (tjDecompressHeader3(decoder.get(), bytes, count, &head.width, &head.height, &chroma, &head.colours) !=
      0)
    refuse_damaged(file, decoder);
  const auto pixels = static_cast<std::size_t>(head.width) * static_cast<std::size_t>(head.height);
  if (pixels > largest_pixel_count)
    refuse({file, 0, 0},
           fmt::format("the picture has {} x {} pixels; at most {} are read", head.width, head.height,
                       largest_pixel_count),
           "save it at half its width and height");
  if (head.colours == TJCS_CMYK || head.colours == TJCS_YCCK)
    refuse({file, 0, 0}, "the picture is made of printing inks (CMYK)", "save it in grey or in RGB colours");
  return head;
}

}  // namespace

Picture parse_jpeg(std::string_view bytes, const std::string& file) {
  const Decoder decoder(tjInitDecompress());
  if (!decoder) refuse_damaged(file, decoder);
  // The library's bytes are unsigned.
  const auto* data = reinterpret_cast<const unsigned char*>(bytes.data());
  const Head head = head_of(decoder, data, bytes.size(), file);
  GreyImage image{static_cast<std::size_t>(head.width), static_cast<std::size_t>(head.height), {}};
  image.grey.resize(image.width * image.height);
  // A small file may claim thousands of scans over the whole picture; no camera writes so many.
  constexpr int flags = TJFLAG_ACCURATEDCT | TJFLAG_LIMITSCANS | TJFLAG_STOPONWARNING;
  if (tjDecompress2(decoder.get(), data, bytes.size(), image.grey.data(), head.width, 0, head.height,
                    TJPF_GRAY, flags) != 0)
    refuse_damaged(file, decoder);
  const Orientation orientation = stated_orientation(bytes);
  Resolution stated = stated_by_jfif(bytes);
  if (lies(orientation)) std::swap(stated.x_per_m, stated.y_per_m);
  return {shown(std::move(image), orientation), stated};
}

}  // namespace warmsheet::outline
