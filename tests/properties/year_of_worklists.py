"""year_of_worklists.py BUILD [all] - the worklists of the demo's year: 52 weeks with `all`, else every fourth, of a
sanitizer build every seventeenth.

Each page is at most 80 columns wide and 58 lines long and names its crew, its day and its number; every line of the
CSV has a code of its own with its check character, and its day in its week. Over the whole year work of the seasons
comes up in its seasons.
"""
import csv
import datetime
import io
import os
import re
import subprocess
import sys
import unicodedata

build = sys.argv[1]
whole = len(sys.argv) > 2
program = os.path.join(build, "conetide")
failures = 0
FIRST = datetime.date(2026, 7, 6)
ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"

# Months in which each may be printed (the demo's site lies north of the base of the calendar): a wide net.
SEASONS = {"survey interstock": range(8, 13), "graft": (2, 3, 4), "collect scions": (1, 2, 3, 4), "bag": (2, 3, 4),
           "pollinate": (3, 4), "unbag": (3, 4, 5, 6, 7), "test ripeness": (9, 10, 11), "harvest cones": (9, 10, 11, 12),
           "second conelet count": (6, 7, 8, 9), "summer survival count": (6, 7, 8, 9, 10, 11),
           "order isolation bags": (9, 10, 11, 12)}


def tell(good, name, why=""):
    global failures
    if not good:
        failures += 1
    print(("ok " if good else "not ok ") + name + (": " + str(why) if why and not good else ""))


def columns(line):
    return sum(0 if unicodedata.combining(c) else 2 if unicodedata.east_asian_width(c) in "WF" else 1 for c in line)


def mod_37_2(text):
    """ISO/IEC 7064 MOD 37-2 over the letters and digits of a code; 1 when it is right."""
    product = 0
    for character in text:
        product = (product * 2 + ALPHABET.index(character)) % 37
    return product


def run(monday, form):
    done = subprocess.run([program, "worklist", "--as-of", str(monday), "--format", form, "data/demo"],
                          capture_output=True, text=True)
    if done.returncode != 0:
        raise SystemExit("not ok worklist of %s: %s" % (monday, done.stderr))
    return done.stdout


wide, long, unnamed, twice, elsewhere, unchecked = [], [], [], [], [], []
seen, pages, lines, weeks = {}, 0, 0, 0
for number in range(0, 52, 1 if whole else 17 if "asan" in build else 4):
    monday = FIRST + datetime.timedelta(weeks=number)
    weeks += 1
    for page in run(monday, "text").split("\f"):
        if not page.strip():
            continue
        pages += 1
        rows = page.rstrip("\n").split("\n")
        wide += [(str(monday), row) for row in rows if columns(row) > 80]
        long += [str(monday)] if len(rows) > 58 else []
        unnamed += [] if re.search(r"page \d+ of \d+$", rows[0]) else [(str(monday), rows[0])]
    codes = set()
    for row in csv.DictReader(io.StringIO(run(monday, "csv"))):
        lines += 1
        seen.setdefault(row["task"], set()).add((monday + datetime.timedelta(days=6)).month)
        twice += [row["entry"]] if row["entry"] in codes else []
        codes.add(row["entry"])
        unchecked += [] if mod_37_2(row["entry"].replace("-", "")) == 1 else [row["entry"]]
        if row["date"] and not 0 <= (datetime.date.fromisoformat(row["date"]) - monday).days < 7:
            elsewhere.append((str(monday), row["date"]))
tell(wide == [], "no line is wider than 80 columns", wide[:3])
tell(long == [], "no page is longer than 58 lines", long[:3])
tell(unnamed == [], "every page says which of how many it is", unnamed[:3])
tell(twice == [], "every line has a code of its own", twice[:3])
tell(unchecked == [], "every code ends in its check character", unchecked[:3])
tell(elsewhere == [], "every dated line lies in its week", elsewhere[:3])
odd = {task: sorted(months - set(SEASONS[task])) for task, months in seen.items()
       if task in SEASONS and not months <= set(SEASONS[task])}
tell(odd == {}, "work of a season comes up in its season", odd)
tell(not whole or set(SEASONS) <= set(seen), "every season has its work", set(SEASONS) - set(seen))
print("seen: %d weeks, %d pages, %d lines of %d kinds of work" % (weeks, pages, lines, len(seen)))
if os.environ.get("YEAR"):
    for task in sorted(seen):
        print("  %-42s %s" % (task, " ".join(str(month) for month in sorted(seen[task]))))
sys.exit(1 if failures else 0)
