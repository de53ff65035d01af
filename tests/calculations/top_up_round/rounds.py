#!/usr/bin/env python3
"""Rounds of top-ups with the best that an exact solver finds for them: rounds.json.

    python rounds.py        (numpy and scipy; a minute or two)

Each round has one product and a proportioner with notches, and with scipy.optimize.milp
(HiGHS) it is solved three times, each time with what was found before held: as many sumps in
their bands as can be, the fewest notches, the least concentrate. With moving, the concentrate
is held to what the round takes without it. A sump gets premix of one notch, gives to one other
or takes from one other, and gets nothing where it is not brought into its band.
"""

import json
import sys
from itertools import product as pairs_of
from pathlib import Path

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_matrix

MARGIN = 0.1  # of the band's width off either end
FULL = 0.02  # a sump in its band that lacks less than this share is full
SLACK = 1e-7


class Program:
    """A mixed-integer programme, written row by row."""

    def __init__(self):
        self.upper, self.whole, self.rows, self.low, self.high = [], [], [], [], []

    def variable(self, upper, whole=False):
        self.upper.append(upper)
        self.whole.append(whole)
        return len(self.upper) - 1

    def row(self, terms, low, high):
        self.rows.append(terms)
        self.low.append(low)
        self.high.append(high)

    def least(self, costs):
        n = len(self.upper)
        at = [(r, v, w) for r, terms in enumerate(self.rows) for v, w in terms]
        r, v, w = zip(*at, strict=True)
        matrix = coo_matrix((w, (r, v)), shape=(len(self.rows), n)).tocsr()
        c = np.zeros(n)
        for variable, weight in costs:
            c[variable] += weight
        found = milp(
            c,
            constraints=LinearConstraint(matrix, self.low, self.high),
            bounds=Bounds(np.zeros(n), np.array(self.upper)),
            integrality=np.array(self.whole, dtype=int),
            options={"mip_rel_gap": 0.0, "time_limit": 120.0},
        )
        if found.status != 0:
            raise RuntimeError(found.message)
        return found.fun


def needs(question):
    own = []
    for found in question["sumps"]:
        sump, band = found["sump"], found["band"]
        v, c, cap = sump["volume"], sump["concentration"], sump["capacity"]
        low, high = band["low"], band["high"]
        stands = "in" if low - 1e-9 <= c <= high + 1e-9 else ("below" if c < low else "above")
        margin = MARGIN * (high - low)
        l, h = low + margin, high - margin
        if stands == "in":
            l, h = min(l, c), max(h, c)
        floor = found.get("fill_to")
        if floor is None:
            floor = v if stands == "in" and cap - v <= FULL * cap else cap
        floor = max(floor, v)
        met = stands == "in" and floor - v <= 1e-9 * cap
        good = "against" not in found
        inside = any(serves(s, v, c, cap, l, h, floor) for s in question["mixing"]["settings"])
        if not met and not inside:
            # Nothing brings it further inside than to an end.
            l, h = min(l, low), max(h, high)
        own.append((v, c, cap, l, h, floor, stands, met, good))
    return own


def serves(s, v, c, cap, l, h, floor):
    """Whether some volume of premix of this strength does it."""
    least, most = floor - v, cap - v
    for by, lacks in ((s - l, (l - c) * v), (h - s, (c - h) * v)):
        if by > 1e-9:
            least = max(least, lacks / by)
        elif by < -1e-9:
            most = min(most, lacks / by)
        elif lacks > 1e-7:
            return False
    return least <= most + 1e-9


def thinned(p, own, settings, used, served):
    """Concentrate in the weakest premix of the round that fills up whatever stays too strong."""
    weakest = [p.variable(1, True) for _ in settings]
    p.row([(weak, 1) for weak in weakest], 1, 1)
    for s, weak in enumerate(weakest):
        # The weakest in use, or the weakest there is where none is.
        terms = [(weak, 1), (used[s], -1)]
        if s == 0:
            for other in used[1:]:
                p.row([*terms, (other, 1)], -np.inf, 1)
        else:
            p.row(terms, -np.inf, 0)
        for t in range(s):
            p.row([(used[t], 1), (weak, 1)], -np.inf, 1)
    terms = []
    for i, (v, _, cap, _, h, floor, stands, _, _) in enumerate(own):
        if stands != "above" or floor <= v:
            continue
        thin = p.variable(cap)
        for s, weak in enumerate(weakest):
            if settings[s] < h:
                concentrate = (floor - v) * settings[s] / 100.0
                p.row([(thin, 1), (weak, -concentrate), (served[i], concentrate)], 0, np.inf)
        terms.append((thin, 1.0))
    return terms


def solve(question, moving, held=None):
    """Sumps in their bands, notches, concentrate of the premixes, and what is bought: that and what
    fills up the sumps that stay too strong. Each is the best after the one before."""
    settings, own = question["mixing"]["settings"], needs(question)
    p = Program()
    used = [p.variable(1, True) for _ in settings]
    served = [p.variable(1, True) for _ in own]
    takes = [[p.variable(1, True) for _ in settings] for _ in own]
    pours = [[p.variable(cap) for _ in settings] for (_, _, cap, *_) in own]
    moves = {}
    if moving:
        giving = [i for i, n in enumerate(own) if n[6] == "above" and n[8]]
        taking = [i for i, n in enumerate(own) if n[6] == "below" and n[8]]
        for i, j in pairs_of(giving, taking):
            moves[i, j] = (p.variable(1, True), p.variable(own[i][0]))
            done, litres = moves[i, j]
            p.row([(litres, 1), (done, -own[i][0])], -np.inf, 0)
            p.row([(litres, 1), (done, -moving["at_least"])], 0, np.inf)
            p.row([(done, 1), (served[i], -1)], -np.inf, 0)
            p.row([(done, 1), (served[j], -1)], -np.inf, 0)
        for i in giving:
            p.row([(moves[i, j][0], 1) for j in taking], 0, 1)
        for j in taking:
            p.row([(moves[i, j][0], 1) for i in giving], 0, 1)
    for i, (v, c, cap, l, h, floor, _, met, _) in enumerate(own):
        p.row([(take, 1) for take in takes[i]] + [(served[i], -1)], -np.inf, 0)
        for s, _ in enumerate(settings):
            p.row([(pours[i][s], 1), (takes[i][s], -cap)], -np.inf, 0)
            p.row([(takes[i][s], 1), (used[s], -1)], -np.inf, 0)
        if met:
            p.row([(served[i], 1)], 1, 1)
            p.row([(pour, 1) for pour in pours[i]], 0, 0)
            continue
        level = [(pour, 1.0) for pour in pours[i]]
        strong = [(pour, setting) for pour, setting in zip(pours[i], settings, strict=True)]
        for (giver, taker), (_, litres) in moves.items():
            if i in (giver, taker):
                way = 1 if i == taker else -1
                level.append((litres, way))
                strong.append((litres, way * own[giver][1]))
        p.row(level, -np.inf, cap - v)
        p.row([*level, (served[i], -(floor - v))], 0, np.inf)
        # K − l·V ≥ 0 and h·V − K ≥ 0 where it is served.
        most = 100.0 * cap
        lows = strong + [(variable, -l * w) for variable, w in level]
        highs = strong + [(variable, -h * w) for variable, w in level]
        p.row([*lows, (served[i], -most)], l * v - c * v - most - SLACK, np.inf)
        p.row([*highs, (served[i], most)], -np.inf, h * v - c * v + most + SLACK)
    poured = [(pour, setting / 100.0) for row in pours for pour, setting in zip(row, settings, strict=True)]
    thin = thinned(p, own, settings, used, served)
    if held is not None:
        p.row(poured + thin, -np.inf, held + 1e-6)
    count = round(-p.least([(variable, -1) for variable in served]))
    p.row([(variable, 1) for variable in served], count, np.inf)
    notches = round(p.least([(variable, 1) for variable in used]))
    p.row([(variable, 1) for variable in used], 0, notches)
    concentrate = p.least(poured)
    p.row(poured, -np.inf, concentrate + 1e-6)
    return count, notches, concentrate, concentrate + p.least(thin or [(used[0], 0)])


def drawn(rng, number, sumps, notches, with_moving):
    low, high = float(rng.integers(45, 60)) / 10, float(rng.integers(65, 80)) / 10
    found = []
    for i in range(sumps):
        cap = float(rng.integers(6, 60)) * 10
        own_low = low + float(rng.integers(-10, 11)) / 10
        own_high = max(own_low + 0.6, high + float(rng.integers(-10, 11)) / 10)
        kind = rng.random()
        filled = 0.6 + 0.4 * rng.random() if kind < 0.75 else 0.95 + 0.05 * rng.random()
        strength = own_low + (own_high - own_low) * (rng.random() * 2.2 - 0.8)
        own = {
            "name": f"machine {i + 1}",
            "product": "product A",
            "sump": {
                "capacity": cap,
                "volume": round(cap * filled, 1),
                "concentration": round(max(0.5, strength), 2),
            },
            "band": {"low": own_low, "target": round((own_low + own_high) / 2, 3), "high": own_high},
        }
        if rng.random() < 0.3:
            own["fill_to"] = round(cap * (0.7 + 0.3 * rng.random()), 1)
        if rng.random() < 0.1:
            own["against"] = "smells"
        found.append(own)
    settings = sorted({float(s) / 10 for s in rng.integers(5, 150, size=notches)})
    question = {
        "units": "metric",
        "reference": f"invented round {number}",
        "sumps": found,
        "stocks": [
            {"name": "concentrate A", "product": "product A", "concentration": 100},
            {"name": "water", "concentration": 0},
        ],
        "mixing": {"by": "proportioner", "settings": settings},
    }
    if with_moving:
        question["moving"] = {"at_least": 5}
    return question


def main():
    rng = np.random.default_rng(20261201)
    sizes = [(n, k, m) for m in (False, True) for n in (2, 4, 6, 8, 10, 12) for k in (4, 8)]
    sizes += [(n, 8, False) for n in (20, 30, 40)] + [(n, 6, True) for n in (16, 20, 28, 40)]
    sizes += [(n, 5, True) for n in (5, 7, 9, 11, 12)]
    rounds = []
    for number, (sumps, notches, with_moving) in enumerate(sizes, 1):
        question = drawn(rng, number, sumps, notches, with_moving)
        served, strengths, concentrate, bought = solve(question, None)
        if with_moving:
            try:
                found = solve(question, question["moving"], held=bought)
            except RuntimeError as error:
                print(number, sumps, notches, error, file=sys.stderr)
                continue
            served, strengths, concentrate, _ = found
        print(number, sumps, notches, with_moving, served, strengths, concentrate, file=sys.stderr)
        rounds.append(
            {
                "question": question,
                "served": served,
                "strengths": strengths,
                "concentrate": round(concentrate, 6),
            }
        )
    Path(__file__).with_name("rounds.json").write_text(json.dumps(rounds, indent=1) + "\n")


if __name__ == "__main__":
    main()
