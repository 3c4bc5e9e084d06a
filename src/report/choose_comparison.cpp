// SPDX-License-Identifier: MIT
#include "report/choose_comparison.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/problem.h"
#include "base/text.h"
#include "choice/figures.h"

namespace warmsheet::report {
namespace {

const choice::RankedItem* ranked(const choice::Choice& choice, const std::string& key) {
  for (const choice::RankedItem& item : choice.ranking) {
    const bool other_size = std::any_of(item.other_sizes.begin(), item.other_sizes.end(),
                                        [&](const library::StockItem* other) { return other->key() == key; });
    if (item.stock->key() == key || other_size) return &item;
  }
  return nullptr;
}

const choice::ExcludedItem* left_out(const choice::Choice& choice, const std::string& key) {
  const auto found = std::find_if(choice.excluded.begin(), choice.excluded.end(),
                                  [&](const choice::ExcludedItem& item) { return item.stock->key() == key; });
  return found == choice.excluded.end() ? nullptr : &*found;
}

[[noreturn]] void refuse(const choice::Choice& choice, const std::string& key) {
  std::vector<std::string> known;
  for (const choice::RankedItem& item : choice.ranking) known.push_back(item.stock->key());
  for (const choice::ExcludedItem& item : choice.excluded) known.push_back(item.stock->key());
  const std::string near = nearest(key, known);
  throw Failure(
      {Trouble::usage,
       {"--compare", 0, 0},
       fmt::format("\"{}\" is no stock of the library", clip(key, 60)),
       near.empty() ? "stock is named sheet/item; see: warmsheet sheets" : "did you mean " + near + "?"});
}

Phrase shown(const Finding& finding) {
  return finding.known() ? Phrase(finding.figure()) : Phrase("not known");
}

Table figures_table(const std::vector<const choice::RankedItem*>& items) {
  Table table{{Phrase("figure")}, {}};
  for (const choice::RankedItem* item : items) table.head.emplace_back(Label(item->stock->key()));
  const auto add = [&](const std::string& name, auto finding_of) {
    std::vector<Phrase> row{Phrase(Label(spaced(name)))};
    for (const choice::RankedItem* item : items) row.push_back(finding_of(*item));
    table.rows.push_back(std::move(row));
  };
  add("share first", [](const choice::RankedItem& item) { return Phrase(item.share_first); });
  add("score", [](const choice::RankedItem& item) { return Phrase(item.score); });
  for (const NamedFinding& named : items.front()->figures)
    add(named.name, [&](const choice::RankedItem& item) {
      return shown(choice::figure_named(item.figures, named.name));
    });
  for (std::size_t k = 0; k < items.front()->needs.size(); ++k)
    if (items.front()->needs[k].grade)
      add(items.front()->needs[k].need->id,
          [&](const choice::RankedItem& item) { return Phrase(Label(item.needs[k].grade_word)); });
  return table;
}

/// Straight to the push that leaves it bent: the model is linear up to there.
Plot give_plot(const choice::Choice& choice, const std::vector<const choice::RankedItem*>& items) {
  Plot plot{
      .id = "push-give",
      .title = "Push and give",
      .description =
          "For each stock item, how far it gives under a growing push, up to the push that first leaves it "
          "bent. A lower line is stiffer; a longer one is stronger.",
      .x_label = "push, N",
      .y_label = "give, mm",
      .curves = {},
      .marks = {{choice.piece.force, "push expected"}},
      .spans = {},
      .basis_note = Phrase("Central values; beam and plate formulas, linear until it first yields.")};
  for (const choice::RankedItem* item : items) {
    const double give_mm = choice::figure_named(item->figures, "give").figure().value();
    const double yield_N = choice::figure_named(item->figures, "first_yield").figure().value();
    plot.curves.push_back(
        {item->stock->key(), {0.0, yield_N}, {0.0, give_mm * yield_N / choice.piece.force.si()}});
  }
  return plot;
}

}  // namespace

Section comparison_section(const choice::Choice& choice, const std::vector<std::string>& keys) {
  std::vector<const choice::RankedItem*> items;
  Bullets lacking;
  for (const std::string& key : keys) {
    if (const choice::RankedItem* item = ranked(choice, key)) {
      if (std::find(items.begin(), items.end(), item) == items.end()) items.push_back(item);
      continue;
    }
    const choice::ExcludedItem* out = left_out(choice, key);
    if (out == nullptr) refuse(choice, key);
    for (const Phrase& lack : out->lacks)
      lacking.items.push_back(say("{} was left out: {}", Label(key), lack));
  }
  Section section{"Side by side", {}};
  if (!items.empty()) section.blocks = {figures_table(items), give_plot(choice, items)};
  if (!lacking.items.empty()) section.blocks.emplace_back(std::move(lacking));
  return section;
}

}  // namespace warmsheet::report
