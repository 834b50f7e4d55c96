"""one_life.py BUILD - a programme of one graft lived by its pages: printed on Monday, typed back on Sunday.

From the winter in which scions are cut to the seed of the second crop every line of every worklist is filled
in and typed back with `conetide note`; the test itself writes only the tables that a manager owns. Ends with the
seed counted of both crops, and prints which kinds of work came up.
"""

import collections
import csv
import datetime
import io
import math
import os
import shutil
import subprocess
import sys

BUILD = sys.argv[1]
WORK = os.path.join(BUILD, "one_life")
FIRST, LAST = datetime.date(2026, 1, 5), datetime.date(2030, 4, 1)
VALUES = {"bagged": "3", "unbagged": "3", "survival": "alive", "strobili": "6", "conelets": "3", "cones": "3",
          "seeds": "75", "ripeness": "19/20", "germination": "80", "collected": "10"}
TABLES = {
    "sites": "site,station,latitude,longitude,elevation_m,utc_offset_h,workable_share\nGlade,GLA,32.0,-40,60,-3,0.8\n",
    "trees": "tree,site,block,row,position,species,clone,uses,selection,places_top,places_middle,places_low\n"
             "G1,Glade,a,1,1,slash,K1,graft,,1,0,0\nG2,Glade,a,1,2,shortleaf,,scions,A1,,,\n"
             "G3,Glade,a,1,3,shortleaf,,pollen,B1,,,\n",
    "selections": "selection,species,breeding_value,flag_colour\nA1,shortleaf,10,red\nB1,shortleaf,9,blue\n",
    "grafts": "tag,selection,tree,crown,branch,grafted_on\n",
    "scions": "batch,selection,cut_on,source_tree,count\n",
    "crosses": "cross,seed_parent,pollen_parent,seeds_wanted,priority\nA1xB1,A1,B1,2000,1\n",
    "pollen": "lot,selection,source_tree,state,ready_on,volume_ml,measured_on,germination_pct,tested_on\n"
              "P1,B1,G3,stored,,60,2026-01-02,80,2026-01-02\n"
              "P2,B1,G3,planned,2028-03-20,,,,\n",
    "crews": "crew,lift,site,from,to,weekdays,hours_per_day\n"
             "Wren,L1,,2026-01-01,2030-12-31,Mo Tu We Th Fr Sa Su,10\n",
    "lifts": "lift,site,from,to,hours_per_day,reach_m\nL1,,2026-01-01,2030-12-31,10,20\n",
}
# What no worklist asks.
HAPPENED = [("2026-02-20", "frost", "-3.5"), ("2026-06-10", "storm", ""), ("2027-03-04", "frost", "-3.2")]


def weather():
    """A mild winter and a hot summer, a day like the same day of any year but for a slow wave."""
    day, lines = datetime.date(2010, 1, 1), ["date,tmin_c,tmax_c"]
    while day <= datetime.date(2030, 12, 31):
        mean = 17 - 10.5 * math.cos(2 * math.pi * (day.timetuple().tm_yday - 20) / 365.25)
        mean += 1.5 * math.sin(2 * math.pi * (day - datetime.date(2010, 1, 1)).days / 3.3 / 365.25)
        lines.append(f"{day},{mean - 6:.1f},{mean + 6:.1f}")
        day += datetime.timedelta(days=1)
    return "\n".join(lines) + "\n"


def conetide(*words, stdin=None):
    return subprocess.run([os.path.join(BUILD, "conetide"), *words], input=stdin, stdout=subprocess.PIPE,
                          stderr=subprocess.PIPE, check=False, text=True)


def must(done, what):
    if done.returncode:
        print(f"not ok {what}: status {done.returncode}\n{done.stderr}")
        sys.exit(1)
    return done.stdout


def rows_of(text):
    return list(csv.DictReader(io.StringIO(text)))


def read(path):
    with open(path, newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def fill(row, monday, closed):
    """Every line is done on its day; at its first check the graft looks doubtful."""
    kind = closed[row["task"]]
    row["done_on"] = row["date"] or str(monday)
    row["value"] = "doubtful" if row["task"] == "first check of grafts" else VALUES.get(kind, "")
    row["stage"] = {"bagged": "2", "pollinated": "5", "unbagged": "6"}.get(kind, "")
    row["by"] = "ME"
    return row


def text_of(rows):
    text = io.StringIO()
    writer = csv.DictWriter(text, rows[0].keys(), lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue()


def make_folder():
    folder = os.path.join(WORK, "programme")
    shutil.rmtree(WORK, ignore_errors=True)
    os.makedirs(os.path.join(folder, "weather"))
    for table, text in {**TABLES, "weather/GLA": weather()}.items():
        with open(f"{folder}/{table}.csv", "w", encoding="utf-8") as file:
            file.write(text)
    return folder


def live(folder, closed):
    """Week by week; what came up how often, and what was done on which graft when."""
    came, done, cut, monday = collections.Counter(), [], False, FIRST
    while monday < LAST:
        sunday = str(monday + datetime.timedelta(days=6))
        week = "{0}-W{1:02d}".format(*monday.isocalendar())
        rows = rows_of(must(conetide("worklist", "--as-of", str(monday), "--week", week, "--format", "csv", folder),
                            f"worklist of {week}"))
        came.update(row["task"] for row in rows)
        if rows:
            page = text_of([fill(row, monday, closed) for row in rows])
            done += [(row["task"], row["tag"], datetime.date.fromisoformat(row["done_on"])) for row in rows]
            must(conetide("note", "--as-of", sunday, folder, "-", stdin=page), f"the page of {week}")
        for day, kind, value in HAPPENED:
            if str(monday) <= day <= sunday:
                must(conetide("note", "--as-of", sunday, folder, "-",
                              stdin=f"note,date,site,value\n{kind},{day},Glade,{value}\n"), f"{kind} of {day}")
        if not cut and any(row["task"] == "collect scions" for row in rows):
            cut = True
            with open(f"{folder}/scions.csv", "a", encoding="utf-8") as file:
                file.write(f"26-A1,A1,{monday},G2,1\n")
        monday += datetime.timedelta(days=7)
    return came, done


def beside_their_days(kinds, done):
    """What was done sooner or later after its graft was made than its row of tasks.csv says, and how often it was
    looked at."""
    made = {tag: day for task, tag, day in done if task == "graft"}
    wrong, looked = [], 0
    for kind in kinds:
        for end, sign in (("earliest", 1), ("latest", -1)):
            if not kind[end].startswith("graft.done+"):
                continue
            days = int(kind[end][len("graft.done+"):])
            for task, tag, day in done:
                if task == kind["task"] and tag in made:
                    looked += 1
                    if sign * ((day - made[tag]).days - days) < 0:
                        wrong.append(f"{task} {(day - made[tag]).days} days after, {end} {days}")
    return wrong, looked


def check(name, wrong):
    print(f"not ok {name}: {wrong}" if wrong else f"ok {name}")


def main():
    folder = make_folder()
    kinds = read("data/defaults/tasks.csv")
    closed = {row["task"]: row["closed_by"] for row in kinds}
    closed["pollinate again"] = "pollinated"
    came, done_lines = live(folder, closed)
    check("every page of four years is taken", None)
    never = sorted(set(closed) - set(came))
    check("every kind of work comes up", ", ".join(never))
    wrong, looked = beside_their_days(kinds, done_lines)
    check("checks come within their days from that of grafting", ", ".join(wrong) if looked >= 10 else f"{looked} seen")
    bags = rows_of(must(conetide("harvest", "--as-of", str(LAST), "--format", "csv", folder), "harvest"))
    crops = {int(row["season"]): row for row in bags if row["counted"] == "seeds" and float(row["seeds_expected"]) == 75}
    check("seed of both crops is counted", None if set(crops) == {2027, 2028} else f"crops {sorted(crops)}")
    status = must(conetide("crossing", "--status", "--as-of", str(LAST), "--format", "csv", folder), "status")
    check("the cross has its seed", None if rows_of(status)[0]["seeds_counted"] == str(75 * len(bags)) else status)
    done = conetide("check", "--as-of", str(LAST), folder)
    check("the folder has no fault", done.stdout if done.returncode else None)
    touched = []
    for table, text in TABLES.items():
        with open(f"{folder}/{table}.csv", encoding="utf-8") as file:
            now = file.read()
        touched += [table] if not now.startswith(text) or (table != "scions" and now != text) else []
    check("tables of the manager are as they were", ", ".join(touched))
    print(f"seen: {sum(came.values())} lines of {len(came)} kinds of work typed back in "
          f"{(LAST - FIRST).days // 7} weeks, {len(read(f'{folder}/notes.csv'))} notes, {len(bags)} bags with seed")


main()
