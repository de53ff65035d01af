#!/usr/bin/env python3
"""A plant system orders a recharge: from the order to the job response, and whatever goes wrong.

    tests/plant/check.py http://127.0.0.1:8787 NODE_RED/red.js

What the plant system says is held to what the service answers to a question written here by hand,
and to a mass balance that is worked out here. The orders are the ones of examples/plant/orders.
"""

import copy
import json
import math
import re
import sys
import tempfile
import time
from pathlib import Path

from system import KEY, PLANT, Front, PlantSystem, post, states

LITRES, KILOGRAMS = 3.785411784, 0.45359237  # in a US gallon, in a pound (NIST SP 811)
# Of what floating point loses over some sums of numbers of this size.
ROUNDING = 1e-9
# The service rounds the strength of a shared batch to 12 digits after the point, so that volumes
# may be off by that share of a batch.
CLEAN = 1e-7

checked = 0


def expect(true: bool, what: str, *seen) -> None:
    global checked
    checked += 1
    if not true:
        raise SystemExit(f"not so: {what} {seen if seen else ''}")


def near(a: float, b: float, what: str, by: float = ROUNDING) -> None:
    expect(math.isclose(a, b, rel_tol=by, abs_tol=by), what, a, b)


def example(name: str) -> dict:
    return json.loads((PLANT / "orders" / name).read_text())


def order(identity: str) -> dict:
    return {**example("order.json"), "JobOrderID": identity}


def actuals(name: str, identity: str) -> dict:
    document = example(name)
    number = document["BatchID"][-1]
    return {**document, "JobOrderID": identity, "BatchID": f"{identity}-B{number}"}


def listed(entries: list, identity: str) -> dict:
    return next(entry for entry in entries if entry["ID"] == identity)


# The order of examples/plant/orders/order.json, asked by hand.
QUESTION = {
    "units": "metric",
    "reference": "RC-1001",
    "sumps": [
        {"name": "lathe 1", "product": "product A", "volume": 180, "target": 6, "residue": 12,
         "residue_concentration": 7.1, "residue_properties": {"chloride": 180}, "solids": 45,
         "fluid_now": {"volume": 150, "concentration": 7.1}},
        {"name": "lathe 2", "product": "product A", "volume": 180, "target": 6, "residue": 12,
         "residue_concentration": 6.6, "residue_properties": {"chloride": 150}, "solids": 52},
        {"name": "mill 1", "product": "product B", "volume": 260, "target": 7.5, "residue": 18,
         "residue_concentration": 8.4, "residue_properties": {"chloride": 160}, "solids": 60,
         "flush": {"volume": 30, "times": 2, "stock": "deionised water"}},
    ],
    "stocks": [
        {"name": "RA-0417", "product": "product A", "concentration": 5.1, "volume": 250, "properties": {"chloride": 110}},
        {"name": "CA-2203", "product": "product A", "concentration": 100, "volume": 60, "density": 0.96},
        {"name": "CB-1189", "product": "product B", "concentration": 100, "volume": 200, "density": 0.98},
        {"name": "tap water", "concentration": 0, "properties": {"chloride": 60}},
        {"name": "deionised water", "concentration": 0, "volume": 900, "properties": {"chloride": 1}},
    ],
    "limits": {"chloride": {"max": 95}},
    "strength_tolerance": 0.2,
    "carrier": {"clean_tank": 400, "dirty_tank": 550, "usable_share": 85, "solids_basket": 150,
                "suction_rate": 120, "discharge_rate": 80},
    "times": {"setup_minutes": 8, "travel_minutes": 3, "loading_minutes": 4, "flush_minutes": 3,
              "tank_emptying_minutes": 10, "basket_emptying_minutes": 6},
}
STOCKS = {stock["name"]: stock for stock in QUESTION["stocks"]}


def lot(material: dict) -> str:
    return material.get("MaterialLotID", material.get("MaterialDefinitionID"))


def refill(sump: dict) -> tuple[float, float]:
    """How much a sump is refilled with, and how strong that must be: residue and flushes mixed by hand."""
    v, h, c_h = sump["volume"], sump["residue"], sump["residue_concentration"]
    flush = sump.get("flush")
    for _ in range(flush["times"] if flush else 0):
        c_h = h * c_h / (h + flush["volume"])  # flushed with water
    return v - h, (v * sump["target"] - h * c_h) / (v - h)


def planned(plant: PlantSystem, service: str, front: Front) -> None:
    """An order becomes control recipes that hold what the service answers and what adds up."""
    status, headers, job = plant.order(order("RC-1001"))
    expect(status == 201 and headers["location"] == "/job-orders/RC-1001", "the order is taken", status, job)
    expect(states(job) == ["AllowedToStart"], "it may start", states(job))
    _, _, direct = post(f"{service}/v1/recharge", QUESTION)
    record, recipes = job["record"], job["controlRecipes"]
    for member in ("calculation", "version", "reference", "units", "balance", "assumptions"):
        expect(record[member] == direct[member], f"the record has the service's {member}", record[member])
    expect(len(recipes) == len(direct["answer"]["batches"]) == 2, "a recipe for each batch")

    wanted = {name: [refill(sump) for sump in QUESTION["sumps"] if sump["product"] == name] for name in ("product A", "product B")}
    for number, (recipe, batch) in enumerate(zip(recipes, direct["answer"]["batches"]), 1):
        product, formula = recipe["header"]["product"], recipe["formula"]
        volume = recipe["header"]["batchSize"]["Value"]
        strength = listed(formula["processParameters"], "concentration")["Value"]
        taken = {lot(one): one["Quantity"] for one in formula["processInputs"]}
        expect(taken == {take["name"]: take["volume"] for take in batch["take"] if take["volume"] > 0}, "what to take is the service's")
        near(volume, sum(v for v, _ in wanted[product]), "a batch is as large as its refills")
        strengths = [c for _, c in wanted[product]]
        near(strength, (min(strengths) + max(strengths)) / 2, "a shared batch lies halfway", CLEAN)
        near(sum(taken.values()), volume, "what is taken is the batch")
        near(sum(v * STOCKS[name]["concentration"] for name, v in taken.items()) / volume, strength, "its concentrate is its lots'", CLEAN)
        chloride = sum(v * STOCKS[name].get("properties", {}).get("chloride", 0) for name, v in taken.items()) / volume
        expect(chloride <= 95 * (1 + ROUNDING), "chloride is under its limit", chloride)
        expect(all(v <= STOCKS[name].get("volume", math.inf) * (1 + ROUNDING) for name, v in taken.items()), "no more is taken than there is")
        phases_hold(recipe, job, direct, number)
        marks_hold(recipe, {"product A": (1.25, 0.3), "product B": (1.5, 0.35)}[product], strength)
        expect(recipe["otherInformation"]["cautions"] == direct["cautions"], "the operator sees every caution")
    steps = [phase["sequence"] for recipe in recipes for phase in phases(recipe)]
    expect(sorted(steps) == list(range(1, len(direct["answer"]["sheet"]) + 1)), "every step is in one recipe")
    headers_hold(front)


def phases(recipe: dict) -> list[dict]:
    return [phase for unit in recipe["procedure"] for operation in unit["operations"] for phase in operation["phases"]]


def phases_hold(recipe: dict, job: dict, direct: dict, number: int) -> None:
    sheet = direct["answer"]["sheet"]
    for phase in phases(recipe):
        step = sheet[phase["sequence"] - 1]
        expect(phase["instruction"] == step["text"], "the instruction is the service's")
        volume = next((one["Value"] for one in phase["parameters"] if one["ID"] == "volume"), None)
        expect(volume == step.get("volume"), "and so is the volume", phase)
    moved = {name: sum(listed(phase["parameters"], "volume")["Value"] for phase in phases(recipe) if phase["phase"] == name) for name in ("fill", "drain")}
    size = recipe["header"]["batchSize"]["Value"]
    near(moved["fill"], size, "all of the batch is filled in")
    sumps = [sump for sump in QUESTION["sumps"] if sump["product"] == recipe["header"]["product"]]
    old = sum(sump.get("fluid_now", sump)["volume"] - sump["residue"] for sump in sumps)
    flushed = sum(sump["flush"]["volume"] * sump["flush"]["times"] for sump in sumps if "flush" in sump)
    near(moved["drain"], old + flushed, "what was there and every flush is drained")
    for operation in (one for unit in recipe["procedure"][1:] for one in unit["operations"]):
        expect(operation["operation"] != "recharge" or operation["equipment"] in [sump["name"] for sump in sumps], "at its machines", operation)


def marks_hold(recipe: dict, reading: tuple[float, float], strength: float) -> None:
    """The band of the order around the strength, and where it lies on the scale: c = f·(b − w)."""
    factor, half = reading
    check = next(phase for phase in phases(recipe) if phase["phase"] == "reread")["check"]
    for name, c in (("lowest", strength - half), ("aim for", strength), ("highest", strength + half)):
        near(listed(check, f"{name} concentration")["Value"], c, f"the {name} concentration")
        near(listed(check, f"{name} reading")["Value"], c / factor + 0.2, f"the {name} reading")


def headers_hold(front: Front) -> None:
    expect([one["path"] for one in front.asked] == ["/v1/recharge", "/v1/concentration", "/v1/concentration"], "asked no more than it takes")
    expect(front.asked[0]["document"] == QUESTION, "the question is the one written by hand", front.asked[0]["document"])
    traces = {re.fullmatch(r"00-([0-9a-f]{32})-([0-9a-f]{16})-01", one["headers"]["traceparent"])[1] for one in front.asked}
    expect(len(traces) == 1, "one order is one trace", traces)
    identities = [one["headers"]["x-request-id"] for one in front.asked]
    expect(all("RC-1001" in one for one in identities) and len(set(identities)) == 3, "each request has an identity", identities)
    expect(all(one["headers"]["authorization"] == f"Bearer {KEY}" for one in front.asked), "each bears the key")


def confirmed(plant: PlantSystem) -> None:
    """One batch is confirmed, the other held, corrected and confirmed; the response adds up."""
    status, _, batch = plant.actuals(actuals("actuals-batch-1.json", "RC-1001"))
    expect(status == 200 and batch["status"] == "confirmed", "the first batch is confirmed", batch)
    near(batch["concentration"], 1.25 * (5.0 - 0.2), "its reading stands for this")
    expect(states(plant.response("RC-1001")) == ["Running"], "the job runs")
    expect(plant.actuals(actuals("actuals-batch-1.json", "RC-1001"))[0] == 409, "a confirmed batch stays as it is")

    weak = actuals("actuals-batch-2-weak.json", "RC-1001")
    _, _, batch = plant.actuals(weak)
    expect(batch["status"] == "held" and batch["standing"] == "below", "the second is held", batch)
    near(batch["concentration"], 1.5 * (5.2 - 0.2), "for this strength")
    target = batch["acceptance"]["target"]
    expect(batch["concentration"] < batch["acceptance"]["low"] < target, "which is below its band")
    poured = sum(one["Quantity"] for one in weak["MaterialActuals"])
    given = {lot(one): one["Quantity"] for one in batch["correction"]["MaterialRequirements"]}
    near(poured + sum(given.values()), 242, "the correction fills the batch up")
    concentrate = poured * batch["concentration"] + given["CB-1189"] * 100
    near(concentrate / 242, target, "and brings it to its target")
    expect(set(given) <= {"CB-1189", "tap water", "deionised water"}, "with its own product's lots", given)
    near(batch["correction"]["after"]["mark"], target / 1.5 + 0.2, "and must read this then")
    page = (PLANT / "README.md").read_text()
    expect(as_shown(json.loads(re.search(r"```json\n(.*?)```", page, re.S)[1]), batch), "README.md shows this batch", batch)
    response = plant.response("RC-1001")
    expect(states(response) == ["Interrupted", "Held"], "the job is held", states(response))

    corrected = actuals("actuals-batch-2-corrected.json", "RC-1001")
    expect(plant.actuals(corrected)[2]["status"] == "confirmed", "the corrected batch is confirmed")
    response = plant.response("RC-1001")
    expect(states(response) == ["Ended", "Completed"], "the job is done")
    sent = [actuals("actuals-batch-1.json", "RC-1001"), weak, corrected]
    for material in response["MaterialActuals"]:
        batches = [one for one in sent if one["BatchID"] == material.get("MaterialLotID", "")]
        if material["MaterialUse"] == "material produced":
            total = sum(one["Quantity"] for document in batches for one in document["MaterialActuals"])
        else:
            own = [one for one in sent if one["BatchID"] == listed(material["Properties"], "batch")["Value"]]
            total = sum(one["Quantity"] for document in own for one in document["MaterialActuals"] if lot(one) == lot(material))
        near(material["Quantity"], total, f"{lot(material)} adds up")
    expect(len(response["MaterialActuals"]) == 8, "six lots poured and two batches made")
    near(response["record"]["balance"]["residual"]["volume"], 0, "the balance is filed, and closes")


def as_shown(shown, real) -> bool:
    """Whether what the page for people shows is what came, as far as it shows it."""
    if isinstance(shown, dict):
        return all(name in real and as_shown(value, real[name]) for name, value in shown.items())
    if isinstance(shown, list):
        return len(shown) == len(real) and all(map(as_shown, shown, real))
    return math.isclose(shown, real, rel_tol=ROUNDING) if isinstance(shown, float) else shown == real


def too_strong(plant: PlantSystem) -> None:
    """A full batch that is too strong: some is taken out, water goes in, and the balance is the same."""
    plant.order(order("RC-1003"))
    strong = actuals("actuals-batch-2-weak.json", "RC-1003")
    strong["MaterialActuals"][0]["Quantity"], strong["MaterialActuals"][1]["Quantity"] = 222, 24
    strong["JobResponseData"][0]["Value"] = 6.7
    _, _, batch = plant.actuals(strong)
    expect(batch["status"] == "held" and batch["standing"] == "above", "too strong is held", batch)
    moved = {lot(one): one["Quantity"] for one in batch["correction"]["MaterialRequirements"]}
    out = moved.pop("RC-1003-B2")
    near(out, sum(moved.values()), "as much goes in as is taken out")
    expect("CB-1189" not in moved, "and no concentrate", moved)
    left = (246 - out) * 1.5 * (6.7 - 0.2)
    near(left / 246, batch["acceptance"]["target"], "which brings the batch to its target")

    follow = {**strong, "MaterialActuals": batch["correction"]["MaterialRequirements"]}
    follow["JobResponseData"] = [{"ID": "reading", "Value": round(batch["correction"]["after"]["mark"], 1), "EngineeringUnits": "J18"}]
    expect(plant.actuals(follow)[2]["status"] == "confirmed", "it is confirmed then")
    made = [one for one in plant.response("RC-1003")["MaterialActuals"] if lot(one) == "RC-1003-B2"]
    expect(len(made) == 1, "what was taken out is no material consumed", made)
    near(made[0]["Quantity"], 246, "and the batch is as large as it was")


def in_us_units(plant: PlantSystem) -> None:
    """The same order in gallons and pounds makes the same batches."""
    text = json.dumps(order("RC-1004"))
    factors = {"LTR": ("GLL", 1 / LITRES), "KGM": ("LBR", 1 / KILOGRAMS), "L2": ("G2", 1 / LITRES), "B35": ("GE", LITRES / KILOGRAMS)}

    def converted(entry: dict) -> dict:
        code, factor = factors.get(entry.get("EngineeringUnits"), (None, 1))
        return entry if code is None else {**entry, "Value": entry["Value"] * factor, "EngineeringUnits": code}

    status, _, job = plant.order(json.loads(text, object_hook=converted))
    expect(status == 201 and job["record"]["units"] == "us", "an order in gallons is taken", status)
    metric = plant.get("/job-orders/RC-1001")
    for here, there in zip(job["controlRecipes"], metric["controlRecipes"], strict=True):
        size = here["header"]["batchSize"]
        expect(size["EngineeringUnits"] == "GLL", "and its recipes are in gallons")
        near(size["Value"] * LITRES, there["header"]["batchSize"]["Value"], "of the same size", CLEAN)


def refused(plant: PlantSystem, front: Front) -> None:
    """Every fault of an order is said at its place; it is filed, and can be sent again when it is mended."""
    before = len(front.asked)
    status, headers, problem = plant.order(example("order-with-faults.json"))
    expect(status == 422 and headers["Content-Type"].startswith("application/problem+json"), "an order with faults is rejected", status)
    expect(len(front.since(before)) == 1, "a refusal is not asked again")
    faults = {(one["pointer"], one.get("name")) for one in problem["errors"]}
    expect(faults == {
        ("/EquipmentRequirements/0/Properties/3/ID", None),
        ("/EquipmentRequirements/0", "residue"),
        ("/EquipmentRequirements/1/Properties/1/EngineeringUnits", None),
        ("/EquipmentRequirements/2/Properties/4/Value", None),
        ("/EquipmentRequirements/3/Properties/2/Value", None),
        ("/MaterialRequirements/1/Properties", None),
    }, "all its faults are said at once", faults)
    expect(states(plant.response("RC-1002")) == ["Aborted"], "it is filed as aborted")
    expect(plant.order(order("RC-1002"))[0] == 201, "mended, it is taken")
    expect(len(plant.get("/job-orders/RC-1002")["rejected"]) == 1, "and the rejection stays on file")

    strong = order("RC-1005")
    listed(strong["EquipmentRequirements"], "lathe 1")["Properties"][2]["Value"] = 99
    _, _, problem = plant.order(strong)
    expect(problem["service"]["type"] == "/problems/unreachable", "a target out of reach is said", problem)
    expect(any(one["pointer"] == "/EquipmentRequirements/0/Properties/2/Value" for one in problem["errors"]), "at the target", problem)

    expect(plant.order(order("RC-1001"))[0] == 409, "an order at work is not overwritten")
    expect(plant.order(b"{no")[0] == 400, "what is not JSON is said")
    wrong = actuals("actuals-batch-1.json", "RC-1002")
    wrong["MaterialActuals"][0]["EngineeringUnits"] = "GLL"
    wrong["MaterialActuals"][3]["MaterialLotID"] = "CB-1189"
    del wrong["JobResponseData"]
    status, _, problem = plant.actuals(wrong)
    expect(status == 422 and len(problem["errors"]) == 3, "wrong actuals are refused with every fault", problem)
    expect(states(plant.response("RC-1002")) == ["AllowedToStart"], "and nothing was filed of them")


def busy(plant: PlantSystem, front: Front) -> None:
    """Busy is asked again, not before it says; other failures are not."""
    before = len(front.asked)
    front.first = [(503, {"retry-after": "2"}), (429, {"retry-after": "1"})]
    status, _, _ = plant.order(order("RC-1006"))
    asked = front.since(before, "recharge")
    expect(status == 201 and len(asked) == 3, "it is asked again until it answers", status, len(asked))
    gaps = [later["at"] - earlier["at"] for earlier, later in zip(asked, asked[1:])]
    expect(gaps[0] >= 2 and gaps[1] >= 1, "never before Retry-After", gaps)
    expect(len({one["headers"]["x-request-id"] for one in asked}) == 1, "under the same identity")
    expect(len({one["headers"]["traceparent"] for one in asked}) == 3, "each attempt a span of its own")

    before = len(front.asked)
    front.first = [(500, {})]
    status, _, job = plant.order(order("RC-1007"))
    expect(status == 202 and "500" in job["reason"], "a failure of the service makes the order wait", status, job)
    expect(len(front.since(before, "recharge")) == 1, "and is not asked again at once")
    expect(states(plant.wait_for("RC-1007", ["AllowedToStart"])) == ["AllowedToStart"], "but later")


def down(plant: PlantSystem, front: Front) -> None:
    """Nothing is lost while the service is down, nor when the plant system dies meanwhile."""
    front.close()
    status, _, job = plant.order(order("RC-1008"))
    expect(status == 202 and states(job) == ["NotAllowedToStart"], "without the service an order waits", status)
    expect("cannot be reached" in job["reason"], "and says for what", job["reason"])
    status, _, batch = plant.actuals(actuals("actuals-batch-2-weak.json", "RC-1006"))
    expect(status == 202 and batch["status"] == "reading not looked up yet", "and so does a reading", batch)
    plant.stop(kill=True)
    plant.start()
    expect(states(plant.response("RC-1008")) == ["NotAllowedToStart"], "both are there after a restart")
    front.open()
    expect(states(plant.wait_for("RC-1008", ["AllowedToStart"])) == ["AllowedToStart"], "the order goes on by itself")
    response = plant.wait_for("RC-1006", ["Interrupted", "Held"])
    expect(states(response) == ["Interrupted", "Held"], "the reading is looked up", states(response))
    until = time.monotonic() + 10
    correction = None
    while correction is None and time.monotonic() < until:
        correction = listed(plant.response("RC-1006")["JobResponseData"], "RC-1006-B2")["confirmations"][0].get("correction")
        time.sleep(0.2)
    expect(correction is not None, "and corrected")
    expect(states(plant.response("RC-1001")) == ["Ended", "Completed"], "what was done before is there")


def main() -> None:
    service, node_red = sys.argv[1].rstrip("/"), sys.argv[2]
    front = Front(service)
    with tempfile.TemporaryDirectory() as folder:
        plant = PlantSystem(node_red, front, folder)
        try:
            plant.start()
            planned(plant, service, front)
            confirmed(plant)
            too_strong(plant)
            in_us_units(plant)
            refused(plant, front)
            busy(plant, front)
            down(plant, front)
            expect("The plant system failed" not in plant.log() and "[error]" not in plant.log(), "no node failed", plant.log())
        finally:
            plant.stop()
            front.close()
    print(f"{checked} things of the plant system hold")


if __name__ == "__main__":
    main()
