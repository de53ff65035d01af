"""Follows seeded logs of a sump by statsmodels' Kalman smoother and records what it finds.

The sump's closed forms are written down here once more, with complex numbers, so that their
slopes are exact (complex step). A first pass linearises them where the filter stands; the
linear system with its slopes, offsets and variances that vary from entry to entry then goes to
statsmodels, whose filtered and smoothed states and covariances are recorded.

Run: python3 tests/calculations/sump_state/filtered.py (needs numpy and statsmodels 0.15)
"""

import json
import pathlib

import numpy as np
import statsmodels
from statsmodels.tsa.statespace.kalman_smoother import KalmanSmoother

PLACES = 5
V, E, D, S, C = range(PLACES)


def through(x, worked, stood, k):
    """Where a stretch leads."""
    v_1 = x[V] - (x[E] + x[D]) * worked - x[S] * stood
    phi = np.log(v_1 / x[V]) / (v_1 - x[V]) if v_1 != x[V] else 1 / x[V]
    return np.array([v_1, x[E], x[D], x[S], x[C] * np.exp(-k * x[D] * worked * phi)])


def done(x, entry, capacity):
    """What is taken out and poured in."""
    v, c = x[V], x[C]
    if entry.get("happened") == "cleaned_out":
        v, c = 0 * v, 0 * c
    elif "removed" in entry:
        share = 1 - entry["removed"]["volume"] / v
        v, c = v * share, c * share
    if "added" in entry:
        strength = entry["added"]["concentration"] / 100
        litres = entry["added"].get("volume")
        litres = capacity - v if litres is None else litres
        v, c = v + litres, c + litres * strength
    return np.array([v, x[E], x[D], x[S], c])


def slope(f, x):
    columns = []
    for j in range(PLACES):
        step = x.astype(complex)
        step[j] += 1e-30j
        columns.append(f(step).imag / 1e-30)
    return np.column_stack(columns)


def make(rng, case):
    """A log of a sump with its own size, strength and losses."""
    capacity = round(float(rng.uniform(80, 600)), 1)
    e = float(rng.uniform(0.03, 0.05)) * capacity
    d = float(rng.uniform(0.02, 0.04)) * capacity
    k = float(rng.choice([1.0, 1.15]))
    u_v, u_c = round(0.01 * capacity, 3), 0.12
    x = np.array([0.97 * capacity, e, d, 0.0, 0.97 * capacity * 0.08])
    log, day = [], 0.0
    for i in range(25):
        entry = {"day": round(day, 3)}
        if i == 0 or rng.random() > 0.2:
            entry["volume"] = round(float(x[V] + rng.normal(0, u_v)), 3)
        if i == 0 or rng.random() > 0.2:
            entry["concentration"] = round(float(100 * x[C] / x[V] + rng.normal(0, u_c)), 4)
        if i == 12 and case % 3 == 0:
            entry["happened"] = "cleaned_out"
            entry["added"] = {"volume": round(0.95 * capacity, 1), "concentration": 8.0}
        elif x[V] < 0.8 * capacity:
            strength = float(rng.choice([0.0, 3.0, 6.0]))
            entry["added"] = {"concentration": strength}
            if case % 2 == 0:
                entry["added"]["volume"] = round(float(capacity - x[V]), 1)
            else:
                entry["filled_to"] = "full"
        elif rng.random() < 0.1:
            entry["removed"] = {"volume": round(0.05 * capacity, 1)}
        log.append(entry)
        x = done(x, entry, capacity)
        step = float(rng.choice([0.5, 1.0, 1.0, 2.0]))
        x = through(x, step, 0.0, k)
        day += step
    return {
        "units": "metric",
        "sump": {"capacity": capacity},
        "reading_uncertainty": {"volume": u_v, "concentration": u_c},
        "losses": {
            "evaporation": {"value": round(0.04 * capacity, 3), "u": round(0.02 * capacity, 3)},
            "carry_off": {"value": round(0.03 * capacity, 3), "u": round(0.02 * capacity, 3)},
            "standing": {"value": 0.0, "u": 0.0},
            "depletion_ratio": k,
        },
        "drift": float(rng.choice([0.0, 10.0, 30.0])),
        "now_day": round(day, 3),
        "log": log,
    }


def follow(question):
    capacity, log = question["sump"]["capacity"], question["log"]
    said, known = question["reading_uncertainty"], question["losses"]
    u_v, u_c = said["volume"], said["concentration"] / 100
    k, drift = known["depletion_ratio"], question["drift"] / 100
    n = len(log)
    v, c = log[0]["volume"], log[0]["concentration"] / 100
    x = np.array([v, known["evaporation"]["value"], known["carry_off"]["value"], 0.0, v * c])
    p = np.zeros((PLACES, PLACES))
    p[V, V] = u_v**2
    p[V, C] = p[C, V] = c * u_v**2
    p[C, C] = (c * u_v) ** 2 + (v * u_c) ** 2
    p[E, E], p[D, D] = known["evaporation"]["u"] ** 2, known["carry_off"]["u"] ** 2
    system = KalmanSmoother(k_endog=2, k_states=PLACES, k_posdef=PLACES)
    observed = np.full((2, n), np.nan)
    design = np.zeros((2, PLACES, n))
    obs_intercept = np.zeros((2, n))
    obs_cov = np.zeros((2, 2, n))
    transition = np.zeros((PLACES, PLACES, n))
    state_intercept = np.zeros((PLACES, n))
    state_cov = np.zeros((PLACES, PLACES, n))
    first = (x, p)
    clamped = False
    days = [entry["day"] for entry in log] + [question["now_day"]]
    for i, entry in enumerate(log):
        obs_cov[:, :, i] = np.diag([u_v**2, u_c**2])
        design[0, V, i] = 1.0

        def update(h, off, u):
            nonlocal x, p
            s = h @ p @ h + u * u
            if abs(off) > 4 * np.sqrt(s):
                raise ArithmeticError("a step")
            x, p = x + p @ h * off / s, p - np.outer(p @ h, p @ h) / s

        if i > 0 and "volume" in entry:
            observed[0, i] = entry["volume"]
            update(np.eye(PLACES)[V], entry["volume"] - x[V], u_v)
        h = np.zeros(PLACES)
        h[V], h[C] = -x[C] / x[V] ** 2, 1 / x[V]
        design[1, :, i] = h
        obs_intercept[1, i] = x[C] / x[V] - h @ x
        if i > 0 and "concentration" in entry:
            observed[1, i] = entry["concentration"] / 100
            update(h, entry["concentration"] / 100 - x[C] / x[V], u_c)
        clamped = clamped or min(x[E], x[D]) < 0
        step = days[i + 1] - days[i]

        def event(at, entry=entry):
            return done(at, entry, capacity)

        def stretch(at, step=step):
            return through(at, step, 0.0, k)

        g, after = slope(event, x), event(x)
        f = slope(stretch, after)
        filled = np.zeros(PLACES)
        if "filled_to" in entry:
            filled[V] = u_v
            filled[C] = filled[V] * entry["added"]["concentration"] / 100
        whole = after[E] + after[D]
        q = np.zeros((PLACES, PLACES))
        q[E, E] = q[D, D] = (drift * whole) ** 2 / 30 * step
        q += f @ np.outer(filled, filled) @ f.T
        transition[:, :, i] = f @ g
        state_intercept[:, i] = stretch(after) - f @ g @ x
        state_cov[:, :, i] = q
        x, p = stretch(after), f @ g @ p @ g.T @ f.T + q
    if clamped:
        raise ArithmeticError("a rate below nothing")
    system.bind(np.asfortranarray(observed))
    system["design"], system["obs_intercept"], system["obs_cov"] = design, obs_intercept, obs_cov
    system["transition"], system["state_intercept"] = transition, state_intercept
    system["selection"], system["state_cov"] = np.eye(PLACES), state_cov
    system.initialize_known(*first)
    found = system.smooth()

    def shown(mean, cov):
        h = np.zeros(PLACES)
        h[V], h[C] = -mean[C] / mean[V] ** 2, 1 / mean[V]
        return {
            "volume": mean[V],
            "u_volume": float(np.sqrt(cov[V, V])),
            "strength": 100 * mean[C] / mean[V],
            "u_strength": float(100 * np.sqrt(h @ cov @ h)),
        }

    last, last_cov = found.filtered_state[:, -1], found.filtered_state_cov[:, :, -1]
    return {
        "now": shown(found.predicted_state[:, -1], found.predicted_state_cov[:, :, -1]),
        "evaporation": [last[E], float(np.sqrt(last_cov[E, E]))],
        "carry_off": [last[D], float(np.sqrt(last_cov[D, D]))],
        "entries": [shown(found.smoothed_state[:, i], found.smoothed_state_cov[:, :, i]) for i in range(n)],
    }


def main():
    rng = np.random.default_rng(20260416)
    cases = []
    while len(cases) < 12:
        question = make(rng, len(cases))
        try:
            cases.append({"question": question, "found": follow(question)})
        except ArithmeticError:
            continue
    out = {"source": f"statsmodels {statsmodels.__version__}", "cases": cases}
    path = pathlib.Path(__file__).with_suffix(".json")
    path.write_text(json.dumps(out, indent=1) + "\n")


if __name__ == "__main__":
    main()
