// SPDX-License-Identifier: MIT
#include "plan/condition.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/problem.h"
#include "choice/reasons.h"
#include "choice/window.h"
#include "plan/cautions.h"

namespace warmsheet::plan {
namespace {

constexpr std::size_t misses_told = 3;
constexpr const char* pushes_less =
    "; the push is an adult's: a child or a weak hand pushes less, state it with push = \"... N\"";

choice::PieceRequest piece_of(const library::Library& library, const library::Condition& condition,
                              const Job& job) {
  choice::PieceRequest piece;
  piece.outline = job.outline;
  if (!job.outline) piece.area = job.area;
  if (const auto girth = job.measures.find(condition.piece.girth_measure); girth != job.measures.end())
    piece.girth = girth->second;
  piece.force = job.push;
  piece.form_time = form_time_of(library, job, &condition);
  return piece;
}

/// Of a title, which holds no figure.
std::string words_of(const Phrase& title) {
  std::string words;
  for (const Phrase::Part& part : title.parts())
    if (const auto* text = std::get_if<std::string>(&part)) words += *text;
  return words;
}

Failure nothing_qualifies(const choice::Choice& choice, const Job& job) {
  std::string nearest;
  for (std::size_t i = 0; i < std::min(misses_told, choice.excluded.size()); ++i)
    nearest += (i == 0 ? "" : ", ") + choice.excluded[i].stock->key();
  return Failure(
      {Trouble::no_answer,
       {},
       fmt::format("no stock meets what {} asks of this piece; in the way of most: {}; the nearest are {}",
                   choice.condition->id, words_of(choice::obstacle_title(choice.obstacle)), nearest),
       fmt::format("what each lacks: warmsheet choose --condition {} with the same outline, bath and liner; "
                   "or name one with stock = \"SHEET/ITEM\"{}",
                   choice.condition->id, job.push ? "" : pushes_less)});
}

}  // namespace

void take_over(Job& job, const library::Library& library, const library::Condition* condition) {
  if (condition != nullptr) {
    for (const std::string& id : condition->precautions)
      if (std::find(job.precautions.begin(), job.precautions.end(), id) == job.precautions.end())
        job.precautions.push_back(id);
  }
  if (!job.heat.liner) {
    const std::string liner = careful_liner(condition != nullptr ? condition->liner : "", job.precautions);
    if (!liner.empty()) job.heat.liner = liner;
  }
  if (job.heat.skin) return;
  const std::string skin =
      careful_skin(library, condition != nullptr ? condition->skin : "", job.precautions);
  if (!skin.empty()) job.heat.skin = skin;
}

Figure form_time_of(const library::Library& library, const Job& job, const library::Condition* condition) {
  if (job.outline && job.outline->design) return library.design(*job.outline->design).form_time;
  return condition != nullptr ? condition->piece.form_time : library.bench_times.form;
}

choice::Choice choose_for(const library::Library& library, const Job& job) {
  const library::Condition& condition = library.condition(job.condition);
  return choice::choose_timed(library,
                              {.condition = &condition,
                               .piece = piece_of(library, condition, job),
                               .taken = job.stock.empty() ? nullptr : &library.stock_item(job.stock),
                               .seed = job.heat.seed},
                              job.heat);
}

const library::StockItem& stock_for(const library::Library& library, const Job& job,
                                    const choice::Choice* choice) {
  if (!job.stock.empty()) return library.stock_item(job.stock);
  if (choice->ranking.empty()) throw nothing_qualifies(*choice, job);
  return *choice->ranking.front().stock;
}

}  // namespace warmsheet::plan
