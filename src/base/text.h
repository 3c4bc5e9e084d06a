// SPDX-License-Identifier: MIT
// Small helpers for text: trimming, clipping, wrapping, nearest names.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace warmsheet {

constexpr bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

std::string_view trim(std::string_view text);

/// At most `most` columns, "..." where text was cut. What could steer a terminal or break a document (control
/// characters, bytes that are no UTF-8, signs that turn the writing direction) becomes '?'. For echoing what
/// was seen.
std::string clip(std::string_view text, std::size_t most);

/// The whole text, made harmless in the same way; line breaks stay.
std::string echo(std::string_view text);

/// Columns of UTF-8 text on a terminal (every character of this program's texts is one column wide).
std::size_t columns(std::string_view utf8);

/// Lines of at most `width` columns, broken at spaces; a longer word stands alone on its line.
std::vector<std::string> wrap(std::string_view text, std::size_t width);

/// "a length", "an area".
std::string with_article(std::string_view word);

/// ASCII letters only: for comparing units and keys, not prose.
std::string lower_case(std::string_view text);

/// A name as people read it: "wrist girth" for wrist_girth.
std::string spaced(std::string_view name);

/// Without the mark that some programs write before UTF-8.
std::string_view without_byte_order_mark(std::string_view bytes);

std::string join(const std::vector<std::string>& parts, std::string_view separator);

/// The one of `known` that `word` was probably meant to be: at most two slips, and fewer than half of the
/// letters; else the only one that begins so. Empty if there is none.
std::string nearest(std::string_view word, const std::vector<std::string>& known);

/// For whoever wrote a word that is none of `known`: "did you mean solid?", or else "known: maxi, solid".
std::string meant_or_known(std::string_view word, const std::vector<std::string>& known);
/// The same where the list is worth reading too: "did you mean \"solid\"? known: maxi, micro, mini, solid".
std::string known_hint(std::string_view word, const std::vector<std::string>& known);

}  // namespace warmsheet
