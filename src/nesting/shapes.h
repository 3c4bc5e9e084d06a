// SPDX-License-Identifier: MIT
// All shapes of an order, the turns they may take, and the pair fields between them.
#pragma once

#include <atomic>
#include <cstdint>
#include <memory>
#include <vector>

#include "nesting/field.h"
#include "nesting/pose.h"

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
         const std::vector<double>& angles_deg);

  /// What a pair's loss needs of a stance, together in few bytes.
  struct Lay {
    Turn turn;
    std::uint32_t form;
    std::uint32_t angle;
  };

  /// Loss between two placed stances; 0 if they are apart.
  [[nodiscard]] double loss(std::size_t stance_a, Vec at_a, std::size_t stance_b, Vec at_b) const {
    const Lay& a = lays_[stance_a];
    const Lay& b = lays_[stance_b];
    const bool in_order = a.form <= b.form;
    const Lay& first = in_order ? a : b;
    const Lay& second = in_order ? b : a;
    const Vec apart = in_order ? at_b - at_a : at_a - at_b;
    return field(first, second).loss(first.turn.back(apart));
  }

  /// b relative to a, with a not turned. \pre a.form <= b.form
  [[nodiscard]] const PairField& field(const Lay& a, const Lay& b) const {
    const std::size_t turn = relative_[a.angle * angle_count_ + b.angle];
    const PairField* known = fields_->at(a.form, b.form, turn).load(std::memory_order_acquire);
    return known != nullptr ? *known : make(a.form, b.form, turn);
  }
  [[nodiscard]] const PairField& field(std::size_t stance_a, std::size_t stance_b) const {
    return field(lays_[stance_a], lays_[stance_b]);
  }

  /// The same for poses at any angle, without a field.
  [[nodiscard]] double loss(std::size_t stance_a, const Pose& a, std::size_t stance_b, const Pose& b,
                            Vec apart) const {
    const bool ground_a = stances[stance_a].form >= first_ground_;
    const bool ground_b = stances[stance_b].form >= first_ground_;
    return posed_loss(a, ground_b && !ground_a, b, ground_a && !ground_b, apart);
  }
  [[nodiscard]] const Pose& pose(std::size_t stance) const { return poses_[stance]; }

  std::vector<Form> forms;
  std::vector<Stance> stances;

 private:
  const PairField& make(std::size_t a, std::size_t b, std::size_t turn) const;
  [[nodiscard]] Solid solid(std::size_t form, std::size_t beside) const;

  std::vector<Lay> lays_;
  std::vector<Pose> poses_;
  std::size_t first_ground_;
  std::size_t angle_count_;
  std::vector<std::uint32_t> relative_;  // index of the turn from one angle to another
  std::vector<Turn> turns_;
  std::unique_ptr<Fields> fields_;
};

}  // namespace warmsheet::nesting
