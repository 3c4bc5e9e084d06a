// SPDX-License-Identifier: MIT
#include <utility>

#include "plan/cautions.h"
#include "report/command_reports.h"
#include "report/sections.h"

namespace warmsheet::report {
namespace {

Table constants_table(const heat::Calibration& calibration) {
  Table table{{Phrase("constant"), Phrase("library"), Phrase("your bench")}, {}};
  for (const heat::FittedConstant& constant : calibration.constants)
    table.rows.push_back({Phrase(Label(constant.name)), Phrase(constant.before),
                          constant.after.known()
                              ? Phrase(constant.after.figure())
                              : say("not determined: {}", Label(constant.after.reason()))});
  return table;
}

bool surprising(const heat::FittedConstant& constant) {
  if (!constant.after.known()) return false;
  const double after = constant.after.figure().si();
  return after < constant.before.low_si() || after > constant.before.high_si();
}

Section constants_section(const heat::Calibration& calibration) {
  Section section{
      "Constants",
      {constants_table(calibration),
       Paragraph{Phrase("These three are all that is fitted. Melting range, conductivity, the sheet's heat "
                        "capacity, air, contact and skin stay as the library has them.")}}};
  for (const heat::FittedConstant& constant : calibration.constants)
    if (surprising(constant))
      section.blocks.emplace_back(Paragraph{
          say("{} ends outside the range it had. Before you rely on it look for a slip in the notes: the "
              "sheet, its thickness, the thermometer, or a bath in another state than \"{}\".",
              Label(constant.name), Label(calibration.bath_state))});
  return section;
}

Table readings_table(const heat::Calibration& calibration) {
  Table table{
      {Phrase("note"), Phrase("reading"), Phrase("measured"), Phrase("model before"), Phrase("model after")},
      {}};
  for (const heat::Residual& r : calibration.residuals)
    table.rows.push_back({Phrase(Label(r.note)), Phrase(Label(r.what)), Phrase(r.observed), Phrase(r.before),
                          Phrase(r.after)});
  return table;
}

}  // namespace

Document calibrate_report(const heat::Calibration& calibration, const std::vector<std::string>& written,
                          LibraryStamp stamp) {
  Document document("calibrate", "Calibration of " + calibration.sheet,
                    with_standing(plan::calibration_cautions()), std::move(stamp));
  document.inputs = {{"sheet", calibration.sheet}, {"bath_state", calibration.bath_state}};
  for (const heat::FittedConstant& constant : calibration.constants)
    document.results.push_back({constant.name, constant.after});
  document.results.push_back({"misfit_before", calibration.misfit_before});
  document.results.push_back({"misfit_after", calibration.misfit_after});
  Section where{"Where it went", {}};
  Bullets files;
  for (const std::string& path : written) files.items.push_back(Phrase(Label(path)));
  if (written.empty())
    where.blocks.emplace_back(Paragraph{Phrase("Nothing was written.")});
  else
    where.blocks.emplace_back(std::move(files));
  document.sections = {
      constants_section(calibration),
      {"Readings beside the model",
       {readings_table(calibration),
        Paragraph{Phrase(
            "A misfit near one means that the model meets your readings as well as they were taken; well "
            "above one, look for a slip in the notes or time another strip.")}}},
      std::move(where)};
  return document;
}

}  // namespace warmsheet::report
