// SPDX-License-Identifier: MIT
#include "choice/figures.h"

#include <algorithm>
#include <array>
#include <stdexcept>

#include "heat/ranges.h"

namespace warmsheet::choice {
namespace {

/// Central value with 5 % and 95 % of the draws.
Range spread(const DrawnNumbers& drawn, double central, double Numbers::*member) {
  if (drawn.empty()) return Range::exactly(central);
  std::vector<double> numbers;
  numbers.reserve(drawn.size());
  for (const Numbers& each : drawn) numbers.push_back(each.*member);
  return heat::spread(numbers, central);
}

class FigureList {
 public:
  FigureList(const Candidate& candidate, const Piece& piece, const DrawnNumbers& drawn)
      : candidate_(candidate), piece_(piece), drawn_(drawn) {}

  std::vector<NamedFinding> list() {
    bending();
    material();
    if (piece_.closed) closing();
    window();
    making();
    return std::move(list_);
  }

 private:
  void add(const char* name, double Numbers::*member, const Unit& unit, const char* how,
           std::initializer_list<Input> inputs) {
    const Range range = spread(drawn_, candidate_.central.*member, member);
    list_.push_back({name, Figure::derived(name, range, unit, how, candidate_.mechanics.rests_on(inputs))});
  }

  void bending() {
    const auto all = {Input::modulus_23,  Input::modulus_37, Input::thickness, Input::stiffness_left,
                      Input::temperature, Input::age,        Input::creep,     Input::girth,
                      Input::cover,       Input::lever,      Input::span,      Input::force,
                      Input::palm_width,  Input::palm_rise};
    const auto yielding = {Input::yield,       Input::modulus_23, Input::modulus_37, Input::strength_left,
                           Input::temperature, Input::age,        Input::creep,      Input::thickness,
                           Input::girth,       Input::cover,      Input::lever,      Input::palm_width,
                           Input::palm_rise};
    add("give_angle", &Numbers::give_rad, *find_unit(Dimension::angle, "deg"),
        "deflection under the push over its lever; trough as an overhanging beam of arc section, palm as an "
        "arched plate",
        all);
    add("give", &Numbers::give_m, units::millimetre(),
        "trough as an overhanging beam of arc section, palm as an arched plate", all);
    add("first_yield", &Numbers::first_yield_N, units::newton(),
        "push that first makes the outermost fibre yield", yielding);
    auto compared = candidate_.mechanics.rests_on(yielding);
    compared.push_back(piece_.force);
    const Range times = spread(drawn_, candidate_.central.strength, &Numbers::strength);
    list_.push_back({"strength", Figure::derived("strength", times, units::one(),
                                                 "push at first yield over the push expected", compared)});
    list_.push_back(
        {"holds", Figure::derived("holds", Range::exactly(share_that_holds()), units::percent(),
                                  "share of draws in which the push expected leaves it unbent", compared)});
  }

  [[nodiscard]] double share_that_holds() const {
    if (drawn_.empty()) return candidate_.central.strength >= 1.0 ? 1.0 : 0.0;
    const auto holding =
        std::count_if(drawn_.begin(), drawn_.end(), [](const Numbers& n) { return n.strength >= 1.0; });
    return static_cast<double>(holding) / static_cast<double>(drawn_.size());
  }

  void material() {
    add("modulus", &Numbers::modulus_Pa, *find_unit(Dimension::pressure, "MPa"),
        "stated modulus at wear temperature, in the first day, less what the holes take",
        {Input::modulus_23, Input::modulus_37, Input::temperature, Input::age, Input::creep,
         Input::stiffness_left});
    list_.push_back(
        {"stiffness_left", candidate_.mechanics.input(Input::stiffness_left).in(units::percent())});
    add("mass", &Numbers::mass_kg, units::gram(), "area x thickness x density x solid share",
        {Input::area, Input::thickness, Input::density, Input::open_area});
    list_.push_back({"open_area", candidate_.mechanics.input(Input::open_area).in(units::percent())});
  }

  void closing() {
    add("tightens", &Numbers::shorter_m, units::millimetre(), "free shrinkage times girth",
        {Input::shrinkage, Input::girth});
    add("squeeze", &Numbers::squeeze_Pa, *find_unit(Dimension::pressure, "kPa"),
        "shrink fit of a thin tube on soft tissue, all of the free shrinkage taken, nothing relaxed: rather "
        "too high",
        {Input::shrinkage, Input::modulus_23, Input::modulus_37, Input::temperature, Input::age,
         Input::stiffness_left, Input::thickness, Input::girth, Input::tissue_modulus, Input::tissue_depth});
  }

  void window() {
    list_.push_back({"window", candidate_.window});
    if (!candidate_.window.known()) {
      list_.push_back({"window_over_forming", candidate_.window});
      return;
    }
    const Range w = candidate_.window.figure().range_si();
    const Range f = piece_.form_time.range_si();
    list_.push_back(
        {"window_over_forming",
         Figure::derived("window_over_forming", {w.value / f.value, w.low / f.high, w.high / f.low},
                         units::one(), "working window over the usual forming time",
                         {candidate_.window.figure(), piece_.form_time})});
  }

  void making() {
    const bool edged = candidate_.grade("edges") <= library::Grade::low;
    const Figure none = Figure::stated("edging", Range::exactly(0.0), units::millimetre(),
                                       {.basis = candidate_.trait("edges").origin.basis,
                                        .source = candidate_.trait("edges").origin.source,
                                        .where = "its cut edge smooths by itself"});
    list_.push_back(
        {"edging", edged ? Figure::derived("edging", piece_.perimeter.range_si(), units::millimetre(),
                                           "the whole cut edge", {piece_.perimeter})
                         : none});
    const library::StockItem& stock = *candidate_.stock;
    const Figure pieces = Figure::derived("pieces_per_sheet", Range::exactly(candidate_.pieces_on_sheet),
                                          units::one(), "cut in straight rows; nesting does better",
                                          {stock.length, stock.width, piece_.area});
    list_.push_back({"pieces_per_sheet", pieces});
    const auto cost = [&](double price) { return cost_of_piece(price, candidate_.pieces_on_sheet); };
    list_.push_back(
        {"cost",
         Figure::derived(
             "cost", {cost(stock.price.si()), cost(stock.price.low_si()), cost(stock.price.high_si())},
             stock.price.unit(), "price of the sheet over the pieces it gives", {stock.price, pieces})});
    list_.push_back(
        {"waste",
         Figure::derived("waste", Range::exactly(waste_of_piece(candidate_, piece_.area.si())),
                         units::percent(), "what straight rows leave of the sheet", {pieces, piece_.area})});
  }

  const Candidate& candidate_;
  const Piece& piece_;
  const DrawnNumbers& drawn_;
  std::vector<NamedFinding> list_;
};

}  // namespace

std::vector<NamedFinding> item_figures(const Candidate& candidate, const Piece& piece,
                                       const DrawnNumbers& drawn) {
  return FigureList(candidate, piece, drawn).list();
}

const Finding& figure_named(const std::vector<NamedFinding>& figures, std::string_view name) {
  const auto found =
      std::find_if(figures.begin(), figures.end(), [&](const NamedFinding& f) { return f.name == name; });
  if (found == figures.end()) throw std::logic_error("no figure " + std::string(name));
  return found->finding;
}

std::string_view figure_of_need(std::string_view need) {
  struct Row {
    std::string_view need;
    std::string_view figure;
  };
  static constexpr std::array<Row, 9> rows{{{"rigidity", "give_angle"},
                                            {"strength", "strength"},
                                            {"lightness", "mass"},
                                            {"ventilation", "open_area"},
                                            {"time", "window_over_forming"},
                                            {"squeeze", "squeeze"},
                                            {"edging", "edging"},
                                            {"cost", "cost"},
                                            {"waste", "waste"}}};
  for (const Row& row : rows)
    if (row.need == need) return row.figure;
  throw std::logic_error("no figure for the need " + std::string(need));
}

}  // namespace warmsheet::choice
