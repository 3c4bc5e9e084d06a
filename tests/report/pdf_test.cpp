// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <algorithm>

#include "report/measure.h"
#include "report/random_document.h"
#include "report/sample.h"
#include "report/writers.h"
#include "support/near.h"
#include "support/scratch.h"

using namespace warmsheet;
using namespace warmsheet::report;
using warmsheet::testing::near_abs;

namespace {

// What a printed page may be off: the pixel of the raster is 1/40 mm.
constexpr double allowed_mm = 0.05;
constexpr int dpi = 1016;
constexpr double tile_width_mm = 190.0;

double margin_mm(Paper paper) {
  return ((paper == Paper::a4 ? 210.0 : 215.9) - tile_width_mm) / 2.0;
}

std::size_t pages_of(const std::string& pdf) {
  std::size_t count = 0;
  for (std::size_t at = pdf.find("/Type /Page\n"); at != std::string::npos;
       at = pdf.find("/Type /Page\n", at + 1))
    ++count;
  return count;
}

bool holds(const std::vector<double>& places, double wanted) {
  return std::any_of(places.begin(), places.end(),
                     [&](double place) { return near_abs(place, wanted, allowed_mm).near; });
}

/// Upright cut lines every 50 mm over 400 mm, all 100 mm high.
Drawing ladder() {
  Drawing drawing;
  drawing.id = "ladder";
  drawing.title = "Ladder";
  drawing.extent = {{0, 0}, {400, 100}};
  for (int i = 0; i <= 8; ++i) drawing.segments.push_back({{i * 50.0, 0.0}, {i * 50.0, 100.0}, Stroke::cut});
  return drawing;
}

}  // namespace

TEST_CASE("the file asks the viewer not to scale and carries its title") {
  const std::string pdf = to_pdf_tiles(sample::drawing(), Paper::a4);
  CHECK(pdf.rfind("%PDF-1.6", 0) == 0);
  CHECK(pdf.find("/PrintScaling /None") != std::string::npos);
  CHECK(pdf.find("Outline of a wrist piece, true size") != std::string::npos);
  // Neither the clock nor a random number may enter: the same outline gives the same file.
  CHECK(pdf.find("/CreationDate") == std::string::npos);
  CHECK(pdf.find("/ID") == std::string::npos);
}

TEST_CASE("as many pages as the drawing takes, and none for empty tiles") {
  CHECK(pages_of(to_pdf_tiles(sample::drawing(), Paper::a4)) == 2);
  CHECK(pages_of(to_pdf_tiles(sample::sheet(), Paper::a4)) == 9);
  // A large square frame: the tiles inside it stay empty.
  Drawing frame;
  frame.id = "frame";
  frame.title = "Frame";
  frame.extent = {{0, 0}, {800, 1000}};
  frame.segments = {{{0, 0}, {800, 0}, Stroke::cut},
                    {{800, 0}, {800, 1000}, Stroke::cut},
                    {{800, 1000}, {0, 1000}, Stroke::cut},
                    {{0, 1000}, {0, 0}, Stroke::cut}};
  CHECK(pages_of(to_pdf_tiles(frame, Paper::letter)) == 1 + 5 * 5 - 3 * 3);
}

TEST_CASE("a drawing that nobody would tape together is refused with its size") {
  Drawing huge;
  huge.title = "Huge";
  huge.extent = {{0, 0}, {3000, 4000}};
  try {
    to_pdf_tiles(huge, Paper::a4);
    FAIL("no refusal");
  } catch (const Failure& failure) {
    CHECK(failure.trouble() == Trouble::usage);
    const std::string text = failure.what();
    CHECK(text.find("3006 x 4006 mm") != std::string::npos);
    CHECK(text.find("306 pages") != std::string::npos);
    CHECK_FALSE(failure.problems().front().hint.empty());
  }
}

TEST_CASE("the boxes to measure are 100 x 50 mm and 4 x 2 in on paper" * doctest::skip(*PDFTOPPM == '\0')) {
  for (const Paper paper : {Paper::a4, Paper::letter}) {
    const testing::Scratch scratch;
    const std::string file = scratch.file("tiles.pdf", to_pdf_tiles(sample::drawing(), paper));
    const testing::Raster page = testing::render_pdf(file, 1, dpi);
    // A band to the right of the words inside the boxes and of the instructions' beginnings.
    const double band = margin_mm(paper) + 92.0;
    const std::vector<double> level = testing::level_lines_mm(page, band, band + 4.0);
    REQUIRE(level.size() >= 4);
    CHECK(near_abs(level[1] - level[0], 50.0, allowed_mm));
    CHECK(near_abs(level[3] - level[2], 2.0 * 25.4, allowed_mm));
    const std::vector<double> first = testing::upright_lines_mm(page, level[0] + 5.0, level[0] + 15.0);
    REQUIRE(first.size() == 2);
    CHECK(near_abs(first[1] - first[0], 100.0, allowed_mm));
    const std::vector<double> second = testing::upright_lines_mm(page, level[2] + 5.0, level[2] + 15.0);
    REQUIRE(second.size() == 2);
    CHECK(near_abs(second[1] - second[0], 4.0 * 25.4, allowed_mm));
  }
}

TEST_CASE("tiles show the drawing at true size, and the same line stands on both sides of a seam" *
          doctest::skip(*PDFTOPPM == '\0')) {
  const testing::Scratch scratch;
  const std::string file = scratch.file("tiles.pdf", to_pdf_tiles(ladder(), Paper::a4));
  // 406 mm with the rim take three columns of 180 mm + 10 mm = 550 mm; the drawing stands in their middle.
  const double first_rung = 3.0 + (550.0 - 406.0) / 2.0;
  std::vector<std::vector<double>> pages;
  for (int page = 2; page <= 4; ++page) {
    const testing::Raster raster = testing::render_pdf(file, page, dpi);
    // Rungs reach over the middle third of a frame of 240 mm at least; a band there meets no mark and no
    // letter.
    pages.push_back(testing::upright_lines_mm(raster, 141.0, 149.0));
  }
  for (int rung = 0; rung <= 8; ++rung)
    for (std::size_t column = 0; column < 3; ++column) {
      const double on_tile = first_rung + rung * 50.0 - static_cast<double>(column) * 180.0;
      if (on_tile < 1.0 || on_tile > tile_width_mm - 1.0) continue;
      CAPTURE(rung);
      CAPTURE(column);
      CHECK(holds(pages[column], margin_mm(Paper::a4) + on_tile));
    }
}

TEST_CASE("each tile carries a bar of 100 mm" * doctest::skip(*PDFTOPPM == '\0')) {
  const testing::Scratch scratch;
  const std::string file = scratch.file("tiles.pdf", to_pdf_tiles(sample::drawing(), Paper::letter));
  const testing::Raster raster = testing::render_pdf(file, 2, dpi);
  const std::vector<double> runs = testing::longest_dark_runs_mm(raster);
  CHECK(holds(runs, 100.0));
}

TEST_CASE("a document prints on both papers, cautions on the first page" * doctest::skip(*PDFTOPPM == '\0')) {
  const testing::Scratch scratch;
  for (const Paper paper : {Paper::a4, Paper::letter}) {
    const std::string pdf = to_pdf(sample::document(), paper);
    CHECK(pages_of(pdf) >= 3);
    CHECK(pdf.find("/PrintScaling /None") != std::string::npos);
    const testing::Raster raster = testing::render_pdf(scratch.file("plan.pdf", pdf), 1, 100);
    CHECK(near_abs(static_cast<double>(raster.width) / raster.pixels_per_mm,
                   paper == Paper::a4 ? 210.0 : 215.9, 0.5));
  }
}

TEST_CASE("a long title stays on the page, at its head and its foot" * doctest::skip(*PDFTOPPM == '\0')) {
  const testing::Scratch scratch;
  std::string title = "Plan:";
  for (int i = 0; i < 40; ++i) title += " orthosis " + std::to_string(i);
  Document document("plan", title, {{"estimate", Phrase("An estimate.")}}, {{"built in"}, "0"});
  for (int i = 0; i < 120; ++i) document.sections.push_back({"Part", {Paragraph{Phrase("Words.")}}});
  const std::string path = scratch.file("long.pdf", to_pdf(document, Paper::a4));
  for (const int page : {1, 2}) {
    CAPTURE(page);
    const testing::Raster raster = testing::render_pdf(path, page, 100);
    constexpr double bare_mm = 8.0;  // the narrowest margin that printers keep, and a little
    bool bare = true;
    for (std::size_t y = 0; y < raster.height; ++y)
      for (auto x =
               static_cast<std::size_t>(static_cast<double>(raster.width) - bare_mm * raster.pixels_per_mm);
           x < raster.width; ++x)
        bare = bare && raster.at(x, y) > 200;
    CHECK(bare);
  }
}

TEST_CASE("letters that the PDF cannot show are said to be missing") {
  const auto notes = [](const std::string& title) {
    const Document document("plan", title, {{"estimate", Phrase("An estimate.")}}, {{"built in"}, "0"});
    return to_pdf(document, Paper::a4).size();
  };
  // A line more in the file: its text is compressed, so only its length is looked at.
  CHECK(notes("\xE6\x89\x8B") > notes("?") + 20);
}

TEST_CASE("any document can be printed, and again with the same bytes") {
  CHECK(rc::check("PDF", [](std::uint32_t seed) {
    const Document document = sample::random_document(seed);
    const std::string pdf = to_pdf(document, Paper::letter);
    RC_ASSERT(pdf.rfind("%PDF-", 0) == 0U);
    RC_ASSERT(pdf == to_pdf(document, Paper::letter));
  }));
}
