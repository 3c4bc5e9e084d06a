// SPDX-License-Identifier: MIT
// A document as printed pages: the same order and words as the HTML page, for those who file paper. Rows,
// steps and pictures are never parted; heads stay with what follows.
#include <algorithm>

#include "base/text.h"
#include "report/clean_text.h"
#include "report/drawing_picture.h"
#include "report/pdf_text.h"
#include "report/pdf_writer.h"
#include "report/plot_picture.h"
#include "report/sketch_picture.h"
#include "report/writers.h"

namespace warmsheet::report {
namespace {

constexpr double side_mm = 13.0;
constexpr double top_mm = 14.0;
constexpr double foot_mm = 18.0;
constexpr double body_mm = 3.5;  // 10 pt
constexpr double small_mm = 3.0;
constexpr double heading_mm = 4.6;
constexpr double title_mm = 6.8;
constexpr double paragraph_gap_mm = 2.5;
constexpr double row_gap_mm = 1.6;
constexpr double bullet_mm = 5.0;
constexpr double label_mm = 52.0;
constexpr double cell_gap_mm = 4.0;
constexpr double narrowest_text_column_mm = 24.0;
constexpr double number_mm = 8.0;
constexpr double clock_mm = 42.0;
constexpr double own_width_mm = 32.0;
constexpr double own_height_mm = 9.0;
constexpr double caution_pad_mm = 4.0;
constexpr double caution_bar_mm = 2.5;
/// What must follow a heading on the same page.
constexpr double keep_with_heading_mm = 22.0;
constexpr double caption_room_mm = 12.0;

const Canvas::Line hair{palette::hairline, 0.15};
const Canvas::Line rule{palette::heading, 0.5};

class Pages {
 public:
  Pages(const Document& document, Paper paper) : document_(document), pdf_(document.title(), paper) {}

  std::string write() {
    add_page();
    put(words_of(document_.title(), true), 0.0, width(), title_mm);
    if (!can_be_spelt(document_.title()))
      put(words_of("Letters that this file cannot show stand as \"?\"; the HTML page shows them."), 0.0,
          width());
    y_ += paragraph_gap_mm;
    cautions();
    results();
    for (const Section& section : document_.sections) {
      heading(section.title, opening_height(section) + keep_with_heading_mm);
      for (const Block& block : section.blocks) {
        std::visit([this](const auto& part) { write(part); }, block);
        y_ += paragraph_gap_mm;
      }
    }
    inputs();
    legend();
    return pdf_.take();
  }

 private:
  using Pairs = std::vector<std::pair<Words, Words>>;
  using Row = std::vector<Words>;

  [[nodiscard]] double width() const { return pdf_.page_width_mm() - 2.0 * side_mm; }
  [[nodiscard]] double lowest() const { return pdf_.page_height_mm() - foot_mm; }

  void add_page() {
    pdf_.add_page();
    pdf_.place({side_mm, 0.0, 0.0, 0.0, 1.0});
    ++page_;
    const double y = pdf_.page_height_mm() - foot_mm / 2.0;
    pdf_.text("page " + std::to_string(page_),
              {width(), y, small_mm, Canvas::Text::Anchor::end, palette::quiet_ink});
    pdf_.text(foot_title(), {0.0, y, small_mm, Canvas::Text::Anchor::start, palette::quiet_ink});
    y_ = top_mm;
  }

  /// As much of the title as stands in one line beside the page's number.
  [[nodiscard]] std::string foot_title() const {
    constexpr double beside_mm = 25.0;
    std::string shown = document_.title();
    for (std::size_t most = columns(shown); pdf_.exact_width(shown, small_mm, false) > width() - beside_mm;)
      shown = clip(document_.title(), --most);
    return shown;
  }

  /// A new page unless that much room is left; what is higher than a page starts on a fresh one.
  void need(double height_mm) {
    if (y_ + height_mm > lowest() && y_ > top_mm) add_page();
  }

  void put(const Words& words, double x_mm, double width_mm, double size_mm = body_mm) {
    const TextBlock block(pdf_, words, size_mm, width_mm);
    need(block.height_mm());
    block.draw(pdf_, x_mm, y_);
    y_ += block.height_mm();
  }

  void heading(std::string_view text, double keep_mm = keep_with_heading_mm) {
    y_ += paragraph_gap_mm;
    need(keep_mm);
    pdf_.line(0.0, y_, width(), y_, rule);
    y_ += row_gap_mm;
    put({{clean(text), true, palette::heading}}, 0.0, width(), heading_mm);
    y_ += row_gap_mm;
  }

  void cautions() {
    caution_row({{"Cautions: read these first", true, palette::caution_edge}}, heading_mm);
    for (const Caution& caution : document_.cautions()) caution_row(words_of(caution.text), body_mm);
    y_ += paragraph_gap_mm;
  }

  void caution_row(const Words& words, double size_mm) {
    const TextBlock block(pdf_, words, size_mm, width() - caution_bar_mm - 2.0 * caution_pad_mm);
    const double height = block.height_mm() + 2.0 * row_gap_mm;
    need(height);
    pdf_.rectangle(0.0, y_, width(), height, palette::caution_panel);
    pdf_.rectangle(0.0, y_, caution_bar_mm, height, palette::caution_edge);
    block.draw(pdf_, caution_bar_mm + caution_pad_mm, y_ + row_gap_mm);
    y_ += height;
  }

  static Words shown_name(const std::string& name) { return quiet(words_of(spaced(name))); }
  static Words quiet(Words words) {
    for (Word& word : words) word.colour = palette::quiet_ink;
    return words;
  }

  void pairs(const Pairs& pairs) {
    for (const auto& [label, value] : pairs) {
      const TextBlock left(pdf_, label, body_mm, label_mm - cell_gap_mm);
      const TextBlock right(pdf_, value, body_mm, width() - label_mm);
      const double height = std::max(left.height_mm(), right.height_mm());
      need(height + row_gap_mm);
      left.draw(pdf_, 0.0, y_);
      right.draw(pdf_, label_mm, y_);
      end_row(height);
    }
  }

  void end_row(double height_mm) {
    y_ += height_mm + row_gap_mm / 2.0;
    pdf_.line(0.0, y_, width(), y_, hair);
    y_ += row_gap_mm / 2.0;
  }

  void results() {
    if (document_.results.empty() && !document_.answer_is_no) return;
    heading("Results");
    if (document_.answer_is_no) put(words_of("The answer is no.", true), 0.0, width(), heading_mm);
    Pairs list;
    for (const NamedFinding& result : document_.results)
      list.emplace_back(shown_name(result.name), words_of(result.finding));
    pairs(list);
  }

  void inputs() {
    if (document_.inputs.empty()) return;
    heading("Asked for");
    Pairs list;
    for (const Input& input : document_.inputs) {
      const auto* text = std::get_if<std::string>(&input.value);
      list.emplace_back(shown_name(input.name),
                        text != nullptr ? words_of(*text) : words_of(std::get<Finding>(input.value)));
    }
    pairs(list);
  }

  void write(const Paragraph& paragraph) { put(words_of(paragraph.text), 0.0, width()); }

  void write(const Facts& facts) {
    Pairs list;
    for (const Facts::Line& line : facts.lines)
      list.emplace_back(quiet(words_of(line.label)),
                        std::visit([](const auto& value) { return words_of(value); }, line.value));
    pairs(list);
  }

  void write(const Bullets& bullets) {
    for (const Phrase& item : bullets.items) bullet(words_of(item), body_mm);
  }

  void bullet(const Words& words, double size_mm) {
    const TextBlock block(pdf_, words, size_mm, width() - bullet_mm);
    need(block.height_mm());
    TextBlock(pdf_, {{"-"}}, size_mm, bullet_mm).draw(pdf_, row_gap_mm, y_);
    block.draw(pdf_, bullet_mm, y_);
    y_ += block.height_mm() + row_gap_mm / 2.0;
  }

  // --- tables ---

  void write(const Table& table) {
    std::vector<Row> rows;
    for (const auto& row : table.rows) {
      rows.emplace_back();
      for (const Phrase& cell : row) rows.back().push_back(words_of(cell, rows.back().empty()));
    }
    Row head;
    for (const Phrase& cell : table.head) head.push_back(words_of(cell, true));
    const std::vector<double> widths = column_widths(head, rows);
    if (widths.empty()) return stacked(head, rows);
    const double first = rows.empty() ? 0.0 : row_height(rows.front(), widths);
    need(std::max(keep_with_heading_mm, row_height(head, widths) + first));
    table_row(head, widths);
    for (const Row& row : rows) {
      if (y_ + row_height(row, widths) > lowest()) {
        add_page();
        table_row(head, widths);
      }
      table_row(row, widths);
    }
  }

  /// Natural widths if they fit, else the widest columns give way down to their longest word; empty if that
  /// is not enough.
  [[nodiscard]] std::vector<double> column_widths(const Row& head, const std::vector<Row>& rows) const {
    std::vector<double> natural(head.size());
    std::vector<double> narrowest(head.size());
    const auto take = [&](const Row& row) {
      for (std::size_t i = 0; i < std::min(row.size(), natural.size()); ++i) {
        natural[i] = std::max(natural[i], TextBlock(pdf_, row[i], small_mm, width()).width_mm());
        narrowest[i] = std::max(narrowest[i], widest_word_mm(pdf_, row[i], small_mm));
      }
    };
    take(head);
    for (const Row& row : rows) take(row);
    double room = width();
    for (std::size_t i = 0; i < natural.size(); ++i) {
      narrowest[i] = std::max(narrowest[i], std::min(natural[i], narrowest_text_column_mm));
      room -= natural[i] + cell_gap_mm;
    }
    constexpr double step_mm = 0.5;
    for (; room < 0.0; room += step_mm) {
      std::size_t widest = natural.size();
      for (std::size_t i = 0; i < natural.size(); ++i)
        if (natural[i] - step_mm >= narrowest[i] &&
            (widest == natural.size() || natural[i] > natural[widest]))
          widest = i;
      if (widest == natural.size()) return {};
      natural[widest] -= step_mm;
    }
    return natural;
  }

  [[nodiscard]] double row_height(const Row& row, const std::vector<double>& widths) const {
    double height = 0.0;
    for (std::size_t i = 0; i < std::min(row.size(), widths.size()); ++i)
      // A hair wider than measured: adding up words must not break a line that was measured whole.
      height = std::max(height, TextBlock(pdf_, row[i], small_mm, widths[i] + 0.01).height_mm());
    return height + row_gap_mm;
  }

  void table_row(const Row& row, const std::vector<double>& widths) {
    double x = 0.0;
    for (std::size_t i = 0; i < std::min(row.size(), widths.size()); ++i) {
      TextBlock(pdf_, row[i], small_mm, widths[i] + 0.01).draw(pdf_, x, y_);
      x += widths[i] + cell_gap_mm;
    }
    end_row(row_height(row, widths) - row_gap_mm);
  }

  void stacked(const Row& head, const std::vector<Row>& rows) {
    const auto cell = [](const Row& cells, std::size_t i) { return i < cells.size() ? cells[i] : Words{}; };
    for (const Row& row : rows) {
      need(keep_with_heading_mm);
      Pairs list;
      for (std::size_t i = 0; i < std::max(head.size(), row.size()); ++i)
        list.emplace_back(quiet(cell(head, i)), cell(row, i));
      pairs(list);
      y_ += paragraph_gap_mm;
    }
  }

  // --- steps ---

  static constexpr double do_mm = number_mm + clock_mm;
  [[nodiscard]] double own_mm() const { return width() - own_width_mm; }

  /// The texts of a step, broken into their columns.
  struct StepBlocks {
    TextBlock clock;
    TextBlock action;
    TextBlock detail;
    [[nodiscard]] double height_mm() const {
      return std::max({clock.height_mm(), action.height_mm() + detail.height_mm(), own_height_mm});
    }
  };

  [[nodiscard]] StepBlocks blocks_of(const Steps::Step& step) const {
    const double room = own_mm() - do_mm - cell_gap_mm;
    return {TextBlock(pdf_, words_of(step.clock), body_mm, clock_mm - cell_gap_mm),
            TextBlock(pdf_, words_of(step.action, true), body_mm, room),
            TextBlock(pdf_, words_of(step.detail), body_mm, room)};
  }

  void steps_head() {
    for (const auto& [text, x] : {std::pair{"Clock", number_mm}, {"Do", do_mm}, {"My stopwatch", own_mm()}})
      pdf_.text(text, {x, y_ + small_mm, small_mm, Canvas::Text::Anchor::start, palette::quiet_ink});
    end_row(small_mm + row_gap_mm);
  }

  /// With the head above it.
  [[nodiscard]] double first_step_height(const Steps& steps) const {
    return small_mm + 3.0 * row_gap_mm + blocks_of(steps.steps.front()).height_mm();
  }

  void write(const Steps& steps) {
    if (!steps.steps.empty()) need(first_step_height(steps));
    steps_head();
    for (std::size_t i = 0; i < steps.steps.size(); ++i) write(blocks_of(steps.steps[i]), i + 1);
  }

  void write(const StepBlocks& step, std::size_t number) {
    const double height = step.height_mm();
    if (y_ + height + row_gap_mm > lowest() && y_ > top_mm) {
      add_page();
      steps_head();
    }
    pdf_.text(std::to_string(number), {number_mm - 3.0, y_ + body_mm, body_mm * 1.15,
                                       Canvas::Text::Anchor::end, palette::heading, true});
    step.clock.draw(pdf_, number_mm, y_);
    step.action.draw(pdf_, do_mm, y_);
    step.detail.draw(pdf_, do_mm, y_ + step.action.height_mm());
    own_box(own_mm());
    end_row(height);
  }

  /// Room for the reader's own time.
  void own_box(double x) {
    const Canvas::Line edge{palette::ink, 0.2};
    const double right = x + own_width_mm;
    const double bottom = y_ + own_height_mm;
    pdf_.area({{{x, y_}, {right, y_}, {right, bottom}, {x, bottom}}}, nullptr, &edge);
    for (const auto& [unit, share] : {std::pair{"min", 0.6}, {"s", 0.95}})
      pdf_.text(unit, {x + own_width_mm * share, bottom - 1.4, small_mm * 0.85, Canvas::Text::Anchor::end,
                       palette::quiet_ink});
  }

  // --- pictures ---

  /// Of what must not part from a section's heading: its paragraphs up to a first step or picture, and that
  /// one.
  [[nodiscard]] double opening_height(const Section& section) const {
    double height = 0.0;
    for (const Block& block : section.blocks) {
      const auto* paragraph = std::get_if<Paragraph>(&block);
      if (paragraph == nullptr) return height + opening_height(block);
      height += TextBlock(pdf_, words_of(paragraph->text), body_mm, width()).height_mm() + paragraph_gap_mm;
    }
    return 0.0;
  }

  /// Of a picture or the first of some steps; 0 for other blocks.
  [[nodiscard]] double opening_height(const Block& block) const {
    const auto* steps = std::get_if<Steps>(&block);
    if (steps != nullptr && !steps->steps.empty()) return first_step_height(*steps);
    if (const auto* drawing = std::get_if<Drawing>(&block))
      return DrawingPicture(*drawing, shrink_for(*drawing), false).height_mm();
    if (std::holds_alternative<Sketch>(block)) return sketch_height_mm;
    if (const auto* plot = std::get_if<Plot>(&block)) return PlotPicture(*plot, false).height_mm();
    return 0.0;
  }

  [[nodiscard]] int shrink_for(const Drawing& drawing) const {
    return shrink_to_fit(drawing, width(), lowest() - top_mm - keep_with_heading_mm - caption_room_mm);
  }

  void write(const Drawing& drawing) {
    const int shrink = shrink_for(drawing);
    const DrawingPicture picture(drawing, shrink, false);
    need(picture.height_mm() + caption_room_mm);
    pdf_.place({side_mm, y_, picture.left(), picture.top(), 1.0 / shrink});
    picture.draw(pdf_);
    pdf_.place({side_mm, 0.0, 0.0, 0.0, 1.0});
    y_ += picture.height_mm();
    Words caption = words_of(drawing.title + ".", true);
    for (const Word& word : words_of(drawing.description)) caption.push_back(word);
    put(caption, 0.0, width(), small_mm);
  }

  void write(const Sketch& sketch) {
    need(sketch_height_mm + keep_with_heading_mm);
    pdf_.place({side_mm, y_, 0.0, 0.0, 1.0});
    draw_sketch(pdf_, sketch, 0.0, 0.0);
    pdf_.place({side_mm, 0.0, 0.0, 0.0, 1.0});
    y_ += sketch_height_mm;
    put(words_of(sketch.caption), 0.0, width(), small_mm);
  }

  void write(const Plot& plot) {
    const PlotPicture picture(plot, false);
    const double scale = std::min(1.0, width() / PlotPicture::width_mm());
    need(scale * picture.height_mm() + keep_with_heading_mm);
    pdf_.place({side_mm, y_, 0.0, 0.0, scale});
    picture.draw(pdf_);
    pdf_.place({side_mm, 0.0, 0.0, 0.0, 1.0});
    y_ += scale * picture.height_mm();
    Words caption = words_of(plot.title + ".", true);
    for (const Word& word : words_of(plot.description)) caption.push_back(word);
    if (!plot.marks.empty())
      for (const Word& word : words_of(std::string(bars_note))) caption.push_back(word);
    for (const Word& word : words_of(plot.basis_note)) caption.push_back(word);
    put(caption, 0.0, width(), small_mm);
    moments(plot);
  }

  void moments(const Plot& plot) {
    for (const Plot::Mark& mark : plot.marks)
      bullet(words_of(say("{}: {}", Label(mark.name), mark.at)), small_mm);
    for (const Plot::Span& span : plot.spans)
      bullet(words_of(say("{}: from {} to {}", Label(span.name), span.from, span.to)), small_mm);
  }

  void legend() {
    const std::vector<Basis> bases = document_.bases();
    if (!bases.empty()) heading("Where the figures come from");
    for (const Basis basis : bases) {
      const std::string mark =
          std::string("[") + basis_mark(basis) + "] " + std::string(basis_word(basis)) + ": ";
      put(words_of(mark + std::string(basis_meaning(basis))), 0.0, width(), small_mm);
    }
    y_ += row_gap_mm;
    put(quiet(words_of("Library: " + join(document_.library().layers, "; ") + " (hash " +
                       document_.library().hash + ")")),
        0.0, width(), small_mm);
  }

  const Document& document_;
  PdfWriter pdf_;
  double y_ = top_mm;
  int page_ = 0;
};

}  // namespace

std::string to_pdf(const Document& document, Paper paper) {
  return Pages(document, paper).write();
}

}  // namespace warmsheet::report
