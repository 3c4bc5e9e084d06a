// SPDX-License-Identifier: MIT
// Do these copies fit together on one sheet? Asked many times with other copies of the same pieces, so
// answers are kept.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <vector>

#include "nesting/budget.h"
#include "nesting/task.h"

namespace warmsheet::nesting {

/// A sheet and what shall lie on it.
struct Pack {
  BinUse use;
  std::vector<std::size_t> copies;
  std::vector<std::optional<Spot>> hints;  ///< where a copy lay before, if on this sheet
};

class Packer {
 public:
  Packer(const Task& task, const Shapes& shapes, const Effort& effort)
      : task_(task), shapes_(shapes), effort_(effort) {}

  /// Whether a search of at least this level has failed on such a sheet with such pieces.
  [[nodiscard]] bool hopeless(const Pack& pack, int level) const;
  /// One answer for each pack, in order: spots as in `copies`, bin 0; nothing if none were found. The search
  /// is the longer the higher the level; its answer does not depend on the number of threads. Passes are
  /// charged at `charge` for each item on the sheet.
  std::vector<std::optional<std::vector<Spot>>> pack(const std::vector<Pack>& packs, int level, double charge,
                                                     Budget& budget);

  struct Key {
    std::size_t stock;
    std::size_t pin;
    std::vector<std::size_t> pieces;  ///< sorted
    friend auto operator<=>(const Key&, const Key&) = default;
  };
  struct Answer {
    int level;
    std::vector<Spot> spots;  ///< in the order of the key's pieces; empty if none were found
  };
  [[nodiscard]] const std::map<Key, Answer>& answers() const { return known_; }
  /// Notes what was found elsewhere.
  void remember(const Pack& pack, const std::vector<Spot>& spots);

 private:
  struct Search {
    std::vector<Spot> spots;
    double passes = 0.0;
    bool stopped = false;
  };

  static Key key_of(const Task& task, const Pack& pack, std::vector<std::size_t>& order);
  [[nodiscard]] Search search(const Pack& pack, const Key& key, int level, const Budget& budget) const;
  [[nodiscard]] std::optional<std::vector<Spot>> first_spots(const Pack& pack, Random& random) const;

  const Task& task_;
  const Shapes& shapes_;
  const Effort& effort_;
  std::map<Key, Answer> known_;
};

}  // namespace warmsheet::nesting
