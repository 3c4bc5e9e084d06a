// SPDX-License-Identifier: MIT
#include "cli/nest_options.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <chrono>
#include <limits>
#include <optional>

#include "base/dimension.h"
#include "base/file.h"
#include "base/problem.h"
#include "base/quantity.h"
#include "base/text.h"
#include "cli/drawing_options.h"
#include "cli/outline_options.h"
#include "plan/job.h"
#include "report/read_layout.h"

namespace warmsheet::cli {
namespace {

constexpr int most_copies = 1000;

/// "wrist.svg*3": a word and how many of it; 0 if it does not say.
struct Counted {
  std::string word;
  int count = 0;
};

Counted counted(std::string_view option, const std::string& word, const char* form) {
  const std::size_t star = word.rfind('*');
  if (star == std::string::npos) return {word, 0};
  const std::string count(trim(std::string_view(word).substr(star + 1)));
  Counted result{std::string(trim(word.substr(0, star))), 0};
  const auto [end, error] = std::from_chars(count.data(), count.data() + count.size(), result.count);
  if (error != std::errc{} || end != count.data() + count.size() || result.count < 1 ||
      result.count > most_copies)
    refuse_usage(option, fmt::format("\"{}\" asks for \"{}\" copies", clip(word, 60), clip(count, 20)),
                 fmt::format("write for example {}, at most {}", form, most_copies));
  return result;
}

/// What a reader of texts below says, at the option it was typed for.
template <typename Read>
auto at_option(std::string_view option, const Read& read) {
  try {
    return read();
  } catch (const Failure& failure) {
    refuse_usage(option, failure.problems().front().message, failure.problems().front().hint);
  }
}

plan::SheetSize typed_size(const std::string& text) {
  const Counted wanted = counted("--sheet-size", text, "\"600 x 450 mm*2\"");
  return at_option("--sheet-size", [&]() -> plan::SheetSize {
    const WrittenSize size = parse_size(wanted.word);
    const Place place{"--sheet-size", 0, 0};
    return {wanted.word,
            Figure::entered("sheet width", Range::exactly(size.height.si), units::millimetre(), place),
            Figure::entered("sheet length", Range::exactly(size.width.si), units::millimetre(), place),
            std::nullopt, wanted.count > 0 ? std::optional(wanted.count) : std::nullopt};
  });
}

/// "ID" takes every size of that sheet, "ID/STOCK" one.
std::vector<plan::SheetSize> library_sizes(const library::Library& library, const std::string& name) {
  std::vector<plan::SheetSize> sizes;
  const auto add = [&](const library::StockItem& item) {
    sizes.push_back({item.key(), item.width, item.length, item.price});
  };
  if (name.find('/') != std::string::npos) {
    add(library.stock_item(name));
    return sizes;
  }
  // One order is cut from one thickness: sizes of another would be another orthosis.
  const library::Sheet& sheet = library.sheet(name);
  const library::StockItem* usual = sheet.usual_item({});
  for (const library::StockItem& item : sheet.stock)
    if (item.differs_only_in_size(*usual)) add(item);
  return sizes;
}

std::vector<plan::Offcut> offcuts_from(const Arguments& arguments) {
  std::vector<plan::Offcut> offcuts;
  for (const std::string& word : arguments.texts("--offcut")) {
    const std::string name = Label::ordinal("offcut", offcuts.size()).text();
    if (!is_outline_file(word)) {
      offcuts.push_back(at_option("--offcut", [&] {
        return plan::rectangular_offcut(name, word, Place{"--offcut", 0, 0});
      }));
      continue;
    }
    outline::Outline shape = shape_from(word, arguments);
    offcuts.push_back({name, std::move(shape.shape), shape.area});
  }
  return offcuts;
}

/// "60 x 40 mm at 120 mm, 30 mm": a rectangle from its lower left corner.
outline::Polygon zone_from(const std::string& text) {
  constexpr std::string_view form = "write for example \"offcut 1: 60 x 40 mm at 120 mm, 30 mm\"";
  const std::size_t at = text.find(" at ");
  const std::size_t comma = at == std::string::npos ? at : text.find(',', at);
  if (comma == std::string::npos)
    refuse_usage("--spoilt", fmt::format("\"{}\" does not say how large and where", clip(text, 60)),
                 std::string(form));
  return at_option("--spoilt", [&] {
    const WrittenSize size = parse_size(text.substr(0, at));
    const double x = parse_quantity(text.substr(at + 4, comma - at - 4), Dimension::length).si * mm_per_m;
    const double y = parse_quantity(text.substr(comma + 1), Dimension::length).si * mm_per_m;
    return plan::rectangle(size.width.si * mm_per_m, size.height.si * mm_per_m).placed(0.0, {x, y});
  });
}

/// A stain is on one sheet, not on all of its size: that one stands by itself, and there is one fewer of the
/// others.
plan::SheetSize& single(std::vector<plan::SheetSize>& sheets, std::size_t index) {
  plan::SheetSize one = sheets[index];
  one.count = 1;
  one.name += ", spoilt";
  const auto same = std::find_if(sheets.begin(), sheets.end(),
                                 [&](const plan::SheetSize& other) { return other.name == one.name; });
  if (same != sheets.end()) return *same;
  if (sheets[index].count == 1) return sheets[index];
  if (sheets[index].count) --*sheets[index].count;
  sheets.push_back(std::move(one));
  return sheets.back();
}

/// The list of spoilt zones of "sheet 2" or "offcut 1".
std::vector<outline::Polygon>& zones_of(const std::string& which, plan::CutRequest& request) {
  const auto numbered = [&](std::string_view kind, const auto& all) -> std::optional<std::size_t> {
    for (std::size_t i = 0; i < all.size(); ++i)
      if (which == fmt::format("{} {}", kind, i + 1) || which == all[i].name) return i;
    return std::nullopt;
  };
  if (const auto sheet = numbered("sheet", request.sheets)) return single(request.sheets, *sheet).spoilt;
  if (const auto offcut = numbered("offcut", request.offcuts)) return request.offcuts[*offcut].spoilt;
  refuse_usage(
      "--spoilt", fmt::format("there is no \"{}\"", clip(which, 40)),
      fmt::format(
          "count as they were given: sheet 1 to {}{}", request.sheets.size(),
          request.offcuts.empty() ? std::string() : fmt::format(", offcut 1 to {}", request.offcuts.size())));
}

void add_spoilt(const Arguments& arguments, plan::CutRequest& request) {
  for (const std::string& word : arguments.texts("--spoilt")) {
    const std::size_t colon = word.find(':');
    if (colon == std::string::npos)
      refuse_usage("--spoilt", fmt::format("\"{}\" does not say on which sheet", clip(word, 60)),
                   "write for example \"sheet 1: 60 x 40 mm at 120 mm, 30 mm\", or a file after the colon");
    const std::string which(trim(word.substr(0, colon)));
    const std::string where(trim(word.substr(colon + 1)));
    std::vector<outline::Polygon>& zones = zones_of(which, request);
    zones.push_back(is_outline_file(where) ? shape_from(where, arguments).shape : zone_from(where));
  }
}

struct NamedItem {
  std::string word;  ///< as typed, without the count
  std::size_t item;
};

/// Items that a name means: the word as typed or the outline's own name.
std::vector<std::size_t> items_called(std::string_view option, const std::string& name,
                                      const std::vector<NamedItem>& typed, const plan::CutRequest& request) {
  std::vector<std::size_t> found;
  std::vector<std::string> names;
  for (const NamedItem& one : typed) {
    const std::string& own = request.items[one.item].outline.name;
    names.push_back(own);
    if (name == one.word || name == own) found.push_back(one.item);
  }
  if (!found.empty()) return found;
  const std::string near = nearest(name, names);
  refuse_usage(
      option, fmt::format("\"{}\" is none of the outlines to place", clip(name, 60)),
      near.empty() ? "outlines: " + clip(join(names, ", "), 200) : fmt::format("did you mean {}?", near));
}

std::vector<std::string> comma_list(const std::string& text) {
  std::vector<std::string> words;
  std::string_view rest = text;
  while (true) {
    const std::size_t comma = rest.find(',');
    words.emplace_back(trim(rest.substr(0, comma)));
    if (comma == std::string_view::npos) return words;
    rest.remove_prefix(comma + 1);
  }
}

/// The other hand's half of a pair is an outline of its own, so it needs no sheet without a face side.
plan::CutItem other_hand(plan::CutItem item) {
  item.outline = mirrored(std::move(item.outline));
  item.outline.name += " (mirrored)";
  return item;
}

/// Layouts are kept by name, and a cut list is read by it: no two outlines share one.
std::string unused_name(const std::string& name, const plan::CutRequest& request) {
  const auto used = [&](const std::string& word) {
    return std::any_of(request.items.begin(), request.items.end(),
                       [&](const plan::CutItem& item) { return item.outline.name == word; });
  };
  std::string unused = name;
  for (int number = 2; used(unused); ++number) unused = fmt::format("{} (outline {})", name, number);
  return unused;
}

void add_items(const Arguments& arguments, const library::Library& library, plan::CutRequest& request) {
  std::vector<NamedItem> typed;
  for (const std::string& word : arguments.positionals()) {
    const Counted wanted = counted("", word, "wrist.svg*3");
    typed.push_back({wanted.word, request.items.size()});
    outline::Outline outline = outline_from(wanted.word, arguments, library);
    outline.name = unused_name(outline.name, request);
    request.items.push_back({std::move(outline), std::max(1, wanted.count)});
  }
  for (const std::string& list : arguments.texts("--together"))
    for (const std::string& name : comma_list(list))
      for (const std::size_t item : items_called("--together", name, typed, request))
        request.items[item].group = list;
  int priority = static_cast<int>(arguments.texts("--first").size());
  for (const std::string& name : arguments.texts("--first")) {
    for (const std::size_t item : items_called("--first", name, typed, request))
      request.items[item].priority = priority;
    --priority;
  }
  for (const std::string& name : arguments.texts("--pair"))
    for (const std::size_t item : items_called("--pair", name, typed, request)) {
      plan::CutItem mirrored = other_hand(request.items[item]);
      if (!mirrored.group.empty()) mirrored.group += " mirrored";
      request.items.push_back(std::move(mirrored));
    }
}

/// Turned over, an outline shows its other face up: only where the sheet has two alike.
bool may_flip(const Arguments& arguments, const library::Library& library) {
  const auto asked = arguments.yes_no_if("--flip");
  const auto name = arguments.text_if("--sheet");
  if (!name) return asked.value_or(false);
  const std::string id = name->substr(0, name->find('/'));
  const bool faced = library.sheet(id).face_side;
  if (faced && asked.value_or(false))
    refuse_usage("--flip",
                 fmt::format("{} has a face side: an outline turned over would show the wrong one", id),
                 "leave --flip out; for left and right, use --pair");
  return asked.value_or(!faced && arguments.texts("--sheet-size").empty());
}

std::optional<plan::SavedLayout> layout_file(const Arguments& arguments, std::string_view option) {
  const auto path = arguments.text_if(option);
  if (!path) return std::nullopt;
  return report::parse_layout(read_file(*path), *path);
}

plan::KeepLimits keep_from(const Arguments& arguments, const library::Library& library) {
  constexpr Limits side_m{0.0, 10.0};
  constexpr Limits area_m2{0.0, 10.0};
  plan::KeepLimits keep = plan::KeepLimits::usual(library.cutting);
  keep.least_side = arguments.figure_if("--keep-side", Dimension::length, side_m).value_or(keep.least_side);
  keep.least_area = arguments.figure_if("--keep-area", Dimension::area, area_m2).value_or(keep.least_area);
  return keep;
}

/// With a clock instead of passes the answer depends on the machine; only cli/ may read one.
void limit_by_clock(nesting::Effort& effort, const Arguments& arguments) {
  using Clock = std::chrono::steady_clock;
  constexpr Limits seconds{0.01, 3600.0};
  const auto limit = arguments.figure_if("--seconds", Dimension::duration, seconds);
  if (!limit) return;
  if (arguments.text_if("--passes"))
    refuse_usage("--seconds", "limits the search by the clock, --passes by its own count",
                 "give one of the two");
  effort.passes = std::numeric_limits<int>::max();
  effort.time_share = [start = Clock::now(), whole = limit->si()] {
    return std::chrono::duration<double>(Clock::now() - start).count() / whole;
  };
}

}  // namespace

std::vector<plan::SheetSize> sheets_from(const Arguments& arguments, const library::Library& library) {
  std::vector<plan::SheetSize> sheets;
  for (const std::string& text : arguments.texts("--sheet-size")) sheets.push_back(typed_size(text));
  if (const auto name = arguments.text_if("--sheet"))
    for (plan::SheetSize& size : library_sizes(library, *name)) sheets.push_back(std::move(size));
  if (sheets.empty())
    refuse_usage("--sheet-size", "no sheet to cut from was named",
                 "add --sheet-size \"600 x 450 mm\" or --sheet ID/STOCK; see: warmsheet sheets");
  return sheets;
}

plan::CutRequest cut_request_from(const Arguments& arguments, const library::Library& library) {
  plan::CutRequest request{
      .items = {},
      .sheets = sheets_from(arguments, library),
      .offcuts = offcuts_from(arguments),
      .spacing = arguments.figure_if("--spacing", Dimension::length, library::gap_limits_m)
                     .value_or(library.cutting.spacing),
      .margin = arguments.figure_if("--margin", Dimension::length, library::gap_limits_m)
                    .value_or(library.cutting.margin),
      .rotations = {.free = true, .angles_deg = {}},
      .may_flip = may_flip(arguments, library),
      .effort = effort_from(arguments),
      .keep = keep_from(arguments, library),
      .laid = layout_file(arguments, "--laid"),
      .start = layout_file(arguments, "--start")};
  if (const auto rotations = arguments.text_if("--rotations"))
    request.rotations = at_option("--rotations", [&] { return plan::parse_rotations(*rotations); });
  add_items(arguments, library, request);
  add_spoilt(arguments, request);
  limit_by_clock(request.effort, arguments);
  return request;
}

Figure kerf_from(const Arguments& arguments) {
  constexpr Limits kerf_m{0.0, 0.02};
  if (const auto kerf = arguments.figure_if("--kerf", Dimension::length, kerf_m)) return *kerf;
  // A knife parts the sheet and takes nothing away.
  return Figure::stated("kerf", Range::exactly(0.0), units::millimetre(), {.basis = Basis::practice});
}

std::vector<OptionGroup> nest_option_groups() {
  return {{"Sheets",
           {{"--sheet-size", "WxH[*N]",
             "a sheet to cut from, and how many there are, repeatable: \"600 x 450 mm*2\"", true},
            {"--sheet", "SHEET or STOCK",
             "a library sheet in its usual thickness, all sizes, or one item: SHEET/STOCK"},
            {"--offcut", "FILE or WxH", "a kept offcut of any shape, holes and all, used first, repeatable",
             true},
            {"--spoilt", "WHICH: ZONE",
             "keep clear of it, repeatable: \"offcut 1: 60 x 40 mm at 120 mm, 30 mm\" from its lower left "
             "corner, or \"sheet 1: stain.svg\"",
             true},
            {"--keep-side", "LENGTH", "a rest is worth keeping from this length and width on"},
            {"--keep-area", "AREA", "and from this area on"}}},
          {"Outlines",
           {{"--area", "AREA", "only the area is known: an estimate with its range"},
            {"--together", "NAME,NAME",
             "parts of one orthosis: those of one number from one sheet, repeatable", true},
            {"--pair", "NAME", "as many mirrored ones too, for the other hand, repeatable", true},
            {"--first", "NAME", "placed first where sheets run out, repeatable in order", true},
            {"--rotations", "free|none|90|180|ANGLES", "of the outlines, or a list: \"0 deg, 45 deg\""},
            {"--flip", "yes|no", "outlines may be turned over (only if the sheet has no face side)"}}},
          {"Cutting",
           {{"--spacing", "LENGTH", "between outlines"},
            {"--margin", "LENGTH", "from the sheet's edge"},
            {"--blanks", "",
             "the same as straight knife cuts: a rectangle round each outline, cut by cut; the "
             "drawing files show these"},
            {"--kerf", "LENGTH", "of a straight cut; a knife takes nothing away"}}},
          {"Earlier layouts",
           {{"--laid", "FILE", "outlines of this --json output stay where they lie, on the sheets begun"},
            {"--start", "FILE", "begin the search from this --json output of the same order"}}}};
}

}  // namespace warmsheet::cli
