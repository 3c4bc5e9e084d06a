// SPDX-License-Identifier: MIT
// A warning that belongs to a result. Cautions are part of every document and no option drops them.
#pragma once

#include <string_view>

#include "base/phrase.h"

namespace warmsheet {

struct Caution {
  std::string_view id;  ///< stable, in JSON too: "bath-scald". A literal, or of a library that outlives it
  Phrase text;
};

}  // namespace warmsheet
