"""typing_refused.py BUILD - pages with one contradiction each: refused at its line and cell, nothing added.

Every page begins with a row that is right, so that "all or nothing" is seen too.
"""

import csv
import io
import os
import re
import shutil
import subprocess
import sys

BUILD = sys.argv[1]
AS_OF = "2027-03-09"
WORK = os.path.join(BUILD, "typing_refused")
FOLDER = os.path.join(WORK, "demo")
ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*"


def code(serial):
    """A line code with its check character (ISO/IEC 7064 MOD 37-2)."""
    total = 0
    for byte in serial:
        if byte != "-":
            total = (total + ALPHABET.index(byte)) * 2 % 37
    return serial + ALPHABET[(38 - total) % 37]


def work(serial, task, **cells):
    """A row of a worklist; hung, pollinated and so on by its task."""
    return {"entry": code(f"2027-W10-A-{serial}"), "date": AS_OF, "task": task, **cells}


def bag(serial, name, cross, **cells):
    return work(serial, "bag", bag=name, cross=cross, **{"done_on": AS_OF, "value": "3", **cells})


def visit(serial, name, **cells):
    return work(serial, "pollinate", bag=name, **{"pollen_lot": "24-S103", "done_on": AS_OF, **cells})


def off(serial, name, **cells):
    return work(serial, "unbag", bag=name, **{"done_on": AS_OF, "value": "2", **cells})


def note(kind, **cells):
    return {"date": AS_OF, "note": kind, **cells}


RIGHT = bag(205, "R050U-27-1", "S207xS108")
HUNG = bag(202, "T116V-27-1", "S310xS101")

# name, rows, line and column of the fault, its code, a word of the advice
CASES = [
    ("pollinated and never bagged", [visit(203, "T116V-27-1")], 3, "bag", "bag-never-hung", "bagged note"),
    ("pollinated before it was bagged", [HUNG, visit(203, "T116V-27-1", done_on="2027-03-08", pollen_lot="24-S101")],
     4, "done_on", "pollinated-before-bagged", "on or after"),
    ("taken off and never bagged", [off(203, "T116V-27-1")], 3, "bag", "bag-never-hung", "bagged note"),
    ("taken off before it was bagged", [off(203, "R0213-27-1", done_on="2027-02-28")], 3, "done_on",
     "unbagged-before-bagged", "on or after"),
    ("cones of a bag that never hung", [note("cones", bag="T116V-26-1", value="4")], 3, "bag", "bag-never-hung",
     "bagged note"),
    ("cross on the wrong tag", [bag(203, "T116V-27-1", "S207xS108")], 3, "cross", "cross-not-of-graft",
     "correct the bag or the cross"),
    ("pollen of another parent", [visit(203, "R0213-27-1", pollen_lot="24-S101")], 3, "pollen_lot", "other-pollen",
     "correct the lot"),
    ("a lot that is not known", [visit(203, "R0213-27-1", pollen_lot="25-S999")], 3, "pollen_lot", "unknown-lot",
     "write '25-S2"),
    ("a lot that is not ready", [bag(203, "T119P-27-1", "S310xS311"), visit(204, "T119P-27-1", pollen_lot="27-S311")],
     4, "pollen_lot", "lot-not-ready", "ready_on"),
    ("more pollen than there was", [visit(203, "R0213-27-1", value="900")], 3, "value", "lot-overdrawn",
     "correct the amounts"),
    ("pollinated without a lot", [visit(203, "R0213-27-1", pollen_lot="")], 3, "task", "note-without-subject",
     "fill it in"),
    ("pollinated after it came off", [off(203, "R0213-27-1", done_on="2027-03-05"), visit(204, "R0213-27-1")], 4,
     "done_on", "pollinated-after-bag", "correct the date or the bag"),
    ("a bag typed now that an old visit comes before", [bag(203, "T116V-27-1", "S310xS101", done_on="2027-03-08"),
     visit(204, "T116V-27-1", done_on="2027-03-05", pollen_lot="24-S101")], 4, "done_on", "pollinated-before-bagged",
     "correct one of the dates"),
    ("tomorrow", [off(203, "R0213-27-1", done_on="2027-03-10")], 3, "done_on", "day-ahead", "wait for the day"),
    ("a note of tomorrow", [note("frost", date="2027-03-10", site="Larkmoor", value="-3")], 3, "date", "day-ahead",
     "wait for the day"),
    ("last year", [off(203, "R0213-27-1", done_on="2026-03-09")], 3, "done_on", "day-far-from-page",
     "check the year"),
    ("a day that is none", [off(203, "R0213-27-1", done_on="2027-02-30")], 3, "done_on", "no-such-day",
     "check month and day"),
    ("a day as a spreadsheet writes it", [off(203, "R0213-27-1", done_on="09/03/2027")], 3, "done_on", "bad-date",
     "write year, month and day so"),
    ("a second bag of the same name", [bag(203, "R0213-27-1", "S201xS103")], 3, "bag", "bagged-twice",
     "number the new bag"),
    ("a bag for two crosses", [HUNG, bag(203, "T116V-27-1", "S310xS311")], 4, "cross", "bag-of-two-crosses",
     "number the second bag"),
    ("the same name twice on one page", [HUNG, bag(203, "T116V-27-1", "S310xS101", value="4")], 4, "bag",
     "bagged-twice", "number the new bag"),
    ("a dead graft bagged", [bag(203, "R131S-27-1", "S312xS104", tag="R131S")], 3, "tag", "dead-graft-bagged",
     "correct the bag's tag"),
    ("taken off twice", [off(203, "R0213-27-1", done_on="2027-03-08"), off(204, "R0213-27-1")], 4, "bag",
     "bag-ended-twice", "remove the wrong note"),
    ("lost after it came off", [off(203, "R0213-27-1", done_on="2027-03-08"),
     off(204, "R0213-27-1", done_on="", value="", not_done="lost: wind")], 4, "bag", "bag-ended-twice",
     "remove the wrong note"),
    ("lost before it came off, as an old note says", [note("bag_lost", bag="R116Q-26-1", date="2026-03-16", value="wind")], 3,
     "bag", "bag-ended-twice", "with this row, line"),
    ("before the graft was made", [note("strobili", tag="V0079", date="2027-02-01", value="0")], 3, "date",
     "seen-before-grafted", "correct one of them"),
    ("a season that is not the bag's", [bag(203, "T116V-26-1", "S310xS101")], 3, "bag", "bag-season",
     "correct the date or the bag"),
    ("a bag without season and number", [bag(203, "T116V", "S310xS101")], 3, "bag", "bag-name", "correct the name"),
    ("a bag of an unknown tag", [bag(203, "T116W-27-1", "S310xS101")], 3, "bag", "unknown-tag", "write 'T116V'"),
    ("a bag of another tag", [bag(203, "T116V-27-1", "S310xS101", tag="R121W")], 3, "tag", "bag-of-other-graft",
     "sorted by a single column"),
    ("a tree of another row", [bag(203, "T116V-27-1", "S310xS101", tree="LK-R1-P1")], 3, "tree", "cells-of-two-rows",
     "sorted by a single column"),
    ("a site of another row", [bag(203, "T116V-27-1", "S310xS101", site="Hawkfell")], 3, "site", "cells-of-two-rows",
     "sorted by a single column"),
    ("a code that is mistyped", [{**off(203, "R0213-27-1"), "entry": "2027-W10-A-203K"}], 3, "entry",
     "entry-check-character", "look it up"),
    ("a code for two lines", [HUNG, off(202, "R0213-27-1")], 4, "entry", "entry-used-before", "correct the entry"),
    ("a cross that is not known", [bag(203, "T116V-27-1", "S310xS999")], 3, "cross", "unknown-cross", "correct the name"),
    ("a task that is not known", [work(203, "polinate", bag="R0213-27-1", done_on=AS_OF)], 3, "task", "unknown-task",
     "write 'pollinate'"),
    ("no task at all", [{**off(203, "R0213-27-1"), "task": ""}], 3, "entry", "row-without-task", "--page"),
    ("done and not done", [off(203, "R0213-27-1", not_done="rain")], 3, "not_done", "done-and-not-done",
     "blank the other"),
    ("a reason that is none", [off(203, "R0213-27-1", done_on="", value="", not_done="rian")], 3, "not_done",
     "unknown-reason", "write 'rain'"),
    ("a value and no day", [off(203, "R0213-27-1", done_on="")], 3, "done_on", "value-without-day", "fill it in"),
    ("remarks and no result", [off(203, "R0213-27-1", done_on="", value="", remarks="windy")], 3, "remarks",
     "remarks-alone", "fill in one"),
    ("a count that is none", [off(203, "R0213-27-1", value="few")], 3, "value", "note-value", "correct it"),
    ("a stage that is none", [off(203, "R0213-27-1", done_on="", value="", stage="7")], 3, "stage", "note-value",
     "correct it"),
    ("two stages of one day", [off(203, "R0213-27-1", done_on="", value="", stage="4"),
     off(204, "R0213-27-1", done_on="", value="", stage="5")], 4, "stage", "two-values-of-a-day", "remove the wrong"),
    ("a graft made again elsewhere", [note("grafted", tag="V0079", date="2027-02-16", tree="LK-R1-P1",
     selection="S201")], 3, "tag", "grafted-differs", "correct the wrong one"),
    ("a new graft on a dead tree", [note("grafted", tag="V0095", tree="LK-R4-P2", selection="S201")], 3, "tree",
     "graft-on-dead-tree", "correct"),
    ("a new tag like another", [note("grafted", tag="v0079", tree="LK-R1-P1", selection="S201")], 3, "tag",
     "similar-identifiers", "rename one"),
    ("a new graft of a batch that is not known", [note("grafted", tag="V0095", tree="LK-R1-P1", selection="S201",
     batch="2027-S999")], 3, "batch", "unknown-batch", "that is"),
    ("a new graft of a selection that is not known", [note("grafted", tag="V0095", tree="LK-R1-P1",
     selection="S999")], 3, "selection", "unknown-selection", "that is"),
    ("a site that is not known", [note("storm", site="Larkmore")], 3, "site", "unknown-site", "write 'Larkmoor'"),
    ("a task of a note that is not known", [note("done", task="unbagg", bag="R0213-27-1")], 3, "task",
     "unknown-task", "write 'unbag'"),
    ("one of many rows that an old note contradicts", [note("storm", site=site, date=f"2027-0{month}-03") for month in
     (1, 2, 3) for site in ("Larkmoor", "Hawkfell")] + [note("bag_lost", bag="R116Q-26-1", date="2026-03-16",
     value="wind")] + [note("storm", site="Sedgeby", date=f"2027-0{month}-03") for month in (1, 2)], 9, "bag",
     "bag-ended-twice", "with this row, line"),
    ("a new graft on no tree", [note("grafted", tag="V0095", selection="S201")], 3, "note", "note-without-subject",
     "fill it in"),
    ("a new tag that is taken", [note("retagged", tag="T116V", value="R121W")], 3, "value", "tag-taken", "is free"),
    ("a selection that is not known", [note("relabelled", tag="T116V", value="S999")], 3, "value",
     "unknown-selection", "correct the name"),
    ("a frost in Fahrenheit", [note("frost", site="Larkmoor", value="26")], 3, "value", "note-value", "degC"),
    ("a block in which no tree stands", [note("sprayed", site="Larkmoor", block="uper", value="12")], 3, "block",
     "unknown-block", "correct the block"),
    ("a kind of note that is none", [note("baged", bag="T116V-27-1")], 3, "note", "unknown-word", "bagged"),
    ("a note and a result in one row", [note("stage", bag="R0213-27-1", value="4", done_on=AS_OF)], 3, "note",
     "note-and-result", "a row of its own"),
]


def page(rows):
    columns = []
    for row in rows:
        columns += [name for name in row if name not in columns]
    text = io.StringIO()
    writer = csv.DictWriter(text, columns, lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return columns, text.getvalue()


def run(text):
    path = os.path.join(WORK, "page.csv")
    with open(path, "w", encoding="utf-8") as file:
        file.write(text)
    return path, subprocess.run([os.path.join(BUILD, "conetide"), "note", "--as-of", AS_OF, FOLDER, path],
                                stdout=subprocess.PIPE, stderr=subprocess.PIPE, check=False, text=True)


def contents():
    with open(os.path.join(FOLDER, "notes.csv"), "rb") as file:
        return file.read()


def judge(case, before):
    """What is wrong with how this page was refused; None: nothing."""
    _, rows, line, column, fault, advice = case
    columns, text = page([RIGHT] + rows)
    path, done = run(text)
    lines = done.stderr.splitlines()
    wanted = f"{path}:{line}:{columns.index(column) + 1}: error: "
    told = [found for found in lines if found.startswith(wanted) and found.endswith(f"[{fault}]")]
    if done.returncode != 3 or done.stdout:
        return f"status {done.returncode}, expected 3 and no output"
    if contents() != before:
        return "notes.csv is another one"
    if not told or advice not in told[0] or "expected" not in told[0]:
        return f"expected {wanted}... {advice} ... [{fault}]"
    others = [found for found in lines if re.search(r": error: ", found) and found not in told]
    if others:
        return f"more than the one fault: {others[0]}"
    if "nothing was added" not in lines[-1]:
        return "the last line does not say that nothing was added"
    return None


def main():
    shutil.rmtree(WORK, ignore_errors=True)
    shutil.copytree("data/demo", FOLDER)
    before = contents()
    for case in CASES:
        wrong = judge(case, before)
        if wrong:
            _, text = page([RIGHT] + case[1])
            print(f"not ok refused: {case[0]}: {wrong}\n{text}{run(text)[1].stderr}")
        else:
            print(f"ok refused: {case[0]}")
    left = sorted(os.listdir(FOLDER))
    if left != sorted(os.listdir("data/demo") + ["notes.csv.lock"]):
        print(f"not ok nothing is left behind: {left}")
    done = run(page([RIGHT])[1])[1]
    if done.returncode or contents() == before:
        print(f"not ok the row that is right is taken: {done.stderr}")
    else:
        print("ok the row that is right is taken")
    print(f"seen: {len(CASES)} contradictions in typed pages, {len({case[4] for case in CASES})} kinds of fault")


main()
