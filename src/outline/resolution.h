// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "outline/scan.h"

namespace warmsheet::outline {

/// How wide a pixel of a scan is: as `options` say, else as the file states. Throws a Failure (data) with
/// what to give instead: neither says it, the file says what no scanner has, or what programs and cameras
/// write that do not know.
Length pixel_of(const Resolution& stated, const std::string& file, const ReadOptions& options);

}  // namespace warmsheet::outline
