"""Rounds of clean-outs and the fewest trips they need, by an exact solver.

Writes rounds.json beside this file: questions in the wire form of
`recharge`, each with the fewest trips, and the fewest emptyings of the vessel for
chips with so many trips, as scipy.optimize.milp (HiGHS) finds and proves them. What
each sump needs is worked out here from the rules of the plan, not taken from
the program under test:

- taken out: what is in the sump less the residue, and every rinse;
- refill: the working volume less the residue;
- a trip carries one product at one strength; full loads of a sump larger than a
  tank travel alone, and the rest of it shares a trip.

Run: python3 tests/calculations/recharge/rounds.py (about two minutes; needs scipy).
"""

import json
import math
import random
from pathlib import Path

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

ROUNDS = 60
SEED = 20240607


def sump(rng, number, product, target):
    volume = rng.randrange(60, 420, 10) if rng.random() < 0.9 else rng.randrange(500, 1300, 10)
    residue = rng.randrange(2, max(3, volume // 15))
    found = {
        "name": f"machine {number}",
        "product": product,
        "volume": volume,
        "target": target,
        "residue": residue,
        "residue_concentration": target,
        "chips": rng.randrange(0, 90, 5) if volume < 450 else rng.randrange(50, 150, 5),
    }
    if rng.random() < 0.3:
        times = rng.randint(1, 3)
        found["rinse"] = {"volume": rng.randrange(5, 25, 5), "times": times, "stock": "water"}
    if rng.random() < 0.5:
        now = rng.randrange(residue, volume + 1)
        found["fluid_now"] = {"volume": now, "concentration": target}
    return found


def question(rng, number):
    products = ["product A", "product B", "product C"][: rng.randint(1, 3)]
    count = rng.randint(3, 14) if number < 50 else rng.randint(20, 40)
    kinds = [(p, t) for p in products for t in ((5.0, 10.0) if rng.random() < 0.3 else (5.0,))]
    stocks = [{"name": f"concentrate, {p}", "product": p, "concentration": 100} for p in products]
    basket = {"name": "basket", "holds": "chips", "rated_load": 180}
    if rng.random() < 0.5:
        basket.update(rated_load=rng.choice([60, 90, 120]), empty_minutes=6, emptied_on_the_way=True)
    clean = {"name": "clean tank", "holds": "clean", "capacity": None, "pump_rate": 100}
    dirty = {"name": "dirty tank", "holds": "dirty", "capacity": None, "usable_share": 80}
    dirty.update(pump_rate=200, empty_minutes=10)
    sumps = [sump(rng, i + 1, *rng.choice(kinds)) for i in range(count)]
    clean["capacity"] = rng.choice([400, 450, 600])
    dirty["capacity"] = rng.choice([500, 600, 750])
    return {
        "units": "metric",
        "reference": f"generated round {number}",
        "sumps": sumps,
        "stocks": stocks + [{"name": "water", "concentration": 0}],
        "vessels": [clean, dirty, basket],
        "times": {"setup_minutes": 8, "drive_minutes": 3},
        # Rinsing with water changes the strength of the refill by less than
        # this, and the two strengths of a product are much further apart.
        "strength_tolerance": 2.0,
    }


def needs(q):
    """The needs of each sump: (clean, dirty, chips), by product and concentration."""
    by_batch = {}
    for s in q["sumps"]:
        now = s.get("fluid_now", {}).get("volume", s["volume"])
        rinse = s.get("rinse", {"volume": 0, "times": 0})
        dirty = now - s["residue"] + rinse["volume"] * rinse["times"]
        need = (s["volume"] - s["residue"], dirty, s["chips"])
        by_batch.setdefault((s["product"], s["target"]), []).append(need)
    return by_batch


def part(need, clean_tank, usable):
    """Full loads that travel alone, their chips, and the rest."""
    clean, dirty, chips = need
    full_clean = math.ceil(clean / clean_tank) - 1
    full_dirty = max(math.ceil(dirty / usable) - 1, 0)
    per_tank = chips * usable / dirty if dirty else 0.0
    rest = (clean - full_clean * clean_tank, dirty - full_dirty * usable, chips - full_dirty * per_tank)
    return full_clean + full_dirty, [per_tank] * full_dirty, rest


def greedy(items, capacity):
    bins = []
    for item in sorted(items, key=lambda i: -max(s / c for s, c in zip(i, capacity))):
        for bin_ in bins:
            if all(b + s <= c for b, s, c in zip(bin_, item, capacity)):
                bin_[:] = [b + s for b, s in zip(bin_, item)]
                break
        else:
            bins.append(list(item))
    return len(bins)


def pack(items, capacity, basket=None, trips=None):
    """The fewest trips, or the fewest emptyings of the basket with `trips`."""
    n, t = len(items), trips or greedy(items, capacity)
    x = lambda i, j: i * t + j
    y = lambda j: n * t + j
    k = lambda j: n * t + t + j
    size = n * t + 2 * t
    rows, low, high = [], [], []

    def row(entries, least, most):
        weights = np.zeros(size)
        for at, weight in entries:
            weights[at] += weight
        rows.append(weights)
        low.append(least)
        high.append(most)

    for i in range(n):
        row([(x(i, j), 1) for j in range(t)], 1, 1)
    for j in range(t):
        for direction, most in enumerate(capacity):
            if math.isfinite(most):
                entries = [(x(i, j), items[i][direction]) for i in range(n)]
                row(entries + [(y(j), -most)], -np.inf, 0)
        if basket:
            row([(x(i, j), items[i][2]) for i in range(n)] + [(k(j), -basket)], -np.inf, 0)
        if j:
            row([(y(j - 1), 1), (y(j), -1)], 0, np.inf)
    cost = np.zeros(size)
    upper = np.ones(size)
    upper[n * t + t :] = 1000 if basket else 0
    for i in range(n):
        for j in range(i + 1, t):
            upper[x(i, j)] = 0
    cost[n * t + t : size] = 1 if trips else 0
    cost[n * t : n * t + t] = 0 if trips else 1
    result = milp(
        cost,
        constraints=LinearConstraint(np.array(rows), low, high),
        bounds=Bounds(np.zeros(size), upper),
        integrality=np.ones(size),
        options={"mip_rel_gap": 0.0, "time_limit": 120},
    )
    if result.status != 0:
        return None
    return round(result.fun)


def solve(q):
    clean, dirty, chips = q["vessels"]
    usable = dirty["capacity"] * dirty["usable_share"] / 100
    on_the_way = "emptied_on_the_way" in chips
    basket = chips["rated_load"]
    capacity = (clean["capacity"], usable, math.inf if on_the_way else basket)
    trips, emptyings, largest = 0, 0, 0
    for sumps in needs(q).values():
        parts = [part(need, clean["capacity"], usable) for need in sumps]
        rests = [rest for _, _, rest in parts]
        fewest = pack(rests, capacity)
        if fewest is None:
            return None
        trips += fewest + sum(full for full, _, _ in parts)
        if on_the_way and len(rests) <= 14:
            least = pack(rests, capacity, basket, fewest)
            if least is None:
                return None
            alone = sum(math.ceil(m / basket - 1e-9) for _, full, _ in parts for m in full)
            emptyings += least + alone
        largest = max(largest, len(sumps))
    solved = {"question": q, "trips": trips, "largest_batch": largest}
    if on_the_way and largest <= 14:
        solved["chip_emptyings"] = emptyings
    return solved


def feasible(q):
    """If the basket is emptied only at the end of a trip, every load must fit it."""
    basket = q["vessels"][2]
    if "emptied_on_the_way" in basket:
        return True
    return all(s["chips"] <= basket["rated_load"] for s in q["sumps"])


def main():
    rng = random.Random(SEED)
    rounds = []
    while len(rounds) < ROUNDS:
        q = question(rng, len(rounds))
        if not feasible(q):
            continue
        solved = solve(q)
        if solved is not None:
            rounds.append(solved)
            print(len(rounds), solved["trips"], solved["largest_batch"], flush=True)
    lines = ",\n".join(json.dumps(entry) for entry in rounds)
    Path(__file__).with_suffix(".json").write_text(f"[\n{lines}\n]\n")


if __name__ == "__main__":
    main()
