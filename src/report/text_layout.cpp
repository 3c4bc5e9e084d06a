// SPDX-License-Identifier: MIT
#include "report/text_layout.h"

#include <algorithm>
#include <numeric>
#include <utility>

#include "base/text.h"
#include "report/clean_text.h"
#include "report/value_text.h"

namespace warmsheet::report {
namespace {

/// Stands for a space that should not become a line end; `clean` removes it from all text that comes from
/// outside.
constexpr char held_space = '\x1f';
/// Where an id may be parted: "draping-lined-child/2.0-micro", "crystallisation.activation_energy".
constexpr std::string_view joints = "/-._";
constexpr std::size_t indent = 2;
constexpr std::size_t gap = 2;
/// A label column wider than this leaves too little for the values of an 80-column page.
constexpr std::size_t widest_label = 30;
/// Text folded narrower than this is harder to read than a stack.
constexpr std::size_t narrowest_column = 14;

std::string held(std::string text) {
  std::replace(text.begin(), text.end(), ' ', held_space);
  return text;
}

std::string figure_line(const Figure& figure) {
  const ValueText shown = value_text(figure, Glyphs::ascii);
  const std::string mark = std::string(1, held_space) + '[' + basis_mark(figure.basis()) + ']';
  if (!shown.has_range()) return held(shown.value) + mark;
  return held(shown.value) + " (" + held(shown.low + " to " + shown.high) + ")" + mark;
}

std::string plain_spaces(std::string line) {
  std::replace(line.begin(), line.end(), held_space, ' ');
  return line;
}

/// Bytes of the longest start of `text` that takes at most `width` columns.
std::size_t bytes_of_columns(std::string_view text, std::size_t width) {
  std::size_t used = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool starts = (static_cast<unsigned char>(text[i]) & 0xC0U) != 0x80U;
    if (starts && used++ == width) return i;
  }
  return text.size();
}

/// Bytes of the longest start of `word` that ends after a joint of an id and takes at most `width` columns; 0
/// if there is none.
std::size_t bytes_to_joint(std::string_view word, std::size_t width) {
  const std::size_t joint = word.substr(0, bytes_of_columns(word, width)).find_last_of(joints);
  return joint == std::string_view::npos ? 0 : joint + 1;
}

/// Pieces of a word that is wider than a line: an id is parted at its joints.
std::vector<std::string> broken(std::string_view word, std::size_t width) {
  if (word.find(held_space) != std::string_view::npos) return fold(plain_spaces(std::string(word)), width);
  std::vector<std::string> pieces;
  while (!word.empty()) {
    std::size_t bytes = columns(word) <= width ? word.size() : bytes_to_joint(word, width);
    if (bytes == 0) bytes = bytes_of_columns(word, width);
    pieces.emplace_back(word.substr(0, bytes));
    word.remove_prefix(bytes);
  }
  return pieces;
}

std::string padded(std::string text, std::size_t width, bool right) {
  const std::size_t missing = width - std::min(width, columns(text));
  return right ? std::string(missing, ' ') + text : text + std::string(missing, ' ');
}

std::string without_end_spaces(std::string line) {
  line.erase(line.find_last_not_of(' ') + 1);
  return line;
}

// --- grids ---

using Widths = std::vector<std::size_t>;

const std::string& cell(const std::vector<std::string>& row, std::size_t column) {
  static const std::string empty;
  return column < row.size() ? row[column] : empty;
}

std::size_t column_count(const Grid& grid) {
  std::size_t count = grid.head.size();
  for (const auto& row : grid.rows) count = std::max(count, row.size());
  return count;
}

bool is_numeric(const Grid& grid, std::size_t column) {
  return column < grid.numeric.size() && grid.numeric[column];
}

Widths natural_widths(const Grid& grid) {
  Widths widths(column_count(grid));
  for (std::size_t column = 0; column < widths.size(); ++column) {
    widths[column] = line_columns(cell(grid.head, column));
    for (const auto& row : grid.rows)
      widths[column] = std::max(widths[column], line_columns(cell(row, column)));
  }
  return widths;
}

std::size_t total(const Widths& widths) {
  return indent + std::accumulate(widths.begin(), widths.end(), std::size_t{0}) + gap * (widths.size() - 1);
}

/// The widest of a line's words, words held together counting as one, by that measure of a word.
template <class Measure>
std::size_t widest_of_words(std::string_view line, Measure measure) {
  std::size_t widest = 0;
  while (!(line = trim(line)).empty()) {
    const std::string_view word = line.substr(0, line.find(' '));
    widest = std::max(widest, measure(word));
    line.remove_prefix(word.size());
  }
  return widest;
}

std::size_t widest_word(std::string_view line) {
  return widest_of_words(line, columns);
}

/// Figures are held together; anything else may be parted at its joints.
std::size_t widest_between_joints(std::string_view word) {
  if (word.find(held_space) != std::string_view::npos) return columns(word);
  std::size_t widest = 0;
  while (!word.empty()) {
    const std::size_t end = std::min(word.find_first_of(joints), word.size() - 1) + 1;
    widest = std::max(widest, columns(word.substr(0, end)));
    word.remove_prefix(end);
  }
  return widest;
}

std::size_t widest_part(std::string_view line) {
  return widest_of_words(line, widest_between_joints);
}

/// How narrow a column may become: figures are parted between value and range only, ids at their joints.
std::size_t narrowest(const Grid& grid, std::size_t column) {
  const bool numeric = is_numeric(grid, column);
  std::size_t width = 0;
  std::size_t natural = 0;
  for (const auto& row : grid.rows) {
    const std::string& text = cell(row, column);
    natural = std::max(natural, line_columns(text));
    width = std::max(width, numeric ? widest_word(text) : std::min(widest_part(text), widest_label));
  }
  if (!numeric) width = std::max(width, std::min(natural, narrowest_column));
  return std::max(width, widest_word(cell(grid.head, column)));
}

/// Takes `missing` columns away from the widest columns of a kind, as far as they may go; what is left
/// missing.
std::size_t narrow(Widths& widths, const Grid& grid, bool numeric, std::size_t missing) {
  for (; missing > 0; --missing) {
    std::size_t widest = widths.size();
    for (std::size_t column = 0; column < widths.size(); ++column) {
      if (is_numeric(grid, column) != numeric || widths[column] <= narrowest(grid, column)) continue;
      if (widest == widths.size() || widths[column] > widths[widest]) widest = column;
    }
    if (widest == widths.size()) break;
    --widths[widest];
  }
  return missing;
}

/// Text gives way first, then figures; false if the grid is still too wide.
bool make_fit(Widths& widths, const Grid& grid, std::size_t width) {
  if (total(widths) <= width) return true;
  const std::size_t missing = narrow(widths, grid, false, total(widths) - width);
  return narrow(widths, grid, true, missing) == 0;
}

void put_row(std::string& out, const std::vector<std::string>& row, const Widths& widths, const Grid& grid) {
  std::vector<std::vector<std::string>> cells;
  std::size_t height = 1;
  for (std::size_t column = 0; column < widths.size(); ++column) {
    cells.push_back(fold(cell(row, column), std::max<std::size_t>(1, widths[column])));
    height = std::max(height, cells.back().size());
  }
  for (std::size_t line = 0; line < height; ++line) {
    std::string text(indent, ' ');
    for (std::size_t column = 0; column < widths.size(); ++column) {
      if (column > 0) text += std::string(gap, ' ');
      text += padded(cell(cells[column], line), widths[column], is_numeric(grid, column));
    }
    out += without_end_spaces(std::move(text)) + "\n";
  }
}

/// A rule of dashes under each head: read aloud it is skipped, and it needs no special characters.
void put_rule(std::string& out, const Widths& widths) {
  std::string text(indent, ' ');
  for (std::size_t column = 0; column < widths.size(); ++column)
    text += std::string(column > 0 ? gap : 0, ' ') + std::string(widths[column], '-');
  out += text + "\n";
}

void put_stacked(std::string& out, const Grid& grid, std::size_t width) {
  if (grid.rows.empty()) put(out, "  ", join(grid.head, "; "), width);
  for (const auto& row : grid.rows)
    for (std::size_t column = 0; column < column_count(grid); ++column) {
      const std::string& label = cell(grid.head, column);
      put(out, column == 0 ? "  " : "      ",
          label.empty() ? cell(row, column) : label + ": " + cell(row, column), width);
    }
}

}  // namespace

std::string phrase_line(const Phrase& phrase) {
  std::string line;
  for (const Phrase::Part& part : phrase.parts()) {
    if (const auto* figure = std::get_if<Figure>(&part))
      line += figure_line(*figure);
    else
      line += clean(std::get<std::string>(part));
  }
  return line;
}

std::string finding_line(const Finding& finding) {
  return finding.known() ? figure_line(finding.figure()) : "no figure (" + clean(finding.reason()) + ")";
}

std::vector<std::string> fold(std::string_view line, std::size_t width) {
  std::vector<std::string> lines;
  std::string current;
  const auto add = [&](const std::string& word) {
    if (!current.empty() && columns(current) + 1 + columns(word) > width)
      lines.push_back(std::exchange(current, {}));
    current += (current.empty() ? "" : " ") + plain_spaces(word);
  };
  while (!(line = trim(line)).empty()) {
    const std::string word(line.substr(0, line.find(' ')));
    line.remove_prefix(word.size());
    if (columns(word) <= width)
      add(word);
    else
      for (const std::string& piece : broken(word, width)) add(piece);
  }
  if (!current.empty()) lines.push_back(current);
  return lines;
}

std::size_t line_columns(std::string_view line) {
  return columns(line);
}

void put(std::string& out, std::string_view head, std::string_view line, std::size_t width) {
  const std::size_t taken = columns(head);
  const std::size_t room = width > taken ? width - taken : 1;
  const std::vector<std::string> lines = fold(line, room);
  std::string lead(head);
  for (const std::string& folded : lines) {
    out += lead + folded + "\n";
    lead.assign(taken, ' ');
  }
  if (lines.empty()) out += without_end_spaces(lead) + "\n";
}

void put_pairs(std::string& out, const std::vector<Pair>& pairs, std::size_t width) {
  std::size_t label_width = 0;
  for (const Pair& pair : pairs)
    label_width = std::max(label_width, std::min(widest_label, line_columns(pair.label) + 1));
  for (const Pair& pair : pairs) {
    const std::string label = plain_spaces(pair.label) + ":";
    if (columns(label) > label_width) {
      put(out, "  ", pair.label + ":", width);
      put(out, std::string(indent + label_width + gap, ' '), pair.value, width);
    } else {
      put(out, "  " + padded(label, label_width + gap, false), pair.value, width);
    }
  }
}

void put_grid(std::string& out, const Grid& grid, std::size_t width) {
  Widths widths = natural_widths(grid);
  if (widths.empty()) return;
  if (!make_fit(widths, grid, width)) return put_stacked(out, grid, width);
  put_row(out, grid.head, widths, grid);
  put_rule(out, widths);
  for (const auto& row : grid.rows) put_row(out, row, widths, grid);
}

}  // namespace warmsheet::report
