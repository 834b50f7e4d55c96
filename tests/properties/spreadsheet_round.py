"""spreadsheet_round.py BUILD - what a real spreadsheet program makes of the workbook and of the CSV.

Tags and texts that spreadsheets spoil go through `--format sheet` into gnumeric and come out as they went in:
text as text, days as days, numbers as numbers. The same texts as CSV are never computed. Skipped where ssconvert
is not installed; the workbook is read as XML all the same.
"""
import csv
import datetime
import os
import shutil
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as xml

build = sys.argv[1]
program = os.path.abspath(os.path.join(build, "conetide"))
tiny = "tests/scenario/programmes/tiny"
SS = "{urn:schemas-microsoft-com:office:spreadsheet}"
converter = shutil.which("ssconvert")

# One text a run, as the colour of a flag; the tags of the two grafts alike.
TEXTS = ["0012", "1E5", "=1+1", "+red", "-white", "@blue", "2027-03-08", "MAR-8", "1/2", "TRUE", "12345678901234567890",
         "a & b", "<b>", "5%", "12:30", "red, white", "\u00e9t\u00e9", "-5"]
TAGS = [("0012", "1E5"), ("G001", "G002")]


def tell(good, name, why=""):
    print(("ok " if good else "not ok ") + name + (": " + why if why and not good else ""))


def folder_with(work, text, tags):
    folder = os.path.join(work, "in")
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(tiny, folder)
    with open(folder + "/selections.csv", "w", newline="") as out:
        rows = csv.writer(out, lineterminator="\n")
        rows.writerow(["selection", "species", "breeding_value", "flag_colour"])
        rows.writerow(["T10", "shortleaf", "10.1", text])
        rows.writerow(["T11", "shortleaf", "9.0", text])
    for name in ("grafts.csv", "notes.csv"):
        with open(os.path.join(folder, name)) as file:
            table = file.read().replace("G001", tags[0]).replace("G002", tags[1])
        with open(os.path.join(folder, name), "w") as file:
            file.write(table)
    return folder


def crossing(folder, *words):
    run = subprocess.run([program, "crossing", "--as-of", "2027-02-20", *words, folder], capture_output=True)
    if run.returncode != 0:
        raise SystemExit("crossing: " + run.stderr.decode())
    return run.stdout


def converted(work, name, *words):
    """The file as the program shows it: texts of cells of its first worksheet, and what it complained of."""
    out = os.path.join(work, "out.csv")
    run = subprocess.run([converter, *words, os.path.join(work, name), out], capture_output=True,
                         env=dict(os.environ, LC_ALL="C.UTF-8", HOME=work))
    with open(out, newline="", encoding="utf-8") as file:
        rows = list(csv.reader(file))
    # A pane that stays in view is passed over by this program; others heed it.
    said = [line for line in run.stderr.decode().splitlines()
            if line.strip() and not line.startswith(("Unexpected element", "\tWorkbook ->"))]
    return rows, " ".join(said)


def is_as_it_was(column, wanted, got):
    if wanted == got:
        return True
    if column in ("date", "latest_safe", "as_of"):  # shown by that program with its own strokes
        return datetime.date.fromisoformat(wanted).strftime("%Y/%m/%d") == got
    try:
        return float(wanted) == float(got)
    except ValueError:
        return False


def types_of(workbook):
    """Column name -> the types of its cells, of the first worksheet."""
    rows = [[(cell.find(SS + "Data").get(SS + "Type"), cell.find(SS + "Data").text)
             if cell.find(SS + "Data") is not None else (None, "") for cell in row.findall(SS + "Cell")]
            for row in xml.fromstring(workbook).find(SS + "Worksheet").find(SS + "Table").findall(SS + "Row")]
    return {name[1]: {row[i][0] for row in rows[1:]} - {None} for i, name in enumerate(rows[0])}, len(rows) - 1


worst_sheet, worst_csv, seen, complaints = "", "", 0, ""
with tempfile.TemporaryDirectory() as work:
    for text in TEXTS:
        for tags in TAGS:
            folder = folder_with(work, text, tags)
            wanted = list(csv.DictReader(crossing(folder, "--format", "csv", "--plain").decode().splitlines()))
            workbook = crossing(folder, "--format", "sheet")
            types, rows = types_of(workbook)
            if rows != len(wanted) or types["tag"] != {"String"} or types["date"] != {"DateTime"} or \
                    types["flag"] != {"String"} or types["chance"] != {"Number"}:
                worst_sheet = worst_sheet or "types of %s: %s" % (text, types)
            if not converter:
                continue
            with open(work + "/in.xml", "wb") as out:
                out.write(workbook)
            got, said = converted(work, "in.xml")
            complaints = complaints or said
            for row, cells in zip(wanted, got[1:]):
                for cell, (name, value) in zip(cells, row.items()):
                    seen += 1
                    if not is_as_it_was(name, value, cell):
                        worst_sheet = worst_sheet or "%s is '%s', was '%s'" % (name, cell, value)
            if len(got) - 1 != len(wanted) or list(wanted[0]) != got[0]:
                worst_sheet = worst_sheet or "rows or names differ with %s" % text
            with open(work + "/in.csv", "wb") as out:
                out.write(crossing(folder, "--format", "csv"))
            got, _ = converted(work, "in.csv", "--import-encoding=UTF-8")
            at = got[0].index("flag")
            for cells in got[1:]:
                if text[0] in "=+-@" and cells[at].lstrip("'") != text:
                    worst_csv = worst_csv or "flag is '%s', was '%s'" % (cells[at], text)
    folder = folder_with(work, "red", TAGS[1])
    two = xml.fromstring(subprocess.run([program, "harvest", "--as-of", "2027-02-20", "--format", "sheet", folder],
                                        capture_output=True).stdout)
    names = [sheet.get(SS + "Name") for sheet in two.findall(SS + "Worksheet")]
    same = crossing(folder, "--format", "sheet") == crossing(folder, "--format", "sheet")

tell(names == ["harvest bags", "harvest crosses", "about"], "two tables are two worksheets of one workbook", str(names))
tell(same, "the workbook is the same bytes each time")
if converter:
    tell(not worst_sheet, "text, days and numbers of the workbook come out of a spreadsheet as they went in", worst_sheet)
    tell(not complaints, "the spreadsheet program takes the workbook without a complaint", complaints)
    tell(not worst_csv, "text of the CSV that looks like a formula is not computed", worst_csv)
    tell(seen > 5000, "thousands of cells were compared", str(seen))
    print("seen: %d cells through a spreadsheet program" % seen)
else:
    tell(not worst_sheet, "text, days and numbers of the workbook are declared as such", worst_sheet)
    print("skip the workbook in a spreadsheet program: ssconvert is not installed")
