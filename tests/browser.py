#!/usr/bin/env python3
"""The HTML pages in a real browser: browser.py PROGRAM [FOLDER TO KEEP THE PRINTS IN].

Prints each page on A4 and on Letter with headless Chromium and measures the result with poppler: size of the paper,
pages tagged for screen readers, the bar of 100 mm of every drawing, nothing beyond the printable area; reads the structure
(language, headings, alternatives to drawings, heads of tables); and lets no request leave the page. Exits with 77 if
chromium or poppler is not there. Not part of the usual tests, since the browser is a large package."""
import html.parser
import json
import pathlib
import re
import shutil
import socket
import subprocess
import sys
import tempfile
import threading

PAPERS = {"A4": (210.0, 297.0), "letter": (215.9, 279.4)}  # mm; ISO 216, ANSI/ASME Y14.1
MARGIN_MM = 10.0
DPI = 254  # ten pixels a millimetre
PAGES = {
    "plan": ["plan", "examples/wrist/job.toml", "--explain"],
    "area": ["plan", "by-area.toml"],
    "timing": ["timing", "--sheet", "elastic-clear"],
    "outline": ["outline", "examples/outlines/volar-wrist-traced.svg"],
    "small": ["outline", "small.csv", "--unit", "1 mm"],  # small enough for true size
    "nest": ["nest", "examples/outlines/volar-wrist-traced.svg*4", "--sheet-size", "600 x 450 mm"],
    "choose": ["choose", "--condition", "carpal-tunnel"],
    "stock": ["stock", "examples/clinic/caseload.toml", "--months", "100"],
    "sheets": ["sheets", "elastic-clear"],
    "check": ["check", "materials"],
    "calibrate": ["calibrate", "examples/bench/notes.toml", "--dry-run"],
}
SMALL = "x,y\n0,0\n80,0\n80,120\n40,140\n0,120\n"
BY_AREA = 'label = "demo"\nstock = "elastic-clear/3.2-micro"\narea = "410 cm2"\n'

browser = shutil.which("chromium") or shutil.which("chromium-browser")
for tool in (browser, shutil.which("pdfinfo"), shutil.which("pdftoppm")):
    if not tool:
        print("chromium, pdfinfo or pdftoppm is not installed: left out")
        sys.exit(77)


def need(truth, what):
    if not truth:
        sys.exit(f"FAILED: {what}")


class Structure(html.parser.HTMLParser):
    """What a screen reader goes by."""

    def __init__(self):
        super().__init__()
        self.language, self.title, self.headings, self.problems = "", "", [], []
        self.open, self.text = [], ""

    def handle_starttag(self, tag, attrs):
        attrs = dict(attrs)
        if tag == "html":
            self.language = attrs.get("lang", "")
        if tag in ("script", "iframe", "object", "embed", "link", "base", "form"):
            self.problems.append(f"<{tag}> has no business here")
        for name, value in attrs.items():
            outside = name in ("src", "href", "xlink:href", "srcset", "action") and not (value or "").startswith(("#", "data:"))
            if outside or name.startswith("on"):
                self.problems.append(f"<{tag} {name}={value}> leads outside")
        if tag == "svg" and attrs.get("aria-hidden") != "true":
            if attrs.get("role") != "img" or not attrs.get("aria-labelledby"):
                self.problems.append("a drawing without role and label")
        if tag == "img" and not attrs.get("alt"):
            self.problems.append("a picture without words")
        if tag == "th" and attrs.get("scope") not in ("col", "row"):
            self.problems.append("a table head that heads nothing")
        if re.fullmatch("h[1-6]", tag):
            self.headings.append(int(tag[1]))
        self.open.append(tag)

    def handle_endtag(self, tag):
        while self.open and self.open.pop() != tag:
            pass

    def handle_data(self, data):
        if self.open and self.open[-1] == "title" and "svg" not in self.open:
            self.title += data


def check_structure(name, text):
    page = Structure()
    page.feed(text)
    need(page.language == "en", f"{name}: the page's language is not said")
    need(page.title.strip(), f"{name}: the page has no title")
    need(page.headings and page.headings[0] == 1 and page.headings.count(1) == 1, f"{name}: not one first heading")
    need(all(b <= a + 1 for a, b in zip(page.headings, page.headings[1:])), f"{name}: a level of headings is skipped")
    need(not page.problems, f"{name}: {page.problems[:3]}")
    need("@import" not in text and not re.search(r"url\((?!#|data:)", text), f"{name}: a style leads outside")
    labelled = set(re.findall(r'aria-labelledby="([^"]*)"', text))
    ids = set(re.findall(r'\bid="([^"]*)"', text))
    need(all(each in ids for label in labelled for each in label.split()), f"{name}: a label points nowhere")
    need("Content-Security-Policy" in text, f"{name}: no policy forbids requests")


class Listener:
    """Stands in for the whole network: the browser is told that everything outside is reached through it."""

    def __init__(self):
        self.server = socket.create_server(("127.0.0.1", 0))
        self.asked = []
        threading.Thread(target=self.listen, daemon=True).start()

    def listen(self):
        while True:
            connection, _ = self.server.accept()
            with connection:
                connection.settimeout(5)
                try:
                    self.asked.append(connection.recv(200).split(b"\r\n")[0].decode(errors="replace"))
                except OSError:
                    pass

    def outside(self):
        """Requests, less the browser's own."""
        return [line for line in self.asked if "google" not in line and "gvt1" not in line]

    @property
    def address(self):
        return f"127.0.0.1:{self.server.getsockname()[1]}"


def browse(listener, folder, *orders):
    subprocess.run([browser, "--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking",
                    "--disable-component-update", "--no-first-run", "--disable-sync", "--no-pdf-header-footer",
                    "--force-color-profile=srgb", f"--user-data-dir={folder}/profile",
                    f"--proxy-server={listener.address}", "--proxy-bypass-list=<-loopback>", *orders],
                   stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, timeout=120, check=True)


def grey_pages(pdf, folder):
    """(width, rows) of each page, one byte a pixel."""
    subprocess.run(["pdftoppm", "-gray", "-r", str(DPI), pdf, folder / "grey"], check=True)
    for path in sorted(folder.glob("grey-*.pgm")):
        data = path.read_bytes()
        kind, width, height, _ = re.match(rb"(P5)\s+(\d+)\s+(\d+)\s+(\d+)\s", data).groups()
        width, height = int(width), int(height)
        pixels = data[len(data) - width * height:]
        path.unlink()
        yield width, [pixels[y * width:(y + 1) * width] for y in range(height)]


DARK = bytes(1 if v < 140 else 32 for v in range(256))  # black ink, or a blank


def scales_of(text):
    """By how much each drawing is shrunk; every one has a bar of 100 mm at that scale."""
    return [int(n) for n in re.findall(r"drawn at 1 : (\d+)", text)] + [1] * len(re.findall("true size, if", text))


def check_print(name, paper, pdf, folder, scales):
    info = subprocess.run(["pdfinfo", "-l", "-1", pdf], capture_output=True, text=True, check=True).stdout
    need(re.search(r"^Tagged:\s+yes", info, re.M), f"{name} on {paper}: not tagged for screen readers")
    need(re.search(r"^Title:\s+\S", info, re.M), f"{name} on {paper}: no title")
    width, height = PAPERS[paper]
    sizes = re.findall(r"^Page\s+\d+ size:\s+([\d.]+) x ([\d.]+)", info, re.M)
    for w, h in sizes:
        need(abs(float(w) * 25.4 / 72 - width) < 0.5 and abs(float(h) * 25.4 / 72 - height) < 0.5,
             f"{name} on {paper}: a page of {w} x {h} points")
    missing = set(scales)
    for pixels, rows in grey_pages(pdf, folder):
        edge = int((MARGIN_MM - 0.5) * DPI / 25.4)
        for row in rows:
            need(min(row[:edge] + row[pixels - edge:]) > 200, f"{name} on {paper}: something runs into the margin")
            runs = row.translate(DARK).split()
            lengths = [len(run) * 25.4 / DPI for run in runs if len(run) > 50]
            missing -= {n for n in missing if any(abs(length - 100.0 / n) <= 0.2 for length in lengths)}
    need(not missing, f"{name} on {paper}: no bar of 100 mm at 1 : {missing}; the drawings are not to scale")
    return len(sizes)


def with_paper(text, paper):
    return text.replace("</head>", f"<style>@page {{ size: {paper} }}</style></head>")


def commands_of(program):
    text = subprocess.run([program, "help"], capture_output=True, text=True, check=True).stdout
    block = text.split("Commands:\n")[1].split("\n\n")[0]
    return {line.split()[0] for line in block.splitlines() if line.startswith("  ") and line[2] != " "}


def main():
    program = str(pathlib.Path(sys.argv[1]).resolve())
    source = pathlib.Path(__file__).resolve().parent.parent
    kept = pathlib.Path(sys.argv[2]).resolve() if len(sys.argv) > 2 else None
    listener = Listener()
    with tempfile.TemporaryDirectory() as folder_name:
        folder = pathlib.Path(folder_name)
        for name in ("examples", "materials"):
            (folder / name).symlink_to(source / name)
        (folder / "by-area.toml").write_text(BY_AREA)
        (folder / "small.csv").write_text(SMALL)

        # The listener must be known to hear: a page that asks for something outside.
        (folder / "asks.html").write_text("<img src='http://outside.invalid/x.png'>")
        browse(listener, folder, f"--print-to-pdf={folder}/asks.pdf", f"file://{folder}/asks.html")
        need(any("outside.invalid" in line for line in listener.asked), "the test's own listener is deaf")
        listener.asked.clear()

        missing = commands_of(program) - {words[0] for words in PAGES.values()}
        need(not missing, f"no page of {sorted(missing)} in PAGES of tests/browser.py")
        for name, words in PAGES.items():
            subprocess.run([program, *words, "--html", "page.html", "--quiet"], cwd=folder, check=True,
                           stdout=subprocess.DEVNULL)
            text = (folder / "page.html").read_text(encoding="utf-8")
            check_structure(name, text)
            counts = []
            for paper in PAPERS:
                page, pdf = folder / f"{name}.{paper}.html", folder / f"{name}.{paper}.pdf"
                page.write_text(with_paper(text, paper), encoding="utf-8")
                browse(listener, folder, f"--print-to-pdf={pdf}", f"file://{page}")
                counts.append(check_print(name, paper, pdf, folder, scales_of(text)))
                if kept:
                    kept.mkdir(exist_ok=True)
                    shutil.copy(pdf, kept)
            print(f"{name}: {counts[0]} pages of A4, {counts[1]} of Letter")
        need(not listener.outside(), f"requests left the page: {json.dumps(listener.outside()[:3])}")
    print("true scale, structure and silence hold")


main()
