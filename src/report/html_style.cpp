// SPDX-License-Identifier: MIT
// Written for paper first: people take the page to the bench. Margins of 10 mm leave 190 mm on A4, and on
// Letter too.
#include "report/html_style.h"

#include "report/palette.h"

namespace warmsheet::report {
namespace {

/// "$ink" and the like stand for colours of the palette.
constexpr std::string_view sheet = R"(
@page { margin: 10mm }
* { box-sizing: border-box }
html { background: $paper; color: $ink }
body { max-width: 190mm; margin: 0 auto; padding: 6mm 0 12mm; font: 10.5pt/1.45 system-ui, sans-serif;
  overflow-wrap: anywhere }
h1 { margin: 0 0 4mm; font-size: 19pt; line-height: 1.2; letter-spacing: -.01em; color: $heading }
h2 { margin: 8mm 0 2.5mm; padding-top: 1.5mm; border-top: .6mm solid $heading; font-size: 13pt; color: $heading;
  break-after: avoid }
p, ul, ol, dl, table, figure { margin: 0 0 3.5mm }
li { margin-bottom: 1mm }
.cautions { margin: 0 0 6mm; padding: 3mm 4mm 2mm; border: .7mm solid $caution_edge; border-left-width: 3.5mm;
  background: $caution_panel }
.cautions h2 { margin: 0 0 1.5mm; padding: 0; border: 0; color: $caution_edge }
.cautions ul { margin: 0; padding-left: 5mm }
.answer { font-weight: 700; font-size: 12.5pt }
.figure b { font-weight: 650; white-space: nowrap }
.range { font-weight: 400; color: $quiet_ink }
.mark { font: 700 .78em ui-monospace, monospace; text-decoration: none; white-space: nowrap; color: $quiet_ink }
.absent { font-style: italic }
dl.pairs > div { display: grid; grid-template-columns: 56mm 1fr; padding: .7mm 0; break-inside: avoid;
  border-bottom: .15mm solid $hairline }
dt { padding-right: 4mm; color: $quiet_ink }
dd { margin: 0 }
dl.results dd { font-size: 11.5pt }
dl.inputs { columns: 2; column-gap: 9mm }
dl.inputs > div { grid-template-columns: 26mm 1fr }
dl.legend { font-size: 9.5pt }
dl.legend > div { grid-template-columns: 32mm 1fr }
table { width: 100%; border-collapse: collapse; font-size: 9.8pt }
thead { display: table-header-group; break-inside: avoid }
th, td { padding: 1.1mm 3mm 1.1mm 0; text-align: left; vertical-align: top; border-bottom: .15mm solid $hairline }
thead th { border-bottom: .4mm solid $ink; font-weight: 650; vertical-align: bottom }
tbody th { min-width: 12mm; font-weight: 650 }
.number { text-align: right; padding-right: 4mm }
thead th, .number { overflow-wrap: normal }
dl.row > div:first-child dd { font-weight: 650 }
.steps { list-style: none; padding: 0; counter-reset: step }
.steps > li, .columns { display: grid; grid-template-columns: 8mm 42mm 1fr 33mm; column-gap: 3mm }
.steps > li { counter-increment: step; margin: 0; padding: 2mm 0; border-bottom: .15mm solid $hairline }
.steps > li::before { content: counter(step); font-weight: 700; font-size: 13pt; line-height: 1.15; text-align: right;
  color: $heading }
.columns { font-size: 9pt; color: $quiet_ink; border-bottom: .4mm solid $ink; padding-bottom: .8mm;
  break-after: avoid }
.action { font-weight: 650 }
.detail { color: $ink }
.own { align-self: start; height: 9mm; border: .3mm solid $ink; border-radius: 1mm; display: flex;
  align-items: flex-end; justify-content: space-around; padding: 0 1mm .6mm 8mm; font-size: 8pt; color: $quiet_ink }
figure { break-inside: avoid }
figure svg { display: block }
.sketch { display: inline-block; width: 56mm; margin-right: 4mm; vertical-align: top }
figcaption { margin-top: 1.5mm; font-size: 9.5pt; color: $quiet_ink }
figcaption b { color: $ink }
footer { margin-top: 6mm; padding-top: 2mm; border-top: .15mm solid $rule; font-size: 9pt; color: $quiet_ink }
tr, .steps > li, .cautions li { break-inside: avoid }
@media screen {
  body { padding: 8mm 4mm 16mm; max-width: 198mm }
  figure svg { max-width: 100%; height: auto }
}
@media screen and (max-width: 150mm) {
  .columns { display: none }
  .steps > li { grid-template-columns: 8mm 1fr }
  .steps > li > * { grid-column: 2 }
  .own { width: 33mm; margin-top: 1.5mm }
  dl.inputs { columns: 1 }
  dl.pairs > div { display: block }
}
@media print {
  body { padding: 0; max-width: none }
}
)";

struct Named {
  std::string_view name;
  Colour colour;
};
// Longer names before their own beginnings.
constexpr std::array names{
    Named{"$caution_panel", palette::caution_panel},
    Named{"$caution_edge", palette::caution_edge},
    Named{"$quiet_ink", palette::quiet_ink},
    Named{"$heading", palette::heading},
    Named{"$panel", palette::panel},
    Named{"$paper", palette::paper},
    Named{"$rule", palette::rule},
    Named{"$hairline", palette::hairline},
    Named{"$ink", palette::ink},
};

}  // namespace

std::string html_style() {
  std::string style(sheet);
  for (const Named& named : names)
    for (std::size_t at = style.find(named.name); at != std::string::npos; at = style.find(named.name, at))
      style.replace(at, named.name.size(), hex(named.colour));
  return style;
}

}  // namespace warmsheet::report
