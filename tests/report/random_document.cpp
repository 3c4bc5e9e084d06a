// SPDX-License-Identifier: MIT
#include "report/random_document.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace warmsheet::report::sample {
namespace {

class Maker {
 public:
  explicit Maker(std::mt19937& random) : random_(random) {}

  std::size_t below(std::size_t count) {
    return std::uniform_int_distribution<std::size_t>(0, count - 1)(random_);
  }
  bool coin() { return below(2) == 0; }
  double between(double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random_);
  }

  std::string word() {
    static const std::array<std::string, 12> words{
        "wrist",
        "a",
        "palm & thumb",
        "<b>",
        "Über-Größe",
        "\x1b[31mred\x1b[0m",
        "\xc3(",
        "line\nbreak",
        "",
        "naïve — dash",
        std::string(90, 'w'),
        "/home/bench/a/very/long/path/that/has/no/space/in/it/anywhere/at/all/sheet.toml"};
    return words.at(below(words.size()));
  }

  std::string text() {
    std::string text;
    for (std::size_t i = below(14); i > 0; --i) text += word() + " ";
    return text;
  }

  Figure figure();

  Phrase phrase() {
    switch (below(5)) {
      case 0:
        return Phrase();
      case 1:
        return Phrase(figure());
      case 2:
        return say("({}), then {}; {}", figure(), Label(text()), figure());
      default:
        return Phrase(Label(text()));
    }
  }

  Finding finding() { return coin() ? Finding(figure()) : Finding::absent("because " + text()); }

  std::vector<Phrase> phrases(std::size_t count) {
    std::vector<Phrase> list;
    for (std::size_t i = 0; i < count; ++i) list.push_back(phrase());
    return list;
  }

  Block block() {
    switch (below(5)) {
      case 0:
        return Paragraph{phrase()};
      case 1:
        return facts();
      case 2:
        return table();
      case 3:
        return Bullets{phrases(below(4))};
      default:
        return steps();
    }
  }

  Facts facts() {
    Facts facts;
    for (std::size_t i = below(4); i > 0; --i) {
      if (coin())
        facts.lines.push_back({phrase(), phrase()});
      else
        facts.lines.push_back({phrase(), finding()});
    }
    return facts;
  }

  Table table() {
    const std::size_t columns = 1 + below(6);
    Table table;
    table.head = phrases(columns);
    for (std::size_t i = below(5); i > 0; --i) {
      table.rows.push_back(phrases(columns));
    }
    return table;
  }

  Steps steps() {
    Steps steps;
    for (std::size_t i = below(12); i > 0; --i) steps.steps.push_back({phrase(), phrase(), phrase()});
    return steps;
  }

 private:
  std::mt19937& random_;
};

Figure Maker::figure() {
  const auto dimension = static_cast<Dimension>(below(static_cast<std::size_t>(Dimension::ratio) + 1));
  const std::vector<const Unit*> units = units_of(dimension);
  const Unit& unit = *units.at(below(units.size()));
  const PhysicalBounds bounds = physical_bounds(dimension);
  const auto within = [&](double si) { return std::clamp(si, bounds.low, bounds.high); };
  const double sign = bounds.low < 0.0 && coin() ? -1.0 : 1.0;
  const double value = within(sign * std::pow(10.0, between(-12.0, 9.0)));
  const double spread = coin() ? 0.0 : std::abs(value) * std::pow(10.0, between(-6.0, 1.0));
  const Range range{value, within(value - spread * between(0.0, 1.0)), within(value + spread)};
  const Basis basis = all_bases().at(below(all_bases().size()));
  Figure stated = Figure::stated(
      text(), range, unit,
      {.basis = basis, .source = basis == Basis::handbook || coin() ? "key " + word() : "", .where = text()});
  if (coin()) return stated;
  return Figure::derived(text(), range, unit, text(), {stated, Figure::entered(word(), range, unit)});
}

}  // namespace

Figure random_figure(std::mt19937& random) {
  return Maker(random).figure();
}

Document random_document(std::uint32_t seed) {
  std::mt19937 random(seed);
  Maker make(random);
  std::vector<Caution> cautions;
  for (std::size_t i = 1 + make.below(4); i > 0; --i) cautions.push_back({"some-caution", make.phrase()});
  Document document("outline", make.text(), std::move(cautions), {{make.word(), make.word()}, make.word()});
  document.answer_is_no = make.coin();
  for (std::size_t i = make.below(5); i > 0; --i)
    document.results.push_back({"result_" + std::to_string(i) + make.word(), make.finding()});
  for (std::size_t i = make.below(4); i > 0; --i) {
    const std::string name = "input_" + std::to_string(i);
    if (make.coin())
      document.inputs.push_back({name, make.text()});
    else
      document.inputs.push_back({name, make.finding()});
  }
  for (std::size_t i = make.below(4); i > 0; --i) {
    Section section{make.text(), {}};
    for (std::size_t block = make.below(4); block > 0; --block) section.blocks.push_back(make.block());
    document.sections.push_back(std::move(section));
  }
  return document;
}

}  // namespace warmsheet::report::sample
