"""tables.py - the tables of every command, as `--explain` tells of them on the demo.

`tests/forms/commands` lists a command line for each table. From these rows docs/columns.md and docs/tables.schema.json are
made, so pages and program cannot drift apart: `python3 tests/forms/tables.py BUILD` writes both anew.
"""
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile

AS_OF = "2027-03-02"
COLUMNS, SCHEMA = "docs/columns.md", "docs/tables.schema.json"


class Demo:
    """Runs command lines on the demo as of one day, with the plan, the page and the folder that some of them need."""

    def __init__(self, build):
        self.program = os.path.abspath(os.path.join(build, "conetide"))
        self.work = tempfile.TemporaryDirectory()
        self.plan = os.path.join(self.work.name, "plan.csv")
        self.page = os.path.join(self.work.name, "page.csv")
        self.chilled = shutil.copytree("data/demo", os.path.join(self.work.name, "demo"))
        with open(self.chilled + "/program.json") as file:
            program = json.load(file)
        program.setdefault("clocks", {})["cold-then-warm"] = {
            "counts": "heat", "curve": "sine", "lower_c": 5, "start": "01-01",
            "after_chilling": {"counts": "chilling-hours-0-8", "need": 600, "start": "11-01"}}
        with open(self.chilled + "/program.json", "w") as file:
            json.dump(program, file)
        earlier = self.run(["crossing", "--format", "csv", "data/demo"], as_of="2027-03-01")
        with open(self.plan, "w") as out:
            out.write(earlier)
        with open(self.page, "w") as out:
            out.write("date,note,tag,value,by\n2027-03-01,strobili,T0138,7,AB\n")

    def run(self, words, *more, as_of=AS_OF):
        words = [{"PLAN": self.plan, "PAGE": self.page, "CHILLED": self.chilled}.get(word, word) for word in words]
        done = subprocess.run([self.program, words[0], "--as-of", as_of, *more, *words[1:]], capture_output=True,
                              text=True, stdin=subprocess.DEVNULL)
        if done.returncode != 0:
            raise SystemExit("not ok conetide %s: status %d: %s" % (" ".join(words), done.returncode, done.stderr))
        return done.stdout


def command_lines():
    with open("tests/forms/commands") as file:
        return [line.split() for line in file if line.strip() and not line.startswith("#")]


def tables_of(demo):
    """schema -> (command line, rows of --explain), in the order of the list; CSV and JSON may have tables of their own.

    A column that not every command line gives is marked "optional"."""
    tables = {}
    for words in command_lines():
        for form in ("csv", "json"):
            now = {}
            for row in explained(demo, words, form):
                now.setdefault(row["schema"], []).append(row)
            for schema, rows in now.items():
                known = tables.setdefault(schema, (words, rows))[1]
                names = [row["column"] for row in rows]
                for row in known:
                    if row["column"] not in names:
                        row["optional"] = True
                known += [dict(row, optional=True) for row in rows
                          if row["column"] not in [other["column"] for other in known]]
    return tables


def explained(demo, words, form):
    out = demo.run(words, "--explain", "--format", form)
    if form == "json":
        return json.loads(out)["rows"]
    import csv
    return list(csv.DictReader(out.splitlines()))


def columns_page(tables):
    page = ["# Columns", "",
            "The tables that commands print are an interface: a table keeps its name, the order of its columns and their",
            "kinds; new columns come at the end. What breaks that raises the version, the number after the table's name, which",
            "stands under `schema` in JSON. The same name means the same everywhere; where a table gives it another sense, its",
            "list says which. Missing is an empty cell, in JSON null. A day that is never reached reads `not reached`, or `chilling",
            "not met`. CSV and JSON are always in degrees C, metres and ISO days. `--explain` prints these lists; this page is",
            "made of them (`python3 tests/forms/tables.py build`), and a test compares.", ""]
    for schema, (words, rows) in sorted(tables.items()):
        name, version = re.fullmatch(r"conetide (.*) (\d+)", schema).groups()
        line = " ".join(word for word in words if word != "data/demo")
        page += ["## %s, version %s" % (name, version), "", "`conetide %s`" % line, "", "| column | kind | unit | meaning |",
                 "| --- | --- | --- | --- |"]
        page += ["| `%s` | %s | %s | %s |" % (row["column"], row["kind"], row["unit"] or "",
                                                 row["meaning"] + ("; not always there" if "optional" in row else "")) for row in rows]
        page.append("")
    return "\n".join(page)


def cell_schema(row):
    return {"type": {"text": ["string", "null"], "day": ["string", "null"], "number": ["number", "null"],
                     "whole number": ["integer", "null"]}[row["kind"]],
            **({"pattern": "^([0-9]{4}-[0-9]{2}-[0-9]{2}|not reached|chilling not met)$"} if row["kind"] == "day" else {}),
            **({"minimum": 0, "maximum": 1} if row["unit"] == "0 to 1" else {}),
            "description": row["meaning"] + (" [%s]" % row["unit"] if row["unit"] and row["kind"] != "day" else "")}


def key_of(schema):
    return schema.replace("conetide ", "", 1).replace(" ", "-")


def json_schema(tables):
    definitions = {}
    for schema, (_, rows) in sorted(tables.items()):
        definitions[key_of(schema)] = {
            "type": "object",
            "required": ["schema", "rows"],
            "properties": {
                "schema": {"const": schema},
                "rows": {"type": "array", "items": {
                    "type": "object", "additionalProperties": False,
                    "required": [row["column"] for row in rows if "optional" not in row],
                    "properties": {row["column"]: cell_schema(row) for row in rows}}}},
            "additionalProperties": {"type": "number"}}
    of = [{"if": {"properties": {"schema": {"const": schema}}}, "then": {"$ref": "#/$defs/" + key_of(schema)}}
          for schema in sorted(tables)]
    return json.dumps({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Tables that conetide prints with --format json",
        "description": "Either one table, or several as members of one object. Options that take a part of a table "
                       "(--columns) leave out columns that are required here.",
        "type": "object",
        "if": {"required": ["rows"]},
        "then": {"$ref": "#/$defs/table"},
        "else": {"required": ["schema"], "minProperties": 2,
                 "properties": {"schema": {"type": "string", "pattern": "^conetide .* [0-9]+$"}},
                 "additionalProperties": {"$ref": "#/$defs/table"}},
        "$defs": {"table": {"type": "object", "required": ["schema", "rows"],
                            "properties": {"schema": {"enum": sorted(tables)}}, "allOf": of},
                  **definitions},
    }, indent=1, ensure_ascii=False) + "\n"


def main():
    tables = tables_of(Demo(sys.argv[1]))
    for path, text in ((COLUMNS, columns_page(tables)), (SCHEMA, json_schema(tables))):
        with open(path, "w") as out:
            out.write(text)


if __name__ == "__main__":
    main()
