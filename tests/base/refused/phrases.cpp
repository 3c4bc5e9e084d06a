// SPDX-License-Identifier: MIT
// Compiled by ctest: CASE 0 must compile, every other case must not.
#include "base/phrase.h"

warmsheet::Phrase sentence(const warmsheet::Figure& wait, const char* text);

warmsheet::Phrase sentence(const warmsheet::Figure& wait, [[maybe_unused]] const char* text) {
  using warmsheet::say;
  [[maybe_unused]] const char built[] = {'n', 'o', text[0], '\0'};
#if CASE == 0
  return say("Wait {} and {}.", wait, say("then {}", wait));
#elif CASE == 1  // a place too many
  return say("Wait {} and {}.", wait);
#elif CASE == 2  // an argument too many
  return say("Wait {}.", wait, wait);
#elif CASE == 3  // a text made at run time, which may hold a number
  return say(built);
#elif CASE == 4  // the same, as a phrase
  return warmsheet::Phrase(built);
#elif CASE == 5  // a number without a basis
  return say("Wait {}.", wait.value());
#endif
}
