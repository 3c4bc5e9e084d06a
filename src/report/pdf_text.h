// SPDX-License-Identifier: MIT
// Words on a PDF page: figures with a bold value, lines broken by exact widths.
#pragma once

#include <string>
#include <vector>

#include "report/pdf_writer.h"

namespace warmsheet::report {

/// What stays together on a line.
struct Word {
  std::string text;
  bool bold = false;
  Colour colour = palette::ink;
};
using Words = std::vector<Word>;

Words words_of(std::string_view text, bool bold = false);
Words words_of(const Phrase& phrase, bool bold = false);
Words words_of(const Finding& finding);

/// Words broken into lines for a column of a page.
class TextBlock {
 public:
  TextBlock(const PdfWriter& pdf, const Words& words, double size_mm, double width_mm);

  [[nodiscard]] double height_mm() const;
  /// Of the widest line.
  [[nodiscard]] double width_mm() const { return widest_mm_; }
  /// \param y_mm upper edge
  void draw(PdfWriter& pdf, double x_mm, double y_mm, bool right_aligned = false) const;

 private:
  struct Placed {
    Word word;
    double x_mm;
  };
  struct Line {
    std::vector<Placed> words;
    double width_mm = 0.0;
  };
  void add(const PdfWriter& pdf, const Word& word, double room_mm);
  void add_broken(const PdfWriter& pdf, const Word& word, double room_mm);

  double size_mm_;
  double widest_mm_ = 0.0;
  std::vector<Line> lines_;
};

/// Width of the widest word: the narrowest column the words fit into whole.
double widest_word_mm(const PdfWriter& pdf, const Words& words, double size_mm);

}  // namespace warmsheet::report
