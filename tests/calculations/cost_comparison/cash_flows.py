"""Cash flows calculated by numpy-financial, and all their internal rates by mpmath.

Writes cash_flows.json beside this file: 200 random cash flows, each with

- npv: numpy_financial.npv at a random rate;
- irr: numpy_financial.irr, which gives one rate or none;
- rates: every real rate above -100 %, as the roots of the polynomial that
  mpmath.polyroots finds with 60 digits, so that a flow with several changes of
  sign is known in full;
- payment: numpy_financial.pmt of a random loan.

Half of the flows are an outlay and what it earns, half change sign at random.

Run: python3 tests/calculations/cost_comparison/cash_flows.py (needs numpy-financial 1.0.0 and mpmath).
"""

import json
import math
import random
from pathlib import Path

import mpmath
import numpy_financial as npf

FLOWS = 200
SEED = 20240611

mpmath.mp.dps = 60


def flows(rng, number):
    years = rng.randint(2, 25)
    if number % 2 == 0:
        outlay = -round(rng.uniform(500, 60000), 2)
        return [outlay] + [round(rng.uniform(0.02, 0.4) * -outlay, 2) for _ in range(years)]
    return [round(rng.uniform(-20000, 20000), 2) for _ in range(years + 1)]


def rates(values):
    """Every r > -1 with sum f/(1 + r)^t = 0: roots of a polynomial in 1 + r."""
    roots = mpmath.polyroots([mpmath.mpf(v) for v in values], maxsteps=2000, extraprec=800)
    real = [mpmath.re(root) for root in roots if abs(mpmath.im(root)) < mpmath.mpf(10) ** -40]
    return sorted(float(root - 1) for root in real if root > 0)


def main():
    rng = random.Random(SEED)
    cases = []
    for number in range(FLOWS):
        values = flows(rng, number)
        rate = round(rng.uniform(0.0, 0.25), 4)
        irr = float(npf.irr(values))
        loan = {
            "rate": round(rng.uniform(0.001, 0.02), 5),
            "periods": rng.randint(3, 360),
            "present": round(rng.uniform(100, 500000), 2),
        }
        loan["payment"] = float(npf.pmt(loan["rate"], loan["periods"], loan["present"]))
        cases.append(
            {
                "flows": values,
                "rate": rate,
                "npv": float(npf.npv(rate, values)),
                "irr": None if math.isnan(irr) else irr,
                "rates": rates(values),
                "loan": loan,
            }
        )
    text = json.dumps({"cases": cases}, indent=1)
    Path(__file__).with_suffix(".json").write_text(text + "\n")


main()
