// SPDX-License-Identifier: MIT
#include "library/embed.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <iterator>
#include <vector>

#include "base/file.h"
#include "library/packed.h"

namespace warmsheet::library {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t bytes_per_line = 64;

std::vector<fs::path> toml_files(const fs::path& folder) {
  std::vector<fs::path> files;
  for (const auto& entry : fs::recursive_directory_iterator(folder))
    if (entry.path().extension() == ".toml") files.push_back(entry.path());
  std::sort(files.begin(), files.end());
  return files;
}

// Octal escapes have at most three digits, so what follows one cannot be taken into it.
std::string literal(std::string_view bytes) {
  std::string text;
  for (std::size_t i = 0; i < bytes.size(); ++i) {
    if (i % bytes_per_line == 0) text += i == 0 ? "\"" : "\"\n     \"";
    const char byte = bytes[i];
    const bool plain = byte >= ' ' && byte <= '~' && byte != '"' && byte != '\\' && byte != '?';
    if (plain)
      text += byte;
    else
      fmt::format_to(std::back_inserter(text), "\\{:03o}", static_cast<unsigned char>(byte));
  }
  return text + "\"";
}

}  // namespace

std::string built_in_source(const std::string& folder) {
  std::string entries;
  for (const fs::path& path : toml_files(folder)) {
    const std::string name = "materials/" + path.lexically_relative(folder).generic_string();
    const std::string bytes = pack(toml::parse(read_file(path), name));
    entries += fmt::format("    {{\"{}\", std::string_view({}, {})}},\n", name, literal(bytes), bytes.size());
  }
  return fmt::format(
      "// Generated from materials/ by src/library/embed.cpp.\n"
      "#include \"library/built_in.h\"\n\n"
      "namespace warmsheet::library {{\n\n"
      "const std::vector<BuiltInFile>& built_in_files() {{\n"
      "  static const std::vector<BuiltInFile> files{{\n{}  }};\n"
      "  return files;\n}}\n\n"
      "}}  // namespace warmsheet::library\n",
      entries);
}

}  // namespace warmsheet::library
