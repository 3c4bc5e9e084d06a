// SPDX-License-Identifier: MIT
#include "heat/situation.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "heat/air.h"
#include "heat/constants.h"

namespace warmsheet::heat {
namespace {

constexpr const char* solid = "solid";
// Whoever works at the bath: the back of the hand is as thin as an adult's forearm.
constexpr const char* skin_of_hand = "forearm";
constexpr const char* skin_of_palm = "palm";

/// Area of a blank when nobody gave one, from the pieces the library's conditions are usually made to: the
/// middle one, the smallest and the largest. The air film hangs on the area's fourth root only.
Figure usual_area(const library::Library& library) {
  std::vector<const Figure*> areas;
  for (const auto& [id, condition] : library.conditions) areas.push_back(&condition.piece.area);
  std::sort(areas.begin(), areas.end(), [](const Figure* a, const Figure* b) { return a->si() < b->si(); });
  const Figure& least = *areas.front();
  const Figure& middle = *areas[areas.size() / 2];
  const Figure& most = *areas.back();
  return Figure::derived(
      "area", {middle.si(), least.low_si(), most.high_si()}, middle.unit(),
      "the middle one of the pieces that conditions usually take, from the smallest to the "
      "largest; a size of your own takes its place",
      {least, middle, most});
}

Figure thickness_of(const Request& request, const library::Sheet& sheet, const library::StockItem* item) {
  if (request.thickness) return request.thickness->renamed("thickness");
  if (item != nullptr) return item->thickness.renamed("thickness");
  throw Failure(Problem{Trouble::no_answer,
                        {},
                        fmt::format("sheet {} is not in stock with perforation {}", sheet.id,
                                    request.perforation.value_or(solid)),
                        "give a thickness, for example \"3.2 mm\""});
}

std::string perforation_of(const Request& request, const library::StockItem* item) {
  if (request.perforation) return *request.perforation;
  // A thickness that was typed names no stock item; a sheet without holes heats and cools slowest.
  if (item == nullptr || (request.thickness && !request.stock_item)) return solid;
  return item->perforation;
}

std::optional<library::Covering> covering(const std::optional<std::string>& id, const auto& find) {
  if (!id || *id == "none") return std::nullopt;
  return find(*id);
}

[[noreturn]] void refuse(Trouble trouble, const Figure& figure, std::string message, std::string hint) {
  const Place place = figure.origin() ? figure.origin()->place : Place{};
  throw Failure(Problem{trouble, place, std::move(message), std::move(hint)});
}

double celsius(double kelvin) {
  return kelvin - zero_C_K;
}

void require_positive(const Figure& figure) {
  if (figure.low_si() > 0.0) return;
  refuse(
      Trouble::data, figure,
      fmt::format("{}: expected more than 0, saw {:g} {}", figure.name(), figure.low(), figure.unit().ascii),
      fmt::format("give {} with a value above 0", figure.name()));
}

void require_whole(const Situation& s) {
  for (const Figure* figure : {&s.thickness, &s.area, &s.film, &s.bath_water}) require_positive(*figure);
  if (s.layers < 1 || s.layers > most_layers)
    refuse(Trouble::data, s.thickness, fmt::format("layers: expected 1 to {}, saw {}", most_layers, s.layers),
           "2 is a folded or doubled sheet");
  if (s.samples != 0 && s.samples < fewest_samples)
    refuse(Trouble::data, s.thickness,
           fmt::format("samples: expected 0 or at least {}, saw {}", fewest_samples, s.samples),
           "0 gives central values only; fewer do not show the 5 % and 95 % bounds");
  if (s.crystallised && (s.crystallised->low_si() < 0.0 || s.crystallised->high_si() > 1.0))
    refuse(Trouble::data, *s.crystallised,
           fmt::format("crystallised: expected 0 to 1, saw {:g} to {:g}", s.crystallised->low_si(),
                       s.crystallised->high_si()),
           "1 is a sheet that has set, 0 one that is still soft");
  if (s.lifted) require_positive(*s.lifted);
}

void require_melting(const Situation& s) {
  const Figure& end = s.sheet->thermal.melting_end;
  if (s.bath.si() > end.si()) return;
  refuse(Trouble::no_answer, s.bath,
         fmt::format("the bath at {:.1f} C never softens this sheet: melting_end of {} is {:.1f} C",
                     celsius(s.bath.si()), s.sheet->id, celsius(end.si())),
         fmt::format("set the bath above {:.0f} C; its usual bath is {:.0f} C",
                     std::ceil(celsius(end.high_si())), celsius(s.sheet->practice.bath.si())));
}

void require_no_boiling(const Situation& s) {
  if (saturation_Pa(s.bath.si()) < s.surroundings->pressure.si()) return;
  refuse(Trouble::no_answer, s.bath, fmt::format("water boils below {:.1f} C", celsius(s.bath.si())),
         fmt::format("its usual bath is {:.0f} C", celsius(s.sheet->practice.bath.si())));
}

void require_start_below(const Situation& s) {
  if (s.start.si() < s.sheet->thermal.melting_end.si() && s.start.si() < s.bath.si()) return;
  refuse(Trouble::no_answer, s.start,
         fmt::format("the sheet at {:.1f} C before the bath is already soft or hotter than the bath",
                     celsius(s.start.si())),
         fmt::format("start below melting_end ({:.1f} C)", celsius(s.sheet->thermal.melting_end.si())));
}

void require_setting(const Situation& s) {
  const double limit_K = std::min(s.skin->peak_limit.si(), s.sheet->thermal.melting_start.si());
  if (s.room.si() < limit_K) return;
  refuse(Trouble::no_answer, s.room,
         fmt::format("a room at {:.1f} C is too hot: in it the sheet never cools to what skin bears ({:.1f} "
                     "C) or never sets (melting_start of {} is {:.1f} C)",
                     celsius(s.room.si()), celsius(s.skin->peak_limit.si()), s.sheet->id,
                     celsius(s.sheet->thermal.melting_start.si())),
         fmt::format("work in a room below {:.0f} C", celsius(limit_K)));
}

}  // namespace

const library::StockItem& stock_item_of(const library::Library& library, const Request& request) {
  const std::string& id = *request.stock_item;
  const bool whole_key = id.find('/') != std::string::npos;
  const library::StockItem& item = library.stock_item(whole_key ? id : request.sheet + "/" + id);
  if (item.sheet == request.sheet) return item;
  throw Failure(Problem{Trouble::usage,
                        {},
                        fmt::format("{} is stock of another sheet than {}", item.key(), request.sheet),
                        "name an item of the same sheet, or the other sheet"});
}

Situation resolve(const library::Library& library, const Request& request) {
  const library::Sheet& sheet = library.sheet(request.sheet);
  // A misspelt one must not pass for one that is not in stock.
  if (request.perforation) static_cast<void>(library.perforation(*request.perforation));
  const library::StockItem* item =
      request.stock_item ? &stock_item_of(library, request) : sheet.usual_item(request.perforation);
  const library::Surroundings& around = library.surroundings;
  const Figure room = request.room.value_or(around.room);
  const library::BathState& state = library.bath_state(request.bath_state.value_or(usual_bath_state));
  return {.sheet = &sheet,
          .crystallisation = &library.crystallisation,
          .tissue = &library.tissue,
          .skin = &library.skin(request.skin.value_or(usual_skin)),
          .hand = &library.skin(skin_of_hand),
          .palm = &library.skin(skin_of_palm),
          .surroundings = &around,
          .thickness = thickness_of(request, sheet, item),
          .perforation = library.perforation(perforation_of(request, item)),
          .area = request.area ? request.area->renamed("area") : usual_area(library),
          .bath = request.bath.value_or(sheet.practice.bath.in(units::celsius())).renamed("bath"),
          .bath_water = request.bath_water.value_or(around.bath_water),
          .bath_cools = request.bath_water.has_value(),
          .film = request.film.value_or(state.film).renamed("film"),
          .start = request.start.value_or(room),
          .room = room,
          .dried = request.dried.value_or(true),
          .liner = covering(request.liner, [&](const std::string& id) { return library.liner(id); }),
          .wrap = covering(request.wrap, [&](const std::string& id) { return library.wrap(id); }),
          .layers = request.layers,
          .seed = request.seed,
          .samples = request.samples,
          .upright = request.upright,
          .on_rack = request.on_rack,
          .crystallised = request.crystallised,
          .lifted = request.lifted,
          .reheat = request.reheat,
          .threads = request.threads};
}

void require_sound(const Situation& situation) {
  require_whole(situation);
  require_melting(situation);
  require_no_boiling(situation);
  require_setting(situation);
  require_start_below(situation);
}

}  // namespace warmsheet::heat
