// SPDX-License-Identifier: MIT
#include "cli/situation_options.h"

#include "base/quantity.h"
#include "heat/chain.h"

namespace warmsheet::cli {
namespace {

constexpr std::int64_t most_samples = 100'000;
// As long as the bath is followed.
constexpr Limits lifted_s{0.0, heat::longest_run_s};
// A test strip to a piece for the whole trunk.
constexpr Limits blank_area_m2{1e-4, 2.0};

/// "200 x 300 mm" or "410 cm2": the area of one face of the blank.
std::optional<Figure> area_of(const Arguments& arguments) {
  const auto text = arguments.text_if("--size");
  if (!text) return std::nullopt;
  if (!is_size(*text)) return arguments.figure_if("--size", Dimension::area, blank_area_m2);
  try {
    const WrittenSize size = parse_size(*text);
    const double area_m2 = size.width.si * size.height.si;
    check_limits("--size", area_m2, units::square_centimetre(), blank_area_m2);
    return Figure::entered("size", Range::exactly(area_m2), units::square_centimetre(),
                           Place{"--size", 0, 0});
  } catch (const Failure& failure) {
    refuse_usage("--size", failure.problems().front().message, failure.problems().front().hint);
  }
}

heat::Reheat reheat_of(const Arguments& arguments) {
  const std::string part = arguments.choice_if("--reheat", {"whole", "edge", "spot"}).value_or("whole");
  if (part == "edge") return heat::Reheat::edge;
  return part == "spot" ? heat::Reheat::spot : heat::Reheat::whole;
}

}  // namespace

std::vector<OptionGroup> situation_option_groups() {
  return {
      {"Sheet",
       {{"--sheet", "SHEET", "a sheet of the library (required)"},
        {"--thickness", "LENGTH", "for example \"3.2 mm\" or \"1/8 in\""},
        {"--perforation", "PERFORATION", "solid, micro, mini, maxi"},
        {"--size", "SIZE", "of the blank: \"200 x 300 mm\" or \"410 cm2\""},
        {"--layers", "N", "2 if it is folded or doubled"}}},
      {"Bath and room",
       {{"--bath", "TEMPERATURE", "for example \"70 C\" or \"158 F\""},
        {"--bath-state", "STATE", "still, floating or stirred"},
        {"--bath-water", "VOLUME", "no heater: so much water cools as it gives heat, \"3 l\""},
        {"--film", "H", "film coefficient, overrides the state: \"400 W/m2K\""},
        {"--start", "TEMPERATURE", "of the sheet before the bath"},
        {"--room", "TEMPERATURE", "of the air"},
        {"--dried", "yes|no", "patted dry when lifted out"},
        {"--lifted", "TIME", "lifted out so long after immersion, soaked or not: \"40 s\""},
        {"--reheat", "whole|edge|spot", "whole; edge (or end) dipped; spot with water spooned over one face"},
        {"--crystallised", "SHARE", "a second dip: how far the piece had set again, \"30 %\""},
        {"--upright", "yes|no", "held by an edge in the air instead of lying on a towel"}}},
      {"Skin",
       {{"--skin", "SKIN",
         "forearm if none is named; adult (trunk), palm, thin (child, elder, swollen, fragile), reduced "
         "(sensation, circulation, graft)"},
        {"--liner", "LINER", "between sheet and skin"},
        {"--wrap", "WRAP", "over the sheet while it sets"}}},
      {"Ranges",
       {{"--samples", "N", "draws for the ranges, 20 or more; 0: central values only"},
        {"--seed", "N", "another set of draws; the same seed gives the same result"}}}};
}

heat::Request situation_request(const Arguments& arguments) {
  heat::Request request;
  const auto sheet = arguments.text_if("--sheet");
  if (!sheet) refuse_usage("--sheet", "is missing", "see the library with: warmsheet sheets");
  request.sheet = *sheet;
  request.thickness = arguments.figure_if("--thickness", Dimension::length, library::thickness_limits_m);
  request.perforation = arguments.text_if("--perforation");
  request.area = area_of(arguments);
  request.bath = arguments.figure_if("--bath", Dimension::temperature);
  request.bath_water = arguments.figure_if("--bath-water", Dimension::volume);
  request.bath_state = arguments.text_if("--bath-state");
  request.film = arguments.figure_if("--film", Dimension::film_coefficient);
  request.start = arguments.figure_if("--start", Dimension::temperature);
  request.room = arguments.figure_if("--room", Dimension::temperature);
  request.dried = arguments.yes_no_if("--dried");
  request.lifted = arguments.figure_if("--lifted", Dimension::duration, lifted_s);
  request.crystallised = arguments.figure_if("--crystallised", Dimension::ratio, Limits{0.0, 1.0});
  request.reheat = reheat_of(arguments);
  request.upright = arguments.yes_no_if("--upright").value_or(false);
  request.skin = arguments.text_if("--skin");
  request.liner = arguments.text_if("--liner");
  request.wrap = arguments.text_if("--wrap");
  request.layers = static_cast<int>(arguments.whole("--layers", 1, 1, heat::most_layers));
  request.samples = static_cast<int>(arguments.whole("--samples", request.samples, 0, most_samples));
  if (request.samples != 0 && request.samples < heat::fewest_samples)
    refuse_usage("--samples", "is too few to show the 5 % and 95 % bounds",
                 "give 20 or more, or 0 for central values only");
  request.seed = seed_from(arguments);
  return request;
}

}  // namespace warmsheet::cli
