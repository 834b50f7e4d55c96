"""tables_explained.py BUILD - every table of every command is explained, documented and as its JSON Schema says.

`--explain` has a meaning for each column; docs/columns.md and docs/tables.schema.json are what the program tells;
JSON of the demo holds to the schema (skipped where python3-jsonschema is not installed; names and order never are).
"""
import glob
import json
import os
import re
import sys

sys.path.insert(0, "tests/forms")
import tables as forms  # noqa: E402

# Made by `conetide refresh` alone, beside the pages of commands.
OF_REFRESH = {"conetide changes 1"}


def tell(good, name, why=""):
    print(("ok " if good else "not ok ") + name + (": " + why if why and not good else ""))


def same_as(path, text):
    with open(path) as file:
        return file.read() == text


def sheets_in(answer):
    return [answer] if "rows" in answer else [value for value in answer.values() if isinstance(value, dict)]


if "asan" in sys.argv[1]:
    print("skip tables explained: minutes under sanitizers, and of nothing that others do not run")
    sys.exit(0)
demo = forms.Demo(sys.argv[1])
tables = forms.tables_of(demo)
unexplained = ["%s.%s" % (schema, row["column"]) for schema, (_, rows) in tables.items() for row in rows
               if not row["meaning"]]
tell(not unexplained, "every column has a meaning", ", ".join(unexplained))

sources = "".join(open(path).read() for path in glob.glob("src/*/*.c") if not path.endswith("_test.c"))
made = set(re.findall(r'sheet_init\([^;]*?"(conetide [a-z ]+ \d+)"', sources)) | \
    set(re.findall(r'\? "(conetide [a-z ]+ \d+)" *: *"', sources))
missing = made - set(tables) - OF_REFRESH - {"conetide explain 1"}
tell(not missing and len(made) > 30, "every table of the sources is in tests/forms/commands", ", ".join(sorted(missing)))

names = {row["column"] for _, rows in tables.values() for row in rows}
stems = {re.sub(r"_(p10|p50|p90|expected|low|high)$", "", name) for name in names}
columns = set(re.findall(r'\{"([a-z0-9_]+)", ', sources))
idle = [name for name in re.findall(r'^    \{(?:NULL|"[a-z ]+"), "([a-z0-9_]+)", ', open("src/writing/dictionary.c").read(), re.M)
        if name not in names | stems | columns]
tell(not idle, "the dictionary has no word that no table uses", ", ".join(idle))

tell(same_as(forms.COLUMNS, forms.columns_page(tables)),
     "docs/columns.md is what --explain tells", "make it anew: python3 tests/forms/tables.py build")
tell(same_as(forms.SCHEMA, forms.json_schema(tables)),
     "docs/tables.schema.json is what --explain tells", "make it anew: python3 tests/forms/tables.py build")

sys.path.append("/usr/lib/python3/dist-packages")  # where Debian puts it, whatever python3 is first
try:
    import jsonschema
    with open(forms.SCHEMA) as file:
        schema = json.load(file)
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
except (ImportError, AttributeError):
    validator = None

ROWS_CHECKED = 150  # of a table by its schema: rows are alike, and all of them take minutes
wrong, invalid, rows_seen, rows_checked = "", "", 0, 0
for words in forms.command_lines():
    answer = json.loads(demo.run(words, "--format", "json"))
    for sheet in sheets_in(answer):
        known = [row["column"] for row in tables[sheet["schema"]][1]]
        for row in sheet["rows"]:
            rows_seen += 1
            if list(row) != [name for name in known if name in row]:
                wrong = wrong or "%s: %s" % (sheet["schema"], list(row))
        sheet["rows"] = sheet["rows"][:ROWS_CHECKED]
        rows_checked += len(sheet["rows"])
    if validator and not validator.is_valid(answer):
        error = next(validator.iter_errors(answer))
        invalid = invalid or "%s: %s" % (" ".join(words), error.message[:200])
tell(not wrong and rows_seen > 2000, "columns of JSON stand in the order that is documented", wrong or str(rows_seen))
if validator:
    tell(not invalid, "JSON of every command on the demo is valid by its schema", invalid)
    broken = json.loads(demo.run(["tags", "--new", "1", "data/demo"], "--format", "json"))
    broken["rows"][0]["tag"] = 7
    tell(not validator.is_valid(broken), "a number in place of a tag is not valid")
    print("seen: %d rows of JSON, %d of them checked against the schema" % (rows_seen, rows_checked))
else:
    print("skip the JSON Schema: python3-jsonschema is not installed")
