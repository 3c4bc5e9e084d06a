// SPDX-License-Identifier: MIT
// A fit must find constants that were put into made-up notes, weigh them with what the library knew as the
// law of conditional probability has it, say what notes leave open, and write files that the library reads
// back. The notes are made with the room's own models: this checks the fit, not the physics.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <string_view>
#include <vector>

#include "heat/air_run.h"
#include "heat/bath.h"
#include "heat/calibration.h"
#include "heat/chain.h"
#include "heat/inputs.h"
#include "support/near.h"
#include "support/scratch.h"

using namespace warmsheet;
using testing::near_abs;
using testing::near_rel;

namespace {

const library::Library& shipped() {
  static const library::Library library = library::load({});
  return library;
}

struct Truth {
  double film_W_m2K;
  double half_time_42_s;
  double latent_J_kg;
};

heat::Case true_case(double thickness_m, const Truth& truth) {
  const Figure thickness = Figure::entered("thickness", Range::exactly(thickness_m), units::millimetre());
  const heat::Request request{
      .sheet = "elastic-clear", .thickness = thickness, .samples = 0, .on_rack = true};
  heat::Case c = heat::Inputs(heat::resolve(shipped(), request)).central();
  c.bath.film_W_m2K = truth.film_W_m2K;
  c.sheet.kinetics.half_time_42_s = truth.half_time_42_s;
  c.sheet.phases.latent_J_kg = truth.latent_J_kg;
  return c;
}

std::string seconds(const char* key, double time_s) {
  return std::string(key) + " = \"" + std::to_string(time_s) + " s\"\n";
}

std::string note(const std::string& id, double thickness_m, const Truth& truth, bool on_the_rack) {
  const heat::Case c = true_case(thickness_m, truth);
  const heat::BathRun bath = heat::run_bath(c, heat::longest_run_s);
  std::string text =
      "[[note]]\nid = \"" + id + "\"\nthickness = \"" + std::to_string(thickness_m * 1e3) + " mm\"\n";
  text += seconds("half_soft", *bath.half_soft_s) + seconds("ready", *bath.ready_s);
  if (!on_the_rack) return text;
  const heat::Bench bench(c);
  heat::AirRun air(bench);
  const heat::Setting setting = air.setting_until(heat::longest_run_s);
  return text + seconds("stiffens", *setting.closes_s) + seconds("holds_shape", *setting.holds_s) +
         seconds("set", *setting.set_s);
}

heat::BenchNotes notes_of(const std::string& text, const library::Library& library = shipped()) {
  return heat::read_bench_notes("sheet = \"elastic-clear\"\nbath_state = \"still\"\n" + text, "notes.toml",
                                library);
}

/// The three constants as a library may hold them: shipped values, each known within these factors.
struct Doubt {
  double film;
  double half_time_42;
  double latent_heat;
};

std::string doubted(const char* key, const Figure& figure, double factor) {
  return fmt::format("{} = {{ value = {}, low = {}, high = {}, unit = \"{}\", basis = \"memory\" }}\n", key,
                     figure.value(), figure.value() / factor, figure.value() * factor, figure.unit().id);
}

library::Library with_doubt(const Doubt& doubt) {
  const testing::Scratch scratch;
  const library::Thermal& thermal = shipped().sheet("elastic-clear").thermal;
  static_cast<void>(scratch.file(
      "surroundings.toml",
      "[[bath_state]]\nid = \"still\"\n" + doubted("film", shipped().bath_state("still").film, doubt.film)));
  static_cast<void>(scratch.file("sheets/elastic-clear.toml",
                                 "id = \"elastic-clear\"\n[thermal]\n" +
                                     doubted("half_time_42", thermal.half_time_42, doubt.half_time_42) +
                                     doubted("latent_heat", thermal.latent_heat, doubt.latent_heat)));
  return library::load({{"user", scratch.path()}});
}

const heat::FittedConstant& constant(const heat::Calibration& calibration, std::string_view name) {
  for (const heat::FittedConstant& each : calibration.constants)
    if (each.name == name) return each;
  throw std::logic_error("no constant " + std::string(name));
}

}  // namespace

TEST_SUITE("heat") {
  TEST_CASE("constants put into notes are found again where the library knows next to nothing") {
    const library::Library vague = with_doubt({20.0, 20.0, 4.0});
    for (const Truth& truth : {Truth{300.0, 150.0, 60e3}, Truth{800.0, 350.0, 40e3}}) {
      CAPTURE(truth.film_W_m2K);
      const heat::Calibration found = heat::calibrate(
          notes_of(note("thin", 1.6e-3, truth, true) + note("thick", 3.2e-3, truth, true), vague));
      // A factor of 20 either way is a standard error of 1.8 in the logarithm, one of 4 is 0.84; the notes
      // tell each constant to about 0.15: the library draws by up to (0.15 / 0.84)^2, 3 % of the way.
      CHECK(near_rel(constant(found, "film").after.figure().si(), truth.film_W_m2K, 0.03));
      CHECK(near_rel(constant(found, "half_time_42").after.figure().si(), truth.half_time_42_s, 0.03));
      CHECK(near_rel(constant(found, "latent_heat").after.figure().si(), truth.latent_J_kg, 0.03));
      CHECK(found.misfit_after.si() < 0.05);
      CHECK(found.misfit_after.si() < found.misfit_before.si());
    }
  }

  /// Likeliest value and spread of ln(film) by summing the law of conditional probability over a grid: normal
  /// errors of the readings (7 % and a second, `reading_error_s`) times the library's normal law.
  struct Posterior {
    double likeliest = 0.0;
    double sd = 0.0;
  };
  Posterior summed_over_a_grid(double thickness_m, const Truth& truth, double known_sd) {
    const auto reading_error_s = [](double time_s) { return std::hypot(1.0, 0.07 * time_s); };
    const double shipped_film = shipped().bath_state("still").film.si();
    const heat::BathRun seen = heat::run_bath(true_case(thickness_m, truth), heat::longest_run_s);
    double weight = 0.0, first = 0.0, second = 0.0, most = 0.0, likeliest = 0.0;
    for (double log_film = std::log(150.0); log_film < std::log(2500.0); log_film += 0.01) {
      const Truth guess{std::exp(log_film), truth.half_time_42_s, truth.latent_J_kg};
      const heat::BathRun run = heat::run_bath(true_case(thickness_m, guess), heat::longest_run_s);
      const double half = (*run.half_soft_s - *seen.half_soft_s) / reading_error_s(*seen.half_soft_s);
      const double ready = (*run.ready_s - *seen.ready_s) / reading_error_s(*seen.ready_s);
      const double prior = (log_film - std::log(shipped_film)) / known_sd;
      const double w = std::exp(-0.5 * (half * half + ready * ready + prior * prior));
      if (w > most) likeliest = log_film;
      most = std::max(most, w);
      weight += w;
      first += w * log_film;
      second += w * log_film * log_film;
    }
    const double mean = first / weight;
    return {likeliest, std::sqrt(second / weight - mean * mean)};
  }

  TEST_CASE("notes and library are weighed as conditional probability has it") {
    // The other two constants are known, so that one is left and can be summed over.
    const library::Library library = with_doubt({1.5, 1.0, 1.0});
    const Truth truth{700.0, shipped().sheet("elastic-clear").thermal.half_time_42.si(),
                      shipped().sheet("elastic-clear").thermal.latent_heat.si()};
    const heat::Calibration found = heat::calibrate(notes_of(note("strip", 3.2e-3, truth, false), library));
    const Posterior expected = summed_over_a_grid(3.2e-3, truth, std::log(1.5) / 1.645);
    const Figure film = constant(found, "film").after.figure();
    // The grid's step is 0.01; the spread of a law that is a little skew is no slope at its top.
    CHECK(near_abs(std::log(film.si()), expected.likeliest, 0.01));
    CHECK(near_rel(std::log(film.high_si() / film.low_si()) / (2.0 * 1.645), expected.sd, 0.1));
    CHECK(film.si() > shipped().bath_state("still").film.si());
    CHECK(film.si() < truth.film_W_m2K);
  }

  TEST_CASE("a figure of the bench may come from the same notes: it is not weighed twice") {
    const Truth truth{500.0, 350.0, 60e3};
    const std::string text = note("thin", 1.6e-3, truth, true) + note("thick", 3.2e-3, truth, true);
    const heat::Calibration first = heat::calibrate(notes_of(text));
    const testing::Scratch scratch;
    for (const heat::CalibratedFile& file : heat::calibrated_files(first, shipped()))
      static_cast<void>(scratch.file(file.path, file.text));
    const library::Library mine = library::load({{"user", scratch.path()}});
    const heat::Calibration second = heat::calibrate(notes_of(text, mine));
    const auto width = [](const heat::Calibration& calibration, const char* name) {
      const Figure& figure = constant(calibration, name).after.figure();
      return figure.high_si() / figure.low_si();
    };
    for (const char* name : {"film", "half_time_42"}) {
      CAPTURE(name);
      CHECK(width(second, name) >= width(first, name));
    }
  }

  TEST_CASE("what the notes leave open is said, and the library's figure stays") {
    const Truth truth{400.0, 270.0, 50e3};
    const heat::Calibration found = heat::calibrate(notes_of(note("bath only", 3.2e-3, truth, false)));
    const heat::FittedConstant& half_time = constant(found, "half_time_42");
    CHECK_FALSE(half_time.after.known());
    CHECK_FALSE(half_time.after.reason().empty());
    for (const heat::CalibratedFile& file : heat::calibrated_files(found, shipped()))
      CHECK(file.text.find("half_time_42") == std::string::npos);
  }

  /// One strip of 3.2 mm with these of the times it would give.
  std::string strip(const Truth& truth, const std::vector<std::string>& kept) {
    const std::string whole = note("strip", 3.2e-3, truth, true);
    std::string text = whole.substr(0, whole.find("half_soft"));
    for (const std::string& key : kept) {
      const std::size_t from = whole.find(key);
      text += whole.substr(from, whole.find('\n', from) + 1 - from);
    }
    return text;
  }

  TEST_CASE("more readings of one strip take away no constant and widen none") {
    const Truth truth{500.0, 350.0, shipped().sheet("elastic-clear").thermal.latent_heat.si()};
    const std::vector<std::string> all{"half_soft", "ready", "stiffens", "holds_shape", "set"};
    const double before = shipped().bath_state("still").film.si();
    double width = std::numeric_limits<double>::infinity();
    for (std::ptrdiff_t n = 2; n <= static_cast<std::ptrdiff_t>(all.size()); ++n) {
      CAPTURE(n);
      const heat::Calibration found = heat::calibrate(notes_of(strip(truth, {all.begin(), all.begin() + n})));
      REQUIRE(constant(found, "film").after.known());
      const Figure film = constant(found, "film").after.figure();
      CHECK(film.si() > before);
      CHECK(film.si() < truth.film_W_m2K);
      // Slopes are taken where each fit ends: the widths differ by that, too.
      CHECK(film.high_si() / film.low_si() < 1.02 * width);
      width = film.high_si() / film.low_si();
    }
  }

  TEST_CASE("each sort of reading tells its own constant") {
    const Truth truth{400.0, 350.0, shipped().sheet("elastic-clear").thermal.latent_heat.si()};
    const heat::Calibration rack =
        heat::calibrate(notes_of(strip(truth, {"stiffens", "holds_shape", "set"})));
    const Figure half_time = constant(rack, "half_time_42").after.figure();
    CHECK(half_time.si() > shipped().sheet("elastic-clear").thermal.half_time_42.si());
    CHECK(half_time.si() < truth.half_time_42_s);
    const Figure latent = constant(rack, "latent_heat").after.figure();
    CHECK(latent.low_si() < truth.latent_J_kg);
    CHECK(truth.latent_J_kg < latent.high_si());
    CHECK(constant(rack, "film").after.reason().find("half_soft and ready") != std::string::npos);
  }

  TEST_CASE("what the model says of a reading rests on all it was worked out from, and on no limb") {
    const Truth truth{450.0, 350.0, 50e3};
    const heat::Calibration found =
        heat::calibrate(notes_of(note("thin", 1.6e-3, truth, true) + note("thick", 3.2e-3, truth, true)));
    const auto rests_on = [](const Figure& figure, const Figure& on) {
      const std::vector<Figure> below = figure.rests_on();
      return std::any_of(below.begin(), below.end(), [&](const Figure& f) { return f.same_node(on); });
    };
    const library::Thermal& thermal = shipped().sheet("elastic-clear").thermal;
    for (const heat::Residual& residual : found.residuals) {
      CAPTURE(residual.what);
      for (const Figure& model : {residual.before, residual.after}) {
        CHECK(rests_on(model, thermal.conductivity));
        CHECK(model.basis() == Basis::memory);
        CHECK_FALSE(rests_on(model, shipped().tissue.damage_factor));
        CHECK_FALSE(rests_on(model, shipped().skin("forearm").layers.front().thickness));
      }
      CHECK(rests_on(residual.before, thermal.latent_heat));
      CHECK_FALSE(rests_on(residual.after, thermal.latent_heat));
      CHECK(rests_on(residual.after, constant(found, "latent_heat").after.figure()));
    }
  }

  TEST_CASE("notes that no constants meet are refused, and the reading that is farthest off is named") {
    const Truth truth{450.0, 300.0, 50e3};
    const std::string others = note("thick", 3.2e-3, truth, true) + note("second", 1.6e-3, truth, true) +
                               note("third", 2.4e-3, truth, true);
    CHECK_NOTHROW(static_cast<void>(heat::calibrate(notes_of(note("thin", 1.6e-3, truth, true) + others))));
    // The stopwatch of the thin strip was read at the wrong lap.
    std::string slip = note("thin", 1.6e-3, truth, true);
    const std::size_t from = slip.find("ready = ");
    slip.replace(from, slip.find('\n', from) - from, "ready = \"400 s\"");
    try {
      static_cast<void>(heat::calibrate(notes_of(slip + others)));
      FAIL_CHECK("they were met");
    } catch (const Failure& failure) {
      CHECK(failure.trouble() == Trouble::no_answer);
      CAPTURE(std::string(failure.what()));
      CHECK(std::string(failure.what()).find("\"ready\" of \"thin\"") != std::string::npos);
    }
  }

  TEST_CASE("notes of no sheet on earth determine nothing, and each constant says why") {
    try {
      heat::calibrate(
          notes_of("[[note]]\nid = \"a\"\nthickness = \"3.2 mm\"\nready = \"5 s\"\nset = \"30 s\"\n"));
      FAIL("fitted");
    } catch (const Failure& failure) {
      CHECK(failure.trouble() == Trouble::no_answer);
      const Problem& problem = failure.problems().front();
      for (const char* name : {"film: ", "half_time_42: ", "latent_heat: "})
        CHECK(problem.message.find(name) != std::string::npos);
      CHECK(problem.message.find("look for a slip") != std::string::npos);
    }
  }

  TEST_CASE("fitted constants have basis bench and a range that holds them") {
    const Truth truth{500.0, 200.0, 55e3};
    const heat::Calibration found =
        heat::calibrate(notes_of(note("thin", 1.6e-3, truth, true) + note("thick", 3.2e-3, truth, true)));
    for (const heat::FittedConstant& each : found.constants) {
      CAPTURE(each.name);
      REQUIRE(each.after.known());
      CHECK(each.after.figure().basis() == Basis::bench);
      CHECK(each.after.figure().low_si() < each.after.figure().si());
      CHECK(each.after.figure().si() < each.after.figure().high_si());
    }
  }

  TEST_CASE("the files it makes are read back as a layer of the library") {
    const Truth truth{500.0, 200.0, 55e3};
    const heat::Calibration found =
        heat::calibrate(notes_of(note("thin", 1.6e-3, truth, true) + note("thick", 3.2e-3, truth, true)));
    const testing::Scratch scratch;
    for (const heat::CalibratedFile& file : heat::calibrated_files(found, shipped()))
      static_cast<void>(scratch.file(file.path, file.text));
    const library::Library mine = library::load({{"user", scratch.path()}});
    CHECK(mine.sheet("elastic-clear").thermal.half_time_42.basis() == Basis::bench);
    // Files carry six digits.
    CHECK(near_rel(mine.sheet("elastic-clear").thermal.half_time_42.si(),
                   constant(found, "half_time_42").after.figure().si(), 1e-5));
    CHECK(mine.bath_state("still").film.basis() == Basis::bench);
    CHECK(mine.sheet("elastic-clear").thermal.density.basis() ==
          shipped().sheet("elastic-clear").thermal.density.basis());
  }

  TEST_CASE("a calibration keeps what an earlier one found and it did not") {
    const Truth truth{550.0, 350.0, 55e3};
    const testing::Scratch scratch;
    const auto write = [&](const heat::Calibration& calibration, const library::Library& already) {
      for (const heat::CalibratedFile& file : heat::calibrated_files(calibration, already))
        static_cast<void>(scratch.file(file.path, file.text));
      return library::load({{"user", scratch.path()}});
    };
    const heat::Calibration whole =
        heat::calibrate(notes_of(note("thin", 1.6e-3, truth, true) + note("thick", 3.2e-3, truth, true)));
    const library::Library first = write(whole, shipped());
    const heat::BenchNotes floating = heat::read_bench_notes(
        "sheet = \"filled-fast\"\nbath_state = \"floating\"\n"
        "[[note]]\nid = \"a\"\nthickness = \"1.6 mm\"\nhalf_soft = \"7 s\"\nready = \"14 s\"\n"
        "[[note]]\nid = \"b\"\nthickness = \"2.4 mm\"\nhalf_soft = \"12 s\"\nready = \"26 s\"\n",
        "notes.toml", first);
    const heat::Calibration later = heat::calibrate(floating);
    REQUIRE(constant(later, "film").after.known());
    const library::Library second = write(later, first);
    CHECK(second.bath_state("still").film.basis() == Basis::bench);
    CHECK(near_rel(second.bath_state("still").film.si(), first.bath_state("still").film.si(), 1e-9));
    CHECK(second.bath_state("floating").film.basis() == Basis::bench);

    const heat::Calibration bath_only = heat::calibrate(notes_of(note("bath", 3.2e-3, truth, false), second));
    REQUIRE_FALSE(constant(bath_only, "half_time_42").after.known());
    const library::Library third = write(bath_only, second);
    CHECK(third.sheet("elastic-clear").thermal.half_time_42.basis() == Basis::bench);
    CHECK(near_rel(third.sheet("elastic-clear").thermal.half_time_42.si(),
                   first.sheet("elastic-clear").thermal.half_time_42.si(), 1e-9));
    CHECK(third.bath_state("floating").film.basis() == Basis::bench);
  }

  /// The problems of a whole file of notes.
  std::vector<Problem> slips_in(const std::string& text) {
    try {
      static_cast<void>(heat::read_bench_notes(text, "notes.toml", shipped()));
    } catch (const Failure& failure) {
      return failure.problems();
    }
    return {};
  }

  TEST_CASE("a slip in one key of the notes makes no other key look unknown") {
    const std::string times = "half_soft = \"20 s\"\nready = \"50 s\"\nset = \"6 min\"\n";
    const std::string head = "sheet = \"elastic-clear\"\nbath_state = \"still\"\n";
    const auto lone = [](const std::vector<Problem>& slips, std::uint32_t line, const char* words) {
      REQUIRE(slips.size() == 1);
      CHECK(slips.front().place.line == line);
      CHECK(slips.front().text().find(words) != std::string::npos);
    };
    const std::string note = "[[note]]\nid = \"a\"\n";
    lone(slips_in(head + note + "perforation = \"micr\"\n" + times), 5, "micro");
    lone(slips_in(head + note + "stock = \"3.2-slid\"\n" + times), 5, "3.2-solid");
    lone(slips_in("sheet = \"elastic-clear\"\n" + note + "thickness = \"3.2 mm\"\n" + times), 1,
         "bath_state");
    lone(slips_in("sheet = \"elastic-cleer\"\nbath_state = \"still\"\n" + note + times), 1, "elastic-clear");
    lone(slips_in("sheet = \"elastic-clear\"\nbath_state = \"stil\"\n" + note + times), 2, "still");
    lone(slips_in(head + note + "thickness = \"32 mm\"\n" + times), 5, "12 mm");
    lone(slips_in(head + note + "thickness = \"3.2 mm\"\nready = \"65\"\n"), 6, "unit is missing");
  }

  TEST_CASE("one sheet is not calibrated with another's stock") {
    const std::vector<Problem> slips = slips_in(
        "sheet = \"elastic-clear\"\nbath_state = \"still\"\n[[note]]\nid = \"a\"\n"
        "stock = \"filled-steady/2.4-solid\"\nready = \"50 s\"\n");
    REQUIRE(slips.size() == 1);
    CHECK(slips.front().place.line == 5);
    CHECK(slips.front().message.find("another sheet") != std::string::npos);
    CHECK_THROWS_AS(static_cast<void>(heat::resolve(
                        shipped(), {.sheet = "elastic-clear", .stock_item = "filled-steady/2.4-solid"})),
                    Failure);
  }

  TEST_CASE("notes with slips are refused with their place") {
    struct Row {
      const char* label;
      const char* text;
      const char* expected;
    };
    const Row rows[] = {
        {"nothing measured", "[[note]]\nid = \"a\"\nthickness = \"3.2 mm\"\n", "holds no measurement"},
        {"no unit", "[[note]]\nid = \"a\"\nthickness = \"3.2 mm\"\nready = \"65\"\n", "notes.toml:6:"},
        {"wrong order",
         "[[note]]\nid = \"a\"\nthickness = \"3.2 mm\"\nhalf_soft = \"65 s\"\nready = \"30 s\"\n",
         "comes before"},
        {"bath too cool", "[[note]]\nid = \"a\"\nthickness = \"3.2 mm\"\nbath = \"45 C\"\nready = \"65 s\"\n",
         "melt"},
        {"misspelt", "[[note]]\nid = \"a\"\nthickness = \"3.2 mm\"\nreedy = \"65 s\"\nset = \"5 min\"\n",
         "did you mean ready"},
        {"no note", "", "no dip is noted"},
    };
    for (const Row& row : rows) {
      CAPTURE(row.label);
      CHECK_THROWS_WITH_AS(static_cast<void>(notes_of(row.text)), doctest::Contains(row.expected), Failure);
    }
  }
}
