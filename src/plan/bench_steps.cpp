// SPDX-License-Identifier: MIT
#include "plan/bench_steps.h"

#include "library/precautions.h"

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

BenchStep prepare(const StepContext& context) {
  return {Phrase("before the bath"),
          Phrase("Read the prescription and its precautions; check the position to hold."),
          say("Bath at {}, measured with a thermometer in the middle of the water. Lay out tongs, towel, "
              "scissors{}{}{}{}{}{}.",
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

BenchStep soften(const StepContext& context) {
  return {after("{} after immersion", context.timing->half_soft),
          Phrase("Half soft: lift it, cut the outline out with long scissor strokes, put it back."),
          say("The rim bends and the middle still resists. Cutting usually takes {}.",
              context.library->bench_times.cut),
          Phrase("Half-soft sheet cuts without cracking and does not stretch out of shape.")};
}

BenchStep ready(const StepContext& context) {
  return {
      after("{} after putting it back", context.timing->ready),
      Phrase("Ready: it is soft through its whole thickness."),
      say("Counted as if it went in cold; what it kept of its heat makes it sooner. Sign: {}. Lift it by an "
          "edge with tongs over its whole width, so that it does not stretch.",
          Label(context.situation->sheet->handling.ready_sign)),
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

BenchStep form(const StepContext& context) {
  return {
      after("until {} after lifting", context.timing->closes),
      Phrase("Form it: limb in position, let it drape, stroke, do not grip."),
      say("Forming it usually takes {}. The window is {} long; when the edge stiffens, stop shaping.",
          context.form_time, context.timing->window.figure()),
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
      Phrase("Slide it off without bending it or the joint. If it must come off sooner, the prescriber "
             "says so."),
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
  Phrase detail =
      say("Round every corner, flare the ends away from the skin with a dipped edge, smooth the rim. Usually "
          "{}. ",
          context.library->bench_times.trim);
  if (context.situation->perforation.holes)
    detail.append(Phrase("Perforated edges do not finish smooth: cover them with edging. "));
  else if (context.edging)
    detail.append(Phrase("Cover the edge with edging. "));
  if (context.lining) detail.append(Phrase("Line the inside after trimming."));
  return {Phrase("when cold"), Phrase("Trim, flare and round the edges."), detail,
          Phrase("A sharp rim at a crease cuts in when the hand closes.")};
}

BenchStep strap(const StepContext& context) {
  Phrase detail;
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
      Phrase("when cold"), Phrase("Fix the straps: three points hold, no strap over a bony place."), detail,
      Phrase(
          "Force at both ends and against the joint in between holds a position with the least pressure.")};
}

BenchStep check(const StepContext& context) {
  return {Phrase("before the person leaves"),
          Phrase("Check fit, free joints, straps, skin; write down what was done."),
          say("Worn for {} in sight, then off{}: look for red marks and let them fade.",
              context.library->bench_times.check,
              sets_on_limb(context) ? Phrase(", while somebody holds the joint in the prescribed range")
                                    : Phrase("")),
          Phrase("A mark that stays shows where the load is too high.")};
}

}  // namespace

const Finding& comes_off(const heat::Timing& timing, const std::vector<std::string>& precautions) {
  return library::ask_for(library::AtBench::sets_on_limb, precautions) ? timing.set : timing.holds_shape;
}

std::vector<BenchStep> bench_steps(const StepContext& context) {
  if (!context.timing->safe_window()) return {stop(context)};
  return {prepare(context),  transfer(context), soften(context), ready(context),
          dry(context),      wait(context),     form(context),   hold(context),
          take_off(context), trim(context),     strap(context),  check(context)};
}

}  // namespace warmsheet::plan
