#!/usr/bin/env python3
"""A plant system orders a recharge: from the order to the job response, including failures.

    tests/tools/plant/check.py http://127.0.0.1:8787 NODE_MODULES

The package is the one that PLANT names, as tests/tools/plant/run installs it. What the plant system says is
held to what the service answers to a question written here by hand, and to a mass balance that is worked out
here. The orders are the ones of examples/plant/orders.
"""

import json
import math
import re
import sys
import tempfile

from expected import CLEAN, KILOGRAMS, LITRES, ROUNDING, actuals, checks, expect, listed, lot, near, order
from installed import in_another
from recipes import planned
from records import recorded
from system import SOURCE, Front, PlantSystem, states
from trouble import busy, down, refused


def confirmed(plant: PlantSystem) -> None:
    """One batch is confirmed, the other held, corrected and confirmed; the response adds up."""
    status, _, batch = plant.actuals(actuals("actuals-batch-1.json", "RC-1001"))
    expect(status == 200 and batch["status"] == "confirmed", "the first batch is confirmed", batch)
    near(batch["concentration"], 1.25 * (5.0 - 0.2), "its reading stands for this")
    expect(states(plant.response("RC-1001")) == ["Running"], "the job runs")
    again = plant.actuals(actuals("actuals-batch-1.json", "RC-1001"))
    expect((again[0], again[2]) == (status, batch), "what comes again is answered as before", again[2])
    another = {**actuals("actuals-batch-1.json", "RC-1001"), "message": "another"}
    expect(plant.actuals(another)[0] == 409, "a confirmed batch stays as it is")

    weak = actuals("actuals-batch-2-weak.json", "RC-1001")
    _, _, batch = plant.actuals(weak)
    expect(plant.actuals(weak)[2] == batch, "a held batch is counted once, and corrected as before")
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
    page = (SOURCE / "README.md").read_text()
    expect(
        as_shown(json.loads(re.search(r"```json\n(.*?)```", page, re.S)[1]), batch),
        "README.md shows this batch",
        batch,
    )
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
            total = sum(
                one["Quantity"]
                for document in own
                for one in document["MaterialActuals"]
                if lot(one) == lot(material)
            )
        near(material["Quantity"], total, f"{lot(material)} adds up")
    expect(len(response["MaterialActuals"]) == 8, "six lots poured and two batches made")
    near(response["record"]["balance"]["residual"]["volume"], 0, "the balance is filed, and closes")


def as_shown(shown, real) -> bool:
    """Whether a response contains everything that the README shows of it."""
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

    follow = {**strong, "message": "follow", "MaterialActuals": batch["correction"]["MaterialRequirements"]}
    follow["JobResponseData"] = [
        {"ID": "reading", "Value": round(batch["correction"]["after"]["mark"], 1), "EngineeringUnits": "J18"}
    ]
    expect(plant.actuals(follow)[2]["status"] == "confirmed", "it is confirmed then")
    made = [one for one in plant.response("RC-1003")["MaterialActuals"] if lot(one) == "RC-1003-B2"]
    expect(len(made) == 1, "what was taken out is no material consumed", made)
    near(made[0]["Quantity"], 246, "and the batch is as large as it was")


def titrated(plant: PlantSystem) -> None:
    """A fluid that is read by titration: c = f·(t − t₀), with t₀ what the water alone uses."""
    document = order("RC-1010")
    fluid = document["MaterialRequirements"][0]["Properties"]
    for name, value in (("method", "titration"), ("factor", 0.9), ("water reading", 0.1)):
        listed(fluid, name)["Value"] = value
    listed(fluid, "water reading")["EngineeringUnits"] = "MLT"
    status, _, job = plant.order(document)
    expect(status == 201, "an order for a titrated fluid is taken", job)
    band = job["batches"][0]["acceptance"]
    near(band["marks"]["target"], band["target"] / 0.9 + 0.1, "its mark is in millilitres")
    done = actuals("actuals-batch-1.json", "RC-1010")
    expect(plant.actuals(done)[0] == 422, "a reading in °Brix is none of a titration")
    done["JobResponseData"] = [{"ID": "reading", "Value": 6.7, "EngineeringUnits": "MLT"}]
    _, _, batch = plant.actuals(done)
    near(batch["concentration"], 0.9 * (6.7 - 0.1), "the titration stands for this")
    expect(batch["status"] == "confirmed", "which confirms the batch", batch)


def in_us_units(plant: PlantSystem) -> None:
    """The same order in gallons and pounds makes the same batches."""
    text = json.dumps(order("RC-1004"))
    factors = {
        "LTR": ("GLL", 1 / LITRES),
        "KGM": ("LBR", 1 / KILOGRAMS),
        "L2": ("G2", 1 / LITRES),
        "B35": ("GE", LITRES / KILOGRAMS),
    }

    def converted(entry: dict) -> dict:
        code, factor = factors.get(entry.get("EngineeringUnits"), (None, 1))
        return (
            entry if code is None else {**entry, "Value": entry["Value"] * factor, "EngineeringUnits": code}
        )

    status, _, job = plant.order(json.loads(text, object_hook=converted))
    expect(status == 201 and job["record"]["units"] == "us", "an order in gallons is taken", status)
    metric = plant.get("/job-orders/RC-1001")
    for here, there in zip(job["controlRecipes"], metric["controlRecipes"], strict=True):
        size = here["header"]["batchSize"]
        expect(size["EngineeringUnits"] == "GLL", "and its recipes are in gallons")
        near(size["Value"] * LITRES, there["header"]["batchSize"]["Value"], "of the same size", CLEAN)


def main() -> None:
    service, modules = sys.argv[1].rstrip("/"), sys.argv[2]
    node_red = f"{modules}/node-red/red.js"
    front = Front(service)
    with tempfile.TemporaryDirectory() as folder:
        plant = PlantSystem(node_red, front, folder)
        try:
            plant.start()
            planned(plant, service, front)
            confirmed(plant)
            too_strong(plant)
            titrated(plant)
            in_us_units(plant)
            refused(plant, front)
            busy(plant, front)
            recorded(plant, modules, ["RC-1001", "RC-1003", "RC-1004", "RC-1010"])
            down(plant, front)
            in_another(node_red, front)
            expect(
                "The plant system failed" not in plant.log() and "[error]" not in plant.log(),
                "no node failed",
                plant.log(),
            )
        finally:
            plant.stop()
            front.close()
    print(f"{checks()} things of the plant system hold")


if __name__ == "__main__":
    main()
