// SPDX-License-Identifier: MIT
#include "cli/help.h"

#include <fmt/format.h>

#include "base/text.h"

namespace warmsheet::cli {
namespace {

constexpr std::size_t help_width = 80;

std::string paragraph(std::string_view text, std::size_t indent) {
  std::string lines;
  for (const std::string& line : wrap(text, help_width - indent))
    lines += std::string(indent, ' ') + line + "\n";
  return lines;
}

/// "  --bath TEMPERATURE      help, wrapped under itself"
std::string help_row(std::string_view left, std::string_view help) {
  constexpr std::size_t column = 28;
  std::string row = fmt::format("  {}", left);
  const auto lines = wrap(help, help_width - column);
  if (row.size() + 2 > column)
    row += "\n" + std::string(column, ' ');
  else
    row += std::string(column - row.size(), ' ');
  for (std::size_t i = 0; i < lines.size(); ++i)
    row += (i == 0 ? "" : std::string(column, ' ')) + lines[i] + "\n";
  return row;
}

/// A long example goes on after a backslash, so that it can be copied as it stands.
std::string example_lines(std::string_view example) {
  constexpr std::size_t room = help_width - 8;
  return "  " + join(wrap(example, room), " \\\n      ") + "\n";
}

std::string option_left(const Option& option) {
  return option.value.empty() ? std::string(option.name) : fmt::format("{} {}", option.name, option.value);
}

}  // namespace

std::string program_help() {
  std::string text =
      "warmsheet plans custom orthoses from low-temperature thermoplastic sheet:\n"
      "material, outline, cut list, water-bath and working times, cost, cautions.\n\n"
      "Examples:\n"
      "  warmsheet plan examples/wrist/job.toml --html plan.html\n"
      "  warmsheet timing --sheet elastic-clear --thickness \"1/8 in\" --bath \"70 C\"\n"
      "  warmsheet sheets\n\n"
      "Commands:\n";
  for (const Command& command : commands()) text += help_row(command.name, command.summary);
  text +=
      "\n  warmsheet COMMAND --help    what a command takes, with examples\n"
      "  warmsheet completion SHELL  completion for bash, zsh or fish\n"
      "  warmsheet --version\n\n";
  text += paragraph(worth_text, 0) + "\n" + paragraph(fmt::format("Exit codes: {}", exit_code_text), 0);
  return text;
}

std::string command_help(const Command& command) {
  std::string text = fmt::format("warmsheet {}{}{} [OPTIONS]\n\nExamples:\n", command.name,
                                 command.positional.empty() ? "" : " ", command.positional);
  for (const std::string_view example : command.examples) text += example_lines(example);
  text += "\n" + paragraph(command.about, 0);
  if (!command.positional.empty()) text += "\n" + help_row(command.positional, command.positional_help);
  for (const OptionGroup& group : command.groups) {
    text += fmt::format("\n{}:\n", group.title);
    for (const Option& option : group.options) text += help_row(option_left(option), option.help);
  }
  text += fmt::format("\n{}:\n", common_options().title);
  for (const Option& option : common_options().options) text += help_row(option_left(option), option.help);
  return text;
}

}  // namespace warmsheet::cli
