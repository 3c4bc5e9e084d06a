// SPDX-License-Identifier: MIT
#include "stock/item_answers.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/dimension.h"
#include "stock/evidence.h"
#include "stock/item_study.h"

namespace warmsheet::stock {
namespace {

/// A share with its confidence interval, which may not leave 0 to 1.
Range share_range(const Estimate& estimate) {
  return {estimate.mean, std::max(0.0, estimate.low()), std::min(1.0, estimate.high())};
}

Range whole_range(int value, std::optional<int> low, std::optional<int> high) {
  return {static_cast<double>(value), static_cast<double>(std::min(value, low.value_or(value))),
          static_cast<double>(std::max(value, high.value_or(value)))};
}

class ItemAnswers {
 public:
  ItemAnswers(const Caseload& caseload, const library::Library& library, const ItemStudy& study,
              const ItemStudy* low, const ItemStudy* high, const std::vector<KindPieces>& pieces,
              const Figure& months)
      : caseload_(caseload),
        library_(library),
        item_(caseload.items[study.item]),
        study_(study),
        low_(low),
        high_(high),
        evidence_(caseload, library, item_, pieces, months),
        money_(item_.prices.front().price.unit()) {}

  ItemAnswer answer() {
    ItemAnswer a{.key = item_.key,
                 .size = item_.sizes.front(),
                 .watched = !item_.supply.review.has_value(),
                 .promise = item_.supply.promise,
                 .promised = study_.promised,
                 .short_soon = {},
                 .order_fits = !study_.lot.above_most,
                 .kinds = evidence_.kind_ids(),
                 .orthoses_per_month = none(),
                 .sheets_per_month = none(),
                 .waste = none(),
                 .offcuts = none(),
                 .demand_to_cover = none(),
                 .reorder_point = none(),
                 .order_up_to = none(),
                 .order_quantity = none(),
                 .textbook_lot = none(),
                 .normal_reorder_point = none(),
                 .cycle_service = none(),
                 .fill_rate = none(),
                 .on_hand_mean = none(),
                 .orders_per_year = none(),
                 .expiry_per_year = none(),
                 .cost_per_month = none(),
                 .implied_shortage_cost = none(),
                 .cost_best_reorder_point = none(),
                 .on_hand_now = item_.on_hand,
                 .on_order_now = on_order(),
                 .order_now = none(),
                 .order_now_cost = none(),
                 .sheets_by_month = {},
                 .with_policy = {},
                 .without_orders = {},
                 .blanks = {},
                 .sizes = {},
                 .least_waste = {},
                 .least_cost = {}};
    if (study_.possible) {
      describe_use(a);
      if (study_.used)
        describe_supply(a);
      else
        a.cost_per_month = cost("cost_per_month", range_of(study_.cost), "nothing of it is used or kept");
      if (!study_.blanks.empty()) a.blanks = blank_answer();
    }
    describe_sizes(a);
    return a;
  }

 private:
  void describe_supply(ItemAnswer& a) {
    describe_policy(a);
    a.order_now_cost = order_now_cost();
    describe_running(a);
    describe_year(a);
  }

  [[nodiscard]] Finding none() const {
    if (study_.possible) return Finding::absent("no sheet of it is used");
    std::vector<std::string> names;
    for (const std::size_t kind : study_.misfits) names.push_back(caseload_.kinds[kind].id);
    return Finding::absent(
        fmt::format("the largest outlines of {} do not fit {}", fmt::join(names, ", "), item_.sizes.front()));
  }

  [[nodiscard]] Figure on_order() const {
    if (item_.on_order.empty())
      return Figure::stated(
          "on_order", Range::exactly(0.0), units::one(),
          {.basis = item_.on_hand.basis(), .where = "none is listed", .place = item_.place});
    std::vector<Figure> lots;
    double sheets = 0.0;
    for (const Item::Coming& coming : item_.on_order) {
      lots.push_back(coming.sheets);
      sheets += coming.sheets.si();
    }
    return Figure::derived("on_order", Range::exactly(sheets), units::one(),
                           "all orders that have not come yet", lots);
  }

  [[nodiscard]] Figure use(std::string name, Range si, const Unit& unit, std::string how) const {
    return Figure::derived(std::move(name), si, unit, std::move(how), evidence_.behind_use());
  }
  [[nodiscard]] Figure stock(std::string name, Range si, const Unit& unit, std::string how) const {
    return Figure::derived(std::move(name), si, unit, std::move(how), evidence_.behind_stock());
  }
  [[nodiscard]] Figure cost(std::string name, Range si, std::string how) const {
    return Figure::derived(std::move(name), si, money_, std::move(how), evidence_.behind_cost());
  }

  void describe_use(ItemAnswer& a) {
    a.orthoses_per_month =
        use("pieces_per_month", range_of(study_.pieces), units::one(),
            "pieces cut, makes and remakes; mean of the simulated months, and 90 % of them");
    a.sheets_per_month = use("sheets_per_month", range_of(study_.sheets), units::one(),
                             fmt::format("sheets taken from the shelf, cut {}, practice included; mean of "
                                         "the simulated months, and 90 % of them",
                                         method_word(caseload_.cutting.method)));
    if (study_.waste)
      a.waste = use("waste", range_of(*study_.waste), units::percent(),
                    "share of the opened sheets that did not become orthosis, kept offcuts not counted; of "
                    "all simulated years together, and 90 % of years");
    else
      a.waste = Finding::absent("nothing is cut from it");
    a.offcuts = use("offcuts", range_of(study_.offcuts), units::one(),
                    "offcuts in the drawer at the end of a month, and 90 % of months");
    for (std::size_t m = 0; m < study_.sheets_by_month.size(); ++m)
      a.sheets_by_month.push_back(use("sheets in a month of the year", range_of(study_.sheets_by_month[m]),
                                      units::one(), "mean over the simulated years, and 90 % of them"));
  }

  template <class Part>
  [[nodiscard]] Range between_ends(Part part) const {
    const auto at = [&](const ItemStudy* end) {
      return end != nullptr && end->possible ? std::optional<int>(part(*end)) : std::nullopt;
    };
    return whole_range(part(study_), at(low_), at(high_));
  }

  [[nodiscard]] std::string protects() const {
    return item_.supply.review ? "review period and lead time" : "lead time";
  }

  void describe_policy(ItemAnswer& a) {
    const double sd = std::sqrt(study_.cover.variance());
    const Law& cover = study_.cover;
    a.demand_to_cover = stock(
        "demand_to_cover",
        {cover.mean(), std::min<double>(cover.quantile(0.05), cover.mean()),
         std::max<double>(cover.quantile(0.95), cover.mean())},
        units::one(),
        fmt::format("sheets wanted over {}, counted in the simulation; the range holds 90 %", protects()));
    const std::string promise =
        item_.supply.promise == Promise::cycle
            ? "the promised share of deliveries comes before anything is short (cycle service)"
            : "the promised share of sheets is served from the shelf at once (fill rate)";
    a.reorder_point =
        stock("reorder_point", between_ends([](const ItemStudy& s) { return s.policy.reorder_point; }),
              units::one(),
              fmt::format("order when on hand plus on order is this or less: the smallest level at which, in "
                          "the simulation, {}; low and high: at the ends of what is known about the demand",
                          promise));
    a.order_up_to =
        stock("order_up_to", between_ends([](const ItemStudy& s) { return s.policy.order_up_to; }),
              units::one(), "reorder point plus order quantity; orders are whole packs towards this level");
    a.order_quantity = cost_based_count("order_quantity", study_.lot.quantity);
    if (const auto textbook = textbook_lot())
      a.textbook_lot = *textbook;
    else
      a.textbook_lot = Finding::absent(study_.lot_terms.order_cost > 0.0
                                           ? "holding costs nothing here, so the formula sees no end to it"
                                           : "orders cost nothing here, so the formula gives none");
    if (sd > 0.0)
      a.normal_reorder_point = stock(
          "normal_reorder_point",
          Range::exactly(std::max(0.0, normal_cycle_level({cover.mean(), sd}, item_.supply.service.si()))),
          units::one(),
          fmt::format(
              "mean and spread over {} put into the usual formula with a normal curve; for comparison only",
              protects()));
    else
      a.normal_reorder_point = Finding::absent("the demand to cover never varied");
    a.order_now = stock(
        "order_now", Range::exactly(study_.to_order), units::one(),
        "on hand plus on order against the reorder point, then whole packs towards the order-up-to level");
  }

  [[nodiscard]] Finding order_now_cost() const {
    if (study_.to_order == 0) return Finding::absent("nothing is to be ordered");
    return cost("order_now_cost",
                Range::exactly(order_value(study_.lot_terms, study_.to_order) + study_.lot_terms.order_cost),
                "what is to be ordered at its price, and one order");
  }

  [[nodiscard]] Finding cost_based_count(std::string name, int value) const {
    std::string how =
        "whole packs with the least yearly cost of goods, orders and holding, within shelf life and space";
    if (study_.lot_terms.holding_share <= 0.0)
      how += fmt::format("; holding costs nothing here, so for {:g} years at most",
                         most_years_if_holding_is_free);
    return Figure::derived(std::move(name), Range::exactly(value), units::one(), std::move(how),
                           evidence_.behind_cost());
  }

  [[nodiscard]] std::optional<Figure> textbook_lot() const {
    const LotTerms& terms = study_.lot_terms;
    const double holding = terms.holding_share * terms.breaks.front().price;
    if (terms.order_cost <= 0.0 || holding <= 0.0 || terms.demand <= 0.0) return std::nullopt;
    return Figure::derived(
        "textbook_lot", Range::exactly(economic_quantity(terms.demand, terms.order_cost, holding)),
        units::one(),
        "square root of 2 x demand x order cost / holding cost; without packs, price steps and shelf life",
        evidence_.behind_cost());
  }

  [[nodiscard]] Finding service(std::string name, const std::optional<Estimate>& seen, std::string how,
                                std::string why_not) const {
    if (!seen) return Finding::absent(std::move(why_not));
    return stock(std::move(name), share_range(*seen), units::percent(), std::move(how));
  }

  void describe_running(ItemAnswer& a) {
    a.cycle_service = service(
        "cycle_service", study_.cycle_service,
        "share of deliveries before which nothing was short, in the simulation; 95 % confidence interval",
        "nothing was delivered in the simulation");
    a.fill_rate =
        service("fill_rate", study_.fill_rate,
                "share of sheets served from the shelf at once, in the simulation; 95 % confidence interval",
                "nothing was asked for in the simulation");
    a.on_hand_mean = stock("on_hand_mean", range_of(study_.on_hand), units::one(),
                           "sheets on the shelf, mean of a month, and 90 % of months");
    a.orders_per_year = stock("orders_per_year", range_of(study_.orders_a_year), units::one(),
                              "orders placed, and 90 % of years");
    a.expiry_per_year = item_.supply.shelf_life
                            ? Finding(stock("expiry_per_year", range_of(study_.expired_a_year), units::one(),
                                            "sheets that grew too old, oldest used first, and 90 % of years"))
                            : Finding::absent("no shelf life is stated");
    a.cost_per_month = cost("cost_per_month", range_of(study_.cost),
                            "goods, orders and holding of a simulated year over twelve, and 90 % of years");
    const double holding_a_month =
        study_.lot_terms.holding_share * item_.prices.front().price.si() / months_in_year;
    a.implied_shortage_cost =
        cost("implied_shortage_cost",
             Range::exactly(implied_shortage_cost(item_.supply.service.si(), holding_a_month)),
             "what one missing sheet must cost a month for the promised service to be worth its reserve "
             "(critical ratio)");
    a.cost_best_reorder_point = cost_best();
  }

  [[nodiscard]] Finding cost_best() const {
    if (!item_.supply.shortage_cost) return Finding::absent("no shortage cost is stated");
    const double a_year = months_in_year;
    const RunningCosts costs{study_.lot_terms.demand, study_.lot_terms.order_cost,
                             study_.lot_terms.holding_share * item_.prices.front().price.si(),
                             item_.supply.shortage_cost->si() * a_year};
    int best = 0;
    for (int r = 1; r <= study_.cover.largest(); ++r)
      if (running_cost(costs, study_.cover, r, study_.lot.quantity) <
          running_cost(costs, study_.cover, best, study_.lot.quantity))
        best = r;
    std::vector<Figure> behind = evidence_.behind_cost();
    behind.push_back(*item_.supply.shortage_cost);
    return Figure::derived("cost_best_reorder_point", Range::exactly(best), units::one(),
                           "where holding and shortages together cost least", behind);
  }

  void describe_year(ItemAnswer& a) {
    if (study_.with_policy) a.with_policy = year(*study_.with_policy);
    if (a.with_policy && runs_short_soon(*a.with_policy)) a.short_soon = a.with_policy->short_chance.front();
    if (study_.without_orders) a.without_orders = year(*study_.without_orders);
  }

  /// Worse than was promised, and than a later month is: that comes from today's shelf.
  [[nodiscard]] bool runs_short_soon(const YearAnswer& year) const {
    constexpr double plainly_worse = 2.0;  // judgement, no source
    const double soon = year.short_chance.front().si();
    return soon > 1.0 - item_.supply.service.si() && soon > plainly_worse * year.short_chance.back().si();
  }

  [[nodiscard]] YearAnswer year(const Path& path) const {
    const std::vector<Figure> behind = evidence_.behind_year();
    const auto of_year = [&](const char* name, const Summary& s, const Unit& unit, const char* how) {
      return Figure::derived(name, range_of(s), unit, how, behind);
    };
    std::vector<Figure> money = behind;
    for (const Figure& figure : evidence_.behind_cost()) money.push_back(figure);
    YearAnswer answer{
        {},
        {},
        of_year("ordered in the year", path.ordered, units::one(),
                "sheets; mean of the projected years, and 90 % of them"),
        of_year("served in the year", path.served, units::percent(),
                "share of sheets served at once; mean of the projected years, and 90 % of them"),
        of_year("expired in the year", path.expired, units::one(),
                "sheets that grow too old; mean of the projected years, and 90 % of them"),
        Figure::derived("cost of the year", range_of(path.cost), money_,
                        "goods, orders and holding; mean of the projected years, and 90 % of them", money)};
    for (std::size_t m = 0; m < path.at_end.size(); ++m) {
      answer.on_hand.push_back(of_year("on hand at the end of a month", path.at_end[m], units::one(),
                                       "from today's shelf; below zero: waiting for sheets"));
      answer.short_chance.push_back(
          Figure::derived("chance of a shortage in a month", Range::exactly(std::min(1.0, path.any_short[m])),
                          units::percent(), "share of the projected years", behind));
    }
    return answer;
  }

  [[nodiscard]] BlankAnswer blank_answer() const {
    BlankAnswer answer{
        {},
        {},
        use("blank bound", Range::exactly(study_.blanks_bound), units::one(),
            "no cutting of whole sheets to these blanks needs fewer in the mean (linear programme)")};
    for (const BlankKind& blank : study_.blanks)
      answer.sizes.push_back({caseload_.kinds[blank.kind].id,
                              use("blank length", Range::exactly(blank.size.length_mm * m_per_mm),
                                  units::millimetre(), "holds its outlines, in whole half centimetres"),
                              use("blank width", Range::exactly(blank.size.width_mm * m_per_mm),
                                  units::millimetre(), "holds its outlines, in whole half centimetres"),
                              use("blanks a month", Range::exactly(blank.per_month), units::one(),
                                  "mean of the pieces meant for it")});
    for (const PatternUse& pattern : study_.patterns) {
      if (pattern.sheets <= 0.0) continue;
      BlankAnswer::Cut cut{use("sheets a month", Range::exactly(pattern.sheets), units::one(),
                               "so many sheets are cut this way in the mean"),
                           {}};
      for (const int count : pattern.pattern)
        cut.counts.push_back(use("blanks on a sheet", Range::exactly(count), units::one(),
                                 "guillotine cuts from edge to edge"));
      answer.cuts.push_back(std::move(cut));
    }
    return answer;
  }

  void describe_sizes(ItemAnswer& a) {
    for (const SizeStudy& size : study_.sizes) {
      const library::StockItem& stock_item = library_.stock_item(size.key);
      SizeAnswer answer{
          size.key,
          Figure::derived("sheet area", Range::exactly(stock_item.width.si() * stock_item.length.si()),
                          units::square_centimetre(), "width by length",
                          {stock_item.width, stock_item.length}),
          no_fit(size),
          no_fit(size),
          no_fit(size),
          Finding::absent("it is the size in use")};
      if (size.possible) {
        std::vector<Figure> behind = evidence_.behind_use_on(stock_item);
        const Figure& price = item_.size_prices.at(size.key);
        std::vector<Figure> money = behind;
        money.push_back(price);
        answer.sheets_per_month = Figure::derived("sheets_per_month", range_of(size.sheets), units::one(),
                                                  "mean of the simulated months, and 90 % of them", behind);
        answer.waste =
            size.waste
                ? Finding(Figure::derived("waste", range_of(*size.waste), units::percent(),
                                          "of all simulated years together, and 90 % of years", behind))
                : Finding::absent("nothing is cut from it");
        answer.cost_per_month = Figure::derived(
            "sheets' cost", range_of(size.cost), price.unit(),
            &size == &study_.sizes.front() ? "sheets at what one costs in the usual order; 90 % of months"
                                           : "sheets at the price of one; 90 % of months",
            money);
        if (&size != &study_.sizes.front() && study_.possible)
          answer.more_cost = Figure::derived(
              "more a month", range_of(size.more_cost), price.unit(),
              "against the size in use with the same orthoses; 95 % confidence interval", money);
      }
      a.sizes.push_back(std::move(answer));
    }
    a.least_waste = better([](const SizeStudy& s) { return s.more_waste; });
    a.least_cost = better([](const SizeStudy& s) { return s.more_cost; });
  }

  static Finding no_fit(const SizeStudy& size) {
    return Finding::absent(size.possible ? "not worked out"
                                         : fmt::format("not every outline fits {}", size.key));
  }

  /// The size that is better beyond chance, the best of them; nothing if the one in use is.
  template <class Part>
  [[nodiscard]] std::optional<std::string> better(Part more) const {
    const SizeStudy* best = nullptr;
    for (std::size_t i = 1; i < study_.sizes.size(); ++i) {
      const SizeStudy& size = study_.sizes[i];
      if (!size.possible || more(size).high() >= 0.0) continue;
      if (best == nullptr || more(size).mean < more(*best).mean) best = &size;
    }
    if (best == nullptr) return std::nullopt;
    return best->key;
  }

  const Caseload& caseload_;
  const library::Library& library_;
  const Item& item_;
  const ItemStudy& study_;
  const ItemStudy* low_;
  const ItemStudy* high_;
  ItemEvidence evidence_;
  const Unit& money_;
};

}  // namespace

ItemAnswer item_answer(const Caseload& caseload, const library::Library& library, const ItemStudy& study,
                       const ItemStudy* low, const ItemStudy* high, const std::vector<KindPieces>& pieces,
                       const Figure& months) {
  return ItemAnswers(caseload, library, study, low, high, pieces, months).answer();
}

}  // namespace warmsheet::stock
