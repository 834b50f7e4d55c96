"""charts_drawn.py BUILD - every picture of the demo, on days of the year, is well-formed XML and librsvg draws it.

Names with markup and wide characters in them must not break a picture. Drawing is
skipped where rsvg-convert is not installed; reading as XML never is.
"""
import os
import shutil
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as xml

build = sys.argv[1]
program = os.path.join(build, "conetide")
failures = 0
drawn = 0
read = 0
drawer = shutil.which("rsvg-convert")


def tell(good, name, why=""):
    global failures
    if not good:
        failures += 1
    print(("ok " if good else "not ok ") + name + (": " + why if why else ""))


def picture(folder, day, *words):
    run = subprocess.run([program, "chart", "--as-of", day, folder, *words], capture_output=True)
    if run.returncode != 0:
        raise SystemExit("chart %s: %s" % (words, run.stderr.decode()))
    return run.stdout


def look(svg, what):
    """Why it is no picture, or None."""
    global drawn, read
    try:
        root = xml.fromstring(svg)
    except xml.ParseError as error:
        return "%s: %s" % (what, error)
    read += 1
    if root.tag != "{http://www.w3.org/2000/svg}svg" or root.get("version") != "1.1":
        return "%s: not SVG 1.1" % what
    if root.find("{http://www.w3.org/2000/svg}title") is None:
        return "%s: no title for who cannot see it" % what
    width, height = float(root.get("width")), float(root.get("height"))
    for label in root.iter("{http://www.w3.org/2000/svg}text"):
        x, y = float(label.get("x")), float(label.get("y"))
        if not (0 <= x <= width and 0 <= y <= height):
            return "%s: '%s' stands outside the picture" % (what, label.text)
    if drawer:
        run = subprocess.run([drawer], input=svg, capture_output=True)
        if run.returncode != 0 or not run.stdout.startswith(b"\x89PNG"):
            return "%s: librsvg: %s" % (what, run.stderr.decode())
        drawn += 1
    return None


def pictures_of(folder, days, sites):
    for day in days:
        for words in ([], ["heat"], ["minutes"], *(["map", "--site", site] for site in sites)):
            why = look(picture(folder, day, *words), "%s %s" % (day, " ".join(words) or "windows"))
            if why:
                return why
    return None


few = "asan" in build
why = pictures_of("data/demo", ["2027-03-08"] if few else ["2026-07-01", "2026-12-15", "2027-02-20", "2027-03-15",
                                                          "2027-06-30", "2028-03-01"], ["Hawkfell", "Larkmoor"])
tell(why is None, "every picture of the demo can be read and drawn", why or "")

with tempfile.TemporaryDirectory() as work:
    hostile = os.path.join(work, "demo")
    shutil.copytree("data/demo", hostile)
    for table in os.listdir(hostile):
        path = os.path.join(hostile, table)
        if not table.endswith(".csv") or table == "sites.csv":
            continue
        with open(path, encoding="utf-8") as file:
            text = file.read()
        with open(path, "w", encoding="utf-8") as file:
            file.write(text.replace("S305", "S3<&'\u679d5"))
    why = pictures_of(hostile, ["2027-03-08"], ["Larkmoor"])
    tell(why is None, "names with markup break no picture", why or "")

print("seen: %d pictures read, %d drawn" % (read, drawn))
if not drawer:
    print("skip drawing by librsvg: rsvg-convert is not installed")
sys.exit(1 if failures else 0)
