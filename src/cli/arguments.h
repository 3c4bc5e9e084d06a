// SPDX-License-Identifier: MIT
// What was typed after a command, still as texts; quantities are read with the one parser of base/.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/figure.h"

namespace warmsheet::cli {

/// Every reader throws a Failure (usage) whose place is the option's name.
class Arguments {
 public:
  Arguments(std::map<std::string, std::vector<std::string>, std::less<>> options,
            std::vector<std::string> positionals)
      : options_(std::move(options)), positionals_(std::move(positionals)) {}

  [[nodiscard]] bool flag(std::string_view option) const { return options_.contains(option); }
  [[nodiscard]] std::optional<std::string> text_if(std::string_view option) const;
  [[nodiscard]] std::vector<std::string> texts(std::string_view option) const;
  [[nodiscard]] const std::vector<std::string>& positionals() const { return positionals_; }

  /// A figure of basis `entered`, named like the option without its dashes.
  [[nodiscard]] std::optional<Figure> figure_if(std::string_view option, Dimension dimension,
                                                std::optional<Limits> limits = std::nullopt) const;
  [[nodiscard]] std::int64_t whole(std::string_view option, std::int64_t otherwise, std::int64_t low,
                                   std::int64_t high) const;
  /// One of `allowed`, or nothing if the option was not given.
  [[nodiscard]] std::optional<std::string> choice_if(std::string_view option,
                                                     const std::vector<std::string>& allowed) const;
  [[nodiscard]] std::optional<bool> yes_no_if(std::string_view option) const;

 private:
  std::map<std::string, std::vector<std::string>, std::less<>> options_;
  std::vector<std::string> positionals_;
};

/// A figure of one option, held to its limits whatever form it was typed in.
void check_limits(std::string_view option, double si, const Unit& unit, const Limits& limits);

/// --seed; 1 if nothing is said.
std::uint64_t seed_from(const Arguments& arguments);

/// Options that have nothing to work on are refused, not passed over: `why` they cannot apply, what `next`.
void refuse_idle(const Arguments& arguments, const std::vector<std::string_view>& options,
                 const std::string& why, const std::string& next);

/// The Failure for something typed wrongly at `option`.
[[noreturn]] void refuse_usage(std::string_view option, std::string message, std::string hint = {});

}  // namespace warmsheet::cli
