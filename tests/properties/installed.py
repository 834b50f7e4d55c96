"""installed.py BUILD - what `make install` puts in place: manual pages that mandoc has nothing to say of, and completion
that a real bash and a real zsh carry out. What is not installed here is skipped."""
import glob
import os
import re
import shutil
import subprocess
import sys
import tempfile

build = sys.argv[1]


def tell(good, name, why=""):
    print(("ok " if good else "not ok ") + name + (": " + why if why and not good else ""))


def run(words, **more):
    return subprocess.run(words, capture_output=True, text=True, **more)


with tempfile.TemporaryDirectory() as root:
    flags = {key: value for key, value in os.environ.items() if key not in ("MAKEFLAGS", "MFLAGS", "MAKELEVEL", "MAKEOVERRIDES")}
    # The program as it was built: nothing is compiled anew.
    made = run(["make", "B=" + build, "DESTDIR=" + root, "PREFIX=/usr", "-o", build + "/conetide", "-o",
                build + "/libconetide-phenology.a", "install"], env=flags)
    tell(made.returncode == 0, "make install succeeds", made.stderr[-300:])
    share = root + "/usr/share"
    path = root + "/usr/bin:" + os.environ["PATH"]
    environment = dict(os.environ, PATH=path, MANPATH=share + "/man", LC_ALL="C.UTF-8", HOME=root)

    commands = run(["conetide", "--complete", ""], env=environment).stdout.split()
    commands = [word for word in commands if not word.startswith("-")]
    wanted = {"conetide.1", "conetide-tables.5"} | {"conetide-%s.1" % command for command in commands}
    pages = sorted(glob.glob(share + "/man/man?/*"))
    tell({os.path.basename(page) for page in pages} == wanted and len(commands) > 12, "every command has a manual page",
         str(wanted ^ {os.path.basename(page) for page in pages}))
    if shutil.which("mandoc"):
        # That program looks for the pages of others in the system's own folders alone; here they are looked for below.
        lint = "".join(line for page in pages
                       for line in run(["mandoc", "-T", "lint", page], env=environment).stdout.splitlines(True)
                       if "referenced manual not found: Xr conetide" not in line)
        named = {"%s.%s" % named for page in pages
                 for named in re.findall(r"^\.(?:It )?Xr (\S+) (\d)", open(page, encoding="utf-8").read(), re.M)}
        tell(named == wanted, "the pages name each other, and no other page", str(named ^ wanted))
        tell(not lint, "mandoc has nothing to say of any page", lint[:400])
        lost = ""
        for command in commands:
            page = re.sub(".\b", "", run(["mandoc", "-T", "utf8", "%s/man/man1/conetide-%s.1" % (share, command)],
                                         env=environment).stdout)
            options = re.findall(r"^  (--[a-z-]+)", run(["conetide", command, "--help"], env=environment).stdout, re.M)
            lost += "".join(" %s %s" % (command, option) for option in options if "     " + option not in page)
        tell(not lost, "each option of the help stands in the manual", lost)
    else:
        print("skip manual pages: mandoc is not installed")

    def bash(*words):
        script = ('. "$1"; shift; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _conetide; printf "%s\\n" "${COMPREPLY[@]}"')
        done = run(["bash", "-c", script, "bash", share + "/bash-completion/completions/conetide", "conetide", *words],
                   env=environment)
        return done.stdout.split("\n")[:-1] if done.stdout.strip() else []

    def zsh(*words):
        # compadd and _files are what the completion system would give; here they tell what they were asked.
        script = ('compadd() { shift; print -rl -- "$@" }; _files() { print -r -- FILES }; file=$1; shift; words=("$@"); '
                  'CURRENT=$#; . "$file"')
        done = run(["zsh", "-f", "-c", script, "zsh", share + "/zsh/site-functions/_conetide", "conetide", *words],
                   env=environment)
        return [word for word in done.stdout.split("\n")[:-1] if word != "FILES"]

    cases = [
        (["flow"], ["flowering"]),
        (["flowering", "--format", ""], ["csv", "json", "sheet", "text"]),
        (["crossing", "--stat"], ["--status", "--status-number"]),
        (["fit", "--event", "shed"], ["shed_first", "shed_last", "shed_peak"]),
        (["why", "data/demo", "T013"], ["T0138"]),
        (["flowering", "data/demo", "--only", "T0138"], ["T0138"]),
        (["fit", "--as-of", "2027-03-02", "data/demo", "--site", ""], ["Hawkfell", "Larkmoor", "Sedgeby"]),
        (["crossing", "data/demo", "--propose", "half-diallel", "--parents", "S301"], ["S301"]),
        (["heat", "data/demo", ""], ["HOLM", "TARN"]),
        (["chart", "data/demo", "m"], ["map", "minutes"]),
        (["demand", "--table", "s"], ["selections", "supplies"]),
        (["flowering", "--out", ""], []),
        (["flowering", ""], []),
        (["why", "data/none", "T"], []),
        (["strange", "--"], []),
        (["heat", "--counts", "chill-p"], ["chill-portions"]),
        (["heat", "--cutoff", "h"], ["horizontal"]),
        (["heat", "--curve", "double-s"], ["double-sine"]),
        (["heat", "--units", ""], ["si", "us"]),
        (["crossing", "--propose", "fact"], ["factorial"]),
        (["grafting", "--placement", "--table", "tr"], ["trees"]),
        (["demand", "data/demo", "--only", "T"], []),
        (["tags", "data/demo", "--check", "T0138"], ["T0138"]),
    ]
    for name, complete in (("bash", bash), ("zsh", zsh)):
        if not shutil.which(name):
            print("skip completion in %s: it is not installed" % name)
            continue
        wrong = ["%s gives %s" % (" ".join(words), complete(*words)) for words, offers in cases if complete(*words) != offers]
        tell(not wrong, "%s completes commands, options, values, tags, selections, sites" % name, "; ".join(wrong[:3]))
    removed = run(["make", "B=" + build, "DESTDIR=" + root, "PREFIX=/usr", "uninstall"], env=flags)
    left = [os.path.join(at, name) for at, _, names in os.walk(root + "/usr") for name in names]
    tell(removed.returncode == 0 and not left, "make uninstall leaves no file", ", ".join(left))
