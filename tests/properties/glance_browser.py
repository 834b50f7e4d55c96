"""glance_browser.py BUILD - the season at a glance in headless Chromium: sorted, filtered, worked by keys, printed.

Chromium is driven through chromedriver by the W3C WebDriver protocol; both are skipped where they are not installed.
What does not need a browser (well-formed, nothing from outside) is looked at in any case.
"""
import base64
import json
import os
import re
import shutil
import socket
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
import xml.etree.ElementTree as xml

build = sys.argv[1]
program = os.path.join(build, "conetide")
failures = 0


def tell(good, name, why=""):
    global failures
    if not good:
        failures += 1
    print(("ok " if good else "not ok ") + name + (": " + str(why) if why and not good else ""))


class Browser:
    """The little of WebDriver that is needed."""

    def __init__(self, profile):
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            port = free.getsockname()[1]
        self.driver = subprocess.Popen(["chromedriver", "--port=%d" % port], stdout=subprocess.DEVNULL,
                                       stderr=subprocess.DEVNULL)
        self.base = "http://127.0.0.1:%d" % port
        self.session = ""
        arguments = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
                     "--disable-background-networking", "--disable-component-update", "--disable-sync",
                     "--user-data-dir=" + profile]
        wanted = {"capabilities": {"alwaysMatch": {"goog:chromeOptions": {"args": arguments}}}}
        for _ in range(100):
            try:
                self.session = "/session/" + self.call("POST", "/session", wanted)["sessionId"]
                return
            except urllib.error.URLError:
                time.sleep(0.2)
        raise SystemExit("chromedriver does not answer")

    def call(self, method, path, body=None):
        data = None if body is None else json.dumps(body).encode()
        request = urllib.request.Request(self.base + self.session + path, data, {"Content-Type": "application/json"},
                                         method=method)
        with urllib.request.urlopen(request, timeout=120) as answer:
            return json.load(answer)["value"]

    def run(self, script, *arguments):
        return self.call("POST", "/execute/sync", {"script": script, "args": list(arguments)})

    def element(self, selector):
        found = self.call("POST", "/element", {"using": "css selector", "value": selector})
        return next(iter(found.values()))

    def type(self, element, text):
        self.call("POST", "/element/%s/value" % element, {"text": text})

    def close(self):
        try:
            self.call("DELETE", "")
        finally:
            self.driver.terminate()
            self.driver.wait()


COLUMN = """
var table = document.getElementById(arguments[0]), head = table.querySelectorAll('thead button'), index = -1;
head.forEach(function (button, i) { if (button.textContent === arguments_name) { index = i; } });
return Array.prototype.filter.call(table.tBodies[0].rows, function (row) { return !row.hidden; })
    .map(function (row) { var cell = row.cells[index], v = cell.getAttribute('data-v');
                          return v === null ? cell.textContent : v; });
""".replace("arguments_name", "column")


def column(browser, table, name):
    return browser.run("var column = arguments[1];" + COLUMN, table, name)


def heading(browser, table, name):
    """The number of a heading, for nth-child."""
    return browser.run("var found = 0, name = arguments[1];"
                       "document.querySelectorAll('#' + arguments[0] + ' thead button').forEach("
                       "function (b, i) { if (b.textContent === name) { found = i + 1; } }); return found;",
                       table, name)


def look(browser, page):
    browser.call("POST", "/url", {"url": "file://" + page})
    errors = browser.run("return performance.getEntriesByType('resource').length;")
    tell(errors == 0, "the page asks for nothing from outside", errors)

    dates = column(browser, "schedule-table", "date")
    at = "#schedule-table th:nth-child(%d) button" % heading(browser, "schedule-table", "date")
    browser.call("POST", "/element/%s/click" % browser.element(at), {})
    tell(column(browser, "schedule-table", "date") == sorted(dates), "a click on a heading sorts up")
    browser.call("POST", "/element/%s/click" % browser.element(at), {})
    down = column(browser, "schedule-table", "date")
    tell(down == sorted(dates, reverse=True) and down != sorted(dates), "a second click sorts down")
    tell(browser.run("return document.querySelector(arguments[0]).parentNode.getAttribute('aria-sort');", at)
         == "descending", "which way it is sorted is told to who cannot see it")

    wanted = [float(v) for v in column(browser, "status-table", "seeds wanted") if v != ""]
    at = "#status-table th:nth-child(%d) button" % heading(browser, "status-table", "seeds wanted")
    browser.run("document.querySelector(arguments[0]).focus();", at)
    browser.type(browser.element(at), "\ue007")  # the enter key
    numbers = [float(v) for v in column(browser, "status-table", "seeds wanted") if v != ""]
    tell(numbers == sorted(wanted) and numbers != [], "the enter key on a heading sorts, numbers as numbers")

    tags = column(browser, "schedule-table", "tag")
    box = browser.element("#schedule-table-filter")
    browser.type(box, tags[0].upper() + " bag")
    shown = column(browser, "schedule-table", "tag")
    told = browser.run("return document.getElementById('schedule-table-told').textContent;")
    tell(shown != [] and len(shown) < len(tags) and told == "%d of %d rows" % (len(shown), len(tags)),
         "words in the box leave the rows that hold them all", told)
    browser.type(box, "\ue003" * 40)  # backspace
    tell(len(column(browser, "schedule-table", "tag")) == len(tags), "an emptied box shows all again")

    order = browser.run("""
        var focusable = Array.prototype.filter.call(document.querySelectorAll('a, button, input'),
            function (e) { return e.tabIndex >= 0; });
        return [focusable.length, document.querySelectorAll('a, button, input').length];""")
    tell(order[0] == order[1] > 10, "every control is reached by the tab key", order)

    # One table is enough of a print, and a fifth of it: all of it takes a minute.
    browser.run("""
        document.querySelectorAll('section').forEach(function (s) { if (s.id !== 'schedule') { s.remove(); } });
        var body = document.getElementById('schedule-table').tBodies[0];
        while (body.rows.length > 150) { body.deleteRow(150); }""")
    for name, size in (("A4", (21.0, 29.7)), ("Letter, landscape", (27.94, 21.59))):
        pdf = base64.b64decode(browser.call("POST", "/print", {"page": {"width": size[0], "height": size[1]}}))
        tell(pdf.startswith(b"%PDF"), "it prints on " + name)
        if shutil.which("pdftotext"):
            text = subprocess.run(["pdftotext", "-layout", "-", "-"], input=pdf, capture_output=True).stdout.decode()
            pages = text.split("\f")
            schedule = [p for p in pages if re.search("Larkmoor|Sedgeby|Hawkfell", p)]
            heads = [p for p in schedule if re.search(r"\bhalf", p) and re.search(r"\bcrew\b", p)]
            tell(len(schedule) > 1 and len(heads) == len(schedule), "headings stand on every printed page, " + name,
                 "%d of %d" % (len(heads), len(schedule)))
            tell("rows with all of these words" not in text, "filters are not printed, " + name)


with tempfile.TemporaryDirectory() as work:
    page = os.path.join(work, "glance.html")
    subprocess.run([program, "chart", "--as-of", "2027-03-01", "--format", "html", "--out", page, "data/demo"],
                   check=True, stderr=subprocess.DEVNULL)
    root = xml.parse(page).getroot()
    tell(root.tag.endswith("html"), "the page is well-formed")
    outside = [value for element in root.iter() for name, value in element.attrib.items()
               if name in ("src", "href") and not value.startswith("#")]
    tell(outside == [], "no link, script, style or picture from outside", outside)
    if shutil.which("chromedriver") and shutil.which("chromium"):
        browser = Browser(os.path.join(work, "profile"))
        try:
            look(browser, page)
        finally:
            browser.close()
    else:
        print("skip the season at a glance in a browser: chromium and chromedriver are not installed")
sys.exit(1 if failures else 0)
