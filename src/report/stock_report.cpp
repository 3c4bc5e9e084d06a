// SPDX-License-Identifier: MIT
#include "report/stock_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "plan/cautions.h"
#include "report/sections.h"
#include "report/stock_plots.h"
#include "report/writers.h"

namespace warmsheet::report {
namespace {

using stock::Answers;
using stock::ItemAnswer;
using stock::RollAnswer;
using stock::YearAnswer;

/// In a narrow table a missing figure is a dash; the reason stands in the section below it.
Phrase cell(const Finding& finding) {
  return finding.known() ? Phrase(finding.figure()) : Phrase("-");
}

bool wanted(const Finding& order) {
  return order.known() && order.figure().si() > 0.0;
}

// --- cautions
// -----------------------------------------------------------------------------------------------------

/// An invented price if there is one, else whatever is invented.
std::string invented_leaf(const Figure& cost) {
  const std::vector<Figure> leaves = cost.leaves();
  const auto invented = [](const Figure& leaf) { return leaf.basis() == Basis::demo; };
  const auto price = std::find_if(leaves.begin(), leaves.end(), [&](const Figure& leaf) {
    return invented(leaf) && leaf.unit().dimension == Dimension::money;
  });
  return (price != leaves.end() ? price : std::find_if(leaves.begin(), leaves.end(), invented))->name();
}

Caution demo_caution(const Figure& cost) {
  if (cost.basis() != Basis::demo)
    return {
        "prices-change",
        Phrase("Prices are those of the files this was worked out from; ask for today's before you order.")};
  return {"demo-figures", say("The cost rests on invented figures (demo), {} among them: it shows how the "
                              "parts compare, not what you will pay. "
                              "State your own prices and counts.",
                              Label(invented_leaf(cost)))};
}

void add_item_cautions(const ItemAnswer& item, std::vector<Caution>& cautions) {
  if (!item.sheets_per_month.known())
    cautions.push_back({"does-not-fit", say("{}: {}. Without this item there are no totals.", Label(item.key),
                                            Label(item.sheets_per_month.reason()))});
  if (!item.order_fits)
    cautions.push_back({"order-too-large", say("{}: even the smallest order is more than space or shelf life "
                                               "allow.",
                                               Label(item.key))});
  if (item.promised == stock::Promised::no_room)
    cautions.push_back({"no-room", say("{}: there is not room enough on the shelf to keep the promised "
                                       "service; the level shown fills the shelf.",
                                       Label(item.key))});
  if (item.promised == stock::Promised::too_old)
    cautions.push_back({"grows-too-old", say("{}: sheets grow too old before they are used; no level shown "
                                             "here keeps the promised service. Find a shorter lead time, or "
                                             "order for each orthosis.",
                                             Label(item.key))});
  if (item.short_soon)
    cautions.push_back(
        {"short-soon", say("{}: something is short within the coming month in {} of the projected "
                           "years, even if what is told below is ordered now. Ask for a "
                           "faster delivery.",
                           Label(item.key), *item.short_soon)});
}

/// Whatever was asked.
std::vector<Caution> usual_cautions(const stock::Caseload& caseload) {
  std::vector<Caution> cautions;
  if (const auto months = caseload.short_history())
    cautions.push_back(
        {"short-history",
         say("The history has only {} months: it shows neither how bad a bad month gets nor what season "
             "does. Levels that rest on it may be too low; keep a year, or state the demand as per_month.",
             *months)});
  cautions.push_back({"not-by-stock", Phrase("Choose the sheet for the person, not for what lies on the "
                                             "shelf. A thickness or a kind of sheet may take the place "
                                             "of another only where the person who forms it says so.")});
  cautions.push_back({"old-sheets", Phrase("Old, bent or sun-struck sheets soften and bond differently: use "
                                           "the oldest first, and try a strip before the "
                                           "patient comes.")});
  return cautions;
}

std::vector<Caution> stock_cautions(const stock::Caseload& caseload, const Answers& answers) {
  std::vector<Caution> cautions;
  for (const ItemAnswer& item : answers.items) add_item_cautions(item, cautions);
  for (Caution& caution : usual_cautions(caseload)) cautions.push_back(std::move(caution));
  if (answers.cost_per_month.known()) cautions.push_back(demo_caution(answers.cost_per_month.figure()));
  return with_standing(std::move(cautions));
}

std::vector<Caution> comparison_cautions(const stock::Caseload& caseload, const Figure& cost) {
  std::vector<Caution> cautions = usual_cautions(caseload);
  cautions.push_back(demo_caution(cost));
  return with_standing(std::move(cautions));
}

// --- order now
// ----------------------------------------------------------------------------------------------------

Phrase reason_to_order(const ItemAnswer& item) {
  if (!item.order_now.known())
    return say("{}: no order, {}.", Label(item.key), Label(item.order_now.reason()));
  if (!wanted(item.order_now))
    return say("{}: enough. {} on hand and {} on order are above the reorder point of {}.", Label(item.key),
               item.on_hand_now, item.on_order_now, item.reorder_point.figure());
  return say(
      "{}: ORDER {} for {}, one order's cost included. {} on hand and {} on order are not above the reorder "
      "point of {}.",
      Label(item.key), item.order_now.figure(), item.order_now_cost.figure(), item.on_hand_now,
      item.on_order_now, item.reorder_point.figure());
}

Phrase reason_to_order(const RollAnswer& roll) {
  if (!roll.order_now.known()) return say("{}: {}.", Label(roll.name), Label(roll.order_now.reason()));
  if (!wanted(roll.order_now))
    return say("{}: enough. {} on hand is above {}.", Label(roll.name), roll.on_hand_now,
               roll.reorder_point.figure());
  return say("{}: ORDER {} rolls for {}. {} on hand is not above {}.", Label(roll.name),
             roll.order_now.figure(), roll.order_now_cost.figure(), roll.on_hand_now,
             roll.reorder_point.figure());
}

Section order_section(const Answers& answers) {
  Bullets bullets;
  for (const bool due : {true, false}) {
    for (const ItemAnswer& item : answers.items)
      if (wanted(item.order_now) == due) bullets.items.push_back(reason_to_order(item));
    for (const RollAnswer& roll : answers.rolls)
      if (wanted(roll.order_now) == due) bullets.items.push_back(reason_to_order(roll));
  }
  return {"What to order now", {std::move(bullets)}};
}

// --- what to keep
// -------------------------------------------------------------------------------------------------

Section levels_section(const Answers& answers) {
  Table table{{Phrase("stock"), Phrase("order at"), Phrase("up to"), Phrase("nothing short")}, {}};
  for (const ItemAnswer& item : answers.items)
    table.rows.push_back({Phrase(Label(item.key)), cell(item.reorder_point), cell(item.order_up_to),
                          cell(item.cycle_service)});
  return {
      "When to order, and how much",
      {std::move(table), Paragraph{Phrase("Order when on hand plus on order is the first number or less, in "
                                          "whole packs towards the second. \"Nothing short\" is cycle "
                                          "service, counted in the simulation: the share of deliveries that "
                                          "come before anything is missing. The share of sheets served "
                                          "at once (fill rate) stands below for each item.")}}};
}

Section use_section(const Answers& answers) {
  Table table{{Phrase("stock"), Phrase("sheets"), Phrase("waste"), Phrase("cost")}, {}};
  for (const ItemAnswer& item : answers.items)
    table.rows.push_back(
        {Phrase(Label(item.key)), cell(item.sheets_per_month), cell(item.waste), cell(item.cost_per_month)});
  std::vector<Block> blocks{std::move(table),
                            Paragraph{say("A month, from {} simulated months. Ranges hold nine of ten "
                                          "months; of waste and cost, nine of ten years.",
                                          answers.months)}};
  for (Plot& plot : use_plots(answers)) blocks.emplace_back(std::move(plot));
  return {"What a month takes and costs", std::move(blocks)};
}

Section sizes_section(const Answers& answers) {
  Table table{
      {Phrase("sheet"), Phrase("its area"), Phrase("a month"), Phrase("waste"), Phrase("more a month")}, {}};
  Bullets bullets;
  for (const ItemAnswer& item : answers.items) {
    if (item.sizes.size() < 2) continue;
    for (const stock::SizeAnswer& size : item.sizes)
      table.rows.push_back({Phrase(Label(size.key)), Phrase(size.sheet_area), cell(size.sheets_per_month),
                            cell(size.waste), cell(size.more_cost)});
    bullets.items.push_back(
        item.least_waste
            ? say("{}: {} wastes less, beyond chance.", Label(item.key), Label(*item.least_waste))
            : say("{}: no other size wastes less, beyond chance.", Label(item.key)));
    bullets.items.push_back(
        item.least_cost ? say("{}: {} costs less, beyond chance.", Label(item.key), Label(*item.least_cost))
                        : say("{}: no other size costs less, beyond chance.", Label(item.key)));
  }
  if (table.rows.empty())
    return {"Sheet sizes",
            {Paragraph{Phrase("No item lists another size it could be bought in (sizes = [...]).")}}};
  std::vector<Block> blocks{std::move(table), std::move(bullets)};
  for (Plot& plot : size_plots(answers)) blocks.emplace_back(std::move(plot));
  return {"Sheet sizes", std::move(blocks)};
}

/// "2 of wrist 260 x 135 mm, 1 of ..."
Phrase cut_phrase(const stock::BlankAnswer& blanks, const stock::BlankAnswer::Cut& cut) {
  Phrase phrase;
  for (std::size_t i = 0; i < cut.counts.size(); ++i) {
    if (cut.counts[i].si() <= 0.0) continue;
    if (!phrase.empty()) phrase.append(Phrase(", "));
    phrase.append(say("{} of {} {} x {}", cut.counts[i], Label(blanks.sizes[i].kind), blanks.sizes[i].length,
                      blanks.sizes[i].width));
  }
  return phrase;
}

Section blanks_section(const Answers& answers) {
  std::vector<Block> blocks;
  for (const ItemAnswer& item : answers.items) {
    if (!item.blanks) continue;
    Bullets bullets;
    for (const stock::BlankAnswer::Cut& cut : item.blanks->cuts)
      bullets.items.push_back(say("{} a month: {}", cut.sheets_per_month, cut_phrase(*item.blanks, cut)));
    blocks.emplace_back(Paragraph{say("{}: no cutting to these blanks needs fewer than {} sheets a month.",
                                      Label(item.key), item.blanks->bound)});
    blocks.emplace_back(std::move(bullets));
  }
  return {"Blanks cut ahead", std::move(blocks)};
}

Section rolls_section(const Answers& answers) {
  Table table{{Phrase("roll"), Phrase("a month"), Phrase("order at"), Phrase("rolls"),
               Phrase("served at once"), Phrase("cost")},
              {}};
  for (const RollAnswer& roll : answers.rolls)
    table.rows.push_back({Phrase(Label(roll.name)), cell(roll.metres_per_month), cell(roll.reorder_point),
                          cell(roll.order_quantity), cell(roll.fill_rate), cell(roll.cost_per_month)});
  return {"Straps and edging",
          {std::move(table), Paragraph{Phrase("Lengths follow from the designs and are rounded up; what the "
                                              "time to cover needs is worked out from "
                                              "the demand, not simulated.")}}};
}

Section pooling_section(const Answers& answers) {
  Bullets bullets;
  for (const stock::PoolingAnswer& pool : answers.pooling)
    bullets.items.push_back(
        say("{} and {}: one of them for both would need a reserve of {} sheets instead of {}, and save {} a "
            "year of holding.",
            Label(pool.first), Label(pool.second), pool.together, pool.apart, pool.saved_a_year));
  if (bullets.items.empty())
    return {"Fewer kinds of stock",
            {Paragraph{Phrase("No two items that differ in thickness alone would need less reserve as one. "
                              "Other mergers can be tried as a [[variant]] with pooled, and --compare.")}}};
  return {
      "Fewer kinds of stock",
      {std::move(bullets), Paragraph{Phrase("Busy months of the two seldom fall together, so one reserve "
                                            "does for both. Whether one thickness serves both uses is for "
                                            "the clinicians to say. A [[variant]] with pooled, and "
                                            "--compare, shows what it does to sheets and waste.")}}};
}

// --- the coming year
// ----------------------------------------------------------------------------------------------

Section year_section(const Answers& answers, bool blanks) {
  Table table{
      {Phrase("stock"), Phrase("ordered"), Phrase("cost"), Phrase("served"), Phrase("without orders")}, {}};
  for (const ItemAnswer& item : answers.items)
    if (item.with_policy && item.without_orders)
      table.rows.push_back({Phrase(Label(item.key)), Phrase(item.with_policy->ordered),
                            Phrase(item.with_policy->cost), Phrase(item.with_policy->served),
                            Phrase(item.without_orders->served)});
  std::vector<Block> blocks{
      std::move(table), Paragraph{say("The coming twelve months from today's shelf and orders{}, with "
                                      "growth and season, many times over; with these levels, and without "
                                      "any order.",
                                      blanks ? Phrase(" (cutting blanks ahead uses no kept offcut)")
                                             : Phrase(" and offcuts"))}};
  for (Plot& plot : year_plots(answers)) blocks.emplace_back(std::move(plot));
  return {"The coming year", std::move(blocks)};
}

Section why_section(const Answers& answers) {
  std::vector<Block> blocks;
  for (const ItemAnswer& item : answers.items) {
    Facts facts;
    const auto line = [&](Literal label, const Finding& value) {
      facts.lines.push_back({Phrase(label), value});
    };
    line("orthoses a month", item.orthoses_per_month);
    line("offcuts kept", item.offcuts);
    line("sheets wanted until a delivery", item.demand_to_cover);
    line("order quantity", item.order_quantity);
    line("served at once (fill rate)", item.fill_rate);
    line("reorder point of a normal curve", item.normal_reorder_point);
    line("textbook lot", item.textbook_lot);
    line("on the shelf, mean", item.on_hand_mean);
    line("orders a year", item.orders_per_year);
    line("sheets too old a year", item.expiry_per_year);
    line("implied cost of a missing sheet", item.implied_shortage_cost);
    if (item.cost_best_reorder_point.known())
      line("reorder point of least cost", item.cost_best_reorder_point);
    blocks.emplace_back(Paragraph{say("{} in {}: {}", Label(item.key), Label(item.size),
                                      item.watched ? Phrase("the shelf is watched all the time.")
                                                   : Phrase("the shelf is looked at now and then."))});
    blocks.emplace_back(std::move(facts));
  }
  return {"Behind each item", std::move(blocks)};
}

// --- JSON
// ---------------------------------------------------------------------------------------------------------

void add_year(Record& record, const std::string& name, const std::optional<YearAnswer>& year) {
  if (!year) return;
  record.fields.emplace_back(name + "_ordered", Finding(year->ordered));
  record.fields.emplace_back(name + "_served", Finding(year->served));
  record.fields.emplace_back(name + "_expired", Finding(year->expired));
  record.fields.emplace_back(name + "_cost", Finding(year->cost));
}

Record record_of(const ItemAnswer& item) {
  Record record{
      {{"stock", item.key},
       {"size", item.size},
       {"kinds", item.kinds},
       {"review", std::string(item.watched ? "continuous" : "periodic")},
       {"promise", std::string(item.promise == stock::Promise::cycle ? "cycle service" : "fill rate")},
       {"promise_kept", item.promised == stock::Promised::kept},
       {"sheets_per_month", item.sheets_per_month},
       {"pieces_per_month", item.orthoses_per_month},
       {"reorder_point", item.reorder_point},
       {"order_up_to", item.order_up_to},
       {"order_quantity", item.order_quantity},
       {"cost_per_month", item.cost_per_month},
       {"waste", item.waste},
       {"offcuts", item.offcuts},
       {"demand_to_cover", item.demand_to_cover},
       {"cycle_service", item.cycle_service},
       {"fill_rate", item.fill_rate},
       {"normal_reorder_point", item.normal_reorder_point},
       {"textbook_lot", item.textbook_lot},
       {"on_hand_mean", item.on_hand_mean},
       {"orders_per_year", item.orders_per_year},
       {"expiry_per_year", item.expiry_per_year},
       {"implied_shortage_cost", item.implied_shortage_cost},
       {"cost_best_reorder_point", item.cost_best_reorder_point},
       {"on_hand", Finding(item.on_hand_now)},
       {"on_order", Finding(item.on_order_now)},
       {"order_now", item.order_now},
       {"order_now_cost", item.order_now_cost}}};
  add_year(record, "year", item.with_policy);
  add_year(record, "year_without_orders", item.without_orders);
  return record;
}

/// "cost a month, difference" as a name that a program can use: "cost_a_month_difference".
std::string json_name(std::string_view words) {
  std::string name;
  for (const char c : words)
    if (c != ',') name += c == ' ' ? '_' : c;
  return name;
}

std::vector<RecordArray> arrays_of(const Answers& answers) {
  RecordArray items{"items", {}};
  RecordArray sizes{"sizes", {}};
  RecordArray months{"months", {}};
  for (const ItemAnswer& item : answers.items) {
    items.records.push_back(record_of(item));
    for (const stock::SizeAnswer& size : item.sizes)
      sizes.records.push_back({{{"stock", item.key},
                                {"size", size.key},
                                {"sheet_area", Finding(size.sheet_area)},
                                {"sheets_per_month", size.sheets_per_month},
                                {"waste", size.waste},
                                {"cost_per_month", size.cost_per_month},
                                {"more_cost", size.more_cost}}});
    for (std::size_t m = 0; m < item.sheets_by_month.size(); ++m) {
      Record month{{{"stock", item.key},
                    {"month_ahead", static_cast<std::int64_t>(m + 1)},
                    {"sheets", Finding(item.sheets_by_month[m])}}};
      if (item.with_policy) {
        month.fields.emplace_back("on_hand", Finding(item.with_policy->on_hand[m]));
        month.fields.emplace_back("short_chance", Finding(item.with_policy->short_chance[m]));
      }
      if (item.without_orders)
        month.fields.emplace_back("on_hand_without_orders", Finding(item.without_orders->on_hand[m]));
      months.records.push_back(std::move(month));
    }
  }
  RecordArray rolls{"rolls", {}};
  for (const RollAnswer& roll : answers.rolls)
    rolls.records.push_back({{{"fixing", roll.fixing},
                              {"metres_per_month", roll.metres_per_month},
                              {"reorder_point", roll.reorder_point},
                              {"order_up_to", roll.order_up_to},
                              {"order_quantity", roll.order_quantity},
                              {"cycle_service", roll.cycle_service},
                              {"fill_rate", roll.fill_rate},
                              {"cost_per_month", roll.cost_per_month},
                              {"on_hand", Finding(roll.on_hand_now)},
                              {"order_now", roll.order_now},
                              {"order_now_cost", roll.order_now_cost}}});
  RecordArray pooling{"pooling", {}};
  for (const stock::PoolingAnswer& pool : answers.pooling)
    pooling.records.push_back({{{"first", pool.first},
                                {"second", pool.second},
                                {"reserve_apart", Finding(pool.apart)},
                                {"reserve_together", Finding(pool.together)},
                                {"saved_per_year", Finding(pool.saved_a_year)}}});
  return {std::move(items), std::move(sizes), std::move(months), std::move(rolls), std::move(pooling)};
}

std::vector<Input> inputs_of(const stock::Caseload& caseload) {
  return {{"label", caseload.label},
          {"method", std::string(stock::method_word(caseload.cutting.method))},
          {"spacing", Finding(caseload.cutting.spacing)},
          {"margin", Finding(caseload.cutting.margin)},
          {"least_side", Finding(caseload.cutting.least_side)},
          {"most_offcuts", Finding(caseload.cutting.most_offcuts)},
          {"growth", Finding(caseload.growth)}};
}

}  // namespace

Document stock_report(const stock::Caseload& caseload, const Answers& answers, LibraryStamp stamp) {
  Document document("stock", "Stock: " + caseload.label, stock_cautions(caseload, answers), std::move(stamp));
  document.inputs = inputs_of(caseload);
  document.results = answers.results();
  document.arrays = arrays_of(answers);
  document.sections = {order_section(answers), use_section(answers), levels_section(answers),
                       sizes_section(answers)};
  const bool blanks = caseload.cutting.method == stock::Method::blanks;
  if (blanks) document.sections.push_back(blanks_section(answers));
  if (!answers.rolls.empty()) document.sections.push_back(rolls_section(answers));
  document.sections.push_back(pooling_section(answers));
  document.sections.push_back(year_section(answers, blanks));
  document.sections.push_back(why_section(answers));
  document.answer_is_no = !answers.possible;
  return document;
}

namespace {

Phrase verdict(const stock::Comparison::Line& line) {
  if (line.certain) return say("{}: the difference is beyond chance.", Label(line.what));
  if (line.difference.low_si() == 0.0 && line.difference.high_si() == 0.0)
    return say("{}: both ways come to the same.", Label(line.what));
  return say("{}: chance alone could make this difference; simulate more months.", Label(line.what));
}

}  // namespace

Document stock_comparison_report(const stock::Caseload& caseload, const stock::Comparison& comparison,
                                 LibraryStamp stamp) {
  Document document("stock", "Stock compared: " + caseload.label,
                    comparison_cautions(caseload, comparison.lines.back().second), std::move(stamp));
  document.inputs = inputs_of(caseload);
  document.inputs.push_back({"first", comparison.first});
  document.inputs.push_back({"second", comparison.second});
  Table table{{Phrase("a month"), Phrase(Label(comparison.first)), Phrase(Label(comparison.second)),
               Phrase("difference")},
              {}};
  Bullets bullets;
  RecordArray lines{"differences", {}};
  for (const stock::Comparison::Line& line : comparison.lines) {
    table.rows.push_back(
        {Phrase(Label(line.what)), Phrase(line.first), Phrase(line.second), Phrase(line.difference)});
    bullets.items.push_back(verdict(line));
    lines.records.push_back({{{"what", line.what},
                              {"first", Finding(line.first)},
                              {"second", Finding(line.second)},
                              {"difference", Finding(line.difference)},
                              {"certain", line.certain}}});
    document.results.push_back({json_name(line.difference.name()), Finding(line.difference)});
  }
  document.sections = {{"Side by side",
                        {std::move(table), std::move(bullets),
                         Paragraph{Phrase("Both were given the same orthoses, sizes and moments, so that "
                                          "only the ways differ. Cost is that of sheets; straps and edging "
                                          "cost the same both ways. Ranges are 95 % confidence intervals of "
                                          "the means.")}}}};
  document.arrays = {std::move(lines)};
  return document;
}

namespace {

/// As many digits as a count or a length needs, money in hundredths; with the decimal sign that spreadsheets
/// which part cells by it expect.
std::string written(const Figure& figure, stock::Dialect dialect) {
  std::string text = figure.unit().dimension == Dimension::money ? fmt::format("{:.2f}", figure.value())
                                                                 : fmt::format("{:.10g}", figure.value());
  if (dialect == stock::Dialect::semicolon) std::replace(text.begin(), text.end(), '.', ',');
  return text;
}

class CsvLine {
 public:
  explicit CsvLine(stock::Dialect dialect) : dialect_(dialect) {}
  CsvLine& cell(std::string_view text) {
    if (!text_.empty()) text_ += stock::separator(dialect_);
    // A leading sign would be taken for a formula by a spreadsheet.
    const bool formula =
        !text.empty() && std::string_view("=+-@").find(text.front()) != std::string_view::npos;
    text_ += stock::cell_text(formula ? "'" + std::string(text) : std::string(text), dialect_);
    return *this;
  }
  CsvLine& number(const Finding& finding) {
    if (!text_.empty()) text_ += stock::separator(dialect_);
    if (finding.known()) text_ += written(finding.figure(), dialect_);
    return *this;
  }
  [[nodiscard]] std::string end() const { return text_ + "\r\n"; }  // RFC 4180

 private:
  stock::Dialect dialect_;
  std::string text_;
};

CsvLine& money(CsvLine& line, const Finding& cost) {
  line.number(cost);
  if (!cost.known()) return line.cell("").cell("");
  return line.cell(cost.figure().unit().id).cell(basis_word(cost.figure().basis()));
}

std::string line_of(const ItemAnswer& item, stock::Dialect dialect) {
  CsvLine line(dialect);
  line.cell(item.size)
      .cell("sheet")
      .number(item.on_hand_now)
      .number(item.on_order_now)
      .number(item.reorder_point)
      .number(item.order_now);
  return money(line, item.order_now_cost).end();
}

/// On hand and reorder point are metres, the order is rolls.
std::string line_of(const RollAnswer& roll, stock::Dialect dialect) {
  CsvLine line(dialect);
  line.cell(roll.fixing)
      .cell("roll (levels in m)")
      .number(roll.on_hand_now.in(*find_unit(Dimension::length, "m")))
      .cell("")
      .number(roll.reorder_point)
      .number(roll.order_now);
  return money(line, roll.order_now_cost).end();
}

}  // namespace

std::string order_list(const Answers& answers, stock::Dialect dialect) {
  std::string csv = CsvLine(dialect)
                        .cell("stock")
                        .cell("unit")
                        .cell("on_hand")
                        .cell("on_order")
                        .cell("reorder_point")
                        .cell("order_now")
                        .cell("cost")
                        .cell("currency")
                        .cell("basis_of_cost")
                        .end();
  for (const ItemAnswer& item : answers.items) csv += line_of(item, dialect);
  for (const RollAnswer& roll : answers.rolls) csv += line_of(roll, dialect);
  return csv;
}

}  // namespace warmsheet::report
