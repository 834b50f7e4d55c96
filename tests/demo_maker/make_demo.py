#!/usr/bin/env python3
"""Makes data/demo, an invented programme folder.

    python3 tests/demo_maker/make_demo.py            writes data/demo below the current directory
    python3 tests/demo_maker/make_demo.py FOLDER     writes FOLDER instead

Nothing is read and no clock is asked: the same program gives the same bytes.  Chance comes from a
generator of its own, so that no version of Python changes the folder.  README.md of the folder is
written by hand and left alone.
"""
import csv
import math
import os
import sys
from datetime import date, timedelta

AS_OF = date(2027, 3, 2)
WEATHER_FROM, WEATHER_TO = date(1996, 7, 1), date(2027, 3, 20)
DAY = timedelta(days=1)


class Chance:
    """SplitMix64; whole-number arithmetic only."""

    def __init__(self, seed):
        self.state = seed

    def bits(self):
        mask = (1 << 64) - 1
        self.state = (self.state + 0x9E3779B97F4A7C15) & mask
        z = self.state
        z = ((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9) & mask
        z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & mask
        return z ^ (z >> 31)

    def share(self):
        return (self.bits() >> 11) / (1 << 53)

    def normal(self):
        return sum(self.share() for _ in range(12)) - 6.0

    def whole(self, low, high):
        return low + self.bits() % (high - low + 1)

    def pick(self, items):
        return items[self.bits() % len(items)]

    def happens(self, chance):
        return self.share() < chance

    def count(self, mean):
        """A count with a variance somewhat above its mean, as strobili have."""
        return max(0, int(mean + self.normal() * math.sqrt(mean * 1.6) + 0.5))


def check_character(text):
    """ISO/IEC 7064 MOD 37-2."""
    alphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*"
    p = 0
    for c in text:
        if c != "-":
            p = (p + alphabet.index(c)) * 2 % 37
    return alphabet[(38 - p) % 37]


def tags_of(letter):
    """Tags in the order in which they were issued; check characters I, O and * are passed over."""
    serial = 0
    while True:
        serial += 1
        text = "%s%03d" % (letter, serial)
        check = check_character(text)
        if check not in "IO*":
            yield text + check


def working_day(day):
    while day.weekday() > 4:
        day += DAY
    return day


# ---------------------------------------------------------------------------------------- weather

WEATHER_CHANCE = 12


def make_weather(chance):
    """Daily extremes of two stations, deg C: a year's round, slow spells, fronts, a small trend."""
    holm, tarn = [], []
    slow, front, other = 0.0, 0.0, 0.0
    day = WEATHER_FROM
    while day <= WEATHER_TO:
        of_year = day.timetuple().tm_yday
        round_ = math.cos(2 * math.pi * (of_year - 18) / 365.25)  # 1 in the depth of winter
        winter = 0.5 + 0.5 * round_
        slow = 0.975 * slow + 0.222 * chance.normal() * 1.75
        front = 0.68 * front + 0.733 * chance.normal()
        other = 0.5 * other + 0.866 * chance.normal()
        trend = 0.018 * (day.year - 2011)
        mean = 18.7 - 9.3 * round_ + trend + slow * (0.35 + 0.65 * winter)
        mean += front * (1.5 + 2.9 * winter)
        spread = 11.6 + 0.9 * math.sin(2 * math.pi * (of_year - 60) / 365.25)
        spread += 2.4 * chance.normal() - 0.35 * front
        spread = max(2.5, spread)
        holm.append((day, mean - spread / 2, mean + spread / 2))
        mean2 = mean - 0.95 + 0.7 * other
        spread2 = max(2.5, spread + 0.8 + 1.1 * chance.normal())
        tarn.append((day, mean2 - spread2 / 2, mean2 + spread2 / 2))
        day += DAY
    return holm, tarn


def fahrenheit(c):
    return math.floor(c * 1.8 + 32 + 0.5)


def rounded_as_read(holm, tarn):
    """What the station sheets hold: tenths of deg C at HOLM, whole deg F at TARN."""
    holm = [(d, math.floor(a * 10 + 0.5) / 10, math.floor(b * 10 + 0.5) / 10) for d, a, b in holm]
    tarn = [(d, fahrenheit(a), fahrenheit(b)) for d, a, b in tarn]
    return holm, tarn


def write_weather(folder, chance, holm, tarn):
    gaps = {
        "HOLM": [(date(2003, 6, 9), 12), (date(2011, 4, 18), 6), (date(2019, 8, 30), 24),
                 (date(2022, 2, 11), 3)],
        "TARN": [(date(2000, 10, 2), 17), (date(2008, 6, 20), 41), (date(2014, 2, 3), 9),
                 (date(2025, 11, 21), 4)],
    }
    for name, unit, rows in (("HOLM", "c", holm), ("TARN", "f", tarn)):
        lost = {start + i * DAY for start, days in gaps[name] for i in range(days)}
        out = []
        for day, tmin, tmax in rows:
            drop = chance.share()
            if day in lost or drop < 0.0006:
                continue
            form = "%.1f" if unit == "c" else "%d"
            low, high = form % tmin, form % tmax
            if drop < 0.0026:
                low = ""
            elif drop < 0.0042:
                high = ""
            out.append([day, low, high])
        write(folder, "weather/%s.csv" % name, ["date", "tmin_" + unit, "tmax_" + unit], out)


# --------------------------------------------------------------------------------------- flowering


def sine_units(tmin, tmax, lower, upper=None):
    """Heat units of a day under a single sine, horizontal cut-off."""

    def above(k):
        if tmin >= k:
            return (tmin + tmax) / 2 - k
        if tmax <= k:
            return 0.0
        mean, half = (tmin + tmax) / 2, (tmax - tmin) / 2
        angle = math.asin((k - mean) / half)
        return ((mean - k) * (math.pi / 2 - angle) + half * math.cos(angle)) / math.pi

    return above(lower) - (above(upper) if upper is not None else 0.0)


CLOCKS = {
    "sine-37f": {"lower": (37 - 32) / 1.8, "upper": None, "start": (1, 17)},
    "marrowfen-4c": {"lower": 4.0, "upper": 30.0, "start": (1, 10)},
}


class Heat:
    def __init__(self, clock, rows):
        self.sums = {}
        rule = CLOCKS[clock]
        total = 0.0
        for day, tmin, tmax in rows:
            if (day.month, day.day) == rule["start"]:
                total = 0.0
            total += sine_units(tmin, tmax, rule["lower"], rule["upper"])
            self.sums[day] = total if (day.month, day.day) >= rule["start"] else 0.0

    def reached(self, year, need):
        day = date(year, 1, 17)
        while self.sums.get(day, 1e9) < need:
            day += DAY
        return day


EVENT_LAGS = {"opening": -7, "first": -3, "peak": 0, "last": 4, "shed_first": -2, "shed_peak": 5}


class SiteFlowering:
    """What truly happens at a site, from which the notes are made."""

    def __init__(self, site, clock, rows, mean_peak):
        self.site, self.clock, self.heat = site, clock, Heat(clock, rows)
        years = range(1997, 2027)
        low, high = 50.0, 1500.0
        for _ in range(40):  # the sum whose mean date is the wanted one
            need = (low + high) / 2
            mean = sum((self.heat.reached(y, need) - date(y, 1, 1)).days for y in years) / 30.0
            if mean < mean_peak:
                low = need
            else:
                high = need
        peaks = {y: self.heat.reached(y, need) for y in years}
        self.need = {}
        for event, lag in EVENT_LAGS.items():
            if event == "peak":
                self.need[event] = need
            else:
                self.need[event] = sum(self.heat.sums[peaks[y] + lag * DAY] for y in years) / 30.0

    def day(self, event, year, late):
        if event == "closed":
            return self.day("last", year, late) + 4 * DAY
        return self.heat.reached(year, self.need[event]) + round(late) * DAY


# ------------------------------------------------------------------------------------ the programme

SITES = [  # site, station, latitude, longitude, elevation_m, prefix
    ("Larkmoor", "HOLM", 31.6, -40.2, 60, "LK"),
    ("Sedgeby", "TARN", 32.2, -40.6, 110, "SD"),
    ("Hawkfell", "TARN", 33.6, -40.9, 290, "HF"),
]
HOSTS = [  # clone, species, chance of a graft to live, strobili against the mean
    ("C41", "slash", 0.72, 1.30), ("C57", "slash", 0.66, 1.10), ("C63", "slash", 0.70, 0.85),
    ("C72", "slash", 0.58, 0.55), ("C88", "slash", 0.64, 1.05),
    ("D08", "loblolly", 0.50, 1.00), ("D15", "loblolly", 0.42, 0.70), ("D23", "loblolly", 0.47, 1.15),
]
STROBILI = {("slash", 1): 7.6, ("slash", 2): 11.6, ("loblolly", 1): 4.4, ("loblolly", 2): 9.0}
COLOURS = ["red", "white", "blue", "yellow", "orange", "pink", "green", "red and white",
           "blue and white", "yellow and black", "orange and blue", "pink and green"]

FOUNDERS = ["S%d" % n for n in range(101, 114)]
PARENTS = {  # second and third generation
    "S201": ("S101", "S105"), "S202": ("S101", "S105"), "S203": ("S102", "S106"),
    "S204": ("S103", "S107"), "S205": ("S104", "S108"), "S206": ("S104", "S109"),
    "S207": ("S110", "S106"), "S208": ("S110", "S106"), "S209": ("S111", "S107"),
    "S210": ("S112", "S108"), "S211": ("S109", "S113"), "S212": ("S102", "S113"),
    "S213": ("S103", "S111"), "S214": ("S112", "S105"),
    "S301": ("S201", "S205"), "S302": ("S202", "S206"), "S303": ("S203", "S209"),
    "S304": ("S204", "S210"), "S305": ("S207", "S211"), "S306": ("S208", "S213"),
    "S307": ("S212", "S214"), "S308": ("S203", "S213"), "S309": ("S201", "S209"),
    "S310": ("S206", "S214"), "S311": ("S211", "S204"), "S312": ("S210", "S207"),
}
SELECTIONS = FOUNDERS + sorted(PARENTS)
ALIASES = [("HEN4", "S103"), ("S207-OLD", "S207")]
LATE = {"S101": -3, "S103": 2, "S104": 0, "S106": 4, "S111": -2, "S112": 5,
        "S201": -8, "S202": -5, "S203": 1, "S204": 3, "S205": -2, "S206": 6, "S207": -4, "S208": 0,
        "S209": 8, "S210": 2, "S211": -10, "S212": 4, "S213": -1, "S214": 0,
        "S301": -6, "S302": 3, "S303": 5, "S304": -3, "S305": 1, "S306": 0, "S307": 7, "S308": -1,
        "S309": -5, "S310": 2, "S311": -7, "S312": 4}
UNSUITED = {"S205": "D15", "S210": "C72", "S303": "D08+D15", "S309": "D23"}
GRAFTED = ["S101", "S104", "S106", "S111", "S112"] + sorted(PARENTS)


def coancestry():
    """Theta of every pair, parents before offspring."""
    theta = {}
    for i, a in enumerate(SELECTIONS):
        parents = PARENTS.get(a)
        for b in SELECTIONS[:i]:
            theta[a, b] = theta[b, a] = (
                (theta[parents[0], b] + theta[parents[1], b]) / 2 if parents else 0.0)
        theta[a, a] = 0.5 * (1 + (theta[parents[0], parents[1]] if parents else 0.0))
    return theta


class Graft:
    pass


def write(folder, name, header, rows):
    with open(os.path.join(folder, name), "w", newline="", encoding="utf-8") as f:
        out = csv.writer(f, lineterminator="\n")
        out.writerow(header)
        for row in rows:
            out.writerow(["" if cell is None else cell for cell in row])


def make_trees(chance):
    """Interstock by site, row and position; then one tree of every selection in the clone bank."""
    trees = []
    layout = [("Larkmoor", "LK", 4, 5), ("Sedgeby", "SD", 3, 5), ("Hawkfell", "HF", 3, 4)]
    for site, prefix, rows, positions in layout:
        for row in range(1, rows + 1):
            for position in range(1, positions + 1):
                clone, species = HOSTS[len(trees) * 5 % 8][:2]
                young = site == "Hawkfell"
                trees.append({
                    "tree": "%s-R%d-P%d" % (prefix, row, position), "site": site,
                    "block": "lower" if row <= 2 else "upper", "row": row, "position": position,
                    "species": species, "clone": clone, "uses": "graft", "selection": None,
                    "top": chance.whole(4, 6), "middle": chance.whole(4, 7),
                    "low": chance.whole(1, 4),
                    "reach": "%.1f" % (chance.whole(70, 105) / 10.0 if young else
                                       chance.whole(90, 158) / 10.0),
                    "health": "sound", "health_on": date(2023, 10, 10 + row), "label_on":
                    date(2023, 9, 5 + position), "label_how": "genotype", "notes": None,
                    "taken": {"top": 0, "middle": 0, "low": 0}})
    by_name = {t["tree"]: t for t in trees}
    by_name["LK-R4-P2"].update(health="dead", health_on=date(2026, 6, 22),
                               notes="struck by lightning")
    by_name["SD-R3-P4"].update(health="weak", health_on=date(2026, 10, 14),
                               notes="thin crown; no new grafts")
    by_name["LK-R1-P5"].update(uses="graft+pollen")
    by_name["HF-R2-P3"].update(label_on=None, label_how=None, notes="label lost; clone by the map")
    bank = []
    for i, name in enumerate(SELECTIONS):
        bank.append({
            "tree": "BANK-%02d" % (i + 1), "site": "Sedgeby", "block": "bank", "row": 20 + i // 10,
            "position": i % 10 + 1, "species": "shortleaf", "clone": None, "uses": "scions+pollen",
            "selection": name, "top": None, "middle": None, "low": None, "reach": None,
            "health": "sound", "health_on": date(2023, 10, 18),
            "label_on": date(2023, 9, 19) if i % 4 else None,
            "label_how": "genotype" if i % 4 else None, "notes": None, "taken": None})
    return trees, bank


def place(chance, trees, site, selection, crown_wanted, when):
    """A free place on a sound and suited tree; the zone that is wanted, else the next one."""
    unsuited = (UNSUITED.get(selection) or "").split("+")
    zones = {"top": ["top", "middle", "low"], "middle": ["middle", "top", "low"],
             "low": ["low", "middle", "top"]}[crown_wanted]
    for zone in zones:
        free = []
        for t in trees:
            if t["site"] != site or t["clone"] in unsuited:
                continue
            if t["health"] != "sound" and (t["health"] == "weak" or t["health_on"] <= when):
                continue
            left = t[zone] - t["taken"][zone]
            if left > 0:
                free.append((left, t))
        if free:
            most = max(left for left, _ in free)
            tree = chance.pick([t for left, t in free if left >= most - 1])
            tree["taken"][zone] += 1
            return tree, zone, "%s%d" % (zone[0].upper(), tree["taken"][zone])
    raise SystemExit("no free place at %s" % site)


DEAD_SELECTION, BARREN_SELECTION, EARLY_SELECTION = "S111", "S112", "S211"


def make_grafts(chance, trees, bank):
    source = {t["selection"]: t["tree"] for t in bank}
    host = {h[0]: h for h in HOSTS}
    grafts, batches = [], []
    plan = {
        2024: [(s, 4 if i % 2 else 3) for i, s in enumerate(GRAFTED) if not s.startswith("S3")],
        2025: [(s, 4 if i % 3 else 3) for i, s in enumerate(GRAFTED)],
        2026: [(s, 5 if i % 4 == 0 else 4) for i, s in enumerate(GRAFTED) if s != "S111"],
        2027: [("S303", 2), ("S307", 2), ("S312", 2), ("S201", 2)],
    }
    letters = {2024: "P", 2025: "R", 2026: "T", 2027: "V"}
    sites = {2024: ["Larkmoor", "Sedgeby"], 2025: ["Larkmoor", "Sedgeby", "Larkmoor"],
             2026: ["Hawkfell", "Larkmoor", "Sedgeby"], 2027: ["Larkmoor", "Hawkfell"]}
    for cycle in sorted(plan):
        tags = tags_of(letters[cycle])
        turn = 0
        for order, (selection, ramets) in enumerate(plan[cycle]):
            cut = working_day(date(cycle, 1, 20) + (order * 27 // len(plan[cycle])) * DAY)
            batch = "%d-%s" % (cycle, selection)
            batches.append([batch, selection, cut, source[selection], ramets + chance.whole(2, 5),
                            3, "plastic bag, damp moss", None, None])
            for _ in range(ramets):
                g = Graft()
                g.tag, g.selection, g.cycle, g.batch = next(tags), selection, cycle, batch
                g.grafted_on = working_day(cut + chance.whole(4, 16) * DAY)
                if cycle == 2027:
                    g.grafted_on = min(g.grafted_on, date(2027, 2, 24))
                site = sites[cycle][turn % len(sites[cycle])]
                turn += 1
                wanted = chance.pick(["top", "top", "middle", "middle", "low"])
                g.tree, g.crown, g.branch = place(chance, trees, site, selection, wanted,
                                                  g.grafted_on)
                g.site, g.host = site, host[g.tree["clone"]]
                lives = chance.happens(g.host[2] + (0.06 if g.crown == "middle" else 0.0))
                g.died_on = None
                if not lives:
                    g.died_on = date(cycle, 4, 20) + chance.whole(0, 120) * DAY
                elif chance.happens(0.11):
                    g.died_on = date(cycle + 1, 9, 1) + chance.whole(0, 70) * DAY
                if selection == DEAD_SELECTION and not g.died_on:
                    g.died_on = date(cycle + 1, 10, 5)
                if g.tree["tree"] == "LK-R4-P2" and (not g.died_on or g.died_on > date(2026, 6, 22)):
                    g.died_on = date(2026, 6, 22)
                if cycle == 2027:
                    g.died_on = None
                g.noise = 1.5 * chance.normal()
                g.strobili = {}
                for number in (1, 2):
                    mean = STROBILI[g.host[1], number] * g.host[3]
                    mean *= {"top": 1.25, "middle": 0.9, "low": 0.5}[g.crown]
                    g.strobili[cycle + number] = chance.count(mean)
                if selection == BARREN_SELECTION:
                    g.strobili = {cycle + 1: 0, cycle + 2: 0}
                grafts.append(g)
    return grafts, batches


def alive(g, day):
    return g.died_on is None or g.died_on > day


# ------------------------------------------------------------------------------- pollen and crosses

LOTS = [  # lot, selection, collected on, ml collected, germination, ml left (-1: what the notes leave)
    ("24-S101", "S101", date(2024, 3, 27), 60, 78, -1),
    ("24-S103", "S103", date(2024, 4, 2), 55, 71, -1),
    ("24-S104", "S104", date(2024, 3, 29), 48, 83, -1),
    ("24-S106", "S106", date(2024, 4, 4), 52, 66, -1),
    ("24-S108", "S108", date(2024, 4, 1), 40, 58, -1),
    ("24-S102", "S102", date(2024, 3, 30), 30, 44, None),
    ("25-S201", "S201", date(2025, 3, 14), 45, 88, -1),
    ("25-S203", "S203", date(2025, 3, 24), 50, 81, -1),
    ("25-S205", "S205", date(2025, 3, 20), 38, 76, -1),
    ("25-S209", "S209", date(2025, 3, 31), 42, 69, -1),
    ("25-S212", "S212", date(2025, 3, 27), 36, 90, -1),
    ("25-S214", "S214", date(2025, 3, 23), 30, 42, -1),
    ("26-S302", "S302", date(2026, 3, 25), 26, 85, -1),
    ("26-S305", "S305", date(2026, 3, 24), 22, 79, -1),
    ("26-S307", "S307", date(2026, 3, 31), 24, 74, -1),
    ("22-S110", "S110", date(2022, 4, 1), 34, 6, 9.5),
    ("26-S113", "S113", date(2026, 3, 28), 6, 72, 1.5),
]
MIX = ("MIX-2026", ["S101", "S103", "S104", "S106", "S108", "S201", "S203", "S205", "S209", "S212"])
PLANNED = ("27-S311", "S311")


def make_crosses(theta, grafts):
    """Wanted crosses: the special cases by hand, the others in turn over the unrelated lots."""
    special = [
        # cross, seed parent, pollen parent, wanted, least, in store, either way, priority, season, state, notes
        ("S207xS208", "S207", "S208", 150, 60, 0, "no", 2, None, "wanted", "asked for as a test of inbreeding"),
        ("S301xS302", "S301", "S302", 120, 40, 0, "no", 3, None, "wanted", "grandparents are full sibs"),
        ("S303xS110", "S303", "S110", 150, 60, 0, "no", 2, None, "wanted", "pollen of 2022"),
        ("S308xS310", "S308", "S310", 100, 40, 0, "no", 3, None, "wanted", "no pollen gathered so far"),
        ("S111xS205", "S111", "S205", 140, 60, 0, "no", 1, None, "wanted", None),
        ("S112xS201", "S112", "S201", 120, 40, 0, "no", 3, None, "wanted", "three years without strobili"),
        ("S101xS113", "S101", "S113", 150, 60, 0, "no", 2, None, "wanted", "little pollen"),
        ("S304xmix", "S304", "MIX-2026", 240, 100, 0, "no", 2, None, "wanted", "general test"),
        ("S311xmix", "S311", "MIX-2026", 200, 100, 0, "no", 4, None, "wanted", "general test"),
        ("S305xS302", "S305", "S302", 200, 80, 0, "yes", 1, None, "wanted", "either way round"),
        ("S310xS311", "S310", "S311", 150, 60, 0, "no", 2, 2027, "wanted", "waits for this spring's pollen"),
        ("S212xS101", "S212", "S101", 150, 60, 0, "no", 3, None, "hold", "until the seed of 2025 has been sown"),
        ("S213xS201", "S213", "S201", 100, None, 0, "no", 5, None, "cancelled", None),
        ("S206xHEN4", "S206", "HEN4", 120, 60, 35, "no", 3, None, "wanted", "HEN4 is the old name of S103"),
    ]
    crosses = [list(c) for c in special]
    places = {}  # bags that the living grafts of a selection can carry this spring
    for g in grafts:
        if 2027 in g.strobili and alive(g, AS_OF):
            most = 1 if g.cycle == 2026 else 3
            places[g.selection] = places.get(g.selection, 0) + min(most, (g.strobili[2027] + 1) // 3)
    taken = {(c[1], c[2]) for c in special} | {("S206", "S103"), ("S302", "S305")}
    fathers = ["S101", "S103", "S104", "S106", "S108", "S201", "S203", "S205", "S209", "S212",
               "S214", "S302", "S305", "S307"]
    mothers = [s for s in GRAFTED if s not in ("S111", "S112", "S301")]
    order = 0
    for i, mother in enumerate(mothers):
        asked = sum(c[3] for c in crosses if c[1] == mother and c[9] == "wanted")
        bags = places.get(mother, 0) * (0.9, 1.3, 1.7, 1.1, 1.5)[i % 5] - asked / 36.0
        turns = 1 if bags < 5 else 2
        for turn in range(turns):
            for step in range(len(fathers)):
                father = fathers[(i * 5 + turn * 7 + step) % len(fathers)]
                if (theta[mother, father] < 0.06 and (mother, father) not in taken and
                        (father, mother) not in taken):
                    break
            else:
                raise SystemExit("no unrelated pollen for %s" % mother)
            taken.add((mother, father))
            wanted = max(60, int(bags / turns * 36) // 10 * 10) + (90 if turn == 0 else 0)
            crosses.append(["%sx%s" % (mother, father), mother, father, wanted, wanted // 20 * 10,
                            40 if order % 11 == 5 else 0, "no", (1, 2, 3, 3, 2, 4, 5)[order % 7],
                            None, "wanted", None])
            order += 1
    return crosses


# -------------------------------------------------------------------------------------------- notes

NOTE_COLUMNS = ["date", "note", "tag", "bag", "tree", "crown", "branch", "lot", "cross", "batch",
                "site", "block", "task", "selection", "value", "by", "remarks", "entry"]
ORDER = ["grafted", "retagged", "relabelled", "verified", "survival", "stage", "strobili", "catkins",
         "male_stage", "bagged", "pollinated", "unbagged", "bag_lost", "conelets", "cones", "seeds",
         "ripeness", "germination", "collected", "discarded", "frost", "storm", "sprayed", "done",
         "not_done"]


class Notes:
    def __init__(self):
        self.rows, self.staged = [], set()

    def add(self, day, note, by="KR", **cells):
        row = dict(cells, date=day, note=note, by=by)
        subject = (day, note, cells.get("tag"), cells.get("bag"))
        if note == "stage" and subject in self.staged:
            return  # a scout writes a stage down once a day
        self.staged.add(subject)
        self.rows.append([row.get(c) for c in NOTE_COLUMNS])

    def write(self, folder):
        key = lambda r: (r[0], ORDER.index(r[1]), [str("" if c is None else c) for c in r[2:]])
        write(folder, "notes.csv", NOTE_COLUMNS, sorted(self.rows, key=key))


def stage_on(truth, late, day):
    """The stage a scout writes down."""
    year = day.year
    lag = {e: (day - truth.day(e, year, late)).days for e in ("opening", "first", "peak", "last", "closed")}
    if lag["closed"] >= 0:
        return "6"
    if lag["last"] >= 0:
        return "5-6"
    if lag["peak"] >= 0:
        return "5"
    if lag["first"] >= 0:
        return "4-5" if lag["peak"] >= -1 else "4"
    if lag["opening"] >= 0:
        return "3" if lag["first"] < -1 else "3-4"
    return "2" if lag["opening"] >= -6 else "1"


class Season:
    """Notes of one finished spring."""

    def __init__(self, year, chance, notes, flowering, residual, grafts, crosses):
        self.year, self.chance, self.notes = year, chance, notes
        self.flowering, self.residual, self.grafts = flowering, residual, grafts
        ready = {"MIX-2026": date(2026, 11, 1)}
        for lot, selection, collected, *_ in LOTS:
            ready[selection] = collected + 20 * DAY
        lot_of = {selection: lot for lot, selection, *_ in LOTS}
        self.choice = {}
        for c in crosses:
            father = "S103" if c[2] == "HEN4" else c[2]
            if c[9] == "wanted" and father in lot_of and ready[father] < date(year, 2, 1):
                if lot_of[father] not in ("22-S110", "24-S102"):
                    self.choice.setdefault(c[1], []).append((c[0], lot_of[father]))
        self.bags, self.used = [], {}

    def late(self, g):
        return LATE[g.selection] + self.residual[g.site, self.year] + g.noise

    def counts(self):
        for g in self.grafts:
            if self.year in g.strobili and alive(g, date(self.year, 3, 1)):
                day = working_day(date(self.year, 1, 13) + self.chance.whole(0, 40) * DAY)
                self.notes.add(day, "strobili", tag=g.tag, value=g.strobili[self.year],
                               by=self.chance.pick(["KR", "TB", "LM"]))

    def run(self, bags_most):
        turn = {}
        for g in sorted(self.grafts, key=lambda g: (-g.cycle, g.tag)):
            number = self.year - g.cycle
            if self.year not in g.strobili or not alive(g, date(self.year, 7, 1)):
                continue
            choices = self.choice.get(g.selection)
            if not choices or g.strobili[self.year] < 2 or g.selection == DEAD_SELECTION:
                continue
            places = min(1 if number == 1 else 2, (g.strobili[self.year] + 1) // 3)
            for n in range(1, places + 1):
                if len(self.bags) == bags_most:
                    return
                at = turn.get(g.selection, 0)
                turn[g.selection] = at + 1
                self.bag(g, n, *choices[at % len(choices)])

    def bag(self, g, n, cross, lot):
        c, notes, year = self.chance, self.notes, self.year
        truth, late = self.flowering[g.site], self.late(g)
        name = "%s-%02d-%d" % (g.tag, year % 100, n)
        opening = truth.day("opening", year, late)
        peak, last = truth.day("peak", year, late), truth.day("last", year, late)
        by = c.pick(["KR", "TB", "LM"])
        hung = opening - c.whole(1, 4) * DAY
        while hung.weekday() > 4:
            hung -= DAY
        if len(self.bags) % 19 == 11:  # one in a while is late
            hung = working_day(opening + DAY)
        if n == 1:
            for before in (9, 5, 2):
                day = hung - before * DAY
                if day.weekday() < 5:
                    notes.add(day, "stage", tag=g.tag, value=stage_on(truth, late, day), by=by)
        inside = max(1, min(5, g.strobili[year] // max(1, n) if n == 1 else 3, c.whole(2, 5)))
        notes.add(hung, "stage", tag=g.tag, value=stage_on(truth, late, hung), by=by)
        notes.add(hung, "bagged", bag=name, cross=cross, value=inside, by=by)
        self.bags.append((name, g, cross, lot))
        if len(self.bags) % 37 == 20:
            notes.add(working_day(hung + 6 * DAY), "bag_lost", bag=name, value="torn by wind", by=by)
            return
        first = working_day(peak - DAY)
        second = working_day(first + 2 * DAY)
        first = max(first, working_day(hung + DAY))
        notes.add(first, "stage", bag=name, value=stage_on(truth, late, first), by=by)
        notes.add(first, "pollinated", bag=name, lot=lot, value="0.5", by=by)
        visits = 1
        if second > first and second <= last + DAY and not len(self.bags) % 6 == 5:
            notes.add(second, "stage", bag=name, value=stage_on(truth, late, second), by=by)
            notes.add(second, "pollinated", bag=name, lot=lot, by=by)
            visits = 2
        elif second > first:
            notes.add(second, "not_done", bag=name, task="pollinate", value="rain", by=by)
        self.used[lot] = self.used.get(lot, 0) + 0.5 * visits
        off = working_day(max(second, last) + c.whole(11, 16) * DAY)
        notes.add(working_day(last + 2 * DAY), "stage", bag=name,
                  value=stage_on(truth, late, working_day(last + 2 * DAY)), by=by)
        left = max(0, inside - (1 if c.happens(0.25) else 0))
        notes.add(off, "stage", bag=name, value="6", by=by)
        notes.add(off, "unbagged", bag=name, value=left, by=by)
        conelets = min(left, sum(c.happens(0.56 if visits == 2 else 0.48) for _ in range(left)))
        notes.add(working_day(date(year, 7, 20) + c.whole(0, 12) * DAY), "conelets", bag=name,
                  value=conelets, by=by)
        g.harvest = getattr(g, "harvest", [])
        ripe = date(year + 1, 10, 5) + c.whole(0, 8) * DAY
        if ripe < AS_OF and conelets and alive(g, ripe):
            cones = sum(c.happens(0.8) for _ in range(conelets))
            notes.add(working_day(ripe), "cones", bag=name, value=cones, by=by)
            if cones:
                notes.add(date(year + 1, 12, 3) + c.whole(0, 4) * DAY, "seeds", bag=name, by="LM",
                          value=sum(c.whole(18, 41) for _ in range(cones)))


def make_thresholds(flowering, theta_rows):
    header = ["event", "species", "site", "selection", "clock", "heat_units_c", "after",
              "days", "calendar_day", "residual_days", "spread_days", "clone_spread_days", "basis",
              "seasons_seen", "source"]
    rows = []
    residual = {"opening": 2.6, "first": 2.4, "peak": 2.3, "last": 2.5, "shed_first": 2.8, "shed_peak": 2.6}
    for site, species, seen in (("Larkmoor", "shortleaf", 8), ("Sedgeby", None, 6)):
        truth = flowering[site]
        for event in ("opening", "first", "peak", "last", "shed_first", "shed_peak"):
            rows.append([event, species, site, None, truth.clock, "%.1f" % truth.need[event],
                         None, None, None,
                         "%.1f" % (residual[event] + (0.3 if seen == 6 else 0)), "1.5", "4.5",
                         "fitted", seen, "field books, %d springs to 2026" % seen])
        rows.append(["closed", species, site, None, None, None, "last", 4, None, "1", None, None,
                     "fitted", seen, "field books, %d springs to 2026" % seen])
    truth = flowering["Larkmoor"]
    for selection, late, seen in theta_rows:
        for event in ("opening", "first", "peak", "last"):
            need = sum(truth.heat.sums[truth.heat.reached(y, truth.need[event]) + late * DAY]
                       for y in range(1997, 2027)) / 30.0
            rows.append([event, "shortleaf", "Larkmoor", selection, truth.clock, "%.1f" % need,
                         None, None, None, "2.2", "1.5", None, "fitted", seen,
                         "field books, %d springs to 2026" % seen])
    peak = truth.need["peak"]
    for clone, open_, close in (("C41", 0.22, 0.78), ("C57", 0.24, 0.80), ("C63", 0.27, 0.83),
                                ("D08", 0.30, 0.86), ("D23", 0.31, 0.84)):
        for event, part in (("graft_open", open_), ("graft_close", close)):
            rows.append([event, None, None, clone, "sine-37f", "%.0f" % (peak * part), None, None,
                         None, "4", None, None, "fitted", 3, "bud swelling and takes of three winters"])
    return header, rows


def mean_of(counts):
    return "%.1f" % (sum(counts) / float(len(counts)))


def make_rates(grafts):
    header = ["rate", "host_species", "clone", "site", "selection", "season_number", "value", "low",
              "high", "seen", "source"]
    rows = []
    for species in ("slash", "loblolly"):
        for number in (1, 2):
            of = [g for g in grafts if g.host[1] == species and g.cycle + number <= 2026]
            lived = sum(alive(g, date(g.cycle + number, 3, 1)) for g in of)
            rows.append(["survival", species, None, None, None, number,
                         "%.2f" % (lived / float(len(of))), None, None, len(of),
                         "survival notes to autumn 2026; share of grafts made"])
            counts = [g.strobili[g.cycle + number] for g in of
                      if alive(g, date(g.cycle + number, 3, 1)) and g.selection != BARREN_SELECTION]
            rows.append(["strobili_per_live_graft", species, None, None, None, number,
                         mean_of(counts), None, None, len(counts), "strobili notes, 2025 and 2026"])
    rows.append(["strobili_per_live_graft", None, "C41", None, None, 2, "14.2", None, None, 9,
                 "strobili notes of 2026"])
    rows.append(["conelets_kept", None, None, None, None, None, "0.52", "0.44", "0.60", 204,
                 "conelet notes of 2025 and 2026, drawn towards the general rate"])
    rows.append(["seeds_per_cone", None, None, None, "S203", None, "34", None, None, 11,
                 "seed notes of 2026"])
    rows.append(["bags_lost", None, None, "Larkmoor", None, None, "0.04", None, None, 52,
                 "bag notes of 2025 and 2026"])
    rows.append(["minutes_each:bag", None, None, None, None, None, "3.6", "2.9", "4.4", 41,
                 "timed in spring 2026, lift moves apart"])
    return header, rows


def main():
    folder = sys.argv[1] if len(sys.argv) > 1 else "data/demo"
    os.makedirs(os.path.join(folder, "weather"), exist_ok=True)
    weather = Chance(WEATHER_CHANCE)
    holm, tarn = rounded_as_read(*make_weather(weather))
    write_weather(folder, Chance(31), holm, tarn)
    tarn_c = [(d, (a - 32) / 1.8, (b - 32) / 1.8) for d, a, b in tarn]
    far = [(d, a - 0.180 * 5.0, b - 0.180 * 6.5) for d, a, b in tarn_c]

    flowering = {"Larkmoor": SiteFlowering("Larkmoor", "sine-37f", holm, 78.0),
                 "Sedgeby": SiteFlowering("Sedgeby", "marrowfen-4c", tarn_c, 83.0),
                 "Hawkfell": SiteFlowering("Hawkfell", "sine-37f", far, 91.0)}
    theta = coancestry()
    chance = Chance(7)
    trees, bank = make_trees(chance)
    grafts, batches = make_grafts(chance, trees, bank)
    crosses = make_crosses(theta, grafts)
    residual = {(s, y): 2.2 * chance.normal() for s in sorted(flowering) for y in (2025, 2026)}

    write(folder, "sites.csv", ["site", "station", "latitude", "longitude", "elevation_m",
                                "utc_offset_h", "workable_share", "notes"],
          [[s, st, la, lo, el, -3, share, n] for (s, st, la, lo, el, _), share, n in zip(
              SITES, ("0.7", "0.7", "0.65"), ("records since 2019", "clone bank in rows 20 to 23",
                                             "first grafted in 2026; no records of its own"))])
    write(folder, "stations.csv", ["station", "latitude", "longitude", "elevation_m", "utc_offset_h",
                                   "reads_at", "neighbour", "tmin_lapse_c_per_km",
                                   "tmax_lapse_c_per_km", "notes"],
          [["HOLM", 31.6, -40.2, 60, -3, "midnight", "TARN", "5.0", "6.5", "at the Larkmoor shed"],
           ["TARN", 32.2, -40.6, 110, -3, "midnight", "HOLM", "5.0", "6.5",
            "at the Sedgeby gate; read in degrees Fahrenheit"]])
    write(folder, "trees.csv", ["tree", "site", "block", "row", "position", "species", "clone", "uses",
                                "selection", "places_top", "places_middle", "places_low",
                                "reach_needed_m", "health", "health_on", "label_checked_on",
                                "label_checked_how", "notes"],
          [[t[k] for k in ("tree", "site", "block", "row", "position", "species", "clone", "uses",
                           "selection", "top", "middle", "low", "reach", "health", "health_on",
                           "label_on", "label_how", "notes")] for t in trees + bank])
    values = Chance(11)
    write(folder, "selections.csv", ["selection", "species", "seed_parent", "pollen_parent", "same_as",
                                     "breeding_value", "flag_colour", "days_late", "unsuited_clones",
                                     "notes"],
          [[s, "shortleaf", PARENTS.get(s, (None, None))[0], PARENTS.get(s, (None, None))[1], None,
            "%.1f" % (int(s[1]) * 6 + 2.5 * values.normal()), COLOURS[i % 12], LATE.get(s),
            UNSUITED.get(s), "days_late seen in 2025 and 2026" if s in GRAFTED else None]
           for i, s in enumerate(SELECTIONS)] +
          [[a, "shortleaf", None, None, s, None, None, None, None, "old name"] for a, s in ALIASES])
    write(folder, "scions.csv", ["batch", "selection", "cut_on", "source_tree", "count", "store_c",
                                 "package", "discarded_on", "notes"], batches)

    notes = Notes()
    seasons = {}
    for year, most in ((2025, 30), (2026, 72)):
        season = Season(year, Chance(year), notes, flowering, residual, grafts, crosses)
        season.counts()
        season.run(most)
        seasons[year] = season
    survival_and_identity(folder, notes, grafts, Chance(5))
    pollen(folder, notes, seasons, bank)
    season_2027(notes, grafts, crosses, Chance(2027))
    events(notes, holm, seasons)
    rest_of_the_year(notes, trees, grafts, seasons, Chance(52))
    notes.write(folder)

    write(folder, "crosses.csv", ["cross", "seed_parent", "pollen_parent", "seeds_wanted", "seeds_least",
                                  "seeds_in_store", "either_way", "priority", "season", "state",
                                  "notes"], crosses)
    write(folder, "thresholds.csv", *make_thresholds(
        flowering, [("S201", LATE["S201"], 2), ("S203", LATE["S203"], 2), ("S209", LATE["S209"], 2)]))
    write(folder, "rates.csv", *make_rates(grafts))
    work(folder)
    with open(os.path.join(folder, "program.json"), "w", encoding="utf-8", newline="") as f:
        f.write("""{
  "schema": 1,
  "name": "Marrowfen shortleaf programme (invented)",
  "clocks": {
    "marrowfen-4c": {
      "curve": "sine",
      "cutoff": "horizontal",
      "lower_c": 4,
      "upper_c": 30,
      "start": "01-10",
      "end_days": 180
    }
  },
  "firm_days": 7
}
""")


def survival_and_identity(folder, notes, grafts, chance):
    """Autumn surveys as notes; the newest survey and the label checks as cells of grafts.csv."""
    rows = []
    third = [g for g in grafts if g.cycle == 2025 and alive(g, AS_OF) and hasattr(g, "harvest")]
    relabelled = third[2]
    retagged = third[5]
    for i, g in enumerate(grafts):
        first = working_day(date(g.cycle, 11, 3) + chance.whole(0, 12) * DAY)
        if g.cycle <= 2025:
            notes.add(first, "survival", tag=g.tag, by="TB",
                      value="alive" if alive(g, first) else "dead")
        condition = condition_on = None
        newest = working_day(date(2026, 11, 9) + chance.whole(0, 10) * DAY)
        if g.cycle == 2027 or (g.cycle == 2026 and i % 8 == 3 and g.tree["health"] != "dead"):
            pass
        elif alive(g, newest):
            condition, condition_on = "alive", newest
            if i % 29 == 7:
                condition = "doubtful"
        else:
            condition, condition_on = "dead", newest
            if g.cycle == 2024 and i % 3 == 0:
                condition = "removed"
            elif i % 41 == 5:
                condition = "lost"
        identity, identity_on, how = "unchecked", None, None
        if g.cycle <= 2025 and i % 3 == 0:
            identity, identity_on, how = "checked", date(2026, 9, 14), "genotype"
        elif i % 50 == 31:
            identity, identity_on, how = "disputed", date(2026, 9, 14), "label and map differ"
        if g is relabelled or g is retagged:
            identity, identity_on, how = "unchecked", None, None
        rows.append([g.tag, g.selection, g.tree["tree"], g.crown, g.branch, g.grafted_on, g.batch,
                     condition, condition_on, identity, identity_on, how, None])
    other = "S305" if relabelled.selection != "S305" else "S304"
    notes.add(date(2026, 8, 14), "relabelled", tag=relabelled.tag, value=other, by="LM",
              remarks="genotype of the needles; mixed up on the grafting day")
    relabelled.relabelled = other
    new_tag = next(tags_of("W"))
    notes.add(date(2026, 11, 23), "retagged", tag=retagged.tag, value=new_tag, by="TB",
              remarks="old tag grown in")
    retagged.new_tag = new_tag
    for g in third[8:11]:
        notes.add(date(2026, 10, 21), "verified", tag=g.tag, value="genotype", by="LM")
    # One graft stands in the notes alone, as on the day it was made; two stand in both.
    made = [g for g in grafts if g.cycle == 2027]
    for g in (made[0], made[1], made[-1]):
        notes.add(g.grafted_on, "grafted", tag=g.tag, tree=g.tree["tree"], crown=g.crown,
                  branch=g.branch, selection=g.selection, batch=g.batch, by="KR")
    rows = [r for r in rows if r[0] != made[-1].tag]
    write(folder, "grafts.csv", ["tag", "selection", "tree", "crown", "branch", "grafted_on", "batch",
                                 "condition", "condition_on", "identity", "identity_on",
                                 "identity_how", "notes"], rows)


def pollen(folder, notes, seasons, bank):
    source = {t["selection"]: t["tree"] for t in bank}
    rows = []
    for lot, selection, collected, ml, germination, left in LOTS:
        notes.add(collected, "collected", lot=lot, tree=source[selection], value=ml, by="LM")
        used = sum(s.used.get(lot, 0) for s in seasons.values())
        if left == -1:
            left = math.floor((ml - used) * 2 * 0.9) / 2
        state = "stored" if left is not None else "discarded"
        tested = date(2027, 1, 19)
        rows.append([lot, selection, None, source[selection], "freezer, -20 C", state,
                     collected + 4 * DAY, left, date(2026, 12, 9) if left is not None else None,
                     germination, tested if left is not None else date(2025, 1, 20), None])
        if left is None:
            notes.add(date(2026, 6, 3), "discarded", lot=lot, value="%g" % (ml - used), by="LM")
        assert used <= ml - (left or 0), lot
    # Measured a year ago: the notes since then are taken off.
    rows[6][7:9] = [42, date(2025, 12, 10)]
    rows.append([MIX[0], None, ";".join(p + ":1" for p in MIX[1]), None, "freezer, -20 C", "stored",
                 date(2026, 11, 1), 18, date(2026, 12, 9), 75, date(2027, 1, 19),
                 "equal volumes of ten lots"])
    rows.append([PLANNED[0], PLANNED[1], None, source[PLANNED[1]], None, "planned", date(2027, 3, 19),
                 12, None, None, None, "catkins seen; to be gathered in the second week of March"])
    write(folder, "pollen.csv", ["lot", "selection", "parts", "source_tree", "kept_at", "state",
                                 "ready_on", "volume_ml", "measured_on", "germination_pct",
                                 "tested_on", "notes"], rows)
    notes.add(date(2027, 1, 19), "germination", lot="22-S110", value=6, by="LM")
    notes.add(date(2027, 1, 19), "germination", lot="26-S113", value=72, by="LM")
    notes.add(date(2027, 2, 16), "catkins", tree=source["S311"], value=140, by="TB")
    notes.add(date(2027, 2, 16), "catkins", tree=source["S310"], value=25, by="TB")
    for day, selection, stage in ((date(2026, 3, 19), "S302", "not yet"),
                                  (date(2026, 3, 23), "S302", "shedding"),
                                  (date(2026, 4, 2), "S302", "over"),
                                  (date(2026, 3, 23), "S305", "shedding"),
                                  (date(2026, 3, 26), "S307", "not yet"),
                                  (date(2026, 3, 30), "S307", "shedding"),
                                  (date(2026, 4, 8), "S307", "over")):
        notes.add(day, "male_stage", tree=source[selection], value=stage, by="TB")


def season_2027(notes, grafts, crosses, chance):
    """The spring that has begun; what is dated after the as-of day must not matter on it."""
    hung = 0
    for i, g in enumerate(grafts):
        if 2027 not in g.strobili or not alive(g, AS_OF):
            continue
        tag = getattr(g, "new_tag", g.tag)
        if chance.happens(0.66) or g.selection == BARREN_SELECTION:
            day = working_day(date(2027, 1, 12) + chance.whole(0, 44) * DAY)
            notes.add(day, "strobili", tag=tag, value=g.strobili[2027],
                      by=chance.pick(["KR", "TB", "LM"]))
        if g.site == "Hawkfell" or g.strobili[2027] < 2:
            continue
        if g.selection == EARLY_SELECTION:
            notes.add(date(2027, 2, 23), "stage", tag=tag, value="2", by="TB")
            if g.site == "Larkmoor":
                notes.add(date(2027, 3, 1), "stage", tag=tag, value="3" if i % 2 else "2", by="TB")
        elif LATE[g.selection] <= -5 and g.site == "Larkmoor" and i % 5 != 1:
            notes.add(date(2027, 3, 1), "stage", tag=tag, value="2", by="TB")
            wanted = [c for c in crosses if c[1] == g.selection and c[9] == "wanted"]
            if hung < 3 and wanted and LATE[g.selection] <= -6 and not hasattr(g, "relabelled"):
                hung += 1
                notes.add(date(2027, 3, 2) if hung == 3 else date(2027, 3, 1), "bagged",
                          bag="%s-27-1" % tag, cross=wanted[-1][0], value=min(3, g.strobili[2027]),
                          by="KR")
                if hung == 1:
                    notes.add(date(2027, 3, 11), "stage", bag="%s-27-1" % tag, value="3-4", by="KR")
        elif LATE[g.selection] <= -4 and i % 2:
            notes.add(date(2027, 3, 9), "stage", tag=tag, value="2", by="TB")


def events(notes, holm, seasons):
    for year in (2025, 2026):
        cold = min((tmin, day) for day, tmin, _ in holm
                   if date(year, 3, 1) <= day <= date(year, 4, 5))
        notes.add(cold[1], "frost", site="Larkmoor", value="%.1f" % (cold[0] - 1.9), by="KR",
                  remarks="lowest in the hollow by row 1")
    notes.add(date(2026, 5, 11), "storm", site="Sedgeby", by="TB", remarks="two limbs down in row 2")
    notes.add(date(2026, 4, 28), "sprayed", site="Larkmoor", value=24, by="LM")
    notes.add(date(2027, 3, 8), "sprayed", site="Sedgeby", block="upper", value=12, by="LM")
    ripe = seasons[2025].bags[0]
    notes.add(date(2026, 9, 28), "ripeness", bag=ripe[0], value="12/20", by="TB")
    notes.add(date(2026, 10, 5), "ripeness", bag=ripe[0], value="19/20", by="TB")


def rest_of_the_year(notes, trees, grafts, seasons, chance):
    """What was done outside the weeks of pollination in the year before the as-of day."""

    def done(task, day, **subject):
        notes.add(working_day(day), "done", task=task, by=chance.pick(["KR", "TB", "LM"]), **subject)

    hosts = [t for t in trees if "graft" in t["uses"] and t["health"] != "dead"]
    for i, g in enumerate(grafts):  # of last winter, from the second check to the count in August
        if g.cycle != 2026 or i % 8 == 3:  # some have been seen by nobody since
            continue
        for task, after, share in (("second check of grafts", 30, 1.0),
                                   ("third check and opening of sleeves", 50, 1.0),
                                   ("slit the film and hold back the host", 66, 0.97),
                                   ("cut the rubbers and read the tag", 112, 0.97),
                                   ("summer survival count", 160, 0.95)):
            day = g.grafted_on + (after + chance.whole(0, 12)) * DAY
            if alive(g, day) and chance.happens(share):
                done(task, day, tag=g.tag)
    for t in hosts:
        if t["site"] != "Hawkfell" and chance.happens(0.9):
            done("tend hosts and grafts", date(2026, 6, 1) + chance.whole(0, 80) * DAY, tree=t["tree"])
        if chance.happens(0.95):
            done("survey interstock", date(2026, 9, 1) + chance.whole(0, 40) * DAY, tree=t["tree"])
    for site in ("Hawkfell", "Larkmoor", "Sedgeby"):
        done("protect new shoots from tip moth", date(2026, 5, 4) + chance.whole(0, 20) * DAY, site=site)
        done("protect conelets from insects", date(2026, 6, 8) + chance.whole(0, 20) * DAY, site=site)
        if site != "Hawkfell":
            done("protect cones from insects", date(2026, 7, 6) + chance.whole(0, 20) * DAY, site=site)
    bearing = sorted({bag[1].tree["tree"] for bag in seasons[2025].bags})
    for tree in bearing:
        done("test ripeness", date(2026, 9, 21) + chance.whole(0, 12) * DAY, tree=tree)
    for row in [r for r in notes.rows if r[1] == "cones" and r[0].year == 2026]:
        done("dry and extract cones", row[0] + chance.whole(20, 40) * DAY,
             bag=row[NOTE_COLUMNS.index("bag")])
    for g in grafts:
        if g.cycle == 2027:
            done("reconcile map and tags", g.grafted_on, tree=g.tree["tree"])
            done("prepare host crowns", g.grafted_on - 7 * DAY, tree=g.tree["tree"])
    for selection in sorted({g.selection for g in grafts}):
        done("visit trees for scions", date(2026, 12, 7) + chance.whole(0, 35) * DAY,
             selection=selection)
    for cross in sorted({bag[2] for bag in seasons[2025].bags}):
        done("test seed of crosses by DNA", date(2027, 1, 11), cross=cross)
    for task, day in (("order sacks and labels for cones", date(2026, 7, 20)),
                      ("settle the selection list", date(2026, 10, 5)),
                      ("plan again after the survival count", date(2026, 10, 12)),
                      ("order isolation bags", date(2026, 10, 19)),
                      ("first mating plan", date(2026, 11, 3)),
                      ("order grafting supplies", date(2026, 11, 19)),
                      ("allocate scions to crowns", date(2026, 11, 24)),
                      ("test labels of trees by DNA", date(2026, 11, 25)),
                      ("book and inspect lifts", date(2026, 12, 11)),
                      ("report on the crop", date(2027, 1, 22)),
                      ("final crossing plan", date(2027, 1, 29))):
        done(task, day)


def work(folder):
    rows = []
    for year in (2026, 2027):  # outside the season two days a week
        rows += [["Plover", "BOOM-18", None, date(year, 7, 1), date(year + 1, 1, 31), "Tu We", 8, "any",
                  None],
                 ["Curlew", "BOOM-14", "Larkmoor", date(year, 7, 1), date(year + 1, 1, 31), "Th", 8,
                  "any", None]]
    for year in (2025, 2026, 2027):
        rows += [["Plover", "BOOM-18", None, date(year, 2, 1), date(year, 6, 30), None, 8, "any", None],
                 ["Curlew", "BOOM-14", "Larkmoor", date(year, 2, 1), date(year, 6, 30),
                  "Mo Tu We Th", 8, "any", None],
                 ["Wren", None, None, date(year, 2, 15), date(year, 6, 15), None, 8, "ground",
                  "two students"]]
    rows.append(["Curlew", "BOOM-14", "Larkmoor", date(2027, 3, 15), date(2027, 3, 16), None, 4, "any",
                 "safety course in the afternoons"])
    write(folder, "crews.csv", ["crew", "lift", "site", "from", "to", "weekdays", "hours_per_day",
                                "work", "notes"], rows)
    rows = []
    for year in (2026, 2027):
        rows += [["BOOM-18", None, date(year, 7, 1), date(year + 1, 1, 31), 4, "18", None],
                 ["BOOM-14", None, date(year, 7, 1), date(year + 1, 1, 31), 4, "14", None]]
    for year in (2025, 2026, 2027):
        rows += [["BOOM-18", None, date(year, 2, 1), date(year, 6, 30), 4, "18", None],
                 ["BOOM-14", None, date(year, 2, 1), date(year, 6, 30), 4, "14", None]]
    rows.append(["BOOM-18", None, date(2027, 3, 23), date(2027, 3, 25), 0, "18", "yearly inspection"])
    write(folder, "lifts.csv", ["lift", "site", "from", "to", "hours_per_day", "reach_m", "notes"], rows)


if __name__ == "__main__":
    main()
