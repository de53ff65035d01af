"""What could be named at all in the logs of simulated.py, by likelihood.

An oracle knows the rate equations, the errors of the readings and the seven faults, each as likely as
the other, and that a log has one of them or none. Of each story (fault, day, size) it has the
likelihood of the log, and it names the kind and the day to which most of them belong, if together
they are so much likelier than no fault that a log without one is accused once in a hundred. Nobody
does better on average. The first oracle also knows the rates, the first filling, the sizes and the days
that are drawn from: the bound of what such a log can tell. The second has to take the rates and the
first filling from the log, and tries sizes of a wide range on all days: the bound for whoever is not
told how the logs were made, as `losses`, which also looks for kinds of fault that never occur here.

What was poured in is taken as it is written, and not as a reading of what was missing.
"""

import numpy as np
from simulated import CAPACITY, CARRY_OFF, DAYS, EVAPORATION, FAULTS, STRENGTH, U_STRENGTH, U_VOLUME, log

CALIBRATION = 1000
# So many logs without a fault may be accused.
ACCUSED = 0.01
# First volume and concentrate, evaporation, carry-off.
TRUTH = np.array([CAPACITY * 0.97, CAPACITY * 0.97 * STRENGTH / 100, EVAPORATION, CARRY_OFF])
TWICE = "addition written twice (L)"
FACTOR = "wrong factor (times)"
MISREAD = "level misread (L)"
DRIFT = "drift of the refractometer (% a day)"
# Sizes that a fault may have for whoever is not told: so far below the smallest and above the largest.
WIDER = 2.0


class Oracle:
    """Names the faults of logs."""

    def __init__(self, told: bool):
        self.told = told
        days = range(7, 13) if told else range(1, DAYS - 1)
        self.stories = [(fault, day, sizes_of(fault, told)) for fault in FAULTS for day in days]
        clean = [log(1_000_000 + seed) for seed in range(CALIBRATION)]
        masses, none = self.masses(clean)
        self.needed = np.quantile(np.logaddexp.reduce(masses, axis=1) - none, 1 - ACCUSED)

    def masses(self, made: list) -> tuple[np.ndarray, np.ndarray]:
        """Logarithms of how likely each log is, by each fault and day, and without a fault."""
        logs = columns(made)
        masses = [self.likelihood(logs, *story) for story in self.stories]
        return np.stack(masses, axis=1), self.likelihood(logs, None, 0, np.zeros(1))

    def likelihood(self, logs: tuple, fault: str | None, day: int, sizes: np.ndarray) -> np.ndarray:
        readings, poured, strengths = logs
        of = lambda unknowns: expected(fault, day, sizes, unknowns, poured, strengths)  # noqa: E731
        off = readings[:, None, :] - of(TRUTH)
        squares = (off**2).sum(axis=2)
        if not self.told:
            # Linear in the unknowns about the truth, of which nothing is known before.
            steps = np.diag(1e-4 * TRUTH)
            slopes = [(of(TRUTH + step) - of(TRUTH - step)) / (2 * step.sum()) for step in steps]
            slopes = np.stack(slopes, axis=2)
            by = slopes @ slopes.swapaxes(2, 3)
            along = slopes @ off[..., None]
            squares = squares - (along * np.linalg.solve(by, along))[..., 0].sum(axis=2)
            squares = squares + np.linalg.slogdet(by)[1]
        each = 1 if fault is None else len(self.stories) * len(sizes)
        return np.logaddexp.reduce(-squares / 2, axis=1) - np.log(each)

    def named(self, made: list, kind: str) -> float:
        """The share of logs whose fault is named right, to within the days of `near`."""
        masses, none = self.masses(made)
        accused = np.logaddexp.reduce(masses, axis=1) - none > self.needed
        kinds = np.array([FAULTS[fault][0] for fault, _, _ in self.stories])
        days = np.array([day for _, day, _ in self.stories])
        guesses = sorted({(str(own), int(day)) for own, day in zip(kinds, days, strict=True)})
        near_by = [
            np.logaddexp.reduce(masses[:, (kinds == own) & (abs(days - day) <= near(own))], axis=1)
            for own, day in guesses
        ]
        best = [guesses[guess] for guess in np.argmax(near_by, axis=0)]
        right = [
            own == kind and abs(day - start) <= near(own)
            for (own, day), (_, start) in zip(best, made, strict=True)
        ]
        return float((accused & np.array(right)).mean())


def near(kind: str) -> int:
    """Within how many days a fault of this kind is named right: a drift creeps."""
    return 3 if kind == "instrument_drift" else 1


def sizes_of(fault: str, told: bool) -> np.ndarray:
    """The sizes that are tried: those that are drawn from, or a wide range of them."""
    if fault == TWICE:
        return np.ones(1)
    sizes = np.array(FAULTS[fault][1])
    if not told:
        # What a factor is off by is a factor.
        least, most = (np.log(sizes[[0, -1]]) if fault == FACTOR else sizes[[0, -1]]) * [1 / WIDER, 1]
        sizes = np.geomspace(least, most * (1 if fault == FACTOR else WIDER), 8)
        if fault == FACTOR:
            sizes = np.exp(np.concatenate([sizes, -sizes]))
        elif fault == DRIFT:
            sizes = np.concatenate([sizes, -sizes])
    return np.concatenate([sizes, -sizes]) if fault == MISREAD else sizes


def columns(made: list) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Readings over their errors, and additions, of logs: a row a log."""
    none = {"volume": 0.0, "concentration": 0.0}

    def of(get) -> np.ndarray:
        return np.array([[get(entry) for entry in question["log"]] for question, _ in made])

    volumes, read = of(lambda entry: entry["volume"]), of(lambda entry: entry["concentration"])
    poured = of(lambda entry: entry.get("added", none)["volume"])
    strengths = of(lambda entry: entry.get("added", none)["concentration"] / 100)
    return np.hstack([volumes / U_VOLUME, read / U_STRENGTH]), poured, strengths


def expected(fault, start, sizes, unknowns, poured, strengths) -> np.ndarray:
    """What would be read in each log without errors, for each size, over the errors."""
    shape = (len(poured), len(sizes))
    first, concentrate, e, d = unknowns
    v, c = np.full(shape, first), np.full(shape, concentrate)
    volumes, read = np.empty((*shape, DAYS)), np.empty((*shape, DAYS))
    for day in range(DAYS):
        volumes[:, :, day], read[:, :, day] = v, 100 * c / v
        litres = poured[:, day, None] * (0.5 if fault == TWICE and day == start else 1.0)
        v, c = v + litres, c + litres * strengths[:, day, None]
        if day == start and fault == "water unwritten (L)":
            v = v + sizes
        if day == start and fault == "concentrate unwritten (L)":
            v, c = v + sizes, c + sizes
        leak = sizes if fault == "leak (L a day)" and day >= start else 0.0
        after = v + leak - e - d
        # The mean of 1/V over the day.
        x = (after - v) / v
        c = c * np.exp(-d / v * np.where(abs(x) < 1e-6, 1 - x / 2, np.log1p(x) / np.where(x == 0, 1, x)))
        v = after
    if fault == FACTOR:
        read[:, :, start:] *= sizes[:, None]
    if fault == DRIFT:
        read[:, :, start:] *= (1 + sizes[:, None] / 100) ** np.arange(DAYS - start)
    if fault == MISREAD:
        volumes[:, :, start] += sizes
    return np.concatenate([volumes / U_VOLUME, read / U_STRENGTH], axis=2)
