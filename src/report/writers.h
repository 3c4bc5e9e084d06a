// SPDX-License-Identifier: MIT
// The formats a document can leave in. Each writer is a pure function of the document: same document, same
// bytes.
#pragma once

#include <string>

#include "report/document.h"

namespace warmsheet::report {

/// Drawings in text: a line that describes each, or below it the drawing in characters.
enum class TextPictures { none, ascii, utf8 };

struct TextStyle {
  std::size_t width = 80;
  bool color = false;
  bool brief = false;  ///< --quiet: cautions and results only
  TextPictures pictures = TextPictures::none;
};

/// Plain lines for a terminal, cautions first. Figures read "3.2 mm [H]", "2 min 10 s (1 min 40 s to 2 min 50
/// s) [M]", with a legend of the marks at the end. Drawings are described and, if asked for, drawn; of plots
/// the title and the marked moments are given.
std::string to_text(const Document& document, const TextStyle& style);

/// The cautions alone, as `to_text` shows them: for the side of an answer that is no document, such as --why.
std::string cautions_text(const Document& document, std::size_t width);

/// One JSON document (contract: schema, inputs, results, cautions, library, arrays), stable order, newline at
/// the end.
std::string to_json(const Document& document);

/// One self-contained HTML file: inline style and SVG, no script, nothing fetched; prints on A4 and Letter.
std::string to_html(const Document& document);

/// The drawing alone, 1 user unit = 1 mm, with a title and description for screen readers.
std::string to_svg(const Drawing& drawing);
/// The plot alone.
std::string to_svg(const Plot& plot);
/// All sketches on one sheet, three in a row, each with its caption.
std::string to_svg(const std::vector<Sketch>& sketches, std::string_view title);
/// R12 DXF in millimetres with a 100 mm reference square on a layer of its own.
std::string to_dxf(const Drawing& drawing);

enum class Paper { a4, letter };

/// The drawing at 1 : 1 on as many pages as it takes. The first page is a map of the pages with boxes to
/// measure (100 x 50 mm, 4 x 2 in); each further page is a tile that fits the printable area of A4 and of
/// Letter alike and overlaps its neighbours by 10 mm with match marks. Tiles on which nothing is drawn are
/// left out. The file asks the viewer not to scale. Throws a Failure (usage) if it would take more pages than
/// anybody tapes together.
std::string to_pdf_tiles(const Drawing& drawing, Paper paper);

/// The whole document for printing, cautions first; drawings are scaled to the page and say so.
std::string to_pdf(const Document& document, Paper paper);

/// "2 min 10 s", "3.2 mm", "70 C": the digits a person needs, in the figure's unit, without its range and
/// mark.
std::string plain_value(const Figure& figure);
/// The same with range and basis mark: "3.2 mm (3.0 to 3.4) [H]".
std::string marked_value(const Figure& figure);

/// The tree of one figure down to library entries (file, line, source), for --why.
std::string why(const Figure& figure, std::size_t width);

}  // namespace warmsheet::report
