// SPDX-License-Identifier: MIT
// Writes the sample in every format into a folder, for looking at. Not part of the tests.
#include "base/file.h"
#include "report/sample.h"
#include "report/writers.h"

int main(int count, char** arguments) {
  using namespace warmsheet;
  using namespace warmsheet::report;
  const std::string folder = count > 1 ? arguments[1] : ".";
  const Document document = sample::document();
  write_file(folder + "/sample.txt", to_text(document, {.color = true}));
  write_file(folder + "/sample.json", to_json(document));
  write_file(folder + "/sample.html", to_html(document));
  write_file(folder + "/drawing.svg", to_svg(sample::drawing()));
  write_file(folder + "/sheet.svg", to_svg(sample::sheet()));
  write_file(folder + "/plot.svg", to_svg(sample::plot()));
  write_file(folder + "/drawing.pdf", to_pdf_tiles(sample::drawing(), Paper::a4));
  write_file(folder + "/sheet.pdf", to_pdf_tiles(sample::sheet(), Paper::letter));
  write_file(folder + "/sample.pdf", to_pdf(document, Paper::a4));
  write_file(folder + "/drawing.dxf", to_dxf(sample::drawing()));
  return 0;
}
