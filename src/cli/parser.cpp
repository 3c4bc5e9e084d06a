// SPDX-License-Identifier: MIT
#include "cli/parser.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>

#include "base/problem.h"
#include "base/text.h"

namespace warmsheet::cli {
namespace {

constexpr std::size_t help_width = 80;
constexpr std::string_view version_text = "warmsheet " WARMSHEET_VERSION "\n";

std::vector<std::string> command_names() {
  std::vector<std::string> names;
  for (const Command& command : commands()) names.emplace_back(command.name);
  return names;
}

std::vector<Option> options_of(const Command& command) {
  std::vector<Option> options;
  for (const OptionGroup& group : command.groups)
    options.insert(options.end(), group.options.begin(), group.options.end());
  options.insert(options.end(), common_options().options.begin(), common_options().options.end());
  return options;
}

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

[[noreturn]] void refuse_word(std::string_view word, const std::vector<std::string>& known,
                              std::string_view what, std::string_view help) {
  const std::string near = nearest(word, known);
  refuse_usage(
      "", fmt::format("\"{}\" is no {}", clip(word, 60), what),
      near.empty() ? fmt::format("see: {}", help) : fmt::format("did you mean {}? see: {}", near, help));
}

const Command* find_command(std::string_view name) {
  for (const Command& command : commands())
    if (command.name == name) return &command;
  return nullptr;
}

const Command& command_or_refuse(std::string_view name) {
  if (const Command* command = find_command(name)) return *command;
  refuse_word(name, command_names(), "command", "warmsheet help");
}

std::string help_about(const std::vector<std::string>& words) {
  return words.size() < 2 ? program_help() : command_help(command_or_refuse(words[1]));
}

/// The option of `word` ("--bath" of "--bath=70"), if it is one.
std::string option_word(const std::string& word) {
  return word.substr(0, word.find('='));
}

[[noreturn]] void explain(const CLI::ParseError& error, const Command& command, const CLI::App& app,
                          const std::vector<std::string>& words) {
  const std::string help = fmt::format("warmsheet {} --help", command.name);
  std::vector<std::string> known{"--help"};
  for (const Option& option : options_of(command)) known.emplace_back(option.name);
  for (const std::string& word : words) {
    const std::string name = option_word(word);
    const bool is_option = name.size() > 1 && name.front() == '-' && !is_digit(name[1]);
    if (is_option && std::find(known.begin(), known.end(), name) == known.end())
      refuse_word(name, known, fmt::format("option of {}", command.name), help);
  }
  const std::vector<std::string> left = app.remaining(true);
  if (!left.empty())
    refuse_usage("", fmt::format("\"{}\" was not expected", clip(left.front(), 60)), "see: " + help);
  refuse_usage("", error.what(), "see: " + help);
}

Arguments collect(const Command& command, const std::vector<std::string>& words) {
  CLI::App app;
  app.set_help_flag();
  std::map<std::string, std::vector<std::string>, std::less<>> values;
  std::vector<std::string> positionals;
  std::vector<std::pair<CLI::Option*, std::string>> added;
  for (const Option& option : options_of(command)) {
    const std::string name(option.name);
    CLI::Option* handle =
        option.value.empty() ? app.add_flag(name) : app.add_option(name, values[name])->expected(1);
    if (!option.value.empty()) handle->take_all()->allow_extra_args(false);
    added.emplace_back(handle, name);
  }
  if (!command.positional.empty()) app.add_option("positional", positionals);

  std::vector<std::string> reversed(words.rbegin(), words.rend());
  try {
    app.parse(reversed);
  } catch (const CLI::ParseError& error) {
    explain(error, command, app, words);
  }
  std::map<std::string, std::vector<std::string>, std::less<>> given;
  for (const auto& [handle, name] : added)
    if (handle->count() > 0) given.emplace(name, std::move(values[name]));
  if (command.positional_required && positionals.empty())
    refuse_usage("", fmt::format("{} is missing: {}", command.positional, command.positional_help),
                 fmt::format("see: warmsheet {} --help", command.name));
  return {std::move(given), std::move(positionals)};
}

bool asks_for_help(const std::vector<std::string>& words) {
  return std::any_of(words.begin(), words.end(),
                     [](const std::string& w) { return w == "--help" || w == "-h"; });
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
      "  warmsheet --version\n\n"
      "Every figure is marked with where it comes from. It is an estimate that\n"
      "supports, and never replaces, the prescription, your own hand test and licensed\n"
      "practice.\n\n"
      "Exit codes: 0 done; 1 the answer is no (no fit, no safe window); 2 usage;\n"
      "3 bad data; 4 could not write.\n";
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

Parsed parse_command_line(const std::vector<std::string>& words) {
  Parsed parsed;
  const std::string first = words.empty() ? "help" : words.front();
  if (first == "help" || first == "--help" || first == "-h") {
    parsed.text = help_about(words);
    return parsed;
  }
  if (first == "--version" || first == "version") {
    parsed.text = version_text;
    return parsed;
  }
  const Command& command = command_or_refuse(first);
  const std::vector<std::string> rest(words.begin() + 1, words.end());
  if (asks_for_help(rest)) {
    parsed.text = command_help(command);
    return parsed;
  }
  parsed.command = &command;
  parsed.arguments = collect(command, rest);
  return parsed;
}

}  // namespace warmsheet::cli
