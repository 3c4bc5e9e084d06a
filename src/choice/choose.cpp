// SPDX-License-Identifier: MIT
#include "choice/choose.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>
#include <utility>

#include "base/currency.h"
#include "base/problem.h"
#include "choice/figures.h"
#include "choice/misses.h"
#include "choice/needs.h"
#include "choice/rank.h"
#include "choice/reasons.h"
#include "choice/sampler.h"

namespace warmsheet::choice {
namespace {

// Stock is sold by nominal thickness; this much beside the usual range is still the same sheet.
constexpr double thickness_slack = 0.03;
// An item that cannot be used at all is farther off than one that misses a need.
constexpr double unusable = 100.0;
// It qualifies but for its window, which a liner or another bath may open: near.
constexpr double unsafe = 0.5;

struct Sampled {
  std::size_t form_time;
  std::size_t perimeter;
};

/// A candidate with its own variables, and what the draws made of it.
struct Entry {
  Candidate candidate;
  std::size_t price;
  std::optional<std::size_t> window;
  DrawnNumbers drawn = {};
  std::vector<double> worths = {};      ///< by draw, then need
  std::vector<std::size_t> holds = {};  ///< by need: draws in which it is met
  std::vector<const library::StockItem*> other_sizes = {};
  std::optional<Finding> safe_window = {};
};

class Chooser {
 public:
  Chooser(const library::Library& library, const Request& request)
      : library_(library),
        request_(request),
        piece_(piece_for(request.condition->piece, request.piece)),
        wear_(usual_wear(piece_.lasting)),
        shared_{sampler_.add(piece_.form_time), sampler_.add(piece_.perimeter)} {
    for (const library::Need& need : request.condition->needs) {
      needs_.emplace_back(need);
      weight_variables_.push_back(sampler_.add(need.weight));
    }
  }

  Choice choose() {
    Choice choice{.condition = request_.condition,
                  .piece = piece_,
                  .ranking = {},
                  .excluded = {},
                  .would_change = {},
                  .draws = request_.draws,
                  .seed = request_.seed};
    take_usable(choice);
    count_cost_in_one_currency(choice);
    draw_all();
    sift(choice);
    merge_sizes();
    rank(choice);
    if (!choice.ranking.empty()) {
      give_reasons(choice.ranking, choice.piece);
      choice.would_change = what_would_change(choice, library_);
    }
    put_misses_in_order(choice);
    return choice;
  }

 private:
  /// Those that count.
  [[nodiscard]] const std::vector<std::reference_wrapper<const library::Need>>& needs() const {
    return needs_;
  }
  [[nodiscard]] std::size_t draws() const { return static_cast<std::size_t>(std::max(request_.draws, 1)); }

  Entry entry_for(const library::StockItem& stock) {
    const library::Sheet& sheet = library_.sheet(stock.sheet);
    const library::CuttingHabits& cutting = library_.cutting;
    Entry entry{.candidate = {&sheet,
                              &stock,
                              ItemMechanics(library_, sheet, stock, piece_, wear_, sampler_),
                              {},
                              piece_.count_on(stock.length.si(), stock.width.si(), cutting.spacing.si(),
                                              cutting.margin.si()),
                              Finding::absent("the timing was not asked for"),
                              library_.perforation(stock.perforation).holes.has_value()},
                .price = sampler_.add(stock.price),
                .window = {}};
    entry.candidate.central = entry.candidate.mechanics.central(sampler_);
    return entry;
  }

  [[nodiscard]] Situation situation(const Entry& entry, bool drawn) const {
    const auto at = [&](std::size_t variable) {
      return drawn ? sampler_.drawn(variable) : sampler_.central(variable);
    };
    return {.form_time_s = at(shared_.form_time),
            .perimeter_m = at(shared_.perimeter),
            .area_m2 = piece_.area.si(),
            .window_s = entry.window ? at(*entry.window) : 0.0,
            .cheapest = cheapest_,
            .price = at(entry.price)};
  }

  /// Leaves out what cannot be used at all, whatever the draws say.
  void take_usable(Choice& choice) {
    for (const library::StockItem* stock : library_.all_stock()) {
      Entry entry = entry_for(*stock);
      ExcludedItem out{entry.candidate.sheet, stock, {}, 0.0, {}};
      check_thickness(entry.candidate, out);
      check_fit(entry.candidate, out);
      if (out.lacks.empty()) check_window(entry, out);
      if (!out.lacks.empty()) {
        choice.excluded.push_back(std::move(out));
        continue;
      }
      const double cost = cost_of_piece(stock->price.si(), entry.candidate.pieces_on_sheet);
      cheapest_ = entries_.empty() ? cost : std::min(cheapest_, cost);
      entries_.push_back(std::move(entry));
    }
  }

  /// Prices in several currencies have no cheapest: then the need counts for nobody.
  void count_cost_in_one_currency(Choice& choice) {
    std::vector<Figure> prices;
    for (const Entry& entry : entries_) prices.push_back(entry.candidate.stock->price);
    cost_left_out_ = choice.cost_left_out = mixed_currencies(prices);
    for (std::size_t k = needs_.size(); k-- > 0;) {
      if (cost_left_out_.empty() || needs_[k].get().id != "cost") continue;
      needs_.erase(needs_.begin() + static_cast<std::ptrdiff_t>(k));
      weight_variables_.erase(weight_variables_.begin() + static_cast<std::ptrdiff_t>(k));
    }
  }

  void check_thickness(const Candidate& candidate, ExcludedItem& out) const {
    const Finding& usual = request_.condition->thickness;
    if (!usual.known()) return;
    const double t = candidate.stock->thickness.si();
    const double low = usual.figure().low_si() * (1.0 - thickness_slack);
    const double high = usual.figure().high_si() * (1.0 + thickness_slack);
    if (t >= low && t <= high) return;
    out.add("thickness",
            say("thickness {} is outside the usual range {}", candidate.stock->thickness, usual.figure()),
            std::max((low - t) / low, (t - high) / high));
  }

  void check_fit(const Candidate& candidate, ExcludedItem& out) const {
    if (candidate.pieces_on_sheet == 0)
      out.add("fit",
              say("the piece does not fit on its sheet of {} x {}", candidate.stock->length,
                  candidate.stock->width),
              unusable);
  }

  /// Asked once for all sizes of a sheet.
  Finding window_of(const Candidate& candidate) {
    for (const auto& [stock, window] : windows_)
      if (stock->differs_only_in_size(*candidate.stock)) return window;
    return windows_.emplace_back(candidate.stock, request_.window(*candidate.stock, piece_.area)).second;
  }

  static Phrase no_window(const Finding& window) {
    return say("no safe working window: {}", Label(window.reason()));
  }

  /// Where no window is safe the item is left out.
  void check_window(Entry& entry, ExcludedItem& out) {
    if (!request_.window) return;
    entry.candidate.window = window_of(entry.candidate);
    if (entry.candidate.window.known()) {
      entry.window = sampler_.add(entry.candidate.window.figure());
      return;
    }
    out.add("window", no_window(entry.candidate.window), unusable);
  }

  void draw_all() {
    nesting::Random random(request_.seed);
    for (Entry& entry : entries_) entry.holds.assign(needs().size(), 0);
    for (std::size_t d = 0; d < draws(); ++d) {
      sampler_.draw(random);
      for (const std::size_t variable : weight_variables_) weights_.push_back(sampler_.drawn(variable));
      // One scale a need and draw, the same for all items.
      std::vector<GradeScale> scales;
      for (const library::Need& need : needs())
        scales.push_back(is_graded(need) ? drawn_grade_scale(random) : GradeScale());
      for (Entry& entry : entries_) draw_one(entry, scales);
    }
  }

  void draw_one(Entry& entry, const std::vector<GradeScale>& scales) {
    const Candidate& candidate = entry.candidate;
    const Situation here = situation(entry, true);
    entry.drawn.push_back(candidate.mechanics.drawn(sampler_));
    for (std::size_t k = 0; k < needs().size(); ++k) {
      entry.worths.push_back(worth(needs()[k], candidate, entry.drawn.back(), here, scales[k]));
      if (shortfall(needs()[k], candidate, entry.drawn.back(), here) <= 0.0) ++entry.holds[k];
    }
  }

  /// Hard needs: an item that misses one in too many draws is left out, with the reason.
  void sift(Choice& choice) {
    std::vector<Entry> kept;
    for (Entry& entry : entries_) {
      ExcludedItem out = missed_by(entry);
      if (out.lacks.empty())
        kept.push_back(std::move(entry));
      else
        choice.excluded.push_back(std::move(out));
    }
    entries_ = std::move(kept);
  }

  [[nodiscard]] ExcludedItem missed_by(const Entry& entry) const {
    ExcludedItem out{entry.candidate.sheet, entry.candidate.stock, {}, 0.0, {}};
    for (std::size_t k = 0; k < needs().size(); ++k) check_need(k, entry, out);
    return out;
  }

  void check_need(std::size_t k, const Entry& entry, ExcludedItem& out) const {
    const library::Need& need = needs()[k];
    const double share = static_cast<double>(entry.holds[k]) / static_cast<double>(draws());
    if (!need.must || share >= hard_need_share) return;
    const double missing = shortfall(need, entry.candidate, entry.candidate.central, situation(entry, false));
    out.add(need.id, lack(need, entry.candidate, item_figures(entry.candidate, piece_, entry.drawn)),
            missing + hard_need_share - share);
  }

  [[nodiscard]] double central_score(const Entry& entry) const {
    std::vector<double> weights;
    std::vector<double> worths;
    for (const library::Need& need : needs()) {
      weights.push_back(need.weight.si());
      worths.push_back(
          worth(need, entry.candidate, entry.candidate.central, situation(entry, false), mean_grade_scale()));
    }
    return weighted_score(weights, worths);
  }

  void merge_sizes() {
    std::vector<Entry> kept;
    for (Entry& entry : entries_) {
      const auto same = std::find_if(kept.begin(), kept.end(), [&](const Entry& other) {
        return other.candidate.stock->differs_only_in_size(*entry.candidate.stock);
      });
      if (same == kept.end()) {
        kept.push_back(std::move(entry));
        continue;
      }
      if (central_score(entry) > central_score(*same)) std::swap(entry, *same);
      same->other_sizes.push_back(entry.candidate.stock);
      same->other_sizes.insert(same->other_sizes.end(), entry.other_sizes.begin(), entry.other_sizes.end());
    }
    entries_ = std::move(kept);
  }

  void rank(Choice& choice) {
    for (;;) {
      if (entries_.empty()) return;
      const Acceptability result = acceptability(all_draws());
      const std::vector<std::size_t> order = order_of(result);
      if (time_safely(order, choice)) continue;
      for (const std::size_t i : order) choice.ranking.push_back(ranked(i, result));
      return;
    }
  }

  /// By share of first places, then by score.
  static std::vector<std::size_t> order_of(const Acceptability& result) {
    std::vector<std::size_t> order(result.score.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      return std::pair(result.rank_share[a][0], result.score[a].value) >
             std::pair(result.rank_share[b][0], result.score[b].value);
    });
    return order;
  }

  /// Times the first of the leading items that is not yet timed on the safe side; true if there was one. It
  /// is then judged by that window, or left out if it has none or too short a one, so that what leads in the
  /// end was timed so. Those behind keep the longer windows of central values, which only speaks for them: no
  /// better one is missed.
  bool time_safely(const std::vector<std::size_t>& order, Choice& choice) {
    if (!request_.safe_window) return false;
    for (std::size_t place = 0; place < order.size(); ++place) {
      Entry& entry = entries_[order[place]];
      if (entry.safe_window || (place >= verified_places && !is_taken(entry))) continue;
      entry.safe_window = request_.safe_window(*entry.candidate.stock, piece_.area);
      const ExcludedItem out = judged_by_safe_window(entry);
      if (!out.lacks.empty()) leave_out(order[place], out, choice);
      return true;
    }
    return false;
  }

  [[nodiscard]] bool is_taken(const Entry& entry) const {
    return entry.candidate.stock == request_.taken ||
           std::find(entry.other_sizes.begin(), entry.other_sizes.end(), request_.taken) !=
               entry.other_sizes.end();
  }

  /// All its sizes: they warm and cool alike.
  void leave_out(std::size_t i, ExcludedItem out, Choice& choice) {
    choice.excluded.push_back(out);
    for (const library::StockItem* size : entries_[i].other_sizes) {
      out.stock = size;
      choice.excluded.push_back(out);
    }
    entries_.erase(entries_.begin() + static_cast<std::ptrdiff_t>(i));
  }

  /// In every draw by its central value: the draws it comes from are those of the timing. Says what it lacks.
  ExcludedItem judged_by_safe_window(Entry& entry) {
    if (!entry.safe_window->known()) {
      ExcludedItem out{entry.candidate.sheet, entry.candidate.stock, {}, 0.0, {}};
      out.add("window", no_window(*entry.safe_window), unsafe);
      return out;
    }
    entry.candidate.window = *entry.safe_window;
    entry.window = sampler_.add(entry.safe_window->figure());
    for (std::size_t k = 0; k < needs().size(); ++k) {
      if (needs()[k].get().id != "time") continue;
      const double at_all = worth(needs()[k], entry.candidate, entry.candidate.central,
                                  situation(entry, false), mean_grade_scale());
      for (std::size_t d = 0; d < draws(); ++d) entry.worths[d * needs().size() + k] = at_all;
      const bool long_enough =
          shortfall(needs()[k], entry.candidate, entry.candidate.central, situation(entry, false)) <= 0.0;
      entry.holds[k] = long_enough ? draws() : 0;
    }
    return missed_by(entry);
  }

  [[nodiscard]] Draws all_draws() const {
    Draws all(entries_.size(), needs().size(), draws());
    for (std::size_t d = 0; d < draws(); ++d)
      for (std::size_t k = 0; k < needs().size(); ++k) {
        all.weight(d, k) = weights_[d * needs().size() + k];
        for (std::size_t i = 0; i < entries_.size(); ++i)
          all.value(d, i, k) = entries_[i].worths[d * needs().size() + k];
      }
    return all;
  }

  [[nodiscard]] std::vector<Figure> behind_score(const Entry& entry) const {
    std::vector<Figure> behind;
    for (const library::Need& need : needs()) behind.push_back(need.weight);
    const Candidate& c = entry.candidate;
    for (const Figure& figure :
         c.mechanics.rests_on({Input::modulus_23, Input::modulus_37, Input::yield, Input::density,
                               Input::thickness, Input::stiffness_left, Input::force, Input::lever}))
      behind.push_back(figure);
    if (cost_left_out_.empty()) behind.push_back(c.stock->price);
    if (c.window.known()) behind.push_back(c.window.figure());
    return behind;
  }

  [[nodiscard]] RankedItem ranked(std::size_t i, const Acceptability& result) const {
    const Entry& entry = entries_[i];
    const std::vector<Figure> behind = behind_score(entry);
    RankedItem item{
        .sheet = entry.candidate.sheet,
        .stock = entry.candidate.stock,
        .score = Figure::derived(
            "score", result.score[i], units::one(),
            "weighted sum of what each need found, 0 to 1; median and 5 to 95 % of the draws", behind),
        .share_first = share("share_first", result.rank_share[i][0], behind),
        .rank_shares = {},
        .figures = item_figures(entry.candidate, piece_, entry.drawn),
        .needs = {},
        .reasons_for = {},
        .reasons_against = {},
        .other_sizes = entry.other_sizes};
    if (!cost_left_out_.empty())
      for (NamedFinding& figure : item.figures)
        if (figure.name == "cost") figure.finding = Finding::absent(cost_left_out_);
    item.figures.push_back(
        {"safe_window",
         entry.safe_window.value_or(Finding::absent(
             "only the first places are timed on the safe side; warmsheet timing does it for any"))});
    for (const double at_rank : result.rank_share[i])
      item.rank_shares.push_back(share("rank_share", at_rank, behind));
    for (const library::Need& need : needs()) item.needs.push_back(need_result(need, entry, item.figures));
    return item;
  }

  [[nodiscard]] static Figure share(const char* name, double value, const std::vector<Figure>& behind) {
    return Figure::derived(name, Range::exactly(value), units::percent(), "share of the draws", behind);
  }

  [[nodiscard]] NeedResult need_result(const library::Need& need, const Entry& entry,
                                       const std::vector<NamedFinding>& figures) const {
    const Candidate& candidate = entry.candidate;
    NeedResult result{&need,
                      Finding::absent("a grade"),
                      {},
                      {},
                      worth(need, candidate, candidate.central, situation(entry, false), mean_grade_scale())};
    if (!is_graded(need)) {
      result.figure = figure_named(figures, figure_of_need(need.id));
      return result;
    }
    result.grade = candidate.grade(need.id);
    result.grade_word = std::string(library::grade_word(*result.grade)) + " [" +
                        basis_mark(candidate.trait(need.id).origin.basis) + "]";
    return result;
  }

  const library::Library& library_;
  const Request& request_;
  Piece piece_;
  Wear wear_;
  Sampler sampler_;
  Sampled shared_;
  std::vector<std::reference_wrapper<const library::Need>> needs_;
  std::vector<std::size_t> weight_variables_;  // of the needs
  std::vector<double> weights_;                // by draw, then need
  std::vector<Entry> entries_;
  std::vector<std::pair<const library::StockItem*, Finding>> windows_;
  double cheapest_ = 0.0;
  std::string cost_left_out_;
};

}  // namespace

void ExcludedItem::add(std::string obstacle, Phrase lack, double by) {
  obstacles.push_back(std::move(obstacle));
  lacks.push_back(std::move(lack));
  miss += by;
}

const RankedItem* Choice::place_of(const library::StockItem& stock) const {
  for (const RankedItem& item : ranking) {
    if (item.stock == &stock) return &item;
    if (std::find(item.other_sizes.begin(), item.other_sizes.end(), &stock) != item.other_sizes.end())
      return &item;
  }
  return nullptr;
}

const ExcludedItem* Choice::left_out(const library::StockItem& stock) const {
  const auto found = std::find_if(excluded.begin(), excluded.end(),
                                  [&](const ExcludedItem& item) { return item.stock == &stock; });
  return found == excluded.end() ? nullptr : &*found;
}

bool Choice::near_tie() const {
  // The first leads in less than three fifths of the draws and the second in more than half as many as the
  // first.
  constexpr double clear_lead = 0.6;
  if (ranking.size() < 2) return false;
  const double first = ranking[0].share_first.si();
  return first < clear_lead && ranking[1].share_first.si() > 0.5 * first;
}

Choice choose(const library::Library& library, const Request& request) {
  return Chooser(library, request).choose();
}

}  // namespace warmsheet::choice
