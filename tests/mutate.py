#!/usr/bin/env python3
"""How many small faults the tests notice: mutate.py BUILD TEST_TARGET FILE[:FROM-TO] ... [--most N].

In each named source file one operator or constant at a time is changed, the one test program is built and run, and
the file is put back. A changed program that a test fails (or that hangs) is killed; one that does not compile is not
counted. Those that live are listed: each is a missing test or a change that makes no difference. With --most N only N
of the places, spread evenly, are tried. One build for each place, so this is no part of .ci/run."""
import pathlib
import re
import subprocess
import sys

TOP = pathlib.Path(__file__).resolve().parent.parent
SWAPS = [  # what stands there -> what a tired programmer might have written
    (r" < ", " <= "), (r" <= ", " < "), (r" > ", " >= "), (r" >= ", " > "),
    (r" == ", " != "), (r" != ", " == "), (r" && ", " || "), (r" \|\| ", " && "),
    (r" \+ ", " - "), (r" - ", " + "), (r" \* ", " / "), (r" / ", " * "),
    (r"\btrue\b", "false"), (r"\bfalse\b", "true"),
    (r"std::min\(", "std::max("), (r"std::max\(", "std::min("),
    (r"\.low_si\(\)", ".high_si()"), (r"\.high_si\(\)", ".low_si()"),
    (r"(?<![\w.])0\.5(?![\w.])", "0.6"), (r"(?<![\w.])1\.0(?![\w.])", "1.1"), (r"(?<![\w.])2\.0(?![\w.])", "2.2"),
    (r"if \(!", "if ("),
]


def code_only(line):
    """Nothing in comments, texts, includes and assertions is a fault of the program."""
    bare = re.sub(r'"(\\.|[^"\\])*"', lambda m: " " * len(m.group()), line)
    bare = re.sub(r"//.*", lambda m: " " * len(m.group()), bare)
    return "" if re.match(r"\s*(#|static_assert|template|namespace)", bare) else bare


def places(path, first, last):
    lines = path.read_text().splitlines(keepends=True)
    for number, line in enumerate(lines, 1):
        if not first <= number <= last:
            continue
        for pattern, other in SWAPS:
            for match in re.finditer(pattern, code_only(line)):
                changed = line[:match.start()] + other + line[match.end():]
                yield number, line.strip(), changed.strip(), lines[:number - 1] + [changed] + lines[number:]


def outcome(build, target):
    built = subprocess.run(["cmake", "--build", build, "--target", target], capture_output=True, text=True)
    if built.returncode != 0:
        return "stillborn"
    program = next(pathlib.Path(build, "tests").glob(f"*/{target}"))
    try:
        ran = subprocess.run([program, "--abort-after=1", "--minimal"], capture_output=True, timeout=120, cwd=build,
                             env={"RC_PARAMS": "seed=20260101 max_success=100", "PATH": "/usr/bin:/bin"})
    except subprocess.TimeoutExpired:
        return "killed"
    return "killed" if ran.returncode != 0 else "lived"


def main():
    most = int(sys.argv[sys.argv.index("--most") + 1]) if "--most" in sys.argv else 10**6
    build, target, *files = [a for a in sys.argv[1:] if a != "--most" and a != str(most)]
    build = str(pathlib.Path(build).resolve())
    if outcome(build, target) != "lived":
        sys.exit("the tests do not pass without any change")
    wanted = []
    for each in files:
        name, _, lines = each.partition(":")
        first, _, last = (lines or "1-100000").partition("-")
        path = TOP / name
        wanted += [(path, *place) for place in places(path, int(first), int(last))]
    step = max(1, -(-len(wanted) // most))
    counts = {"killed": 0, "lived": 0, "stillborn": 0}
    for path, number, before, after, text in wanted[::step]:
        original = path.read_text()
        try:
            path.write_text("".join(text))
            result = outcome(build, target)
        finally:
            path.write_text(original)
        counts[result] += 1
        if result == "lived":
            print(f"lived: {path.relative_to(TOP)}:{number}: {before}\n    as: {after}", flush=True)
    tried = counts["killed"] + counts["lived"]
    print(f"{counts['killed']} of {tried} killed ({counts['killed'] / max(tried, 1):.2f}); "
          f"{counts['stillborn']} did not compile; {len(wanted)} places in all")


main()
