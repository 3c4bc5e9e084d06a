// SPDX-License-Identifier: MIT
#include "stock/caseload.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "base/calendar.h"
#include "base/file.h"
#include "base/text.h"
#include "outline/named_file.h"
#include "stock/supply_reader.h"

namespace warmsheet::stock {
namespace {

constexpr Limits mean_a_month{0.0, most_orthoses_a_month};
constexpr Limits any_share{0.0, 1.0};
/// More than half spoiled is no making any more, and the expected number of tries grows without bound.
constexpr Limits spoiled_share{0.0, 0.5};
constexpr Limits growth_a_year{-0.9, 5.0};
constexpr Limits age_s{2.0 * year_s, 18.5 * year_s};
constexpr Limits batch_s{day_s, 0.5 * year_s};
constexpr Limits remake_after_s{0.0, 0.5 * year_s};
constexpr std::int64_t most_kept = 1000;
constexpr double share_slack = 1e-6;
constexpr double largest_season = 10.0;

const std::vector<std::string>& month_words() {
  static const std::vector<std::string> words(month_names.begin(), month_names.end());
  return words;
}

Figure usual(std::string name, Range si, const Unit& unit, std::string where) {
  return Figure::stated(std::move(name), si, unit, {.basis = Basis::memory, .where = std::move(where)});
}

Figure none(std::string name) {
  return usual(std::move(name), Range::exactly(0.0), units::percent(), "not stated in the caseload");
}

Figure usual_wait_for_remake() {
  return usual("remake_after", {2.0 * week_s, week_s, 4.0 * week_s}, *find_unit(Dimension::duration, "wk"),
               "the next fitting, not stated in the caseload");
}

class CaseloadReader {
 public:
  CaseloadReader(toml::Reader& root, std::string file, const library::Library& library, Problems& problems)
      : root_(root),
        file_(std::move(file)),
        library_(library),
        problems_(problems),
        supply_(library, problems) {}

  Caseload read() {
    Caseload caseload{
        .label = root_.text("label"),
        .file = file_,
        .kinds = {},
        .items = {},
        .rolls = {},
        .cutting = read_cutting(),
        .variants = standing_variants(),
        .history = read_history_table(),
        .history_origin = history_origin_,
        .growth = root_.figure_if("growth", Dimension::ratio, growth_a_year).value_or(none("growth")),
        .season = {},
        .season_strength = none("season"),
        .first_month = read_first_month()};
    read_season(caseload);
    supply_.read_shared(root_);
    for (toml::Reader& entry : root_.tables("item")) caseload.items.push_back(supply_.item(entry));
    for (toml::Reader& entry : root_.tables("roll")) caseload.rolls.push_back(supply_.roll(entry));
    for (toml::Reader& entry : root_.tables("kind")) caseload.kinds.push_back(read_kind(entry, caseload));
    for (toml::Reader& entry : root_.tables("variant"))
      caseload.variants.push_back(read_variant(entry, caseload));
    check_whole(caseload);
    return caseload;
  }

 private:
  Cutting read_cutting() {
    const Unit& month = *find_unit(Dimension::duration, "month");
    Cutting cutting{.method = Method::as_you_go,
                    .every = usual("time between batches", Range::exactly(month_s), month,
                                   "not stated: a month's work at once"),
                    .keep_shapes = false,
                    .spacing = library_.cutting.spacing,
                    .margin = library_.cutting.margin,
                    .least_side = library_.cutting.keep_side,
                    .most_offcuts = usual("offcuts kept", {12, 5, 20}, units::one(), "what a drawer holds")};
    auto table = root_.table_if("cutting");
    if (!table) return cutting;
    if (table->has("method")) cutting.method = method_of(table->choice("method", method_choices()));
    cutting.every = table->figure_if("every", Dimension::duration, batch_s).value_or(cutting.every);
    if (table->has("keep")) cutting.keep_shapes = table->choice("keep", {"rectangles", "shapes"}) == "shapes";
    cutting.spacing =
        table->figure_if("spacing", Dimension::length, library::gap_limits_m).value_or(cutting.spacing);
    cutting.margin =
        table->figure_if("margin", Dimension::length, library::gap_limits_m).value_or(cutting.margin);
    cutting.least_side = table->figure_if("least_side", Dimension::length, library::keep_side_limits_m)
                             .value_or(cutting.least_side);
    cutting.most_offcuts = counted_if(*table, "most_offcuts", 0, most_kept).value_or(cutting.most_offcuts);
    return cutting;
  }

  static std::vector<std::string> method_choices() {
    return {std::string(method_word(Method::as_you_go)), std::string(method_word(Method::batched)),
            std::string(method_word(Method::blanks))};
  }

  static Method method_of(std::string_view word) {
    if (word == method_word(Method::batched)) return Method::batched;
    return word == method_word(Method::blanks) ? Method::blanks : Method::as_you_go;
  }

  std::optional<History> read_history_table() {
    auto table = root_.table_if("history");
    if (!table) return std::nullopt;
    const std::string path = table->text("file");
    const Dialect dialect =
        table->has("dialect") ? dialect_of(table->choice("dialect", dialect_words())) : Dialect::comma;
    history_origin_ = table->origin();
    std::optional<History> history;
    if (!path.empty())
      collecting(problems_, table->place_of("file"),
                 [&] { history = read_history(read_file(beside(file_, path)), path, dialect); });
    return history;
  }

  int read_first_month() {
    if (!root_.has("first_month")) return 0;
    const std::string word = root_.choice("first_month", month_words());
    const auto at = std::find(month_words().begin(), month_words().end(), word);
    return static_cast<int>(at - month_words().begin());
  }

  void read_season(Caseload& caseload) {
    caseload.season.fill(1.0);
    const toml::Value* value = root_.raw_if("season");
    if (value == nullptr) return;
    std::vector<double> factors;
    if (const toml::Array* array = value->array())
      for (const toml::Value& entry : *array) {
        if (const auto* number = std::get_if<double>(&entry.data)) factors.push_back(*number);
        if (const auto* whole = std::get_if<std::int64_t>(&entry.data))
          factors.push_back(static_cast<double>(*whole));
      }
    const bool sound =
        factors.size() == caseload.season.size() &&
        std::all_of(factors.begin(), factors.end(), [](double f) { return f >= 0.0 && f <= largest_season; });
    double total = 0.0;
    for (const double f : factors) total += f;
    if (!sound || total <= 0.0) {
      root_.problem("season", "expected twelve numbers from 0 to 10, January first",
                    "1 is an average month; they are scaled to a mean of 1");
      return;
    }
    double swing = 0.0;
    for (std::size_t i = 0; i < factors.size(); ++i) {
      caseload.season[i] = months_in_year * factors[i] / total;
      swing = std::max(swing, std::abs(caseload.season[i] - 1.0));
    }
    caseload.season_strength = Figure::stated("season, largest swing", Range::exactly(swing),
                                              units::percent(), root_.origin_of("season"));
  }

  Kind read_kind(toml::Reader& entry, const Caseload& caseload) {
    Kind kind{.id = entry.text("id"),
              .design = entry.text_if("design").value_or(""),
              .outline = {},
              .area = entry.figure_if("area", Dimension::area, outline::area_limits_m2),
              .shaped_like = entry.text_if("shaped_like").value_or(""),
              .item = entry.text("stock"),
              .per_month = entry.figure_if("per_month", Dimension::ratio, mean_a_month),
              .column = entry.text_if("history").value_or(""),
              .people = read_people(entry),
              .sizes = {},
              .remake = entry.figure_if("remake", Dimension::ratio, spoiled_share).value_or(none("remake")),
              .remake_after = entry.figure_if("remake_after", Dimension::duration, remake_after_s)
                                  .value_or(usual_wait_for_remake()),
              .scrap = entry.figure_if("scrap", Dimension::ratio, spoiled_share).value_or(none("scrap")),
              .edging = entry.text_if("edging").value_or(""),
              .place = entry.place()};
    read_pattern(entry, kind);
    read_sizes(entry, kind);
    check_kind(entry, kind, caseload);
    return kind;
  }

  void read_pattern(toml::Reader& entry, Kind& kind) {
    const auto file = outline::named_file(entry, "outline");
    // Whatever is there and cannot be read was told of already.
    const int ways = static_cast<int>(entry.has("design")) + static_cast<int>(file.has_value()) +
                     static_cast<int>(entry.has("area"));
    if (ways != 1)
      entry.problem("", fmt::format("the pattern is given in {} ways", ways),
                    "give exactly one of: design = \"ID\", outline = \"FILE\", area = \"410 cm2\"");
    if (file)
      collecting(problems_, entry.place_of("outline"),
                 [&] { kind.outline = outline::read(beside(file_, file->file), file->options); });
    if (!kind.design.empty())
      collecting(problems_, entry.place_of("design"),
                 [&] { static_cast<void>(library_.design(kind.design)); });
    if (kind.area && kind.shaped_like.empty())
      entry.problem("shaped_like", "is missing",
                    "an area alone has no shape: name a design whose outline it resembles");
    if (!kind.shaped_like.empty())
      collecting(problems_, entry.place_of("shaped_like"),
                 [&] { static_cast<void>(library_.design(kind.shaped_like)); });
    if (!entry.has("area") && !kind.shaped_like.empty())
      entry.problem("shaped_like", "only an area needs a shape lent to it");
  }

  People read_people(toml::Reader& entry) {
    const Figure half =
        usual("share of women", {0.5, 0.4, 0.6}, units::percent(), "not stated in the caseload");
    auto table = entry.table_if("people");
    if (!table) return {half, std::nullopt};
    People people{table->figure_if("women", Dimension::ratio, any_share).value_or(half), std::nullopt};
    const auto youngest = table->figure_if("youngest", Dimension::duration, age_s);
    const auto oldest = table->figure_if("oldest", Dimension::duration, age_s);
    if (youngest.has_value() != oldest.has_value())
      table->problem(youngest ? "oldest" : "youngest", "is missing",
                     "children need both: youngest = \"4 yr\", oldest = \"12 yr\"");
    if (youngest && oldest) {
      if (oldest->si() < youngest->si()) table->problem("oldest", "is younger than the youngest");
      people.children = People::Ages{*youngest, *oldest};
    }
    return people;
  }

  void read_sizes(toml::Reader& entry, Kind& kind) {
    double total = 0.0;
    for (toml::Reader& size : entry.tables("size")) {
      StatedSize stated{.name = size.text("name"),
                        .share = size.figure("share", Dimension::ratio, any_share),
                        .measures = {},
                        .area = size.figure_if("area", Dimension::area, outline::area_limits_m2)};
      if (auto measures = size.table_if("measures"))
        for (const std::string& name : measures->names())
          stated.measures.emplace(name, measures->figure(name, Dimension::length, outline::measure_limits_m));
      if (!kind.design.empty() && stated.measures.empty())
        size.problem("measures", "is missing", "a size of a design is given by its measures");
      if (kind.area && !stated.area)
        size.problem("area", "is missing", "a size of a kind known by its area is an area");
      if (kind.outline) size.problem("", "an outline file has one size", "leave the sizes out");
      total += stated.share.si();
      kind.sizes.push_back(std::move(stated));
    }
    if (!kind.sizes.empty() && std::abs(total - 1.0) > share_slack)
      entry.problem("size", fmt::format("the shares add up to {:g} %", 100.0 * total),
                    "they must add up to 100 %");
  }

  void check_kind(toml::Reader& entry, const Kind& kind, const Caseload& caseload) {
    std::vector<std::string> keys;
    for (const Item& item : caseload.items) keys.push_back(item.key);
    if (!kind.item.empty() && std::find(keys.begin(), keys.end(), kind.item) == keys.end())
      entry.problem("stock",
                    fmt::format("\"{}\" is not among the items of this caseload", clip(kind.item, 60)),
                    meant_or_known(kind.item, keys));
    if (entry.has("per_month") == entry.has("history"))
      entry.problem("per_month", "the demand is given in no way, or in two",
                    "give either per_month = \"12\" or history = \"HEADING\"");
    if (!kind.edging.empty())
      collecting(problems_, entry.place_of("edging"),
                 [&] { static_cast<void>(library_.fixing(kind.edging, {"edging"})); });
    if (kind.column.empty()) return;
    if (!caseload.history) {
      if (!root_.has("history"))
        entry.problem("history", "there is no history to count from",
                      "add [history] with file = \"FILE.csv\"");
      return;
    }
    std::vector<std::string> headings;
    for (const auto& [heading, counts] : caseload.history->counts) headings.push_back(heading);
    if (!caseload.history->counts.contains(kind.column))
      entry.problem("history", fmt::format("the history has no column \"{}\"", clip(kind.column, 40)),
                    meant_or_known(kind.column, headings));
  }

  Variant read_variant(toml::Reader& entry, const Caseload& caseload) {
    Variant variant{.id = entry.text("id"),
                    .name = entry.text_if("name").value_or(""),
                    .method = {},
                    .every = {},
                    .keep_shapes = {},
                    .review = {},
                    .service = {},
                    .sizes = {},
                    .pooled = {}};
    if (variant.name.empty()) variant.name = variant.id;
    if (entry.has("method")) variant.method = method_of(entry.choice("method", method_choices()));
    if (entry.has("keep")) variant.keep_shapes = entry.choice("keep", {"rectangles", "shapes"}) == "shapes";
    variant.every = entry.figure_if("every", Dimension::duration, batch_s);
    variant.review = SupplyReader::review_if(entry);
    variant.service = SupplyReader::service_if(entry);
    if (auto sizes = entry.table_if("sizes")) read_replacements(*sizes, caseload, variant.sizes, true);
    if (auto pooled = entry.table_if("pooled")) {
      read_replacements(*pooled, caseload, variant.pooled, false);
      for (const auto& [gone, stays] : variant.pooled)
        if (variant.pooled.contains(stays))
          pooled->problem(gone, fmt::format("\"{}\" is itself replaced here", clip(stays, 60)),
                          "name the item that stays in the end");
    }
    for (const Variant& other : caseload.variants)
      if (other.id == variant.id)
        entry.problem("id", fmt::format("there is already a variant \"{}\"", clip(variant.id, 40)));
    return variant;
  }

  /// "item" = "what takes its place": a size of the item, or another item.
  void read_replacements(toml::Reader& table, const Caseload& caseload,
                         std::map<std::string, std::string>& into, bool sizes) {
    std::vector<std::string> keys;
    for (const Item& item : caseload.items) keys.push_back(item.key);
    for (const std::string& key : table.names()) {
      const std::string other = table.text(key);
      const auto item = std::find_if(caseload.items.begin(), caseload.items.end(),
                                     [&](const Item& i) { return i.key == key; });
      if (item == caseload.items.end()) {
        table.problem(key, "is not among the items of this caseload", meant_or_known(key, keys));
        continue;
      }
      const std::vector<std::string>& allowed = sizes ? item->sizes : keys;
      if (other == key || std::find(allowed.begin(), allowed.end(), other) == allowed.end())
        table.problem(key, fmt::format("\"{}\" cannot take its place", clip(other, 60)),
                      meant_or_known(other, allowed));
      into.emplace(key, other);
    }
  }

  void check_whole(const Caseload& caseload) {
    if (caseload.items.empty())
      problems_.add(root_.place(), "there is no stock item",
                    "add [[item]] with stock = \"SHEET/ITEM\"; see: warmsheet sheets");
    if (caseload.kinds.empty())
      problems_.add(root_.place(), "there is no kind of orthosis",
                    "add [[kind]]; see examples/clinic/caseload.toml");
    std::set<std::string> seen;
    for (const Item& item : caseload.items)
      if (!seen.insert(item.key).second)
        problems_.add(item.place, fmt::format("item {} stands here twice", item.key));
    for (const Roll& roll : caseload.rolls)
      if (!seen.insert("roll " + roll.fixing).second)
        problems_.add(roll.place, fmt::format("roll {} stands here twice", clip(roll.fixing, 40)));
    for (const Kind& kind : caseload.kinds)
      if (!seen.insert("kind " + kind.id).second)
        problems_.add(kind.place, fmt::format("kind {} stands here twice", clip(kind.id, 40)));
  }

  toml::Reader& root_;
  std::string file_;
  const library::Library& library_;
  Problems& problems_;
  SupplyReader supply_;
  Origin history_origin_{.basis = Basis::entered};
};

}  // namespace

std::string_view method_word(Method method) {
  if (method == Method::batched) return "batched";
  return method == Method::blanks ? "precut blanks" : "as you go";
}

std::optional<Figure> Caseload::short_history() const {
  const bool drawn_from = history && std::any_of(kinds.begin(), kinds.end(),
                                                 [](const Kind& kind) { return !kind.column.empty(); });
  if (!drawn_from || history->months.size() >= months_in_year) return std::nullopt;
  return Figure::stated("months of the history", Range::exactly(static_cast<double>(history->months.size())),
                        units::one(), history_origin);
}

std::vector<Variant> standing_variants() {
  const Unit& week = *find_unit(Dimension::duration, "wk");
  const Unit& month = *find_unit(Dimension::duration, "month");
  const auto every = [](const Unit& unit) {
    return Figure::stated("time between batches", Range::exactly(unit.size_si()), unit,
                          {.basis = Basis::practice, .where = "what the variant is named for"});
  };
  const auto cut = [](std::string id, std::string name, Method method, std::optional<Figure> between,
                      std::optional<bool> shapes) {
    return Variant{std::move(id), std::move(name), method, std::move(between), shapes, {}, {}, {}, {}};
  };
  return {cut("as-you-go", "cut as you go, straight cuts", Method::as_you_go, {}, false),
          cut("as-you-go-shapes", "cut as you go, offcuts of any shape kept", Method::as_you_go, {}, true),
          cut("weekly", "a week's work cut at once", Method::batched, every(week), {}),
          cut("monthly", "a month's work cut at once", Method::batched, every(month), {}),
          cut("blanks", "blanks cut ahead", Method::blanks, {}, {})};
}

Caseload parse_caseload(std::string_view text, const std::string& path, const library::Library& library) {
  const toml::Value document = toml::parse(text, path);
  Problems problems;
  std::optional<Caseload> caseload;
  {
    toml::Reader root(document, "", problems, Basis::entered);
    caseload = CaseloadReader(root, path, library, problems).read();
  }
  problems.throw_if_any();
  return std::move(*caseload);
}

Caseload read_caseload(const std::string& path, const library::Library& library) {
  return parse_caseload(read_file(path), path, library);
}

}  // namespace warmsheet::stock
