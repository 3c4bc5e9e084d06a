// SPDX-License-Identifier: MIT
// Wrong input of every kind a person produces: each ends with the documented exit code and one message that
// names the place and helps, and nothing is written.
#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "library/library.h"
#include "support/program.h"
#include "support/scratch.h"

using warmsheet::testing::Ran;
using warmsheet::testing::run_program;
using warmsheet::testing::Scratch;

namespace {

std::string any_stock() {
  return warmsheet::library::load({}).sheets.begin()->second.stock.front().key();
}

std::string good_job() {
  return "label = \"demo\"\nstock = \"" + any_stock() + "\"\narea = \"410 cm2\"\n";
}

struct JobCase {
  const char* label;
  std::string text;   // the whole job file
  const char* place;  // expected in the message, after the file's path
  const char* words;  // expected in the message
};

const std::string examples = std::string(WARMSHEET_SOURCE_DIR) + "/examples/";
const std::string outline_file = examples + "outlines/volar-wrist-traced.svg";
const std::string measures_file = examples + "wrist/measures.toml";
const std::string job_file = examples + "wrist/job.toml";

std::vector<JobCase> job_cases() {
  const std::string good = good_job();
  const std::string stock = any_stock();
  return {
      {"misspelt key", good + "coppies = 2\n", ":4:", "did you mean copies"},
      {"unknown key", good + "patient = \"x\"\n", ":4:", "unknown key"},
      {"missing unit", "label = \"d\"\nstock = \"" + stock + "\"\narea = \"410\"\n",
       ":3:", "unit is missing"},
      {"wrong unit", "label = \"d\"\nstock = \"" + stock + "\"\narea = \"410 mm\"\n",
       ":3:", "no unit of area"},
      {"bare number", "label = \"d\"\nstock = \"" + stock + "\"\narea = 410\n", ":3:", "unit is missing"},
      {"nan", "label = \"d\"\nstock = \"" + stock + "\"\narea = nan\n", ":3:", "nan and inf"},
      {"nan in a text", "label = \"d\"\nstock = \"" + stock + "\"\narea = \"nan cm2\"\n",
       ":3:", "number was expected"},
      {"negative area", "label = \"d\"\nstock = \"" + stock + "\"\narea = \"-410 cm2\"\n", ":3:", "outside"},
      {"zero area", "label = \"d\"\nstock = \"" + stock + "\"\narea = \"0 cm2\"\n", ":3:", "limits"},
      {"decimal comma", "label = \"d\"\nstock = \"" + stock + "\"\narea = \"41,5 cm2\"\n", ":3:", "41.5 cm2"},
      {"area too large", "label = \"d\"\nstock = \"" + stock + "\"\narea = \"40 m2\"\n", ":3:", "limits"},
      {"label is a number", "label = 3\nstock = \"" + stock + "\"\narea = \"410 cm2\"\n",
       ":1:", "expected a text"},
      {"no stock", "label = \"d\"\narea = \"410 cm2\"\n", "", "stock: the job names no sheet"},
      {"unknown stock", "label = \"d\"\nstock = \"elastic-cleer/3.2-solid\"\narea = \"410 cm2\"\n",
       ":2:", "elastic"},
      {"no pattern", "label = \"d\"\nstock = \"" + stock + "\"\n", "", "exactly one of"},
      {"two patterns", good + "outline = \"a.svg\"\n", "", "exactly one of"},
      {"missing outline file", "label = \"d\"\nstock = \"" + stock + "\"\noutline = \"nowhere.svg\"\n", "",
       "cannot be opened"},
      {"unknown design", "label = \"d\"\nstock = \"" + stock + "\"\ndesign = \"volar-wrst\"\n[measures]\n",
       ":3:", "volar-wrist"},
      {"zero copies", good + "copies = 0\n", ":4:", "whole number from 1"},
      {"half a copy", good + "copies = 1.5\n", ":4:", "whole number"},
      {"unknown precaution", good + "precautions = [\"swelking\"]\n", ":4:", "swelling"},
      {"precautions no list", good + "precautions = \"swelling\"\n", ":4:", "list of texts"},
      {"bath as a difference", good + "[bath]\ntemperature = \"70\"\n", ":5:", "70 C or 158 F"},
      {"bath in another scale's letter", good + "[bath]\ntemperature = \"70 X\"\n",
       ":5:", "no unit of temperature"},
      {"bath boiling away", good + "[bath]\ntemperature = \"700 C\"\n", ":5:", "outside"},
      {"dried maybe", good + "[bath]\ndried = \"maybe\"\n", ":5:", "true or false"},
      {"layers 9", good + "[person]\nlayers = 9\n", ":5:", "whole number from 1 to 4"},
      {"unknown table", good + "[persn]\nskin = \"adult\"\n", ":4:", "did you mean person"},
      {"negative spacing", good + "[cut]\nspacing = \"-3 mm\"\n", ":5:", "outside"},
      {"rotations without unit", good + "[cut]\nrotations = \"45\"\n", ":5:", "unit is missing"},
      {"measures of nothing", good + "[measures]\nwrist_girth = \"160 mm\"\n", ":4:", "nothing here uses"},
      {"offcut without size", good + "[[cut.offcut]]\nname = \"rest\"\n",
       ":4:", "either a size or an outline"},
      {"syntax", "label = \"d\nstock = 3\n", ":1:", "TOML"},
      {"key twice", good + "label = \"again\"\n", ":4:", "label"},
      {"date", good + "made = 2026-01-01\n", ":4:", "dates"},
      {"empty file", "", "", "is missing"},
      {"binary rubbish", std::string("\x00\xff\xfe\x01", 4), "", ""},
  };
}

}  // namespace

TEST_CASE("a wrong job file ends with exit 3 and a message with the place") {
  for (const JobCase& row : job_cases()) {
    CAPTURE(row.label);
    const Scratch scratch;
    const std::string path = scratch.file("job.toml", row.text);
    const Ran ran = run_program(
        {"plan", path, "--html", scratch.path("out/plan.html"), "--outline-svg", scratch.path("o.svg")});
    CAPTURE(ran.err);
    CHECK(ran.code == 3);
    CHECK(ran.out.empty());
    CHECK(ran.err.find(std::string("job.toml") + row.place) != std::string::npos);
    CHECK(ran.err.find(row.words) != std::string::npos);
    CHECK_FALSE(std::filesystem::exists(scratch.path("o.svg")));
  }
}

TEST_CASE("wrong words on the command line end with exit 2 and a hint") {
  struct Row {
    const char* label;
    std::vector<std::string> words;
    const char* expected;
  };
  const std::vector<Row> rows{
      {"unknown command", {"tming"}, "did you mean timing"},
      {"command far from any", {"frobnicate"}, "warmsheet help"},
      {"unknown option", {"timing", "--thicknes", "3.2 mm"}, "did you mean --thickness"},
      {"option without value", {"timing", "--sheet"}, "--sheet: needs SHEET behind it"},
      {"option before its value", {"timing", "--sheet", "--json"}, "--sheet: needs SHEET behind it"},
      {"value of a switch", {"timing", "--sheet", "elastic-clear", "--json=5"}, "--json"},
      {"option before the command", {"--json", "sheets"}, "write it after the command"},
      {"short option", {"sheets", "-q"}, "no option of sheets"},
      {"spelling of the other country", {"sheets", "--colour", "never"}, "did you mean --color"},
      {"colour of its own", {"sheets", "--color", "alway"}, "did you mean always"},
      {"sources of one sheet", {"sheets", "elastic-clear", "--sources"}, "whole library"},
      {"completion misspelt", {"completoin"}, "did you mean completion"},
      {"help about nothing", {"help", "plann"}, "did you mean plan"},
      {"unknown skin", {"timing", "--sheet", "elastic-clear", "--skin", "adlt"}, "did you mean \"adult\""},
      {"unknown liner",
       {"timing", "--sheet", "elastic-clear", "--liner", "stockinete"},
       "did you mean \"stockinette\""},
      {"unknown perforation",
       {"timing", "--sheet", "elastic-clear", "--perforation", "micr"},
       "did you mean \"micro\""},
      {"unknown condition", {"choose", "--condition", "carpal-tunel"}, "carpal-tunnel"},
      {"a unit for a file that states its own",
       {"outline", examples + "outlines/circumferential-wrist-traced.toml", "--unit", "1 in"},
       "leaves open"},
      {"a photo that is none",
       {"outline", examples + "outlines/volar-wrist-traced.svg", "--photo", "a4"},
       "leaves open"},
      {"a measure twice",
       {"outline", "volar-wrist", "--measure", "hand_breadth=80mm", "--measure", "hand_breadth=81mm"},
       "more than once"},
      {"centimetres written as millimetres",
       {"outline", "volar-wrist", "--measure", "forearm_length=24.8mm"},
       "no limb has"},
      {"a list of everything and a name", {"outline", "volar-wrist", "--list"}, "lists every design"},
      {"no design", {"outline"}, "outline --list"},
      {"a drawing of a list", {"outline", "--list", "--svg", "x.svg"}, "lists the designs"},
      {"one condition beside the list of all",
       {"choose", "--list", "--skin", "thin"},
       "lists the conditions"},
      {"a side of nothing",
       {"choose", "--condition", "carpal-tunnel", "--area", "200 cm2", "--side", "left"},
       "none is drawn"},
      {"an outline of no measures",
       {"outline", "long-thumb", "--measure-figures", "never-written.svg", "--svg", "never-written.svg"},
       "no measure is given"},
      {"an order list's dialect where there is none",
       {"stock", examples + "clinic/caseload.toml", "--compare", "weekly", "--dialect", "nonsense"},
       "comma"},
      {"lifted after the day's work", {"timing", "--sheet", "elastic-clear", "--lifted", "2 h"}, "--lifted"},
      {"a girth no limb has",
       {"choose", "--condition", "carpal-tunnel", "--measure", "wrist_girth=16mm"},
       "no limb has"},
      {"a girth typed and measured",
       {"choose", "--condition", "carpal-tunnel", "--measure", "wrist_girth=160mm", "--girth", "200 mm"},
       "measured already"},
      {"a kerf without a straight cut",
       {"nest", examples + "outlines/volar-wrist-traced.svg", "--sheet-size", "600 x 450 mm", "--kerf",
        "3 mm"},
       "straight cuts"},
      {"a drawing in JSON",
       {"nest", examples + "outlines/volar-wrist-traced.svg", "--sheet-size", "600 x 450 mm", "--draw",
        "--json"},
       "do not print"},
      {"reasons that are not printed",
       {"plan", examples + "wrist/job.toml", "--explain", "--quiet"},
       "do not print"},
      {"no file for a unit",
       {"choose", "--condition", "carpal-tunnel", "--unit", "1 mm"},
       "is for an outline file"},
      {"measures beside an area",
       {"choose", "--condition", "carpal-tunnel", "--area", "200 cm2", "--measure", "hand_breadth=80mm"},
       "--girth"},
      {"missing sheet", {"timing"}, "warmsheet sheets"},
      {"unknown sheet", {"timing", "--sheet", "elastic-cleer"}, "elastic"},
      {"bare thickness", {"timing", "--sheet", "elastic-clear", "--thickness", "3.2"}, "unit is missing"},
      {"negative thickness", {"timing", "--sheet", "elastic-clear", "--thickness", "-3.2 mm"}, "outside"},
      {"nan thickness",
       {"timing", "--sheet", "elastic-clear", "--thickness", "nan mm"},
       "number was expected"},
      {"empty thickness", {"timing", "--sheet", "elastic-clear", "--thickness", ""}, "empty"},
      {"overflowing thickness",
       {"timing", "--sheet", "elastic-clear", "--thickness", "1e999 mm"},
       "too large"},
      {"hexadecimal thickness", {"timing", "--sheet", "elastic-clear", "--thickness", "0x10 mm"}, "no unit"},
      {"thickness twice",
       {"timing", "--sheet", "a", "--thickness", "3 mm", "--thickness", "2 mm"},
       "more than once"},
      {"seed not whole", {"timing", "--sheet", "elastic-clear", "--seed", "-1"}, "whole number"},
      {"samples not whole", {"timing", "--sheet", "elastic-clear", "--samples", "1e999"}, "whole number"},
      {"dried maybe", {"timing", "--sheet", "elastic-clear", "--dried", "maybe"}, "yes, no"},
      {"stray word", {"timing", "elastic-clear"}, "not expected"},
      {"no job", {"plan"}, "JOB.toml"},
      {"two jobs", {"plan", "a.toml", "b.toml"}, "one job at a time"},
      {"nothing to place", {"nest", "--sheet-size", "600 x 450 mm"}, "name outlines"},
      {"size with one length", {"nest", "--area", "4 cm2", "--sheet-size", "600 mm"}, "two lengths"},
      {"no copies", {"nest", "a.svg*0", "--sheet-size", "600 x 450 mm"}, "copies"},
      {"measure without value", {"outline", "volar-wrist", "--measure", "wrist_girth"}, "has no value"},
      {"unknown design", {"outline", "volar-wrst"}, "volar-wrist"},
      {"library folder missing", {"sheets", "--library", "/nowhere/at/all"}, "/nowhere/at/all"},
      {"why of nothing",
       {"timing", "--sheet", "elastic-clear", "--samples", "0", "--why", "windw"},
       "did you mean window"},
      {"why of what has no figure",
       {"check", outline_file, "--why", "area"},
       "warmsheet check answers without figures"},
      {"why of a whole library", {"sheets", "--why", "nonsense"}, "figures: sheets."},
      {"side of a file that knows none", {"outline", outline_file, "--side", "left"}, "--traced left"},
      {"measure of a file", {"outline", outline_file, "--measure", "wrist_girth=160mm"}, "takes no measure"},
      {"unit of a design", {"outline", "volar-wrist", "--unit", "1mm"}, "is for a file"},
      {"layer of a design", {"outline", "volar-wrist", "--layer", "cut"}, "is for a file"},
      {"measure of nothing drawn",
       {"outline", "volar-wrist", "--measures", measures_file, "--measure", "elbow_girth=250mm"},
       "measures that do: "},
      {"paper of no PDF", {"outline", outline_file, "--paper", "letter"}, "add --pdf FILE"},
      {"paper of no plan", {"plan", job_file, "--paper", "letter"}, "add --pdf FILE"},
      {"fit of no size set", {"outline", "volar-wrist", "--size-fit", "10 %"}, "add --size-set N"},
      {"figures of a size set",
       {"outline", "volar-wrist", "--size-set", "2", "--measure-figures", "f.svg"},
       "without --size-set"},
      {"drawing of an area",
       {"nest", "--area", "410 cm2", "--sheet-size", "600 x 450 mm", "--svg", "a.svg"},
       "no shape to place"},
      {"unit of no file",
       {"nest", "volar-wrist", "--measures", measures_file, "--sheet-size", "600 x 450 mm", "--unit", "1mm"},
       "none is named"},
      {"unit of a job", {"check", job_file, "--unit", "1mm"}, "is for an outline file"},
      {"blank of a millimetre", {"timing", "--sheet", "elastic-clear", "--size", "1 x 1 mm"}, "1 cm2 to"},
      {"blank of a field", {"timing", "--sheet", "elastic-clear", "--size", "90 x 90 m"}, "1 cm2 to 20000"},
      {"sheet as thick as a board",
       {"timing", "--sheet", "elastic-clear", "--thickness", "1 1/8 in"},
       "allowed: "},
      {"reheat of nothing", {"timing", "--sheet", "elastic-clear", "--reheat", "PART"}, "whole, edge, spot"},
      {"why and json",
       {"timing", "--sheet", "elastic-clear", "--samples", "0", "--why", "window", "--json"},
       "leave out --json"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.label);
    const Ran ran = run_program(row.words);
    CAPTURE(ran.err);
    CHECK(ran.code == 2);
    CHECK(ran.out.empty());
    CHECK(ran.err.find(row.expected) != std::string::npos);
  }
}

TEST_CASE("a drawing is asked of a job that has none: refused, and no file is written") {
  const Scratch scratch;
  const std::string job = scratch.file("job.toml", good_job());
  const Ran ran = run_program({"plan", job, "--outline-pdf", scratch.path("o.pdf")});
  CHECK(ran.code == 2);
  CHECK(ran.err.find("no outline to draw") != std::string::npos);
  CHECK_FALSE(std::filesystem::exists(scratch.path("o.pdf")));
}

TEST_CASE("an unwritable target ends with exit 4 and leaves what was there") {
  const Scratch scratch;
  const std::string job = scratch.file("job.toml", good_job());
  const Ran ran = run_program({"plan", job, "--html", scratch.path("no-such-folder/plan.html")});
  CHECK(ran.code == 4);
  CHECK(ran.err.find("no-such-folder/plan.html") != std::string::npos);
}
