"""Writes doses.json: what is left of doses, by scipy's numerical integration.

Run with: python3 tests/calculations/dose/doses.py
Integrates the mass of what was dosed, with what is carried off and what is used up as
two rates of their own and the level held by make-up without any of it; nothing of the
engine's closed form is used. Recorded with scipy 1.15 or later; the seed makes the
questions the same every time.
"""

import json
import math
import pathlib
import random

import scipy
from scipy.integrate import solve_ivp

random.seed(20261129)


def case() -> dict:
    volume = round(random.uniform(40, 900), 1)
    carried, air = round(random.uniform(0.5, 12), 2), round(random.uniform(0, 20), 2)
    half_life = round(random.uniform(2, 60), 1)
    first, days = round(random.uniform(400, 2500), 0), round(random.uniform(0.5, 30), 2)

    def rates(_day: float, amounts: list) -> list:
        litres, milligrams = amounts
        content = milligrams / litres
        # Water goes to the air and fluid is carried off; the make-up is as much, and clean.
        return [-(air + carried) + (air + carried), -carried * content - milligrams * math.log(2) / half_life]

    exact = {"rtol": 1e-12, "atol": 1e-9, "method": "DOP853"}
    left = solve_ivp(rates, (0, days), [volume, first * volume], **exact).y[1, -1] / volume
    wanted = math.ceil(max(left, first)) + 100
    least = round(random.uniform(0.2, 0.9) * wanted, 0)

    def reached(_day: float, amounts: list) -> float:
        return amounts[1] / amounts[0] - least

    reached.terminal = True
    # Without a density the product counts as water: 998.2072 g/L (IAPWS-95, 20 °C).
    poured = (wanted - left) * volume / 1e6
    after = volume + poured / 0.9982072
    content = (left * volume + poured * 1e6) / after
    # The content is what the balance says; the sump is kept at the level it was dosed at.
    start = [volume, content * volume]
    lasts = solve_ivp(rates, (0, 1000), start, events=reached, **exact).t_events[0][0]
    question = {
        "units": "metric",
        "sump": {"volume": volume},
        "product": {"name": "invented", "kind": "other", "half_life_days": half_life},
        "wanted": wanted,
        "last_dose": {"content": first, "days_ago": days},
        "losses": {"evaporation": air, "carry_off": carried},
        "lasts_to": least,
    }
    return {"question": question, "now": left, "mass": poured, "content": content, "lasts_days": lasts}


cases = [case() for _ in range(40)]
here = pathlib.Path(__file__).parent
recorded = {"made_with": f"scipy {scipy.__version__}", "cases": cases}
(here / "doses.json").write_text(json.dumps(recorded, indent=1) + "\n")
