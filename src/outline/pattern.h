// SPDX-License-Identifier: MIT
// A design made ready to draw: its expressions read once, then evaluated for as many people as needed.
#pragma once

#include <set>
#include <string>
#include <vector>

#include "library/library.h"
#include "outline/corners.h"
#include "outline/expression.h"

namespace warmsheet::outline {

/// A design evaluated for one set of measures, in mm, before anything is known about its validity.
struct Drawn {
  RoundedRing outer;
  std::vector<RoundedRing> holes;
  struct Strap {
    double y_mm;
    double length_mm;
  };
  std::vector<Strap> straps;
  /// Its own corners, or none and its distance from the edge.
  struct Line {
    std::vector<Corner> points;
    double inset_mm;
  };
  std::vector<Line> lines;
  Names names;  ///< measures, rules and lets with their values

  [[nodiscard]] double area_mm2() const;
  [[nodiscard]] double perimeter_mm() const;
  [[nodiscard]] Box box() const;
};

class Pattern {
 public:
  /// Throws a Failure (data) with every expression that cannot be read, and every name used twice.
  explicit Pattern(const library::Design& design);

  /// `inputs`: all measures and rules of the design. Throws a Failure (data) with the place of the
  /// expression.
  [[nodiscard]] Drawn draw(const Names& inputs) const;

  /// Every name that some expression uses.
  [[nodiscard]] std::set<std::string> used() const;
  /// Measures and rules that decide the rings, directly or through lets.
  [[nodiscard]] std::set<std::string> behind_shape() const;
  /// Measures and rules that decide the length of a strap.
  [[nodiscard]] std::set<std::string> behind_strap(std::size_t index) const;
  /// Measures and rules that decide where a line lies, besides those behind the shape.
  [[nodiscard]] std::set<std::string> behind_line(std::size_t index) const;

 private:
  struct Vertex {
    Expression x;
    Expression y;
    Expression radius;
  };
  struct Ellipse {
    Expression x;
    Expression y;
    Expression rx;
    Expression ry;
  };
  struct RingRecipe {
    std::vector<Vertex> vertices;  // or
    std::vector<Ellipse> ellipse;  // one
    [[nodiscard]] std::vector<const Expression*> parts() const;
  };
  struct Let {
    std::string id;
    Expression is;
  };
  struct Strap {
    Expression at_y;
    Expression length;
  };

  struct Line {
    std::vector<Vertex> points;     // or
    std::vector<Expression> inset;  // one
  };

  void read_lets(const library::Design& design, Problems& problems);
  static RingRecipe read_ring(const library::DesignRing& ring, Problems& problems);
  static RoundedRing draw_ring(const RingRecipe& recipe, const Names& names);
  void read_straps(const library::Design& design, Problems& problems);
  void read_lines(const library::Design& design, Problems& problems);
  static std::vector<Vertex> read_vertices(const std::vector<library::DesignVertex>& given,
                                           std::string_view of, Problems& problems);
  static std::vector<Corner> draw_vertices(const std::vector<Vertex>& vertices, const Names& names);
  [[nodiscard]] std::set<std::string> resolved(const std::set<std::string>& names) const;

  std::vector<Let> lets_;
  RingRecipe outer_;
  std::vector<RingRecipe> holes_;
  std::vector<Strap> straps_;
  std::vector<Line> lines_;
};

}  // namespace warmsheet::outline
