"""Logs of an invented sump with one fault each, made apart from the engine's code.

The sump is stepped through its rate equations by the midpoint rule, 100 steps a day: volume by
what is lost and runs in, concentrate by what is carried off. It is read every working morning by a
level and a refractometer with normal errors, and filled up by whoever comes by.
"""

import random

CAPACITY = 200.0
STRENGTH = 8.0
EVAPORATION = 9.0
CARRY_OFF = 6.0
DAYS = 22
U_VOLUME = 2.0
U_STRENGTH = 0.12
PREMIXES = [3.0, 0.0, 5.0]

# What goes wrong, how it is named when it is found, and in which sizes.
FAULTS = {
    "water unwritten (L)": ("unrecorded_addition", [10.0, 15.0, 20.0]),
    "concentrate unwritten (L)": ("unrecorded_addition", [1.5, 2.0, 3.0, 4.0]),
    "wrong factor (times)": ("factor_off", [1.1, 1.25, 2.0]),
    "leak (L a day)": ("water_ingress", [2.0, 3.0, 5.0]),
    "level misread (L)": ("volume_misread", [10.0, 20.0, 30.0]),
    "addition written twice (L)": ("addition_missing", [15.0, 30.0, 45.0]),
    "drift of the refractometer (% a day)": ("instrument_drift", [1.0, 2.0, 3.0]),
}


def day_of_work(v, c, leak, evaporation=EVAPORATION, carry_off=CARRY_OFF):
    """A day in small steps of the rate equations."""
    steps = 100
    h = 1.0 / steps
    rate = leak - evaporation - carry_off
    for _ in range(steps):
        middle = c - 0.5 * h * carry_off * c / v
        c -= h * carry_off * middle / (v + 0.5 * h * rate)
        v += h * rate
    return v, c


def top_up(rng, v, day):
    """Premix or water when the level is low, and a can of concentrate once a week."""
    if day % 7 == 5:
        return 2.0, 100.0
    strength = rng.choice(PREMIXES)
    if v <= 0.85 * CAPACITY:
        return float(max(round(CAPACITY - v), 5)), strength
    return None


def log(seed, fault=None, size=0.0):
    """One log with at most one fault, and where it lies: the day, and what was hit."""
    rng = random.Random(f"{seed} {fault} {size}")
    v = CAPACITY * 0.97
    c = v * STRENGTH / 100
    start = rng.randrange(7, 13)
    twice_done = False
    entries = []
    for day in range(DAYS):
        strength = 100 * c / v
        level = v
        if fault == "wrong factor (times)" and day >= start:
            strength *= size
        if fault == "drift of the refractometer (% a day)" and day > start:
            strength *= (1 + size / 100) ** (day - start)
        if fault == "level misread (L)" and day == start:
            level += size * rng.choice([-1, 1])
        entry = {
            "day": day,
            "volume": level + rng.gauss(0, U_VOLUME),
            "concentration": strength + rng.gauss(0, U_STRENGTH),
        }
        added = top_up(rng, v, day)
        if fault == "addition written twice (L)" and day >= start and not twice_done:
            # The other of two that came by wrote down what the first had poured in.
            poured, of = size, rng.choice(PREMIXES)
            entry["added"] = {"volume": 2 * poured, "concentration": of}
            v, c = v + poured, c + poured * of / 100
            twice_done = True
        elif added:
            entry["added"] = {"volume": added[0], "concentration": added[1]}
            v, c = v + added[0], c + added[0] * added[1] / 100
        entries.append(entry)
        leak = 0.0
        if fault == "leak (L a day)" and day >= start:
            leak = size
        if day == start and fault == "water unwritten (L)":
            v += size
        if day == start and fault == "concentrate unwritten (L)":
            v, c = v + size, c + size
        v, c = day_of_work(v, c, leak)
    question = {
        "units": "metric",
        "sump": {"capacity": CAPACITY, "concentration": STRENGTH},
        "reading_uncertainty": {"volume": U_VOLUME, "concentration": U_STRENGTH},
        "log": entries,
    }
    return question, start
