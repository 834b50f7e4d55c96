"""refresh_month.py BUILD [FOLDER FIRST NIGHTS] - a month of nightly runs, one night of it missed.

Each night's changes.csv must explain the difference of two plans: a visit planned in the set of the run
before, and still ahead, stands in the new plan as it was or has a row that tells from where, to where
and why; a row tells nothing that is not so. Visits of the firm days stay, or are told as firm. The
calendar goes on: no entry's number goes down, and an entry that is gone was cancelled. A second run of a night changes nothing. The demo folder for
31 nights is `make refresh-month`; `check` runs a small folder, whose tables and notes change on the way.
"""
import csv
import datetime
import os
import shutil
import subprocess
import sys
import tempfile

BUILD = sys.argv[1]
SMALL = len(sys.argv) < 5
FOLDER, FIRST, NIGHTS = ("tests/scenario/programmes/tiny", "2027-03-10", 10) if SMALL else (
    sys.argv[2], sys.argv[3], int(sys.argv[4]))
PROGRAM = os.path.abspath(os.path.join(BUILD, "conetide"))
FIRM_DAYS = 7


def rows_of(out, name):
    with open(os.path.join(out, name), newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def planned(out):
    return {(row["bag"], row["task"]): (row["date"], row["crew"], row["half_day"])
            for row in rows_of(out, "crossing.csv") if row["state"] == "planned"}


def entries(out):
    """Sequence and whether it is cancelled, by UID."""
    found, uid = {}, None
    with open(os.path.join(out, "calendar.ics"), newline="", encoding="utf-8") as file:
        text = file.read().replace("\r\n ", "")
    for line in text.split("\r\n"):
        name, _, value = line.partition(":")
        if name == "UID":
            uid = value
            found[uid] = [0, False]
        elif name == "SEQUENCE":
            found[uid][0] = int(value)
        elif name == "STATUS":
            found[uid][1] = value == "CANCELLED"
    return found


def noted(folder, day):
    """Bags that a note tells of by this day."""
    with open(os.path.join(folder, "notes.csv"), newline="", encoding="utf-8") as file:
        return {row.get("bag") for row in csv.DictReader(file)
                if row["note"] in ("bagged", "pollinated", "unbagged") and row["date"] <= day.isoformat()}


def change(folder, night, day):
    """Of the small folder: what is new this night, and the word for it."""
    if night == 2:
        path = os.path.join(folder, "lifts.csv")
        with open(path, encoding="utf-8") as file:
            text = file.read()
        with open(path, "w", encoding="utf-8") as file:
            file.write(text + "REACH,2027-04-06,2027-04-07,0,18\n")
        return "table edit"
    if night == 6:
        with open(os.path.join(folder, "notes.csv"), "a", encoding="utf-8") as file:
            file.write(f"{day},survival,G002,dead,AB\n")
        return "note"
    return None


def refresh(folder, out, day):
    result = subprocess.run([PROGRAM, "refresh", folder, "--into", out, "--as-of", day.isoformat()],
                            env={"PATH": "/usr/bin:/bin"}, stdin=subprocess.DEVNULL, capture_output=True, text=True)
    assert result.returncode in (0, 1), result
    assert (result.returncode == 1) == (result.stderr != ""), result
    return result.returncode


def compare(before, out, day, done, faults):
    """The plan of the run before against that of this night, by its changes."""
    now, moved = planned(out), {}
    for row in rows_of(out, "changes.csv"):
        moved[row["bag"], row["task"]] = row
        if not row["why"] or not row["reason"]:
            faults.append(f"{day}: {row['bag']} {row['task']} moved without a why")
        if row["to"] and now.get((row["bag"], row["task"]), ("",))[0] != row["to"]:
            faults.append(f"{day}: {row['bag']} {row['task']} is not on {row['to']}")
    firm_end = (day + datetime.timedelta(days=FIRM_DAYS)).isoformat()
    for visit, was in before.items():
        row = moved.get(visit)
        stands = now.get(visit, ("", "", ""))
        firm = was[0] < firm_end
        # Beyond the firm days a half-day is nothing that anybody was promised.
        if was[0] < day.isoformat() or visit[0] in done or stands[:3 if firm else 2] == was[:3 if firm else 2]:
            continue
        if row is None:
            faults.append(f"{day}: {visit} was {was}, is {now.get(visit)}, and no row tells")
        elif row["from"] != was[0]:
            faults.append(f"{day}: {visit} was on {was[0]}, told as {row['from']}")
        elif firm and row["firm"] != "yes":
            faults.append(f"{day}: {visit} of the firm days moved, told as not firm: {row['reason']}")
    return len(moved)


def calendar_goes_on(before, out, day, faults):
    now = entries(out)
    for uid, (sequence, cancelled) in before.items():
        if uid not in now:
            if not cancelled and uid_day(uid) >= day.isoformat().replace("-", ""):
                faults.append(f"{day}: entry {uid} is gone and was not cancelled")
        elif now[uid][0] < sequence:
            faults.append(f"{day}: entry {uid} went from number {sequence} to {now[uid][0]}")


def uid_day(uid):
    digits = [part for part in uid.replace("-", " ").replace("@", " ").split() if len(part) == 8 and part.isdigit()]
    return digits[0] if digits else ""


def main():
    faults, moves, wanted = [], 0, 0
    with tempfile.TemporaryDirectory() as work:
        out, folder = os.path.join(work, "out"), os.path.join(work, "in")
        shutil.copytree(FOLDER, folder)
        first = datetime.date.fromisoformat(FIRST)
        refresh(folder, out, first)
        for night in range(1, NIGHTS):
            day = first + datetime.timedelta(days=night)
            if night == NIGHTS // 2:
                continue
            new = change(folder, night, day) if SMALL else None
            before, calendar = planned(out), entries(out)
            wanted += refresh(folder, out, day)
            moved = compare(before, out, day, noted(folder, day), faults)
            moves += moved
            if new and (moved == 0 or new not in rows_of(out, "changes.csv")[0]["why"]):
                faults.append(f"{day}: {moved} visits moved, and {new} is not told as why")
            calendar_goes_on(calendar, out, day, faults)
            if night % 4 == 1:
                stamp = os.stat(out).st_mtime_ns, os.stat(out).st_ino
                refresh(folder, out, day)
                if (os.stat(out).st_mtime_ns, os.stat(out).st_ino) != stamp:
                    faults.append(f"{day}: a second run changed the set")
    for fault in faults[:20]:
        print(fault)
    print(f"{'not ok' if faults else 'ok'} refresh: {NIGHTS} nights, changes.csv explains every moved visit"
          + (f": {len(faults)} faults" if faults else ""))
    print(f"seen: {moves} moves in {NIGHTS} nights, {wanted} nights wanted a person")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
