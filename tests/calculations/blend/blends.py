"""Writes blends.json: blends solved by scipy.optimize.linprog (HiGHS).

Run with: python3 tests/calculations/blend/blends.py
The answers were recorded with scipy 1.15 or later; the seed makes the questions
the same every time.
"""

import json
import pathlib
import random

import scipy
from scipy.optimize import linprog

random.seed(20261124)


def stock(number: int) -> dict:
    strong = number == 0 or random.random() < 0.2
    entry = {
        "name": f"stock {number}",
        "concentration": round(random.uniform(60, 100) if strong else random.uniform(0, 9), 3),
        "unit_cost": round(random.uniform(2, 9) if strong else random.uniform(0.001, 0.5), 4),
        "properties": {
            "hardness": round(random.uniform(0, 400), 1),
            "chloride": round(random.uniform(0, 150), 1),
            "tramp_oil": 0 if strong else round(random.uniform(0, 2), 2),
        },
    }
    if random.random() < 0.5:
        entry["volume"] = round(random.uniform(50, 900), 1)
    return entry


def question() -> dict:
    limits = {}
    if random.random() < 0.8:
        limits["hardness"] = {"max": round(random.uniform(60, 300), 1)}
    if random.random() < 0.5:
        limits["chloride"] = {
            "min": round(random.uniform(0, 30), 1),
            "max": round(random.uniform(40, 120), 1),
        }
    if random.random() < 0.5:
        limits["tramp_oil"] = {"max": round(random.uniform(0.2, 1.5), 2)}
    stocks = [stock(number) for number in range(random.randint(3, 8))]
    asked = {
        "units": "metric",
        "target": {
            "volume": round(random.uniform(100, 1200), 1),
            "concentration": round(random.uniform(3, 12), 2),
        },
        "stocks": stocks,
        "limits": limits,
    }
    if random.random() < 0.3:
        asked["goal"] = {"most_of": random.choice(stocks)["name"]}
    return asked


def solve(asked: dict) -> dict:
    stocks, volume = asked["stocks"], asked["target"]["volume"]
    favourite = asked.get("goal", {}).get("most_of")
    costs = [s["unit_cost"] if favourite is None else -float(s["name"] == favourite) for s in stocks]
    upper, most = [], []
    for name, limit in asked["limits"].items():
        carried = [s["properties"][name] for s in stocks]
        if "max" in limit:
            upper.append(carried)
            most.append(limit["max"] * volume)
        if "min" in limit:
            upper.append([-c for c in carried])
            most.append(-limit["min"] * volume)
    found = linprog(
        costs,
        A_ub=upper or None,
        b_ub=most or None,
        A_eq=[[1.0] * len(stocks), [s["concentration"] for s in stocks]],
        b_eq=[volume, asked["target"]["concentration"] * volume],
        bounds=[(0, s.get("volume")) for s in stocks],
        method="highs",
    )
    if found.status == 2:
        return {"question": asked, "feasible": False}
    assert found.status == 0, found.message
    return {"question": asked, "feasible": True, "objective": found.fun if favourite is None else -found.fun}


cases = [solve(question()) for _ in range(200)]
target = pathlib.Path(__file__).with_suffix(".json")
lines = ",\n".join(json.dumps(case) for case in cases)
target.write_text(f'{{"solver": "scipy {scipy.__version__} linprog (HiGHS)", "cases": [\n{lines}\n]}}\n')
print(sum(case["feasible"] for case in cases), "of", len(cases), "feasible")
