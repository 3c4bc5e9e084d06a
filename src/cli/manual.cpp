// SPDX-License-Identifier: MIT
#include "cli/manual.h"

#include <fmt/format.h>

#include <string_view>

#include "base/text.h"
#include "cli/command.h"
#include "cli/help.h"
#include "plan/cautions.h"

namespace warmsheet::cli {
namespace {

/// man(7) reads a backslash, and a dot or quote at a line's start, as orders; a plain '-' may become a hyphen
/// that cannot be copied back to a command line.
std::string escaped(std::string_view text) {
  std::string safe;
  for (const char c : text) {
    if (c == '\\')
      safe += "\\e";
    else if (c == '-')
      safe += "\\-";
    else
      safe += c;
  }
  const bool is_order = !safe.empty() && (safe.front() == '.' || safe.front() == '\'');
  return is_order ? "\\&" + safe : safe;
}

std::string paragraph(std::string_view text) {
  std::string lines;
  constexpr std::size_t source_width = 80;
  for (const std::string& line : wrap(text, source_width)) lines += escaped(line) + "\n";
  return lines;
}

std::string head(std::string_view name, std::string_view summary) {
  return fmt::format(
      ".\\\" Made from the program's command table; do not edit.\n"
      ".TH {} 1 \"{}\" \"warmsheet {}\" \"warmsheet manual\"\n.SH NAME\n{} \\- {}\n",
      escaped(name), WARMSHEET_RELEASED, WARMSHEET_VERSION, escaped(name), escaped(summary));
}

std::string item(std::string_view name, std::string_view value, std::string_view says) {
  const std::string shown = value.empty() ? "" : fmt::format(" \\fI{}\\fR", escaped(value));
  return fmt::format(".TP\n\\fB{}\\fR{}\n{}", escaped(name), shown, paragraph(says));
}

std::string group_items(const OptionGroup& group) {
  std::string text = fmt::format(".SS {}\n", escaped(group.title));
  for (const Option& option : group.options) text += item(option.name, option.value, option.help);
  return text;
}

std::string examples(const std::vector<std::string_view>& lines) {
  std::string text = ".SH EXAMPLES\n.nf\n";
  for (const std::string_view line : lines) text += escaped(line) + "\n";
  return text + ".fi\n";
}

/// The cautions without figures: those that stand on every document.
std::string cautions() {
  const std::vector<Caution> all = plan::standing_cautions();
  std::string text = ".SH CAUTIONS\n";
  for (const Caution& caution : all) {
    if (&caution != &all.front()) text += ".PP\n";
    for (const Phrase::Part& part : caution.text.parts())
      if (const auto* words = std::get_if<std::string>(&part)) text += paragraph(*words);
  }
  return text;
}

std::string ending(std::string_view see_also) {
  return fmt::format(".SH EXIT STATUS\n{}{}.SH SEE ALSO\n{}", paragraph(exit_code_text), cautions(),
                     see_also);
}

std::string page_of(const Command& command) {
  const std::string name = fmt::format("warmsheet-{}", command.name);
  std::string text = head(name, command.summary);
  text += fmt::format(".SH SYNOPSIS\n\\fBwarmsheet {}\\fR", escaped(command.name));
  if (!command.positional.empty()) text += fmt::format(" \\fI{}\\fR", escaped(command.positional));
  text += " [\\fIOPTIONS\\fR]\n.SH DESCRIPTION\n" + paragraph(command.about);
  if (!command.positional.empty()) text += item(command.positional, "", command.positional_help);
  text += ".SH OPTIONS\n";
  for (const OptionGroup& group : command.groups) text += group_items(group);
  text += group_items(common_options());
  return text + examples(command.examples) + ending("\\fBwarmsheet\\fR(1)\n");
}

struct Row {
  std::string_view name;
  std::string_view says;
};

std::string rows(std::string_view title, const std::vector<Row>& all) {
  std::string text = fmt::format(".SH {}\n", title);
  for (const Row& row : all) text += item(row.name, "", row.says);
  return text;
}

std::string program_page() {
  std::string text = head("warmsheet", "plan custom orthoses from low-temperature thermoplastic sheet");
  text +=
      ".SH SYNOPSIS\n\\fBwarmsheet\\fR \\fICOMMAND\\fR [\\fIOPTIONS\\fR]\n.SH DESCRIPTION\n"
      "Material, outline, cut list, water\\-bath and working times, cost, cautions.\n" +
      paragraph(worth_text);
  text += ".SH COMMANDS\n";
  std::string see_also;
  for (const Command& command : commands()) {
    text += item(command.name, "", command.summary);
    see_also +=
        fmt::format("{}\\fBwarmsheet\\-{}\\fR(1)", see_also.empty() ? "" : ",\n", escaped(command.name));
  }
  text += item("help", "COMMAND", "what a command takes");
  text += item("completion", "bash|zsh|fish", "completion for a shell, on standard output");
  text += rows("ENVIRONMENT",
               {{"WARMSHEET_LIBRARY", "a library folder laid over the installed one and the user's own"},
                {"XDG_DATA_HOME, HOME",
                 "where the user's own library is: warmsheet/materials in the first, or "
                 ".local/share/warmsheet/materials in the second"},
                {"NO_COLOR, TERM", "no colour if the first is set and not empty, or the second is dumb"}});
  text +=
      rows("FILES", {{"../share/warmsheet/materials", "beside the program's folder: the installed library"},
                     {"../share/warmsheet/schemas", "JSON schemas of what --json prints"},
                     {"~/.local/share/warmsheet/materials", "your own library"}});
  return text + ending(see_also + "\n");
}

}  // namespace

std::vector<ManualPage> manual_pages() {
  std::vector<ManualPage> pages{{"warmsheet.1", program_page()}};
  for (const Command& command : commands())
    pages.push_back({fmt::format("warmsheet-{}.1", command.name), page_of(command)});
  return pages;
}

}  // namespace warmsheet::cli
