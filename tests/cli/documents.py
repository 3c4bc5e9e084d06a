#!/usr/bin/env python3
"""Every command's real output meets its schema, as an outside validator reads it: documents.py PROGRAM SOURCE_DIR.

The examples of every command's help are run with --json, and some answers that are "no". Then each document is
spoilt in ways a careless change could spoil it, and the schema must refuse every one of them."""
import copy
import html.parser
import json
import os
import pathlib
import shlex
import subprocess
import sys
import tempfile
import tomllib

try:
    import jsonschema
except ImportError:
    print("python3-jsonschema is not installed: left out")
    sys.exit(77)

program, source = str(pathlib.Path(sys.argv[1]).resolve()), pathlib.Path(sys.argv[2]).resolve()
schemas = source / "src/report/schemas"
MORE = [  # answers that are "no", layouts that fail, words of every kind of option
    ["nest", "examples/outlines/volar-wrist-traced.svg*4", "--sheet-size", "100 x 100 mm"],
    ["nest", "examples/outlines/volar-wrist-traced.svg*2", "--sheet-size", "600 x 450 mm*1", "--blanks", "--pair",
     "volar-wrist-traced", "--passes", "20"],
    ["plan", "examples/condition/job.toml"],
    ["timing", "--sheet", "elastic-clear", "--bath", "158 F", "--thickness", "0.125 in", "--size", "200 x 300 mm",
     "--lifted", "40 s", "--crystallised", "30 %", "--upright", "yes", "--samples", "0"],
    ["choose", "--list"],
    ["check", "no-such-file.toml", "materials"],
    ["sheets", "draping-white"],
]
# Between them these use every key that a job may have, so that what a new key adds to the document is seen.
JOBS = {
    "by-area.toml": 'label = "demo"\nstock = "elastic-clear/3.2-micro"\narea = "410 cm2"\n',
    "for-a-child.toml": ('label = "demo"\ncondition = "mallet-finger"\narea = "9 cm2"\npush = "1.5 N"\n'
                         'precautions = ["child"]\n'),
    "all-keys.toml": """
label = "demo"
condition = "carpal-tunnel"
stock = "elastic-clear/3.2-micro"
outline = { file = "examples/outlines/volar-wrist-traced.svg", traced = "right" }
side = "left"
copies = 2
push = "20 N"
precautions = ["swelling"]
edging = "edging-tape"
lining = "lining-thin"
[bath]
temperature = "70 C"
film = "400 W/m2K"
sheet_start = "20 C"
room = "22 C"
dried = true
[person]
skin = "thin"
liner = "stockinette"
wrap = "elastic-wrap"
layers = 1
[cut]
spacing = "4 mm"
margin = "5 mm"
rotations = "free"
[[cut.offcut]]
name = "rest"
size = "300 x 200 mm"
[[cut.offcut]]
name = "traced rest"
outline = { file = "examples/outlines/volar-wrist-traced.svg", traced = "right" }
""",
    "by-design.toml": """
label = "demo"
design = "volar-wrist"
stock = "elastic-clear/3.2-micro"
[measures]
forearm_length = "248 mm"
forearm_girth = "252 mm"
wrist_girth = "164 mm"
hand_breadth = "82 mm"
crease_radial = "88 mm"
crease_ulnar = "76 mm"
thenar_length = "56 mm"
[bath]
state = "still"
""",
}


def examples_of(command):
    """The lines under "Examples:" of its help, as words; a backslash goes on."""
    text = subprocess.run([program, command, "--help"], capture_output=True, text=True, check=True).stdout
    block = text.split("Examples:\n")[1].split("\n\n")[0].replace("\\\n", " ")
    for line in block.splitlines():
        words = shlex.split(line)
        if "--why" not in words:
            yield words[1:]


def once(pairs):
    names = [name for name, _ in pairs]
    assert len(names) == len(set(names)), f"a name stands twice: {names}"
    return dict(pairs)


def refuse(word):
    raise ValueError(f"{word} is no JSON")


class Tables(html.parser.HTMLParser):
    """Rows that have another number of cells than their table has heads."""

    def __init__(self):
        super().__init__()
        self.heads, self.cells, self.in_head, self.ragged, self.rows = 0, 0, False, 0, 0

    def handle_starttag(self, tag, attrs):
        if tag == "table":
            self.heads = 0
        if tag == "thead":
            self.in_head = True
        if tag == "tr":
            self.cells = 0
        if tag in ("th", "td"):
            self.cells += 1

    def handle_endtag(self, tag):
        if tag == "thead":
            self.in_head, self.heads = False, self.cells
        if tag == "tr" and not self.in_head:
            self.rows += 1
            self.ragged += self.cells != self.heads


def check_tables(words, counts):
    tables = Tables()
    tables.feed(pathlib.Path("page.html").read_text(encoding="utf-8"))
    if tables.ragged:
        sys.exit(f"{words}: {tables.ragged} rows of tables have not one cell under each head")
    counts["rows"] += tables.rows


def output_of(words):
    """The document. Exit 3 is an answer of check; else it is 0, or 1 for "no"."""
    words = [word for word in words if word != "--draw"]  # a picture in the terminal is none in a document
    words = words + ([] if "--json" in words else ["--json"]) + ([] if "--html" in words else ["--html", "page.html"])
    ran = subprocess.run([program, *words], capture_output=True, text=True)
    assert ran.returncode in ((0, 1, 3) if words[0] == "check" else (0, 1)), (words, ran.returncode, ran.stderr)
    return json.loads(ran.stdout, object_pairs_hook=once, parse_constant=refuse)


def spoilt(document):
    """(what is wrong, the document with that wrong), as far as it can be done to this one."""
    def changed(change):
        other = copy.deepcopy(document)
        change(other)
        return other

    yield "no schema name", changed(lambda d: d.pop("schema"))
    yield "a later schema", changed(lambda d: d.update(schema=d["schema"][:-1] + "2"))
    yield "no cautions", changed(lambda d: d.update(cautions=[]))
    yield "an unknown top-level name", changed(lambda d: d.update(extra=[]))
    yield "an unknown result", changed(lambda d: d["results"].update(windw={"absent": "slip"}))
    yield "an unknown input", changed(lambda d: d["inputs"].update(bth="70"))
    for name, result in document["results"].items():
        if "value" not in result:
            continue
        for key in ("basis", "unit", "low", "high", "rests_on"):
            yield f"{name} without {key}", changed(lambda d: d["results"][name].pop(key))
        yield f"{name} is null", changed(lambda d: d["results"].update({name: None}))
        yield f"{name} of unknown basis", changed(lambda d: d["results"][name].update(basis="guess"))
        yield f"{name} in light years", changed(lambda d: d["results"][name].update(unit="ly"))
        yield f"{name} as text", changed(lambda d: d["results"][name].update(value="1"))
    for name, records in document.items():
        if isinstance(records, list) and records and name != "cautions":
            yield f"{name} with an unknown field", changed(lambda d: d[name][0].update(extra=1))
            yield f"{name} without a field", changed(lambda d: d[name][0].pop(next(iter(d[name][0]))))


def keys_known(header):
    """Keys of a job's table, as the program tells somebody who misspells one of them."""
    pathlib.Path("misspelt.toml").write_text(f'label = "demo"\n{header}\nqqqqqqqqqqqqqqqq = 1\n')
    ran = subprocess.run([program, "check", "misspelt.toml", "--json"], capture_output=True, text=True)
    told = [line for line in json.loads(ran.stdout)["files"][0]["problems"] if "known keys: " in line]
    assert told, (header, ran.stdout)
    any_table = {"basis", "source", "where", "seen"}
    return set(told[0].split("known keys: ")[1].split(", ")) - any_table


def keys_used(document, path):
    """Keys in the tables at this path of a document ("cut.offcut"), whether it is one table or a list of them."""
    for name in filter(None, path.split(".")):
        document = document.get(name, {}) if isinstance(document, dict) else {}
    tables = document if isinstance(document, list) else [document]
    return {key for table in tables for key in table}


def check_every_key_is_used():
    jobs = [tomllib.loads(text) for text in JOBS.values()]
    for path, header in (("", ""), ("bath", "[bath]"), ("person", "[person]"), ("cut", "[cut]"),
                         ("cut.offcut", "[[cut.offcut]]")):
        used = {key for job in jobs for key in keys_used(job, path)}
        missing = keys_known(header) - used
        if missing:
            sys.exit(f"no job of JOBS in tests/cli/documents.py uses {sorted(missing)} {header}: add it, so that what "
                     "it adds to the JSON is held against src/report/schemas/plan.schema.json")


def check_caution_ids(words, document):
    known = set((source / "tests/cli/caution_ids.txt").read_text().split("\n"))
    for caution in document["cautions"]:
        if caution["id"] not in known:
            sys.exit(f"{words}: tests/cli/caution_ids.txt lacks the caution id {caution['id']}")


def validator_of(command):
    path = schemas / f"{command}.schema.json"
    if not path.exists():
        sys.exit(f"the command {command} has no schema: write {path.relative_to(source)}")
    schema = json.loads(path.read_text())
    jsonschema.Draft7Validator.check_schema(schema)
    resolver = jsonschema.RefResolver(base_uri=schemas.as_uri() + "/", referrer=schema)
    return jsonschema.Draft7Validator(schema, resolver=resolver)


def check(words, counts):
    document = output_of(words)
    if "--html" not in words:
        check_tables(words, counts)
    check_caution_ids(words, document)
    validator = validator_of(words[0])
    for error in validator.iter_errors(document):
        sys.exit(f"{words}: {'/'.join(map(str, error.absolute_path))}: {error.message}\n"
                 f"  if that is meant, say so in src/report/schemas/{words[0]}.schema.json")
    validator_of("document").validate(document)
    for wrong, other in spoilt(document):
        if validator.is_valid(other):
            sys.exit(f"{words}: the schema does not mind this: {wrong}")
        counts["refused"] += 1
    counts["documents"] += 1


def commands():
    text = subprocess.run([program, "help"], capture_output=True, text=True, check=True).stdout
    block = text.split("Commands:\n")[1].split("\n\n")[0]
    return [line.split()[0] for line in block.splitlines() if line.startswith("  ") and line[2] != " "]


def main():
    counts = {"documents": 0, "refused": 0, "rows": 0}
    with tempfile.TemporaryDirectory() as folder:
        for name in ("examples", "materials"):
            (pathlib.Path(folder) / name).symlink_to(source / name)
        for name, text in JOBS.items():
            (pathlib.Path(folder) / name).write_text(text)
        os.chdir(folder)
        check_every_key_is_used()
        for command in commands():
            for words in examples_of(command):
                check(words, counts)
        for words in MORE + [["plan", name] for name in JOBS]:
            check(words, counts)
    print(f"{counts['documents']} documents meet their schemas; {counts['refused']} spoilt ones are refused; "
          f"{counts['rows']} rows of tables have a cell under each head")


main()
