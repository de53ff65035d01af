#!/usr/bin/env python3
"""Records the courses of 120 sumps through random events, by numerical integration.

The balances of water-mix fluid, concentrate, tramp oil and matter are integrated
as differential equations by scipy.integrate.solve_ivp (DOP853, rtol 1e-11) from
event to event; crossings are refined by Brent's method on fresh integrations.
Nothing here uses a closed form. Run with scipy 1.17; the answer is courses.json.
"""

import json
import math
import random
from pathlib import Path

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

CASES = 120
RTOL, ATOL = 1e-11, 1e-15
# As the forecast defines the end of a course.
DRY, NO_WATER = 0.01, 1.0 - 1e-9
MATTER = ["chloride", "hardness"]


def litre(concentration, properties):
    """Mix, concentrate, oil (L) and matter (mg) in a litre."""
    oil = properties.get("tramp_oil", 0.0) / 100.0
    return np.array([1.0 - oil, concentration / 100.0, oil] + [properties.get(n, 0.0) for n in MATTER])


def volume(y):
    return y[0] + y[2]


class Sump:
    def __init__(self, question):
        q = self.question = question
        losses = q["losses"]
        self.e, self.d = losses["evaporation"], losses["carry_off"]
        self.k = losses.get("depletion_ratio", 1.0)
        self.b, self.leak = q.get("discharge", 0.0), q.get("oil", {}).get("leak", 0.0)
        self.q = q.get("oil", {}).get("skimmer", 0.0)
        self.y = litre(q["sump"]["concentration"], q["sump"]["properties"]) * q["sump"]["volume"]
        self.floor = DRY * self.y[0]
        self.strongest = NO_WATER / (max(self.k, 1.0) if self.d > 0 else 1.0)
        self.feeding = q.get("feeding")
        self.fed_always = np.zeros(len(self.y))
        self.weak = self.strong = self.target = None
        if self.feeding:
            stock = self.feeding["with"]
            if stock["kind"] == "premix":
                self.weak = litre(stock["concentration"], stock["properties"])
            else:
                water = stock["water"]["properties"]
                self.weak = litre(0.0, water)
                brought = {n: water.get(n, 0.0) for n in MATTER}
                brought.update(stock.get("concentrate", {}).get("properties", {}))
                self.strong = litre(100.0, brought)
                self.target = stock["target"] / 100.0
            if self.feeding["when"] == "always":
                self.fed_always = self.feeding["rate"] * self.weak

    def rhs(self, _, y):
        per_litre = y / y[0]
        out = np.array(
            [0.0, self.k * self.d + self.b, self.d + self.b + self.q] + [self.d + self.b] * len(MATTER)
        )
        change = self.fed_always - out * per_litre
        change[0] -= self.e + self.d + self.b
        change[2] += self.leak
        return change

    def integrate(self, y, t, dense=False):
        if t <= 0.0:
            return y.copy()
        solution = solve_ivp(self.rhs, (0.0, t), y, method="DOP853", rtol=RTOL, atol=ATOL, dense_output=dense)
        assert solution.success
        return solution if dense else solution.y[:, -1]

    def portion(self, to):
        room = to - volume(self.y)
        if room <= 0.0:
            return None
        strong = 0.0
        if self.target is not None:
            strong = min(max(self.target * to - self.y[1], 0.0), room)
        fed = self.weak * (room - strong)
        return fed if self.strong is None else fed + self.strong * strong


def edges_of(question):
    """Name, side and distance of a sump beyond its edge."""

    def per_volume(i):
        return lambda y: y[i] / volume(y)

    band, limits = question["band"], question["limits"]
    watched = [
        ("concentration", per_volume(1), band["low"] / 100.0, band["high"] / 100.0),
        ("volume", volume, question["levels"]["min"], question["sump"]["capacity"]),
        ("tramp_oil", per_volume(2), None, limits["tramp_oil"]["max"] / 100.0),
    ]
    for i, name in enumerate(MATTER):
        watched.append((name, per_volume(3 + i), None, limits[name]["max"]))
    edges = []
    for name, of, low, high in watched:
        if low is not None:
            edges.append((name, "below", lambda y, of=of, at=low: at - of(y), low))
        if high is not None:
            edges.append((name, "above", lambda y, of=of, at=high: of(y) - at, high))
    return edges


def run(question):
    sump, edges = Sump(question), edges_of(question)
    days, feeding = question["days"], question.get("feeding")
    changes = sorted(question.get("changes", []), key=lambda change: change["day"])
    capacity = question["sump"]["capacity"]
    when = feeding["when"] if feeding else None
    series, crossings, fed = {0: sump.y.copy()}, [], []
    out = [None] * len(edges)
    day, visits, low, dry = 0.0, 0, False, None

    def jump():
        for i, (name, side, beyond, at) in enumerate(edges):
            if out[i] is None and beyond(sump.y) > 1e-9 * at:
                out[i] = {"what": name, "side": side, "day": day}
                crossings.append(out[i])
            elif out[i] is not None and beyond(sump.y) <= 0.0:
                out[i]["back_day"], out[i] = day, None

    def feed():
        fed_now = sump.portion(feeding.get("to", capacity))
        if fed_now is not None:
            sump.y = sump.y + fed_now
            fed.append([day, volume(fed_now), fed_now[1]])
            jump()

    jump()
    while True:
        while dry is None and changes and changes[0]["day"] <= day:
            change = changes.pop(0)
            if "removed" in change:
                sump.y = sump.y * (1.0 - change["removed"]["volume"] / volume(sump.y))
            if "added" in change:
                added = change["added"]
                sump.y = sump.y + litre(added["concentration"], added.get("properties", {})) * added["volume"]
            jump()
        if dry is None and when == "below" and (low or volume(sump.y) <= feeding["level"]):
            low = False
            feed()
        if dry is None and when == "every":
            while feeding["first_day"] + visits * feeding["days"] <= day:
                visits += 1
                if volume(sump.y) < feeding.get("only_below", math.inf):
                    feed()
        if day >= days or dry is not None:
            break
        to = min([days] + [change["day"] for change in changes[:1]])
        if when == "every":
            to = min(to, feeding["first_day"] + visits * feeding["days"])
        start, t = sump.y.copy(), to - day

        # Integrated only until the sump would be dry.
        rise = sump.fed_always[0] - sump.e - sump.d - sump.b
        if rise < 0.0:
            empty = (start[0] - sump.floor) / -rise
            if empty <= t:
                t, dry = empty, day + empty
        path = sump.integrate(start, t, dense=True).sol
        grid = np.linspace(0.0, t, 301)
        points = [path(g) for g in grid]

        def first(beyond, begin=0):
            """The first change of the sign of `beyond` after the grid point."""
            for j in range(begin, len(grid) - 1):
                if (beyond(points[j]) > 0.0) != (beyond(points[j + 1]) > 0.0):
                    root = brentq(
                        lambda g: beyond(sump.integrate(start, g)),
                        grid[j],
                        grid[j + 1],
                        xtol=1e-13,
                        rtol=1e-14,
                    )
                    return j + 1, root
            return None

        spent = first(lambda y: y[1] / y[0] - sump.strongest)
        if spent and start[1] / start[0] < sump.strongest:
            t, dry = spent[1], day + spent[1]
        if when == "below":
            falls = first(lambda y: volume(y) - feeding["level"])
            if falls and falls[1] <= t:
                t, dry, low = falls[1], None, True
        end = to if dry is None and not low else day + t
        for i, (name, side, beyond, _) in enumerate(edges):
            found = first(beyond)
            while found and found[1] <= t:
                at_day = day + found[1]
                after = beyond(points[found[0]])
                if out[i] is None and after > 0.0:
                    out[i] = {"what": name, "side": side, "day": at_day}
                    crossings.append(out[i])
                elif out[i] is not None and after <= 0.0:
                    out[i]["back_day"], out[i] = at_day, None
                found = first(beyond, found[0])
        for whole in range(max(series) + 1, int(math.floor(end)) + 1):
            series[whole] = sump.integrate(start, whole - day)
        sump.y, day = sump.integrate(start, t), end

    rows = sorted(series)
    kept = sorted(set(rows[:: max(1, len(rows) // 4)] + rows[-1:]))
    crossings.sort(key=lambda crossing: crossing["day"])
    return {
        "series": [[row] + told(series[row]) for row in kept],
        "after": [day] + told(sump.y),
        "crossings": crossings,
        "feedings": len(fed),
        "last_feeding": fed[-1] if fed else None,
        "dry": dry,
    }


def told(y):
    v = volume(y)
    return [v, y[1] / v * 100.0, y[2] / v * 100.0] + [m / v for m in y[3:]]


def draw(rng):
    def number(low, high, digits=4):
        return round(rng.uniform(low, high), digits)

    def properties(salts, oil=0.0):
        some = {"chloride": number(0.2 * salts, salts, 2), "hardness": number(salts, 3 * salts, 2)}
        if oil:
            some["tramp_oil"] = number(0.0, oil)
        return some

    capacity = number(80, 600, 1)
    c = number(4, 10)
    losses = {"evaporation": number(0.002, 0.035) * capacity, "carry_off": number(0.002, 0.03) * capacity}
    if rng.random() < 0.1:
        losses["evaporation"] = 0.0
    elif rng.random() < 0.1:
        losses["carry_off"] = 0.0
    if rng.random() < 0.6:
        losses["depletion_ratio"] = number(0.0, 2.0)
    question = {
        "units": "metric",
        "sump": {
            "capacity": capacity,
            "volume": number(0.7, 1.0, 3) * capacity,
            "concentration": c,
            "properties": properties(120, 1.5),
        },
        "losses": losses,
        "band": {"low": c * number(0.8, 0.97), "target": c, "high": c * number(1.03, 1.2)},
        "levels": {"min": number(0.5, 0.8) * capacity},
        "limits": {
            "tramp_oil": {"max": number(0.3, 2.5)},
            "chloride": {"max": number(60, 200, 1)},
            "hardness": {"max": number(150, 450, 1)},
        },
        "days": rng.choice([number(12, 70), rng.randint(12, 70)]),
    }
    if rng.random() < 0.3:
        question["discharge"] = number(0.001, 0.01) * capacity
    if rng.random() < 0.7:
        question["oil"] = {"leak": number(0.0001, 0.003) * capacity}
    if rng.random() < 0.6:
        question.setdefault("oil", {})["skimmer"] = number(0.01, 0.3) * capacity
    stock = {"kind": "premix", "concentration": number(0, 6), "properties": properties(80, 0.3)}
    habit = rng.choice(["none", "below", "below", "every", "every", "always"])
    if habit != "always" and rng.random() < 0.5:
        stock = {
            "kind": "water_and_concentrate",
            "target": c * number(0.95, 1.05),
            "water": {"properties": properties(80)},
        }
        if rng.random() < 0.5:
            stock["concentrate"] = {"properties": {"chloride": number(0, 30)}}
    if habit == "below":
        level = number(0.6, 0.9) * capacity
        question["feeding"] = {
            "when": "below",
            "level": level,
            "to": level + number(0.02, 0.1) * capacity,
            "with": stock,
        }
    elif habit == "every":
        feeding = {
            "when": "every",
            "days": rng.choice([1, 2, 3.5, 7]),
            "first_day": number(0, 5),
            "with": stock,
        }
        if rng.random() < 0.4:
            feeding["only_below"] = number(0.8, 0.97) * capacity
        question["feeding"] = feeding
    elif habit == "always":
        lost = losses["evaporation"] + losses["carry_off"]
        question["feeding"] = {"when": "always", "rate": lost * number(0.7, 1.2), "with": stock}
    changes = []
    for _ in range(rng.choice([0, 0, 1, 2, 3])):
        change = {"day": number(0.1, 11.9)}
        if rng.random() < 0.6:
            change["removed"] = {"volume": number(0.005, 0.08) * capacity}
        if rng.random() < 0.7 or len(change) == 1:
            change["added"] = {
                "volume": number(0.01, 0.1) * capacity,
                "concentration": number(0, 12),
                "properties": properties(80),
            }
        changes.append(change)
    if changes:
        question["changes"] = changes
    return question


def main():
    rng = random.Random(20260411)
    lines = []
    for _ in range(CASES):
        question = draw(rng)
        lines.append(json.dumps({"question": question, "expected": run(question)}))
    path = Path(__file__).with_suffix(".json")
    path.write_text("[\n" + ",\n".join(lines) + "\n]\n")
    crossings = sum(line.count('"side"') for line in lines)
    print(f"{len(lines)} courses, {crossings} crossings")


if __name__ == "__main__":
    main()
