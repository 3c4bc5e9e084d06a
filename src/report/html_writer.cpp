// SPDX-License-Identifier: MIT
// One page that can be archived, opened without a network and printed. It holds no script, and its own policy
// line forbids the browser to fetch anything.
#include <algorithm>

#include "base/text.h"
#include "report/clean_text.h"
#include "report/drawing_picture.h"
#include "report/html_style.h"
#include "report/plot_picture.h"
#include "report/svg.h"
#include "report/value_text.h"
#include "report/writers.h"

namespace warmsheet::report {
namespace {

// What A4 and Letter both leave inside margins of 10 mm, less a caption.
constexpr double printable_width_mm = 190.0;
constexpr double printable_height_mm = 242.0;

std::string element(std::string_view name, std::string_view content) {
  return "<" + std::string(name) + ">" + std::string(content) + "</" + std::string(name) + ">";
}

std::string element(std::string_view name, std::string_view css_class, std::string_view content) {
  return "<" + std::string(name) + " class=\"" + std::string(css_class) + "\">" + std::string(content) +
         "</" + std::string(name) + ">";
}

std::string mark(Basis basis) {
  return "<abbr class=\"mark\" title=\"" + std::string(basis_word(basis)) + ": " +
         escaped(basis_meaning(basis)) + "\">[" + basis_mark(basis) + "]</abbr>";
}

/// With spaces at which no line ends.
std::string held(std::string text) {
  std::string shown;
  for (const char c : text) shown += c == ' ' ? std::string("\xC2\xA0") : std::string(1, c);
  return escaped(shown);
}

std::string range(const ValueText& shown) {
  // Plain numbers stay on one line; composed times may part at "to".
  const bool composed = shown.high.find(' ') != std::string::npos;
  return "(" +
         (composed ? held(shown.low) + " to " + held(shown.high) : held(shown.low + " to " + shown.high)) +
         ")";
}

std::string html(const Figure& figure) {
  const ValueText shown = value_text(figure, Glyphs::symbols);
  std::string text = element("b", held(shown.value));
  if (shown.has_range()) text += " " + element("span", "range", range(shown));
  return element("span", "figure", text + "\xC2\xA0" + mark(figure.basis()));
}

std::string html(const Phrase& phrase) {
  std::string text;
  for (const Phrase::Part& part : phrase.parts()) {
    const auto* figure = std::get_if<Figure>(&part);
    text += figure != nullptr ? html(*figure) : escaped(std::get<std::string>(part));
  }
  return text;
}

std::string html(const Finding& finding) {
  if (finding.known()) return html(finding.figure());
  return element("span", "absent", "no figure: " + escaped(finding.reason()));
}

std::string html(const std::string& text) {
  return escaped(text);
}

bool is_one_figure(const Phrase& phrase) {
  return phrase.empty() || (phrase.parts().size() == 1 && phrase.figures().size() == 1);
}

/// Columns of the widest piece of a cell that is not broken: a value, a range with its mark, or a short word.
std::size_t widest_piece(const Phrase& phrase) {
  constexpr std::size_t longest_whole_word = 12;
  std::size_t widest = phrase.figures().empty() ? longest_whole_word : 0;
  for (const Figure& figure : phrase.figures()) {
    const ValueText shown = value_text(figure, Glyphs::symbols);
    const std::string tail =
        shown.has_range() ? "(" + shown.low + " to " + shown.high + ") [M]" : shown.value + " [M]";
    widest = std::max({widest, columns(shown.value), columns(tail)});
  }
  return widest;
}

double narrowest_mm(const Table& table) {
  constexpr double cell_gap_mm = 4.0;
  constexpr double letter_mm = 3.5;  // 9.8 pt
  std::vector<std::size_t> widths;
  const auto take = [&](const std::vector<Phrase>& row) {
    widths.resize(std::max(widths.size(), row.size()));
    for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], widest_piece(row[i]));
  };
  take(table.head);
  for (const auto& row : table.rows) take(row);
  double sum = 0.0;
  for (const std::size_t width : widths) sum += text_width(std::string(width, 'n'), letter_mm) + cell_gap_mm;
  return sum;
}

class HtmlWriter {
 public:
  explicit HtmlWriter(const Document& document) : document_(document) {}

  std::string write() {
    head();
    cautions();
    results();
    for (const Section& section : document_.sections) write(section);
    inputs();
    legend();
    out_ += "</body>\n</html>\n";
    return std::move(out_);
  }

 private:
  void put(std::string_view text) {
    out_ += text;
    out_ += '\n';
  }

  void head() {
    const std::string title = escaped(document_.title());
    put("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>");
    put("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src "
        "'unsafe-inline'; img-src data:\"/>");
    put("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>");
    put(element("title", title));
    put(element("style", html_style()));
    put("</head>\n<body>");
    put(element("h1", title));
  }

  void cautions() {
    put("<section class=\"cautions\" aria-label=\"Cautions\">\n<h2>Cautions: read these first</h2>\n<ul>");
    for (const Caution& caution : document_.cautions()) put(element("li", html(caution.text)));
    put("</ul>\n</section>");
  }

  void heading(std::string_view text) { put(element("h2", escaped(text))); }

  void pair(const std::string& label, const std::string& value) {
    put(element("div", element("dt", label) + element("dd", value)));
  }

  static std::string shown_name(const std::string& name) { return spaced(escaped(name)); }

  void results() {
    if (document_.results.empty() && !document_.answer_is_no) return;
    heading("Results");
    if (document_.answer_is_no) put(element("p", "answer", "The answer is no."));
    put("<dl class=\"pairs results\">");
    for (const NamedFinding& result : document_.results) pair(shown_name(result.name), html(result.finding));
    put("</dl>");
  }

  void inputs() {
    if (document_.inputs.empty()) return;
    heading("Asked for");
    put("<dl class=\"pairs inputs\">");
    for (const Input& input : document_.inputs)
      pair(shown_name(input.name), std::visit([](const auto& value) { return html(value); }, input.value));
    put("</dl>");
  }

  void write(const Section& section) {
    heading(section.title);
    for (const Block& block : section.blocks) std::visit([this](const auto& part) { write(part); }, block);
  }

  void write(const Paragraph& paragraph) { put(element("p", html(paragraph.text))); }

  void write(const Facts& facts) {
    put("<dl class=\"pairs\">");
    for (const Facts::Line& line : facts.lines)
      pair(html(line.label), std::visit([](const auto& value) { return html(value); }, line.value));
    put("</dl>");
  }

  void write(const Table& table) {
    std::vector<bool> numeric(table.head.size(), true);
    for (const auto& row : table.rows)
      for (std::size_t i = 0; i < std::min(row.size(), numeric.size()); ++i)
        if (!is_one_figure(row[i])) numeric[i] = false;
    const auto is_numeric = [&](std::size_t i) { return i < numeric.size() && numeric[i]; };
    if (!table.rows.empty() && narrowest_mm(table) > printable_width_mm) return write_stacked(table);
    put("<table>\n<thead><tr>");
    for (std::size_t i = 0; i < table.head.size(); ++i)
      put(std::string("<th scope=\"col\"") + (is_numeric(i) ? " class=\"number\">" : ">") +
          html(table.head[i]) + "</th>");
    put("</tr></thead>\n<tbody>");
    for (const auto& row : table.rows) {
      put("<tr>");
      for (std::size_t i = 0; i < row.size(); ++i) cell(row[i], i == 0, is_numeric(i));
      put("</tr>");
    }
    put("</tbody>\n</table>");
  }

  /// A table too wide for the paper would shrink the whole print; each row becomes a list then.
  void write_stacked(const Table& table) {
    const auto cell = [](const std::vector<Phrase>& cells, std::size_t i) {
      return i < cells.size() ? html(cells[i]) : std::string();
    };
    for (const auto& row : table.rows) {
      put("<dl class=\"pairs row\">");
      for (std::size_t i = 0; i < std::max(row.size(), table.head.size()); ++i)
        pair(cell(table.head, i), cell(row, i));
      put("</dl>");
    }
  }

  void cell(const Phrase& content, bool names_row, bool numeric) {
    const std::string css = numeric ? " class=\"number\">" : ">";
    put(names_row ? "<th scope=\"row\"" + css + html(content) + "</th>"
                  : "<td" + css + html(content) + "</td>");
  }

  void write(const Bullets& bullets) {
    put("<ul>");
    for (const Phrase& item : bullets.items) put(element("li", html(item)));
    put("</ul>");
  }

  void write(const Steps& steps) {
    put("<div class=\"columns\" aria-hidden=\"true\"><span></span><span>Clock</span><span>Do</span>"
        "<span>My stopwatch</span></div>");
    put("<ol class=\"steps\">");
    for (const Steps::Step& step : steps.steps) {
      std::string action = element("div", "action", html(step.action));
      if (!step.detail.empty()) action += element("div", "detail", html(step.detail));
      put("<li>" + element("div", "clock", html(step.clock)) + element("div", action) +
          element("div", "own", "<span>min</span><span>s</span>") + "</li>");
    }
    put("</ol>");
  }

  void write(const Drawing& drawing) {
    const int shrink = shrink_to_fit(drawing, printable_width_mm, printable_height_mm);
    const std::string scale =
        shrink == 1 ? "True size (1 : 1) if the bar measures 100 mm on paper."
                    : "Scaled to 1 : " + std::to_string(shrink) + " to fit the page; not for tracing.";
    put("<figure>");
    put(svg_element(drawing, picture_id(drawing.id), shrink, false));
    put(element("figcaption", element("b", escaped(drawing.title) + ".") + " " +
                                  escaped(drawing.description) + " " + scale));
    put("</figure>");
  }

  void write(const Sketch& sketch) {
    put("<figure class=\"sketch\">");
    put(svg_element(sketch, picture_id(sketch.id)));
    put(element("figcaption", html(sketch.caption)));
    put("</figure>");
  }

  void write(const Plot& plot) {
    put("<figure>");
    put(svg_element(plot, picture_id(plot.id), false));
    put("<figcaption>" + element("b", escaped(plot.title) + ".") + " " + escaped(plot.description));
    if (!plot.marks.empty() || !plot.spans.empty()) {
      put("<ul>");
      for (const Plot::Mark& moment : plot.marks)
        put(element("li", escaped(moment.name) + ": " + html(moment.at)));
      for (const Plot::Span& span : plot.spans)
        put(element("li", escaped(span.name) + ": from " + html(span.from) + " to " + html(span.to)));
      put("</ul>");
      if (!plot.marks.empty()) put(std::string(bars_note) + " ");
    }
    put(html(plot.basis_note) + "</figcaption>\n</figure>");
  }

  /// Ids must differ within the page, whatever the builders called their pictures.
  std::string picture_id(std::string_view id) {
    return id_word("p" + std::to_string(++pictures_) + "-" + std::string(id));
  }

  void legend() {
    const std::vector<Basis> bases = document_.bases();
    if (!bases.empty()) {
      heading("Where the figures come from");
      put("<dl class=\"pairs legend\">");
      for (const Basis basis : bases)
        pair(mark(basis) + " " + std::string(basis_word(basis)), escaped(basis_meaning(basis)));
      put("</dl>");
    }
    put(element("footer", "Library: " + escaped(join(document_.library().layers, "; ")) + " (hash " +
                              escaped(document_.library().hash) + ")"));
  }

  const Document& document_;
  std::string out_;
  int pictures_ = 0;
};

}  // namespace

std::string to_html(const Document& document) {
  return HtmlWriter(document).write();
}

}  // namespace warmsheet::report
