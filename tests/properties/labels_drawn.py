"""labels_drawn.py BUILD - label sheets as others read them.

SVG and HTML must be well-formed XML; every text of a drawing must lie in its label and none be lost; with
rsvg-convert the drawing is rendered, with chromium every sheet must fill one page of A4 and of Letter.
What is not installed is told as skipped.
"""

import os
import re
import shutil
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as tree

BUILD = sys.argv[1]
BASE = ["tags", "--as-of", "2027-03-02", "data/demo", "--labels"]
SVG = "{http://www.w3.org/2000/svg}"
WIDTH, HEIGHT, COLUMN = 62, 32, 0.602  # of DejaVu Sans Mono
failures = []


def labels(*words):
    run = subprocess.run([os.path.join(BUILD, "conetide"), *BASE, *words], stdout=subprocess.PIPE,
                         stderr=subprocess.PIPE, check=False)
    if run.returncode:
        raise SystemExit(run.stderr.decode())
    return run.stdout.decode()


def tell(name, wrong):
    print(("not ok " if wrong else "ok ") + "labels drawn: " + name)
    failures.extend(wrong)
    for line in wrong[:5]:
        print("  " + line)


def number(element, name):
    return float(element.get(name))


def outside(drawing):
    """Texts of a drawing that leave every label."""
    root = tree.fromstring(drawing.encode())
    boxes = [(number(r, "x"), number(r, "y")) for r in root.iter(SVG + "rect") if r.get("x")]
    for text in root.iter(SVG + "text"):
        x, y, size = (number(text, n) for n in ("x", "y", "font-size"))
        right = x + COLUMN * size * len(text.text)
        if not any(bx < x and right < bx + WIDTH and by < y - 0.8 * size and y + 0.25 * size < by + HEIGHT
                   for bx, by in boxes):
            yield f"{text.text} leaves its label"


def drawn():
    """Every sheet of the demo, on both papers."""
    wrong, seen = [], ""
    for page in range(1, 9):
        for paper in ("a4", "letter"):
            drawing = labels("--format", "svg", "--sheet", str(page), "--paper", paper)
            wrong += outside(drawing)
        seen += drawing
    for line in labels("--format", "csv").splitlines()[1:]:
        if ">" + line.split(",")[0] + "<" not in seen:
            wrong.append(line + " has no label")
    return wrong


def rendered(folder):
    png = os.path.join(folder, "sheet.png")
    for words in (["--sheet", "1"], ["--new", "30", "--sheet", "2"]):
        drawing = labels("--format", "svg", *words)
        run = subprocess.run(["rsvg-convert", "-o", png], input=drawing.encode(), stdout=subprocess.PIPE,
                             stderr=subprocess.PIPE, check=False)
        if run.returncode or run.stderr or os.path.getsize(png) < 10000:
            yield f"rsvg-convert: {run.stderr.decode()}"


def printed(folder, browser):
    page = labels("--format", "html")
    sheets = page.count("<section>")
    for paper in ("A4", "letter"):
        source, pdf = os.path.join(folder, "labels.html"), os.path.join(folder, "labels.pdf")
        with open(source, "w", encoding="utf-8") as file:
            file.write(page.replace("@page{", "@page{size:" + paper + ";"))
        subprocess.run([browser, "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer",
                        "--user-data-dir=" + os.path.join(folder, "profile"), "--print-to-pdf=" + pdf, source],
                       stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False, timeout=120)
        with open(pdf, "rb") as file:
            pages = len(re.findall(rb"/Type\s*/Page\b", file.read()))
        if pages != sheets:
            yield f"{sheets} sheets fill {pages} pages of {paper}"


def main():
    tell("every text lies in its label", drawn())
    tree.fromstring(labels("--format", "html").split("\n", 1)[1])
    tree.fromstring(labels("--format", "html", "--new", "30").split("\n", 1)[1])
    tell("HTML is well-formed", [])
    with tempfile.TemporaryDirectory() as folder:
        if shutil.which("rsvg-convert"):
            tell("librsvg renders them", list(rendered(folder)))
        else:
            print("skip labels drawn: rsvg-convert is not here")
        browser = shutil.which("chromium") or shutil.which("chromium-browser")
        if browser:
            tell("a sheet is a page of A4 and of Letter", list(printed(folder, browser)))
        else:
            print("skip labels drawn: chromium is not here")
    return 1 if failures else 0


sys.exit(main())
