// SPDX-License-Identifier: MIT
// The only place that reads environment variables, the terminal's nature and the program's own path.
#pragma once

#include <string>
#include <vector>

#include "library/library.h"

namespace warmsheet::cli {

struct Environment {
  std::vector<library::LayerFolder> layers;  ///< found folders, first the installed one
  std::string user_folder;  ///< the user's library, whether it exists or not; empty if there is no home
  bool out_is_terminal = false;
  bool err_is_terminal = false;
  bool takes_utf8 = false;      ///< by the locale's character type
  bool color_unwanted = false;  ///< NO_COLOR set and not empty, or TERM=dumb
};

Environment read_environment();

/// A program started without standard streams must not meet a file of its own under their numbers: what is
/// said would go into it.
void keep_standard_streams_apart();

}  // namespace warmsheet::cli
