"""The records of batches in BatchML: held to a schema, and read back to the JSON that they are made from."""

import re
import subprocess
import tempfile
import xml.etree.ElementTree as ET
from pathlib import Path

from expected import HERE, actuals, expect, order
from system import SOURCE, PlantSystem

NAMESPACE = "{http://www.mesa.org/xml/B2MML}"
# Texts that must be escaped, and letters beyond the first 128.
ODD = '<lathe & "mill"> \'é 油 ]]>'


def part(element: ET.Element, path: str) -> ET.Element | None:
    return element.find("/".join(NAMESPACE + name for name in path.split("/")))


def parts(element: ET.Element, path: str) -> list[ET.Element]:
    return element.findall("/".join(NAMESPACE + name for name in path.split("/")))


def text(element: ET.Element, path: str) -> str | None:
    found = part(element, path)
    return None if found is None else found.text or ""


def number_or_text(value: ET.Element) -> float | str:
    said = text(value, "ValueString")
    return float(said) if text(value, "DataType") == "double" else said


def property_of(element: ET.Element) -> dict:
    """{ ID, Value, EngineeringUnits } from a parameter; a number without a unit has the code of one."""
    unit = text(element, "Value/UnitOfMeasure")
    units = {} if unit in ("", "C62") else {"EngineeringUnits": unit}
    return {"ID": text(element, "ID"), "Value": number_or_text(part(element, "Value")), **units}


def of(parameters: list[ET.Element], kind: str, subtype: str | None = None) -> list[ET.Element]:
    return [
        one
        for one in parameters
        if text(one, "ParameterType") == kind and text(one, "ParameterSubType") == subtype
    ]


def material_of(parameter: ET.Element, use: str) -> dict:
    quantity = property_of(parameter)
    named = {text(one, "ID"): number_or_text(part(one, "Value")) for one in parts(parameter, "Parameter")}
    return {
        **named,
        "MaterialUse": use,
        "Quantity": quantity["Value"],
        "EngineeringUnits": quantity["EngineeringUnits"],
    }


def phase_of(element: ET.Element) -> dict:
    parameters, equipment = parts(element, "Parameter"), text(element, "EquipmentRequirement/ID")
    material = [property_of(one)["Value"] for one in of(parameters, "ProcessInput")]
    check = [property_of(one) for one in of(parameters, "ProcessParameter", "check")]
    return {
        "sequence": int(text(element, "ID").removeprefix("step ")),
        "phase": text(element, "BuildingBlockElementID"),
        **({"material": material[0]} if material else {}),
        **({"equipment": equipment} if equipment else {}),
        "parameters": [property_of(one) for one in of(parameters, "ProcessParameter")],
        "instruction": text(element, "Description"),
        **({"check": check} if check else {}),
    }


def operation_of(element: ET.Element) -> dict:
    equipment = text(element, "EquipmentRequirement/ID")
    return {
        "operation": text(element, "Description"),
        **({"equipment": equipment} if equipment else {}),
        "phases": [phase_of(one) for one in parts(element, "RecipeElement")],
    }


def recipe_of(record: ET.Element) -> dict:
    """The control recipe in the plant system's form."""
    entry = part(record, "ControlRecipes/ControlRecipeRecord")
    recipe = part(entry, "ControlRecipe")
    formula, told = parts(recipe, "Formula/Parameter"), parts(recipe, "OtherInformation")
    say = lambda name: [text(one, "Value/ValueString") for one in told if text(one, "ID") == name]
    beside = lambda name: [text(one, "Description") or "" for one in told if text(one, "ID") == name]
    size = part(recipe, "Header/BatchSize/Nominal")
    return {
        "header": {
            "controlRecipeID": text(recipe, "ID"),
            "BatchID": text(recipe, "BatchID"),
            "JobOrderID": text(entry, "ExternalReference"),
            "WorkMasterID": say("work master"),
            "product": text(recipe, "Header/ProductID"),
            "batchSize": {
                "ID": "batch size",
                "Value": float(size.text),
                "EngineeringUnits": size.get("unitCode"),
            },
        },
        "formula": {
            "processInputs": [material_of(one, "material consumed") for one in of(formula, "ProcessInput")],
            "processParameters": [property_of(one) for one in of(formula, "ProcessParameter")],
            "processOutputs": [material_of(one, "material produced") for one in of(formula, "ProcessOutput")],
        },
        "equipmentRequirements": [
            {"ID": text(one, "ID"), "Properties": [property_of(inner) for inner in parts(one, "Parameter")]}
            for one in of(formula, "ProcessParameter", "equipment")
        ],
        "procedure": [
            {
                "unitProcedure": text(one, "Description"),
                "operations": [operation_of(inner) for inner in parts(one, "RecipeElement")],
            }
            for one in parts(recipe, "RecipeElement")
        ],
        "otherInformation": {
            "cautions": [
                {"code": code, "text": said}
                for code, said in zip(beside("caution"), say("caution"), strict=True)
            ],
            "assumptions": [
                {"pointer": at, "text": said}
                for at, said in zip(beside("assumption"), say("assumption"), strict=True)
            ],
        },
    }


def confirmations_of(record: ET.Element) -> list[dict]:
    """What the operators reported, message by message, and what came of it."""
    found = []
    for sample in parts(record, "Samples/Sample"):
        message = text(sample, "ExternalReference")
        result = part(sample, "SampleTest/SampleTestResult")
        results = {text(one, "Key"): number_or_text(one) for one in parts(result, "Results")}
        own = [
            one
            for one in parts(record, "Events/Event")
            if text(one, "EntryID").startswith(text(sample, "EntryID").removesuffix("R"))
        ]
        kind = lambda name: [one for one in own if text(one, "EventSubType") == name]
        poured = [one for one in own if text(one, "EventSubType") in ("Consume", "Movement")]
        expect(all(text(one, "ExternalReference") == message for one in own), "events are of their message")
        found.append(
            {
                "message": message,
                "filed": text(sample, "TimeStamp"),
                "PersonnelActuals": [{"ID": one.text} for one in parts(kind("Status Change")[0], "PersonID")],
                "MaterialActuals": [actual_of(one) for one in poured],
                "reading": results["reading"],
                "status": number_or_text(part(kind("Status Change")[0], "Value")),
                "concentration": results.get("concentration"),
                "standing": text(result, "TestDisposition"),
                "correction": [
                    [text(value, "Key"), number_or_text(value), text(value, "UnitOfMeasure")]
                    for prompt in kind("Prompt")
                    for value in parts(prompt, "Value")
                ],
            }
        )
    return found


def actual_of(event: ET.Element) -> dict:
    named = {
        text(one, "AttributeID"): text(one, "Value/ValueString") for one in parts(event, "UserAttribute")
    }
    value = part(event, "Value")
    return {**named, "Quantity": number_or_text(value), "EngineeringUnits": text(value, "UnitOfMeasure")}


def same(record: ET.Element, job: dict, place: int) -> None:
    """A record says of a batch what the job says of it."""
    batch, recipe = job["batches"][place], job["controlRecipes"][place]
    header = {**recipe["header"], "WorkMasterID": [recipe["header"]["WorkMasterID"][0]["ID"]]}
    expect(recipe_of(record) == {**recipe, "header": header}, "its recipe is the job's", recipe_of(record))
    said, filed = confirmations_of(record), batch["confirmations"]
    expect(len(said) == len(filed), "each confirmation is there once", len(said), len(filed))
    for here, there in zip(said, filed, strict=True):
        correction = [
            [
                one.get("MaterialLotID", one.get("MaterialDefinitionID")),
                one["Quantity"],
                one["EngineeringUnits"],
            ]
            for one in there.get("correction", {}).get("MaterialRequirements", [])
        ]
        actual = [
            {name: value for name, value in one.items() if name != "MaterialUse"}
            for one in there["MaterialActuals"]
        ]
        expected = {
            **{name: there[name] for name in ("message", "filed", "PersonnelActuals", "reading")},
            **{name: there.get(name) for name in ("concentration", "standing")},
            "status": there.get("status", batch["status"]),
            "MaterialActuals": actual,
            "correction": correction,
        }
        expect(here == expected, "and says what was filed", here, expected)
    made = [one for one in parts(record, "Events/Event") if text(one, "EventSubType") == "Produce"]
    expect(
        len(made) == (batch["status"] == "confirmed"), "a confirmed batch is made, and no other", len(made)
    )
    states = {"to make": "Idle", "held": "Held", "confirmed": "Complete"}
    status = part(record, "ControlRecipes/ControlRecipeRecord/ControlRecipe/Header/Status").text
    expect(status == states.get(batch["status"], "Running"), "its state is one of the schema's", status)
    expect(text(record, "RecordStatus") == batch["status"], "and the plant's own")


def recorded(plant: PlantSystem, modules: str, orders: list[str]) -> None:
    """Every batch of these orders, and one with odd texts, has a record that fits the schema."""
    plant.order({**order("RC-1012"), "Description": ODD})
    reported = actuals("actuals-batch-1.json", "RC-1012")
    reported = {**reported, "message": ODD + "\u0001", "PersonnelActuals": [{"ID": ODD}]}
    expect(plant.actuals(reported)[0] == 200, "a message may have any text")
    with tempfile.TemporaryDirectory() as folder:
        for identity in [*orders, "RC-1012"]:
            job = plant.get(f"/job-orders/{identity}")
            for place, batch in enumerate(job["batches"]):
                status, kind, document = plant.record(identity, batch["BatchID"])
                expect((status, kind) == (200, "application/xml"), "a batch has a record", status, kind)
                Path(folder, f"{batch['BatchID']}.xml").write_bytes(document)
                if identity == "RC-1012":
                    for one in batch["confirmations"]:
                        one["message"] = one["message"].replace("\u0001", "\ufffd")
                same(ET.fromstring(document), job, place)
        files = sorted(Path(folder).iterdir())
        held = lambda *files: subprocess.run(
            ["node", HERE / "validate.js", modules, HERE / "batchml.xsd", *files],
            capture_output=True,
            text=True,
        )
        fits = held(*files)
        expect(fits.returncode == 0, "every record fits the schema", fits.stdout, fits.stderr)
        shown = (
            re.search(r"```xml\n(.*?)```", (SOURCE / "README.md").read_text(), re.S)[1].strip().split("\n")
        )
        whole = iter(Path(folder, "RC-1001-B2.xml").read_text().split("\n"))
        expect(all(line.strip() in map(str.strip, whole) for line in shown), "README.md shows this record")
        swapped = Path(folder, "swapped.xml")
        whole = files[0].read_text()
        swapped.write_text(whole.replace("<BatchID>", "<Batch>", 1).replace("</BatchID>", "</Batch>", 1))
        expect("Batch" in held(swapped).stdout, "and one that does not fit is told from it")
    status, _, problem = plant.record("RC-1001", "RC-1001-B9")
    expect(status == 404 and b"RC-1001-B9" in problem, "a batch that is not there has none", status)
