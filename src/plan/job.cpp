// SPDX-License-Identifier: MIT
#include "plan/job.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/file.h"
#include "base/strict_toml.h"
#include "base/text.h"
#include "library/precautions.h"
#include "outline/estimate.h"
#include "outline/named_file.h"
#include "plan/condition.h"

namespace warmsheet::plan {
namespace {

constexpr std::int64_t most_copies = 500;

outline::Measures read_measures(toml::Reader& reader) {
  outline::Measures measures;
  for (const std::string& name : reader.names())
    measures.emplace(name, reader.figure(name, Dimension::length, outline::measure_limits_m));
  return measures;
}

class JobReader {
 public:
  JobReader(toml::Reader& root, const std::string& file, const library::Library& library, Problems& problems)
      : root_(root), file_(file), library_(library), problems_(problems) {}

  Job read() {
    Job job{.label = root_.text("label"),
            .file = file_,
            .condition = root_.text_if("condition").value_or(""),
            .stock = root_.text_if("stock").value_or(""),
            .outline = {},
            .area = {},
            .measures = {},
            .heat = {},
            .precautions = library::read_precautions(root_),
            .push = root_.figure_if("push", Dimension::force, library::push_limits_N),
            .spacing = library_.cutting.spacing,
            .margin = library_.cutting.margin,
            .rotations = {.free = true, .angles_deg = {}},
            .offcuts = {},
            .edging = {},
            .lining = {}};
    job.copies = static_cast<int>(root_.whole_if("copies", 1, most_copies).value_or(1));
    job.edging = root_.text_if("edging").value_or("");
    job.lining = root_.text_if("lining").value_or("");
    read_pattern(job);
    read_bath(job);
    read_person(job);
    read_cut(job);
    check_names(job);
    take_over(job, library_, condition_of(job));
    check_suits(job);
    if (job.heat.liner == "none") job.heat.liner.reset();
    return job;
  }

 private:
  /// nullptr if none is named, or an unknown one: that is a problem of its own.
  [[nodiscard]] const library::Condition* condition_of(const Job& job) const {
    const auto found = library_.conditions.find(job.condition);
    return found == library_.conditions.end() ? nullptr : &found->second;
  }

  /// The design named, else the one that the condition is usually made to.
  [[nodiscard]] std::optional<std::string> design_of(const Job& job) {
    if (auto named = root_.text_if("design")) return named;
    const library::Condition* condition = condition_of(job);
    const bool other_pattern = root_.has("outline") || root_.has("area");
    if (!condition || other_pattern || condition->design.empty()) return std::nullopt;
    return condition->design;
  }

  void read_pattern(Job& job) {
    const auto design = design_of(job);
    const auto file = outline::named_file(root_, "outline");
    job.area = root_.figure_if("area", Dimension::area, outline::area_limits_m2);
    if (root_.raw_if("side") != nullptr)
      job.side =
          root_.choice("side", {"right", "left"}) == "left" ? outline::Side::left : outline::Side::right;
    auto measures_table = root_.table_if("measures");
    if (measures_table) job.measures = read_measures(*measures_table);
    const int ways = (design ? 1 : 0) + (root_.has("outline") ? 1 : 0) + (root_.has("area") ? 1 : 0);
    if (ways != 1) {
      root_.problem(
          "", ways == 0 ? "no pattern is given" : fmt::format("the pattern is given in {} ways", ways),
          "give exactly one of: design = \"ID\" with [measures], outline = \"FILE\", area = \"410 cm2\"");
      return;
    }
    if (design) draw(job, *design);
    if (file)
      collecting(problems_, root_.place_of("outline"), [&] {
        outline::ReadOptions options = file->options;
        options.side = job.side;
        job.outline = outline::read(beside(file_, file->file), options);
      });
    if (job.outline) job.area = job.outline->area;
    note_idle_measures(job);
  }

  /// One table of measures may serve several designs of a person; where nothing is drawn they are a slip.
  void note_idle_measures(Job& job) {
    const library::Condition* condition = condition_of(job);
    const std::string girth = condition != nullptr ? condition->piece.girth_measure : "";
    if (job.outline && job.outline->design) {
      std::erase(job.outline->unused, girth);
      return;
    }
    if (!job.outline && !root_.has("area")) return;
    collecting(problems_, root_.place_of("measures"),
               [&] { outline::require_measures(library_, job.measures); });
    std::vector<std::string> idle;
    for (const auto& [name, value] : job.measures)
      if (name != girth) idle.push_back(name);
    if (!idle.empty())
      root_.problem("measures", fmt::format("nothing here uses {}", join(idle, ", ")),
                    "measures draw a design = \"ID\"; leave them out with an outline file or an area");
  }

  /// What a design is not for, held against the person's precautions.
  void check_suits(Job& job) const {
    if (!job.outline || !job.outline->design) return;
    const auto& limit = library_.design(*job.outline->design).is_not;
    if (!limit) return;
    const std::vector<std::string>& against = limit->precautions;
    if (std::find_first_of(job.precautions.begin(), job.precautions.end(), against.begin(), against.end()) !=
        job.precautions.end())
      job.outline->checks.push_back(
          {std::string(outline::is_not_check), false, say("this design is not {}", Label(limit->says))});
  }

  void draw(Job& job, const std::string& design) {
    collecting(problems_, root_.place_of(root_.has("design") ? "design" : "condition"), [&] {
      job.outline = outline::draw(library_.design(design), library_, job.measures,
                                  job.side.value_or(outline::Side::right));
    });
  }

  void read_bath(Job& job) {
    auto bath = root_.table_if("bath");
    if (!bath) return;
    job.heat.bath = bath->figure_if("temperature", Dimension::temperature);
    job.heat.film = bath->figure_if("film", Dimension::film_coefficient);
    job.heat.start = bath->figure_if("sheet_start", Dimension::temperature);
    job.heat.room = bath->figure_if("room", Dimension::temperature);
    job.heat.bath_state = bath->text_if("state");
    if (job.heat.bath_state)
      collecting(problems_, bath->place_of("state"),
                 [&] { static_cast<void>(library_.bath_state(*job.heat.bath_state)); });
    job.heat.dried = bath->flag_if("dried");
  }

  void read_person(Job& job) {
    auto person = root_.table_if("person");
    if (!person) return;
    job.heat.skin = person->text_if("skin");
    job.heat.liner = person->text_if("liner");
    job.heat.wrap = person->text_if("wrap");
    job.heat.layers = static_cast<int>(person->whole_if("layers", 1, heat::most_layers).value_or(1));
    const auto known = [&](std::string_view key, const std::optional<std::string>& id, auto look_up) {
      if (id) collecting(problems_, person->place_of(key), [&] { look_up(*id); });
    };
    known("skin", job.heat.skin, [&](const std::string& id) { static_cast<void>(library_.skin(id)); });
    known("liner", job.heat.liner, [&](const std::string& id) {
      if (id != "none") static_cast<void>(library_.liner(id));
    });
    known("wrap", job.heat.wrap, [&](const std::string& id) { static_cast<void>(library_.wrap(id)); });
  }

  void read_cut(Job& job) {
    auto cut = root_.table_if("cut");
    if (!cut) return;
    job.spacing = cut->figure_if("spacing", Dimension::length, library::gap_limits_m).value_or(job.spacing);
    job.margin = cut->figure_if("margin", Dimension::length, library::gap_limits_m).value_or(job.margin);
    if (cut->has("rotations"))
      collecting(problems_, cut->place_of("rotations"),
                 [&] { job.rotations = parse_rotations(cut->text("rotations")); });
    for (toml::Reader& entry : cut->tables("offcut")) {
      const std::string name = entry.text("name");
      const auto size = entry.text_if("size");
      const auto file = outline::named_file(entry, "outline");
      if (size.has_value() == entry.has("outline")) {
        entry.problem("", "an offcut has either a size or an outline file");
        continue;
      }
      collecting(problems_, entry.place(), [&] {
        if (size) job.offcuts.push_back(rectangular_offcut(name, *size, entry.place_of("size")));
        if (!file) return;
        outline::Outline shape = outline::read(beside(file_, file->file), file->options);
        job.offcuts.push_back({name, std::move(shape.shape), shape.area});
      });
    }
  }

  void check_names(const Job& job) {
    const auto known = [&](std::string_view key, auto look_up) {
      if (root_.has(key)) collecting(problems_, root_.place_of(key), look_up);
    };
    if (job.stock.empty() && job.condition.empty())
      root_.problem("stock", "the job names no sheet",
                    "give stock = \"SHEET/ITEM\", or condition = \"ID\" to have one chosen, or both");
    if (job.push && job.condition.empty())
      root_.problem("push", "is for choosing a sheet, and the job names no condition",
                    "leave it out, or name the condition");
    known("condition", [&] { static_cast<void>(library_.condition(job.condition)); });
    known("stock", [&] { static_cast<void>(library_.stock_item(job.stock)); });
    known("edging", [&] { static_cast<void>(library_.fixing(job.edging, {"edging"})); });
    known("lining", [&] { static_cast<void>(library_.fixing(job.lining, {"lining"})); });
  }

  toml::Reader& root_;
  const std::string& file_;
  const library::Library& library_;
  Problems& problems_;
};

}  // namespace

Offcut rectangular_offcut(std::string name, std::string_view size, const Place& place) {
  const WrittenSize written = parse_size(size);
  Figure area = Figure::entered("offcut " + name, Range::exactly(written.width.si * written.height.si),
                                units::square_centimetre(), place);
  return {std::move(name), rectangle(written.width.si * mm_per_m, written.height.si * mm_per_m),
          std::move(area)};
}

Job parse_job(std::string_view text, const std::string& path, const library::Library& library) {
  const toml::Value document = toml::parse(text, path);
  Problems problems;
  std::optional<Job> job;
  {
    toml::Reader root(document, "", problems, Basis::entered);
    job = JobReader(root, path, library, problems).read();
  }
  problems.throw_if_any();
  job->heat.area = job->area;
  return std::move(*job);
}

Job read_job(const std::string& path, const library::Library& library) {
  return parse_job(read_file(path), path, library);
}

}  // namespace warmsheet::plan
