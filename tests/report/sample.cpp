// SPDX-License-Identifier: MIT
#include "report/sample.h"

#include <cmath>
#include <numbers>

namespace warmsheet::report::sample {
namespace {

using outline::Point;
using outline::Polygon;
using outline::Ring;

const Unit& unit(Dimension dimension, const char* id) {
  return *find_unit(dimension, id);
}

/// Corner-less closed curve about a centre.
Ring oval(Point centre, double half_width_mm, double half_height_mm, int points) {
  Ring ring;
  for (int i = 0; i < points; ++i) {
    const double angle = 2.0 * std::numbers::pi * i / points;
    ring.push_back(
        {centre.x_mm + half_width_mm * std::cos(angle), centre.y_mm + half_height_mm * std::sin(angle)});
  }
  return ring;
}

Polygon rectangle(double x, double y, double width, double height) {
  return Polygon::make({{x, y}, {x + width, y}, {x + width, y + height}, {x, y + height}}, {}, {});
}

Ring forearm() {
  return {{12, 0},   {68, 0},   {74, 4},   {88, 120}, {92, 165}, {90, 190}, {78, 202},
          {60, 206}, {30, 204}, {12, 196}, {4, 180},  {6, 150},  {2, 110},  {6, 5}};
}

std::vector<Caution> cautions() {
  const Figure bath = entered("bath", {343.15, 341.15, 345.15}, units::celsius());
  return {{"bath-scald", say("Bath water at {} scalds in about a second. Use tongs, never fingers.", bath)},
          {"test-first",
           say("Wipe the sheet dry and hold it to your own forearm before it touches the person: the time "
               "to wait rests on figures that nobody re-read.")},
          {"never-fold",
           say("Never fold or stack hot sheet on skin; the heat between two layers has nowhere to go.")}};
}

Steps steps() {
  const auto at = [](const char* name, Range range) {
    return say("{}", computed(name, range, units::second()));
  };
  Steps steps;
  steps.steps.push_back(
      {Phrase(), say("Heat the bath to {}.", entered("bath", {343.15, 341.15, 345.15}, units::celsius())),
       say("Stir it once and read the thermometer in the middle of the water.")});
  steps.steps.push_back({at("half_soft", {21.0, 15.2, 27.9}),
                         say("Lift a corner: it bends under its own weight."),
                         say("Turn the sheet over so that both faces heat alike.")});
  steps.steps.push_back(
      {at("ready", {64.0, 48.0, 92.0}), say("Lift it out flat on the mesh."),
       say("It has turned clear all over. Pat it dry on a towel; it sticks to itself on touch.")});
  steps.steps.push_back({at("closes", {131.0, 99.0, 172.0}), say("Last moment to shape."), Phrase()});
  return steps;
}

Table table() {
  Table table;
  table.head = {say("sheet"), say("thickness"), say("area"), say("price"), say("why")};
  const auto row = [](const char* name, double mm, double cm2, Range price, Phrase why) {
    return std::vector<Phrase>{
        Label(name), stated("thickness", Range::exactly(mm * 1e-3), units::millimetre(), Basis::handbook),
        computed("area", {cm2 * 1e-4, cm2 * 0.97e-4, cm2 * 1.04e-4}, units::square_centimetre()),
        stated("price", price, unit(Dimension::money, "EUR"), Basis::demo), std::move(why)};
  };
  table.rows = {
      row("elastic, solid", 3.2, 412.0, Range::exactly(41.5),
          say("Stiff enough for the wrist; remembers its shape.")),
      row("draping, fine holes", 2.4, 398.0, {36.0, 33.0, 39.0}, say("Drapes into the palm by itself.")),
      row("rubbery", 1.6, 377.0, Range::exactly(28.0), say("Too soft alone; line it."))};
  return table;
}

Facts facts() {
  Facts facts;
  facts.lines = {
      {say("Weight"), Finding(computed("weight", {0.148, 0.139, 0.161}, units::gram()))},
      {say("Burn damage integral"), Finding(computed("damage", {0.0004, 0.00001, 0.002}, units::one()))},
      {say("Edge finish"), say("smooth; dip the edge and rub it")},
      {say("Holds shape"), Finding::absent("the sheet stays above its freezing range under the wrap")},
      {say("Diffusivity"),
       Finding(computed("diffusivity", {1.2e-7, 1e-7, 1.4e-7}, unit(Dimension::diffusivity, "m2/s")))}};
  return facts;
}

}  // namespace

Figure entered(const char* name, Range si, const Unit& unit) {
  return Figure::entered(name, si, unit);
}

Figure stated(const char* name, Range si, const Unit& unit, Basis basis) {
  return Figure::stated(name, si, unit,
                        {.basis = basis,
                         .source = basis == Basis::handbook ? "invented-handbook" : "",
                         .where = "table 2",
                         .place = {"materials/sheets/sample.toml", 12, 5}});
}

Figure computed(const char* name, Range si, const Unit& unit) {
  const Figure film = stated("film coefficient", {400.0, 250.0, 600.0},
                             *find_unit(Dimension::film_coefficient, "W/m2K"), Basis::memory);
  const Figure thickness = entered("thickness", {3.2e-3, 3.0e-3, 3.4e-3}, units::millimetre());
  return Figure::derived(name, si, unit, "an invented rule, for this sample only", {film, thickness});
}

Document document() {
  Document document("timing", "Timing of an elastic sheet & <its> \"edges\"", cautions(),
                    {{"built in", "user: /home/bench/warmsheet"}, "5d0c9a"});
  document.inputs = {
      {"sheet", std::string("elastic-32")},
      {"label", std::string("left\twrist \x1b[31m<script>alert(1)</script> \xff\xc3")},
      {"thickness", Finding(entered("thickness", {3.2e-3, 3.0e-3, 3.4e-3}, units::millimetre()))}};
  document.results = {
      {"half_soft", computed("half_soft", {21.0, 15.2, 27.9}, units::second())},
      {"ready", computed("ready", {64.0, 48.0, 92.0}, units::second())},
      {"wait", computed("wait", {44.0, 31.0, 67.0}, units::second())},
      {"closes", computed("closes", {131.0, 99.0, 172.0}, units::second())},
      {"holds_shape", Finding::absent("the sheet stays above its freezing range under the wrap")},
      {"peak_skin", computed("peak_skin", {315.35, 314.0, 316.0}, units::celsius())}};
  document.sections = {
      {"Bench plan", {steps()}},
      {"Why these times",
       {Paragraph{say("The middle of the sheet lags behind its faces; {} of the spread comes from the bath.",
                      computed("share", Range::exactly(0.72), units::percent()))},
        plot()}},
      {"Sheets compared", {table(), facts()}},
      {"Outline", {drawing(), sheet(), sketch()}},
      {"Afterwards",
       {Bullets{{say("Look at the skin after 20 to 30 minutes of wear."),
                 Phrase(Label(std::string(120, 'x') + " & a very long word")),
                 say("Keep it away from sun, cars and dryers.")}}}}};
  document.arrays = {
      {"placements",
       {{{{"outline", std::string("wrist")},
          {"copy", std::int64_t{1}},
          {"x_mm", Coordinate{12.5}},
          {"flipped", false},
          {"reasons", std::vector<std::string>{"fits", "keeps a strip"}},
          {"area", Finding(computed("area", {0.0412, 0.04, 0.042}, units::square_centimetre()))}}}}}};
  return document;
}

Drawing drawing() {
  Drawing drawing;
  drawing.id = "outline wrist";
  drawing.title = "Outline of a wrist piece";
  drawing.description = "Flat outline, distal end up, with the thumb opening and two straps.";
  drawing.extent = {{0, 0}, {95, 210}};
  drawing.shapes.push_back({Polygon::make(forearm(), {oval({68, 165}, 9, 14, 40)}, {}), Stroke::cut, true});
  drawing.shapes.push_back({rectangle(20, 20, 40, 25), Stroke::strap, true});
  drawing.shapes.push_back({rectangle(24, 60, 30, 18), Stroke::offcut, true});
  drawing.segments = {{{4, 130}, {90, 130}, Stroke::fold},
                      {{0, -6}, {95, -6}, Stroke::dimension},
                      {{48, 0}, {48, 206}, Stroke::guide},
                      {{0, 0}, {0, 210}, Stroke::margin},
                      {{100, 0}, {100, 210}, Stroke::sheet}};
  drawing.traces = {{{{10, 8}, {50, 5}, {80, 8}}, Stroke::flare}, {{{8, 20}, {8, 120}}, Stroke::trim}};
  drawing.remarks = {
      say("wrist girth: {}", entered("wrist girth", Range::exactly(0.165), units::millimetre()))};
  drawing.notes = {{{40, 32}, "strap 50 mm", 4.0, true},
                   {{50, 110}, "skin side", 5.0, true},
                   {{40, 185}, "<distal>", 4.0, true}};
  return drawing;
}

Sketch sketch() {
  return {.id = "measure-wrist",
          .title = "wrist <girth>",
          .description = "A band across two borders.",
          .extent = {{-10, -10}, {10, 20}},
          .lines = {{{{-8, -8}, {8, -8}, {8, 18}, {-8, 18}}, Sketch::Pen::limb, true},
                    {{{-8, 0}, {8, 0}}, Sketch::Pen::mark},
                    {{{-8, 1}, {8, 1}}, Sketch::Pen::hidden}},
          .caption = say("wrist girth: around the wrist, here {}",
                         entered("wrist girth", Range::exactly(0.165), units::millimetre()))};
}

Drawing sheet() {
  Drawing drawing;
  drawing.id = "sheet-1";
  drawing.title = "Sheet 1: elastic, solid";
  drawing.description = "Two outlines placed on the sheet, with the strip worth keeping.";
  drawing.extent = {{0, 0}, {610, 457}};
  drawing.shapes.push_back({rectangle(0, 0, 610, 457), Stroke::sheet, false});
  drawing.shapes.push_back({rectangle(5, 5, 600, 447), Stroke::margin, false});
  const Polygon piece = Polygon::make(forearm(), {oval({68, 165}, 9, 14, 40)}, {});
  drawing.shapes.push_back({piece.placed(0.0, {8, 8}), Stroke::cut, true});
  drawing.shapes.push_back({piece.placed(180.0, {210, 216}), Stroke::cut, true});
  drawing.shapes.push_back({rectangle(240, 5, 365, 447), Stroke::offcut, true});
  drawing.notes = {
      {{50, 90}, "wrist 1", 5.0, true}, {{165, 120}, "wrist 2", 5.0, true}, {{420, 228}, "keep", 8.0, true}};
  return drawing;
}

Plot plot() {
  Plot plot;
  plot.id = "cooling";
  plot.title = "After lifting out";
  plot.description =
      "Temperature of the sheet's surface and of the skin below it against time since lifting.";
  plot.x_label = "seconds after lifting out";
  plot.y_label = "temperature, °C";
  Plot::Curve surface{"sheet surface", {}, {}};
  Plot::Curve skin{"skin, basal layer", {}, {}};
  for (int i = 0; i <= 600; ++i) {
    const double time_s = i;
    surface.x.push_back(time_s);
    surface.y.push_back(23.0 + 47.0 * std::exp(-time_s / 180.0));
    skin.x.push_back(time_s);
    skin.y.push_back(34.0 + 8.0 * (std::exp(-time_s / 300.0) - std::exp(-time_s / 20.0)));
  }
  plot.curves = {surface, skin};
  plot.spans = {{computed("wait", {44.0, 31.0, 67.0}, units::second()),
                 computed("closes", {131.0, 99.0, 172.0}, units::second()), "working window"}};
  plot.marks = {{computed("holds", {182.0, 140.0, 260.0}, units::second()), "holds shape"},
                {computed("felt", {150.0, 120.0, 180.0}, units::second()), "stiffening felt"},
                {computed("set", {420.0, 330.0, 540.0}, units::second()), "set"},
                {computed("cold", Range::exactly(590.0), units::second()), "as cold as the room"}};
  plot.basis_note = say("Curves for the central values; the film coefficient was {}.",
                        stated("film coefficient", {400.0, 250.0, 600.0},
                               unit(Dimension::film_coefficient, "W/m2K"), Basis::memory));
  return plot;
}

}  // namespace warmsheet::report::sample
