// SPDX-License-Identifier: MIT
#include "report/clean_text.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <utility>

namespace warmsheet::report {
namespace {

constexpr char32_t replacement = 0xFFFD;

struct Decoded {
  char32_t character;
  std::size_t length;
};

bool continues(char byte) {
  return (static_cast<unsigned char>(byte) & 0xC0U) == 0x80U;
}

/// Lead bytes by RFC 3629, section 3; `least` refuses overlong forms.
struct Lead {
  unsigned char mask;
  unsigned char bits;
  std::size_t length;
  char32_t least;
};
constexpr std::array leads{Lead{0x80, 0x00, 1, 0}, Lead{0xE0, 0xC0, 2, 0x80}, Lead{0xF0, 0xE0, 3, 0x800},
                           Lead{0xF8, 0xF0, 4, 0x10000}};

bool is_character(char32_t code) {
  const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
  return !surrogate && code <= 0x10FFFF;
}

Decoded decode(std::string_view text) {
  const auto first = static_cast<unsigned char>(text.front());
  for (const Lead& lead : leads) {
    if ((first & lead.mask) != lead.bits) continue;
    char32_t code = first & static_cast<unsigned char>(~lead.mask);
    for (std::size_t i = 1; i < lead.length; ++i) {
      if (i >= text.size() || !continues(text[i])) return {replacement, 1};
      code = (code << 6U) | (static_cast<unsigned char>(text[i]) & 0x3FU);
    }
    if (code < lead.least || !is_character(code)) return {replacement, 1};
    return {code, lead.length};
  }
  return {replacement, 1};
}

bool is_control(char32_t code) {
  return code < 0x20 || (code >= 0x7F && code < 0xA0);
}

/// U+202A..202E and U+2066..2069: with them a label could make "5 min" read as "nim 5".
bool turns_direction(char32_t code) {
  return (code >= 0x202A && code <= 0x202E) || (code >= 0x2066 && code <= 0x2069) || code == 0x200E ||
         code == 0x200F;
}

/// Not allowed in XML 1.0 (section 2.2), or no character at all.
bool is_noncharacter(char32_t code) {
  return code == 0xFFFE || code == 0xFFFF;
}

/// Calls `take(character, bytes)` for each character that may stand on a page.
template <class Take>
void for_each_character(std::string_view text, Take take) {
  while (!text.empty()) {
    const auto [code, length] = decode(text);
    const std::string_view bytes = text.substr(0, length);
    text.remove_prefix(length);
    if (turns_direction(code)) continue;
    if (code == '\n' || code == '\r' || code == '\t')
      take(U' ', std::string_view(" "));
    else if (is_control(code))
      take(U'?', std::string_view("?"));
    else if (code == replacement || is_noncharacter(code))
      take(replacement, std::string_view("\xEF\xBF\xBD"));
    else
      take(code, bytes);
  }
}

struct Spelling {
  char32_t character;
  std::string_view ascii;
};
constexpr std::array spellings{Spelling{U'°', "deg"}, Spelling{U'²', "2"},   Spelling{U'³', "3"},
                               Spelling{U'×', "x"},   Spelling{U'–', "-"},   Spelling{U'—', "-"},
                               Spelling{U'·', "."},   Spelling{U'µ', "u"},   Spelling{U'’', "'"},
                               Spelling{U'‘', "'"},   Spelling{U'“', "\""},  Spelling{U'”', "\""},
                               Spelling{U'½', "1/2"}, Spelling{U'¼', "1/4"}, Spelling{U' ', " "}};

std::string_view ascii_spelling(char32_t character) {
  for (const Spelling& spelling : spellings)
    if (spelling.character == character) return spelling.ascii;
  return "?";
}

std::string_view entity(char32_t character) {
  switch (character) {
    case U'&':
      return "&amp;";
    case U'<':
      return "&lt;";
    case U'>':
      return "&gt;";
    case U'"':
      return "&quot;";
    case U'\'':
      return "&#39;";
    default:
      return {};
  }
}

bool is_letter_or_digit(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
}

}  // namespace

std::string clean(std::string_view text) {
  std::string shown;
  for_each_character(text, [&](char32_t, std::string_view bytes) { shown += bytes; });
  return shown;
}

std::string escaped(std::string_view text) {
  std::string shown;
  for_each_character(text, [&](char32_t character, std::string_view bytes) {
    const std::string_view name = entity(character);
    shown += name.empty() ? bytes : name;
  });
  return shown;
}

std::string ascii(std::string_view text) {
  std::string shown;
  for_each_character(text, [&](char32_t character, std::string_view bytes) {
    shown += character < 0x80 ? bytes : ascii_spelling(character);
  });
  return shown;
}

std::string latin(std::string_view text) {
  // U+00A0..00FF are the same in WinAnsiEncoding (ISO 32000-1, annex D.2).
  std::string shown;
  for_each_character(text, [&](char32_t character, std::string_view bytes) {
    if (character < 0x80)
      shown += bytes;
    else if (character >= 0xA0 && character <= 0xFF)
      shown += static_cast<char>(static_cast<std::uint8_t>(character));
    else
      shown += ascii_spelling(character);
  });
  return shown;
}

bool can_be_spelt(std::string_view text) {
  const auto marks = [](std::string_view in) { return std::count(in.begin(), in.end(), '?'); };
  return marks(latin(text)) == marks(text);
}

std::string id_word(std::string_view text) {
  std::string word;
  for (const char c : text) {
    if (is_letter_or_digit(c))
      word += c;
    else if (!word.empty() && word.back() != '-')
      word += '-';
  }
  const bool starts_well = !word.empty() && !(word.front() >= '0' && word.front() <= '9');
  return starts_well ? word : "x" + word;
}

}  // namespace warmsheet::report
