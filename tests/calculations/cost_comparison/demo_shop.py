"""The demo shop of cost-comparison, calculated step by step with numpy-financial.

Reads examples/cost-comparison.json and writes cost_comparison.json beside this
file: for each way what a year costs by heading, all that is spent in money of
now, what it saves against the baseline in each year, and from that the net
present value and the internal rate, all by numpy-financial; and the price of
disposal, the clean-outs that a longer life of the fluid leaves, and the fee at which
two ways cost the same, found by scipy.optimize.brentq on the whole sum.

Run: python3 tests/calculations/cost_comparison/demo_shop.py (needs numpy-financial and scipy).
"""

import copy
import json
from pathlib import Path

import numpy_financial as npf
from scipy.optimize import brentq

HERE = Path(__file__).parent
EXAMPLE = HERE.parents[2] / "examples" / "cost-comparison.json"


def litres(shop, way):
    """Concentrate, water and spent fluid of a year, and its clean-outs."""
    kept = 1 - way.get("recovered", 0) / 100
    concentrate = water = spent = clean_outs = 0.0
    for group in shop["machines"]:
        strength = group["concentration"] / 100
        emptied = group["count"] * group["clean_outs_per_year"] * way.get("clean_out_ratio", 1)
        loss = group["losses"]
        days = group["count"] * shop["working_days_per_year"]
        refill = emptied * group["volume"] * kept
        concentrate += (refill + days * loss["carry_off"]) * strength
        water += (refill + days * loss["carry_off"]) * (1 - strength)
        water += days * loss["evaporation"] + emptied * way.get("wash_water", 0)
        spent += refill + emptied * way.get("wash_water", 0)
        clean_outs += emptied
    return concentrate, water, spent, clean_outs


def expenses(shop, way):
    """The costs of a year by heading, and the purchases at the end of each year."""
    price = {**shop["prices"], **way.get("prices", {})}
    machines = sum(group["count"] for group in shop["machines"])
    concentrate, water, spent, clean_outs = litres(shop, way)
    times = {"clean_out": clean_outs, "machine_year": machines, "month": 12, "year": 1}
    year = {
        "labour": sum(w["hours"] * times[w["per"]] * price["labour"] for w in way.get("labour", [])),
        "downtime": way.get("idle_hours", 0) * clean_outs * price["idle_machine"],
        "concentrate": concentrate * price["concentrate"],
        "water": water * price["water"],
        "disposal": spent * price["disposal"],
        "fees": sum(f["amount"] * times[f["per"]] for f in way.get("fees", [])),
        "filter_media": 0.0,
        "energy": 0.0,
        "upkeep": 0.0,
    }
    bought = [0.0] * (shop["horizon_years"] + 1)
    for purchase in way.get("purchases", []):
        pieces = purchase.get("count", 1)
        if purchase.get("serves") == "each_machine":
            pieces *= sum(group["count"] for group in shop["machines"])
        life = purchase.get("life_years")
        residual = purchase.get("residual", 0)
        at = 0
        while at < shop["horizon_years"]:
            bought[at] += pieces * purchase["price"]
            if life is None:
                bought[-1] -= pieces * residual
                break
            end = min(at + life, shop["horizon_years"])
            left = 1 - (end - at) / life
            bought[end] -= pieces * (residual + left * (purchase["price"] - residual))
            at += life
        running = purchase.get("running", {})
        hours = running.get("hours_per_clean_out", 0) * clean_outs
        hours += running.get("hours_per_year", 0) * pieces
        year["energy"] += hours * running.get("power", 0) * price["electricity"]
        year["energy"] += hours * running.get("fuel", 0) * price["fuel"]
        year["upkeep"] += hours * running.get("upkeep", 0)
        for media in running.get("media", []):
            if "life_weeks" in media:
                changes = 52 / media["life_weeks"] * pieces
            else:
                changes = hours / media["life_hours"]
            year["filter_media"] += changes * media.get("count", 1) * media["price"]
    return year, bought


def cash(shop, way):
    year, bought = expenses(shop, way)
    return [bought[0]] + [amount + sum(year.values()) for amount in bought[1:]]


def present(shop, place):
    return float(npf.npv(shop["discount_rate"] / 100, cash(shop, shop["ways"][place])))


def even(shop, path, one, other, low, high):
    """The number at `path` at which two options cost the same."""

    def apart(number):
        changed = copy.deepcopy(shop)
        inner = changed
        for step in path[:-1]:
            inner = inner[step]
        inner[path[-1]] = number
        return present(changed, one) - present(changed, other)

    return brentq(apart, low, high, xtol=1e-13, rtol=1e-14)


def main():
    shop = json.loads(EXAMPLE.read_text())
    rate = shop["discount_rate"] / 100
    baseline = cash(shop, shop["ways"][0])
    ways = []
    for place, way in enumerate(shop["ways"]):
        year, bought = expenses(shop, way)
        level = -npf.pmt(rate, shop["horizon_years"], npf.npv(rate, bought))
        saves = [before - now for before, now in zip(baseline, cash(shop, way))]
        found = {"name": way["name"], "yearly": {"purchases": float(level), **year}}
        found["present_cost"] = present(shop, place)
        if place > 0:
            found["saves"] = saves
            found["npv"] = float(npf.npv(rate, saves))
            found["irr"] = float(npf.irr(saves)) if min(saves) < 0 < max(saves) else None
        ways.append(found)
    disposal = even(shop, ("prices", "disposal"), 2, 0, 0, 10)
    clean_outs = even(shop, ("ways", 3, "clean_out_ratio"), 3, 2, 0, 10)
    fee = even(shop, ("ways", 1, "fees", 0, "amount"), 1, 0, 0, 1000)
    answer = {"ways": ways, "disposal": disposal, "clean_outs": clean_outs, "fee": fee}
    text = json.dumps(answer, indent=1)
    (HERE / "cost_comparison.json").write_text(text + "\n")


main()
