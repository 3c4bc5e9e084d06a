// SPDX-License-Identifier: MIT
// What style attributes and style sheets say of a shape, as far as it decides whether and where the shape is
// drawn.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <utility>

namespace warmsheet::outline {

/// The attributes of a shape by which styles reach it.
struct SvgStyled {
  std::string_view style;
  std::string_view classes;
  std::string_view id;
};

class SvgStyles {
 public:
  /// Takes a style sheet's rules for one class or one id: drawing programs hide layers with them. Others are
  /// passed over. The text must outlive this.
  void add(std::string_view sheet);

  /// What is said of `display`, `visibility`, `transform` or `transform-origin`; empty if nothing is. A
  /// shape's own style goes before the style sheets (SVG 1.1, 6.4), and in those the later rule.
  [[nodiscard]] std::string_view property(std::string_view name, const SvgStyled& shape) const;

 private:
  std::map<std::pair<std::string, std::string>, std::string_view> said_;  // by selector and property
};

}  // namespace warmsheet::outline
