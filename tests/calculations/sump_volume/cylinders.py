"""Writes cylinders.json: partial volumes of lying cylinders by `fluids`.

Run with: python3 tests/calculations/sump_volume/cylinders.py
Recorded with fluids 1.3.1 (PyPI), its TANK with flat ends; the seed makes the
cylinders the same every time. Lengths in mm, volumes in L.
"""

import json
import pathlib
import random

import fluids
from fluids.geometry import TANK

random.seed(20261125)

cases = []
for _ in range(60):
    diameter = random.uniform(150, 2500)
    length = random.uniform(300, 6000)
    tank = TANK(D=diameter / 1000, L=length / 1000, horizontal=True)
    shares = [0.001, 0.05, 0.25, 0.5, 0.75, 0.95, 1.0] + [random.random()]
    levels = [
        {"level": diameter * share, "volume": 1000 * tank.V_from_h(diameter / 1000 * share)}
        for share in shares
    ]
    cases.append({"diameter": diameter, "length": length, "levels": levels})

document = {"fluids": fluids.__version__, "cases": cases}
path = pathlib.Path(__file__).with_name("cylinders.json")
path.write_text(json.dumps(document, indent=1) + "\n")
