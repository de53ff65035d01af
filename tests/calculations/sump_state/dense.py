"""Fits whole logs of levels by one dense weighted least squares and records what it finds.

Where only levels are read and no loss wanders, the balance is a straight line in all that is not
known: the level at first, evaporation, carry-off, evaporation at rest, and by how much each
filling missed its mark. Every level that was read, and what was known beforehand, is then one row
of a matrix, and nothing has to be linearised: filter, smoother and this are to agree to the last
digits. Nothing here goes from entry to entry.

Run: python3 tests/calculations/sump_state/dense.py (needs numpy)
"""

import json
import pathlib

import numpy as np

V, E, D, S = range(4)
NOW_AND_RATES = 4


def make(rng, case):
    """A log of levels, with fillings, removals, clean-outs and days at rest."""
    capacity = round(float(rng.uniform(80, 900)), 1)
    loss = {
        "evaporation": 0.035 * capacity,
        "carry_off": 0.025 * capacity,
        "standing": 0.008 * capacity,
    }
    at_work, at_rest = loss["evaporation"] + loss["carry_off"], loss["standing"]
    u = round(0.012 * capacity, 3)
    v, day, log = 0.96 * capacity, 0.0, []
    for i in range(30):
        entry = {"day": round(day, 3)}
        if i == 0:
            entry["concentration"] = 7.5
        if i == 0 or rng.random() > 0.25:
            entry["volume"] = round(float(v + rng.normal(0, u)), 3)
        if i == 17 and case % 2 == 0:
            entry["happened"] = "cleaned_out"
            entry["added"] = {"volume": round(0.9 * capacity, 1), "concentration": 6.0}
            v = entry["added"]["volume"]
        elif v < 0.75 * capacity:
            entry["added"] = {"concentration": float(rng.choice([0.0, 4.0]))}
            if rng.random() < 0.5:
                entry["added"]["volume"] = round(0.95 * capacity - v, 1)
                v += entry["added"]["volume"]
            else:
                entry["filled_to"] = "full"
                v = float(capacity + rng.normal(0, u))
        elif rng.random() < 0.15:
            entry["removed"] = {"volume": round(0.04 * capacity, 1)}
            v -= entry["removed"]["volume"]
        step = float(rng.choice([0.5, 1.0, 2.0]))
        if "happened" not in entry and rng.random() < 0.2:
            entry["happened"] = "machine_stood"
            v -= at_rest * step
        else:
            v -= at_work * step
        log.append(entry)
        day += step
    off = rng.normal(0, 1, 3)
    known = {
        name: {
            "value": round(value * (1 + 0.2 * float(z)), 3),
            "u": round(0.4 * value, 3),
        }
        for (name, value), z in zip(loss.items(), off)
    }
    return {
        "units": "metric",
        "sump": {"capacity": capacity},
        "reading_uncertainty": {"volume": u, "concentration": 0.15},
        "losses": known,
        "drift": 0.0,
        "now_day": round(day, 3),
        "log": log,
    }


def rows_of(question):
    """The level before each entry is read, at last and now, as rows over the unknowns."""
    log, capacity = question["log"], question["sump"]["capacity"]
    fillings = [i for i, entry in enumerate(log) if "filled_to" in entry]
    unknowns = NOW_AND_RATES + len(fillings)
    row, offset = np.zeros(unknowns), 0.0
    row[V] = 1.0
    before, after = [], []
    days = [entry["day"] for entry in log] + [question["now_day"]]
    for i, entry in enumerate(log):
        before.append((row.copy(), offset))
        if entry.get("happened") == "cleaned_out":
            row, offset = np.zeros(unknowns), 0.0
        if "removed" in entry:
            offset -= entry["removed"]["volume"]
        if "filled_to" in entry:
            row, offset = np.zeros(unknowns), capacity
            row[NOW_AND_RATES + fillings.index(i)] = 1.0
        elif "added" in entry:
            offset += entry["added"]["volume"]
        after.append((row.copy(), offset))
        step = days[i + 1] - days[i]
        row = row.copy()
        if entry.get("happened") == "machine_stood":
            row[S] -= step
        else:
            row[E] -= step
            row[D] -= step
    return before, after[-1], (row, offset), unknowns


def fit(question, upto):
    """The unknowns from the levels of the entries up to one of them, and their covariance."""
    before, _, _, unknowns = rows_of(question)
    u = question["reading_uncertainty"]["volume"]
    a, b = [], []
    for (row, offset), entry in list(zip(before, question["log"]))[: upto + 1]:
        if "volume" in entry:
            a.append(row / u)
            b.append((entry["volume"] - offset) / u)
    for place, name in ((E, "evaporation"), (D, "carry_off"), (S, "standing")):
        known = question["losses"][name]
        row = np.zeros(unknowns)
        row[place] = 1.0 / known["u"]
        a.append(row)
        b.append(known["value"] / known["u"])
    for place in range(NOW_AND_RATES, unknowns):
        row = np.zeros(unknowns)
        row[place] = 1.0 / u
        a.append(row)
        b.append(0.0)
    a, b = np.array(a), np.array(b)
    q, r = np.linalg.qr(a)
    inverse = np.linalg.inv(r)
    return inverse @ (q.T @ b), inverse @ inverse.T


def found(question):
    before, last, now, _ = rows_of(question)
    x, p = fit(question, len(question["log"]) - 1)

    def level(row, offset):
        return {"volume": float(row @ x + offset), "u": float(np.sqrt(row @ p @ row))}

    rows = np.vstack([last[0], np.eye(len(x))[[E, D, S]]])
    cov = rows @ p @ rows.T
    sigma = np.sqrt(np.diag(cov))
    if min(x[[E, D, S]]) <= 0:
        raise ArithmeticError("a rate below nothing")
    # A reading that the engine would take for an unwritten step is none of this.
    for i, entry in enumerate(question["log"]):
        if i > 0 and "volume" in entry:
            y, q = fit(question, i - 1)
            row, offset = before[i]
            u = np.hypot(question["reading_uncertainty"]["volume"], np.sqrt(row @ q @ row))
            if abs(entry["volume"] - offset - row @ y) > 3.9 * u:
                raise ArithmeticError("a step")
    return {
        "entries": [level(*each) for each in before],
        "now": level(*now),
        "evaporation": [float(x[E]), float(sigma[1])],
        "carry_off": [float(x[D]), float(sigma[2])],
        "standing": [float(x[S]), float(sigma[3])],
        "correlations": [float(cov[i, j] / sigma[i] / sigma[j]) for i in range(1, 4) for j in range(i)],
    }


def main():
    rng = np.random.default_rng(20260511)
    cases = []
    while len(cases) < 6:
        question = make(rng, len(cases))
        try:
            cases.append({"question": question, "found": found(question)})
        except ArithmeticError:
            continue
    out = {"source": f"numpy {np.__version__}", "cases": cases}
    path = pathlib.Path(__file__).with_suffix(".json")
    path.write_text(json.dumps(out, indent=1) + "\n")


if __name__ == "__main__":
    main()
