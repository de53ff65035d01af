#!/usr/bin/env python3
"""Calendars of invented shops and what HiGHS, by scipy's milp, finds for them: calendars.json.

    calendars.py            writes calendars.json anew (needs scipy 1.11 or later; some minutes)

The programme is written here from the question alone, in another shape than the engine's: a binary
for each sump and each day of each crew; an event in every stretch as long as the longest interval;
at most one in every stretch as long as the shortest; the level of the dirty tank as a variable for
each day; a binary for each category of each month. Pickups are left out (no price is given for them).
"""

import datetime
import json
import pathlib
import random
import sys

import numpy
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_matrix

WATER = 0.9982072
DAYS = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]


def day_of(text):
    return datetime.date.fromisoformat(text)


class Rows:
    """Rows of a sparse programme, one after the other."""

    def __init__(self):
        self.at, self.low, self.high = ([], [], []), [], []

    def add(self, terms, low, high):
        row = len(self.low)
        for column, weight in terms:
            self.at[0].append(row)
            self.at[1].append(column)
            self.at[2].append(weight)
        self.low.append(low)
        self.high.append(high)

    def constraint(self, columns):
        rows, cols, weights = self.at
        matrix = coo_matrix((weights, (rows, cols)), shape=(len(self.low), columns))
        return LinearConstraint(matrix.tocsr(), self.low, self.high)


class Programme:
    """A question as a mixed-integer programme."""

    def __init__(self, question):
        self.costs, self.most, self.whole = [], [], []
        self.rows = Rows()
        self.constant = 0.0
        self.build(question)

    def column(self, cost, most=1.0, whole=False):
        self.costs.append(cost)
        self.most.append(most)
        self.whole.append(1 if whole else 0)
        return len(self.costs) - 1

    def build(self, q):
        start, days = day_of(q["from"]), 7 * q["weeks"]
        dates = [start + datetime.timedelta(days=d) for d in range(days)]

        def within(spans):
            found = set()
            for span in spans or []:
                first = day_of(span["from"])
                last = day_of(span.get("to", span["from"]))
                found |= {d for d in range(days) if first <= dates[d] <= last}
            return found

        closed, standing = within(q.get("closed")), within(q.get("standing"))
        recycler, waste = q.get("recycler"), q.get("waste", {})
        recovered = recycler["recovered"] / 100 if recycler else 0.0
        prices = {p["name"]: p["price"] for p in q.get("products", [])}
        crew_days = []
        for crew in q["crews"]:
            on = crew.get("works_on", DAYS[:5])
            away = within(crew.get("away"))
            crew_days.append(
                [
                    d
                    for d in range(days)
                    if DAYS[dates[d].weekday()] in on and d not in away and d not in closed
                ]
            )
        at = {}  # (sump, crew, day) to column
        masses = []
        for i, sump in enumerate(q["sumps"]):
            volume = sump["volume"]
            mass = sump.get("sludge", 0) + (1 - recovered) * volume * waste.get("density", WATER)
            masses.append(mass)
            base = prices.get(sump.get("product"), 0) * volume * (1 - recovered)
            base += mass * waste.get("price", 0)
            work = [crew.get("price", 0) * sump["hours"] for crew in q["crews"]]
            longest = int(sump.get("longest_days", 365))
            left = (base + min(work)) / sump.get("longest_days", 365)
            shortest = max(1, int(sump.get("shortest_days", 1)))
            stands_on = sump.get("stands_on", DAYS[5:])
            stands = within(sump.get("stands")) | standing | closed
            stands |= {d for d in range(days) if DAYS[dates[d].weekday()] in stands_on}
            cleaned = (day_of(sump["cleaned_on"]) - start).days
            due = cleaned + longest
            if "due_by" in sump:
                due = min(due, (day_of(sump["due_by"]) - start).days)
            by = due if due >= 0 else int(q.get("overdue_within_days", 14)) - 1
            earliest = min(max(0, cleaned + shortest), by)
            age = -max(cleaned, -longest)
            agreed = [a for a in q.get("agreed", []) if a["sump"] == sump["name"]]
            own = [(day_of(a["day"]) - start).days for a in agreed if not a.get("fixed")]
            fixed = [(day_of(a["day"]) - start).days for a in agreed if a.get("fixed")]
            dearest = base + sump.get("downtime_price", 0) + max(work)
            moving = q.get("moving_price", dearest / 2)
            by_day = [[] for _ in range(days)]
            for c, own_days in enumerate(crew_days):
                for d in own_days:
                    if d < earliest or (sump.get("only_standing") and d not in stands):
                        continue
                    cost = base + work[c] + (0 if d in stands else sump.get("downtime_price", 0))
                    cost -= moving if d in own else 0
                    at[i, c, d] = self.column(cost, whole=True)
                    by_day[d].append(at[i, c, d])
            self.constant += moving * len(own) - left * age

            def ones(first, last, by_day=by_day):
                chosen = range(max(0, first), min(days, last + 1))
                return [(column, 1.0) for d in chosen for column in by_day[d]]

            for last in range(by, days):
                self.rows.add(ones(last - longest + 1, last), 1, numpy.inf)
            for first in range(days):
                self.rows.add(ones(first, first + shortest - 1), -numpy.inf, 1)
            for d in fixed:
                self.rows.add(ones(d, d), 1, 1)
            # A day of age at the end for each day after which there is no clean-out.
            self.constant += left
            for d in range(days):
                column = self.column(left * (age if d == 0 else 1))
                self.rows.add([*ones(d, days), (column, 1.0)], 1, numpy.inf)

        def load(amount, chosen):
            return [(column, amount[i]) for (i, c, d), column in at.items() if chosen(c, d)]

        hours = [sump["hours"] for sump in q["sumps"]]
        volumes = [sump["volume"] for sump in q["sumps"]]
        for c, crew in enumerate(q["crews"]):
            for d in crew_days[c]:
                terms = load(hours, lambda k, e, c=c, d=d: (k, e) == (c, d))
                self.rows.add(terms, -numpy.inf, crew["hours_a_day"])
                if "fluid_a_day" in crew:
                    terms = load(volumes, lambda k, e, c=c, d=d: (k, e) == (c, d))
                    self.rows.add(terms, -numpy.inf, crew["fluid_a_day"])
            if "hours_a_week" in crew:
                weeks = {(d + start.weekday()) // 7 for d in crew_days[c]}
                for week in weeks:
                    terms = load(
                        hours,
                        lambda k, e, c=c, w=week: k == c and (e + start.weekday()) // 7 == w,
                    )
                    self.rows.add(terms, -numpy.inf, crew["hours_a_week"])
        if recycler:
            level = None
            for d in range(days):
                full = self.column(0.0, recycler["tank"])
                terms = [(full, 1.0), *((k, -w) for k, w in load(volumes, lambda _, e, d=d: e == d))]
                begins = recycler.get("level", 0) if level is None else 0
                if level is not None:
                    terms.append((level, -1.0))
                self.rows.add(terms, begins, begins)
                level = self.column(0.0, recycler["tank"])
                runs = DAYS[dates[d].weekday()] in recycler.get("runs_on", DAYS[:5])
                drains = recycler["throughput"] * recycler.get("hours_a_day", 8)
                drains = drains if runs and d not in closed else 0.0
                self.rows.add([(level, 1.0), (full, -1.0)], -drains, numpy.inf)
        months = {}
        for d in range(days):
            months.setdefault((dates[d].year, dates[d].month), []).append(d)
        other = waste.get("other_per_month", 0) / 30
        for own in months.values():
            chosen = set(own)
            terms = load(masses, lambda _, e, chosen=chosen: e in chosen)
            base = other * len(own)
            if "most_per_month" in waste:
                self.rows.add(terms, -numpy.inf, waste["most_per_month"] - base)
            if "categories" in waste:
                small = self.column(waste["categories"]["small"], whole=True)
                large = self.column(waste["categories"]["large"], whole=True)
                self.rows.add([*terms, (small, -900.0), (large, -1e5)], -numpy.inf, 100 - base)
                self.rows.add([(small, 1.0), (large, 1.0)], 0, 1)
        if "most_on_site" in waste:
            for d in range(days):
                terms = load(masses, lambda _, e, d=d: e == d)
                self.rows.add(terms, -numpy.inf, waste["most_on_site"] - other)

    def solve(self, seconds):
        found = milp(
            self.costs,
            integrality=self.whole,
            bounds=Bounds(0, self.most),
            constraints=self.rows.constraint(len(self.costs)),
            options={"time_limit": seconds, "mip_rel_gap": 1e-7},
        )
        if found.status == 2:
            return {"infeasible": True}
        cost = None if found.fun is None else found.fun + self.constant
        bound = found.fun if found.mip_dual_bound is None else found.mip_dual_bound
        return {"cost": cost, "at_least": None if bound is None else bound + self.constant}


def shop(seed, sumps, weeks, **more):
    """An invented shop: hours and volumes such that the crews are busy but not beyond their hours."""
    draw = random.Random(seed)
    start = datetime.date(2027, 1, 4)
    own = []
    for i in range(sumps):
        volume = draw.choice([60, 120, 180, 220, 320, 450])
        longest = draw.choice([60, 90, 120, 150, 180])
        longest = min(longest, 7 * weeks)
        age = draw.randrange(longest)
        sump = {
            "name": f"sump {i + 1}",
            "volume": volume,
            "product": draw.choice(["product A", "product B"]),
            "hours": draw.choice([1, 1.5, 2, 2.5, 3]),
            "cleaned_on": str(start - datetime.timedelta(days=age)),
            "longest_days": longest,
            "shortest_days": longest // 4,
            "downtime_price": draw.choice([0, 90, 160, 240]),
            "sludge": draw.choice([2, 5, 10]),
        }
        own.append(sump)
    load = sum(s["hours"] * 7 / s["longest_days"] for s in own)
    drained = sum(s["volume"] * 7 / s["longest_days"] for s in own)
    question = {
        "units": "metric",
        "from": str(start),
        "weeks": weeks,
        "sumps": own,
        "crews": [
            {
                "name": "day shift",
                "works_on": ["tuesday", "thursday"],
                "hours_a_day": max(4, round(0.7 * load)),
                "price": 42,
            },
            {
                "name": "Saturday crew",
                "works_on": ["saturday"],
                "hours_a_day": max(3, round(0.5 * load)),
                "price": 63,
            },
        ],
        "products": [{"name": "product A", "price": 0.32}, {"name": "product B", "price": 0.41}],
        "recycler": {
            "tank": max(600, round(1.2 * drained)),
            "throughput": max(5, round(1.4 * drained / 40)),
            "recovered": 70,
        },
        "waste": {"density": 1.0, "price": 0.45, "other_per_month": 30},
    }
    question.update(more)
    return question


def shops():
    """The recorded ones: small ones with each kind of limit, and those of the promise."""
    yield "five sumps", shop(1, 5, 8), 60
    yield "a week's hours", changed(shop(2, 8, 10), week=True), 60
    yield "categories", changed(shop(3, 8, 13), categories=True), 120
    yield "agreed", changed(shop(4, 8, 13), agreed=True), 60
    yield "month's waste", changed(shop(5, 10, 13), month=True), 60
    yield "a shutdown", changed(shop(6, 12, 20), shutdown=True), 120
    for seed in (11, 12, 13):
        yield f"twenty sumps {seed}", shop(seed, 20, 26), 240
    yield "twenty sumps, categories", changed(shop(14, 20, 26), categories=True), 240
    yield "few hours", changed(shop(7, 10, 12), hours=0.35), 60


def changed(q, week=False, categories=False, agreed=False, month=False, shutdown=False, hours=None):
    if week:
        q["crews"][0]["hours_a_week"] = 1.5 * q["crews"][0]["hours_a_day"]
    if categories:
        q["waste"]["categories"] = {"small": 120, "large": 900}
    if agreed:
        q["agreed"] = [
            {"sump": q["sumps"][0]["name"], "day": "2027-01-23", "fixed": True},
            {"sump": q["sumps"][1]["name"], "day": "2027-01-16"},
            {"sump": q["sumps"][2]["name"], "day": "2027-01-16"},
            {"sump": q["sumps"][3]["name"], "day": "2027-02-06"},
        ]
        q["moving_price"] = 60
        q["sumps"][1]["due_by"] = "2027-01-14"
        q["sumps"][0]["cleaned_on"] = "2026-12-01"
        q["sumps"][0]["longest_days"] = 90
        q["sumps"][0]["shortest_days"] = 10
    if month:
        arising = sum((s["sludge"] + 0.3 * s["volume"]) * 30 / s["longest_days"] for s in q["sumps"])
        q["waste"]["most_per_month"] = round(1.35 * arising + 31)
    if shutdown:
        q["standing"] = [{"from": "2027-03-15", "to": "2027-03-27"}]
        q["closed"] = [{"from": "2027-02-11"}]
        q["sumps"][3]["only_standing"] = True
    if hours:
        for crew in q["crews"]:
            crew["hours_a_day"] = max(3, round(hours * crew["hours_a_day"]))
            crew["hours_a_week"] = 3
    return q


def main():
    recorded = []
    for name, question, seconds in shops():
        result = Programme(question).solve(seconds)
        print(name, result, file=sys.stderr)
        recorded.append({"name": name, "question": question, "highs": result})
    path = pathlib.Path(__file__).with_name("calendars.json")
    lines = ",\n".join(json.dumps(one) for one in recorded)
    path.write_text(f"[\n{lines}\n]\n", encoding="utf-8")


if __name__ == "__main__":
    main()
