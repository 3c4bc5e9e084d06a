// SPDX-License-Identifier: MIT
#include <utility>

#include "plan/cautions.h"
#include "report/command_reports.h"

namespace warmsheet::report {
namespace {

Facts::Line line(Literal label, const Figure& figure) {
  return {Phrase(label), Finding(figure)};
}

/// A word with the mark of its basis, as figures have it.
Phrase marked(std::string word, const Origin& origin) {
  return Phrase(Label(std::move(word) + " [" + std::string(1, basis_mark(origin.basis)) + "]"));
}

Phrase graded(const library::GradedTrait& trait) {
  return marked(std::string(library::grade_word(trait.grade)), trait.origin);
}

Facts handling_facts(const library::Handling& h) {
  return {{{Phrase("memory"), graded(h.memory)},
           {Phrase("drape"), graded(h.drape)},
           {Phrase("resistance to stretch"), graded(h.resistance_to_stretch)},
           {Phrase("rigidity"), graded(h.rigidity)},
           {Phrase("bonding"), graded(h.bonding)},
           {Phrase("edge finish"), graded(h.edge_finish)},
           {Phrase("sign that it is ready"), marked(h.ready_sign, h.ready_sign_origin)}}};
}

Facts thermal_facts(const library::Thermal& t) {
  return {{line("density", t.density), line("conductivity", t.conductivity),
           line("specific heat, solid", t.specific_heat_solid),
           line("specific heat, melt", t.specific_heat_melt), line("latent heat", t.latent_heat),
           line("melting starts", t.melting_start), line("melting ends", t.melting_end),
           line("half-time of setting at 42 C", t.half_time_42), line("emissivity", t.emissivity)}};
}

Facts mechanical_facts(const library::Mechanical& m) {
  return {{line("modulus at 23 C", m.modulus_23), line("modulus at 37 C", m.modulus_37),
           line("yield stress", m.yield_stress), line("Poisson's ratio", m.poisson),
           line("shrinkage on setting", m.shrinkage)}};
}

Table practice_table(const library::Practice& practice) {
  const auto shown = [](const Finding& f) {
    return f.known() ? Phrase(f.figure()) : Phrase(Label("not known: " + f.reason()));
  };
  Table table{{Phrase("thickness"), Phrase("heating"), Phrase("mouldable for")}, {}};
  for (const library::PracticeTimes& times : practice.by_thickness)
    table.rows.push_back({Phrase(times.thickness), shown(times.heating), shown(times.working)});
  return table;
}

Table stock_table(const library::Sheet& sheet) {
  Table table{{Phrase("stock"), Phrase("thickness"), Phrase("perforation"), Phrase("width"), Phrase("length"),
               Phrase("price"), Phrase("pack")},
              {}};
  for (const library::StockItem& item : sheet.stock)
    table.rows.push_back({Phrase(Label(item.key())), Phrase(item.thickness), Phrase(Label(item.perforation)),
                          Phrase(item.width), Phrase(item.length), Phrase(item.price), Phrase(item.pack)});
  return table;
}

/// Every stated figure of the sheet with its origin, so that nothing about it is hidden in a mark.
Bullets origins(const library::Library& library, const std::vector<Figure>& figures) {
  Bullets bullets;
  for (const Figure& figure : figures) {
    const Origin& origin = *figure.origin();
    std::string said = std::string(basis_word(origin.basis));
    const auto source = library.sources.find(origin.source);
    if (source != library.sources.end())
      said += ": " + source->second.authors + " (" + source->second.year + "), " + source->second.title;
    if (origin.second_hand) said += " (second-hand)";
    if (!origin.where.empty()) said += "; " + origin.where;
    said += "; " + origin.place.text();
    bullets.items.push_back(say("{} = {}: {}", Label(figure.name()), figure, Label(said)));
  }
  return bullets;
}

std::vector<Figure> all_figures(const library::Sheet& s) {
  const library::Thermal& t = s.thermal;
  const library::Mechanical& m = s.mechanical;
  std::vector<Figure> all{t.density,     t.conductivity,  t.specific_heat_solid, t.specific_heat_melt,
                          t.latent_heat, t.melting_start, t.melting_end,         t.half_time_42,
                          t.emissivity,  m.modulus_23,    m.modulus_37,          m.yield_stress,
                          m.poisson,     m.shrinkage,     s.practice.bath};
  for (const library::PracticeTimes& times : s.practice.by_thickness)
    for (const Finding* finding : {&times.heating, &times.working})
      if (finding->known()) all.push_back(finding->figure());
  for (const library::StockItem& item : s.stock)
    for (const Figure* figure : {&item.thickness, &item.width, &item.length, &item.price, &item.pack})
      all.push_back(*figure);
  return all;
}

/// The figure without its bounds, for a list of one line each; the sheet's own page has them.
Figure nominal(const Figure& figure) {
  return Figure::stated(figure.name(), Range::exactly(figure.si()), figure.unit(), *figure.origin());
}

/// What there is to choose from, narrow enough for one line an item at 80 columns.
Table choice_table(const library::Sheet& sheet) {
  Table table{
      {Phrase("stock"), Phrase("thick"), Phrase("holes"), Phrase("width"), Phrase("length"), Phrase("price")},
      {}};
  for (const library::StockItem& item : sheet.stock)
    table.rows.push_back({Phrase(Label(item.id)), Phrase(nominal(item.thickness)),
                          Phrase(Label(item.perforation)), Phrase(item.width), Phrase(item.length),
                          Phrase(item.price)});
  return table;
}

/// As a bibliography gives it: who, when, what, where, and through whom if nobody here read it.
std::string entry_of(const library::Source& source) {
  std::string entry = source.authors + " (" + source.year + "): " + source.title + ". " + source.address;
  if (!source.quoted_in.empty()) entry += " (second-hand, quoted in " + source.quoted_in + ")";
  return entry;
}

}  // namespace

Document sources_report(const library::Library& library, LibraryStamp stamp) {
  Document document("sheets", "Sources of the library's figures", plan::standing_cautions(),
                    std::move(stamp));
  Bullets entries;
  RecordArray sources{"sources", {}};
  for (const auto& [id, source] : library.sources) {
    entries.items.push_back(say("{}: {}", Label(id), Label(entry_of(source))));
    sources.records.push_back({{{"id", id},
                                {"authors", source.authors},
                                {"year", source.year},
                                {"title", source.title},
                                {"address", source.address},
                                {"quoted_in", source.quoted_in}}});
  }
  document.sections = {
      {"Sources",
       {Paragraph{Phrase("Figures marked handbook name one of these by its id; sheets SHEET and --why show "
                         "which. What is marked second-hand was read only where it is quoted.")},
        std::move(entries)}}};
  document.arrays = {std::move(sources)};
  return document;
}

Document sheets_report(const library::Library& library, LibraryStamp stamp) {
  Document document("sheets", "The library of sheets", plan::standing_cautions(), std::move(stamp));
  for (const auto& [id, sheet] : library.sheets)
    document.sections.push_back(
        {sheet.name,
         {Paragraph{say("{}: family {}. {}", Label(id), Label(sheet.family), Label(sheet.about))},
          choice_table(sheet)}});
  RecordArray sheets{"sheets", {}};
  for (const auto& [id, sheet] : library.sheets) {
    std::vector<std::string> stock;
    for (const library::StockItem& item : sheet.stock) stock.push_back(item.key());
    sheets.records.push_back(
        {{{"id", id}, {"name", sheet.name}, {"family", sheet.family}, {"stock", stock}}});
  }
  document.arrays = {std::move(sheets)};
  return document;
}

Document sheet_report(const library::Library& library, const library::Sheet& sheet, LibraryStamp stamp) {
  Document document("sheets", sheet.name, plan::standing_cautions(), std::move(stamp));
  document.inputs = {{"sheet", sheet.id}};
  const std::vector<Figure> figures = all_figures(sheet);
  for (const Figure& figure : figures) {
    const std::string prefix = "sheets." + sheet.id + ".";
    document.results.push_back(
        {figure.name().substr(figure.name().find(prefix) == 0 ? prefix.size() : 0), Finding(figure)});
  }
  document.sections = {
      {"About", {Paragraph{say("{} Family: {}.", Label(sheet.about), Label(sheet.family))}}},
      {"Handling", {handling_facts(sheet.handling)}},
      {"Heat", {thermal_facts(sheet.thermal)}},
      {"Strength", {mechanical_facts(sheet.mechanical)}},
      {"Practice", {Facts{{line("usual bath", sheet.practice.bath)}}, practice_table(sheet.practice)}},
      {"Stock", {stock_table(sheet)}},
      {"Where the figures come from", {origins(library, figures)}}};
  return document;
}

}  // namespace warmsheet::report
