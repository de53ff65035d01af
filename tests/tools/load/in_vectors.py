"""The yardsticks of `beside`: many draws of a top-up, and many sumps for a year, by numpy.

    in_vectors.py draws|fleet TABLE DRAWS

Prints the seconds that it took, without the time to start and to read, and what it found.
"""

import sys
import time

import numpy as np


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


if __name__ == "__main__":
    name, table, count = sys.argv[1:]
    if name == "draws":
        draws(100)  # what is loaded at first use
        began = time.perf_counter()
        found = draws(int(count))
    else:
        columns = np.loadtxt(table, delimiter=",", skiprows=1, usecols=(0, 1, 2, 3, 4, 9), unpack=True)
        began = time.perf_counter()
        found = fleet(*columns)
    print(time.perf_counter() - began, *found)
