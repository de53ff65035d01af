"""Writes recycler.json: recyclers solved by methods other than the engine's.

Run with: python3 tests/calculations/recycler/recycler.py
The answers were recorded with scipy 1.17; the seed makes the questions the same
every time.

- plans: the smallest tanks and the smallest throughput, each the optimum of a
  linear programme over all ways to run the recycler (scipy's HiGHS). The engine
  never sees a programme: it walks through the plan and always works as early as
  it can.
- batches: a recirculated tank whose fluid shrinks by what it loses, integrated
  step by step (scipy's solve_ivp) until the limit is met.
- risks: the probability that one lognormal delivery does not fit, in closed form.
"""

import json
import math
import pathlib
import random

import numpy as np
import scipy
from scipy.integrate import solve_ivp
from scipy.optimize import linprog
from scipy.stats import lognorm

random.seed(20261125)


def flows(days: int, start: float) -> list[dict]:
    entries = []
    for _ in range(random.randint(2, 6)):
        entry = {
            "day": round(random.uniform(start, days - 1.0), 4),
            "volume": round(random.uniform(80, 900), 1),
        }
        if random.random() < 0.5:
            entry["hours"] = round(random.uniform(0.5, 12), 2)
        entries.append(entry)
    return entries


def plan() -> dict:
    days = random.randint(4, 9)
    target, strength = 8.0, round(random.uniform(3, 8), 2)
    dirty = round(random.uniform(600, 2500), 1)
    clean = round(random.uniform(600, 2500), 1)
    question = {
        "units": "metric",
        "feed": {"arrivals": flows(days, 0.0), "concentration": strength},
        "stages": [{"name": "filter", "throughput": round(random.uniform(15, 150), 1)}],
        "mode": "single_pass",
        "hours_per_day": round(random.uniform(3, 24), 2),
        "starts_at_hour": round(random.uniform(0, 20), 2),
        "plan_days": days,
        "tanks": {
            "dirty": {"capacity": dirty, "level": round(random.uniform(0, 300), 1)},
            "clean": {"capacity": clean, "level": round(random.uniform(0, clean), 1)},
        },
        "demand": flows(days, 0.5),
        "target": {"concentration": target},
        "stocks": [{"name": "concentrate", "concentration": 100}],
    }
    if random.random() < 0.6:
        question["runs_on"] = sorted(random.sample(range(7), random.randint(3, 6)))
    return question


def intervals(question: dict) -> tuple[list, dict, dict]:
    """The constant flows between two moments, and the jumps at a moment."""
    end = question["plan_days"]
    week = question.get("runs_on", list(range(7)))
    starts, shift = question["starts_at_hour"] / 24, question["hours_per_day"] / 24
    shifts = [(d + starts, d + starts + shift) for d in range(end) if d % 7 in week]
    moments = {0.0, float(end)} | {t for shift in shifts for t in shift if t < end}
    lists = question["feed"]["arrivals"], question["demand"]
    jumps, rates = ({}, {}), ([], [])
    for which, entries in enumerate(lists):
        for entry in entries:
            day, hours = entry["day"], entry.get("hours", 0) / 24
            moments |= {day} | ({day + hours} if day + hours < end else set())
            if hours:
                rates[which].append((day, day + hours, entry["volume"] / hours))
            else:
                jumps[which][day] = jumps[which].get(day, 0.0) + entry["volume"]
    moments = sorted(moments)
    spans = []
    for low, high in zip(moments, moments[1:]):
        middle = (low + high) / 2
        rate = [sum(r for a, b, r in rates[which] if a < middle < b) for which in (0, 1)]
        runs = any(a < middle < b for a, b in shifts)
        spans.append((low, high - low, runs, rate[0], rate[1]))
    return spans, jumps[0], jumps[1]


def optimum(question: dict, what: str) -> float | None:
    """The smallest dirty tank, clean tank or throughput over all ways to run."""
    spans, arrives, fetched = intervals(question)
    target, strength = 8.0, question["feed"]["concentration"]
    gain = (100 - strength) / (100 - target)
    tanks, q = question["tanks"], question["stages"][0]["throughput"]
    n = len(spans)
    # Worked in each span, missed in each span and at each jump, and the unknown.
    size = 3 * n + 1
    most, least, bounds = [], [], [(0, None)] * size
    if what != "dirty":
        for k in range(n, 3 * n):
            bounds[k] = (0, 0)

    def at_most(row, bound):
        most.append(row)
        least.append(bound)

    dirty, clean = tanks["dirty"]["level"], tanks["clean"]["level"]
    took, missed = np.zeros(size), np.zeros(size)

    def hold(a, d):
        """Levels within the tanks, with `a` arrived and `d` asked for so far."""
        at_most(took.copy(), dirty + a)
        at_most(-gain * took - missed, clean - d)
        row, bound = gain * took + missed, d - clean
        if what == "clean":
            row[-1] -= 1
        else:
            bound += tanks["clean"]["capacity"]
        at_most(row, bound)
        if what == "clean":
            return
        row, bound = -took.copy(), -dirty - a
        if what == "dirty":
            row[-1] -= 1
        else:
            bound += tanks["dirty"]["capacity"]
        at_most(row, bound)

    a = d = 0.0
    for k, (day, days, runs, rate_in, rate_out) in enumerate(spans):
        hold(a, d)
        a += arrives.get(day, 0.0)
        d += fetched.get(day, 0.0)
        missed[n + k] += 1
        hold(a, d)
        hours = days * 24 if runs else 0.0
        if what == "throughput":
            row = np.zeros(size)
            row[k], row[-1] = 1, -hours
            at_most(row, 0.0)
        else:
            bounds[k] = (0, q * hours)
        took[k] += 1
        missed[2 * n + k] += 1
        a += rate_in * days
        d += rate_out * days
        hold(a, d)
    costs = np.zeros(size)
    costs[-1] = 1
    if what == "clean":
        bounds[-1] = (clean, None)
    solved = linprog(costs, A_ub=np.array(most), b_ub=np.array(least), bounds=bounds, method="highs")
    if solved.status == 2:
        return None
    assert solved.status == 0, solved.message
    return float(solved.fun)


def batch() -> dict:
    solids = round(random.uniform(300, 2000), 1)
    volume = round(random.uniform(200, 3000), 1)
    question = {
        "units": "metric",
        "feed": {
            "volume": volume,
            "concentration": round(random.uniform(3, 9), 2),
            "density": 1.0,
            "oil_density": round(random.uniform(0.84, 0.93), 3),
            "properties": {
                "tramp_oil": round(random.uniform(0.5, 6), 2),
                "solids": solids,
                "chloride": round(random.uniform(30, 200), 1),
            },
            "emulsified_share": round(random.uniform(0, 60), 1),
        },
        "stages": [
            {
                "name": "skimmer",
                "throughput": round(random.uniform(60, 500), 1),
                "removes": {"tramp_oil": round(random.uniform(20, 95), 1)},
                "good_fluid_lost": round(random.uniform(0, 2), 2),
            },
            {
                "name": "filter",
                "throughput": round(random.uniform(60, 500), 1),
                "removes": {"solids": round(random.uniform(40, 95), 1)},
                "good_fluid_lost": round(random.uniform(0, 1), 2),
            },
        ],
        "mode": "recirculate",
        "hours_per_day": 24,
        "target": {
            "concentration": 10,
            "limits": {"solids": {"max": round(solids * random.uniform(0.03, 0.2), 2)}},
        },
    }
    if random.random() < 0.5:
        question["sources"] = [{"property": "solids", "rate": round(random.uniform(0.0001, 0.0008), 5)}]
    return question


def integrated(question: dict) -> dict:
    feed, stages = question["feed"], question["stages"]
    volume, carried = feed["volume"], feed["properties"]
    oil = volume * carried["tramp_oil"] / 100
    bound = oil * feed["emulsified_share"] / 100
    start = [
        volume - oil,
        oil - bound,
        bound,
        volume * carried["solids"] * 1e-6,
        volume * carried["chloride"] * 1e-6,
    ]
    removes = [
        [0.0, stages[0]["removes"]["tramp_oil"] / 100, 0.0, 0.0, 0.0],
        [0.0, 0.0, 0.0, stages[1]["removes"]["solids"] / 100, 0.0],
    ]
    lost = [stage["good_fluid_lost"] / 100 for stage in stages]
    kept = [(1 - lost[s]) * (1 - np.array(removes[s])) for s in (0, 1)]
    q = min(stage["throughput"] for stage in stages)
    source = np.zeros(5)
    source[3] = question.get("sources", [{"rate": 0.0}])[0]["rate"]
    limit = question["target"]["limits"]["solids"]["max"]

    def change(_, y):
        m = y[:5]
        through = q / (m[0] + m[1] + m[2]) * m
        first = through * (1 - kept[0])
        second = through * kept[0] * (1 - kept[1])
        return np.concatenate([source - first - second, first, second])

    def at_limit(_, y):
        return y[3] * 1e6 / (y[0] + y[1] + y[2]) - limit

    at_limit.terminal, at_limit.direction = True, -1
    y0 = np.concatenate([start, np.zeros(10)])
    turnover = volume / q
    solved = solve_ivp(
        change, (0, 60 * turnover), y0, method="DOP853", events=at_limit, rtol=1e-12, atol=1e-15
    )
    assert solved.t_events[0].size == 1
    y = solved.y_events[0][0]
    return {
        "hours": float(solved.t_events[0][0]),
        "left": [float(x) for x in y[:5]],
        "skimmed": [float(x) for x in y[5:10]],
        "filtered": [float(x) for x in y[10:]],
    }


def risk() -> dict:
    level, volume = round(random.uniform(0, 300), 1), round(random.uniform(300, 900), 1)
    share = round(random.uniform(5, 60), 1)
    capacity = round(level + volume * random.uniform(0.9, 1.6), 1)
    s = share / 100
    sigma = math.sqrt(math.log1p(s * s))
    exact = lognorm(s=sigma, scale=math.exp(-sigma * sigma / 2)).sf((capacity - level) / volume)
    question = {
        "units": "metric",
        "feed": {
            "arrivals": [{"day": 0, "volume": volume}],
            "concentration": 6,
            "spread": {"share": share, "seed": random.randint(0, 10**6), "draws": 20000},
        },
        "stages": [{"name": "filter", "throughput": 50}],
        "mode": "single_pass",
        "hours_per_day": 8,
        "tanks": {
            "dirty": {"capacity": capacity, "level": level},
            "clean": {"capacity": 1e6},
        },
        "target": {"concentration": 6},
    }
    return {"question": question, "exact": float(exact)}


def main() -> None:
    plans = []
    while len(plans) < 120:
        question = plan()
        found = {what: optimum(question, what) for what in ("dirty", "clean", "throughput")}
        plans.append({"question": question, "smallest": found})
    batches = [{"question": q, "answer": integrated(q)} for q in (batch() for _ in range(25))]
    risks = [risk() for _ in range(12)]
    record = {"scipy": scipy.__version__, "plans": plans, "batches": batches, "risks": risks}
    path = pathlib.Path(__file__).with_name("recycler.json")
    path.write_text(json.dumps(record, indent=1) + "\n")
    have = [sum(p["smallest"][w] is not None for p in plans) for w in ("clean", "throughput")]
    print(len(plans), "plans, with a clean tank", have[0], "with a throughput", have[1])


main()
