// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cctype>
#include <utility>

#include "base/text.h"
#include "report/clean_text.h"
#include "report/text_drawing.h"
#include "report/text_layout.h"
#include "report/writers.h"

namespace warmsheet::report {
namespace {

// ECMA-48 8.3.117, select graphic rendition: 1 bold, 0 default. Colours are left to the reader's own terminal
// theme apart from the cautions' yellow (33), and nothing is said by colour alone.
constexpr std::string_view bold = "\x1b[1m";
constexpr std::string_view bold_yellow = "\x1b[1;33m";
constexpr std::string_view normal = "\x1b[0m";

/// Clocks up to this wide stand beside their step, wider ones above it.
constexpr std::size_t widest_clock = 16;

void put_cautions(std::string& out, const Document& document, std::size_t width) {
  for (const Caution& caution : document.cautions()) put(out, "  ! ", phrase_line(caution.text), width);
}

class TextWriter {
 public:
  TextWriter(const Document& document, const TextStyle& style) : document_(document), style_(style) {}

  std::string write() {
    title();
    cautions();
    results();
    if (!style_.brief) {
      for (const Section& section : document_.sections) write(section);
      inputs();
    }
    legend();
    return std::move(out_);
  }

 private:
  void put_line(std::string_view head, std::string_view line) { put(out_, head, line, style_.width); }

  void styled(std::string_view text, std::string_view how) {
    for (const std::string& line : fold(text, style_.width))
      out_ += style_.color ? std::string(how) + line + std::string(normal) + "\n" : line + "\n";
  }

  void heading(std::string_view text, std::string_view how = bold) {
    if (!out_.empty()) out_ += "\n";
    std::string capitals = clean(text);
    for (char& c : capitals) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
    styled(capitals, how);
  }

  void title() {
    if (!style_.brief) styled(clean(document_.title()), bold);
  }

  void cautions() {
    heading("Cautions", bold_yellow);
    put_cautions(out_, document_, style_.width);
  }

  void results() {
    if (document_.results.empty() && !document_.answer_is_no) return;
    heading("Results");
    if (document_.answer_is_no) put_line("  ", "The answer is NO.");
    std::vector<Pair> pairs;
    for (const NamedFinding& result : document_.results)
      pairs.push_back({shown_name(result.name), finding_line(result.finding)});
    put_pairs(out_, pairs, style_.width);
  }

  void inputs() {
    if (document_.inputs.empty()) return;
    heading("Asked for");
    std::vector<Pair> pairs;
    for (const Input& input : document_.inputs) {
      const auto* text = std::get_if<std::string>(&input.value);
      pairs.push_back(
          {shown_name(input.name), text ? clean(*text) : finding_line(std::get<Finding>(input.value))});
    }
    put_pairs(out_, pairs, style_.width);
  }

  static std::string shown_name(const std::string& name) { return spaced(clean(name)); }

  void write(const Section& section) {
    heading(section.title);
    bool first = true;
    for (const Block& block : section.blocks) {
      if (std::holds_alternative<Plot>(block)) continue;
      if (!std::exchange(first, false)) out_ += "\n";
      std::visit([this](const auto& part) { write(part); }, block);
    }
    name_plots(section, first);
  }

  /// Curves need a page: the terminal only says which there are. The moments they mark stand in the results.
  void name_plots(const Section& section, bool nothing_before) {
    std::vector<std::string> titles;
    for (const Block& block : section.blocks)
      if (const auto* plot = std::get_if<Plot>(&block)) titles.push_back(clean(plot->title));
    if (titles.empty()) return;
    if (!nothing_before) out_ += "\n";
    put_line("  ", "Drawn in the HTML page: " + join(titles, "; ") + ".");
  }

  void write(const Paragraph& paragraph) { put_line("  ", phrase_line(paragraph.text)); }

  void write(const Facts& facts) {
    std::vector<Pair> pairs;
    for (const Facts::Line& line : facts.lines) {
      const auto* phrase = std::get_if<Phrase>(&line.value);
      pairs.push_back({phrase_line(line.label),
                       phrase ? phrase_line(*phrase) : finding_line(std::get<Finding>(line.value))});
    }
    put_pairs(out_, pairs, style_.width);
  }

  void write(const Table& table) {
    Grid grid;
    for (const Phrase& cell : table.head) grid.head.push_back(phrase_line(cell));
    grid.numeric.assign(table.head.size(), true);
    for (const auto& row : table.rows) {
      grid.rows.emplace_back();
      for (std::size_t column = 0; column < row.size(); ++column) {
        grid.rows.back().push_back(phrase_line(row[column]));
        if (column < grid.numeric.size() && !is_one_figure(row[column])) grid.numeric[column] = false;
      }
    }
    put_grid(out_, grid, style_.width);
  }

  static bool is_one_figure(const Phrase& phrase) {
    return phrase.empty() || (phrase.parts().size() == 1 && phrase.figures().size() == 1);
  }

  void write(const Bullets& bullets) {
    for (const Phrase& item : bullets.items) put_line("  - ", phrase_line(item));
  }

  void write(const Steps& steps) {
    std::size_t clock_width = 0;
    for (const Steps::Step& step : steps.steps)
      clock_width = std::max(clock_width, columns(phrase_line(step.clock)));
    const std::size_t number_width = std::to_string(steps.steps.size()).size();
    for (std::size_t i = 0; i < steps.steps.size(); ++i) {
      const std::string number = std::to_string(i + 1);
      const std::string head = std::string(2 + number_width - number.size(), ' ') + number + ". ";
      write(steps.steps[i], head, clock_width);
    }
  }

  void write(const Steps::Step& step, std::string head, std::size_t clock_width) {
    const std::string clock = phrase_line(step.clock);
    if (clock_width > widest_clock && !clock.empty()) {
      put_line(head, clock);
      head.assign(columns(head), ' ');
    } else if (clock_width <= widest_clock && clock_width > 0) {
      std::string cell = clock.empty() ? "" : fold(clock, widest_clock).front();
      cell.resize(clock_width + 2, ' ');
      head += cell;
    }
    put_line(head, phrase_line(step.action));
    if (!step.detail.empty()) put_line(std::string(columns(head), ' '), phrase_line(step.detail));
  }

  void write(const Sketch& sketch) { write(Bullets{{sketch.caption}}); }

  void write(const Drawing& drawing) {
    constexpr std::size_t indent = 2;
    put_line("  ", "Drawing: " + clean(drawing.title) + ". " + clean(drawing.description));
    if (style_.pictures == TextPictures::none || style_.width <= 2 * indent) return;
    for (const std::string& line : text_drawing(drawing, style_.width - 2 * indent, style_.pictures))
      out_ += line.empty() ? "\n" : std::string(indent, ' ') + line + "\n";
  }

  /// \see name_plots
  void write(const Plot&) {}

  [[nodiscard]] std::vector<Basis> shown_bases() const {
    if (!style_.brief) return document_.bases();
    Document shown(document_.command(), document_.title(), document_.cautions(), document_.library());
    shown.results = document_.results;
    return shown.bases();
  }

  void legend() {
    const std::vector<Basis> bases = shown_bases();
    if (!bases.empty()) heading("Where the figures come from");
    for (const Basis basis : bases)
      put_line(std::string("  [") + basis_mark(basis) + "] ",
               std::string(basis_word(basis)) + ": " + std::string(basis_meaning(basis)));
    if (bases.empty()) out_ += "\n";
    put_line("  ", "Library: " + clean(join(document_.library().layers, "; ")) + " (hash " +
                       clean(document_.library().hash) + ")");
  }

  const Document& document_;
  TextStyle style_;
  std::string out_;
};

}  // namespace

std::string cautions_text(const Document& document, std::size_t width) {
  std::string out = "CAUTIONS\n";
  put_cautions(out, document, width);
  return out;
}

std::string to_text(const Document& document, const TextStyle& style) {
  return TextWriter(document, style).write();
}

}  // namespace warmsheet::report
