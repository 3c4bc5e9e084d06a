// SPDX-License-Identifier: MIT
#include "report/clean_text.h"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <pugixml.hpp>
#include <vector>

using namespace warmsheet::report;

TEST_CASE("text from outside cannot steer a terminal or break a page") {
  struct Row {
    std::string given;
    std::string clean;
    std::string escaped;
    std::string ascii;
  };
  // Encodings by RFC 3629; the bad byte sequences are those of its section 10 (overlong, surrogate, beyond
  // the end).
  const std::vector<Row> rows{
      {"plain", "plain", "plain", "plain"},
      {"a & b < c > \"d\" 'e'", "a & b < c > \"d\" 'e'", "a &amp; b &lt; c &gt; &quot;d&quot; &#39;e&#39;",
       "a & b < c > \"d\" 'e'"},
      {"\x1b[31mred", "?[31mred", "?[31mred", "?[31mred"},
      {"two\r\nlines\tand", "two  lines and", "two  lines and", "two  lines and"},
      {"70 °C, 4 cm², 2 × 3", "70 °C, 4 cm², 2 × 3", "70 °C, 4 cm², 2 × 3", "70 degC, 4 cm2, 2 x 3"},
      {"\xc0\x80", "\xEF\xBF\xBD\xEF\xBF\xBD", "\xEF\xBF\xBD\xEF\xBF\xBD", "??"},
      {"\xed\xa0\x80", "\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD", "\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD", "???"},
      {"cut \xe2\x82", "cut \xEF\xBF\xBD\xEF\xBF\xBD", "cut \xEF\xBF\xBD\xEF\xBF\xBD", "cut ??"},
      {"\xf4\x90\x80\x80", "\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD",
       "\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD", "????"},
      {"5\xe2\x80\xae min", "5 min", "5 min", "5 min"},
      {"\xef\xbf\xbe", "\xEF\xBF\xBD", "\xEF\xBF\xBD", "?"},
      {"", "", "", ""}};
  for (const Row& row : rows) {
    CAPTURE(row.given);
    CHECK(clean(row.given) == row.clean);
    CHECK(escaped(row.given) == row.escaped);
    CHECK(ascii(row.given) == row.ascii);
  }
}

TEST_CASE("the single-byte encoding of PDF fonts keeps western letters") {
  CHECK(latin("70 °C") ==
        "70 \xb0"
        "C");
  CHECK(latin("Größe ½") ==
        "Gr\xf6\xdf"
        "e \xbd");
  CHECK(latin("10⁻⁷ 手") == "10?? ?");
}

TEST_CASE("any bytes come back from an XML parser as the cleaned text") {
  CHECK(rc::check("escaped text read by pugixml", [](const std::string& bytes) {
    const std::string page = "<t a=\"" + escaped(bytes) + "\">" + escaped(bytes) + "</t>";
    pugi::xml_document document;
    // pugixml reads text as it stands only if told not to drop text that is all spaces.
    RC_ASSERT(document.load_buffer(page.data(), page.size(), pugi::parse_full | pugi::parse_ws_pcdata));
    RC_ASSERT(std::string(document.child("t").text().get()) == clean(bytes));
    RC_ASSERT(std::string(document.child("t").attribute("a").value()) == clean(bytes));
  }));
}

TEST_CASE("cleaning twice changes nothing, and nothing below a space is left") {
  CHECK(rc::check("clean is idempotent", [](const std::string& bytes) {
    const std::string once = clean(bytes);
    RC_ASSERT(clean(once) == once);
    for (const char c : once) RC_ASSERT(static_cast<unsigned char>(c) >= 0x20 && c != 0x7f);
  }));
}

TEST_CASE("ids are words") {
  CHECK(id_word("sheet 1") == "sheet-1");
  CHECK(id_word("1st") == "x1st");
  CHECK(id_word("") == "x");
  CHECK(id_word("\"><script>") == "script-");
}
