// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include "base/text.h"
#include "choice/choose.h"
#include "choice/window.h"
#include "cli/command.h"
#include "cli/outline_options.h"
#include "cli/session.h"
#include "outline/estimate.h"
#include "plan/cautions.h"
#include "report/choose_report.h"

namespace warmsheet::cli {
namespace {

constexpr std::int64_t fewest_draws = 100;
constexpr std::int64_t most_draws = 100'000;

/// A whole design needs all of its measures; the girth alone needs none of it.
void draw_design(const Arguments& arguments, const library::Library& library,
                 const library::Condition& condition, bool girth_at_most, choice::PieceRequest& piece) {
  const auto named = arguments.text_if("--design");
  if (!named && girth_at_most) return;
  const std::string design = named.value_or(condition.design);
  if (design.empty())
    refuse_usage(
        "--measure",
        fmt::format("no design is known for {}, so only {} can be used", condition.id,
                    condition.piece.girth_measure.empty() ? "--girth" : condition.piece.girth_measure),
        "name one with --design, give an outline file, or the size with --area and --girth");
  piece.outline = outline_from(design, arguments, library);
  piece.form_time = library.design(design).form_time;
}

/// What gives the size of the pattern, of which there can be one: a file, an area, or a design.
void require_one_pattern(const Arguments& arguments, bool girth_at_most) {
  int ways = 0;
  for (const char* option : {"--outline", "--area", "--design"}) ways += arguments.flag(option) ? 1 : 0;
  if (ways > 1)
    refuse_usage("--outline", "the pattern is given in more than one way",
                 "one of --outline, --design, --area");
  if (!arguments.flag("--outline"))
    refuse_idle(arguments, file_options(), "is for an outline file, and none is named",
                "name one with --outline, or leave it out");
  else
    refuse_idle_file_options(arguments, arguments.texts("--outline"));
  if (!girth_at_most && !arguments.flag("--design"))
    if (arguments.flag("--outline") || arguments.flag("--area"))
      refuse_idle(arguments, design_options(), "would draw a design, and the pattern is given already",
                  "leave it out, and give the limb's girth with --girth");
}

choice::PieceRequest piece_request(const Arguments& arguments, const library::Library& library,
                                   const library::Condition& condition) {
  const outline::Measures measures = measures_from(arguments);
  outline::require_measures(library, measures);
  const auto girth = measures.find(condition.piece.girth_measure);
  const bool girth_at_most = measures.size() == (girth == measures.end() ? 0 : 1);
  require_one_pattern(arguments, girth_at_most);
  choice::PieceRequest piece;
  piece.girth = arguments.figure_if("--girth", Dimension::length, library::girth_limits_m);
  if (girth != measures.end()) {
    refuse_idle(arguments, {"--girth"},
                fmt::format("is the {}, which is measured already", spaced(condition.piece.girth_measure)),
                "leave one of the two out");
    piece.girth = girth->second;
  }
  piece.area = arguments.figure_if("--area", Dimension::area, outline::area_limits_m2);
  piece.force = arguments.figure_if("--push", Dimension::force, library::push_limits_N);
  if (const auto file = arguments.text_if("--outline"))
    piece.outline = outline_from(*file, arguments, library);
  else if (!piece.area)
    draw_design(arguments, library, condition, girth_at_most, piece);
  if (!piece.outline)
    refuse_idle(arguments, {"--side"}, "is for a pattern, and none is drawn",
                "leave it out, or give a file with --outline or a design with its measures");
  return piece;
}

/// The bath and the person, for the working windows.
heat::Request surroundings(const Arguments& arguments, const library::Library& library,
                           const library::Condition& condition) {
  heat::Request request;
  request.bath = arguments.figure_if("--bath", Dimension::temperature);
  request.room = arguments.figure_if("--room", Dimension::temperature);
  const std::string asked = plan::careful_skin(library, condition.skin, condition.precautions);
  request.skin = arguments.text_if("--skin");
  if (!request.skin && !asked.empty()) request.skin = asked;
  const std::string liner =
      arguments.text_if("--liner").value_or(plan::careful_liner(condition.liner, condition.precautions));
  if (!liner.empty() && liner != "none") request.liner = library.liner(liner).id;
  if (request.skin) static_cast<void>(library.skin(*request.skin));
  return request;
}

int list(const Arguments& arguments, Session& session, const library::Library& library) {
  constexpr const char* why = "is for one condition, and --list lists the conditions";
  constexpr const char* next = "leave out one of the two";
  refuse_idle(arguments, file_options(), why, next);
  refuse_idle(arguments, design_options(), why, next);
  refuse_idle(arguments,
              {"--condition", "--design", "--outline", "--area", "--girth", "--push", "--side", "--bath",
               "--room", "--skin", "--liner", "--draws", "--seed", "--compare"},
              why, next);
  const std::string words = join(arguments.positionals(), " ");
  return session.deliver(
      report::conditions_report(choice::find_conditions(library, words), words, stamp(library)), arguments);
}

int run(const Arguments& arguments, Session& session) {
  const library::Library library = session.load_library(arguments);
  const auto named = arguments.text_if("--condition");
  if (arguments.flag("--list")) return list(arguments, session, library);
  if (!named) refuse_usage("--condition", "is missing", "list them with: warmsheet choose --list");
  if (!arguments.positionals().empty())
    refuse_usage("", fmt::format("\"{}\" belongs to no option", clip(arguments.positionals().front(), 40)),
                 "words to search for go with --list");
  const library::Condition& condition = choice::condition_for(library, *named);
  const heat::Request bath = surroundings(arguments, library, condition);
  const choice::Choice choice = choice::choose_timed(
      library,
      {.condition = &condition,
       .piece = piece_request(arguments, library, condition),
       .draws = static_cast<int>(arguments.whole("--draws", choice::usual_draws, fewest_draws, most_draws)),
       .seed = seed_from(arguments)},
      bath);
  return session.deliver(
      report::choose_report(library, choice, bath, arguments.texts("--compare"), stamp(library)), arguments);
}

std::vector<OptionGroup> groups() {
  std::vector<OptionGroup> all{
      {"Condition",
       {{"--condition", "CONDITION", "a condition of the library, or words that fit only one"},
        {"--list", "", "list the conditions; with WORDS, those that fit"}}},
      {"Piece",
       {{"--design", "DESIGN", "drawn from the measures below"},
        {"--outline", "FILE", "an outline file or scan, distal end up"},
        {"--area", "AREA", "if only the area of the pattern is known: \"410 cm2\""},
        {"--girth", "LENGTH", "of the limb where the piece bends"},
        {"--push", "FORCE", "the push it must hold: \"20 N\""}}},
      {"Person and bath",
       {{"--skin", "SKIN", "forearm, thin, reduced; otherwise what the condition and its precautions ask"},
        {"--liner", "none|LINER", "between sheet and skin; otherwise what is usual"},
        {"--bath", "TEMPERATURE", "for example \"70 C\"; otherwise each sheet's usual bath"},
        {"--room", "TEMPERATURE", "of the air"}}},
      {"Result",
       {{"--compare", "STOCK", "put these side by side, repeatable", true},
        {"--draws", "N", "draws for the ranking"},
        {"--seed", "N", "another set of draws; the same seed gives the same result"}}}};
  for (OptionGroup& group : outline_source_options()) all.push_back(std::move(group));
  return all;
}

}  // namespace

extern const Command choose_command{
    .name = "choose",
    .summary = "the sheet for a condition and a person, ranked, with reasons",
    .about =
        "Ranks the library's stock for a condition: hard needs leave stock out with the reason, the rest is "
        "scored with all ranges drawn many times, so that a near tie shows. Stiffness, weight, window and "
        "cost are worked out for your outline, your measures, or a piece of the usual size. It advises on "
        "material; positions and schedules are usual starting figures, and the prescription overrides them.",
    .positional = "WORDS",
    .positional_help = "with --list: words to search for",
    .examples = {"warmsheet choose --list wrist", "warmsheet choose --condition carpal-tunnel",
                 "warmsheet choose --condition de-quervain --measure wrist_girth=\"160 mm\"",
                 "warmsheet choose --condition mallet-finger --area \"9 cm2\" --json",
                 ("warmsheet choose --condition scaphoid --compare elastic-clear/3.2-solid --compare "
                  "filled-steady/3.2-solid")},
    .groups = groups(),
    .run = run};

}  // namespace warmsheet::cli
