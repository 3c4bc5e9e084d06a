// SPDX-License-Identifier: MIT
#include "report/sections.h"

#include <utility>

#include "base/text.h"
#include "plan/cautions.h"
#include "report/drawings.h"
#include "report/drivers_section.h"
#include "report/plots.h"

namespace warmsheet::report {
namespace {

Facts::Line line(Literal label, const Finding& finding) {
  return {Phrase(label), finding};
}

Section skin_section(const heat::Situation& situation, const heat::Timing& timing) {
  const Paragraph clocks{Phrase(
      "half soft and ready count from immersion in the bath; wait, closes, holds shape and set from lifting "
      "out of it; the window is the time from wait to closes.")};
  const Literal beyond = situation.reheat == heat::Reheat::spot
                             ? Literal("it softens beyond the wetted spot by")
                             : Literal("dipped in part, it softens beyond the waterline by");
  Facts facts{{line("highest skin temperature", timing.peak_skin),
               line("limit for this skin", situation.skin->peak_limit), line("burn damage", timing.damage),
               line("limit", situation.skin->damage_limit),
               line("back of a bare hand in the bath burns after", timing.bath_scald),
               line("thick skin of its palm, no other, burns after", timing.palm_scald),
               line("bath cools by", timing.bath_drop), line(beyond, timing.edge_reach)}};
  return {"Clocks, skin and bath", {clocks, facts}};
}

Section practice_section(const std::vector<plan::PracticeComparison>& practice) {
  Bullets bullets;
  for (const plan::PracticeComparison& comparison : practice) {
    const auto shown = [](const Finding& f) {
      return f.known() ? Phrase(f.figure()) : Phrase(Label(f.reason()));
    };
    bullets.items.push_back(say("{}: model {}; practice {}. Verdict: {}.", Label(comparison.what),
                                shown(comparison.model), shown(comparison.practice), comparison.verdict));
  }
  return {"Practice beside the model", {bullets}};
}

/// A pattern for the wrong hand fits nobody, so it is said for which one it is.
Phrase made_for(const outline::Outline& outline) {
  if (!outline.side) return Phrase("not known: it is drawn as it lies in its file, outer face up");
  const Label side(outline::side_word(*outline.side));
  if (outline.design) return say("{} {}", side, Label(outline.body_part));
  if (!outline.turned_over) return say("{} side, as it lies in its file, outer face up", side);
  return say("{} side, turned over from the {} one of its file", side,
             Label(outline::side_word(outline::other_side(*outline.side))));
}

Bullets lines_list(const outline::Outline& outline) {
  Bullets bullets;
  for (const outline::WorkLine& line : outline.lines) {
    Phrase item = say("{}, {} long", Label(line.name), line.length);
    if (line.inset) item.append(say(", {} from the edge", *line.inset));
    bullets.items.push_back(say("{}: {}", item, Label(line.why)));
  }
  return bullets;
}

Bullets checks_list(const outline::Outline& outline, Detail detail) {
  Bullets checks;
  for (const outline::RuleCheck& check : outline.checks)
    if (detail == Detail::whole || !check.kept)
      checks.items.push_back(say("{} {}", check.kept ? Phrase("OK:") : Phrase("LOOK:"), check.says));
  if (detail == Detail::to_act_on && checks.items.size() < outline.checks.size())
    checks.items.push_back(
        checks.items.empty()
            ? Phrase("OK: it keeps all the rules of its design, which the explained plan lists.")
            : Phrase("OK: it keeps the other rules of its design, which the explained plan lists."));
  return checks;
}

}  // namespace

std::vector<Caution> with_standing(std::vector<Caution> cautions) {
  for (Caution& caution : plan::standing_cautions()) cautions.push_back(std::move(caution));
  return cautions;
}

std::vector<Input> timing_inputs(const heat::Situation& s) {
  std::vector<Input> inputs{{"sheet", s.sheet->id},
                            {"thickness", Finding(s.thickness)},
                            {"perforation", s.perforation.id},
                            {"area", Finding(s.area)},
                            {"bath", Finding(s.bath)},
                            {"bath_water", Finding(s.bath_water)},
                            {"film", Finding(s.film)},
                            {"start", Finding(s.start)},
                            {"room", Finding(s.room)},
                            {"dried", std::string(s.dried ? "yes" : "no")},
                            {"skin", s.skin->id}};
  inputs.push_back({"liner", s.liner ? s.liner->id : "none"});
  inputs.push_back({"wrap", s.wrap ? s.wrap->id : "none"});
  if (s.lifted) inputs.push_back({"lifted", Finding(*s.lifted)});
  if (s.crystallised) inputs.push_back({"crystallised", Finding(*s.crystallised)});
  if (s.reheat != heat::Reheat::whole)
    inputs.push_back({"reheat", s.reheat == heat::Reheat::edge ? "edge" : "spot"});
  if (s.upright) inputs.push_back({"upright", "yes"});
  inputs.push_back({"layers", std::to_string(s.layers)});
  inputs.push_back({"samples", std::to_string(s.samples)});
  inputs.push_back({"seed", std::to_string(s.seed)});
  return inputs;
}

std::vector<Section> timing_sections(const heat::Situation& situation, const heat::Timing& timing,
                                     const std::vector<plan::PracticeComparison>& practice, Detail detail) {
  std::vector<Section> sections{skin_section(situation, timing), practice_section(practice)};
  if (!timing.drivers.empty()) sections.push_back(drivers_section(timing.drivers, detail));
  Section curves{"Curves", {}};
  for (Plot& plot : timing_plots(timing)) curves.blocks.emplace_back(std::move(plot));
  sections.push_back(std::move(curves));
  return sections;
}

Section outline_section(const outline::Outline& outline, Detail detail) {
  Facts facts{{{Phrase("made for"), made_for(outline)},
               line("area", outline.area),
               line("width", outline.width),
               line("height", outline.height),
               line("edge to cut and finish", outline.perimeter),
               line("holes", outline.holes)}};
  for (const outline::StrapPlace& strap : outline.straps)
    facts.lines.push_back({Phrase(Label(strap.name)), Finding(strap.length)});
  if (!outline.is_not.empty()) facts.lines.push_back({Phrase("it is not"), Phrase(Label(outline.is_not))});
  Section section{"Outline", {facts}};
  if (!outline.lines.empty()) section.blocks.emplace_back(lines_list(outline));
  if (!outline.checks.empty()) section.blocks.emplace_back(checks_list(outline, detail));
  if (!outline.unused.empty())
    section.blocks.emplace_back(
        Paragraph{say("Measures given and not needed for it: {}.", Label(join(outline.unused, ", ")))});
  section.blocks.emplace_back(outline_drawing(outline));
  return section;
}

Facts facts_of(const std::vector<NamedFinding>& findings) {
  Facts facts;
  for (const NamedFinding& finding : findings) {
    facts.lines.push_back({Phrase(Label(spaced(finding.name))), finding.finding});
  }
  return facts;
}

}  // namespace warmsheet::report
