"""Shops with recycled fluid, by dense linear algebra and by integration.

Writes loops.json beside this file: questions in the wire form of `fluid-loop`
with what scipy and numpy make of them. Everything is worked out here from the
rules of the model, sump by sump, not taken from the program under test:

- settled: one dense system for the whole network, two unknowns a sump (after
  the refill, before the clean-out) and two a tank, solved by numpy; what a sump
  does between two clean-outs is scipy.linalg.expm of its own small matrix;
- what is carried off: scipy.integrate.quad over a sump's life;
- the recycling limit: scipy.optimize.brentq on the dense system;
- the way there: every age of every group as a sump of its own, each day
  integrated by scipy.integrate.solve_ivp (DOP853, rtol 1e-12).

Run: python3 tests/calculations/fluid_loop/loops.py (a minute or three; needs numpy and scipy).
"""

import json
import random
from pathlib import Path

import numpy as np
from scipy.integrate import quad, solve_ivp
from scipy.linalg import expm
from scipy.optimize import brentq

SETTLED = 40
WAYS = 12
SEED = 20240611
MATTER = ["chloride", "fines"]
PROPERTIES = ["tramp_oil", *MATTER]


def shop(rng, sumps, longest):
    groups = []
    for i in range(sumps):
        volume = rng.uniform(60, 900)
        group = {
            "name": f"sump {i}",
            "count": rng.choice([1, 1, 1, 2, 3, 9]),
            "volume": volume,
            "concentration": rng.uniform(3, 10),
            "losses": {
                "evaporation": volume * rng.uniform(0.0, 0.06),
                "carry_off": volume * rng.uniform(0.005, 0.05),
                "depletion_ratio": rng.choice([1.0, rng.uniform(0.7, 1.4)]),
            },
            "gains": {
                "tramp_oil": {"amount": volume * rng.uniform(0, 3e-4)},
                "chloride": {"amount": rng.uniform(0, 900)},
                "fines": {"rise": rng.uniform(0, 40)},
            },
            "returns": rng.random() < 0.85,
            "takes_recycled": rng.choice(["nothing", "refills", "refills_and_make_up", "refills"]),
        }
        if rng.random() < 0.9:
            residue = volume * rng.choice([0.0, rng.uniform(0, 0.2)])
            group["clean_out"] = {"every_days": rng.randint(2, longest), "residue": residue}
        groups.append(group)
    return {
        "units": "metric",
        "groups": groups,
        "recycler": {
            "share": rng.uniform(20, 100),
            "lost": rng.uniform(0.5, 12),
            "removes": {"tramp_oil": rng.uniform(0, 99), "fines": rng.uniform(0, 99)},
            "removes_concentrate": rng.choice([0.0, rng.uniform(0, 5)]),
        },
        "purge": rng.choice([0.0, rng.uniform(0, 60)]),
        "water": {
            "properties": {"chloride": rng.uniform(5, 120)},
            "deionised": {"share": rng.uniform(0, 60), "properties": {"chloride": 1.0}},
        },
        "concentrate": {"properties": {"chloride": rng.uniform(0, 500)}},
        "limits": {},
        "days": 0,
    }


class Network:
    """A question as arrays with one entry per group."""

    def __init__(self, q, back=None):
        g = q["groups"]
        pick = lambda f: np.array([f(x) for x in g], dtype=float)
        self.n = pick(lambda x: x["count"])
        self.v = pick(lambda x: x["volume"])
        self.c = pick(lambda x: x["concentration"]) / 100
        self.e = pick(lambda x: x["losses"]["evaporation"])
        self.d = pick(lambda x: x["losses"]["carry_off"])
        self.k = pick(lambda x: x["losses"]["depletion_ratio"])
        self.oil = pick(lambda x: x["gains"]["tramp_oil"]["amount"])
        self.days = pick(lambda x: x.get("clean_out", {}).get("every_days", np.inf))
        self.h = pick(lambda x: x.get("clean_out", {}).get("residue", 0.0))
        self.returns = np.array([x["returns"] for x in g])
        self.refills = np.array([x["takes_recycled"] != "nothing" for x in g])
        self.tops_up = np.array([x["takes_recycled"] == "refills_and_make_up" for x in g])
        r = q["recycler"]
        self.lost = r["lost"] / 100
        self.r_c = r["removes_concentrate"] / 100
        self.back = r["share"] / 100 * (1 - q["purge"] / 100) if back is None else back
        share = q["water"]["deionised"]["share"] / 100
        tap, pure = q["water"]["properties"], q["water"]["deionised"]["properties"]
        self.f_w = {p: tap.get(p, 0.0) * (1 - share) + pure.get(p, 0.0) * share for p in PROPERTIES}
        self.f_c = {p: q["concentrate"]["properties"].get(p, 0.0) for p in PROPERTIES}
        self.r = {p: r["removes"].get(p, 0.0) / 100 for p in PROPERTIES}
        self.gain = {
            "tramp_oil": self.oil,
            "chloride": pick(lambda x: x["gains"]["chloride"]["amount"]),
            "fines": pick(lambda x: x["gains"]["fines"]["rise"]) * self.v,
        }
        self.out = self.n * (self.v - self.h) / self.days
        self.feed_c = self.k * self.d * self.c
        self.feed_rest = self.e + self.d - self.oil - self.feed_c
        self.share_out()

    def share_out(self):
        """The distribution of the recycled stream: refills first."""
        into_c = (self.out * self.c)[self.returns].sum()
        into_rest = (self.out * (1 - self.c))[self.returns].sum()
        self.into_rest = into_rest
        # If all of it came back:
        most_c = (1 - self.lost) * (1 - self.r_c) * into_c
        most_rest = (1 - self.lost) * into_rest
        room = np.minimum(self.out * self.c / most_c, self.out * (1 - self.c) / most_rest)
        room = np.where(self.refills, room, 0.0)
        feed = np.minimum(self.n * self.feed_c / most_c, self.n * self.feed_rest / most_rest)
        feed = np.where(self.tops_up, feed, 0.0)
        # In litres of the whole stream, refills take what they can up to all of
        # it, and topping up what is left up to what it can.
        in_refills = room * min(1.0, self.back / room.sum()) if room.sum() else room
        left = max(self.back - room.sum(), 0.0)
        in_feed = feed * min(1.0, left / feed.sum()) if feed.sum() else feed
        scale = 1 / self.back if self.back > 0 else 0.0
        self.chi, self.chi_feed = in_refills * scale, in_feed * scale
        self.given_c = self.back * most_c

    def life(self, i, m):
        """A sump's own small matrix over its life: end = alpha·start + own."""
        if not np.isfinite(self.days[i]):
            return 0.0, m / self.d[i]
        a = np.array([[-self.d[i] / self.v[i], m / self.v[i]], [0, 0]]) * self.days[i]
        step = expm(a)
        return step[0, 0], step[0, 1]

    def settle(self, p, rest):
        """Contents after refill and before clean-out, the returns and the deliveries."""
        count = len(self.n)
        size = 2 * count + 2
        dirty, clean = size - 2, size - 1
        a, b = np.zeros((size, size)), np.zeros(size)
        fresh_y = self.out * self.c - self.chi * self.given_c
        fresh_w = self.out * (1 - self.c) - self.chi * rest
        fresh = fresh_y * self.f_c[p] + fresh_w * self.f_w[p]
        feed_c = self.feed_c - self.chi_feed * self.given_c / self.n
        feed_w = self.feed_rest - self.chi_feed * rest / self.n
        m = feed_c * self.f_c[p] + feed_w * self.f_w[p] + self.gain[p]
        for i in range(count):
            start, end = 2 * i, 2 * i + 1
            alpha, own = self.life(i, m[i])
            _, unit = self.life(i, 1.0)
            a[end, end], a[end, start], b[end] = 1, -alpha, own
            a[end, clean] = -unit * self.chi_feed[i] / self.n[i]
            a[start, start] = 1
            if self.out[i] > 0:
                stays = self.h[i] / self.v[i]
                a[start, end] = -stays
                a[start, clean] = -(1 - stays) * self.chi[i] / self.out[i]
                b[start] = (1 - stays) * fresh[i] / self.out[i]
            else:
                a[start, end] = -1
            if self.returns[i]:
                a[dirty, end] = -self.out[i]
        a[dirty, dirty] = 1
        a[clean, clean] = 1
        a[clean, dirty] = -self.back * (1 - self.lost) * (1 - self.r[p])
        x = np.linalg.solve(a, b)
        m = m + self.chi_feed * x[clean] / self.n
        return x[0:-2:2], x[1:-2:2], x[dirty], x[clean], m

    def all(self):
        found = {"tramp_oil": self.settle("tramp_oil", 0.0)}
        _, _, returned, given, _ = found["tramp_oil"]
        self.rest = self.back * (1 - self.lost) * (self.into_rest - returned) + given
        for p in MATTER:
            found[p] = self.settle(p, self.rest)
        return found

    def carried_off(self, found):
        """The carry-off on chips and parts per day, by property."""
        total = 0.0
        start, end, _, _, m = found
        for i in range(len(self.n)):
            if np.isfinite(self.days[i]):
                settled, rate = m[i] / self.d[i], self.d[i] / self.v[i]
                life = lambda t: settled + (start[i] - settled) * np.exp(-rate * t)
                mean = quad(life, 0, self.days[i], epsabs=0, epsrel=1e-12)[0] / self.days[i]
            else:
                mean = end[i]
            total += self.n[i] * self.d[i] * mean
        return total


def wire(p, value):
    return value * 100 if p == "tramp_oil" else value


def settled(rng, sumps):
    q = shop(rng, sumps, 300)
    net = Network(q)
    found = net.all()
    volume = net.given_c + net.rest
    case = {"question": q, "refilled": {}, "oldest": {}, "recycled": {}, "carried_off": {}}
    for p in PROPERTIES:
        start, end, _, given, _ = found[p]
        case["refilled"][p] = [wire(p, s) for s in start]
        case["oldest"][p] = [wire(p, s) for s in end]
        case["recycled"][p] = wire(p, given / volume)
        scale = 365 if p == "tramp_oil" else 365e-6
        case["carried_off"][p] = net.carried_off(found[p]) * scale
    # A limit on chloride halfway between recycling nothing and everything, and
    # the share at which it is met.
    keep = 1 - q["purge"] / 100
    highest = lambda back: max(s.max() for s in Network(q, back).all()["chloride"][:2])
    # A trace comes back at the low end, so that shares of the stream are defined.
    low, high = highest(1e-9), highest(1.0)
    case["limit"] = None
    if high > low * (1 + 1e-6):
        limit = 0.5 * (low + high)
        back = brentq(lambda b: highest(b) - limit, 1e-9, 1.0, xtol=1e-15, rtol=1e-14)
        case["limit"] = {"chloride": limit, "back": back, "share": min(1.0, back / keep) * 100}
    return case


def way(rng):
    q = shop(rng, rng.randint(2, 4), 15)
    q["tanks"] = {
        "dirty": {"capacity": 1e5, "holds": rng.uniform(0, 900)},
        "clean": {
            "capacity": 1e5,
            "holds": rng.uniform(0, 900),
            "carries_now": {"tramp_oil": 0.1, "chloride": 90.0, "fines": 12.0},
        },
    }
    q["tanks"]["dirty"]["carries_now"] = {"tramp_oil": 1.1, "chloride": 140.0, "fines": 300.0}
    days = 50
    q["days"] = days
    for group in q["groups"]:
        group["carries_now"] = {
            "tramp_oil": rng.uniform(0, 2),
            "chloride": rng.uniform(50, 300),
            "fines": rng.uniform(0, 500),
        }
    net = Network(q)
    count = len(net.n)
    q_day = net.out[net.returns].sum()
    most_rest = net.back * (1 - net.lost) * net.into_rest
    r_day = net.given_c + most_rest
    held_d, held_c = q["tanks"]["dirty"]["holds"], q["tanks"]["clean"]["holds"]
    kappa, sigma = r_day / (held_c + r_day), q_day / (held_d + q_day)
    rest = None
    highest, recycled = {}, {}
    for p in PROPERTIES:
        unwire = 100 if p == "tramp_oil" else 1
        # One sump for each age a group's sumps can have; age 0 is due next.
        ages = [int(t) if np.isfinite(t) else 1 for t in net.days]
        sumps = [np.full(a, q["groups"][i]["carries_now"][p] / unwire) for i, a in enumerate(ages)]
        tank_d = q["tanks"]["dirty"]["carries_now"][p] / unwire * held_d
        tank_c = q["tanks"]["clean"]["carries_now"][p] / unwire * (held_c + r_day)
        tank_rest = most_rest / kappa
        rests, gives, tops = [kappa * tank_rest], [kappa * tank_c], [max(s.max() for s in sumps)]
        for day in range(1, days + 1):
            give = kappa * tank_c
            rest_now = 0.0 if p == "tramp_oil" else rest[day]
            feed_c = net.feed_c - net.chi_feed * net.given_c / net.n
            feed_w = net.feed_rest - net.chi_feed * rest_now / net.n
            m = feed_c * net.f_c[p] + feed_w * net.f_w[p] + net.gain[p] + net.chi_feed * give / net.n
            state = np.concatenate(sumps)
            rate = np.concatenate([np.full(a, net.d[i] / net.v[i]) for i, a in enumerate(ages)])
            gain = np.concatenate([np.full(a, m[i] / net.v[i]) for i, a in enumerate(ages)])
            run = solve_ivp(
                lambda t, s: gain - rate * s, (0, 1), state, method="DOP853", rtol=1e-12, atol=1e-14
            )
            sumps = np.split(run.y[:, -1], np.cumsum(ages)[:-1])
            returned, top = 0.0, 0.0
            for i in range(count):
                if not np.isfinite(net.days[i]):
                    top = max(top, sumps[i][0])
                    continue
                end = sumps[i][0]
                fresh = (net.out[i] * net.c[i] - net.chi[i] * net.given_c) * net.f_c[p]
                fresh += (net.out[i] * (1 - net.c[i]) - net.chi[i] * rest_now) * net.f_w[p]
                refill = (net.chi[i] * give + fresh) / net.out[i]
                start = (net.h[i] * end + (net.v[i] - net.h[i]) * refill) / net.v[i]
                sumps[i] = np.append(sumps[i][1:], start)
                top = max(top, start, end)
                if net.returns[i]:
                    returned += net.out[i] * end
            out = sigma * (tank_d + returned)
            tank_d += returned - out
            tank_c += net.back * (1 - net.lost) * (1 - net.r[p]) * out - give
            rests.append(kappa * tank_rest)
            if p == "tramp_oil":
                tank_rest += net.back * (1 - net.lost) * (net.into_rest - net.r[p] * out) - kappa * tank_rest
            gives.append(give)
            tops.append(top)
        if p == "tramp_oil":
            rest = rests
        highest[p] = [wire(p, s) for s in tops]
        recycled[p] = [wire(p, s / (net.given_c + w)) for s, w in zip(gives, rest)]
    return {"question": q, "highest": highest, "recycled": recycled}


def main():
    rng = random.Random(SEED)
    sizes = [1, 2, 3, 5] * 8 + [20, 40, 40, 60, 100, 120, 160, 200]
    cases = {"settled": [], "ways": []}
    while len(cases["settled"]) < SETTLED:
        case = settled(rng, sizes[len(cases["settled"])])
        # A shop that returns no fluid has none to distribute.
        if np.isfinite([x for p in PROPERTIES for x in [case["recycled"][p], *case["oldest"][p]]]).all():
            cases["settled"].append(case)
    while len(cases["ways"]) < WAYS:
        case = way(rng)
        if np.isfinite([x for p in PROPERTIES for x in case["recycled"][p]]).all():
            cases["ways"].append(case)
    Path(__file__).with_suffix(".json").write_text(json.dumps(cases) + "\n")


main()
