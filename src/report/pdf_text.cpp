// SPDX-License-Identifier: MIT
#include "report/pdf_text.h"

#include <algorithm>

#include "base/text.h"
#include "report/clean_text.h"
#include "report/value_text.h"

namespace warmsheet::report {
namespace {

constexpr double line_per_size = 1.35;
/// Where capitals end below the upper edge of their line.
constexpr double baseline_per_size = 1.0;
constexpr double space_per_size = 0.278;  // Helvetica's space: 278/1000

/// The standard fonts lack raised digits; numbers with a power of ten are spelt in ASCII.
Glyphs glyphs_for(const Figure& figure) {
  const ValueText shown = value_text(figure, Glyphs::symbols);
  const bool spelt = latin(shown.value + shown.low + shown.high).find('?') == std::string::npos;
  return spelt ? Glyphs::symbols : Glyphs::ascii;
}

void add_figure(Words& words, const Figure& figure) {
  const ValueText shown = value_text(figure, glyphs_for(figure));
  const std::string mark = std::string(" [") + basis_mark(figure.basis()) + "]";
  if (!shown.has_range()) {
    words.push_back({shown.value + mark, true});
    return;
  }
  words.push_back({shown.value, true});
  words.push_back({"(" + shown.low + " to " + shown.high + ")" + mark, false, palette::quiet_ink});
}

bool ends_open(const std::string& text) {
  return !text.empty() && text.back() != ' ';
}

}  // namespace

Words words_of(std::string_view text, bool bold) {
  Words words;
  for (const std::string& word : wrap(clean(text), 1)) words.push_back({word, bold});
  return words;
}

Words words_of(const Phrase& phrase, bool bold) {
  Words words;
  bool joins = false;  // the text before ends without a space, as in "(3.2 mm"
  for (const Phrase::Part& part : phrase.parts()) {
    if (const auto* figure = std::get_if<Figure>(&part)) {
      Words shown;
      add_figure(shown, *figure);
      if (joins && !words.empty()) {
        shown.front().text = words.back().text + shown.front().text;
        words.pop_back();
      }
      words.insert(words.end(), shown.begin(), shown.end());
      joins = true;
      continue;
    }
    const auto& text = std::get<std::string>(part);
    Words shown = words_of(text, bold);
    if (joins && !shown.empty() && !text.empty() && text.front() != ' ') {
      words.back().text += shown.front().text;
      shown.erase(shown.begin());
    }
    words.insert(words.end(), shown.begin(), shown.end());
    joins = ends_open(text);
  }
  return words;
}

Words words_of(const Finding& finding) {
  if (!finding.known()) return words_of("no figure: " + finding.reason());
  Words words;
  add_figure(words, finding.figure());
  return words;
}

TextBlock::TextBlock(const PdfWriter& pdf, const Words& words, double size_mm, double width_mm)
    : size_mm_(size_mm) {
  for (const Word& word : words) add(pdf, word, width_mm);
  for (const Line& line : lines_) widest_mm_ = std::max(widest_mm_, line.width_mm);
}

void TextBlock::add(const PdfWriter& pdf, const Word& word, double room_mm) {
  const double width = pdf.exact_width(word.text, size_mm_, word.bold);
  if (width > room_mm && columns(word.text) > 1) return add_broken(pdf, word, room_mm);
  const double space = space_per_size * size_mm_;
  const bool fits = !lines_.empty() && lines_.back().width_mm + space + width <= room_mm;
  if (!fits) lines_.emplace_back();
  Line& line = lines_.back();
  const double x = line.words.empty() ? 0.0 : line.width_mm + space;
  line.words.push_back({word, x});
  line.width_mm = x + width;
}

/// At its spaces if it has some, else wherever the line ends.
void TextBlock::add_broken(const PdfWriter& pdf, const Word& word, double room_mm) {
  if (word.text.find(' ') != std::string::npos) {
    for (const std::string& part : wrap(word.text, 1)) add(pdf, {part, word.bold, word.colour}, room_mm);
    return;
  }
  std::string piece;
  for (std::size_t i = 0; i < word.text.size();) {
    std::size_t next = i + 1;
    while (next < word.text.size() && (static_cast<unsigned char>(word.text[next]) & 0xC0U) == 0x80U) ++next;
    const std::string character = word.text.substr(i, next - i);
    if (!piece.empty() && pdf.exact_width(piece + character, size_mm_, word.bold) > room_mm) {
      add(pdf, {piece, word.bold, word.colour}, room_mm);
      piece.clear();
    }
    piece += character;
    i = next;
  }
  add(pdf, {piece, word.bold, word.colour}, room_mm);
}

double TextBlock::height_mm() const {
  return static_cast<double>(lines_.size()) * size_mm_ * line_per_size;
}

void TextBlock::draw(PdfWriter& pdf, double x_mm, double y_mm, bool right_aligned) const {
  double baseline = y_mm + baseline_per_size * size_mm_;
  for (const Line& line : lines_) {
    const double shift = right_aligned ? -line.width_mm : 0.0;
    for (const Placed& placed : line.words)
      pdf.text(placed.word.text, {x_mm + shift + placed.x_mm, baseline, size_mm_, Canvas::Text::Anchor::start,
                                  placed.word.colour, placed.word.bold});
    baseline += size_mm_ * line_per_size;
  }
}

double widest_word_mm(const PdfWriter& pdf, const Words& words, double size_mm) {
  double widest = 0.0;
  for (const Word& word : words) widest = std::max(widest, pdf.exact_width(word.text, size_mm, word.bold));
  return widest;
}

}  // namespace warmsheet::report
