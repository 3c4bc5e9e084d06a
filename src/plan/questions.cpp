// SPDX-License-Identifier: MIT
#include "plan/questions.h"

namespace warmsheet::plan {
namespace {

Phrase known_or_reason(const Finding& finding) {
  return finding.known() ? Phrase(finding.figure()) : Phrase(Label(finding.reason()));
}

Question the_order() {
  return {Phrase("What does the prescription hold, in which position, and what stays free?"),
          Phrase("The prescription says it. If it does not, ask before you heat anything.")};
}

Question the_person() {
  return {Phrase("Can this person feel heat here, and is the skin whole?"),
          Phrase("Test light touch and look at the skin now. If not, plan again with that kind of skin.")};
}

Question the_bath(const StepContext& context) {
  return {Phrase("How warm is the bath, who measured it, and what does it do to a hand?"),
          say("{}, by your own thermometer in the middle of the water. It burns a bare hand after {}.",
              context.situation->bath, known_or_reason(context.timing->bath_scald))};
}

Question the_sign(const StepContext& context) {
  return {Phrase("By what sign do you see that it is ready, and about when?"),
          say("{}; after {} in the water.", Label(context.situation->sheet->handling.ready_sign),
              known_or_reason(context.timing->ready))};
}

Question the_touch(const StepContext& context) {
  if (!context.timing->safe_window())
    return {Phrase("Who feels it first, where, and not before when?"),
            Phrase("Nobody: this plan has no moment at which it may touch skin and still be shaped.")};
  return {Phrase("Who feels it first, where, and not before when?"),
          say("You, on your own inner forearm{}; not sooner than {} after lifting, and dry.",
              context.situation->liner ? Phrase(", over the same liner") : Phrase(""),
              known_or_reason(context.timing->wait))};
}

Question the_limit(const StepContext& context) {
  return {Phrase("How warm may the living layer of this skin become, and how warm does the plan make it?"),
          say("{} at most; the plan expects {}.", context.situation->skin->peak_limit,
              known_or_reason(context.timing->peak_skin))};
}

Question the_window(const StepContext& context) {
  return {Phrase("How long may you shape it, and is that enough for this design?"),
          say("{}; forming usually takes {}. When the edge stiffens, stop: reheat it rather than force it.",
              known_or_reason(context.timing->window), context.form_time)};
}

Question the_pain() {
  return {
      Phrase("What do you do at the first word or look of pain?"),
      Phrase(
          "Lift it off at once, cool the place under cool running water, look, and call your supervisor.")};
}

Question the_marks(const StepContext& context) {
  return {Phrase("When do you look at the skin afterwards, and what if a mark stays?"),
          say("After {} of wear. A mark still there {} after taking it off is a pressure place: relieve it "
              "before the person leaves.",
              context.library->bench_times.check, context.library->bench_times.red_mark)};
}

Question the_edges() {
  return {Phrase("Which creases, bones and borders must the edges stay clear of?"),
          Phrase("Show them on your own hand, then on the outline and its checks.")};
}

}  // namespace

std::vector<Question> questions_before_heat(const StepContext& context) {
  return {the_order(),        the_person(),       the_edges(),         the_bath(context), the_sign(context),
          the_touch(context), the_limit(context), the_window(context), the_pain(),        the_marks(context)};
}

}  // namespace warmsheet::plan
