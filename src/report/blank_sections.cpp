// SPDX-License-Identifier: MIT
// The order as straight knife cuts: beside the true-shape cut, and step by step for somebody with a knife and
// a straight edge.
#include <map>
#include <optional>
#include <string>
#include <utility>

#include "base/dimension.h"
#include "base/text.h"
#include "nesting/form.h"
#include "report/drawings.h"
#include "report/sections.h"

namespace warmsheet::report {
namespace {

constexpr double m_per_um = 1e-6;

using nesting::Slab;

Table comparison(const plan::BlankCutting& blanks) {
  Table table{{Phrase("cut"), Phrase("sheets"), Phrase("used length"), Phrase("waste"), Phrase("share")}, {}};
  const auto row = [&](Literal what, const plan::Use& use) {
    const Phrase length =
        use.used_length.known() ? Phrase(use.used_length.figure()) : Phrase(Label(use.used_length.reason()));
    table.rows.push_back(
        {Phrase(what), Phrase(use.sheets), length, Phrase(use.waste), Phrase(use.waste_share)});
  };
  row("true shape", blanks.true_shape);
  row("straight", blanks.straight);
  return table;
}

/// Stock that `nesting::cut_blanks` leaves alone.
std::vector<std::string> not_looked_at(const nesting::Order& order) {
  std::vector<std::string> names;
  for (const nesting::Stock& stock : order.stock)
    if (!stock.spoilt.empty() || !nesting::is_rectangle(stock.shape)) names.push_back(stock.name);
  return names;
}

Section comparison_section(const plan::Cutting& cutting, const plan::BlankCutting& blanks) {
  Section section{"Straight cuts beside the true shape", {comparison(blanks)}};
  section.blocks.emplace_back(Paragraph{
      Phrase("Waste is the sheet cut into, up to the used length of the last one, less the outlines. "
             "Straight cuts waste what lies between an outline and the rectangle round it, and are "
             "quick: only the rectangles are marked on the sheet.")});
  const std::string passed_over = join(not_looked_at(cutting.order), ", ");
  if (!passed_over.empty())
    section.blocks.emplace_back(Paragraph{
        say("Passed over for straight cuts, since it is spoilt or no rectangle: {}. Cut a clean rectangle "
            "off it by eye if one is there.",
            Label(passed_over))});
  if (blanks.plan.unplaced.empty())
    section.blocks.emplace_back(Paragraph{
        blanks.plan.proven
            ? say("Proven: no plan of straight cuts from edge to edge does this order for less{}.",
                  passed_over.empty() ? Phrase("") : Phrase(" on the other stock"))
            : Phrase(
                  "The best plan of straight cuts that was found, sheet by sheet; a better one may exist.")});
  Bullets unplaced = unplaced_list(cutting.order, blanks.plan.unplaced);
  if (!unplaced.items.empty()) section.blocks.emplace_back(std::move(unplaced));
  return section;
}

/// The cuts of one sheet as orders. A part is called by the cut it came from.
class CutSteps {
 public:
  CutSteps(const plan::Cutting& cutting, const plan::BlankCutting& blanks, std::size_t sheet)
      : cutting_(cutting), blanks_(blanks), tree_(blanks.plan.sheets[sheet].tree), sheet_(sheet) {}

  Steps run() {
    name_blanks();
    if (cutting_.order.margin_mm > 0.0)
      steps_.steps.push_back({Phrase(Label("edge")), say("Trim {} off all four edges.", margin()),
                              Phrase("The cuts below are numbered as in the drawing; measure each from the "
                                     "edge of the part that it divides.")});
    parts_.emplace(0, "the sheet");
    // Slabs stand in the order of cutting, each cut before its parts.
    for (std::size_t slab = 0; slab < tree_.size(); ++slab) {
      const Slab& part = tree_[slab];
      if (nesting::is_cut(tree_, part))
        add(slab);
      else if (part.kind == Slab::Kind::cut_across || part.kind == Slab::Kind::cut_along)
        parts_[part.first] = parts_[part.second] = parts_.at(slab);
    }
    return std::move(steps_);
  }

 private:
  [[nodiscard]] Figure length(const char* name, nesting::Micrometres um) const {
    return Figure::derived(name, Range::exactly(static_cast<double>(um) * m_per_um), units::millimetre(),
                           "place in the plan of straight cuts", blanks_.inputs);
  }

  [[nodiscard]] Figure margin() const {
    return length("edge_margin", static_cast<nesting::Micrometres>(cutting_.order.margin_mm * um_per_mm));
  }

  /// Blanks of one sheet stand in the order of its slabs.
  void name_blanks() {
    std::size_t next = 0;
    std::size_t lettered = 0;
    while (next < blanks_.blanks.size() && blanks_.blanks[next].sheet != sheet_) ++next;
    for (std::size_t slab = 0; slab < tree_.size(); ++slab) {
      if (tree_[slab].kind != Slab::Kind::piece) continue;
      const plan::LaidBlank& blank = blanks_.blanks[next++];
      names_[slab] =
          "blank " + blank_mark(lettered++) + ", " + piece_label(cutting_.order, blank.piece, blank.copy);
    }
  }

  void add(std::size_t slab) {
    const Slab& cut = tree_[slab];
    const std::string number = std::to_string(++cuts_);
    const bool across = cut.kind == Slab::Kind::cut_across;
    const Figure at = length("cut_at", across ? cut.cut_at - cut.x : cut.cut_at - cut.y);
    const Label part(parts_.at(slab));
    Phrase action = across ? say("Cut {} upright, {} from its left edge.", part, at)
                           : say("Cut {} level, {} from its lower edge.", part, at);
    Phrase detail = gives(across ? Phrase("Left") : Phrase("Below"), cut.first,
                          across ? "the left" : "the lower", number);
    detail.append(Phrase(" "));
    detail.append(gives(across ? Phrase("Right") : Phrase("Above"), cut.second,
                        across ? "the right" : "the upper", number));
    steps_.steps.push_back({Phrase(Label("cut " + number)), std::move(action), std::move(detail)});
  }

  /// A slab that is a piece, or becomes one by cuts along its very edge.
  [[nodiscard]] std::optional<std::size_t> only_piece_of(std::size_t slab) const {
    while (tree_[slab].kind == Slab::Kind::cut_across || tree_[slab].kind == Slab::Kind::cut_along) {
      if (nesting::is_cut(tree_, tree_[slab])) return std::nullopt;
      const Slab& first = tree_[tree_[slab].first];
      slab = first.width > 0 && first.height > 0 ? tree_[slab].first : tree_[slab].second;
    }
    if (tree_[slab].kind != Slab::Kind::piece) return std::nullopt;
    return slab;
  }

  Phrase gives(const Phrase& side, std::size_t slab, const std::string& which, const std::string& number) {
    const Slab& part = tree_[slab];
    const Figure width = length("part_width", part.width);
    const Figure height = length("part_height", part.height);
    parts_[slab] = which + " part of cut " + number;
    if (const auto only = only_piece_of(slab)) return say("{}: {}.", side, Label(names_.at(*only)));
    if (part.kind == Slab::Kind::waste) {
      const nesting::Remnant rest{sheet_, static_cast<double>(part.width) / um_per_mm,
                                  static_cast<double>(part.height) / um_per_mm};
      return cutting_.worth_keeping(rest) ? say("{}: {} x {}, keep it.", side, width, height)
                                          : say("{}: scrap.", side);
    }
    return say("{}: {} x {}, cut further.", side, width, height);
  }

  const plan::Cutting& cutting_;
  const plan::BlankCutting& blanks_;
  const nesting::CutTree& tree_;
  std::size_t sheet_;
  int cuts_ = 0;
  std::map<std::size_t, std::string> parts_;
  std::map<std::size_t, std::string> names_;
  Steps steps_;
};

std::int64_t number_from_one(std::size_t index) {
  return static_cast<std::int64_t>(index) + 1;
}

}  // namespace

std::vector<Section> blank_sections(const plan::Cutting& cutting, const plan::BlankCutting& blanks) {
  std::vector<Section> sections{comparison_section(cutting, blanks)};
  for (std::size_t i = 0; i < blanks.plan.sheets.size(); ++i) {
    const nesting::Stock& stock = cutting.order.stock[blanks.plan.sheets[i].stock];
    Section section{"Straight cuts. " + sheet_title(stock, i), {}};
    section.blocks.emplace_back(CutSteps(cutting, blanks, i).run());
    section.blocks.emplace_back(blank_sheet_drawing(cutting, blanks, i));
    sections.push_back(std::move(section));
  }
  return sections;
}

std::vector<RecordArray> blank_arrays(const plan::Cutting& cutting, const plan::BlankCutting& blanks) {
  RecordArray made{"blanks", {}};
  for (const plan::LaidBlank& blank : blanks.blanks)
    made.records.push_back({{{"outline", cutting.order.pieces[blank.piece].name},
                             {"copy", static_cast<std::int64_t>(blank.copy + 1)},
                             {"sheet", number_from_one(blank.sheet)},
                             {"x_mm", Coordinate{blank.box.low.x_mm}},
                             {"y_mm", Coordinate{blank.box.low.y_mm}},
                             {"width_mm", Coordinate{blank.box.width_mm()}},
                             {"height_mm", Coordinate{blank.box.height_mm()}}}});
  RecordArray cuts{"knife_cuts", {}};
  std::map<std::size_t, std::int64_t> numbers;
  for (const nesting::KnifeCut& cut : blanks.cuts)
    cuts.records.push_back({{{"sheet", number_from_one(cut.sheet)},
                             {"cut", ++numbers[cut.sheet]},
                             {"from_x_mm", Coordinate{cut.from.x_mm}},
                             {"from_y_mm", Coordinate{cut.from.y_mm}},
                             {"to_x_mm", Coordinate{cut.to.x_mm}},
                             {"to_y_mm", Coordinate{cut.to.y_mm}}}});
  RecordArray sheets{"blank_sheets", {}};
  for (std::size_t i = 0; i < blanks.plan.sheets.size(); ++i)
    sheets.records.push_back({{{"sheet", number_from_one(i)},
                               {"stock", cutting.order.stock[blanks.plan.sheets[i].stock].name},
                               {"used_length_mm", Coordinate{blanks.plan.sheets[i].used_length_mm}}}});
  RecordArray use{"cut_ways", {}};
  const auto add = [&](const char* way, const plan::Use& used) {
    use.records.push_back({{{"way", std::string(way)},
                            {"sheets", Finding(used.sheets)},
                            {"used_length", used.used_length},
                            {"area_cut_into", Finding(used.area)},
                            {"waste", Finding(used.waste)},
                            {"waste_share", Finding(used.waste_share)}}});
  };
  add("true_shape", blanks.true_shape);
  add("straight", blanks.straight);
  return {std::move(made), std::move(cuts), std::move(sheets),
          unplaced_array("unplaced_blanks", cutting.order, blanks.plan.unplaced), std::move(use)};
}

}  // namespace warmsheet::report
