// SPDX-License-Identifier: MIT
// The colours of pages and drawings. Every pair that meets is listed, and a test holds each pair against the
// contrast that WCAG 2.1 asks for (1.4.3 text 4.5:1, 1.4.11 graphics 3:1). None of them says anything alone.
#pragma once

#include <array>
#include <cstdint>
#include <string>

namespace warmsheet::report {

struct Colour {
  std::uint8_t red;
  std::uint8_t green;
  std::uint8_t blue;
};

/// "#1c2326"
std::string hex(Colour colour);

namespace palette {
inline constexpr Colour paper{255, 255, 255};
inline constexpr Colour ink{28, 35, 38};
inline constexpr Colour quiet_ink{78, 88, 92};
inline constexpr Colour heading{22, 74, 84};
inline constexpr Colour panel{242, 245, 244};
inline constexpr Colour rule{134, 144, 147};
/// Between rows that stand apart without it; it says nothing, so no contrast is asked of it.
inline constexpr Colour hairline{196, 204, 206};
inline constexpr Colour caution_panel{255, 246, 226};
inline constexpr Colour caution_edge{150, 78, 0};
inline constexpr Colour blue{29, 82, 156};
inline constexpr Colour green{16, 104, 66};
inline constexpr Colour plum{134, 40, 104};
inline constexpr Colour rust{156, 62, 18};
inline constexpr Colour grey{104, 110, 112};
}  // namespace palette

struct ColourPair {
  Colour front;
  Colour back;
  bool text;  ///< else a line or a mark
};

/// All that is written or drawn on all it is written or drawn on.
inline constexpr std::array colour_pairs{
    ColourPair{palette::ink, palette::paper, true},
    ColourPair{palette::quiet_ink, palette::paper, true},
    ColourPair{palette::heading, palette::paper, true},
    ColourPair{palette::ink, palette::panel, true},
    ColourPair{palette::quiet_ink, palette::panel, true},
    ColourPair{palette::heading, palette::panel, true},
    ColourPair{palette::ink, palette::caution_panel, true},
    ColourPair{palette::quiet_ink, palette::caution_panel, true},
    ColourPair{palette::caution_edge, palette::caution_panel, true},
    ColourPair{palette::caution_edge, palette::paper, false},
    ColourPair{palette::rule, palette::paper, false},
    ColourPair{palette::blue, palette::paper, false},
    ColourPair{palette::green, palette::paper, false},
    ColourPair{palette::plum, palette::paper, false},
    ColourPair{palette::rust, palette::paper, false},
    ColourPair{palette::grey, palette::paper, false},
};

}  // namespace warmsheet::report
