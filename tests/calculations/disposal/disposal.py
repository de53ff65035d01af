"""Projections of one shop each, simulated independently, for published/simulated.rs.

The engine uses the closed form of a well-mixed sump month by month. Here the
differential equations of a day's work are integrated by scipy (solve_ivp, DOP853),
and changes are done by pouring amounts of each material from vessel to vessel.
The fewest pickups are found by dynamic programming over all days, not greedily.

Needs scipy. Run: python3 tests/calculations/disposal/disposal.py
"""

import json
import pathlib
import random

from scipy.integrate import solve_ivp

MONTH = 365.0 / 12.0
WATER = 0.9982072  # kg/L at 20 degC, IAPWS-95
KEYS = ("concentrate", "water", "oil", "salt", "solids")


def vessel(**amounts):
    return {key: amounts.get(key, 0.0) for key in KEYS}


def pour(source, target, share):
    """Moves a share of the contents of one vessel into another."""
    for key in KEYS:
        moved = source[key] * share
        source[key] -= moved
        target[key] += moved


def volume(v):
    return v["concentrate"] + v["water"] + v["oil"]


def work(sump, shop, out):
    """A month of work: continuous losses, continuous topping up."""
    v, c, w_salt = shop["volume"], shop["strength"], shop["water_salt"]
    e, w = shop["evaporation"], shop["carry_off"]
    skimmed = shop["leak"] * shop["skimmed"]
    s = skimmed * (1.0 / shop["oil_in_skimmings"] - 1.0)
    conc_rate = c * shop["depletion"] * w + c * s
    water_rate = e + w + s - conc_rate

    def slope(_, y):
        oil, salt, chips_oil, chips_salt = y
        return [
            shop["leak"] - skimmed - (w + s) / v * oil,
            water_rate * w_salt - (w + s) / v * salt,
            w / v * oil,
            w / v * salt,
        ]

    start = [sump["oil"], sump["salt"], 0.0, 0.0]
    end = solve_ivp(slope, (0.0, MONTH), start, method="DOP853", rtol=1e-12, atol=1e-14).y[:, -1]
    left_oil = sump["oil"] + (shop["leak"] - skimmed) * MONTH - end[0]
    left_salt = sump["salt"] + water_rate * w_salt * MONTH - end[1]
    out["carried_off"]["concentrate"] += c * shop["depletion"] * w * MONTH
    out["carried_off"]["water"] += (w - c * shop["depletion"] * w) * MONTH
    out["carried_off"]["oil"] += end[2]
    out["carried_off"]["salt"] += end[3]
    out["oil_phase"]["concentrate"] += c * s * MONTH
    out["oil_phase"]["water"] += (1 - c) * s * MONTH
    out["oil_phase"]["oil"] += skimmed * MONTH + left_oil - end[2]
    out["oil_phase"]["salt"] += left_salt - end[3]
    sump["oil"], sump["salt"] = end[0], end[1]
    out["bought"]["concentrate"] += conc_rate * MONTH
    out["bought"]["water"] += water_rate * MONTH


def refill(sump, shop, out):
    """Brings a sump to its volume (without oil) and its concentration."""
    v, c = shop["volume"], shop["strength"]
    concentrate = v * c - sump["concentrate"]
    water = v * (1 - c) - sump["water"]
    assert concentrate > -1e-9 and water > -1e-9
    sump["concentrate"] += concentrate
    sump["water"] += water
    sump["salt"] += water * shop["water_salt"]
    out["bought"]["concentrate"] += concentrate
    out["bought"]["water"] += water


def take_fluid(sump, shop, litres, target):
    """Takes a number of litres of fluid (not counting its oil) with everything in them."""
    pour(sump, target, litres / shop["volume"])


def change(sump, shop, out):
    v, h = shop["volume"], shop["residue"]
    drained = vessel()
    pour(sump, drained, (v - h) / v)
    recycler = shop.get("recycler")
    back = vessel()
    if recycler:
        split_off = drained["oil"] * recycler["oil_removed"]
        drained["oil"] -= split_off
        y, a, b = recycler["recovered"], recycler["with_oil"], recycler["with_sludge"]
        for key in KEYS:
            back[key] = drained[key] * y
            out["oil_phase"][key] += drained[key] * a
            out["sludge"][key] += drained[key] * b
            out["spent_fluid"][key] += drained[key] * (1 - y - a - b)
        out["oil_phase"]["oil"] += split_off
    else:
        for key in KEYS:
            out["spent_fluid"][key] += drained[key]
    for _ in range(shop["rinses"]):
        f = shop["rinse"]
        sump["water"] += f
        sump["salt"] += f * shop["water_salt"]
        out["bought"]["water"] += f
        # The fluid of the residue and the rinse mix; the same volume leaves as came in.
        pour(sump, out["wash_water"], f / (h + f))
    for key in KEYS:
        sump[key] += back[key]
    refill(sump, shop, out)


def simulate(shop, months):
    v, c = shop["volume"], shop["strength"]
    oil = v * shop["oil_now"] / (1 - shop["oil_now"])
    salt = (v + oil) * shop["salt_now"]
    sump = vessel(concentrate=v * c, water=v * (1 - c), oil=oil, salt=salt)
    fines, result = 0.0, []
    density = c * shop["concentrate_density"] + (1 - c) * WATER
    for month in range(1, months + 1):
        names = ("spent_fluid", "wash_water", "oil_phase", "sludge", "carried_off", "filter_media", "bought")
        out = {name: vessel() for name in names}
        work(sump, shop, out)
        fines += shop["fines"]
        changed = month >= shop["first"] and (month - shop["first"]) % shop["every"] == 0
        if fines > 0 and (changed or month % shop["fines_every"] == 0):
            wet = fines / shop["dry_share"]
            take_fluid(sump, shop, (wet - fines) / density, out["sludge"])
            out["sludge"]["solids"] += fines
            fines = 0.0
            refill(sump, shop, out)
        lasts = shop["filter_months"]
        sets = int(month / lasts + 1e-9) - int((month - 1) / lasts + 1e-9)
        take_fluid(sump, shop, sets * shop["filter_fluid"], out["filter_media"])
        out["filter_media"]["solids"] += sets * shop["filter_mass"]
        refill(sump, shop, out)
        if changed:
            change(sump, shop, out)
        result.append(out)
    return result, sump


def document(shop, months):
    """The same shop as a request."""
    group = {
        "name": "all",
        "count": shop["count"],
        "volume": shop["volume"],
        "concentration": shop["strength"] * 100,
        "losses": {
            "evaporation": shop["evaporation"],
            "carry_off": shop["carry_off"],
            "depletion_ratio": shop["depletion"],
        },
        "change": {"habit": "calendar", "every_months": shop["every"], "first_month": shop["first"]},
        "residue": shop["residue"],
        "rinse": {"volume": shop["rinse"], "times": shop["rinses"]},
        "oil_leak": {
            "rate": shop["leak"],
            "skimmed": shop["skimmed"] * 100,
            "oil_in_skimmings": shop["oil_in_skimmings"] * 100,
        },
        "fines": {
            "mass_per_month": shop["fines"],
            "dry_share": shop["dry_share"] * 100,
            "every_months": shop["fines_every"],
        },
        "filter": {
            "dry_mass": shop["filter_mass"],
            "fluid_held": shop["filter_fluid"],
            "every_months": shop["filter_months"],
        },
        "properties": {"tramp_oil": shop["oil_now"] * 100, "chloride": shop["salt_now"] * 1e6},
    }
    asked = {
        "units": "metric",
        "months": months,
        "groups": [group],
        "concentrate": {"density": shop["concentrate_density"]},
        "water": {"properties": {"chloride": shop["water_salt"] * 1e6}},
        "oil_density": shop["oil_density"],
    }
    if "recycler" in shop:
        r = shop["recycler"]
        asked["recycler"] = {
            "recovered": r["recovered"] * 100,
            "lost_with_oil": r["with_oil"] * 100,
            "lost_with_sludge": r["with_sludge"] * 100,
            "oil_removed": r["oil_removed"] * 100,
        }
    return asked


def a_shop(rng):
    volume = rng.uniform(80, 600)
    shop = {
        "count": rng.randint(1, 40),
        "volume": volume,
        "strength": rng.uniform(0.03, 0.12),
        "evaporation": rng.uniform(0.5, 15),
        "carry_off": rng.uniform(0.2, 8),
        "depletion": rng.uniform(0.9, 1.4),
        "every": rng.randint(1, 8),
        "first": rng.randint(1, 8),
        "residue": rng.uniform(0.01, 0.1) * volume,
        "rinse": rng.uniform(5, 40),
        "rinses": rng.randint(0, 3),
        "leak": rng.uniform(0.01, 0.4),
        "skimmed": rng.uniform(0, 1),
        "oil_in_skimmings": rng.uniform(0.4, 1),
        "fines": rng.uniform(0.5, 8),
        "dry_share": rng.uniform(0.35, 0.8),
        "fines_every": rng.randint(1, 4),
        "filter_mass": rng.uniform(0.2, 2),
        "filter_fluid": rng.uniform(0.2, 4),
        "filter_months": rng.uniform(0.7, 9),
        "oil_now": rng.uniform(0, 0.04),
        "salt_now": rng.uniform(20e-6, 300e-6),
        "water_salt": rng.uniform(5e-6, 120e-6),
        "concentrate_density": rng.uniform(0.92, 1.08),
        "oil_density": rng.uniform(0.85, 0.92),
    }
    if rng.random() < 0.6:
        shop["recycler"] = {
            "recovered": rng.uniform(0.5, 0.85),
            "with_oil": rng.uniform(0, 0.05),
            "with_sludge": rng.uniform(0, 0.05),
            "oil_removed": rng.uniform(0.5, 1),
        }
    return shop


def expected(shop, months):
    out, sump = simulate(shop, months)
    densities = (shop["concentrate_density"], WATER, shop["oil_density"])

    def mass(v):
        a, b, c = densities
        return v["concentrate"] * a + v["water"] * b + v["oil"] * c + v["solids"]

    n = shop["count"]
    names = ("spent_fluid", "wash_water", "oil_phase", "sludge", "carried_off", "filter_media")
    by_month = [
        {
            "streams": {name: [n * volume(o[name]), n * mass(o[name])] for name in names},
            "concentrate": n * o["bought"]["concentrate"],
            "water": n * o["bought"]["water"],
        }
        for o in out
    ]
    return {"months": by_month, "oil_at_the_end": n * sump["oil"], "salt_at_the_end": n * sump["salt"]}


def fewest_pickups(monthly, most, days):
    """Dynamic programming: the fewest pickups by which each day can be the last."""
    end = len(monthly) * MONTH
    by = [0.0]
    day = 1
    while day < end + 1 - 1e-6:
        t = min(day, end)
        full = int(t / MONTH + 1e-9)
        part = monthly[full] * (t / MONTH - full) if full < len(monthly) else 0.0
        by.append(sum(monthly[:full]) + part)
        day += 1
    last = len(by) - 1
    reach = [0] + [None] * last
    for end_day in range(1, last + 1):
        for start in range(end_day):
            fits = by[end_day] - by[start] <= most * (1 + 1e-9) and end_day - start <= days
            if fits and reach[start] is not None:
                cost = reach[start] + 1
                if reach[end_day] is None or cost < reach[end_day]:
                    reach[end_day] = cost
    # The waste left at the end needs no pickup as long as it keeps the limits.
    return reach[last] - 1


def main():
    rng = random.Random(20240607)
    shops = []
    for _ in range(40):
        shop, months = a_shop(rng), rng.randint(4, 14)
        shops.append({"request": document(shop, months), "expected": expected(shop, months)})
    plans = []
    for _ in range(40):
        monthly = [rng.uniform(20, 1500) for _ in range(rng.randint(3, 15))]
        most, days = rng.choice([1000, 2500, 6000]), rng.choice([60, 90, 180, 270])
        plans.append(
            {"monthly": monthly, "mass": most, "days": days, "pickups": fewest_pickups(monthly, most, days)}
        )
    path = pathlib.Path(__file__).with_suffix(".json")
    lines = [",\n".join(json.dumps(entry) for entry in entries) for entries in (shops, plans)]
    path.write_text(f'{{"shops": [\n{lines[0]}\n],\n"plans": [\n{lines[1]}\n]}}\n')


if __name__ == "__main__":
    main()
