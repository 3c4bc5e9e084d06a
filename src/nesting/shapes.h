// SPDX-License-Identifier: MIT
// All shapes of an order, the turns they may take, and the pair fields between them.
#pragma once

#include <atomic>
#include <memory>
#include <vector>

#include "nesting/field.h"

namespace warmsheet::nesting {

/// One way to lay a shape: a form (mirrored shapes are forms of their own) at an angle.
struct Stance {
  std::size_t form = 0;
  std::size_t angle = 0;  ///< index of the angle
  double angle_deg = 0.0;
  Turn turn;
  bool flipped = false;
  Extent box;    ///< of the true outline about the form's centre
  Extent grown;  ///< of all grown parts: what may overlap with others
};

/// The pair fields, made when first asked for. Safe to ask from several threads; whoever makes one makes the
/// same.
class Fields {
 public:
  Fields(std::size_t forms, std::size_t turns) : forms_(forms), turns_(turns), made_(forms * forms * turns) {}
  Fields(const Fields&) = delete;
  Fields& operator=(const Fields&) = delete;
  ~Fields() {
    for (auto& field : made_) delete field.load();
  }

  [[nodiscard]] std::atomic<const PairField*>& at(std::size_t a, std::size_t b, std::size_t turn) {
    return made_[(a * forms_ + b) * turns_ + turn];
  }

 private:
  std::size_t forms_;
  std::size_t turns_;
  std::vector<std::atomic<const PairField*>> made_;
};

class Shapes {
 public:
  /// Forms from `first_ground` on are ground (what is not sheet): pieces meet them bare.
  Shapes(std::vector<Form> forms, std::size_t first_ground, std::vector<Stance> stances,
         const std::vector<double>& angles_deg, int cells_along);

  /// Loss between two placed stances; 0 if they are apart.
  [[nodiscard]] double loss(std::size_t stance_a, Vec at_a, std::size_t stance_b, Vec at_b) const {
    const Stance& a = stances[stance_a];
    const Stance& b = stances[stance_b];
    if (a.form > b.form) return loss(stance_b, at_b, stance_a, at_a);
    return field(a, b).loss(a.turn.back(at_b - at_a));
  }

  /// b relative to a, with a not turned. \pre a.form <= b.form
  [[nodiscard]] const PairField& field(const Stance& a, const Stance& b) const {
    const std::size_t turn = relative_[a.angle * angle_count_ + b.angle];
    const PairField* known = fields_->at(a.form, b.form, turn).load(std::memory_order_acquire);
    return known != nullptr ? *known : make(a.form, b.form, turn);
  }

  std::vector<Form> forms;
  std::vector<Stance> stances;

 private:
  const PairField& make(std::size_t a, std::size_t b, std::size_t turn) const;
  [[nodiscard]] Solid solid(std::size_t form, std::size_t beside) const;

  std::size_t first_ground_;
  std::size_t angle_count_;
  std::vector<std::size_t> relative_;  // index of the turn from one angle to another
  std::vector<Turn> turns_;
  std::unique_ptr<Fields> fields_;
  int cells_along_;
};

}  // namespace warmsheet::nesting
