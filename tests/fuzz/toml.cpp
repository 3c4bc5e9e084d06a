// SPDX-License-Identifier: MIT
#include "base/strict_toml.h"
#include "fuzz/target.h"

using namespace warmsheet;

namespace {

void check_figure(const Figure& figure) {
  fuzz::require(figure.low_si() <= figure.si() && figure.si() <= figure.high_si(), "bounds are in order");
  const Origin& origin = *figure.origin();
  fuzz::require(origin.basis != Basis::handbook || !origin.source.empty(), "a handbook has a source");
}

/// Asks for every key in one way or another, so that each reader meets every kind of value.
void read_all(toml::Reader& reader, int depth) {
  for (const std::string& name : reader.names()) {
    switch (name.size() % 6) {
      case 0:
        check_figure(reader.figure(name, Dimension::length, Limits{0.0, 1.0}));
        break;
      case 1:
        reader.text(name);
        break;
      case 2:
        reader.choice(name, {"left", "right"});
        break;
      case 3: {
        const Finding finding = reader.finding(name, Dimension::temperature);
        fuzz::require(finding.known() || !finding.reason().empty(), "what is absent has a reason");
        break;
      }
      case 4:
        reader.texts_if(name);
        break;
      default:
        reader.whole_if(name, 0, 9);
        break;
    }
    if (depth == 0) continue;
    if (auto inner = reader.table_if(name)) read_all(*inner, depth - 1);
    for (toml::Reader& entry : reader.tables(name)) read_all(entry, depth - 1);
  }
}

void read_document(const toml::Value& document) {
  Problems problems;
  {
    toml::Reader root(document, "", problems);
    read_all(root, 3);
  }
  problems.throw_if_any();
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text = fuzz::text_of(data, size);
  // Two documents in one input, so that layers are met too.
  const std::size_t middle = std::min(text.find("\n----\n"), text.size());
  fuzz::reads([&] {
    toml::Value document = toml::parse(text.substr(0, middle), "base.toml");
    fuzz::reads([&] { read_document(document); });
    if (middle == text.size()) return;
    toml::lay_over(document, toml::parse(text.substr(middle + 6), "user.toml"));
    read_document(document);
  });
  return 0;
}
