// SPDX-License-Identifier: MIT
#include "choice/stiffness.h"

#include <algorithm>
#include <numbers>

#include "choice/modulus.h"
#include "choice/perforated.h"
#include "choice/plate.h"
#include "choice/trough.h"

namespace warmsheet::choice {
namespace {

Figure by_common_sense(const char* name, double value, const char* where) {
  return Figure::stated(name, Range::exactly(value), units::one(),
                        {.basis = Basis::practice, .where = where});
}

Figure stiffness_left(const library::Perforation& perforation, const Figure& thickness) {
  if (!perforation.holes) return by_common_sense("stiffness left by the holes", 1.0, "sheet without holes");
  return Figure::derived(
      "stiffness left by the holes", modulus_share(perforation, thickness.si()), units::one(),
      "the lower of (1 - open area)/(1 + 2 open area) and the ASME effective modulus; the higher is the "
      "high bound",
      {perforation.holes->diameter, perforation.holes->pitch, thickness});
}

Figure strength_left(const library::Perforation& perforation) {
  if (!perforation.holes) return by_common_sense("strength left by the holes", 1.0, "sheet without holes");
  return Figure::derived("strength left by the holes", Range::exactly(strength_share(perforation)),
                         units::one(), "what is left of a pitch between two holes",
                         {perforation.holes->diameter, perforation.holes->pitch});
}

Figure open_share(const library::Perforation& perforation) {
  return perforation.holes ? perforation.holes->open_area
                           : by_common_sense("open area", 0.0, "sheet without holes");
}

Figure palm_or_none(const Finding& palm, const char* name) {
  return palm.known() ? palm.figure()
                      : by_common_sense(name, 0.0, "this piece has no palmar part of its own");
}

}  // namespace

Wear usual_wear(bool lasting) {
  Figure creep = lasting ? creep_share()
                         : by_common_sense("stiffness under a short push", 1.0, "a short push, no creep");
  return {wear_temperature(), age_share(), std::move(creep), tissue_modulus(), tissue_depth()};
}

ItemMechanics::ItemMechanics(const library::Library& library, const library::Sheet& sheet,
                             const library::StockItem& stock, const Piece& piece, const Wear& wear,
                             Sampler& sampler)
    : closed_(piece.closed), palm_(piece.palm_width.known()) {
  const library::Mechanical& m = sheet.mechanical;
  const library::Perforation& perforation = library.perforation(stock.perforation);
  figures_ = {m.modulus_23,
              m.modulus_37,
              m.yield_stress,
              m.poisson,
              sheet.thermal.density,
              m.shrinkage,
              stock.thickness,
              stiffness_left(perforation, stock.thickness),
              strength_left(perforation),
              open_share(perforation),
              wear.temperature,
              wear.age,
              wear.creep,
              wear.tissue_modulus,
              wear.tissue_depth,
              piece.area,
              piece.girth,
              piece.cover,
              piece.lever,
              piece.span,
              piece.force,
              palm_or_none(piece.palm_width, "palm width"),
              palm_or_none(piece.palm_rise, "palm rise")};
  for (std::size_t i = 0; i < inputs; ++i) variables_[i] = sampler.add(figures_[i]);
  // Stiffness at two temperatures belongs to one material: both are high or both are low.
  constexpr auto cool = static_cast<std::size_t>(Input::modulus_23);
  constexpr auto warm = static_cast<std::size_t>(Input::modulus_37);
  sampler.follow(variables_[warm], variables_[cool]);
}

std::vector<Figure> ItemMechanics::rests_on(std::initializer_list<Input> wanted) const {
  std::vector<Figure> figures;
  for (const Input which : wanted) {
    const bool of_palm = which == Input::palm_width || which == Input::palm_rise;
    if (!of_palm || palm_) figures.push_back(input(which));
  }
  return figures;
}

Numbers ItemMechanics::central(const Sampler& sampler) const {
  Values in{};
  for (std::size_t i = 0; i < inputs; ++i) in[i] = sampler.central(variables_[i]);
  return numbers(in);
}

Numbers ItemMechanics::drawn(const Sampler& sampler) const {
  Values in{};
  for (std::size_t i = 0; i < inputs; ++i) in[i] = sampler.drawn(variables_[i]);
  return numbers(in);
}

Numbers ItemMechanics::numbers(const Values& in) const {
  const auto at = [&](Input which) { return in[static_cast<std::size_t>(which)]; };
  const double t = at(Input::thickness);
  const double radius = at(Input::girth) / (2.0 * std::numbers::pi);
  const double solid_worn =
      modulus_at_Pa(at(Input::modulus_23), at(Input::modulus_37), at(Input::temperature)) * at(Input::age);
  Numbers n;
  n.modulus_Pa = solid_worn * at(Input::creep) * at(Input::stiffness_left);
  // Yield is taken to fall with warmth and lasting load as the stiffness does; no better figure was found.
  const double yield =
      at(Input::yield) * at(Input::strength_left) * at(Input::creep) * solid_worn / at(Input::modulus_23);
  const double cover = closed_ ? at(Input::girth) + std::numbers::pi * t : at(Input::cover);
  const ArcSection trough = arc_section(radius, cover, t);
  // A palmar piece is as wide as it is long, so it bends as a plate: stiffer by 1/(1 - nu^2).
  const double as_plate = palm_ ? 1.0 / (1.0 - at(Input::poisson) * at(Input::poisson)) : 1.0;
  const ArcSection beyond = palm_ ? arched_section(at(Input::palm_width), at(Input::palm_rise), t) : trough;
  const double lever = at(Input::lever);
  n.stiffness_Nm2 = n.modulus_Pa * trough.second_moment_m4;
  n.give_m = overhang_deflection_m(at(Input::force), lever, at(Input::span),
                                   n.modulus_Pa * as_plate * beyond.second_moment_m4, n.stiffness_Nm2);
  n.give_rad = n.give_m / lever;
  n.first_yield_N =
      std::min(first_yield_force_N(trough, lever, yield), first_yield_force_N(beyond, lever, yield));
  n.strength = n.first_yield_N / at(Input::force);
  n.open_area = at(Input::open_area);
  n.mass_kg = sheet_mass_kg(at(Input::area), t, at(Input::density), n.open_area);
  n.shorter_m = at(Input::shrinkage) * at(Input::girth);
  if (closed_)
    n.squeeze_Pa = shrink_pressure_Pa(at(Input::shrinkage), solid_worn * at(Input::stiffness_left), t, radius,
                                      at(Input::tissue_modulus), at(Input::tissue_depth));
  return n;
}

}  // namespace warmsheet::choice
