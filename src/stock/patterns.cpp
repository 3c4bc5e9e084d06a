// SPDX-License-Identifier: MIT
// Revised simplex on the covering problem: minimise sheets with patterns * sheets - surplus = demand. The
// basis is small (one row a kind), so it is inverted afresh at each step; new columns come from
// `best_pattern`, priced with the dual values.
#include "stock/patterns.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>

namespace warmsheet::stock {
namespace {

constexpr double tolerance = 1e-9;
/// Column generation ends in a few steps a kind; more than this means that rounding keeps two columns
/// changing places.
constexpr int most_steps = 5000;

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

}  // namespace warmsheet::stock
