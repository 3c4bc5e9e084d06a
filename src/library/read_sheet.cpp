// SPDX-License-Identifier: MIT
// One generic sheet (materials/sheets/*.toml). Limits are physical: they let every sheet pass that a water
// bath can soften and a hand can shape, and stop slips of unit.
#include <fmt/format.h>

#include <algorithm>

#include "base/dimension.h"
#include "base/text.h"
#include "library/read_records.h"

namespace warmsheet::library {
namespace {

using D = Dimension;

// Unfilled rubber 0.9, two thirds mineral 1.9 g/cm3.
constexpr Limits density_limits_kg_m3{800.0, 2500.0};
// Foam-like to heavily filled; solid polymers stand at 0.1-0.5 W/mK.
constexpr Limits conductivity_limits_W_mK{0.05, 2.0};
// Minerals 0.8, polymers up to 2.5, nothing above water's 4.2 kJ/kgK.
constexpr Limits heat_limits_J_kgK{500.0, 4200.0};
// No crystal of these polymers melts for more than about 190 J/g (trans-polyisoprene, alpha form).
// 0 is a sheet that softens without melting: then the bath is plain conduction, which has exact solutions.
constexpr Limits latent_limits_J_kg{0.0, 200e3};
// Above skin, or the orthosis would sag in wear; below boiling water, or no bath softens it.
constexpr Limits melting_limits_K{zero_C_K + 30.0, zero_C_K + 98.0};
constexpr Limits half_time_limits_s{1.0, 86400.0};
constexpr Limits emissivity_limits{0.5, 1.0};
// A soft rubber to a glass-fibre composite.
constexpr Limits modulus_limits_Pa{1e6, 20e9};
constexpr Limits yield_limits_Pa{0.1e6, 200e6};
// Thermodynamics allows at most 1/2 for an isotropic body; plastics are not below 0.2.
constexpr Limits poisson_limits{0.2, 0.5};
constexpr Limits shrinkage_limits{0.0, 0.1};
constexpr Limits bath_limits_K{zero_C_K + 40.0, zero_C_K + 98.0};
constexpr Limits practice_time_limits_s{1.0, 3600.0};
constexpr Limits side_limits_m{20e-3, 3.0};
constexpr Limits pack_limits{1.0, 1000.0};
// Heat capacity of a melt against its own solid: about 1.2 for these polymers; outside these two it is a
// slip.
constexpr Limits melt_to_solid{0.8, 2.0};

const std::vector<std::string> grade_words{"none", "low", "moderate", "high", "very high"};

Grade read_grade(toml::Reader& reader, std::string_view key) {
  const std::string word = reader.choice(key, grade_words);
  return static_cast<Grade>(std::find(grade_words.begin(), grade_words.end(), word) - grade_words.begin());
}

GradedTrait read_trait(toml::Reader& handling, std::string_view key) {
  const toml::Value* value = handling.raw_if(key);
  if (value == nullptr || value->table() == nullptr)
    return {read_grade(handling, key), handling.origin_of(key)};
  toml::Reader own = handling.table(key);
  return {read_grade(own, "grade"), own.origin()};
}

Handling read_handling(toml::Reader handling) {
  return {.memory = read_trait(handling, "memory"),
          .drape = read_trait(handling, "drape"),
          .resistance_to_stretch = read_trait(handling, "resistance_to_stretch"),
          .rigidity = read_trait(handling, "rigidity"),
          .bonding = read_trait(handling, "bonding"),
          .edge_finish = read_trait(handling, "edge_finish"),
          .ready_sign = handling.text("ready_sign"),
          .ready_sign_origin = handling.origin_of("ready_sign")};
}

void check_thermal(toml::Reader& reader, const Thermal& read) {
  if (read.melting_start.si() >= read.melting_end.si() ||
      read.melting_start.high_si() > read.melting_end.high_si() ||
      read.melting_start.low_si() > read.melting_end.low_si())
    reader.problem(
        "melting_end", "melting must end above where it starts",
        fmt::format("melting_start is {:g} {}", read.melting_start.value(), read.melting_start.unit().ascii));
  const double ratio = read.specific_heat_melt.si() / read.specific_heat_solid.si();
  if (ratio < melt_to_solid.low || ratio > melt_to_solid.high)
    reader.problem("specific_heat_melt", fmt::format("is {:.2f} times that of the solid", ratio),
                   fmt::format("allowed: {:g} to {:g} times", melt_to_solid.low, melt_to_solid.high));
}

Thermal read_thermal(toml::Reader reader, Problems& problems) {
  const CleanSoFar clean(problems);
  Thermal read{
      .density = reader.figure("density", D::density, density_limits_kg_m3),
      .conductivity = reader.figure("conductivity", D::conductivity, conductivity_limits_W_mK),
      .specific_heat_solid = reader.figure("specific_heat_solid", D::specific_heat, heat_limits_J_kgK),
      .specific_heat_melt = reader.figure("specific_heat_melt", D::specific_heat, heat_limits_J_kgK),
      .latent_heat = reader.figure("latent_heat", D::latent_heat, latent_limits_J_kg),
      .melting_start = reader.figure("melting_start", D::temperature, melting_limits_K),
      .melting_end = reader.figure("melting_end", D::temperature, melting_limits_K),
      .half_time_42 = reader.figure("half_time_42", D::duration, half_time_limits_s),
      .emissivity = reader.figure("emissivity", D::ratio, emissivity_limits)};
  if (clean) check_thermal(reader, read);
  return read;
}

Mechanical read_mechanical(toml::Reader reader, Problems& problems) {
  const CleanSoFar clean(problems);
  Mechanical read{.modulus_23 = reader.figure("modulus_23", D::pressure, modulus_limits_Pa),
                  .modulus_37 = reader.figure("modulus_37", D::pressure, modulus_limits_Pa),
                  .yield_stress = reader.figure("yield_stress", D::pressure, yield_limits_Pa),
                  .poisson = reader.figure("poisson", D::ratio, poisson_limits),
                  .shrinkage = reader.figure("shrinkage", D::ratio, shrinkage_limits)};
  if (clean && read.modulus_37.si() > read.modulus_23.si())
    reader.problem(
        "modulus_37", "is stiffer warm than cold",
        fmt::format("modulus_23 is {:g} {}", read.modulus_23.value(), read.modulus_23.unit().ascii));
  return read;
}

PracticeTimes read_times(toml::Reader& entry) {
  entry.text("id");
  return {entry.figure("thickness", D::length, thickness_limits_m),
          entry.finding("heating", D::duration, practice_time_limits_s),
          entry.finding("working", D::duration, practice_time_limits_s)};
}

Practice read_practice(toml::Reader reader) {
  Practice read{reader.figure("bath", D::temperature, bath_limits_K), {}};
  for (toml::Reader& entry : reader.tables("times")) read.by_thickness.push_back(read_times(entry));
  std::sort(
      read.by_thickness.begin(), read.by_thickness.end(),
      [](const PracticeTimes& a, const PracticeTimes& b) { return a.thickness.si() < b.thickness.si(); });
  return read;
}

StockItem read_stock_item(toml::Reader& entry, const std::string& sheet, const Library& library) {
  StockItem item{.id = entry.text("id"),
                 .sheet = sheet,
                 .thickness = entry.figure("thickness", D::length, thickness_limits_m),
                 .perforation = entry.text("perforation"),
                 .width = entry.figure("width", D::length, side_limits_m),
                 .length = entry.figure("length", D::length, side_limits_m),
                 .price = entry.figure("price", D::money, price_limits),
                 .pack = entry.figure("pack", D::ratio, pack_limits)};
  if (!item.perforation.empty() && library.all_parsed && !library.perforations.contains(item.perforation))
    entry.problem("perforation",
                  fmt::format("\"{}\" is not in perforations.toml", clip(item.perforation, 60)),
                  known_hint(item.perforation, ids_of(library.perforations)));
  if (item.id.find('/') != std::string::npos)
    entry.problem("id", "must not contain \"/\"", "stock is named \"sheet/item\"");
  return item;
}

void read_stock(toml::Reader& reader, Sheet& sheet, const Library& library) {
  for (toml::Reader& entry : reader.tables("stock"))
    sheet.stock.push_back(read_stock_item(entry, sheet.id, library));
  if (sheet.stock.empty())
    reader.problem("stock", "nothing of this sheet can be bought", "write at least one [[stock]] table");
}

// A bath that never melts the sheet is a slip on one side or the other.
void check_bath(toml::Reader& reader, const Sheet& sheet) {
  if (sheet.practice.bath.si() > sheet.thermal.melting_end.si()) return;
  reader.problem("practice", "the usual bath is not warmer than melting_end",
                 fmt::format("melting_end is {:g} {}", sheet.thermal.melting_end.value(),
                             sheet.thermal.melting_end.unit().ascii));
}

}  // namespace

std::string_view grade_word(Grade grade) {
  return grade_words.at(static_cast<std::size_t>(grade));
}

Sheet read_sheet(const toml::Value& table, const std::string& id, const Library& library,
                 Problems& problems) {
  const CleanSoFar clean(problems);
  toml::Reader reader(table, "sheets." + id, problems);
  Sheet sheet{.id = reader.text("id"),
              .name = reader.text("name"),
              .family = reader.choice("family", {"elastic", "draping", "filled", "rubbery", "blended"}),
              .about = reader.text("about"),
              .face_side = reader.flag_if("face_side").value_or(false),
              .handling = read_handling(reader.table("handling")),
              .thermal = read_thermal(reader.table("thermal"), problems),
              .mechanical = read_mechanical(reader.table("mechanical"), problems),
              .practice = read_practice(reader.table("practice")),
              .stock = {}};
  read_stock(reader, sheet, library);
  if (clean) check_bath(reader, sheet);
  return sheet;
}

}  // namespace warmsheet::library
