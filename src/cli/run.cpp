// SPDX-License-Identifier: MIT
#include "cli/run.h"

#include <exception>

#include "base/problem.h"
#include "cli/completion.h"
#include "cli/parser.h"
#include "cli/session.h"

namespace warmsheet::cli {
namespace {

/// Internal faults are ours, not the user's data; sysexits' EX_SOFTWARE keeps them apart from the documented
/// codes.
constexpr int internal_fault = 70;

/// What only adds to a text that is not printed.
void refuse_idle_text(const Arguments& arguments) {
  if (!arguments.flag("--json") && !arguments.flag("--quiet")) return;
  refuse_idle(arguments, {"--draw"}, "adds to the whole text, which --json and --quiet do not print",
              "leave one of the two out");
  if (!arguments.flag("--html") && !arguments.flag("--pdf"))
    refuse_idle(arguments, {"--explain"}, "adds to the whole text, which --json and --quiet do not print",
                "leave one of the two out");
}

int answer(const std::vector<std::string>& words, const Environment& environment, std::ostream& out,
           std::ostream& err) {
  if (!words.empty() && words.front() == "completion") {
    out << completion_text({words.begin() + 1, words.end()}, environment);
    return 0;
  }
  const Parsed parsed = parse_command_line(words);
  if (parsed.command == nullptr) {
    out << parsed.text;
    return 0;
  }
  refuse_idle_text(parsed.arguments);
  Session session(environment, out, err);
  return parsed.command->run(parsed.arguments, session);
}

}  // namespace

int run(const std::vector<std::string>& words, const Environment& environment, std::ostream& out,
        std::ostream& err) {
  int code = 0;
  try {
    code = answer(words, environment, out, err);
  } catch (const Failure& failure) {
    for (const Problem& problem : failure.problems()) err << "warmsheet: " << problem.text() << "\n";
    return exit_code(failure.trouble());
  } catch (const std::exception& fault) {
    err << "warmsheet: internal fault: " << fault.what()
        << "\n  please report it with the command you typed\n";
    return internal_fault;
  }
  out.flush();
  if (out) return code;
  err << "warmsheet: standard output: the result could not be written whole\n"
         "  is the disk full, or the stream closed?\n";
  return exit_code(Trouble::write);
}

}  // namespace warmsheet::cli
