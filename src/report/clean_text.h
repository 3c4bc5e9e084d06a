// SPDX-License-Identifier: MIT
// Text from outside (labels, file names, titles) made fit for a page, a drawing or a terminal.
#pragma once

#include <string>
#include <string_view>

namespace warmsheet::report {

/// Valid UTF-8 on one line: bytes that are none become U+FFFD, control characters (escape sequences of a
/// terminal among them) become '?', line ends and tabs become a space, and marks that turn the reading
/// direction are dropped.
std::string clean(std::string_view text);

/// `clean`, with the five characters that mean something in HTML, SVG and their attributes escaped.
std::string escaped(std::string_view text);

/// `clean`, spelt in printable ASCII: "70 °C" becomes "70 degC", other characters '?'.
std::string ascii(std::string_view text);

/// `clean`, in the single-byte Latin encoding of PDF's standard fonts; other characters '?'.
std::string latin(std::string_view text);

/// False if `latin` has to put a "?" for something.
bool can_be_spelt(std::string_view text);

/// A word that may serve as an XML id or an id's part: letters, digits and '-', never empty.
std::string id_word(std::string_view text);

}  // namespace warmsheet::report
