// SPDX-License-Identifier: MIT
#include "heat/inputs.h"

#include <algorithm>

namespace warmsheet::heat {
namespace {

constexpr auto after_bath = static_cast<unsigned>(Part::after_bath);
constexpr auto heating = static_cast<unsigned>(Part::heating);
constexpr unsigned everywhere = after_bath | heating;

/// What shapes the time in the bath; a sheet lifted before the water is done with it carries that into the
/// air.
unsigned in_bath(const Situation& s) {
  return heating | (s.lifted ? after_bath : 0U);
}

/// Draws from overlapping ranges may cross; a melting range cannot.
void put_in_order(Case& c) {
  Phases& p = c.sheet.phases;
  p.melting_start_K = std::min(p.melting_start_K, p.melting_end_K);
}

}  // namespace

Inputs::Inputs(const Situation& situation) {
  frame_.sheet.layers = situation.layers;
  frame_.air.upright = situation.upright;
  frame_.air.undried = !situation.dried;
  frame_.bath.cools = situation.bath_cools;
  frame_.bath.one_face = situation.reheat == Reheat::spot;
  add_sheet(situation);
  add_bath(situation);
  add_air(situation);
  add_limb(situation);
  add_skin(situation, *situation.skin, after_bath, [](Case& c) -> Tissue& { return c.limb.tissue; });
  add_skin(situation, *situation.hand, static_cast<unsigned>(Part::scald),
           [](Case& c) -> Tissue& { return c.hand.back; });
  add_skin(situation, *situation.palm, static_cast<unsigned>(Part::palm),
           [](Case& c) -> Tissue& { return c.hand.palm; });
}

/// A figure that serves twice (a sheet that starts at room temperature) is one input, so both move together.
void Inputs::add(const Figure& figure, unsigned parts, std::function<void(Case&, double)> put) {
  const auto same = std::find_if(inputs_.begin(), inputs_.end(),
                                 [&](const Input& i) { return i.figure.same_node(figure); });
  if (same == inputs_.end()) {
    inputs_.push_back({figure, parts, std::move(put)});
    return;
  }
  same->parts |= parts;
  same->put = [first = std::move(same->put), second = std::move(put)](Case& c, double si) {
    first(c, si);
    second(c, si);
  };
}

void Inputs::add_sheet(const Situation& s) {
  const library::Thermal& t = s.sheet->thermal;
  const auto phase = [this](const Figure& figure, unsigned parts, double Phases::*member) {
    add(figure, parts, [member](Case& c, double si) { c.sheet.phases.*member = si; });
  };
  add(s.thickness, everywhere | Part::drop, [](Case& c, double si) { c.sheet.thickness_m = si; });
  phase(t.density, everywhere | Part::drop, &Phases::density_kg_m3);
  add(t.conductivity, everywhere, [](Case& c, double si) { c.sheet.conductivity_W_mK = si; });
  phase(t.specific_heat_solid, everywhere | Part::drop, &Phases::heat_solid_J_kgK);
  phase(t.specific_heat_melt, everywhere | Part::drop, &Phases::heat_melt_J_kgK);
  phase(t.latent_heat, everywhere | Part::drop, &Phases::latent_J_kg);
  phase(t.melting_start, everywhere | Part::drop, &Phases::melting_start_K);
  phase(t.melting_end, everywhere | Part::drop, &Phases::melting_end_K);
  add(t.emissivity, after_bath | Part::edge, [](Case& c, double si) { c.sheet.emissivity = si; });

  const auto kinetic = [this](const Figure& figure, double KineticConstants::*member) {
    add(figure, after_bath, [member](Case& c, double si) { c.sheet.kinetics.*member = si; });
  };
  kinetic(t.half_time_42, &KineticConstants::half_time_42_s);
  kinetic(s.crystallisation->activation_energy, &KineticConstants::activation_J_mol);
  kinetic(s.crystallisation->glass_limit, &KineticConstants::glass_limit_K);
  kinetic(s.crystallisation->equilibrium_melting, &KineticConstants::equilibrium_melting_K);
  kinetic(s.crystallisation->nucleation_constant, &KineticConstants::nucleation_K2);
  kinetic(s.crystallisation->avrami_exponent, &KineticConstants::avrami);
  kinetic(s.crystallisation->seed, &KineticConstants::seed);
  if (!s.perforation.holes) return;
  add(s.perforation.holes->open_area, in_bath(s) | Part::drop | Part::setting,
      [](Case& c, double si) { c.sheet.open_area = si; });
  add(s.perforation.holes->diameter, in_bath(s) | Part::drop,
      [](Case& c, double si) { c.sheet.hole_diameter_m = si; });
}

void Inputs::add_bath(const Situation& s) {
  add(s.bath, everywhere | Part::drop | Part::scald | Part::palm,
      [](Case& c, double si) { c.bath.bath_K = si; });
  add(s.film, in_bath(s) | Part::drop, [](Case& c, double si) { c.bath.film_W_m2K = si; });
  add(s.start, in_bath(s) | Part::drop, [](Case& c, double si) { c.bath.start_K = si; });
  add(s.bath_water, (s.bath_cools ? in_bath(s) : 0U) | Part::drop,
      [](Case& c, double si) { c.bath.water_m3 = si; });
  if (s.crystallised)
    add(*s.crystallised, in_bath(s) | Part::drop,
        [](Case& c, double si) { c.bath.start_crystallinity = si; });
  if (s.lifted) add(*s.lifted, after_bath, [](Case& c, double si) { c.bath.lifted_s = si; });
}

void Inputs::add_air(const Situation& s) {
  const library::Surroundings& a = *s.surroundings;
  // A face that stays dry while water is spooned over the other one is in the room's air.
  const unsigned in_air = after_bath | Part::edge | (s.reheat == Reheat::spot ? heating : 0U);
  add(s.room, in_air, [](Case& c, double si) { c.air.room.air_K = c.air.room.walls_K = si; });
  const bool slows = s.bath_cools || s.reheat == Reheat::spot;
  add(s.area, after_bath | Part::drop | Part::edge | (slows ? heating : 0U),
      [](Case& c, double si) { c.air.area_m2 = si; });
  add(a.relative_humidity, after_bath, [](Case& c, double si) { c.air.room.relative_humidity = si; });
  add(a.pressure, in_air, [](Case& c, double si) { c.air.room.pressure_Pa = si; });
  add(a.air_speed, in_air, [](Case& c, double si) { c.air.room.air_speed_m_s = si; });
  add(s.dried ? a.dried_film : a.water_film, after_bath, [](Case& c, double si) { c.air.water_kg_m2 = si; });
  if (!s.upright && !s.on_rack)
    add(a.towel_effusivity, after_bath, [](Case& c, double si) { c.air.towel_W_s05_m2K = si; });
}

void Inputs::add_limb(const Situation& s) {
  add(s.surroundings->contact_resistance, after_bath, [](Case& c, double si) { c.limb.contact_m2K_W = si; });
  // Hot water soaks a liner, and a wet one keeps little heat off: under an undried sheet it counts for
  // nothing.
  if (s.liner && s.dried)
    add(s.liner->resistance, after_bath, [](Case& c, double si) { c.limb.liner_m2K_W = si; });
  if (s.wrap) add(s.wrap->resistance, after_bath, [](Case& c, double si) { c.limb.wrap_m2K_W = si; });
  add(s.skin->peak_limit, after_bath, [](Case& c, double si) { c.limb.peak_limit_K = si; });
  add(s.skin->damage_limit, after_bath, [](Case& c, double si) { c.limb.damage_limit = si; });
}

void Inputs::add_skin(const Situation& s, const library::SkinKind& kind, unsigned parts,
                      Tissue& (*of)(Case&)) {
  of(frame_).layers.resize(kind.layers.size());
  for (std::size_t i = 0; i < kind.layers.size(); ++i) {
    const library::SkinLayer& layer = kind.layers[i];
    const auto of_layer = [&](const Figure& figure, double TissueLayer::*member) {
      add(figure, parts, [of, i, member](Case& c, double si) { of(c).layers[i].*member = si; });
    };
    of_layer(layer.thickness, &TissueLayer::thickness_m);
    of_layer(layer.conductivity, &TissueLayer::conductivity_W_mK);
    of_layer(layer.density, &TissueLayer::density_kg_m3);
    of_layer(layer.specific_heat, &TissueLayer::heat_J_kgK);
    of_layer(layer.perfusion, &TissueLayer::perfusion_per_s);
  }
  const auto tissue = [&](const Figure& figure, double Tissue::*member) {
    add(figure, parts, [of, member](Case& c, double si) { of(c).*member = si; });
  };
  tissue(s.tissue->surface_temperature, &Tissue::surface_K);
  tissue(s.tissue->core_temperature, &Tissue::core_K);
  tissue(s.tissue->blood_density, &Tissue::blood_density_kg_m3);
  tissue(s.tissue->blood_specific_heat, &Tissue::blood_heat_J_kgK);
  const auto law = [&](const Figure& figure, double DamageLaw::*member) {
    add(figure, parts, [of, member](Case& c, double si) { of(c).damage.*member = si; });
  };
  law(s.tissue->damage_factor, &DamageLaw::factor_per_s);
  law(s.tissue->damage_activation, &DamageLaw::activation_K);
  law(s.tissue->damage_threshold, &DamageLaw::threshold_K);
}

std::vector<const Input*> Inputs::varying() const {
  std::vector<const Input*> found;
  for (const Input& input : inputs_)
    if (input.figure.has_range()) found.push_back(&input);
  return found;
}

std::vector<Figure> Inputs::figures(unsigned parts) const {
  std::vector<Figure> found;
  for (const Input& input : inputs_)
    if ((input.parts & parts) != 0) found.push_back(input.figure);
  return found;
}

Case Inputs::central() const {
  Case c = frame_;
  for (const Input& input : inputs_) input.put(c, input.figure.si());
  put_in_order(c);
  return c;
}

Case Inputs::drawn(const std::vector<const Input*>& varying, const std::vector<double>& values) const {
  Case c = central();
  for (std::size_t i = 0; i < varying.size(); ++i) varying[i]->put(c, values[i]);
  put_in_order(c);
  return c;
}

}  // namespace warmsheet::heat
