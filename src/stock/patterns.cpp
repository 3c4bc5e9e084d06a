// SPDX-License-Identifier: MIT
// Revised simplex on the covering problem: minimise sheets with patterns * sheets - surplus = demand. The
// basis is small (one row a kind), so it is inverted afresh at each step; new columns come from
// `best_pattern`, priced with the dual values.
#include "stock/patterns.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numeric>
#include <optional>

namespace warmsheet::stock {
namespace {

constexpr double tolerance = 1e-9;
/// Column generation ends in a few steps a kind; more than this means that rounding keeps two columns
/// changing places.
constexpr int most_steps = 5000;
/// Dives in all, and patterns tried at each fork.
constexpr int most_dives = 400;
constexpr std::size_t forks = 3;

using Vector = std::vector<double>;
using Matrix = std::vector<Vector>;

/// Gauss and Jordan with row pivoting. \pre not singular (a basis)
Matrix inverse(Matrix a) {
  const std::size_t n = a.size();
  Matrix result(n, Vector(n, 0.0));
  for (std::size_t i = 0; i < n; ++i) result[i][i] = 1.0;
  for (std::size_t column = 0; column < n; ++column) {
    std::size_t pivot = column;
    for (std::size_t row = column; row < n; ++row)
      if (std::abs(a[row][column]) > std::abs(a[pivot][column])) pivot = row;
    std::swap(a[pivot], a[column]);
    std::swap(result[pivot], result[column]);
    const double scale = 1.0 / a[column][column];
    for (std::size_t j = 0; j < n; ++j) {
      a[column][j] *= scale;
      result[column][j] *= scale;
    }
    for (std::size_t row = 0; row < n; ++row) {
      const double factor = a[row][column];
      if (row == column || factor == 0.0) continue;
      for (std::size_t j = 0; j < n; ++j) {
        a[row][j] -= factor * a[column][j];
        result[row][j] -= factor * result[column][j];
      }
    }
  }
  return result;
}

/// A basic column: a pattern that costs a sheet, or a surplus that costs nothing.
struct Column {
  Pattern pattern;
  double cost;
};

class Simplex {
 public:
  /// \pre every demand above 0
  Simplex(const std::vector<int>& demand, const BestPattern& best_pattern)
      : demand_(demand), best_pattern_(best_pattern) {
    for (std::size_t i = 0; i < demand.size(); ++i) {
      Vector worth(demand.size(), 0.0);
      worth[i] = 1.0;
      std::vector<int> most(demand.size(), 0);
      most[i] = demand[i];
      basis_.push_back({best_pattern(worth, most), 1.0});
    }
  }

  std::vector<PatternUse> solve() {
    for (int step = 0; step < most_steps; ++step) {
      invert();
      const auto entering = better_column();
      if (!entering || !exchange(*entering)) break;
    }
    invert();
    std::vector<PatternUse> uses;
    for (std::size_t i = 0; i < basis_.size(); ++i)
      if (basis_[i].cost > 0.0 && amount_[i] > tolerance) uses.push_back({basis_[i].pattern, amount_[i]});
    return uses;
  }

 private:
  [[nodiscard]] std::size_t size() const { return demand_.size(); }

  void invert() {
    Matrix matrix(size(), Vector(size()));
    for (std::size_t row = 0; row < size(); ++row)
      for (std::size_t column = 0; column < size(); ++column)
        matrix[row][column] = basis_[column].pattern[row];
    inverse_ = inverse(std::move(matrix));
    amount_.assign(size(), 0.0);
    dual_.assign(size(), 0.0);
    for (std::size_t i = 0; i < size(); ++i)
      for (std::size_t j = 0; j < size(); ++j) {
        amount_[i] += inverse_[i][j] * demand_[j];
        dual_[j] += basis_[i].cost * inverse_[i][j];
      }
  }

  /// A column whose use would save sheets; nothing at the optimum.
  [[nodiscard]] std::optional<Column> better_column() const {
    for (std::size_t i = 0; i < size(); ++i) {
      if (dual_[i] >= -tolerance) continue;
      Pattern surplus(size(), 0);
      surplus[i] = -1;
      return Column{surplus, 0.0};
    }
    Vector worth = dual_;
    for (double& w : worth) w = std::max(w, 0.0);
    Pattern pattern = best_pattern_(worth, demand_);
    double value = 0.0;
    for (std::size_t i = 0; i < size(); ++i) value += worth[i] * pattern[i];
    if (value <= 1.0 + tolerance) return std::nullopt;
    return Column{std::move(pattern), 1.0};
  }

  /// Puts it in place of the basic column that it drives to zero first; of equals the first, so that steps do
  /// not circle.
  bool exchange(const Column& entering) {
    std::optional<std::size_t> leaving;
    double least = 0.0;
    for (std::size_t i = 0; i < size(); ++i) {
      double change = 0.0;
      for (std::size_t j = 0; j < size(); ++j) change += inverse_[i][j] * entering.pattern[j];
      if (change <= tolerance) continue;
      const double ratio = amount_[i] / change;
      if (leaving && ratio >= least - tolerance) continue;
      leaving = i;
      least = ratio;
    }
    if (!leaving) return false;
    basis_[*leaving] = entering;
    return true;
  }

  const std::vector<int>& demand_;
  const BestPattern& best_pattern_;
  std::vector<Column> basis_;
  Matrix inverse_;
  Vector amount_;
  Vector dual_;
};

double total(const std::vector<PatternUse>& uses) {
  return std::accumulate(uses.begin(), uses.end(), 0.0,
                         [](double sum, const PatternUse& use) { return sum + use.sheets; });
}

int rounded_up(double sheets) {
  return static_cast<int>(std::ceil(sheets - 1e-6));
}

class Diver {
 public:
  Diver(const std::vector<int>& demand, const BestPattern& best_pattern) : best_pattern_(best_pattern) {
    best_.bound = rounded_up(total(fractional_plan(demand, best_pattern)));
    best_.sheets = std::accumulate(demand.begin(), demand.end(), 0) + 1;
    dive(demand, {});
  }
  WholePlan plan() { return std::move(best_); }

 private:
  void dive(std::vector<int> rest, std::vector<PatternUse> made) {
    if (best_.sheets == best_.bound || ++dives_ > most_dives) return;
    std::vector<PatternUse> plan = fractional_plan(rest, best_pattern_);
    while (!plan.empty()) {
      if (static_cast<int>(total(made)) + rounded_up(total(plan)) >= best_.sheets) return;
      bool any = false;
      for (const PatternUse& use : plan) {
        const double whole = std::floor(use.sheets + 1e-6);
        if (whole < 1.0) continue;
        any = true;
        take(use.pattern, whole, rest, made);
      }
      if (!any) return fork(rest, made, std::move(plan));
      plan = fractional_plan(rest, best_pattern_);
    }
    best_.uses = made;
    best_.sheets = static_cast<int>(total(made));
  }

  void fork(const std::vector<int>& rest, const std::vector<PatternUse>& made, std::vector<PatternUse> plan) {
    std::stable_sort(plan.begin(), plan.end(),
                     [](const PatternUse& a, const PatternUse& b) { return a.sheets > b.sheets; });
    for (std::size_t i = 0; i < std::min(forks, plan.size()); ++i) {
      std::vector<int> less = rest;
      std::vector<PatternUse> more = made;
      take(plan[i].pattern, 1.0, less, more);
      dive(std::move(less), std::move(more));
    }
  }

  static void take(const Pattern& pattern, double sheets, std::vector<int>& rest,
                   std::vector<PatternUse>& made) {
    for (std::size_t i = 0; i < rest.size(); ++i)
      rest[i] = std::max(0, rest[i] - static_cast<int>(sheets) * pattern[i]);
    made.push_back({pattern, sheets});
  }

  const BestPattern& best_pattern_;
  WholePlan best_{{}, 0, 0};
  int dives_ = 0;
};

}  // namespace

std::vector<PatternUse> fractional_plan(const std::vector<int>& demand, const BestPattern& best_pattern) {
  std::vector<std::size_t> asked;
  for (std::size_t i = 0; i < demand.size(); ++i)
    if (demand[i] > 0) asked.push_back(i);
  if (asked.empty()) return {};
  std::vector<int> needed;
  for (const std::size_t i : asked) needed.push_back(demand[i]);
  // Kinds that are not asked for are worth nothing and may not be cut.
  const BestPattern of_asked = [&](const std::vector<double>& worth, const std::vector<int>& most) {
    std::vector<double> full_worth(demand.size(), 0.0);
    std::vector<int> full_most(demand.size(), 0);
    for (std::size_t i = 0; i < asked.size(); ++i) {
      full_worth[asked[i]] = worth[i];
      full_most[asked[i]] = most[i];
    }
    const Pattern full = best_pattern(full_worth, full_most);
    Pattern pattern;
    for (const std::size_t i : asked) pattern.push_back(full[i]);
    return pattern;
  };
  std::vector<PatternUse> uses = Simplex(needed, of_asked).solve();
  for (PatternUse& use : uses) {
    Pattern full(demand.size(), 0);
    for (std::size_t i = 0; i < asked.size(); ++i) full[asked[i]] = use.pattern[i];
    use.pattern = std::move(full);
  }
  return uses;
}

WholePlan whole_plan(const std::vector<int>& demand, const BestPattern& best_pattern) {
  return Diver(demand, best_pattern).plan();
}

}  // namespace warmsheet::stock
