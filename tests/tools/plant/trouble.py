"""Orders that are wrong, and a service that is busy, fails or is away."""

import itertools
import time
import xml.etree.ElementTree as ET

from expected import actuals, example, expect, listed, order
from records import same
from system import Front, PlantSystem, states


def refused(plant: PlantSystem, front: Front) -> None:
    """Every fault of an order is reported at its place; a corrected order can be sent again."""
    before = len(front.asked)
    status, headers, problem = plant.order(example("order-with-faults.json"))
    expect(
        status == 422 and headers["Content-Type"].startswith("application/problem+json"),
        "an order with faults is rejected",
        status,
    )
    expect(len(front.since(before)) == 1, "a refusal is not asked again")
    faults = {(one["pointer"], one.get("name")) for one in problem["errors"]}
    expect(
        faults
        == {
            ("/EquipmentRequirements/0/Properties/2/ID", None),
            ("/EquipmentRequirements/0", "target concentration"),
            ("/EquipmentRequirements/1/Properties/1/EngineeringUnits", None),
            ("/EquipmentRequirements/2/Properties/4/Value", None),
            ("/EquipmentRequirements/4/Properties/1/Value", None),
            ("/MaterialRequirements/1/Properties", None),
        },
        "all its faults are said at once",
        faults,
    )
    expect(states(plant.response("RC-1002")) == ["Aborted"], "it is filed as aborted")
    expect(plant.order(order("RC-1002"))[0] == 201, "corrected, it is accepted")
    expect(len(plant.get("/job-orders/RC-1002")["rejected"]) == 1, "and the rejection stays on file")

    strong = order("RC-1005")
    listed(strong["EquipmentRequirements"], "lathe 1")["Properties"][2]["Value"] = 99
    _, _, problem = plant.order(strong)
    expect(problem["service"]["type"] == "/problems/unreachable", "a target out of reach is said", problem)
    expect(
        any(one["pointer"] == "/EquipmentRequirements/0/Properties/2/Value" for one in problem["errors"]),
        "at the target",
        problem,
    )

    expect(plant.order(order("RC-1001"))[0] == 409, "an order at work is not overwritten")
    expect(plant.order(b"{no")[0] == 400, "what is not JSON is said")
    wrong = actuals("actuals-batch-1.json", "RC-1002")
    wrong["MaterialActuals"][0]["EngineeringUnits"] = "GLL"
    wrong["MaterialActuals"][3]["MaterialLotID"] = "CB-1189"
    del wrong["JobResponseData"]
    status, _, problem = plant.actuals(wrong)
    expect(
        status == 422 and len(problem["errors"]) == 3, "wrong actuals are refused with every fault", problem
    )
    expect(states(plant.response("RC-1002")) == ["AllowedToStart"], "and nothing was filed of them")


def busy(plant: PlantSystem, front: Front) -> None:
    """A busy service is asked again, not before its time; other failures are not."""
    before = len(front.asked)
    front.first["RC-1006"] = [(503, {"retry-after": "2"}), (429, {"retry-after": "1"})]
    status, _, _ = plant.order(order("RC-1006"))
    asked = front.since(before, "recharge", "RC-1006")
    expect(status == 201 and len(asked) == 3, "it is asked again until it answers", status, len(asked))
    gaps = [later["at"] - earlier["at"] for earlier, later in itertools.pairwise(asked)]
    expect(gaps[0] >= 2 and gaps[1] >= 1, "never before Retry-After", gaps)
    expect(len({one["headers"]["x-request-id"] for one in asked}) == 1, "under the same identity")
    expect(len({one["headers"]["traceparent"] for one in asked}) == 3, "each attempt a span of its own")

    for identity, failure in (("RC-1007", 500), ("RC-1009", 401)):
        before = len(front.asked)
        front.first[identity] = [(failure, {})]
        status, _, job = plant.order(order(identity))
        expect(
            status == 202 and str(failure) in job["reason"],
            "another failure makes the order wait",
            status,
            job,
        )
        expect(len(front.since(before, "recharge", identity)) == 1, "and is not asked again at once")
        response = plant.wait_for(identity, ["AllowedToStart"])
        expect(states(response) == ["AllowedToStart"], "but later", response)


def down(plant: PlantSystem, front: Front) -> None:
    """Nothing is lost while the service is down, even if the plant system crashes meanwhile."""
    front.close()
    status, _, job = plant.order(order("RC-1008"))
    expect(
        status == 202 and states(job) == ["NotAllowedToStart"], "without the service an order waits", status
    )
    expect("cannot be reached" in job["reason"], "and says for what", job["reason"])
    status, _, batch = plant.actuals(actuals("actuals-batch-2-weak.json", "RC-1006"))
    expect(status == 202 and batch["status"] == "reading not looked up yet", "and so does a reading", batch)
    _, _, record = plant.record("RC-1006", "RC-1006-B2")
    same(ET.fromstring(record), plant.get("/job-orders/RC-1006"), 1)
    plant.stop(kill=True)
    plant.start()
    expect(states(plant.response("RC-1008")) == ["NotAllowedToStart"], "both are there after a restart")
    front.open()
    expect(
        states(plant.wait_for("RC-1008", ["AllowedToStart"])) == ["AllowedToStart"],
        "the order goes on by itself",
    )
    response = plant.wait_for("RC-1006", ["Interrupted", "Held"])
    expect(states(response) == ["Interrupted", "Held"], "the reading is looked up", states(response))
    until = time.monotonic() + 10
    correction = None
    while correction is None and time.monotonic() < until:
        correction = listed(plant.response("RC-1006")["JobResponseData"], "RC-1006-B2")["confirmations"][
            0
        ].get("correction")
        time.sleep(0.2)
    expect(correction is not None, "and corrected")
    expect(states(plant.response("RC-1001")) == ["Ended", "Completed"], "what was done before is there")
