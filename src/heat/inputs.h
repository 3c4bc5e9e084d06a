// SPDX-License-Identifier: MIT
// The figures of a situation, each with its place in a case: the one list that says what a timing depends on.
#pragma once

#include <functional>
#include <vector>

#include "heat/case.h"
#include "heat/timing.h"

namespace warmsheet::heat {

/// Which results an input bears on.
enum class Part : unsigned {
  heating = 1,
  after_bath = 2,
  drop = 4,
  scald = 8,
  edge = 16,
  palm = 32,
  setting = 64
};

struct Input {
  Figure figure;
  unsigned parts;  ///< sum of Part
  std::function<void(Case&, double si)> put;
};

class Inputs {
 public:
  explicit Inputs(const Situation& situation);

  [[nodiscard]] const std::vector<Input>& all() const { return inputs_; }
  /// Those with low < high: what a draw varies.
  [[nodiscard]] std::vector<const Input*> varying() const;
  /// Figures that bear on any of these parts (a sum of Part).
  [[nodiscard]] std::vector<Figure> figures(unsigned parts) const;

  [[nodiscard]] Case central() const;
  /// The central case with these values for `varying()`, in its order.
  [[nodiscard]] Case drawn(const std::vector<const Input*>& varying, const std::vector<double>& values) const;

 private:
  void add(const Figure& figure, unsigned parts, std::function<void(Case&, double)> put);
  void add_sheet(const Situation& situation);
  void add_bath(const Situation& situation);
  void add_air(const Situation& situation);
  void add_limb(const Situation& situation);
  void add_skin(const Situation& situation, const library::SkinKind& kind, unsigned parts,
                Tissue& (*of)(Case&));

  Case frame_{};  // what no figure sets
  std::vector<Input> inputs_;
};

constexpr unsigned operator|(Part a, Part b) {
  return static_cast<unsigned>(a) | static_cast<unsigned>(b);
}
constexpr unsigned operator|(unsigned a, Part b) {
  return a | static_cast<unsigned>(b);
}

}  // namespace warmsheet::heat
