// SPDX-License-Identifier: MIT
#include "report/document.h"

#include <algorithm>
#include <stdexcept>
#include <utility>

#include "base/text.h"

namespace warmsheet::report {
namespace {

/// Gathers figures in reading order, each node once.
class Gatherer {
 public:
  void add(const Figure& figure) {
    const auto same = [&](const Figure& other) { return other.same_node(figure); };
    if (std::none_of(found_.begin(), found_.end(), same)) found_.push_back(figure);
  }
  void add(const Finding& finding) {
    if (finding.known()) add(finding.figure());
  }
  void add(const Phrase& phrase) {
    for (const Figure& figure : phrase.figures()) add(figure);
  }
  void add(const Paragraph& paragraph) { add(paragraph.text); }
  void add(const Facts& facts) {
    for (const Facts::Line& line : facts.lines) {
      add(line.label);
      std::visit([this](const auto& value) { add(value); }, line.value);
    }
  }
  void add(const Table& table) {
    for (const Phrase& cell : table.head) add(cell);
    for (const auto& row : table.rows) {
      // A figure would stand under the wrong word.
      if (row.size() != table.head.size())
        throw std::logic_error("a row has other cells than its table's head");
      for (const Phrase& cell : row) add(cell);
    }
  }
  void add(const Bullets& bullets) {
    for (const Phrase& item : bullets.items) add(item);
  }
  void add(const Steps& steps) {
    for (const Steps::Step& step : steps.steps) {
      add(step.clock);
      add(step.action);
      add(step.detail);
    }
  }
  void add(const Drawing& drawing) {
    for (const Phrase& remark : drawing.remarks) add(remark);
  }
  void add(const Sketch& sketch) { add(sketch.caption); }
  void add(const Plot& plot) {
    for (const Plot::Mark& mark : plot.marks) add(mark.at);
    for (const Plot::Span& span : plot.spans) {
      add(span.from);
      add(span.to);
    }
    add(plot.basis_note);
  }
  void add(const Record& record) {
    for (const auto& [name, value] : record.fields)
      if (const auto* finding = std::get_if<Finding>(&value)) add(*finding);
  }
  std::vector<Figure> take() { return std::move(found_); }

 private:
  std::vector<Figure> found_;
};

}  // namespace

Document::Document(std::string command, std::string title, std::vector<Caution> cautions,
                   LibraryStamp library)
    : command_(std::move(command)),
      title_(std::move(title)),
      cautions_(std::move(cautions)),
      library_(std::move(library)) {
  if (cautions_.empty()) throw std::logic_error("document " + command_ + " has no caution");
}

std::vector<Figure> Document::figures() const {
  Gatherer gatherer;
  for (const NamedFinding& result : results) gatherer.add(result.finding);
  for (const Caution& caution : cautions_) gatherer.add(caution.text);
  for (const Input& input : inputs)
    if (const auto* finding = std::get_if<Finding>(&input.value)) gatherer.add(*finding);
  for (const Section& section : sections)
    for (const Block& block : section.blocks)
      std::visit([&](const auto& part) { gatherer.add(part); }, block);
  for (const RecordArray& array : arrays)
    for (const Record& record : array.records) gatherer.add(record);
  return gatherer.take();
}

std::optional<Finding> Document::find(std::string_view name) const {
  const std::string wanted = spaced(name);
  for (const NamedFinding& result : results)
    if (spaced(result.name) == wanted) return result.finding;
  for (const Figure& figure : figures())
    if (spaced(figure.name()) == wanted) return Finding(figure);
  const auto ends_so = [&](const NamedFinding& result) {
    return spaced(result.name).ends_with("." + wanted);
  };
  const auto found = std::find_if(results.begin(), results.end(), ends_so);
  if (found == results.end() || std::any_of(found + 1, results.end(), ends_so)) return std::nullopt;
  return found->finding;
}

std::vector<Basis> Document::bases() const {
  std::vector<Basis> found;
  const std::vector<Figure> shown = figures();
  for (const Basis basis : all_bases()) {
    const auto rests_on_it = [&](const Figure& figure) { return figure.basis() == basis; };
    if (std::any_of(shown.begin(), shown.end(), rests_on_it)) found.push_back(basis);
  }
  return found;
}

}  // namespace warmsheet::report
