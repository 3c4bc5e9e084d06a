// SPDX-License-Identifier: MIT
// Options for drawings and for the search of a layout, shared by outline, nest and plan.
#pragma once

#include "cli/arguments.h"
#include "cli/command.h"
#include "cli/session.h"
#include "nesting/nest.h"
#include "report/writers.h"

namespace warmsheet::cli {

/// The options under which a command writes a drawing.
struct DrawingOptions {
  std::string_view svg;
  std::string_view dxf;
  std::string_view pdf;
  bool of_sheets = false;  ///< not of an outline: the help says which
};
inline constexpr DrawingOptions outline_drawing{"--svg", "--dxf", "--pdf"};
inline constexpr DrawingOptions sheets_drawing{"--svg", "--dxf", "--pdf", true};
/// `plan` keeps --pdf for the whole plan.
inline constexpr DrawingOptions plan_outline_drawing{"--outline-svg", "--outline-dxf", "--outline-pdf"};

OptionGroup drawing_option_group(const DrawingOptions& options);
void deliver_drawing(const report::Drawing& drawing, const DrawingOptions& options,
                     const Arguments& arguments, Session& session);

/// --paper is for these files only.
void refuse_idle_paper(const Arguments& arguments, const std::vector<std::string_view>& pdf_options);

/// --paper: a4 unless letter was asked for.
report::Paper paper_from(const Arguments& arguments);

/// --threads; as many as the machine has if nothing is said.
int threads_from(const Arguments& arguments);
/// --seed, --passes, --threads.
OptionGroup effort_options();
nesting::Effort effort_from(const Arguments& arguments);

}  // namespace warmsheet::cli
