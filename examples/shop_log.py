#!/usr/bin/env python3
"""Writes three months of the log of the demo shop's 18 machines: an invented log, with two faults in it.

    examples/shop_log.py                            writes shop-log.csv
    examples/shop_log.py http://127.0.0.1:8787      draws pictures/shop-log.svg by the service too

The shop works from Monday to Friday but for HOLIDAYS, and reads a machine before work: not every machine
on every day, and the five-axis mill not for two weeks. What is lost on a day of work differs from day to
day by a tenth; a level is read to 1 % of the capacity and a strength to a tenth of a point. The seed is
fixed, so that the file is the same wherever it is written. None of this is a real shop.

The faults: from 2 March on water runs into machining centre 2, and from 9 February on the
refractometer at the deep-hole drill reads 0.7 points too high.
"""

import csv
import random
import subprocess
import sys
from datetime import date, timedelta
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE / "workbook"))
from shop import MACHINES  # noqa: E402

SEED = 20260105
FIRST, LAST = date(2026, 1, 5), date(2026, 4, 2)
HOLIDAYS = [date(2026, 1, 6)]
AWAY = ("five-axis mill", date(2026, 2, 16), date(2026, 2, 27))
INGRESS = ("machining centre 2", date(2026, 3, 2), 0.03)
MISREAD = ("deep-hole drill", date(2026, 2, 9), 0.7)
AT_REST = 0.2

HEADINGS = [
    "machine",
    "sump.capacity [L]",
    "at",
    "volume [L]",
    "reading.method",
    "reading.brix",
    "reading.factor",
    "added.volume [L]",
    "added.concentration",
]


def works(day: date) -> bool:
    return day.weekday() < 5 and day not in HOLIDAYS


def rows(draws: random.Random, machine: tuple):
    """The log of one machine, as it is written down."""
    name, capacity, _, _, factor, (_, target, _), least, evaporates, carried, _ = machine
    evaporates = evaporates or 0.028 * capacity
    carried = carried or 0.012 * capacity
    # What is lost on a day of work and over the weekend is made up at the strength that holds it.
    lost = evaporates * (1 + AT_REST * 2 / 5) + carried
    premix = round(2 * target * carried / lost) / 2
    v, c = 0.95 * capacity, 0.95 * capacity * target / 100
    day = FIRST
    while day <= LAST:
        at_work = works(day)
        away = name == AWAY[0] and AWAY[1] <= day <= AWAY[2]
        low = v < max(least / capacity + 0.05, 0.8) * capacity
        if at_work and (day == FIRST or low or draws.random() < 0.7) and not (away and not low):
            strength = 100 * c / v + draws.gauss(0, 0.1)
            if name == MISREAD[0] and day >= MISREAD[1]:
                strength += MISREAD[2]
            brix = strength / factor
            row = [name, capacity, day, round(v + draws.gauss(0, 0.01 * capacity)), "refractometer"]
            row += [round(brix, 1), factor]
            litres = round((0.97 * capacity - v) / 5) * 5 if low else 0
            if litres:
                row += [litres, premix]
                v, c = v + litres, c + litres * premix / 100
            yield row
        share = draws.uniform(0.9, 1.1)
        e = share * evaporates if at_work else AT_REST * evaporates
        d = share * carried if at_work else 0.0
        left = v - e - d
        c *= (left / v) ** (d / (e + d))
        v = left
        if name == INGRESS[0] and day >= INGRESS[1]:
            v += INGRESS[2] * capacity
        day += timedelta(days=1)


def main() -> None:
    draws = random.Random(SEED)
    logs = [list(rows(draws, machine)) for machine in MACHINES]
    with (HERE / "shop-log.csv").open("w", newline="") as file:
        written = csv.writer(file, lineterminator="\n")
        written.writerow(HEADINGS)
        written.writerows(row + [""] * (len(HEADINGS) - len(row)) for log in logs for row in log)
    if len(sys.argv) > 1:
        draw(sys.argv[1])


def draw(address: str) -> None:
    """The picture of the machine into which water runs."""
    lines = (HERE / "shop-log.csv").read_text().splitlines()
    of = [line for line in lines[1:] if line.startswith(INGRESS[0] + ",")]
    table = "\n".join([lines[0], *of])
    capacity = next(machine[1] for machine in MACHINES if machine[0] == INGRESS[0])
    asked = f"units=metric&format=svg&width=760&sump.capacity={capacity}"
    asked += "".join(f"&calendar.holidays.{i}={day}" for i, day in enumerate(HOLIDAYS))
    command = ["curl", "-sf", f"{address}/v1/sump-state?{asked}", "-H", "content-type: text/csv"]
    picture = subprocess.run([*command, "--data-binary", table], capture_output=True, check=True)
    (HERE / "pictures" / "shop-log.svg").write_bytes(picture.stdout)


if __name__ == "__main__":
    main()
