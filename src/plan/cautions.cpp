// SPDX-License-Identifier: MIT
#include "plan/cautions.h"

#include <fmt/format.h>

#include <algorithm>

#include "choice/figures.h"
#include "library/precautions.h"
#include "plan/practice.h"

namespace warmsheet::plan {
namespace {

// Below this share of draws the reader is told that the push expected may bend it.
constexpr double surely_holds = 0.95;

bool among(const std::vector<std::string>& precautions, std::string_view id) {
  return std::find(precautions.begin(), precautions.end(), id) != precautions.end();
}

bool more_careful(const library::SkinKind& a, const library::SkinKind& b) {
  return a.peak_limit.si() < b.peak_limit.si();
}

Finding weakest_safety_figure(const heat::Timing& timing) {
  for (const Finding* finding : {&timing.wait, &timing.peak_skin, &timing.damage})
    if (finding->known() && finding->figure().basis() <= Basis::memory) return *finding;
  return Finding::absent("none");
}

/// One that the wait hangs on, if it is weak; else the weakest of all.
Figure weak_leaf(const Figure& result, const heat::Timing& timing) {
  for (const heat::Driver& driver : timing.drivers)
    if (driver.result == "wait" && driver.input.basis() <= Basis::memory) return driver.input;
  return result.leaves().front();
}

void add_weak_basis(std::vector<Caution>& cautions, const heat::Timing& timing) {
  const Finding weak = weakest_safety_figure(timing);
  if (!weak.known()) return;
  const Figure leaf = weak_leaf(weak.figure(), timing);
  cautions.push_back(
      {"weak-basis",
       say("The time before it may touch skin, and the skin temperature, rest on figures that "
           "nobody read in a source for this sheet (among them: {} = {}). Trust your thermometer "
           "and your own forearm, not this number.",
           Label(leaf.name()), leaf)});
}

void add_bath(std::vector<Caution>& cautions, const heat::Situation& situation, const Finding& burned_after) {
  Phrase scald = say("Bath water at {} scalds", situation.bath);
  if (burned_after.known())
    scald.append(say(": the back of a bare hand held in it is burned after about {}", burned_after.figure()));
  scald.append(
      Phrase(". Use tongs or a spatula, never fingers; keep the bath away from the edge, and children away "
             "from it."));
  cautions.push_back({"bath-scald", std::move(scald)});
}

void add_unusual_bath(std::vector<Caution>& cautions, const heat::Situation& situation) {
  if (usual_bath(situation)) return;
  cautions.push_back(
      {"unusual-bath",
       say("A bath of {} is not this sheet's usual one, {}. Cooler, it may stay hard inside; hotter, it "
           "scalds sooner, and the sheet may stretch, stick or lose its memory. Follow what came with your "
           "sheet.",
           situation.bath, situation.sheet->practice.bath)});
}

/// A wait of nothing is no leave to hurry.
Phrase wait_phrase(const heat::Situation& situation, const Figure& wait) {
  const Phrase tested = situation.liner ? Phrase("tested it on your own inner forearm, over the same liner")
                                        : Phrase("tested it on your own inner forearm");
  if (wait.si() <= 0.0)
    return say(
        "These figures ask for no wait{}. Dry it first all the same, and lay it on the person only after "
        "you have {}.",
        situation.liner ? Phrase(" under this liner") : Phrase(""), tested);
  return say(
      "Do not lay it on skin sooner than {} after lifting it out of the bath, and then only after you "
      "have {}.",
      wait, tested);
}

void add_wait(std::vector<Caution>& cautions, const heat::Situation& situation, const heat::Timing& timing) {
  if (!timing.safe_window())
    cautions.push_back({"no-safe-window",
                        say("STOP: with these settings there is no moment at which this sheet may touch skin "
                            "and can still be shaped: {}.",
                            Label(timing.window.reason()))});
  if (timing.wait.known())
    cautions.push_back({"wait-before-skin", wait_phrase(situation, timing.wait.figure())});
  if (situation.samples == 0)
    cautions.push_back(
        {"central-only",
         Phrase("Only central values were worked out, without draws: the wait before skin is then "
                "not on the safe side. Not for the bench.")});
  cautions.push_back(test_on_yourself(situation.liner.has_value()));
}

void add_handling(std::vector<Caution>& cautions, const heat::Situation& situation) {
  if (!situation.dried)
    cautions.push_back(
        {"hot-water",
         Phrase("The sheet is planned wet: hot water runs into the hollow of the limb, soaks a liner "
                "and burns before the sheet does. Pat it dry.")});
  else
    cautions.push_back(
        {"hot-water",
         Phrase("Wipe the hot water off both faces, out of holes and folds, before it goes near skin.")});
  if (situation.layers > 1)
    cautions.push_back(
        {"folded", Phrase("STOP: folded or doubled sheet on skin stays hot far longer than one layer. Fold "
                          "and bond it away from the body, and let it cool before it goes on.")});
  else
    cautions.push_back(
        {"never-fold", Phrase("Never fold, roll or stack hot sheet on skin: the middle stays hot long after "
                              "the outside feels cool.")});
  if (situation.reheat != heat::Reheat::whole)
    cautions.push_back(
        {"reheat-off-the-body",
         Phrase("Reheat it off the body, over the bath: hot water runs under a piece that is worn. What was "
                "reheated waits before skin like a whole sheet.")});
  if (situation.wrap)
    cautions.push_back(
        {"wrapped-hot", say("The plan holds it under {}: a wrap over hot sheet keeps the heat on the skin. "
                            "Open it at once if it feels too warm.",
                            Label(situation.wrap->name))});
  else
    cautions.push_back(
        {"never-insulate", Phrase("Do not insulate hot sheet: no towel, pillow or thick wrap over it.")});
  if (!situation.liner)
    cautions.push_back(
        {"no-liner", Phrase("No liner is planned under the sheet. A layer of stockinette lowers the skin "
                            "temperature and keeps hair and skin from sticking.")});
  cautions.push_back(
      {"hold-watch",
       Phrase("Stay with it while it is warm. Lift it off at the first word or look of pain.")});
}

/// Kinds that are more careful than the one planned; every one of them for a kind of the user's own. The
/// tester's forearm comes first: it feels the sheet before any other skin.
Phrase skin_to_plan_again(const std::string& planned) {
  Phrase text;
  if (planned == library::reduced_skin) return text;
  if (planned != library::thin_skin && planned != heat::usual_skin)
    text.append(
        say(" Your own forearm, on which you test, may ask for a longer wait: plan with the skin kind \"{}\" "
            "too, and test no sooner than that says.",
            Label(heat::usual_skin)));
  if (planned != library::thin_skin)
    text.append(
        Phrase(" For a child, an elder, swollen or fragile skin plan again with the skin kind \"thin\"."));
  return text.append(Phrase(
      " For reduced sensation or circulation, or a graft, plan again with the skin kind \"reduced\"."));
}

void add_skin(std::vector<Caution>& cautions, const heat::Situation& situation) {
  cautions.push_back({"skin-kind", say("Planned for {}, limit {} at the living layer of the skin.{}",
                                       Label(situation.skin->name), situation.skin->peak_limit,
                                       skin_to_plan_again(situation.skin->id))});
}

}  // namespace

Caution test_on_yourself(bool lined) {
  Phrase text(
      "Test on yourself first: the person who tests is you, on your own forearm, every time, before the "
      "patient.");
  if (lined) text.append(Phrase(" Test over the same liner: on bare skin it wants a longer wait."));
  return {"test-on-yourself", std::move(text)};
}

std::string careful_skin(const library::Library& library, std::string named,
                         const std::vector<std::string>& precautions) {
  for (const library::Precaution& precaution : library::precautions()) {
    if (precaution.skin.empty() || !among(precautions, precaution.id)) continue;
    if (named.empty() || more_careful(library.skin(precaution.skin), library.skin(named)))
      named = precaution.skin;
  }
  return named;
}

std::string careful_liner(std::string named, const std::vector<std::string>& precautions) {
  if (named.empty() && library::ask_for_liner(precautions)) named = library::usual_liner;
  return named;
}

std::vector<Caution> skin_cautions(const library::Library& library, const library::SkinKind& planned,
                                   const std::vector<std::string>& precautions) {
  const std::string asked = careful_skin(library, planned.id, precautions);
  if (asked == planned.id) return {};
  return {{"skin-too-mild",
           say("This is worked out for {}, though the precautions ask for {}: the wait is too short for such "
               "skin. Name the skin kind \"{}\", or leave it out.",
               Label(planned.name), Label(library.skin(asked).name), Label(asked))}};
}

std::vector<Caution> haste_cautions(const Finding& window, const Figure& form_time) {
  if (!window.known() || window.figure().si() >= form_time.si()) return {};
  return {
      {"short-window",
       say("This piece usually takes {} to shape, and the window is {}. Rehearse it cold, have a second pair "
           "of hands, or take a sheet with a longer window; when it stiffens, stop and reheat it: the wait "
           "and "
           "your own test then begin anew.",
           form_time, window.figure())}};
}

std::vector<Caution> calibration_cautions() {
  return {
      {"strips-not-skin",
       Phrase("Dip strips for this and leave them on a rack; nothing of it is laid on skin. Bath water "
              "scalds within a second: tongs, never fingers.")},
      {"skin-not-fitted",
       Phrase("A fit to strips tells how your sheet warms and sets, and nothing about skin. The wait before "
              "skin rests on the library's skin and contact as before: test on your own forearm, every "
              "time, before the patient.")}};
}

std::vector<Caution> heat_cautions(const heat::Situation& situation, const heat::Timing& timing,
                                   const library::BenchTimes& bench_times) {
  std::vector<Caution> cautions;
  add_wait(cautions, situation, timing);
  add_bath(cautions, situation, timing.bath_scald);
  add_unusual_bath(cautions, situation);
  add_handling(cautions, situation);
  add_skin(cautions, situation);
  add_weak_basis(cautions, timing);
  cautions.push_back(
      {"skin-check",
       say("Have it worn for {} where you can see it, take it off, and look. A red mark still there {} "
           "after taking it off is a pressure place: relieve it before the person leaves, and say "
           "whom to call if one comes back at home.",
           bench_times.check, bench_times.red_mark)});
  cautions.push_back(
      {"keep-cool",
       Phrase("The finished orthosis softens again in heat: no hot water, sun through glass, parked car, "
              "radiator or dryer, and no open flame.")});
  return cautions;
}

std::vector<Caution> precaution_cautions(const std::vector<std::string>& precautions) {
  std::vector<Caution> cautions;
  for (const library::Precaution& precaution : library::precautions())
    if (among(precautions, precaution.id)) cautions.push_back(precaution.caution);
  return cautions;
}

Phrase stated(const library::Statement& statement) {
  return Phrase(Label(fmt::format("{} [{}]", statement.says, basis_mark(statement.origin.basis))));
}

std::vector<Caution> condition_cautions(const library::Condition& condition) {
  std::vector<Caution> cautions{
      {"prescription-overrides",
       say("Positions and schedules for {} are usual starting figures; the prescription overrides them.",
           Label(condition.name))}};
  for (const library::ConditionCaution& own : condition.cautions)
    cautions.push_back({own.id, stated(own.text)});
  return cautions;
}

std::vector<Caution> design_cautions(const library::Library& library, const library::Condition& condition,
                                     const outline::Outline& outline) {
  if (!outline.design || condition.design.empty() || *outline.design == condition.design) return {};
  return {{"another-design",
           say("{} is usually made as {}, and this plan draws {}. What is usually held: {}; what stays free: "
               "{}. Check that this design does so, and that the prescriber wants it.",
               Label(condition.name), Label(library.design(condition.design).name),
               Label(library.design(*outline.design).name), Label(condition.held.says),
               Label(condition.stays_free.says))}};
}

std::vector<Caution> bath_cautions(const heat::Situation& situation) {
  std::vector<Caution> cautions;
  add_bath(cautions, situation, Finding::absent("not worked out"));
  add_unusual_bath(cautions, situation);
  return cautions;
}

std::vector<Caution> choice_cautions(const choice::Choice& choice, const library::StockItem& taken,
                                     const std::vector<std::string>& precautions) {
  std::vector<Caution> cautions;
  if (const choice::ExcludedItem* out = choice.left_out(taken)) {
    Phrase text = say("{} does not meet what this condition usually asks: ", Label(taken.key()));
    for (std::size_t i = 0; i < out->lacks.size(); ++i)
      text.append(i == 0 ? out->lacks[i] : say("; {}", out->lacks[i]));
    text.append(Phrase(". Take it only for a reason of your own."));
    cautions.push_back({"stock-left-out", std::move(text)});
  }
  if (choice.piece.traced)
    cautions.push_back(
        {"distal-end-up",
         Phrase("How stiff a traced pattern makes the piece is worked out as if its distal end lay "
                "up in the file. Look at its drawing; if it lies another way, turn the file "
                "before you rely on this choice.")});
  const choice::RankedItem* item = choice.place_of(taken);
  if (!item) return cautions;
  const Figure holds = choice::figure_named(item->figures, "holds").figure();
  if (holds.si() < surely_holds)
    cautions.push_back(
        {"may-bend", say("{} takes the push of {} in only {} of the draws. Press it by hand before "
                         "the person leaves; if it stays bent, take a stiffer one.",
                         Label(taken.key()), choice.piece.force, holds)});
  const bool child = std::find(precautions.begin(), precautions.end(), "child") != precautions.end();
  if (child && choice.piece.force.same_node(choice.condition->piece.force))
    cautions.push_back(
        {"adult-push", say("The push of {} that it must hold is an adult's, and a child pushes "
                           "less: a lighter sheet may do. State the push you expect with "
                           "push = \"... N\".",
                           choice.piece.force)});
  cautions.push_back(
      {"stiffness-is-compared",
       say("Stiffness is worked out for a trough that keeps its section (weakest basis: {}). A real one "
           "spreads and gives more: use it to compare sheets, and test the orthosis itself by hand.",
           Label(std::string(
               basis_word(choice::figure_named(item->figures, "give_angle").figure().basis()))))});
  return cautions;
}

std::vector<Caution> outline_cautions(const outline::Outline& outline) {
  std::vector<Caution> cautions;
  Phrase found;
  for (const outline::RuleCheck& check : outline.checks) {
    if (check.kept) continue;
    if (check.id == outline::is_not_check)
      cautions.push_back({"not-for-this-person", say("{}: {}.", Label(outline.name), check.says)});
    else
      found = found.empty() ? check.says : say("{}; {}", found, check.says);
  }
  if (!found.empty())
    cautions.push_back(
        {"look-before-cutting", say("Look before you cut {}: {}.", Label(outline.name), found)});
  return cautions;
}

std::vector<Caution> measuring_cautions() {
  return {{"measuring-moves-nothing", Phrase(Label(measuring_moves_nothing))}};
}

std::vector<Caution> cutting_cautions() {
  return {
      {"sharp-and-hot-tools",
       Phrase("Cut away from your hand; a knife slips on a cold sheet. A heat gun burns skin and sheet in "
              "seconds: never use it on the body.")}};
}

std::vector<Caution> standing_cautions() {
  return {{"prescription-first",
           Phrase("The prescriber's orders and precautions come first; nothing here sets a position, a "
                  "schedule or a diagnosis.")},
          {"licensed-practice",
           Phrase("Local codes and licensed practice govern who may make and fit an orthosis.")},
          {"estimate", Phrase("This is an estimate from the figures shown; each says where it comes from.")}};
}

}  // namespace warmsheet::plan
