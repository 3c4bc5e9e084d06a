// SPDX-License-Identifier: MIT
// One condition (materials/conditions/*.toml). Limits stop slips of unit; they set no clinical bound.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <set>

#include "base/dimension.h"
#include "base/text.h"
#include "library/condition.h"
#include "library/precautions.h"
#include "library/read_records.h"

namespace warmsheet::library {
namespace {

using D = Dimension;

constexpr Limits piece_area_m2{3e-4, 0.3};
constexpr Limits limb_length_m{10e-3, 0.8};
constexpr Limits edge_m{40e-3, 4.0};
constexpr Limits share{0.0, 1.0};
constexpr Limits form_time_s{10.0, 1800.0};
constexpr Limits palm_m{15e-3, 0.2};
constexpr Limits rise_m{0.0, 40e-3};
constexpr Limits joint_rad{0.0, rad_of_deg(130.0)};
constexpr Limits points{0.0, 10.0};

/// What a need measures, or nothing if it is graded.
struct NeedKind {
  std::string_view id;
  std::optional<Dimension> measured;
  Limits limits;
};

const std::vector<NeedKind>& need_kinds() {
  static const std::vector<NeedKind> kinds{
      {"rigidity", D::angle, {0.0, rad_of_deg(60.0)}},
      {"strength", D::ratio, {0.0, 100.0}},
      {"lightness", D::mass, {0.0, 2.0}},
      {"ventilation", D::ratio, {0.0, 0.6}},
      {"time", D::ratio, {0.0, 20.0}},
      {"squeeze", D::pressure, {0.0, 50e3}},
      {"edging", D::length, {0.0, 4.0}},
      {"cost", D::ratio, {0.0, 1.0}},
      {"waste", D::ratio, {0.0, 1.0}},
      {"memory", std::nullopt, {}},
      {"drape", std::nullopt, {}},
      {"control", std::nullopt, {}},
      {"bonding", std::nullopt, {}},
      {"edges", std::nullopt, {}},
  };
  return kinds;
}

const NeedKind& kind_of(std::string_view id) {
  const auto& kinds = need_kinds();
  return *std::find_if(kinds.begin(), kinds.end(), [&](const NeedKind& kind) { return kind.id == id; });
}

Statement read_statement(toml::Reader reader) {
  Statement read{reader.text("says"), reader.origin()};
  read.origin.place = reader.place_of("says");
  return read;
}

JointPosition read_position(toml::Reader& entry) {
  return {.id = entry.text("id"),
          .joint = entry.text("joint"),
          .angle = entry.figure("angle", D::angle, joint_rad),
          .direction = entry.text("direction"),
          .note = entry.text_if("note").value_or("")};
}

UsualPiece read_piece(toml::Reader reader, const Library& library, const Problems& problems) {
  const CleanSoFar clean(problems);
  UsualPiece piece{.area = reader.figure("area", D::area, piece_area_m2),
                   .length = reader.figure("length", D::length, limb_length_m),
                   .perimeter = reader.figure("perimeter", D::length, edge_m),
                   .girth = reader.figure("girth", D::length, girth_limits_m),
                   .wrap = reader.figure("wrap", D::ratio, share),
                   .bends_at = reader.figure("bends_at", D::ratio, share),
                   .pushed_at = reader.figure("pushed_at", D::ratio, share),
                   .force = reader.figure("force", D::force, push_limits_N),
                   .form_time = reader.figure("form_time", D::duration, form_time_s),
                   .palm_width = reader.finding("palm_width", D::length, palm_m),
                   .palm_rise = reader.finding("palm_rise", D::length, rise_m),
                   .closed = reader.flag_if("closed").value_or(false),
                   .folds = reader.flag_if("folds").value_or(false),
                   .lasting = reader.flag_if("lasting").value_or(false),
                   .girth_measure = reader.text_if("girth_measure").value_or("")};
  if (clean && piece.pushed_at.high_si() >= piece.bends_at.low_si())
    reader.problem("pushed_at", "the push must act on the far side of where the piece bends",
                   "shares are counted from the distal end: pushed_at below bends_at over both ranges");
  if (clean && piece.palm_width.known() != piece.palm_rise.known())
    reader.problem("palm_rise", "palm_width and palm_rise are either both known or both unknown");
  if (!piece.girth_measure.empty() && library.all_parsed && !library.measures.contains(piece.girth_measure))
    reader.problem("girth_measure",
                   fmt::format("\"{}\" is not in measures.toml", clip(piece.girth_measure, 60)),
                   known_hint(piece.girth_measure, ids_of(library.measures)));
  return piece;
}

void read_bounds(toml::Reader& entry, Need& need, const NeedKind& kind, const Problems& problems) {
  const CleanSoFar clean(problems);
  need.good = entry.figure("good", *kind.measured, kind.limits);
  need.poor = entry.figure("poor", *kind.measured, kind.limits);
  if (clean && need.good->si() == need.poor->si())
    entry.problem("good", "good and poor are the same", "what lies between them is what tells sheets apart");
}

Grade read_grade_word(toml::Reader& entry, std::string_view key) {
  constexpr std::array<Grade, 5> all{Grade::none, Grade::low, Grade::moderate, Grade::high, Grade::very_high};
  std::vector<std::string> words;
  for (const Grade grade : all) words.emplace_back(grade_word(grade));
  const std::string seen = entry.choice(key, words);
  return all[static_cast<std::size_t>(std::find(words.begin(), words.end(), seen) - words.begin())];
}

void read_grade(toml::Reader& entry, Need& need) {
  const bool at_most = entry.raw_if("at_most") != nullptr;
  const bool at_least = entry.raw_if("at_least") != nullptr;
  if (at_most == at_least) {
    entry.problem(at_most ? "at_most" : "at_least", "a graded need has either at_least or at_most");
    return;
  }
  need.grade = read_grade_word(entry, at_most ? "at_most" : "at_least");
  need.at_most = at_most;
}

/// Nothing if nobody knows its id: then nobody knows what its bounds should be either.
std::optional<Need> read_need(toml::Reader& entry, const Problems& problems) {
  const CleanSoFar known(problems);
  const std::string id = entry.choice("id", need_ids());
  if (!known) {
    static_cast<void>(entry.names());
    return std::nullopt;
  }
  Need need{.id = id,
            .why = entry.text("why"),
            .weight = entry.figure("weight", D::ratio, points),
            .must = entry.flag_if("must").value_or(false),
            .good = {},
            .poor = {},
            .grade = {},
            .at_most = false,
            .origin = entry.origin()};
  const NeedKind& kind = kind_of(id);
  if (kind.measured)
    read_bounds(entry, need, kind, problems);
  else
    read_grade(entry, need);
  return need;
}

void read_needs(toml::Reader& reader, Condition& condition, const Problems& problems) {
  const CleanSoFar clean(problems);
  std::set<std::string> seen;
  for (toml::Reader& entry : reader.tables("need")) {
    auto need = read_need(entry, problems);
    if (!need) continue;
    if (!seen.insert(need->id).second) entry.problem("id", "this need is stated twice");
    condition.needs.push_back(std::move(*need));
  }
  if (clean && condition.needs.empty())
    reader.problem("need", "nothing is asked of the sheet", "write [[need]] tables; see materials/README.md");
}

bool has_whole_piece(const toml::Value& condition) {
  const toml::Table* table = condition.table();
  return table != nullptr && table->contains("piece") && !table->contains("piece_of");
}

/// The [piece] that others lay theirs over; throws a Failure if `named` has none.
const toml::Value& shared_piece(toml::Reader& reader, const std::string& named, const toml::Table& all,
                                const Problems& problems) {
  const auto at = all.find(named);
  if (at == all.end() || !has_whole_piece(at->second)) {
    std::vector<std::string> known;
    for (const auto& [id, condition] : all)
      if (has_whole_piece(condition)) known.push_back(id);
    reader.problem("piece_of",
                   fmt::format("\"{}\" is no condition with a whole [piece] of its own", clip(named, 60)),
                   known_hint(named, known));
    problems.throw_if_any();
  }
  return at->second.table()->at("piece");
}

UsualPiece read_usual_piece(toml::Reader& reader, const toml::Table& all, const Library& library,
                            Problems& problems) {
  const auto from = reader.text_if("piece_of");
  if (!from) return read_piece(reader.table("piece"), library, problems);
  const std::string path = reader.path() + ".piece";
  toml::Value piece = shared_piece(reader, *from, all, problems);
  const toml::Value* own = reader.raw_if("piece");
  Problems of_the_other;  // told where that condition itself is read
  UsualPiece shared = read_piece({piece, path, of_the_other}, library, of_the_other);
  if (own == nullptr || !of_the_other.empty()) return shared;
  toml::lay_over(piece, *own);
  return read_piece({piece, path, problems}, library, problems);
}

template <class Records>
void check_id(toml::Reader& reader, std::string_view key, const std::string& id, const Records& records) {
  if (id.empty() || records.contains(id)) return;
  reader.problem(key, fmt::format("\"{}\" is not in the library", clip(id, 60)),
                 known_hint(id, ids_of(records)));
}

void check_ids(toml::Reader& reader, const Condition& condition, const Library& library) {
  if (!library.all_parsed) return;
  check_id(reader, "design", condition.design, library.designs);
  check_id(reader, "skin", condition.skin, library.skins);
  check_id(reader, "liner", condition.liner, library.surroundings.liners);
}

}  // namespace

const std::vector<std::string>& need_ids() {
  static const std::vector<std::string> ids = [] {
    std::vector<std::string> all;
    for (const NeedKind& kind : need_kinds()) all.emplace_back(kind.id);
    return all;
  }();
  return ids;
}

Condition read_condition(const toml::Table& all, const std::string& id, const Library& library,
                         Problems& problems) {
  toml::Reader reader(all.at(id), "conditions." + id, problems);
  UsualPiece piece = read_usual_piece(reader, all, library, problems);
  Condition condition{.id = reader.text("id"),
                      .name = reader.text("name"),
                      .about = reader.text("about"),
                      .words = reader.texts_if("words"),
                      .held = read_statement(reader.table("held")),
                      .stays_free = read_statement(reader.table("free")),
                      .wear = read_statement(reader.table("wear")),
                      .review = read_statement(reader.table("review")),
                      .positions = {},
                      .piece = std::move(piece),
                      .thickness = reader.finding("thickness", D::length, thickness_limits_m),
                      .design = reader.text_if("design").value_or(""),
                      .skin = reader.text_if("skin").value_or(""),
                      .liner = reader.text_if("liner").value_or(""),
                      .precautions = read_precautions(reader),
                      .cautions = {},
                      .needs = {},
                      .place = reader.place()};
  for (toml::Reader& entry : reader.tables("position")) condition.positions.push_back(read_position(entry));
  for (toml::Reader& entry : reader.tables("caution")) {
    std::string caution_id = entry.text("id");
    Statement text{entry.text("says"), entry.origin()};
    condition.cautions.push_back(
        {std::move(caution_id), std::move(text), entry.flag_if("while_forming").value_or(false)});
  }
  read_needs(reader, condition, problems);
  check_ids(reader, condition, library);
  return condition;
}

}  // namespace warmsheet::library
