// SPDX-License-Identifier: MIT
#include "nesting/instances.h"

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <utility>

namespace warmsheet::testing {

std::optional<Instance> read_instance(const std::string& path) {
  if (!std::filesystem::exists(path)) return std::nullopt;
  const nlohmann::json file = nlohmann::json::parse(std::ifstream(path));
  Instance instance{file.at("name"), {}, strip_height_mm / file.at("strip_height").get<double>()};
  instance.order.height_mm = strip_height_mm;
  for (const auto& item : file.at("items")) {
    outline::Ring ring;
    for (const auto& point : item.at("shape").at("data"))
      ring.push_back(
          {point.at(0).get<double>() * instance.scale, point.at(1).get<double>() * instance.scale});
    nesting::Piece piece{"item " + std::to_string(item.at("id").get<int>()),
                         outline::Polygon::make(ring, {}, {}),
                         item.at("demand").get<int>(),
                         {},
                         false};
    if (item.contains("allowed_orientations")) {
      piece.rotations.angles_deg = item.at("allowed_orientations").get<std::vector<double>>();
    } else {
      piece.rotations.free = true;
    }
    instance.order.pieces.push_back(std::move(piece));
  }
  return instance;
}

double density(const Instance& instance, double length_mm) {
  double area = 0.0;
  for (const nesting::Piece& piece : instance.order.pieces) area += piece.copies * piece.shape.area_mm2();
  return area / (length_mm * instance.order.height_mm);
}

nesting::Order as_order(const Instance& instance, double length_mm) {
  const double height = instance.order.height_mm;
  nesting::Stock stock{
      "strip", outline::Polygon::make({{0, 0}, {length_mm, 0}, {length_mm, height}, {0, height}}, {}, {}), 1,
      1.0, false};
  return {instance.order.pieces, {std::move(stock)}, instance.order.spacing_mm, instance.order.margin_mm};
}

nesting::Layout as_layout(const nesting::Strip& strip) {
  nesting::Layout layout;
  layout.sheets.push_back({0, strip.length_mm, 0.0});
  layout.placements = strip.placements;
  return layout;
}

}  // namespace warmsheet::testing
