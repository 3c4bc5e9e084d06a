// SPDX-License-Identifier: MIT
#include "cli/arguments.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

#include "base/problem.h"
#include "base/quantity.h"
#include "base/text.h"

namespace warmsheet::cli {

void refuse_usage(std::string_view option, std::string message, std::string hint) {
  throw Failure({Trouble::usage, {std::string(option), 0, 0}, std::move(message), std::move(hint)});
}

void check_limits(std::string_view option, double si, const Unit& unit, const Limits& limits) {
  if (si >= limits.low && si <= limits.high) return;
  const auto shown = [&](double limit_si) {
    const double limit = unit.from_si(limit_si);
    return std::abs(limit) < 1e4 ? fmt::format("{:.4g} {}", limit, unit.ascii)
                                 : fmt::format("{:.0f} {}", limit, unit.ascii);
  };
  refuse_usage(option, fmt::format("{} is outside what this option takes", write_exact(si, unit)),
               fmt::format("allowed: {} to {}", shown(limits.low), shown(limits.high)));
}

std::uint64_t seed_from(const Arguments& arguments) {
  return static_cast<std::uint64_t>(arguments.whole("--seed", 1, 0, INT64_MAX));
}

void refuse_idle(const Arguments& arguments, const std::vector<std::string_view>& options,
                 const std::string& why, const std::string& next) {
  for (const std::string_view option : options)
    if (arguments.flag(option)) refuse_usage(option, why, next);
}

std::optional<std::string> Arguments::text_if(std::string_view option) const {
  const auto at = options_.find(option);
  if (at == options_.end() || at->second.empty()) return std::nullopt;
  if (at->second.size() > 1) refuse_usage(option, "was given more than once");
  return at->second.front();
}

std::vector<std::string> Arguments::texts(std::string_view option) const {
  const auto at = options_.find(option);
  return at == options_.end() ? std::vector<std::string>{} : at->second;
}

std::optional<Figure> Arguments::figure_if(std::string_view option, Dimension dimension,
                                           std::optional<Limits> limits) const {
  const auto text = text_if(option);
  if (!text) return std::nullopt;
  try {
    const Written written = parse_quantity(*text, dimension);
    if (limits) check_limits(option, written.si, *written.unit, *limits);
    return Figure::entered(std::string(option.substr(2)), Range::exactly(written.si), *written.unit,
                           Place{std::string(option), 0, 0});
  } catch (const Failure& failure) {
    const Problem& problem = failure.problems().front();
    refuse_usage(option, problem.message, problem.hint);
  }
}

std::int64_t Arguments::whole(std::string_view option, std::int64_t otherwise, std::int64_t low,
                              std::int64_t high) const {
  const auto text = text_if(option);
  if (!text) return otherwise;
  std::int64_t value = 0;
  const auto [end, error] = std::from_chars(text->data(), text->data() + text->size(), value);
  if (error != std::errc{} || end != text->data() + text->size() || value < low || value > high)
    refuse_usage(option,
                 fmt::format("\"{}\" is not a whole number from {} to {}", clip(*text, 40), low, high));
  return value;
}

std::optional<std::string> Arguments::choice_if(std::string_view option,
                                                const std::vector<std::string>& allowed) const {
  auto text = text_if(option);
  if (!text || std::find(allowed.begin(), allowed.end(), *text) != allowed.end()) return text;
  const std::string near = nearest(*text, allowed);
  refuse_usage(option, fmt::format("\"{}\" is not one of: {}", clip(*text, 40), join(allowed, ", ")),
               near.empty() ? "" : fmt::format("did you mean {}?", near));
}

std::optional<bool> Arguments::yes_no_if(std::string_view option) const {
  const auto word = choice_if(option, {"yes", "no"});
  if (!word) return std::nullopt;
  return *word == "yes";
}

}  // namespace warmsheet::cli
