// SPDX-License-Identifier: MIT
// What a command has to say, once, for every format. A document holds figures and phrases, never bare
// numbers; the writers (text, JSON, HTML, PDF) only format it. Cautions are an argument of its constructor,
// so no command can forget them and no option can drop them.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/caution.h"
#include "base/figure.h"
#include "base/phrase.h"
#include "outline/polygon.h"

namespace warmsheet::report {

/// Rows under a head; the first column names the row. Cells are figures, labels or short phrases, as many as
/// the head has: `Document::bases` refuses other tables.
struct Table {
  std::vector<Phrase> head;
  std::vector<std::vector<Phrase>> rows;
};

/// "label: figure" lines; what most sections are made of.
struct Facts {
  struct Line {
    Phrase label;
    std::variant<Phrase, Finding> value;
  };
  std::vector<Line> lines;
};

struct Paragraph {
  Phrase text;
};

struct Bullets {
  std::vector<Phrase> items;
};

/// A timed list of things to do.
struct Steps {
  struct Step {
    Phrase clock;   ///< when, e.g. a figure from immersion; may be empty
    Phrase action;  ///< what to do, an order in a few words
    Phrase detail;  ///< how, and what to look for; may be empty
  };
  std::vector<Step> steps;
};

/// Line styles tell the lines apart in grey as well as in colour.
enum class Stroke { cut, fold, margin, sheet, offcut, strap, dimension, guide, trim, flare };

/// A drawing in true millimetres, x to the right and y up.
struct Drawing {
  struct Shape {
    outline::Polygon polygon;
    Stroke stroke;
    bool filled = false;
  };
  struct Segment {
    outline::Point from;
    outline::Point to;
    Stroke stroke;
  };
  /// A line with two ends.
  struct Trace {
    outline::Path points;
    Stroke stroke;
  };
  struct Note {
    outline::Point at;
    std::string text;
    double size_mm = 4.0;
    bool centred = true;
    std::string brief = {};  ///< stands for the text where that has no room
    bool dimension = false;  ///< a figure at a dimension line
  };
  std::string id;
  std::string title;
  std::string description;  ///< for screen readers: what the drawing shows, in a sentence or two
  outline::Box extent;
  std::vector<Shape> shapes;
  std::vector<Segment> segments;
  std::vector<Note> notes;
  std::vector<Trace> traces = {};
  std::vector<Phrase> remarks = {};  ///< stand on the first page of the tiles: measures, say
};

/// Curves over time, with marked moments and a shaded span.
struct Plot {
  struct Curve {
    std::string name;
    std::vector<double> x;
    std::vector<double> y;
  };
  struct Mark {
    Figure at;  ///< on the x axis
    std::string name;
  };
  struct Span {
    Figure from;
    Figure to;
    std::string name;
  };
  std::string id;
  std::string title;
  std::string description;
  std::string x_label;  ///< with its unit, e.g. "seconds after removal"
  std::string y_label;
  std::vector<Curve> curves;
  std::vector<Mark> marks;
  std::vector<Span> spans;
  Phrase basis_note;  ///< on what the curves rest; stands below the plot
};

/// A schematic line figure, not to scale, y up.
struct Sketch {
  enum class Pen { limb, detail, mark, hidden };
  struct Line {
    outline::Path points;
    Pen pen;
    bool closed = false;
  };
  std::string id;
  std::string title;
  std::string description;  ///< for screen readers
  outline::Box extent;
  std::vector<Line> lines;
  Phrase caption;  ///< all it has to say: formats without pictures show only this
};

using Block = std::variant<Paragraph, Facts, Table, Bullets, Steps, Drawing, Plot, Sketch>;

struct Section {
  std::string title;
  std::vector<Block> blocks;
};

/// A coordinate or count in a machine-readable array whose names state the unit ("x_mm"): layout data, not a
/// finding.
struct Coordinate {
  double value;
};

/// One entry of a top-level JSON array (placements, offcuts, ranking, items).
struct Record {
  using Value = std::variant<std::string, bool, std::int64_t, Coordinate, Finding, std::vector<std::string>>;
  std::vector<std::pair<std::string, Value>> fields;
};

struct RecordArray {
  std::string name;
  std::vector<Record> records;
};

/// What the run was asked, for the `inputs` object: names with a figure or a word each.
struct Input {
  std::string name;
  std::variant<std::string, Finding> value;
};

/// Which library the figures came from.
struct LibraryStamp {
  std::vector<std::string> layers;  ///< "built in", "user: /home/...", in the order of laying
  std::string hash;
};

class Document {
 public:
  /// `command` names the schema "warmsheet.<command>/1". Throws std::logic_error if there is no caution.
  /// An array of the JSON document may not take the name of one of its fixed keys; the JSON writer checks
  /// that.
  Document(std::string command, std::string title, std::vector<Caution> cautions, LibraryStamp library);

  std::vector<Input> inputs;
  std::vector<NamedFinding> results;
  std::vector<RecordArray> arrays;
  std::vector<Section> sections;
  bool answer_is_no = false;  ///< exit code 1: it does not fit, there is no safe window

  [[nodiscard]] const std::string& command() const { return command_; }
  [[nodiscard]] std::string schema() const { return "warmsheet." + command_ + "/1"; }
  [[nodiscard]] const std::string& title() const { return title_; }
  [[nodiscard]] const std::vector<Caution>& cautions() const { return cautions_; }
  [[nodiscard]] const LibraryStamp& library() const { return library_; }

  /// Every figure the document shows, each once, for the legend and for --why: results first, then the
  /// cautions, the inputs, the sections and the arrays.
  [[nodiscard]] std::vector<Figure> figures() const;
  /// The result of that name, else the first shown figure of that name, else the one result whose name ends
  /// with it: "half soft" finds "half_soft", "density" finds "thermal.density".
  [[nodiscard]] std::optional<Finding> find(std::string_view name) const;
  /// The bases that occur, weakest first.
  [[nodiscard]] std::vector<Basis> bases() const;

 private:
  std::string command_;
  std::string title_;
  std::vector<Caution> cautions_;
  LibraryStamp library_;
};

}  // namespace warmsheet::report
