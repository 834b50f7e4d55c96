"""refresh_kill.py BUILD [KILLS PAIRS] - whatever happens to a refresh, its folder holds one whole set.

A folder has two states that differ in one cell. Of each one undisturbed run makes a set. Then runs are
killed at random instants, two run at once, and files may not grow beyond every size that a write could
reach; after each the output folder must be byte for byte one of the two sets, and what is left beside
it must go with the next run. `make refresh-kill` asks for 300 kills and 50 pairs, `check` for a few.
"""
import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time

BUILD = sys.argv[1]
KILLS, PAIRS = (int(sys.argv[2]), int(sys.argv[3])) if len(sys.argv) > 3 else (12, 2)
PROGRAM = os.path.abspath(os.path.join(BUILD, "conetide"))
TINY = os.path.abspath("tests/scenario/programmes/tiny")
AS_OF = "2027-02-20"


def command(work, state, *more):
    folder, out = os.path.join(work, state), os.path.join(work, "out")
    return [PROGRAM, "refresh", folder, "--into", out, "--as-of", AS_OF, *more]


# As cron would: no home, no terminal, no input.
CRON = {"PATH": "/usr/bin:/bin"}


def aside(work):
    """A build that counts lines writes its counts elsewhere where a run may not end."""
    return {**CRON, "GCOV_PREFIX": work + ".counts", "GCOV_ERROR_FILE": "/dev/null"}


def run(work, state, *more, env=None, **options):
    return subprocess.run(command(work, state, *more), env=env or CRON, stdin=subprocess.DEVNULL,
                          capture_output=True, text=True, **options)


def read_set(folder):
    found = {}
    for name in sorted(os.listdir(folder)):
        with open(os.path.join(folder, name), "rb") as file:
            found[name] = file.read()
    return found


def beside(work):
    return sorted(set(os.listdir(work)) - {"one", "other", "out", "out.lock"})


class Checks:
    def __init__(self, work):
        self.work, self.failed = work, False
        self.sets = {}

    def prepare(self):
        for state in ("one", "other"):
            shutil.copytree(TINY, os.path.join(self.work, state))
        path = os.path.join(self.work, "other", "crosses.csv")
        with open(path, encoding="utf-8") as file:
            text = file.read()
        with open(path, "w", encoding="utf-8") as file:
            file.write(text.replace(",60,", ",90,"))
        for state in ("one", "other"):
            result = run(self.work, state)
            assert result.returncode in (0, 1), result
            self.sets[state] = read_set(os.path.join(self.work, "out"))
            shutil.rmtree(os.path.join(self.work, "out"))
        assert self.sets["one"] != self.sets["other"]

    def is_whole(self, absent_too=False):
        out = os.path.join(self.work, "out")
        if not os.path.exists(out):
            return absent_too
        return read_set(out) in self.sets.values()

    def tell(self, good, name, why=""):
        self.failed = self.failed or not good
        print(f"ok {name}" if good else f"not ok {name}: {why}")

    def one_run_is_named_by_every_file(self):
        for found in self.sets.values():
            marker = found["run.csv"].decode()
            name = next(line for line in marker.splitlines() if line.startswith("run,"))[4:]
            listed = sorted(line[5:] for line in marker.splitlines() if line.startswith("file,"))
            bare = [file for file, text in found.items()
                    if name.encode() not in text.replace(b"\r\n ", b"") and text.count(b"\n") > 1]
            self.tell(not bare and listed == sorted(set(found) - {"run.csv"}),
                      "refresh: every file names its run", f"{bare} do not")

    def writing(self, child):
        """Wait until files are written or the run has ended; when that was."""
        while child.poll() is None and not any(name.startswith("out.new-") for name in beside(self.work)):
            time.sleep(0.0002)
        return time.monotonic()

    def start(self, state):
        return subprocess.Popen(command(self.work, state), env=aside(self.work), stdout=subprocess.DEVNULL,
                                stderr=subprocess.DEVNULL)

    def kills(self):
        broken, published = 0, 0
        run(self.work, "one")
        started = time.monotonic()
        child = self.start("other")
        write = self.writing(child)
        child.wait()
        before_writing, while_writing = write - started, time.monotonic() - write
        before = read_set(os.path.join(self.work, "out"))
        for i in range(KILLS):
            child = self.start(("one", "other")[i % 2])
            if i % 4 == 0:
                time.sleep(before_writing * random.random())
            else:  # where files are written, folders change places and old ones go
                self.writing(child)
                time.sleep(while_writing * 1.4 * random.random())
            child.send_signal(signal.SIGKILL)
            child.wait()
            broken += not self.is_whole()
            now = read_set(os.path.join(self.work, "out"))
            published += now != before
            before = now
            if i % 5 < 4:  # what is left is there for the next; now and then one is left alone
                continue
            run(self.work, "one")
            before = read_set(os.path.join(self.work, "out"))
            broken += beside(self.work) != []
        self.tell(broken == 0, f"refresh: {KILLS} runs killed, each leaves one whole set",
                  f"{broken} did not")
        left = beside(self.work)
        run(self.work, "one")
        run(self.work, "other")
        self.tell(beside(self.work) == [] and self.is_whole(), "refresh: what killed runs left goes with the next",
                  str(beside(self.work)))
        print(f"seen: {published} of {KILLS} killed refreshes had published, {len(left)} leftovers at the end")

    def pairs(self):
        broken, statuses = 0, []
        for i in range(PAIRS):
            more = ("--wait", "60") if i % 2 else ()
            both = [subprocess.Popen(command(self.work, state, *more), stdout=subprocess.DEVNULL,
                                     stderr=subprocess.DEVNULL) for state in ("one", "other")]
            ended = [child.wait() for child in both]
            statuses.append(ended)
            held = sum(status == 5 for status in ended)
            broken += not self.is_whole() or held > (0 if more else 1) or any(status not in (0, 1, 5) for status in ended)
            broken += beside(self.work) != []
        self.tell(broken == 0, f"refresh: {PAIRS} pairs at once, one whole set each time", str(statuses))

    def full_disks(self):
        """Files may not grow beyond a size: the write that would is refused, as by a full disk."""
        run(self.work, "one")
        sizes = sorted({len(text) for text in self.sets["other"].values()})
        limits = sorted({0, 1, 100} | {size - 1 for size in sizes if size > 1})
        broken = []
        for limit in limits:
            result = run(self.work, "other", env=aside(self.work),
                         preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit)))
            lines = result.stderr.splitlines()
            if (result.returncode != 4 or len(lines) != 1 or result.stdout or beside(self.work)
                    or read_set(os.path.join(self.work, "out")) != self.sets["one"]):
                broken.append((limit, result.returncode, result.stderr))
        self.tell(not broken, f"refresh: {len(limits)} full disks, the old set stands, status 4, one line",
                  str(broken[:3]))

    def nothing_new(self):
        run(self.work, "one")
        out = os.path.join(self.work, "out")

        def times():
            return [(name, os.stat(os.path.join(out, name)).st_mtime_ns, os.stat(os.path.join(out, name)).st_ino)
                    for name in sorted(os.listdir(out))] + [os.stat(out).st_mtime_ns, os.stat(out).st_ino]
        before = times()
        run(self.work, "one")
        self.tell(times() == before, "refresh: a second run touches nothing")


def main():
    random.seed()
    with tempfile.TemporaryDirectory() as above:
        work = os.path.join(above, "work")
        os.mkdir(work)
        checks = Checks(work)
        checks.prepare()
        checks.one_run_is_named_by_every_file()
        checks.kills()
        checks.pairs()
        checks.full_disks()
        checks.nothing_new()
        return 1 if checks.failed else 0


if __name__ == "__main__":
    sys.exit(main())
