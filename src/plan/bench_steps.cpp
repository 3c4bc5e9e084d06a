// SPDX-License-Identifier: MIT
#include "plan/bench_steps.h"

#include "library/precautions.h"
#include "plan/cautions.h"

namespace warmsheet::plan {
namespace {

/// \pre a plan with a safe window, in which every time is known
Phrase after(Literal clock, const Finding& time) {
  return say(clock, time.figure());
}

/// ", stockinette": one more thing to lay out.
Phrase listed(const std::optional<library::Covering>& covering) {
  return covering ? Phrase(Label(", " + covering->name)) : Phrase("");
}

/// A plan whose end cannot be reached safely is not begun: the page goes to the bench by itself.
BenchStep stop(const StepContext& context) {
  return {Phrase("before the bath"), Phrase("STOP: do not heat this sheet for a person."),
          say("The reason: {}. Change the plan, and begin when it shows a window.",
              Label(context.timing->window.reason())),
          Phrase("The steps at the bench follow from a safe window, and this plan has none.")};
}

bool sets_on_limb(const StepContext& context) {
  return library::ask_for(library::AtBench::sets_on_limb, context.precautions);
}

bool wrapped_on(const StepContext& context) {
  return library::ask_for(library::AtBench::wrapped_on, context.precautions);
}

/// Edges with holes do not finish smooth.
bool wants_edging(const StepContext& context) {
  return context.edging || context.situation->perforation.holes.has_value();
}

/// Where the shell is off and the joint is free.
Phrase held_meanwhile(const StepContext& context) {
  return sets_on_limb(context) ? Phrase("While it is off, somebody holds the joint in the prescribed range. ")
                               : Phrase("");
}

BenchStep prepare(const StepContext& context) {
  return {
      Phrase("before the bath"),
      Phrase("Read the prescription and its precautions; check the position to hold."),
      say("Bath at {}, measured with a thermometer in the middle of the water. Lay out a marker, knife and "
          "straight edge, scissors, tongs, towel{}{}{}{}{}{}.",
          context.situation->bath,
          library::ask_for_dressing(context.precautions) ? Phrase(", a dressing") : Phrase(""),
          listed(context.situation->liner), listed(context.situation->wrap),
          wants_edging(context) ? Phrase(", edging") : Phrase(""),
          context.lining ? Phrase(", lining") : Phrase(""),
          wrapped_on(context) ? Phrase(", a gauze wrap, and straps for later") : Phrase(" and straps")),
      Phrase("A bath a few degrees off moves every time below.")};
}

BenchStep transfer(const StepContext& context) {
  Phrase detail("Score a cold sheet with a knife along a straight edge and break it over the table edge.");
  if (context.outline != nullptr) {
    detail =
        say("Trace the outline ({} wide, {} long) as drawn in the cut list, mark top and skin side, and cut "
            "the blank round it: score the cold sheet with a knife along a straight edge and break it over "
            "the table edge.",
            context.outline->width, context.outline->height);
  }
  if (context.copies > 1)
    detail.append(
        Phrase(" Outlines that no straight cut parts stay together in one blank, as far as the bath takes "
               "it, and are parted with scissors when they are half soft."));
  return {
      Phrase("before the bath"), Phrase("Transfer the outline and cut the blank."), detail,
      Phrase("A cold sheet cracks under scissors; a blank that fits the bath lies flat and warms evenly.")};
}

bool worn_under(const StepContext& context) {
  return context.situation->liner || context.lining || library::ask_for_dressing(context.precautions);
}

/// The wait is worked out with the liner in place, and a soft sheet leaves no time for it.
BenchStep dress(const StepContext& context) {
  Phrase under("On it: ");
  auto then = [&under, first = true](const Phrase& more) mutable {
    under.append(first ? more : say(", then {}", more));
    first = false;
  };
  if (library::ask_for_dressing(context.precautions)) then(Phrase("a dressing"));
  if (context.lining) then(Phrase("padding as thick as the lining"));
  if (context.situation->liner) then(Phrase(Label(context.situation->liner->name)));
  under.append(Phrase("; smooth, without a fold, longer than the piece."));
  if (context.lining) under.append(Phrase(" A lining in what was formed without it makes it tight."));
  if (sets_on_limb(context)) under.append(Phrase(" Somebody holds the joint in the prescribed range."));
  return {Phrase("before the bath"), Phrase("Put on the limb what lies under the sheet."), under,
          Phrase("The wait counts on it, a fold presses, and a soft sheet leaves no time for it.")};
}

BenchStep soften(const StepContext& context) {
  return {after("{} after immersion", context.timing->half_soft),
          Phrase("Half soft: lift it, cut the outline out with long scissor strokes, put it back."),
          say("The rim bends and the middle still resists. Cutting usually takes {}.",
              context.library->bench_times.cut),
          Phrase("Half-soft sheet cuts without cracking and does not stretch out of shape.")};
}

BenchStep ready(const StepContext& context) {
  const library::Handling& handling = context.situation->sheet->handling;
  return {
      after("{} after putting it back", context.timing->ready),
      Phrase("Ready: it is soft through its whole thickness."),
      say("Counted as if it went in cold; what it kept of its heat makes it sooner. Sign: {}. Lift it by an "
          "edge with tongs over its whole width, so that it does not stretch.{}",
          Label(handling.ready_sign),
          handling.bonding.grade >= library::Grade::high
              ? Phrase(" It bonds where it touches itself: keep its faces apart.")
              : Phrase("")),
      Phrase("The middle of the thickness is the last part to melt; a hard core springs back on the limb.")};
}

BenchStep dry(const StepContext& context) {
  return {Phrase("at once after lifting"),
          context.situation->dried
              ? Phrase("Lay it on a dry towel, pat both faces dry and leave it lying there.")
              : Phrase("Let the water run off both faces."),
          Phrase("Look into perforations and folds: water hides there."),
          Phrase("Hot water passes more heat to skin than the sheet itself.")};
}

Phrase wait_clock(const Finding& wait) {
  return wait.figure().si() <= 0.0 ? Phrase("once it is dry") : after("{} after lifting", wait);
}

BenchStep wait(const StepContext& context) {
  return {wait_clock(context.timing->wait),
          context.situation->liner
              ? Phrase("Test on your own inner forearm, over the same liner; only then on the person.")
              : Phrase("Test on your own inner forearm; only then on the person."),
          say("Laid on now and left there, the living layer of the skin should reach {} at most.",
              context.timing->peak_skin.figure()),
          Phrase("The surface cools first; heat from the middle follows after it lies on the skin.")};
}

/// Soft sheet takes a bubble or a flare, set sheet does not: what the condition asks of it stands here too.
Phrase asked_while_forming(const StepContext& context) {
  Phrase asked;
  if (context.condition == nullptr) return asked;
  for (const library::ConditionCaution& caution : context.condition->cautions)
    if (caution.while_forming) asked.append(say(" {}", stated(caution.text)));
  return asked;
}

BenchStep form(const StepContext& context) {
  return {
      after("until {} after lifting", context.timing->closes),
      Phrase("Form it: limb in position, let it drape, stroke, do not grip."),
      say("Forming it usually takes {}. The window is {} long, your test within it; when the edge stiffens, "
          "stop shaping. What is heated again waits and is tested again.{}",
          context.form_time, context.timing->window.figure(), asked_while_forming(context)),
      Phrase("Finger pressure leaves dents that become pressure places; shaping after it stiffens stores a "
             "spring that pulls it off shape.")};
}

BenchStep hold(const StepContext& context) {
  const std::optional<library::Covering>& wrap = context.situation->wrap;
  return {after("until {} after lifting", comes_off(*context.timing, context.precautions)),
          Phrase("Hold still."),
          wrap ? say("Keep the position under {}; open it at once if it feels too warm.", Label(wrap->name))
               : Phrase("Keep the position; do not wrap it to make it quicker or to free your hands while it "
                        "is hot."),
          sets_on_limb(context)
              ? say("It carries its own weight {} after lifting, and gives under a push until it is set.",
                    context.timing->holds_shape.figure())
              : Phrase("Half of the crystals have formed: it carries its own weight.")};
}

/// What must not move a joint goes on and off as a firm shell.
BenchStep take_off_set(const StepContext& context) {
  return {
      after("from {} after lifting", context.timing->set),
      Phrase("Mark the trim lines; only now that it is set take it off, while somebody holds the joint in "
             "the prescribed range."),
      Phrase("Slide it off without bending it or the joint. Pain or burning brings it off at once, soft as "
             "it is, with the joint held."),
      Phrase("Lifted off while it gives, it takes the joint with it.")};
}

/// Elastic families shrink towards what they were before they were drawn over the limb.
Phrase shrinks(const StepContext& context) {
  return context.situation->sheet->family == "elastic"
             ? Phrase(
                   " This sheet is elastic and may shrink: leave it on the limb until it is set where the "
                   "person bears it.")
             : Phrase("");
}

BenchStep take_off(const StepContext& context) {
  if (sets_on_limb(context)) return take_off_set(context);
  return {
      after("from {} after lifting", context.timing->holds_shape),
      Phrase("Mark the trim lines, take it off with care, and let it set in shape."),
      say("Left in the air it is set {} after lifting; off the limb, cold water makes it firm sooner. Until "
          "then support its shape.{}",
          context.timing->set.figure(), shrinks(context)),
      Phrase("It shrinks a little until it is set: a closed circle taken off too late is hard to open, one "
             "taken off too early closes in.")};
}

BenchStep trim(const StepContext& context) {
  Phrase detail = held_meanwhile(context).append(
      say("Round every corner, flare the ends away from the skin with a dipped edge, smooth the rim. Usually "
          "{}. ",
          context.library->bench_times.trim));
  if (context.situation->perforation.holes)
    detail.append(Phrase("Perforated edges do not finish smooth: cover them with edging. "));
  else if (context.edging)
    detail.append(Phrase("Cover the edge with edging. "));
  if (context.lining) detail.append(Phrase("Line the inside."));
  return {Phrase("when cold"), Phrase("Trim, flare and round the edges."), detail,
          Phrase("A sharp rim at a crease cuts in when the hand closes.")};
}

/// Three points need two straps and the shell between them.
Phrase fix_straps(const StepContext& context) {
  if (context.outline != nullptr && context.outline->straps.size() == 1)
    return Phrase("Fix the strap, not over a bony place.");
  return Phrase("Fix the straps: three points hold, no strap over a bony place.");
}

BenchStep strap(const StepContext& context) {
  Phrase detail = held_meanwhile(context);
  if (context.outline != nullptr)
    for (const outline::StrapPlace& place : context.outline->straps)
      detail.append(say("{}: {} of {}. ", Label(place.name), place.length,
                        Label(context.library->fixing(place.fixing).name)));
  if (context.outline == nullptr || context.outline->straps.empty())
    detail.append(
        Phrase("The pattern places none: choose their width and places, and cut them to the limb. "));
  detail.append(say("Usually {}.", context.library->bench_times.strap));
  if (wrapped_on(context))
    return {Phrase("when cold"),
            Phrase("Wrap it on with gauze over the dressing; no strap until the prescriber allows it."),
            say("Straps for then: {}", detail),
            Phrase("A strap shears a graft and dams a swelling; a wrap gives with it.")};
  return {
      Phrase("when cold"), fix_straps(context), detail,
      Phrase(
          "Force at both ends and against the joint in between holds a position with the least pressure.")};
}

BenchStep check(const StepContext& context) {
  return {
      Phrase("before the person leaves"),
      wrapped_on(context) ? Phrase("Check fit, free joints, wrap, skin; write down what was done.")
                          : Phrase("Check fit, free joints, straps, skin; write down what was done."),
      say("Fingertips warm, of their usual colour and feeling, pink again soon after a press? Worn for {} "
          "in sight, then off{}: look for red marks and let them fade.",
          context.library->bench_times.check,
          sets_on_limb(context) ? Phrase(", while somebody holds the joint in the prescribed range")
                                : Phrase("")),
      Phrase("A mark that stays shows where the load is too high; cold, pale, blue or tingling tips show "
             "that it is too "
             "tight.")};
}

}  // namespace

const Finding& comes_off(const heat::Timing& timing, const std::vector<std::string>& precautions) {
  return library::ask_for(library::AtBench::sets_on_limb, precautions) ? timing.set : timing.holds_shape;
}

std::vector<BenchStep> bench_steps(const StepContext& context) {
  if (!context.timing->safe_window()) return {stop(context)};
  std::vector<BenchStep> steps{prepare(context), transfer(context)};
  if (worn_under(context)) steps.push_back(dress(context));
  for (const auto step : {soften, ready, dry, wait, form, hold, take_off, trim, strap, check})
    steps.push_back(step(context));
  return steps;
}

}  // namespace warmsheet::plan
