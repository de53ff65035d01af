"""Writes first_order.json: first-order uncertainties of 200 top-ups by `uncertainties`.

Run with: python3 tests/contract/uncertainty/first_order.py
Recorded with uncertainties 3.2.3 (PyPI), which differentiates by the chain rule;
the seed makes the questions the same every time. The balance is written out here
for a sump that is filled with neat concentrate and water without draining.
"""

import json
import pathlib
import random

import uncertainties
from uncertainties import correlated_values_norm, ufloat

random.seed(20261125)


def case() -> dict:
    capacity = random.uniform(80, 1500)
    volume = capacity * random.uniform(0.4, 0.8)
    factor = random.uniform(1.0, 2.2)
    target = random.uniform(5, 10)
    water = random.uniform(0.1, 0.5)
    brix = water + target * random.uniform(0.5, 0.98) / factor
    u = {
        "/sump/volume": volume * random.uniform(0.002, 0.02),
        "/sump/reading/brix": random.uniform(0.02, 0.15),
        "/sump/reading/factor": factor * random.uniform(0.005, 0.04),
        "/sump/reading/water_brix": random.uniform(0.01, 0.08),
        "/target/concentration": random.uniform(0.01, 0.1),
    }
    r = random.choice([0.0, random.uniform(-0.95, 0.95)])
    f, w = correlated_values_norm(
        [(factor, u["/sump/reading/factor"]), (water, u["/sump/reading/water_brix"])],
        [[1, r], [r, 1]],
    )
    v = ufloat(volume, u["/sump/volume"])
    b = ufloat(brix, u["/sump/reading/brix"])
    c_t = ufloat(target, u["/target/concentration"])
    c_0 = f * (b - w)
    added = capacity - v
    concentrate = (c_t * capacity - c_0 * v) / 100
    water_added = added - concentrate
    premix = 100 * concentrate / added
    mark = c_t / f + w
    numbers = {
        "/answer/add/0/volume": concentrate,
        "/answer/add/1/volume": water_added,
        "/answer/premix/concentration": premix,
        "/answer/after/mark": mark,
    }
    return {
        "question": {
            "units": "metric",
            "sump": {
                "capacity": capacity,
                "volume": volume,
                "reading": {
                    "method": "refractometer",
                    "brix": brix,
                    "factor": factor,
                    "water_brix": water,
                },
            },
            "target": {"concentration": target},
            "uncertainty": {
                "inputs": {pointer: {"u": value} for pointer, value in u.items()},
                "correlations": [
                    {
                        "first": "/sump/reading/factor",
                        "second": "/sump/reading/water_brix",
                        "coefficient": r,
                    }
                ],
                "draws": 100,
            },
        },
        "numbers": {p: {"value": x.n, "u": x.s} for p, x in numbers.items()},
    }


cases = [case() for _ in range(200)]
document = {"uncertainties": uncertainties.__version__, "cases": cases}
path = pathlib.Path(__file__).with_name("first_order.json")
path.write_text(json.dumps(document, indent=1) + "\n")
