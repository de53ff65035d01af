"""An order becomes control recipes: checked against the service's answer and a mass balance."""

import math
import re

from expected import CLEAN, QUESTION, ROUNDING, STOCKS, expect, listed, lot, near, order
from system import KEY, Front, PlantSystem, post, states


def refill(sump: dict) -> tuple[float, float]:
    """Volume and concentration of a sump's refill: cleaner, residue and rinses by hand."""
    v, h, c_h = sump["volume"], sump["residue"], sump["residue_concentration"]
    if "cleaner" in sump:
        # All of it circulates with the cleaner, which contains no concentrate.
        now = sump["fluid_now"]
        c_h = (h * c_h + (now["volume"] - h) * now["concentration"]) / (now["volume"] + cleaner(sump))
    rinse = sump.get("rinse")
    for _ in range(rinse["times"] if rinse else 0):
        c_h = (h * c_h + rinse["volume"] * rinse["strength"]) / (h + rinse["volume"])
    return v - h, (v * sump["target"] - h * c_h) / (v - h)


def cleaner(sump: dict) -> float:
    """Volume of system cleaner for a sump: its dose of the fluid in it."""
    return sump["fluid_now"]["volume"] * sump["cleaner"]["dose"] / 100 if "cleaner" in sump else 0


def planned(plant: PlantSystem, service: str, front: Front) -> None:
    """An order becomes control recipes that match the service's answer and balance."""
    status, headers, job = plant.order(order("RC-1001"))
    expect(status == 201 and headers["location"] == "/job-orders/RC-1001", "the order is taken", status, job)
    expect(states(job) == ["AllowedToStart"], "it may start", states(job))
    _, _, direct = post(f"{service}/v1/recharge", QUESTION)
    record, recipes = job["record"], job["controlRecipes"]
    for member in ("calculation", "version", "reference", "units", "balance", "assumptions"):
        expect(record[member] == direct[member], f"the record has the service's {member}", record[member])
    expect(len(recipes) == len(direct["answer"]["batches"]) == 2, "a recipe for each batch")

    wanted = {
        name: [refill(sump) for sump in QUESTION["sumps"] if sump["product"] == name]
        for name in ("product A", "product B")
    }
    for number, (recipe, batch) in enumerate(zip(recipes, direct["answer"]["batches"], strict=True), 1):
        product, formula = recipe["header"]["product"], recipe["formula"]
        volume = recipe["header"]["batchSize"]["Value"]
        strength = listed(formula["processParameters"], "concentration")["Value"]
        taken = {lot(one): one["Quantity"] for one in formula["processInputs"]}
        expect(
            taken == {take["name"]: take["volume"] for take in batch["take"] if take["volume"] > 0},
            "what to take is the service's",
        )
        near(volume, sum(v for v, _ in wanted[product]), "a batch is as large as its refills")
        strengths = [c for _, c in wanted[product]]
        near(strength, (min(strengths) + max(strengths)) / 2, "a shared batch lies halfway", CLEAN)
        near(sum(taken.values()), volume, "what is taken is the batch")
        near(
            sum(v * STOCKS[name]["concentration"] for name, v in taken.items()) / volume,
            strength,
            "its concentrate is its lots'",
            CLEAN,
        )
        chloride = (
            sum(v * STOCKS[name].get("properties", {}).get("chloride", 0) for name, v in taken.items())
            / volume
        )
        expect(chloride <= 95 * (1 + ROUNDING), "chloride is under its limit", chloride)
        expect(
            all(v <= STOCKS[name].get("volume", math.inf) * (1 + ROUNDING) for name, v in taken.items()),
            "no more is taken than there is",
        )
        phases_hold(recipe, job, direct, number)
        marks_hold(recipe, {"product A": (1.25, 0.3), "product B": (1.5, 0.35)}[product], strength)
        expect(
            recipe["otherInformation"]["cautions"] == direct["cautions"], "the operator sees every caution"
        )
    steps = [phase["sequence"] for recipe in recipes for phase in phases(recipe)]
    expect(sorted(steps) == list(range(1, len(direct["answer"]["sheet"]) + 1)), "every step is in one recipe")
    headers_hold(front)


def phases(recipe: dict) -> list[dict]:
    return [
        phase
        for unit in recipe["procedure"]
        for operation in unit["operations"]
        for phase in operation["phases"]
    ]


def phases_hold(recipe: dict, job: dict, direct: dict, number: int) -> None:
    sheet = direct["answer"]["sheet"]
    for phase in phases(recipe):
        step = sheet[phase["sequence"] - 1]
        expect(phase["instruction"] == step["text"], "the instruction is the service's")
        volume = next((one["Value"] for one in phase["parameters"] if one["ID"] == "volume"), None)
        expect(volume == step.get("volume"), "and so is the volume", phase)
    moved = {
        name: sum(
            listed(phase["parameters"], "volume")["Value"]
            for phase in phases(recipe)
            if phase["phase"] == name
        )
        for name in ("fill", "drain")
    }
    size = recipe["header"]["batchSize"]["Value"]
    near(moved["fill"], size, "all of the batch is filled in")
    sumps = [sump for sump in QUESTION["sumps"] if sump["product"] == recipe["header"]["product"]]
    old = sum(sump.get("fluid_now", sump)["volume"] - sump["residue"] for sump in sumps)
    rinsed = sum(sump["rinse"]["volume"] * sump["rinse"]["times"] for sump in sumps if "rinse" in sump)
    poured = sum(cleaner(sump) for sump in sumps)
    near(moved["drain"], old + poured + rinsed, "what was there, the cleaner and every rinse is drained")
    for operation in (one for unit in recipe["procedure"][1:] for one in unit["operations"]):
        expect(
            operation["operation"] != "recharge"
            or operation["equipment"] in [sump["name"] for sump in sumps],
            "at its machines",
            operation,
        )


def marks_hold(recipe: dict, reading: tuple[float, float], strength: float) -> None:
    """The band of the order around the concentration, and its marks on the scale: c = f·(b − w)."""
    factor, half = reading
    check = next(phase for phase in phases(recipe) if phase["phase"] == "reread")["check"]
    for name, c in (("lowest", strength - half), ("aim for", strength), ("highest", strength + half)):
        near(listed(check, f"{name} concentration")["Value"], c, f"the {name} concentration")
        near(listed(check, f"{name} reading")["Value"], c / factor + 0.2, f"the {name} reading")


def headers_hold(front: Front) -> None:
    expect(
        [one["path"] for one in front.asked] == ["/v1/recharge", "/v1/concentration", "/v1/concentration"],
        "asked no more than it takes",
    )
    expect(
        front.asked[0]["document"] == QUESTION,
        "the question is the one written by hand",
        front.asked[0]["document"],
    )
    traces = {
        re.fullmatch(r"00-([0-9a-f]{32})-([0-9a-f]{16})-01", one["headers"]["traceparent"])[1]
        for one in front.asked
    }
    expect(len(traces) == 1, "one order is one trace", traces)
    identities = [one["headers"]["x-request-id"] for one in front.asked]
    expect(
        all("RC-1001" in one for one in identities) and len(set(identities)) == 3,
        "each request has an identity",
        identities,
    )
    expect(all(one["headers"]["authorization"] == f"Bearer {KEY}" for one in front.asked), "each has the key")
