// SPDX-License-Identifier: MIT
// One timing through the front door for the usual item of every sheet: bath, air, wait, limb until set, as
// figures.
#include <fmt/format.h>

#include <cstdio>
#include <cstdlib>
#include <sstream>

#include "bench/lines.h"
#include "heat/situation.h"

namespace warmsheet::bench {
namespace {

std::string seconds_of(const Finding& finding) {
  return finding.known() ? fmt::format("{:.3f}", finding.figure().si()) : "null";
}

void measure(const library::Library& library, const library::Sheet& sheet, int samples) {
  heat::Request request{.sheet = sheet.id};
  request.samples = samples;
  const heat::Situation situation = heat::resolve(library, request);
  const Stopwatch watch;
  const heat::Timing timing = heat::time(situation);
  fmt::print(
      "{{\"case\":\"{}\",\"samples\":{},\"seconds\":{:.5f},\"processor\":{:.5f},\"ready\":{},\"wait\":{},"
      "\"closes\":{},\"set\":{}}}\n",
      sheet.usual_item({})->key(), samples, watch.seconds(), watch.processor_seconds(),
      seconds_of(timing.ready), seconds_of(timing.wait), seconds_of(timing.closes), seconds_of(timing.set));
  std::fflush(stdout);
}

std::vector<int> samples_of(const Words& words) {
  std::vector<int> samples{0, heat::default_samples, 1000};
  if (words.size() == 2 && words[0] == "--samples") {
    samples.clear();
    std::stringstream list(words[1]);
    for (std::string one; std::getline(list, one, ',');) samples.push_back(std::stoi(one));
  }
  return samples;
}

}  // namespace

int timing_lines(const Words& words) {
  const library::Library library = library::load({});
  for (const int samples : samples_of(words))
    for (const auto& [id, sheet] : library.sheets) measure(library, sheet, samples);
  return EXIT_SUCCESS;
}

}  // namespace warmsheet::bench
