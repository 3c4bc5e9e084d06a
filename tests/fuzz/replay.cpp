// SPDX-License-Identifier: MIT
// Stands in for libFuzzer where the compiler has none: runs a target over all files of its corpora, then over
// changed copies of them. The changes come from a fixed seed, so a run can be repeated.
#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <string>
#include <vector>

#include "fuzz/target.h"

namespace {

namespace fs = std::filesystem;

constexpr int changed_copies = 60;
constexpr std::size_t most_bytes = 20'000;  // larger seeds are run as they are, not changed
constexpr std::uint64_t fixed_seed = 20260101;

std::string read(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

std::vector<fs::path> seeds_in(int count, char** names) {
  std::vector<fs::path> seeds;
  for (int i = 1; i < count; ++i) {
    if (fs::is_directory(names[i])) {
      for (const auto& entry : fs::recursive_directory_iterator(names[i]))
        if (entry.is_regular_file()) seeds.push_back(entry.path());
    } else {
      seeds.emplace_back(names[i]);
    }
  }
  std::sort(seeds.begin(), seeds.end());
  return seeds;
}

/// One of: a byte replaced, a byte taken out, a piece doubled, the rest cut off.
void change(std::string& text, std::mt19937_64& random) {
  if (text.empty()) return;
  const std::size_t at = random() % text.size();
  switch (random() % 4) {
    case 0:
      text[at] = static_cast<char>(random() % 256);
      break;
    case 1:
      text.erase(at, 1 + random() % 4);
      break;
    case 2:
      text.insert(at, text.substr(at, 1 + random() % 16));
      break;
    default:
      text.resize(at);
      break;
  }
}

void run(const std::string& text) {
  LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(text.data()), text.size());
}

}  // namespace

int main(int count, char** names) {
  const std::vector<fs::path> seeds = seeds_in(count, names);
  std::size_t runs = 0;
  std::mt19937_64 random(fixed_seed);
  for (const fs::path& seed : seeds) {
    const std::string text = read(seed);
    try {
      run(text);
      ++runs;
      for (int i = 0; i < changed_copies && text.size() <= most_bytes; ++i, ++runs) {
        std::string changed = text;
        const std::size_t changes = 1 + random() % 4;
        for (std::size_t k = 0; k < changes; ++k) change(changed, random);
        run(changed);
      }
    } catch (const std::exception& error) {
      std::fprintf(stderr, "%s: %s\n", seed.c_str(), error.what());
      return 1;
    }
  }
  std::printf("%zu seeds, %zu runs\n", seeds.size(), runs);
  return seeds.empty() ? 1 : 0;
}
