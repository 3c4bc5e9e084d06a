// SPDX-License-Identifier: MIT
#include "cli/parser.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>

#include "base/problem.h"
#include "base/text.h"
#include "cli/help.h"

namespace warmsheet::cli {
namespace {

constexpr std::string_view version_text = "warmsheet " WARMSHEET_VERSION "\n";

/// All that may stand first.
std::vector<std::string> first_words() {
  std::vector<std::string> names{"help", "completion", "--help", "--version"};
  for (const Command& command : commands()) names.emplace_back(command.name);
  return names;
}

[[noreturn]] void refuse_word(std::string_view word, const std::vector<std::string>& known,
                              std::string_view what, std::string_view help) {
  const std::string near = nearest(word, known);
  refuse_usage(
      "", fmt::format("\"{}\" is no {}", clip(word, 60), what),
      near.empty() ? fmt::format("see: {}", help) : fmt::format("did you mean {}? see: {}", near, help));
}

/// The option of `word` ("--bath" of "--bath=70"), if it is one.
std::string option_word(std::string_view word) {
  return std::string(word.substr(0, word.find('=')));
}

const Command& command_or_refuse(std::string_view name) {
  if (const Command* command = find_command(name)) return *command;
  const bool is_common = std::any_of(common_options().options.begin(), common_options().options.end(),
                                     [&](const Option& option) { return option.name == option_word(name); });
  if (is_common)
    refuse_usage("", fmt::format("{} stands before any command", clip(name, 60)),
                 fmt::format("write it after the command: warmsheet COMMAND {}", clip(name, 60)));
  refuse_word(name, first_words(), "command", "warmsheet help");
}

std::string help_about(const std::vector<std::string>& words) {
  return words.size() < 2 ? program_help() : command_help(command_or_refuse(words[1]));
}

const Option* option_of(const std::vector<Option>& options, std::string_view name) {
  const auto at =
      std::find_if(options.begin(), options.end(), [&](const Option& o) { return o.name == name; });
  return at == options.end() ? nullptr : &*at;
}

/// The library would take "--json" for the sheet of "--sheet --json", and "--json=5" as it stands.
void check_values(const Command& command, const std::vector<std::string>& words) {
  const std::vector<Option> options = options_of(command);
  const std::string help = fmt::format("see: warmsheet {} --help", command.name);
  for (std::size_t i = 0; i < words.size(); ++i) {
    const Option* option = option_of(options, option_word(words[i]));
    if (option == nullptr) continue;
    const bool in_one_word = words[i] != option->name;
    if (option->value.empty() && in_one_word) refuse_usage(option->name, "takes no value", help);
    const bool missing =
        in_one_word ? words[i].ends_with('=')
                    : i + 1 == words.size() || option_of(options, option_word(words[i + 1])) != nullptr;
    if (!option->value.empty() && missing)
      refuse_usage(option->name, fmt::format("needs {} behind it: {}", option->value, option->help), help);
  }
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
  check_values(command, words);
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
