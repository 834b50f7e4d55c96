"""cycle_walk.py BUILD - one graft from scion to seed: four years of weekly worklists, typed back every week.

An invented orchard of one tree begins in July 2026 with two selections and a wanted cross. Every Monday the week's
worklist is printed as CSV, what stands on it is done on its day, and the filled-in page goes back through `conetide
note` on Sunday. Nothing is written to notes.csv by any other hand but weather events. Every task of the shipped table
must come up, within its own days, for both crops, and in the end the seed counted must be the seed noted.
"""
import csv
import datetime
import io
import math
import os
import subprocess
import sys
import tempfile
from collections import defaultdict

build = os.path.abspath(sys.argv[1])
program = os.path.join(build, "conetide")
failures = 0
DAY = datetime.timedelta(days=1)
FIRST, LAST = datetime.date(2026, 7, 6), datetime.date(2031, 2, 3)
few = "asan" in build


def tell(good, name, why=""):
    global failures
    if not good:
        failures += 1
    print(("ok " if good else "not ok ") + name + (": " + str(why) if why and not good else ""))


def weather():
    """Invented: a sine of the year with a wave of three weeks on it, the same for every run."""
    rows = ["date,tmin_c,tmax_c"]
    day = datetime.date(2008, 1, 1)
    while day <= LAST + 20 * DAY:
        n = (day - datetime.date(2008, 1, 1)).days
        mean = 17.5 - 9.5 * math.cos(2 * math.pi * (n - 15) / 365.25) + 3 * math.sin(n / 3.3) + 1.5 * math.sin(n / 57.1)
        rows.append("%s,%.1f,%.1f" % (day, mean - 5.5, mean + 5.5))
        day += DAY
    return "\n".join(rows) + "\n"


TABLES = {
    "sites.csv": "site,station,latitude,longitude,elevation_m\nFernhope,FERN,32.2,-83,61\n",
    "trees.csv": "tree,site,block,row,position,species,clone,uses,places_top,places_middle,health\n"
                 "F-1,Fernhope,a,1,1,loblolly,C7,graft,4,2,sound\nF-2,Fernhope,a,1,2,loblolly,C8,graft,4,2,sound\n"
                 "F-3,Fernhope,a,1,3,loblolly,C9,graft,4,2,sound\n",
    "selections.csv": "selection,species,breeding_value\nS1,loblolly,1\nS2,loblolly,2\n",
    "grafts.csv": "tag,selection,tree,crown,branch,grafted_on,batch\n",
    "scions.csv": "batch,selection,cut_on,count,store_c\n",
    "crosses.csv": "cross,seed_parent,pollen_parent,seeds_wanted\nC1,S1,S2,1200\n",
    "pollen.csv": "lot,selection,state,volume_ml,measured_on,germination_pct,tested_on\n"
                  "P2,S2,stored,40,2026-07-01,88,2026-07-01\nP3,S2,planned,,,,\n",
    "crews.csv": "crew,lift,site,from,to,weekdays,hours_per_day\nAlder,L1,Fernhope,2026-07-01,2031-06-30,,8\n",
    "lifts.csv": "lift,site,from,to,hours_per_day,reach_m\nL1,Fernhope,2026-07-01,2031-06-30,8,20\n",
    "notes.csv": "date,note,tag,bag,tree,crown,branch,lot,cross,batch,site,block,task,selection,value,by,remarks,entry\n",
}


class Folder:
    def __init__(self, path):
        self.path = path
        os.makedirs(os.path.join(path, "weather"))
        for name, text in TABLES.items():
            self.write(name, text)
        self.write("weather/FERN.csv", weather())

    def write(self, name, text):
        with open(os.path.join(self.path, name), "w") as file:
            file.write(text)

    def add(self, name, line):
        with open(os.path.join(self.path, name), "a") as file:
            file.write(line + "\n")

    def run(self, command, day, *words, given=None):
        run = subprocess.run([program, command, "--as-of", str(day), *words[:-1], self.path, *words[-1:]]
                             if words and not words[-1].startswith("--") and command == "note" else
                             [program, command, "--as-of", str(day), *words, self.path],
                             input=given, capture_output=True, text=True, cwd=self.path)
        if run.returncode != 0:
            raise SystemExit("not ok %s %s %s: status %d\n%s%s" %
                             (command, day, words, run.returncode, run.stderr[-3000:], (given or "")[-1500:]))
        return run.stdout


def kinds():
    with open("data/defaults/tasks.csv", encoding="utf-8", newline="") as file:
        return {row["task"]: row for row in csv.DictReader(file)}


class Walk:
    def __init__(self, folder, table):
        self.folder, self.table = folder, table
        self.seen = defaultdict(list)   # task -> days on lists
        self.done = defaultdict(list)   # task -> (subject, day)
        self.grafted = {}               # tag -> day
        self.dead = set()
        self.seeds = 0
        self.batches = 0

    def kind(self, task):
        return self.table["pollinate" if task == "pollinate again" else task]

    def value(self, row, closing):
        """What the crew writes down."""
        tag = row["tag"]
        if closing == "survival":
            if tag == self.victim() and row["task"] == "first check of grafts":
                self.dead.add(tag)
            return "dead" if tag in self.dead else "alive"
        return {"strobili": "7", "bagged": "3", "pollinated": "", "unbagged": "3", "conelets": "2", "cones": "2",
                "ripeness": "19/20", "germination": "86", "collected": "12"}.get(closing, "")

    def victim(self):
        """The graft that fails: the last by name of the first winter's."""
        first = min(self.grafted.values())
        return max(tag for tag, day in self.grafted.items() if day.year == first.year)

    def take(self, row, monday):
        task, kind = row["task"], self.kind(row["task"])
        closing = (kind["closed_by"] or "").split("+")[0].split(";")[0].split(" ")[0]
        day = datetime.date.fromisoformat(row["date"]) if row["date"] else monday + 4 * DAY
        self.seen[task].append(day)
        if row["tag"] in self.dead and closing in ("survival", "strobili", ""):
            return
        if task == "label and store scions":  # the batch is written into the manager's table, not noted
            self.batches += 1
            self.folder.add("scions.csv", "B%d,%s,%s,40,3" % (self.batches, row["selection"], day))
            self.done[task].append((row["selection"], day))
            return
        row["done_on"], row["by"] = str(day), "LM"
        row["value"] = self.value(row, closing)
        if closing == "bagged":
            row["stage"] = "2"
        if closing == "pollinated":
            row["stage"] = "5"
        if closing == "grafted":
            self.grafted[row["tag"]] = day
        if closing == "seeds":
            row["value"] = str(37 + 3 * len(self.done[task]))
            self.seeds += int(row["value"])
        self.done[task].append((row["bag"] or row["tag"] or row["tree"] or row["selection"], day))

    def week(self, monday):
        week = "%d-W%02d" % monday.isocalendar()[:2]
        page = self.folder.run("worklist", monday, "--week", week, "--format", "csv")
        rows = list(csv.DictReader(io.StringIO(page)))
        if not rows:
            return
        for row in rows:
            self.take(row, monday)
        filled = io.StringIO()
        writer = csv.DictWriter(filled, rows[0].keys(), lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)
        self.folder.run("note", monday + 6 * DAY, "-", given=filled.getvalue())


def main():
    global failures
    table = kinds()
    with tempfile.TemporaryDirectory() as work:
        folder = Folder(os.path.join(work, "orchard"))
        walk = Walk(folder, table)
        monday = FIRST
        while monday <= (datetime.date(2028, 1, 3) if few else LAST):
            for day, kind, value in EVENTS:
                if monday <= day < monday + 7 * DAY:
                    folder.add("notes.csv", "%s,%s,,,,,,,,,Fernhope,,,,%s,LM,," % (day, kind, value))
            walk.week(monday)
            monday += 7 * DAY
        look(walk, folder, few)


# A late frost after grafting, a storm, a spray, a frost at flowering.
EVENTS = [(datetime.date(2027, 3, 2), "frost", "-4"), (datetime.date(2027, 8, 18), "storm", ""),
          (datetime.date(2028, 3, 8), "frost", "-3.5"), (datetime.date(2027, 4, 20), "sprayed", "48")]


def look(walk, folder, few):
    never = sorted(task for task in walk.table if task not in walk.seen)
    print("seen: %d kinds of work on %d rows, %d grafts, %d bags harvested" %
          (len(walk.seen), sum(map(len, walk.seen.values())), len(walk.grafted), len(walk.done["harvest cones"])))
    if os.environ.get("WALK"):
        for task in walk.table:
            days = sorted(set(walk.seen[task]))
            print("  %-45s %3d rows, first %s last %s, done %d" %
                  (task, len(walk.seen[task]), days[0] if days else "-", days[-1] if days else "-",
                   len(walk.done[task])))
    if not few:
        tell(never == [], "every task of the shipped table comes up", never)
    for task, kind in walk.table.items():
        for end in ("earliest", "latest"):
            if not kind[end].startswith("graft.done+"):
                continue
            offset = int(kind[end][len("graft.done+"):])
            wrong = [(tag, day) for tag, day in walk.done[task] if tag in walk.grafted and
                     ((end == "earliest" and day < walk.grafted[tag] + offset * DAY) or
                      (end == "latest" and day > walk.grafted[tag] + offset * DAY))]
            tell(wrong == [], "%s: done within its days by the day of grafting, %s %+d" % (task, end, offset), wrong)
    if few:
        return
    rows = list(csv.DictReader(io.StringIO(folder.run("harvest", LAST, "--crosses", "--format", "csv"))))
    counted = [float(row["seeds_counted"]) for row in rows if row["cross"] == "C1"]
    tell(walk.seeds > 0 and counted == [walk.seeds], "the seed counted is the seed noted", (walk.seeds, counted))
    years = {day.year for _, day in walk.done["harvest cones"]}
    tell(years >= {2029, 2030}, "both crops of the first winter's grafts are harvested", years)


main()
sys.exit(1 if failures else 0)
