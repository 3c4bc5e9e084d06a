// SPDX-License-Identifier: MIT
// A caseload: which orthoses a clinic makes in a month, from which stock, and how that stock is bought and
// kept. Read from TOML; the fields are explained in examples/clinic/caseload.toml.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/calendar.h"
#include "base/figure.h"
#include "library/library.h"
#include "outline/outline.h"
#include "stock/history.h"
#include "stock/lot.h"

namespace warmsheet::stock {

/// Whose limbs: adults by the share of women, or children by age.
struct People {
  Figure women;  ///< share of girls among children
  struct Ages {
    Figure youngest;  ///< s
    Figure oldest;    ///< s
  };
  std::optional<Ages> children;
};

/// One size of a stated mix.
struct StatedSize {
  std::string name;
  Figure share;
  outline::Measures measures;  ///< for a design
  std::optional<Figure> area;  ///< or the area alone
};

/// One kind of orthosis.
struct Kind {
  std::string id;
  std::string design;  ///< drawn from measures; empty if there is an outline or only an area
  std::optional<outline::Outline> outline;  ///< always this shape
  std::optional<Figure> area;               ///< only this is known; the shape is lent by `shaped_like`
  std::string shaped_like;
  std::string item;                 ///< key of the stock it is cut from
  std::optional<Figure> per_month;  ///< mean; absent if counted in the history
  std::string column;               ///< heading in the history; empty if `per_month` is given
  People people;
  std::vector<StatedSize> sizes;  ///< empty: sizes follow the people
  Figure remake;                  ///< share made a second time
  Figure remake_after;            ///< so long after the first
  Figure scrap;                   ///< share of pieces spoiled before they are worn
  std::string edging;             ///< id of a fixing; empty for none
  Place place;
};

enum class Method { as_you_go, batched, blanks };
std::string_view method_word(Method method);

struct Cutting {
  Method method;
  Figure every;         ///< s between batches
  bool keep_shapes;     ///< offcuts of any shape are kept, not only rectangles cut straight
  Figure spacing;       ///< m
  Figure margin;        ///< m
  Figure least_side;    ///< m; an offcut narrower than this is thrown away
  Figure most_offcuts;  ///< of one stock item; beyond it the smallest goes
};

enum class Promise { cycle, fill };

/// How a thing is bought and kept.
struct Supply {
  Figure lead_time;              ///< s, low to high
  std::optional<Figure> review;  ///< s between looks at the shelf; absent: it is watched all the time
  Figure service;                ///< ratio
  Promise promise;
  Figure order_cost;                    ///< money for one order
  Figure holding;                       ///< share of the price, a year
  std::optional<Figure> shelf_life;     ///< s
  std::optional<Figure> storage;        ///< most that there is room for
  std::optional<Figure> shortage_cost;  ///< money for one piece short a month
  Figure least_order;
};

struct PriceStep {
  int from;
  Figure price;
};

/// Sheets of one thickness and perforation; `sizes` are the sheet sizes it can be bought in, the first one in
/// use.
struct Item {
  std::string key;
  std::vector<std::string> sizes;
  Figure on_hand;
  struct Coming {
    Figure sheets;
    Figure due;  ///< s from now
  };
  std::vector<Coming> on_order;
  struct Kept {
    Figure length;  ///< m
    Figure width;   ///< m
  };
  std::vector<Kept> offcuts;
  Figure practice;  ///< sheets a month for practice
  Figure pack;
  std::vector<PriceStep> prices;
  std::map<std::string, Figure> size_prices;  ///< of one sheet of each of the sizes, in one currency
  Discount discount;
  Supply supply;
  Place place;
};

/// Strap or edging, bought in rolls.
struct Roll {
  std::string fixing;
  Figure length;   ///< m on one roll
  Figure on_hand;  ///< m
  Figure price;    ///< of a metre
  Supply supply;
  Place place;
};

/// Something to compare with: what it does differently.
struct Variant {
  std::string id;
  std::string name;
  std::optional<Method> method;
  std::optional<Figure> every;
  std::optional<bool> keep_shapes;
  std::optional<Figure> review;
  std::optional<Figure> service;
  std::map<std::string, std::string> sizes;   ///< stock item -> sheet size used instead
  std::map<std::string, std::string> pooled;  ///< stock item -> stock item that takes its place
};

struct Caseload {
  std::string label;
  std::string file;
  std::vector<Kind> kinds;
  std::vector<Item> items;
  std::vector<Roll> rolls;
  Cutting cutting;
  std::vector<Variant> variants;
  std::optional<History> history;
  Origin history_origin;                      ///< what the table that names it states
  Figure growth;                              ///< a year, ratio
  std::array<double, months_in_year> season;  ///< January first, mean 1
  Figure season_strength;                     ///< the season's largest swing, for what rests on it
  int first_month;                            ///< 0 is January

  /// How many months a kind is drawn from, where they are less than a year of them.
  [[nodiscard]] std::optional<Figure> short_history() const;
};

/// Reads and resolves; every slip is reported with its place (Failure, data). Paths inside are taken from the
/// file's folder.
Caseload read_caseload(const std::string& path, const library::Library& library);
/// The same from text.
Caseload parse_caseload(std::string_view text, const std::string& path, const library::Library& library);

/// Variants that need no table: another way to cut, everything else as in the file.
std::vector<Variant> standing_variants();

}  // namespace warmsheet::stock
