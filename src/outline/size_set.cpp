// SPDX-License-Identifier: MIT
// Sizes are points on one line in the space of the measures' logarithms: the first principal component
// (Pearson 1901) of the crowd. A person is fitted by the sizes of one stretch of that line, or by none, so
// the best set is the one that meets most stretches; that is solved exactly over a fine grid, size by size.
#include "outline/size_set.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/dimension.h"
#include "outline/population.h"

namespace warmsheet::outline {
namespace {

/// One standard error of a share is then half a percent at most.
constexpr std::size_t crowd_size = 10'000;
constexpr std::uint64_t crowd_seed = 1977;
/// From one place to the next a size changes by far less than it forgives.
constexpr std::size_t grid_size = 161;
constexpr double grid_sd = 3.2;
/// "Most people".
constexpr double most = 0.9;

/// The line that sizes lie on, in natural logarithms of mm.
struct SizeLine {
  std::vector<double> middle;
  std::vector<double> direction;  // length 1
  double sd;

  [[nodiscard]] double at_mm(std::size_t measure, double along) const {
    return std::exp(middle[measure] + along * direction[measure]);
  }
};

using Logs = std::vector<std::vector<double>>;

Logs logs_of(const Adults& adults) {
  Logs logs;
  for (std::size_t i = 0; i < adults.size(); ++i) {
    logs.push_back(adults.person(i));
    for (double& value : logs.back()) value = std::log(value);
  }
  return logs;
}

/// By power iteration on the covariance; all measures grow together, so the first component stands far out.
SizeLine size_line(const Logs& logs) {
  const std::size_t count = logs.front().size();
  const auto people = static_cast<double>(logs.size());
  SizeLine line{std::vector<double>(count, 0.0), std::vector<double>(count, 1.0), 0.0};
  for (const auto& person : logs)
    for (std::size_t k = 0; k < count; ++k) line.middle[k] += person[k] / people;
  constexpr int rounds = 60;
  for (int round = 0; round < rounds; ++round) {
    std::vector<double> next(count, 0.0);
    for (const auto& person : logs) {
      double along = 0.0;
      for (std::size_t k = 0; k < count; ++k) along += (person[k] - line.middle[k]) * line.direction[k];
      for (std::size_t k = 0; k < count; ++k) next[k] += along * (person[k] - line.middle[k]) / people;
    }
    double length = 0.0;
    for (const double value : next) length += value * value;
    line.sd = std::sqrt(std::sqrt(length));  // of a unit direction, the covariance's growth is the variance
    for (std::size_t k = 0; k < count; ++k) line.direction[k] = next[k] / std::sqrt(length);
  }
  return line;
}

double along_of(const SizeLine& line, std::size_t grid) {
  const double share = static_cast<double>(grid) / static_cast<double>(grid_size - 1);
  return grid_sd * line.sd * (2.0 * share - 1.0);
}

/// The grid places whose size fits a person; first > last if none does.
struct Stretch {
  std::size_t first;
  std::size_t last;
};

Stretch stretch_of(const std::vector<double>& person, const SizeLine& line, double fit) {
  const double slack = std::log1p(fit);
  Stretch stretch{1, 0};
  for (std::size_t grid = 0; grid < grid_size; ++grid) {
    bool fits = true;
    for (std::size_t k = 0; k < person.size() && fits; ++k)
      fits = std::abs(person[k] - line.middle[k] - along_of(line, grid) * line.direction[k]) <= slack;
    if (!fits) continue;
    if (stretch.first > stretch.last) stretch.first = grid;
    stretch.last = grid;
  }
  return stretch;
}

std::vector<Stretch> stretches(const Logs& logs, const SizeLine& line, double fit) {
  std::vector<Stretch> all;
  for (const auto& person : logs) all.push_back(stretch_of(person, line, fit));
  return all;
}

bool fits(const Stretch& stretch, std::size_t grid) {
  return stretch.first <= grid && grid <= stretch.last;
}

/// Best sets of 1, 2 ... sizes: places on the grid, ascending.
class BestSets {
 public:
  explicit BestSets(const std::vector<Stretch>& people) : gain_(grid_size) {
    for (std::size_t to = 0; to < grid_size; ++to) {
      // gain_[to][from]: people whom `to` fits and no size up to place `from` does; from = 0 stands for none.
      std::vector<double> begins(grid_size, 0.0);
      for (const Stretch& stretch : people)
        if (fits(stretch, to)) begins[stretch.first] += 1.0;
      gain_[to].assign(to + 1, 0.0);
      double sum = 0.0;
      for (std::size_t from = to + 1; from-- > 0;) {
        sum += begins[from];
        gain_[to][from] = sum;
      }
    }
  }

  /// Adds the best set of one more size than before; returns how many people it fits.
  double add_size() {
    std::vector<Best> next(grid_size);
    for (std::size_t to = 0; to < grid_size; ++to) {
      next[to] = {gain_[to][0], grid_size};
      if (!best_.empty())
        for (std::size_t from = 0; from < to; ++from)
          if (best_.back()[from].people + gain_[to][from + 1] > next[to].people)
            next[to] = {best_.back()[from].people + gain_[to][from + 1], from};
    }
    best_.push_back(std::move(next));
    return best_.back()[last_place()].people;
  }

  [[nodiscard]] std::vector<std::size_t> places() const {
    std::vector<std::size_t> found;
    std::size_t place = last_place();
    for (std::size_t k = best_.size(); k-- > 0 && place < grid_size;) {
      found.insert(found.begin(), place);
      place = best_[k][place].before;
    }
    return found;
  }

 private:
  struct Best {
    double people;
    std::size_t before;  ///< the size before this one; grid_size if there is none
  };
  [[nodiscard]] std::size_t last_place() const {
    const auto& last = best_.back();
    return static_cast<std::size_t>(
        std::max_element(last.begin(), last.end(),
                         [](const Best& a, const Best& b) { return a.people < b.people; }) -
        last.begin());
  }
  std::vector<std::vector<double>> gain_;
  std::vector<std::vector<Best>> best_;
};

double share_fitted(const std::vector<Stretch>& people, const std::vector<std::size_t>& places) {
  const auto count = std::count_if(people.begin(), people.end(), [&](const Stretch& stretch) {
    return std::any_of(places.begin(), places.end(), [&](std::size_t place) { return fits(stretch, place); });
  });
  return static_cast<double>(count) / static_cast<double>(people.size());
}

/// Each person goes to the size nearest the middle of what fits.
std::vector<double> shares_of(const std::vector<Stretch>& people, const std::vector<std::size_t>& places) {
  std::vector<double> shares(places.size(), 0.0);
  for (const Stretch& stretch : people) {
    std::size_t best = places.size();
    double nearest = 0.0;
    for (std::size_t i = 0; i < places.size(); ++i) {
      if (!fits(stretch, places[i])) continue;
      const double away =
          std::abs(2.0 * static_cast<double>(places[i]) - static_cast<double>(stretch.first + stretch.last));
      if (best < places.size() && away >= nearest) continue;
      best = i;
      nearest = away;
    }
    if (best < places.size()) shares[best] += 1.0 / static_cast<double>(people.size());
  }
  return shares;
}

std::string size_name(std::size_t index, std::size_t count) {
  static const std::vector<std::vector<std::string>> names{
      {"one size"}, {"S", "L"}, {"S", "M", "L"}, {"S", "M", "L", "XL"}, {"XS", "S", "M", "L", "XL"}};
  return count <= names.size() ? names[count - 1][index] : fmt::format("size {}", index + 1);
}

/// The crowd of one design, seen with three fits: low, middle and high.
class Fitting {
 public:
  Fitting(const library::Design& design, const Figure& fit)
      : logs_(logs_of(Adults(design.measures, crowd_size, crowd_seed))),
        line_(size_line(logs_)),
        fit_(fit),
        people_{stretches(logs_, line_, fit.low_si()), stretches(logs_, line_, fit.si()),
                stretches(logs_, line_, fit.high_si())} {}

  [[nodiscard]] const SizeLine& line() const { return line_; }
  [[nodiscard]] const std::vector<Stretch>& people() const { return people_[1]; }

  [[nodiscard]] Figure share(std::string name, const std::vector<std::size_t>& places) const {
    return figure(std::move(name),
                  {share_fitted(people_[1], places), share_fitted(people_[0], places),
                   share_fitted(people_[2], places)},
                  units::percent());
  }
  [[nodiscard]] Figure figure(std::string name, const Range& si, const Unit& unit) const {
    std::vector<Figure> basis = Adults::basis();
    basis.push_back(fit_);
    return Figure::derived(
        std::move(name), si, unit,
        fmt::format("over {} invented adults with the survey's joint distribution", crowd_size),
        std::move(basis));
  }

 private:
  Logs logs_;
  SizeLine line_;
  Figure fit_;
  std::vector<Stretch> people_[3];
};

Measures measures_at(const library::Design& design, const Fitting& fitting, const std::string& size,
                     std::size_t place) {
  Measures measures;
  for (std::size_t k = 0; k < design.measures.size(); ++k) {
    const double mm = std::round(fitting.line().at_mm(k, along_of(fitting.line(), place)));
    measures.emplace(design.measures[k],
                     Figure::derived(design.measures[k], Range::exactly(mm * m_per_mm), units::millimetre(),
                                     "of the paper size " + size, Adults::basis()));
  }
  return measures;
}

void require_known(const library::Design& design) {
  std::vector<Problem> problems;
  for (const std::string& id : design.measures)
    if (!Adults::know(id))
      problems.push_back({Trouble::data, design.place,
                          fmt::format("{} takes '{}', of which no distribution is known", design.id, id),
                          "sizes can be made only of designs whose measures are those shipped"});
  if (!problems.empty()) throw Failure(std::move(problems));
}

}  // namespace

Figure usual_fit() {
  return Figure::stated(
      "fit of a paper size", {0.12, 0.10, 0.15}, units::percent(),
      Origin{.basis = Basis::memory,
             .where = "the trough rule forgives 10 % of the girth; a larger pattern is trimmed"});
}

SizeSet size_set(const library::Design& design, const library::Library& library, int count, const Figure& fit,
                 Side side) {
  require_known(design);
  const Fitting fitting(design, fit);
  BestSets best(fitting.people());
  std::vector<std::size_t> places;
  std::vector<Figure> by_count;
  Finding for_most = Finding::absent(fmt::format("more than {} sizes would be needed", most_sizes));
  for (int k = 1; k <= most_sizes; ++k) {
    best.add_size();
    if (k == count) places = best.places();
    by_count.push_back(fitting.share(k == 1 ? "coverage of one size" : fmt::format("coverage of {} sizes", k),
                                     best.places()));
    if (!for_most.known() && by_count.back().si() >= most)
      for_most = fitting.figure("sizes for 90 % of adults", Range::exactly(k), units::one());
  }
  std::vector<std::size_t> everywhere(grid_size);
  for (std::size_t i = 0; i < grid_size; ++i) everywhere[i] = i;
  const std::vector<double> shares = shares_of(fitting.people(), places);
  std::vector<Size> sizes;
  for (std::size_t i = 0; i < places.size(); ++i) {
    const std::string name = size_name(i, places.size());
    Outline outline = draw(design, library, measures_at(design, fitting, name, places[i]), side);
    outline.name = fmt::format("{}, {}", outline.name, name);
    sizes.push_back({name, std::move(outline),
                     fitting.figure("share of " + name, Range::exactly(shares[i]), units::percent())});
  }
  return {.sizes = std::move(sizes),
          .fit = fit,
          .coverage = fitting.share("coverage", places),
          .reach = fitting.share("reach", everywhere),
          .for_most = std::move(for_most),
          .by_count = std::move(by_count)};
}

}  // namespace warmsheet::outline
