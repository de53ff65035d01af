"""The yardsticks of `beside` by numpy: many draws of a top-up, many sumps for a year, an entry of many logs.

    in_vectors.py draws|fleet|states|lines TABLE DRAWS

Prints the seconds that it took, without the time to start and to read, and what it found. `lines` is
`states` with the time to read the documents and to write them, as a plant's script does both.
"""

import json
import sys
import time

import numpy as np

# How much the losses wander in 30 days, where a question does not say it.
DRIFT = 0.1
# What a state has an estimate of, in the order of its correlations.
PARTS = ("volume", "evaporation", "carry_off", "standing", "concentrate")


def draws(count: int) -> list[float]:
    """The demo sump, filled up with concentrate and water: each output's mean, standard
    deviation and ends of the middle 95 %."""
    chance = np.random.default_rng(1)
    v_0 = np.append(140.0, chance.normal(140.0, 4.0, count))
    brix = np.append(5.6, chance.normal(5.6, 0.14, count))
    factor = np.append(1.25, chance.normal(1.25, 0.03, count))
    v_t, c_t, premix_at_most = 200.0, 8.0, 20.0
    c_0 = factor * brix
    room, wanted = v_t - v_0, c_t * v_t - c_0 * v_0
    drain = np.clip((wanted - premix_at_most * room) / (premix_at_most - c_0), 0, None)
    brings = np.clip(wanted + c_0 * drain, 0, None)
    added = room + drain
    comes_to = (c_0 * (v_0 - drain) + brings) / v_t
    outputs = [drain, brings / 100, added - brings / 100, brings / added, comes_to, comes_to / factor]
    for output in outputs:
        drawn = output[1:]
        drawn.mean(), drawn.std(), np.quantile(drawn, [0.025, 0.975])
    return [float(outputs[1][0]), float(outputs[2][0])]


def fleet(capacity, volume, strength, evaporation, carry_off, premix) -> list[float]:
    """All sumps day by day: what is carried off takes its share of the concentrate, and the
    sump is filled up with premix every seventh day."""
    v, c = volume.copy(), volume * strength / 100
    lost = evaporation + carry_off
    power = carry_off / lost
    for day in range(1, 366):
        after = v - lost
        c = c * (after / v) ** power
        v = after
        if day % 7 == 0:
            c = c + (capacity - v) * premix / 100
            v = capacity.copy()
    return np.column_stack([v, 100 * c / v]).ravel().tolist()


def states(days, volume, off_volume, strength, off_strength, values, u, correlations):
    """Each sump's estimate a day on (volume, evaporation, carry-off, evaporation while it stands,
    concentrate), and what a reading of level and strength makes of it: the estimates, their standard
    uncertainties and their correlations, which are what a state keeps."""
    n = len(values)
    places = np.arange(5)
    p = np.empty((n, 5, 5))
    p[:, places, places] = 1.0
    below = [(a, b) for a in range(1, 5) for b in range(a)]
    for (a, b), correlation in zip(below, correlations.T, strict=True):
        p[:, a, b] = p[:, b, a] = correlation
    p *= u[:, :, None] * u[:, None, :]
    v, e, d, _, c = values.T
    lost, power = (e + d) * days, d / (e + d)
    after = v - lost
    left, log = (after / v) ** power, np.log(after / v)
    concentrate = c * left
    f = np.broadcast_to(np.eye(5), (n, 5, 5)).copy()
    f[:, 0, 1] = f[:, 0, 2] = -days
    f[:, 4, 0] = concentrate * power * (1.0 / after - 1.0 / v)
    f[:, 4, 4] = left
    by_level = -days * concentrate * power / after
    f[:, 4, 1] = by_level - concentrate * log * d / (e + d) ** 2
    f[:, 4, 2] = by_level + concentrate * log * e / (e + d) ** 2
    p = f @ p @ f.transpose(0, 2, 1)
    wandered = DRIFT**2 / 30 * days * (e + d) ** 2
    p[:, 1, 1] += wandered
    p[:, 2, 2] += wandered
    p[:, 3, 3] += DRIFT**2 / 30 * days * values[:, 3] ** 2
    x = values.copy()
    x[:, 0], x[:, 4] = after, concentrate
    h = np.zeros((n, 5))
    h[:, 0] = 1.0
    update(x, p, h, volume - x[:, 0], off_volume)
    h = np.zeros((n, 5))
    h[:, 0], h[:, 4] = -x[:, 4] / x[:, 0] ** 2, 1.0 / x[:, 0]
    update(x, p, h, strength / 100 - x[:, 4] / x[:, 0], off_strength / 100)
    u = np.sqrt(p[:, places, places])
    return x, u, np.column_stack([p[:, a, b] / (u[:, a] * u[:, b]) for a, b in below])


def looked_at(x, u, _) -> list[float]:
    """The numbers that are compared."""
    return np.column_stack([x[:, 0], u[:, 0], x[:, 4], u[:, 4]]).ravel().tolist()


def in_lines(x, u, correlations, days) -> str:
    """The new states a line each, with what each sump holds: without the alarms, what to do and the
    entries, which nothing here works out."""
    lines = []
    for values, off, between, day in zip(x.tolist(), u.tolist(), correlations.tolist(), days, strict=True):
        parts = zip(PARTS, values, off, strict=True)
        state = {part: {"value": value, "u": u_of} for part, value, u_of in parts}
        state |= {"day": day, "correlations": between, "stands": False}
        concentration = 100 * values[4] / values[0]
        lines.append(
            json.dumps({"now": {"volume": values[0], "concentration": concentration}, "state": state})
        )
    return "\n".join(lines) + "\n"


def update(x, p, h, off, u) -> None:
    """What one reading makes of all estimates."""
    ph = np.einsum("nij,nj->ni", p, h)
    s = np.einsum("ni,ni->n", h, ph) + u**2
    x += ph * (off / s)[:, None]
    p -= ph[:, :, None] * ph[:, None, :] / s[:, None, None]


def logged(lines):
    """The documents of `states` in columns, as a program would have them in memory, and the days of
    their entries."""
    documents = [json.loads(line) for line in lines]
    states = [document["state"] for document in documents]
    entries = [document["log"][0] for document in documents]
    readings = [entry["reading"] for entry in entries]
    return (
        np.array([entry["day"] - state["day"] for entry, state in zip(entries, states, strict=True)]),
        np.array([entry["volume"] for entry in entries]),
        np.array([document["reading_uncertainty"]["volume"] for document in documents]),
        np.array([reading["brix"] * reading["factor"] for reading in readings]),
        np.array([document["reading_uncertainty"]["concentration"] for document in documents]),
        np.array([[state[part]["value"] for part in PARTS] for state in states]),
        np.array([[state[part]["u"] for part in PARTS] for state in states]),
        np.array([state["correlations"] for state in states]),
    ), [entry["day"] for entry in entries]


if __name__ == "__main__":
    name, table, count = sys.argv[1:]
    if name == "draws":
        draws(100)  # what is loaded at first use
        began = time.perf_counter()
        found = draws(int(count))
    elif name == "states":
        with open(table, encoding="utf-8") as opened:
            columns, _ = logged(opened)
        states(*columns)  # what is loaded at first use
        began = time.perf_counter()
        found = looked_at(*states(*columns))
    elif name == "lines":
        with open(table, encoding="utf-8") as opened:
            lines = opened.read()
        states(*logged(lines.splitlines())[0])  # what is loaded at first use
        began = time.perf_counter()
        columns, days = logged(lines.splitlines())
        kept = states(*columns)
        in_lines(*kept, days)
        found = looked_at(*kept)
    else:
        columns = np.loadtxt(table, delimiter=",", skiprows=1, usecols=(0, 1, 2, 3, 4, 9), unpack=True)
        began = time.perf_counter()
        found = fleet(*columns)
    print(time.perf_counter() - began, *found)
