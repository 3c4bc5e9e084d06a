// SPDX-License-Identifier: MIT
// What every fuzz target may rely on. A reader may do two things with any bytes: return something sound, or
// throw a Failure that says something. Anything else ends the process, which libFuzzer and replay.cpp report.
#pragma once

#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <string_view>

#include "base/problem.h"
#include "base/text.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace warmsheet::fuzz {

/// Also in release builds, where assert is empty.
inline void require(bool kept, const char* promise) {
  if (kept) return;
  std::fprintf(stderr, "broken promise: %s\n", promise);
  std::abort();
}

inline std::string_view text_of(const std::uint8_t* data, std::size_t size) {
  return {reinterpret_cast<const char*>(data), size};
}

/// True if `read` returned. Other exceptions than Failure go through.
template <class Read>
bool reads(Read read) {
  try {
    read();
    return true;
  } catch (const Failure& failure) {
    const std::string said = failure.what();
    require(!said.empty(), "a failure says something");
    require(echo(said) == said, "a failure cannot steer a terminal");
    for (const Problem& problem : failure.problems())
      require(!problem.message.empty() && problem.place.line >= 0, "a problem has a message and a place");
    return false;
  }
}

}  // namespace warmsheet::fuzz
