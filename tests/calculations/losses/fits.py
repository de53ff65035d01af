"""Fits seeded logs of a sump by statsmodels and records what it finds.

The course of the sump is followed in closed form with complex numbers, so that
its derivatives are exact (complex step); each step of the fit is statsmodels' WLS
on the linearised readings, repeated until it stands. Each log is also
fitted the other way: on the differences between neighbouring volumes, by
statsmodels' GLS with the covariance that a shared reading gives them.

Run: python3 tests/calculations/losses/fits.py (needs numpy and statsmodels 0.15)
"""

import json
import pathlib

import numpy as np
import statsmodels
import statsmodels.api as sm

DAYS = 15


def make(rng):
    """A log of a sump with its own size, concentration and losses."""
    capacity = float(rng.uniform(80, 600))
    strength = float(rng.uniform(6, 9))
    e = float(rng.uniform(0.02, 0.06)) * capacity
    d = float(rng.uniform(0.02, 0.05)) * capacity
    k = float(rng.choice([1.0, 1.2]))
    u_v, u_c = 0.01 * capacity, 0.15
    v, c = capacity, capacity * strength / 100
    day, log = 0.0, []
    for _ in range(DAYS):
        entry = {"day": round(day, 3)}
        # Some entries lack one of the two readings.
        if rng.random() > 0.15 or not log:
            entry["volume"] = round(v + float(rng.normal(0, u_v)), 3)
        if rng.random() > 0.15 or not log:
            entry["concentration"] = round(100 * c / v + float(rng.normal(0, u_c)), 4)
        if rng.random() < 0.15:
            taken = round(0.05 * capacity, 2)
            entry["removed"] = {"volume": taken}
            c *= 1 - taken / v
            v -= taken
        if v < 0.8 * capacity:
            q = float(rng.choice([0.0, 3.0, 6.0, 10.0]))
            a = round(capacity - v, 2)
            entry["added"] = {"volume": a, "concentration": q}
            v += a
            c += a * q / 100
        log.append(entry)
        step = float(rng.choice([0.5, 1.0, 1.5, 2.0]))
        gone = (e + d) * step
        c *= ((v - gone) / v) ** (k * d / (e + d))
        v -= gone
        day += step
    return {
        "units": "metric",
        "sump": {"capacity": round(capacity, 3), "concentration": 8.0},
        "reading_uncertainty": {"volume": round(u_v, 3), "concentration": u_c},
        "known": {"depletion_ratio": k},
        "log": log,
    }


def course(theta, question, k):
    """The expected value of every reading."""
    v, c, e, d = theta
    out = []
    log = question["log"]
    for entry, after in zip(log, log[1:] + [None]):
        if "volume" in entry:
            out.append(v)
        if "concentration" in entry:
            out.append(100 * c / v)
        if after is None:
            break
        if "removed" in entry:
            c = c * (1 - entry["removed"]["volume"] / v)
            v = v - entry["removed"]["volume"]
        if "added" in entry:
            a, q = entry["added"]["volume"], entry["added"]["concentration"]
            v, c = v + a, c + a * q / 100
        to = v - (e + d) * (after["day"] - entry["day"])
        c = c * (to / v) ** (k * d / (e + d))
        v = to
    return np.array(out)


def fit(question):
    k = question["known"]["depletion_ratio"]
    said = question["reading_uncertainty"]
    y, w = [], []
    for entry in question["log"]:
        for member in ("volume", "concentration"):
            if member in entry:
                y.append(entry[member])
                w.append(1 / said[member] ** 2)
    y, w = np.array(y), np.array(w)
    capacity = question["sump"]["capacity"]
    theta = np.array([capacity, 0.08 * capacity, 0.04 * capacity, 0.03 * capacity])
    for _ in range(200):
        columns = []
        for j in range(4):
            step = theta.astype(complex)
            step[j] += 1e-30j
            columns.append(course(step, question, k).imag / 1e-30)
        x = np.column_stack(columns)
        left = y - course(theta, question, k)
        wls = sm.WLS(left, x, weights=w).fit()
        theta = theta + wls.params
        u = np.sqrt(np.diag(wls.normalized_cov_params))
        if np.max(np.abs(wls.params) / u) < 1e-12:
            break
    cov = wls.normalized_cov_params
    return {
        "evaporation": theta[2],
        "u_evaporation": u[2],
        "carry_off": theta[3],
        "u_carry_off": u[3],
        "correlation": cov[2, 3] / (u[2] * u[3]),
        "chi_squared": float(np.sum(w * (y - course(theta, question, k)) ** 2)),
    }


def volumes_by_gls(question):
    """The loss of volume alone, from the differences of neighbouring volumes."""
    u = question["reading_uncertainty"]["volume"]
    rows, poured = [], 0.0
    for entry in question["log"]:
        if "volume" in entry:
            rows.append((entry["day"], entry["volume"] - poured))
        poured += entry.get("added", {}).get("volume", 0.0)
        poured -= entry.get("removed", {}).get("volume", 0.0)
    days, volumes = np.array(rows).T
    n = len(days) - 1
    sigma = u**2 * (2 * np.eye(n) - np.eye(n, k=1) - np.eye(n, k=-1))
    gls = sm.GLS(np.diff(volumes), -np.diff(days)[:, None], sigma=sigma).fit()
    return {"loss": gls.params[0], "u_loss": float(np.sqrt(gls.normalized_cov_params[0, 0]))}


def main():
    rng = np.random.default_rng(20260302)
    cases = []
    while len(cases) < 40:
        question = make(rng)
        case = {"question": question, "wls": fit(question)}
        case["gls"] = volumes_by_gls(question)
        cases.append(case)
    out = {"source": f"statsmodels {statsmodels.__version__}", "cases": cases}
    path = pathlib.Path(__file__).with_suffix(".json")
    path.write_text(json.dumps(out, indent=1) + "\n")


if __name__ == "__main__":
    main()
