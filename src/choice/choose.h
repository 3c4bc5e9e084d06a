// SPDX-License-Identifier: MIT
// Which stock for this condition and this person, with reasons. The room's front door. It advises on
// material; positions and schedules in a condition are usual starting figures, and the prescription overrides
// them.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/figure.h"
#include "base/phrase.h"
#include "choice/piece.h"
#include "library/library.h"

namespace warmsheet::choice {

/// The working window of a stock item made into a piece of this area: a figure, or why there is no safe one.
/// Asked once for every sheet, thickness and perforation that could be used.
using WindowSource = std::function<Finding(const library::StockItem& stock, const Figure& area)>;

inline constexpr int usual_draws = 2000;

struct Request {
  const library::Condition* condition;
  PieceRequest piece;
  /// Central values of every item, to compare them by; empty: judged without, and said so.
  WindowSource window = {};
  /// On the safe side, with ranges; asked from the top of the ranking until the first `verified_places` have
  /// one, and are judged by it. An item without a safe window is left out.
  WindowSource safe_window = {};
  /// Timed so wherever it ends: the sheet that will be used whatever the ranking says. May be null.
  const library::StockItem* taken = nullptr;
  int draws = usual_draws;  ///< at least 1
  std::uint64_t seed = 1;
};

/// Places of the ranking that are timed on the safe side, which takes a hundred times as long as central
/// values.
inline constexpr std::size_t verified_places = 3;

/// How one item meets one need.
struct NeedResult {
  const library::Need* need;
  Finding figure;                       ///< what was measured; absent for a grade
  std::optional<library::Grade> grade;  ///< the grade seen
  std::string grade_word;               ///< with the mark of its basis; empty for a figure
  double worth = 0.0;                   ///< 0 to 1, central
};

struct RankedItem {
  const library::Sheet* sheet;
  const library::StockItem* stock;
  Figure score;                                        ///< ratio: median of the draws, 5 % and 95 %
  Figure share_first;                                  ///< ratio of draws in which it comes first
  std::vector<Figure> rank_shares;                     ///< ratio, by rank from the first
  std::vector<NamedFinding> figures;                   ///< every number of the item, under its name
  std::vector<NeedResult> needs;                       ///< in the order of the condition
  std::vector<Phrase> reasons_for;                     ///< the two strongest
  std::vector<Phrase> reasons_against;                 ///< the two strongest; may be fewer
  std::vector<const library::StockItem*> other_sizes;  ///< the same sheet, thickness and holes in other sizes
};

struct ExcludedItem {
  const library::Sheet* sheet;
  const library::StockItem* stock;
  std::vector<Phrase> lacks;           ///< every hard need it misses
  double miss;                         ///< how far, summed over what it lacks; orders the nearest misses
  std::vector<std::string> obstacles;  ///< of each lack: thickness, fit, window, or the id of the need

  void add(std::string obstacle, Phrase lack, double by);
};

struct Choice {
  const library::Condition* condition;
  Piece piece;
  std::vector<RankedItem> ranking;  ///< by share of first ranks, then score
  std::vector<ExcludedItem>
      excluded;                      ///< the nearest miss first; if nothing qualifies, behind what most lack
  std::vector<Phrase> would_change;  ///< what would change the choice
  int draws;
  std::uint64_t seed;
  std::string cost_left_out = {};  ///< why cost does not count; empty if it does
  std::string obstacle = {};  ///< that stands in the way of most of the stock; empty if something qualifies

  /// The item that this stock competed as: itself, or its like in another sheet size; nullptr if left out.
  [[nodiscard]] const RankedItem* place_of(const library::StockItem& stock) const;
  /// nullptr if it was not left out.
  [[nodiscard]] const ExcludedItem* left_out(const library::StockItem& stock) const;
  /// "near tie" if the first two share the first rank in comparable parts of the draws.
  [[nodiscard]] bool near_tie() const;
};

/// Share of the draws in which an item must meet each hard need to stay in: the safe side of even.
inline constexpr double hard_need_share = 0.75;

/// Stock of one sheet, thickness and perforation in several sheet sizes competes once, in the size with the
/// best central score: rivals that differ in nothing but size would split the first place between them. The
/// library and the condition must outlive the choice. If nothing qualifies, `ranking` is empty and `excluded`
/// says what each item lacks.
Choice choose(const library::Library& library, const Request& request);

/// Conditions whose id, name or other names hold words of the search, the best match first; all of them for
/// an empty search.
std::vector<const library::Condition*> find_conditions(const library::Library& library,
                                                       std::string_view words);

/// The condition of that id, the only one that any of the words fit, or the only one that all of them fit.
/// Throws a Failure (usage) with the nearest ones.
const library::Condition& condition_for(const library::Library& library, std::string_view id_or_words);

}  // namespace warmsheet::choice
