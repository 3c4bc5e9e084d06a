// SPDX-License-Identifier: MIT
// The front door: what a timing promises about its figures, and what it refuses. On the shipped library and
// on sheets of the test's own.
#include "heat/timing.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>

#include "base/file.h"
#include "heat/cases.h"
#include "heat/exact.h"
#include "heat/timings.h"
#include "support/near.h"
#include "support/scratch.h"

namespace warmsheet::heat_tests {
namespace {

using testing::near_abs;
using testing::near_rel;

TEST_CASE("results have the names, order and units of the contract") {
  const std::vector<std::string> names{"half_soft",   "ready", "wait",      "closes", "window",
                                       "holds_shape", "set",   "peak_skin", "damage"};
  const Timing t = timing_of(request());
  const std::vector<NamedFinding> results = t.results();
  REQUIRE(results.size() == names.size());
  for (std::size_t i = 0; i < names.size(); ++i) {
    CHECK(results[i].name == names[i]);
    REQUIRE(results[i].finding.known());
    const Figure& figure = results[i].finding.figure();
    CHECK(figure.name() == names[i]);
    CHECK(figure.unit().id == (names[i] == "peak_skin" ? "degC" : names[i] == "damage" ? "1" : "s"));
    CHECK_FALSE(figure.how().empty());
    CHECK_FALSE(figure.rests_on().empty());
  }
  CHECK(t.bath_drop.figure().dimension() == Dimension::temperature_difference);
  CHECK(t.bath_scald.figure().unit().id == "s");
  CHECK(t.edge_reach.figure().unit().id == "mm");
}

TEST_CASE("without draws there are no ranges, with draws the central value lies inside") {
  const Timing central = timing_of(request());
  for (const NamedFinding& r : central.results()) CHECK_FALSE(r.finding.figure().has_range());
  CHECK(central.drivers.empty());
  const Timing drawn = timing_of(request(64));
  for (const char* name : {"half_soft", "ready", "closes", "holds_shape", "set"}) {
    CAPTURE(name);
    const auto find = [&](const Timing& t) {
      const auto all = t.results();
      return std::find_if(all.begin(), all.end(), [&](const NamedFinding& r) { return r.name == name; })
          ->finding.figure();
    };
    const Figure with = find(drawn);
    CHECK(with.low_si() < with.si());
    CHECK(with.si() < with.high_si());
  }
  CHECK(seconds(drawn.ready) == seconds(central.ready));
  CHECK(drawn.ready.figure().low_si() < seconds(central.ready));
  CHECK(drawn.ready.figure().high_si() > seconds(central.ready));
}

TEST_CASE("the wait stands on the safe side and the window is what it leaves") {
  const Timing central = timing_of(request());
  const Timing t = timing_of(request(64));
  CHECK(seconds(t.wait) >= seconds(central.wait));
  // A limit, not an estimate: no range to read a shorter wait from, and no rounding that would shorten it.
  CHECK_FALSE(t.wait.figure().has_range());
  CHECK(seconds(t.wait) == std::ceil(seconds(t.wait)));
  REQUIRE(t.window.known());
  CHECK(t.safe_window());
  CHECK(near_abs(seconds(t.window), seconds(t.closes) - seconds(t.wait), 1e-9));
  CHECK(near_abs(t.window.figure().low_si(), t.closes.figure().low_si() - seconds(t.wait), 1e-9));
  // Laid on at that moment, 95 of 100 draws stay within the limit.
  // 0.01 K is how near the search for the wait comes.
  CHECK(celsius(t.peak_skin.figure().high_si()) <= 43.01);
}

TEST_CASE("a seed fixes every result, and another one moves them within their ranges") {
  Request r = request(default_samples);
  const Timing a = timing_of(r);
  const Timing b = timing_of(r);
  r.seed = 2;
  const Timing c = timing_of(r);
  const std::vector<NamedFinding> once = a.results();
  const std::vector<NamedFinding> twice = b.results();
  for (std::size_t i = 0; i < once.size(); ++i) {
    CAPTURE(once[i].name);
    CHECK(once[i].finding.figure().si() == twice[i].finding.figure().si());
    CHECK(once[i].finding.figure().low_si() == twice[i].finding.figure().low_si());
  }
  CHECK(a.ready.figure().low_si() != c.ready.figure().low_si());
  CHECK(near_rel(seconds(a.wait), seconds(c.wait), 0.2));
  CHECK(near_rel(a.ready.figure().high_si(), c.ready.figure().high_si(), 0.1));
}

TEST_CASE("every number is the same to the last bit on one thread, two and four") {
  Situation s = resolve(shipped(), request(24));
  s.threads = 1;
  const Timing one = time(s);
  for (const int threads : {2, 4}) {
    CAPTURE(threads);
    s.threads = threads;
    const Timing more = time(s);
    const auto same = [](const Figure& a, const Figure& b) {
      const std::array first{a.si(), a.low_si(), a.high_si()};
      const std::array second{b.si(), b.low_si(), b.high_si()};
      return std::memcmp(first.data(), second.data(), sizeof first) == 0;
    };
    const std::vector<NamedFinding> expected = one.results();
    const std::vector<NamedFinding> seen = more.results();
    for (std::size_t i = 0; i < expected.size(); ++i) {
      CAPTURE(expected[i].name);
      CHECK(same(expected[i].finding.figure(), seen[i].finding.figure()));
    }
    REQUIRE(one.drivers.size() == more.drivers.size());
    for (std::size_t i = 0; i < one.drivers.size(); ++i)
      CHECK(same(one.drivers[i].share, more.drivers[i].share));
    CHECK(one.skin_basal.value == more.skin_basal.value);
  }
}

TEST_CASE(
    "the hand at the bath is the worker's own: its back burns sooner than its palm, whoever is treated") {
  Request r = request();
  const Timing adult = timing_of(r);
  CHECK(seconds(adult.palm_scald) > 2.0 * seconds(adult.bath_scald));
  for (const char* patient : {"thin", "reduced", "palm", "forearm"}) {
    CAPTURE(patient);
    r.skin = patient;
    const Timing t = timing_of(r);
    CHECK(seconds(t.bath_scald) == seconds(adult.bath_scald));
    CHECK(seconds(t.palm_scald) == seconds(adult.palm_scald));
  }
  // Tap-water table (adults, third degree): 60 C 5 to 6 s, 65.6 C 1.5 to 2 s. First degree, skin at the
  // water's temperature at once: sooner, the back within a factor of three.
  struct Row {
    double celsius, third_degree_s;
  };
  for (const Row& row : {Row{62.8, 3.0}, Row{65.6, 1.75}, Row{68.3, 1.0}}) {
    CAPTURE(row.celsius);
    Request hot = request();
    hot.bath = Figure::entered("bath", Range::exactly(kelvin(row.celsius)), units::celsius());
    const double back_s = seconds(timing_of(hot).bath_scald);
    CHECK(back_s < row.third_degree_s);
    CHECK(back_s > row.third_degree_s / 3.0);
  }
}

TEST_CASE("a bath without a heater slows the sheet, and what it cools by is said either way") {
  Request r = request();
  const Timing kept = timing_of(r);
  r.bath_water = Figure::entered("bath-water", Range::exactly(3e-3), unit(Dimension::volume));
  const Timing cooling = timing_of(r);
  CHECK(seconds(cooling.ready) > 1.02 * seconds(kept.ready));
  CHECK(cooling.bath_drop.figure().si() > 3.0 * kept.bath_drop.figure().si());
}

TEST_CASE("a spot takes longer than the whole piece in the bath, an edge as long") {
  Request r = request();
  const double whole_s = seconds(timing_of(r).ready);
  r.reheat = Reheat::edge;
  CHECK(seconds(timing_of(r).ready) == whole_s);
  r.reheat = Reheat::spot;
  r.bath = Figure::entered("bath", Range::exactly(kelvin(80.0)), units::celsius());
  CHECK(seconds(timing_of(r).ready) > 1.5 * whole_s);
}

TEST_CASE("results rest on the figures that went in, and are as weak as the weakest") {
  Request r = request();
  r.bath = Figure::entered("--bath", Range::exactly(kelvin(70.0)), units::celsius());
  const Timing t = timing_of(r);
  const auto rests_on = [](const Finding& f, const std::string& name) {
    const auto leaves = f.figure().leaves();
    return std::any_of(leaves.begin(), leaves.end(),
                       [&](const Figure& l) { return l.name().find(name) != std::string::npos; });
  };
  CHECK(rests_on(t.ready, "conductivity"));
  CHECK(rests_on(t.ready, "film"));
  CHECK_FALSE(rests_on(t.ready, "perfusion"));
  CHECK_FALSE(rests_on(t.ready, "half_time_42"));
  CHECK(rests_on(t.closes, "half_time_42"));
  CHECK(rests_on(t.wait, "perfusion"));
  CHECK(rests_on(t.window, "peak_limit"));
  CHECK(rests_on(t.bath_drop, "bath_water"));
  CHECK_FALSE(rests_on(t.bath_scald, "half_time_42"));
  CHECK(t.ready.figure().basis() == Basis::memory);
  r.thickness =
      Figure::stated("thickness", Range::exactly(3.2e-3), units::millimetre(), {.basis = Basis::demo});
  CHECK(timing_of(r).ready.figure().basis() == Basis::demo);
}

TEST_CASE("skin that wants more care waits longer, over a liner or bare, on every kind of sheet") {
  for (const char* sheet : {"elastic-clear", "draping-white", "filled-fast", "blended-even"})
    for (const char* liner : {"none", "stockinette"}) {
      CAPTURE(std::string(sheet));
      CAPTURE(std::string(liner));
      const auto wait_of = [&](const char* skin) {
        Request r = request(256);  // fewer take the largest draw, which may find no moment at all
        r.sheet = sheet;
        r.thickness = Figure::entered("thickness", Range::exactly(3.2e-3), units::millimetre());
        r.liner = liner;
        r.skin = skin;
        return seconds(timing_of(r).wait);
      };
      const double tested = wait_of("forearm");
      const double thin = wait_of("thin");
      CHECK(tested < thin);
      CHECK(thin < wait_of("reduced"));
    }
}

TEST_CASE("two sheets with the same figures are timed alike, whatever they are called") {
  const testing::Scratch scratch;
  std::string copy = read_file(std::string(WARMSHEET_SOURCE_DIR) + "/materials/sheets/draping-white.toml");
  const std::string id = "id = \"draping-white\"";
  copy.replace(copy.find(id), id.size(), "id = \"another-white\"");
  static_cast<void>(scratch.file("sheets/another-white.toml", copy));
  const library::Library both = library::load({{"user", scratch.path()}});
  const auto timed = [&](const char* sheet) {
    Request r = request(64);
    r.sheet = sheet;
    r.thickness = Figure::entered("thickness", Range::exactly(2.4e-3), units::millimetre());
    r.liner = "stockinette";
    return heat::time(resolve(both, r));
  };
  const Timing one = timed("draping-white");
  const Timing other = timed("another-white");
  CHECK(seconds(one.wait) == seconds(other.wait));
  CHECK(one.closes.figure().low_si() == other.closes.figure().low_si());
}

TEST_CASE("a bath within the melting range of many draws is refused: the end of the run is no bound") {
  const auto at = [](double bath_C, int samples) {
    Request r = request(samples);
    r.bath = Figure::entered("--bath", Range::exactly(kelvin(bath_C)), units::celsius());
    return timing_of(r);
  };
  CHECK(at(61.0, 0).ready.known());  // the central sheet melts below it
  for (const double bath_C : {60.5, 61.0, 62.0}) {
    CAPTURE(bath_C);
    try {
      static_cast<void>(at(bath_C, 128));
      FAIL("not refused");
    } catch (const Failure& failure) {
      CHECK(failure.trouble() == Trouble::no_answer);
      CHECK(failure.problems().front().message.find("may not be ready within an hour") != std::string::npos);
      CHECK(failure.problems().front().hint.find("above 63 C") != std::string::npos);
    }
  }
  CHECK(at(65.0, 128).ready.figure().high_si() < 3600.0);
}

TEST_CASE("the softened depth ends in the middle of the sheet, with holes or without") {
  for (const char* perforation : {"solid", "micro", "maxi"}) {
    CAPTURE(perforation);
    Request r = request();
    r.perforation = perforation;
    r.thickness = Figure::entered("thickness", Range::exactly(3.2e-3), units::millimetre());
    CHECK(near_rel(timing_of(r).bath_molten.value.back(), 1.6, 1e-3));  // mm, half of it
  }
}

TEST_CASE("the widest inputs are named for each result") {
  const Timing t = timing_of(request(128));
  REQUIRE_FALSE(t.drivers.empty());
  const auto of = [&](const std::string& result) {
    std::vector<std::string> names;
    for (const Driver& d : t.drivers)
      if (d.result == result) names.push_back(d.input.name());
    return names;
  };
  CHECK(of("ready").size() <= 2);
  CHECK_FALSE(of("ready").empty());
  // How long a sheet shapes hangs, more than on anything else, on a half-time that nobody measured.
  CHECK(of("closes").front().find("half_time_42") != std::string::npos);
  for (const Driver& d : t.drivers) {
    CHECK(d.share.si() > 0.0);
    CHECK(d.share.si() <= 1.0);
  }
}

TEST_CASE("curves run from the start to past what they show") {
  const Timing t = timing_of(request());
  for (const Curve* curve :
       {&t.bath_middle, &t.bath_molten, &t.sheet_surface, &t.crystallinity, &t.skin_basal, &t.skin_damage}) {
    REQUIRE(curve->time_s.size() == curve->value.size());
    REQUIRE(curve->time_s.size() > 10);
    CHECK(std::is_sorted(curve->time_s.begin(), curve->time_s.end()));
    for (const double v : curve->value) CHECK(std::isfinite(v));
  }
  CHECK(t.bath_middle.time_s.back() > seconds(t.ready));
  CHECK(std::is_sorted(t.bath_molten.value.begin(), t.bath_molten.value.end()));
  CHECK(near_abs(t.bath_molten.value.back(), 1.6, 1e-9));  // the fronts of a 3.2 mm sheet meet
  CHECK(std::is_sorted(t.skin_damage.value.begin(), t.skin_damage.value.end()));
  CHECK(near_abs(t.skin_damage.value.back(), seconds(t.damage), 1e-12));
  CHECK(t.sheet_surface.time_s.back() >= seconds(t.set));
  CHECK(t.crystallinity.value.back() >= 0.95);
  CHECK(near_abs(*std::max_element(t.skin_basal.value.begin(), t.skin_basal.value.end()),
                 celsius(seconds(t.peak_skin)), 0.05));
}

TEST_CASE("a sheet of no latent heat is ready when the exact series says, through the front door") {
  library::Library library = shipped();
  library::Thermal& thermal = library.sheets.at("elastic-clear").thermal;
  thermal.latent_heat = stated("latent_heat", 0.0, unit(Dimension::latent_heat));
  thermal.specific_heat_melt = thermal.specific_heat_solid;
  Request r = request();
  r.thickness = stated("thickness", 3.2e-3, units::millimetre());
  r.perforation = "solid";
  r.film = stated("film", 500.0, unit(Dimension::film_coefficient));
  r.bath = stated("bath", kelvin(70.0), units::celsius());
  r.start = stated("start", kelvin(22.0), units::celsius());
  const double share = (thermal.melting_end.si() - kelvin(70.0)) / (kelvin(22.0) - kelvin(70.0));
  const double k = thermal.conductivity.si();
  const double exact_s = wall_time(500.0 * 1.6e-3 / k, share) * 1.6e-3 * 1.6e-3 * thermal.density.si() *
                         thermal.specific_heat_solid.si() / k;
  CHECK(near_rel(seconds(time(resolve(library, r)).ready), exact_s, 1e-3));
  // The value stays that of the central figures when the sheet is known only in ranges.
  r.samples = 32;
  const Timing drawn = time(resolve(library, r));
  CHECK(near_rel(seconds(drawn.ready), exact_s, 1e-3));
  for (const NamedFinding& result : drawn.results())
    CHECK((!result.finding.known() || std::isfinite(result.finding.figure().si())));
}

TEST_CASE("every sheet and stock item of the library has a finite timing") {
  for (const library::StockItem* item : shipped().all_stock()) {
    CAPTURE(item->key());
    Request r;
    r.sheet = item->sheet;
    r.stock_item = item->key();
    r.samples = 0;
    const Timing t = timing_of(r);
    for (const NamedFinding& result : t.results())
      CHECK((!result.finding.known() ? !result.finding.reason().empty()
                                     : std::isfinite(result.finding.figure().si())));
    CHECK(seconds(t.half_soft) < seconds(t.ready));
  }
}

TEST_CASE("defaults are the sheet's stock item nearest to 3.2 mm, its usual bath and the library's room") {
  const Situation s = resolve(shipped(), request());
  CHECK(near_rel(s.thickness.si(), 3.2e-3, 1e-9));
  CHECK(s.perforation.id == "solid");
  CHECK(s.bath.si() == s.sheet->practice.bath.si());
  CHECK(s.room.same_node(shipped().surroundings.room));
  CHECK(s.start.same_node(s.room));
  CHECK(s.skin->id == "forearm");
  CHECK(s.dried);
  CHECK_FALSE(s.liner);
  CHECK_FALSE(s.wrap);
  Request r = request();
  r.liner = "none";
  r.stock_item = "2.4-micro";
  const Situation micro = resolve(shipped(), r);
  CHECK(micro.perforation.id == "micro");
  CHECK(near_rel(micro.thickness.si(), 2.4e-3, 1e-9));
  CHECK_FALSE(micro.liner);
}

TEST_CASE("children, elders and reduced sensation wait longer than adults, and a liner shortens it") {
  Request r = request();
  const double adult = seconds(timing_of(r).wait);
  r.skin = "thin";
  const double thin = seconds(timing_of(r).wait);
  r.skin = "reduced";
  const double reduced = seconds(timing_of(r).wait);
  CHECK(thin > adult);
  CHECK(reduced > thin);
  r.liner = "stockinette";
  CHECK(seconds(timing_of(r).wait) < reduced);
}

struct Refusal {
  const char* name;
  void (*spoil)(Request&);
  Trouble trouble;
  const char* says;
};

Figure typed(const char* option, double si, const Unit& in) {
  return Figure::entered(option, Range::exactly(si), in);
}
Figure typed_C(const char* option, double celsius) {
  return typed(option, kelvin(celsius), units::celsius());
}
Figure typed_mm(double mm) {
  return typed("--thickness", mm * 1e-3, units::millimetre());
}
Figure typed_litres(double litres) {
  return typed("--bath-water", litres * 1e-3, unit(Dimension::volume));
}

const std::vector<Refusal>& refusals() {
  static const std::vector<Refusal> all{
      {"bath below melting", [](Request& r) { r.bath = typed_C("--bath", 50.0); }, Trouble::no_answer,
       "melting_end"},
      {"bath at the melting end, which it only creeps towards",
       [](Request& r) { r.bath = typed_C("--bath", 60.0); }, Trouble::no_answer, "never softens"},
      {"boiling bath", [](Request& r) { r.bath = typed_C("--bath", 101.0); }, Trouble::no_answer, "boils"},
      {"a cup of water",
       [](Request& r) {
         r.bath_water = typed_litres(0.25);
         r.area = typed("--size", 410e-4, units::square_centimetre());
       },
       Trouble::no_answer, "cool to"},
      {"no water", [](Request& r) { r.bath_water = typed_litres(0.0); }, Trouble::data, "bath-water"},
      {"a spot that the air keeps hard",
       [](Request& r) {
         r.reheat = Reheat::spot;
         r.thickness = typed_mm(6.0);
         r.bath = typed_C("--bath", 62.0);
       },
       Trouble::no_answer, "air"},
      {"a slab of a metre", [](Request& r) { r.thickness = typed_mm(1000.0); }, Trouble::no_answer,
       "too slowly through 1000 mm of sheet behind a film of 400 W/m2K"},
      {"room too hot", [](Request& r) { r.room = typed_C("--room", 45.0); }, Trouble::no_answer, "room"},
      {"a hot room is named, not the sheet in it", [](Request& r) { r.room = typed_C("--room", 61.0); },
       Trouble::no_answer, "room"},
      {"sheet already soft", [](Request& r) { r.start = typed_C("--start", 66.0); }, Trouble::no_answer,
       "soft"},
      {"no thickness", [](Request& r) { r.thickness = typed_mm(0.0); }, Trouble::data, "thickness"},
      {"no film", [](Request& r) { r.film = typed("--film", 0.0, unit(Dimension::film_coefficient)); },
       Trouble::data, "film"},
      {"no area", [](Request& r) { r.area = typed("--size", 0.0, units::square_centimetre()); },
       Trouble::data, "area"},
      {"more than all crystals",
       [](Request& r) { r.crystallised = typed("--crystallised", 1.2, units::percent()); }, Trouble::data,
       "expected 0 to 1, saw 1.2 to 1.2"},
      {"holes this sheet is not sold with", [](Request& r) { r.perforation = "maxi"; }, Trouble::no_answer,
       "not in stock with perforation maxi"},
      {"five layers", [](Request& r) { r.layers = 5; }, Trouble::data, "layers"},
      {"negative samples", [](Request& r) { r.samples = -1; }, Trouble::data, "samples"},
      {"too few samples", [](Request& r) { r.samples = 3; }, Trouble::data, "samples"},
      {"unknown sheet", [](Request& r) { r.sheet = "elastic-cleer"; }, Trouble::usage, "elastic-clear"},
      {"unknown skin", [](Request& r) { r.skin = "leather"; }, Trouble::usage, "adult"},
      {"unknown stock item", [](Request& r) { r.stock_item = "9.9-solid"; }, Trouble::usage, "9.9-solid"}};
  return all;
}

TEST_CASE("holes are those of the stock item, and a thickness alone names no item") {
  library::Library holed = shipped();
  std::erase_if(holed.sheets.at("elastic-clear").stock,
                [](const library::StockItem& item) { return item.perforation != "micro"; });
  Request r = request();
  CHECK(resolve(holed, r).perforation.id == "micro");
  r.thickness = typed_mm(1.7);
  CHECK(resolve(holed, r).perforation.id == "solid");
  r.stock_item = "1.6-micro";
  const Situation named = resolve(holed, r);
  CHECK(named.perforation.id == "micro");
  CHECK(near_rel(named.thickness.si(), 1.7e-3, 1e-12));
  r.perforation = "maxi";
  CHECK(resolve(holed, r).perforation.id == "maxi");
}

TEST_CASE("impossible combinations are refused with the reason and what to change") {
  for (const Refusal& refusal : refusals()) {
    CAPTURE(refusal.name);
    Request r = request();
    refusal.spoil(r);
    try {
      timing_of(r);
      FAIL("it was accepted");
    } catch (const Failure& failure) {
      CHECK(failure.trouble() == refusal.trouble);
      CHECK(std::string(failure.what()).find(refusal.says) != std::string::npos);
      CHECK_FALSE(failure.problems().front().hint.empty());
    }
  }
}

TEST_CASE("water nobody wiped off never brings the sheet to skin sooner, and hastens its stiffening") {
  for (const char* skin : {"forearm", "adult", "thin", "reduced"})
    for (const char* liner : {"none", "stockinette"}) {
      CAPTURE(std::string(skin));
      CAPTURE(std::string(liner));
      Request r = request();
      r.skin = skin;
      r.liner = liner;
      const Timing dried = timing_of(r);
      r.dried = false;
      const Timing wet = timing_of(r);
      CHECK(seconds(wet.wait) >= seconds(dried.wait));
      CHECK(seconds(wet.closes) < seconds(dried.closes));
      // Soaked through, a liner keeps nothing off: it waits as bare skin does.
      r.liner = "none";
      CHECK(seconds(wet.wait) == seconds(timing_of(r).wait));
    }
}

TEST_CASE("holes hasten stiffening by the mass they take, and shorten no wait") {
  // Lumped cooling: times go with the mass for each area of face (Cengel & Ghajar, Heat and Mass Transfer 5e,
  // 4-1).
  Request r = request();
  r.thickness = typed_mm(2.4);
  r.perforation = "solid";
  const Timing solid = timing_of(r);
  for (const char* holes : {"micro", "mini", "maxi"}) {
    CAPTURE(std::string(holes));
    r.perforation = holes;
    const Situation s = resolve(shipped(), r);
    const Timing t = time(s);
    CHECK(seconds(t.wait) == seconds(solid.wait));
    CHECK(celsius(seconds(t.peak_skin)) == celsius(seconds(solid.peak_skin)));
    const double mass_share = 1.0 - s.perforation.holes->open_area.si();
    // 4 %: the sheet is not all of one temperature, and warms itself as it sets.
    CHECK(near_rel(seconds(t.closes) / seconds(solid.closes), mass_share, 0.04));
  }
}

TEST_CASE("the curves of skin are those that the wait was judged by") {
  Request r = request();
  r.dried = false;
  const Timing t = timing_of(r);
  const auto& basal = t.skin_basal.value;
  // 0.05 K: what the points of the curve may miss of its top.
  CHECK(near_abs(*std::max_element(basal.begin(), basal.end()), celsius(seconds(t.peak_skin)), 0.05));
}

TEST_CASE("a piece nobody measured is as large as the library's conditions usually take") {
  const Figure area = resolve(shipped(), request()).area;
  double least = area.si();
  double most = area.si();
  int below = 0;
  int above = 0;
  for (const auto& [id, condition] : shipped().conditions) {
    const Figure& piece = condition.piece.area;
    least = std::min(least, piece.low_si());
    most = std::max(most, piece.high_si());
    below += piece.si() < area.si() ? 1 : 0;
    above += piece.si() > area.si() ? 1 : 0;
  }
  CHECK(area.low_si() == least);
  CHECK(area.high_si() == most);
  CHECK(2 * std::max(below, above) <= static_cast<int>(shipped().conditions.size()));
  Request own = request();
  own.area = typed("--size", 60e-4, units::square_centimetre());
  CHECK(resolve(shipped(), own).area.si() == 60e-4);
}

}  // namespace
}  // namespace warmsheet::heat_tests
