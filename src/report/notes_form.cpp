// SPDX-License-Identifier: MIT
#include "report/notes_form.h"

#include <fmt/format.h>

#include "report/clean_text.h"
#include "report/writers.h"

namespace warmsheet::report {
namespace {

constexpr const char* head =
    R"(# Stopwatch notes for: {label}
# Take a strip of the same sheet, never the orthosis on the limb: dip it, lift it, pat it dry, lay it flat on a rack
# with air under it. Nothing of this is laid on skin. Bath water and hot sheet burn: tongs, and the cautions of the plan.
# Take the # away from each line that you timed and write your own time in; leave the others. Then:
#   warmsheet calibrate THIS-FILE --dry-run
sheet = "{sheet}"
bath_state = "{state}"

[[note]]
id = "strip 1"
stock = "{stock}"
size = "60 cm2"        # of your strip
bath = "{bath}"          # by your thermometer, in the middle of the water
room = "{room}"
dried = {dried}
)";

constexpr const char* times =
    R"(# half_soft = "0 s"    # since immersion: the rim bends, the middle resists; the plan expects {half_soft}
# ready = "0 s"        # since immersion: {sign}; the plan expects {ready}
# stiffens = "0 s"     # since lifting: the edge begins to resist
# holds_shape = "0 s"  # since lifting: bent by hand it stays as it is
# set = "0 s"          # since lifting: hard
#
# [[note.surface]]     # if you have a surface thermometer; as many as you like
# at = "60 s"          # since lifting
# temperature = "0 C"
#
# Another strip: copy the block from [[note]] on, with another id. Two baths or two thicknesses tell more than one.
)";

std::string expected(const Finding& finding) {
  return finding.known() ? marked_value(finding.figure()) : "nothing: " + finding.reason();
}

std::string in_celsius(const Figure& temperature) {
  return plain_value(temperature.in(units::celsius()));
}

}  // namespace

std::string notes_form(const plan::Plan& plan) {
  const heat::Situation& situation = plan.situation;
  return fmt::format(head, fmt::arg("label", clean(plan.job.label)), fmt::arg("sheet", plan.sheet->id),
                     fmt::arg("state", plan.job.heat.bath_state.value_or(heat::usual_bath_state)),
                     fmt::arg("stock", plan.stock->key()), fmt::arg("bath", in_celsius(situation.bath)),
                     fmt::arg("room", in_celsius(situation.room)), fmt::arg("dried", situation.dried)) +
         fmt::format(times, fmt::arg("half_soft", expected(plan.timing.half_soft)),
                     fmt::arg("ready", expected(plan.timing.ready)),
                     fmt::arg("sign", clean(plan.sheet->handling.ready_sign)));
}

}  // namespace warmsheet::report
