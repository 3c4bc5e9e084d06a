// SPDX-License-Identifier: MIT
#include "report/choose_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "base/problem.h"
#include "base/text.h"
#include "choice/figures.h"
#include "choice/reasons.h"
#include "plan/cautions.h"
#include "report/choose_comparison.h"
#include "report/sections.h"
#include "report/writers.h"

namespace warmsheet::report {
namespace {

constexpr std::size_t ranked_shown = 8;
constexpr std::size_t reasons_shown = 5;
constexpr std::size_t misses_shown = 6;

Label marked(const library::Statement& statement) {
  return Label(fmt::format("{} [{}]", statement.says, basis_mark(statement.origin.basis)));
}

/// For arrays, where sentences are texts: figures with range and mark.
std::string spoken(const Phrase& phrase) {
  std::string text;
  for (const Phrase::Part& part : phrase.parts())
    text += std::holds_alternative<Figure>(part) ? marked_value(std::get<Figure>(part))
                                                 : std::get<std::string>(part);
  return text;
}

std::vector<std::string> spoken(const std::vector<Phrase>& phrases) {
  std::vector<std::string> texts;
  for (const Phrase& phrase : phrases) texts.push_back(spoken(phrase));
  return texts;
}

Phrase sentence_of(const std::vector<Phrase>& reasons) {
  Phrase sentence;
  for (const Phrase& reason : reasons) sentence.append(sentence.empty() ? reason : say("; {}", reason));
  return sentence;
}

const library::SkinKind& skin_of(const library::Library& library, const heat::Request& person) {
  return library.skin(person.skin.value_or(heat::usual_skin));
}

std::vector<Caution> cautions_of(const library::Library& library, const choice::Choice& choice,
                                 const heat::Request& person) {
  std::vector<Caution> list;
  const auto add = [&](std::vector<Caution> more) {
    for (Caution& caution : more) list.push_back(std::move(caution));
  };
  if (choice.ranking.empty())
    list.push_back(
        {"nothing-qualifies",
         Phrase("No stock of this library meets what is asked. What comes nearest is listed with what "
                "it lacks; do not take it without mending that.")});
  add(plan::skin_cautions(library, skin_of(library, person), choice.condition->precautions));
  add({plan::test_on_yourself(person.liner.has_value())});
  add(plan::condition_cautions(*choice.condition));
  add(plan::precaution_cautions(choice.condition->precautions));
  if (!choice.ranking.empty()) {
    const choice::RankedItem& first = choice.ranking.front();
    heat::Request bath = person;
    bath.sheet = first.stock->sheet;
    bath.stock_item = first.stock->id;
    add(plan::bath_cautions(heat::resolve(library, bath)));
    add(plan::haste_cautions(choice::figure_named(first.figures, "safe_window"), choice.piece.form_time));
    add(plan::choice_cautions(choice, *first.stock, choice.condition->precautions));
  }
  return with_standing(std::move(list));
}

Facts starting_figures(const library::Condition& condition) {
  Facts facts{{{Phrase("held"), Phrase(marked(condition.held))},
               {Phrase("stays free"), Phrase(marked(condition.stays_free))}}};
  for (const library::JointPosition& position : condition.positions)
    facts.lines.push_back({Phrase(Label(position.joint)),
                           position.note.empty() ? say("{} {}", position.angle, Label(position.direction))
                                                 : say("{} {}; {}", position.angle, Label(position.direction),
                                                       Label(position.note))});
  facts.lines.push_back({Phrase("usual wear"), Phrase(marked(condition.wear))});
  facts.lines.push_back({Phrase("look again"), Phrase(marked(condition.review))});
  return facts;
}

Section starting_section(const library::Condition& condition, Facts facts) {
  return {"Usual starting figures",
          {Paragraph{Phrase(Label(condition.about + " The prescription overrides all of this."))},
           std::move(facts)}};
}

/// With the person that the windows were worked out for.
Section person_section(const library::Library& library, const library::Condition& condition,
                       const heat::Request& person) {
  Facts facts = starting_figures(condition);
  if (!condition.liner.empty())
    facts.lines.push_back({Phrase("usually worn over"), Phrase(Label(library.liner(condition.liner).name))});
  facts.lines.push_back({Phrase("windows are for"), Phrase(Label(skin_of(library, person).name))});
  facts.lines.push_back({Phrase("between sheet and skin"),
                         Phrase(Label(person.liner ? library.liner(*person.liner).name : "nothing"))});
  return starting_section(condition, std::move(facts));
}

Table ranking_table(const choice::Choice& choice) {
  Table table{{Phrase("stock"), Phrase("first in"), Phrase("score, 0 to 1")}, {}};
  for (const choice::RankedItem& item : choice.ranking)
    if (table.rows.size() < ranked_shown)
      table.rows.push_back({Phrase(Label(item.stock->key())), Phrase(item.share_first), Phrase(item.score)});
  return table;
}

/// How far the first place is settled, in words.
Phrase verdict(const choice::Choice& choice) {
  const choice::RankedItem& first = choice.ranking.front();
  if (choice.ranking.size() == 1) return say("{} is all that is left.", Label(first.stock->key()));
  const choice::RankedItem& second = choice.ranking[1];
  if (choice.near_tie())
    return say(
        "Near tie: {} comes first in {} of the draws, {} in {}. Take the one you know, or the one on the "
        "shelf.",
        Label(first.stock->key()), first.share_first, Label(second.stock->key()), second.share_first);
  return say("{} comes first in {} of the draws, ahead of {} with {}.", Label(first.stock->key()),
             first.share_first, Label(second.stock->key()), second.share_first);
}

/// Nothing to say where all prices are in one currency.
std::vector<Block> cost_note(const choice::Choice& choice) {
  if (choice.cost_left_out.empty()) return {};
  return {Paragraph{say("Cost does not count in this choice: {}.", Label(choice.cost_left_out))}};
}

Section ranking_section(const choice::Choice& choice) {
  Section section{"Choice", {Paragraph{verdict(choice)}, ranking_table(choice)}};
  move_into(section.blocks, cost_note(choice));
  if (choice.ranking.size() > ranked_shown)
    section.blocks.emplace_back(Paragraph{Phrase("The rest of the ranking is in the JSON output.")});
  return section;
}

Facts reasons_of(const choice::RankedItem& item) {
  Facts facts;
  if (!item.reasons_for.empty()) facts.lines.push_back({Phrase("for"), sentence_of(item.reasons_for)});
  if (!item.reasons_against.empty())
    facts.lines.push_back({Phrase("against"), sentence_of(item.reasons_against)});
  return facts;
}

Section reasons_section(const choice::Choice& choice) {
  Section section{"Reasons", {}};
  for (const choice::RankedItem& item : choice.ranking) {
    if (section.blocks.size() >= reasons_shown) break;
    Facts facts = reasons_of(item);
    facts.lines.push_back({Phrase("safe to shape for"), choice::figure_named(item.figures, "safe_window")});
    for (const library::StockItem* other : item.other_sizes)
      facts.lines.push_back(
          {Phrase("also sold as"), say("{}, {} x {}", Label(other->key()), other->length, other->width)});
    section.blocks.emplace_back(Paragraph{say("{} ({})", Label(item.stock->key()), Label(item.sheet->name))});
    section.blocks.emplace_back(std::move(facts));
  }
  return section;
}

/// Stock that lacks the same, to the word.
struct Miss {
  std::vector<std::string> stock;
  Phrase lacks;
};

std::vector<Miss> misses_of(const choice::Choice& choice) {
  std::vector<Miss> misses;
  std::map<std::string, std::size_t> known;
  for (const choice::ExcludedItem& item : choice.excluded) {
    const Phrase lacks = sentence_of(item.lacks);
    const auto [at, fresh] = known.emplace(spoken(lacks), misses.size());
    if (fresh) misses.push_back({{}, lacks});
    misses[at->second].stock.push_back(item.stock->key());
  }
  return misses;
}

std::string first_of(std::vector<std::string> stock) {
  constexpr std::size_t named = 4;
  if (stock.size() <= named) return join(stock, ", ");
  stock.resize(named);
  return join(stock, ", ") + " and others";
}

Section left_out_section(const choice::Choice& choice) {
  Bullets bullets;
  const std::vector<Miss> misses = misses_of(choice);
  for (const Miss& miss : misses)
    if (bullets.items.size() < misses_shown)
      bullets.items.push_back(say("{}: {}", Label(first_of(miss.stock)), miss.lacks));
  Section section{choice.ranking.empty() ? "Nearest misses" : "Left out, the nearest first", {}};
  if (!choice.obstacle.empty())
    section.blocks.emplace_back(
        Paragraph{say("In the way of most of the stock: {}.", choice::obstacle_title(choice.obstacle))});
  section.blocks.emplace_back(std::move(bullets));
  if (choice.excluded.size() > misses_shown)
    section.blocks.emplace_back(Paragraph{Phrase("More are left out; the JSON output lists all of them.")});
  return section;
}

Section needs_section(const choice::Choice& choice) {
  Table table{{Phrase("need"), Phrase("points"), Phrase("why")}, {}};
  for (const library::Need& need : choice.condition->needs) {
    Phrase name = choice::need_title(need.id);
    if (need.must) name.append(Phrase(" (hard)"));
    if (need.id == "cost" && !choice.cost_left_out.empty()) name.append(Phrase(" (does not count)"));
    table.rows.push_back({name, Phrase(need.weight), Phrase(Label(need.why))});
  }
  return {
      "What was asked of the sheet",
      {table, Paragraph{Phrase(
                  "A hard need must be met in three quarters of the draws, or the stock is left out. Grades "
                  "(memory, drape, edges ...) are only put in order: every draw spaces them anew.")}}};
}

Section piece_section(const choice::Piece& piece) {
  Facts facts{{{Phrase("area"), Finding(piece.area)},
               {Phrase("girth where it bends"), Finding(piece.girth)},
               {Phrase("sheet around it there"), Finding(piece.cover)},
               {Phrase("from there to the push"), Finding(piece.lever)},
               {Phrase("push it must hold"), Finding(piece.force)},
               {Phrase("usual forming time"), Finding(piece.form_time)}}};
  if (piece.palm_width.known()) {
    facts.lines.push_back({Phrase("palmar piece"), piece.palm_width});
    facts.lines.push_back({Phrase("rise of its arch"), piece.palm_rise});
  }
  return {"The piece", {facts}};
}

Section sources_section(const library::Library& library, const library::Condition& condition) {
  std::set<std::string> keys;
  for (const library::Statement* statement :
       {&condition.held, &condition.stays_free, &condition.wear, &condition.review})
    keys.insert(statement->origin.source);
  for (const library::JointPosition& position : condition.positions)
    keys.insert(position.angle.origin()->source);
  Bullets bullets;
  for (const std::string& key : keys) {
    const auto source = library.sources.find(key);
    if (source == library.sources.end()) continue;
    const library::Source& s = source->second;
    bullets.items.push_back(
        Phrase(Label(fmt::format("{}: {}. {}, {}. {}", key, s.title, s.authors, s.year, s.address))));
  }
  if (bullets.items.empty())
    return {"Where the condition's figures come from",
            {Paragraph{Phrase("From memory; no source was read.")}}};
  return {"Where the condition's figures come from",
          {bullets, Paragraph{Phrase("All else is from memory or practice, as marked.")}}};
}

RecordArray excluded_array(const choice::Choice& choice) {
  RecordArray array{"excluded", {}};
  for (const choice::ExcludedItem& item : choice.excluded)
    array.records.push_back({{{"stock", item.stock->key()}, {"lacks", spoken(item.lacks)}}});
  return array;
}

/// How often each of the leading items takes each rank.
Plot rank_plot(const choice::Choice& choice) {
  constexpr std::size_t curves = 5;
  constexpr double percent = 100.0;
  Plot plot{
      .id = "rank-shares",
      .title = "How often each takes each place",
      .description =
          "For the leading stock, the share of draws in which it takes the first, second and later places. "
          "Curves that lie together are a near tie.",
      .x_label = "place",
      .y_label = "% of draws",
      .curves = {},
      .marks = {},
      .spans = {},
      .basis_note = say("Drawn from the stated ranges; the score rests on figures that are {}.",
                        Label(std::string(basis_word(choice.ranking.front().score.basis()))))};
  for (const choice::RankedItem& item : choice.ranking) {
    if (plot.curves.size() >= curves) break;
    Plot::Curve curve{item.stock->key(), {}, {}};
    for (std::size_t rank = 0; rank < std::min(item.rank_shares.size(), ranked_shown); ++rank) {
      curve.x.push_back(static_cast<double>(rank + 1));
      curve.y.push_back(percent * item.rank_shares[rank].si());
    }
    plot.curves.push_back(std::move(curve));
  }
  return plot;
}

std::vector<NamedFinding> results_of(const choice::Choice& choice) {
  if (choice.ranking.empty()) {
    const Finding none = Finding::absent("nothing qualifies; see the nearest misses");
    return {{"share_first", none}, {"score", none}};
  }
  const choice::RankedItem& first = choice.ranking.front();
  std::vector<NamedFinding> results{{"share_first", first.share_first}, {"score", first.score}};
  results.insert(results.end(), first.figures.begin(), first.figures.end());
  return results;
}

}  // namespace

RecordArray ranking_array(const choice::Choice& choice) {
  RecordArray array{"ranking", {}};
  for (const choice::RankedItem& item : choice.ranking) {
    std::vector<std::string> sizes;
    for (const library::StockItem* other : item.other_sizes) sizes.push_back(other->key());
    std::vector<std::string> reasons;
    for (const std::string& text : spoken(item.reasons_for)) reasons.push_back("for: " + text);
    for (const std::string& text : spoken(item.reasons_against)) reasons.push_back("against: " + text);
    Record record{{{"stock", item.stock->key()},
                   {"share_first", Finding(item.share_first.in(units::one()))},
                   {"score", Finding(item.score)},
                   {"reasons", reasons},
                   {"other_sizes", sizes}}};
    for (const NamedFinding& figure : item.figures) record.fields.emplace_back(figure.name, figure.finding);
    array.records.push_back(std::move(record));
  }
  return array;
}

Section starting_section(const library::Condition& condition) {
  return starting_section(condition, starting_figures(condition));
}

Section taken_section(const choice::Choice& choice, const library::StockItem& taken) {
  Section section{"Why this sheet", {}};
  const choice::RankedItem* item = choice.place_of(taken);
  if (!choice.ranking.empty()) section.blocks.emplace_back(Paragraph{verdict(choice)});
  move_into(section.blocks, cost_note(choice));
  if (!item) {
    section.blocks.emplace_back(Paragraph{say("{} was named in the job.", Label(taken.key()))});
    return section;
  }
  if (item != &choice.ranking.front())
    section.blocks.emplace_back(
        Paragraph{say("{}, named in the job, comes first in {}.", Label(taken.key()), item->share_first)});
  section.blocks.emplace_back(reasons_of(*item));
  return section;
}

Document choose_report(const library::Library& library, const choice::Choice& choice,
                       const heat::Request& person, const std::vector<std::string>& compare,
                       LibraryStamp stamp) {
  const library::Condition& condition = *choice.condition;
  Document document("choose", "Sheet for: " + condition.name, cautions_of(library, choice, person),
                    std::move(stamp));
  document.inputs = {{"condition", condition.id},
                     {"area", Finding(choice.piece.area)},
                     {"girth", Finding(choice.piece.girth)},
                     {"push", Finding(choice.piece.force)},
                     {"skin", skin_of(library, person).id},
                     {"liner", person.liner.value_or("none")},
                     {"draws", std::to_string(choice.draws)},
                     {"seed", std::to_string(choice.seed)}};
  document.results = results_of(choice);
  if (!choice.ranking.empty()) {
    document.sections = {ranking_section(choice), reasons_section(choice)};
    if (!choice.would_change.empty())
      document.sections.push_back({"What would change it", {Bullets{choice.would_change}}});
  }
  if (!compare.empty()) document.sections.push_back(comparison_section(choice, compare));
  if (!choice.excluded.empty()) document.sections.push_back(left_out_section(choice));
  document.sections.push_back(person_section(library, condition, person));
  document.sections.push_back(needs_section(choice));
  document.sections.push_back(piece_section(choice.piece));
  if (choice.ranking.size() > 1) document.sections.push_back({"Places", {rank_plot(choice)}});
  document.sections.push_back(sources_section(library, condition));
  document.arrays = {ranking_array(choice), excluded_array(choice)};
  document.answer_is_no = choice.ranking.empty();
  return document;
}

Document conditions_report(const std::vector<const library::Condition*>& found, std::string_view words,
                           LibraryStamp stamp) {
  Document document("choose",
                    words.empty() ? "Conditions" : "Conditions that fit \"" + clip(words, 40) + "\"",
                    plan::standing_cautions(), std::move(stamp));
  Table table{{Phrase("id"), Phrase("condition"), Phrase("what it is for")}, {}};
  RecordArray array{"conditions", {}};
  for (const library::Condition* condition : found) {
    table.rows.push_back(
        {Phrase(Label(condition->id)), Phrase(Label(condition->name)), Phrase(Label(condition->about))});
    array.records.push_back(
        {{{"id", condition->id}, {"name", condition->name}, {"words", condition->words}}});
  }
  if (!words.empty()) document.inputs = {{"words", std::string(words)}};
  document.sections = {
      {found.empty() ? "Nothing fits" : "Conditions",
       {table,
        Paragraph{Phrase(
            "For what is not listed: general-light, general-rigid, general-ventilated, general-serial. "
            "Every entry is a usual starting figure; the prescription overrides it.")}}}};
  document.arrays = {std::move(array)};
  document.answer_is_no = found.empty();
  return document;
}

}  // namespace warmsheet::report
