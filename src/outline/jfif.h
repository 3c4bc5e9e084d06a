// SPDX-License-Identifier: MIT
// The resolution that a JPEG file states (JPEG File Interchange Format, version 1.02); the library that
// unpacks the pixels does not give it.
#pragma once

#include <string_view>

#include "outline/scan.h"

namespace warmsheet::outline {

/// What stands before the pixels; nothing of it may be there, and nothing is thrown.
Resolution stated_by_jfif(std::string_view bytes);

}  // namespace warmsheet::outline
