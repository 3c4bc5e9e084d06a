// SPDX-License-Identifier: MIT
// What is fixed to an orthosis, and the minutes that the steps around the hot part take
// (materials/fixings.toml, bench_times.toml); how outlines are cut from a sheet (cutting.toml).
#include "library/read_records.h"

namespace warmsheet::library {
namespace {

using D = Dimension;

// A finger loop up to a trunk band.
constexpr Limits width_limits_m{3e-3, 0.3};
// One second to a working day: longer is a slip of unit.
constexpr Limits step_limits_s{1.0, 8.0 * 3600.0};

// Nothing fills a sheet whole, and a sheet that is nearly all waste is a slip of unit.
constexpr Limits utilisation_limits{0.05, 1.0};
// An area beyond that of a whole sheet would keep nothing.
constexpr Limits area_limits_m2{0.0, 1.0};

/// A strap is used by its length and a lining by its area: a price for anything else could not be charged.
std::vector<std::string> ways_to_price(std::string_view kind) {
  return {kind == "lining" ? "m2" : "m", "piece"};
}

Fixing read_fixing(toml::Reader& entry, const std::string& id) {
  const std::string kind = entry.choice("kind", {"strap", "edging", "lining"});
  return {.id = id,
          .name = entry.text("name"),
          .kind = kind,
          .width = entry.finding("width", D::length, width_limits_m),
          .price = entry.figure("price", D::money, price_limits),
          .price_per = entry.choice("price_per", ways_to_price(kind))};
}

}  // namespace

std::map<std::string, Fixing> read_fixings(const toml::Value& file, Problems& problems) {
  toml::Reader reader(file, "", problems);
  return read_by_id(reader, "fixing", read_fixing);
}

BenchTimes read_bench_times(const toml::Value& file, Problems& problems) {
  toml::Reader reader(file, "bench_times", problems);
  return {.cut = reader.figure("cut", D::duration, step_limits_s),
          .form = reader.figure("form", D::duration, step_limits_s),
          .trim = reader.figure("trim", D::duration, step_limits_s),
          .strap = reader.figure("strap", D::duration, step_limits_s),
          .check = reader.figure("check", D::duration, step_limits_s),
          .red_mark = reader.figure("red_mark", D::duration, step_limits_s)};
}

CuttingHabits read_cutting(const toml::Value& file, Problems& problems) {
  toml::Reader reader(file, "cutting", problems);
  return {.spacing = reader.figure("spacing", D::length, gap_limits_m),
          .margin = reader.figure("margin", D::length, gap_limits_m),
          .usual_utilisation = reader.figure("usual_utilisation", D::ratio, utilisation_limits),
          .keep_side = reader.figure("keep_side", D::length, keep_side_limits_m),
          .keep_area = reader.figure("keep_area", D::area, area_limits_m2)};
}

}  // namespace warmsheet::library
