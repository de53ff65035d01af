"""Asks a service with a client generated from its own document.

Run by tests/tools/clients/run, and with the wheel by tests/tools/dist/check. What is
answered is held against the examples of the document, and against a mass balance
worked out here: litres (or gallons) of concentrate in what is there and in what is
wanted.
"""

import importlib
import json
import math
import os
import sys

import httpx
from sumpwright_api import AuthenticatedClient, Client, models
from sumpwright_api.api.blend import solve_blend
from sumpwright_api.api.service import list_calculations
from sumpwright_api.api.top_up import ask_top_up, solve_top_up
from sumpwright_api.models import (
    AskTopUpUnits,
    BatchTarget,
    BlendQuestion,
    BlendRecord,
    CalculationIndex,
    ContentByProperty,
    ContentLimitByProperty,
    FluidStock,
    MachineSump,
    OilLimit,
    Problem,
    RefractometerReading,
    StockCost,
    SumpTarget,
    TopUpQuestion,
    TopUpRecord,
    UnitSystem,
)


def near(found: float, expected: float) -> bool:
    return math.isclose(found, expected, rel_tol=1e-9, abs_tol=1e-9)


def worked_example(path: str) -> tuple[dict, dict]:
    post = document["paths"][path]["post"]
    answers = post["responses"]["200"]["$ref"].rsplit("/", 1)[-1]
    answer = document["components"]["responses"][answers]["content"]["application/json"]["example"]
    return post["requestBody"]["content"]["application/json"]["example"], answer


def the_example_is_answered_as_the_document_says() -> None:
    question, answer = worked_example("/v1/top-up")
    typed = TopUpQuestion.from_dict(question)
    assert typed.to_dict() == question
    record = solve_top_up.sync(client=client, body=typed, x_request_id="invented-example-1")
    assert isinstance(record, TopUpRecord) and record.to_dict() == answer

    sump, target = typed.sump, typed.target
    assert isinstance(sump.reading, RefractometerReading)
    strength = sump.reading.brix * sump.reading.factor / 100
    concentrate = sump.capacity * target.concentration / 100 - sump.volume * strength
    added = {part.name: part.volume for part in record.answer.add}
    assert near(added["concentrate"], concentrate)
    assert near(added["water"], sump.capacity - sump.volume - concentrate)


def a_top_up_of_its_own(volume: float) -> TopUpQuestion:
    reading = RefractometerReading(brix=4, factor=1.25)
    sump = MachineSump(capacity=50, volume=volume, reading=reading)
    return TopUpQuestion(units=UnitSystem.US, sump=sump, target=SumpTarget(concentration=8))


def a_question_of_its_own_is_answered_by_post_and_by_get() -> None:
    posted = solve_top_up.sync(client=client, body=a_top_up_of_its_own(40))
    asked = ask_top_up.sync(
        client=client,
        units=AskTopUpUnits.US,
        sump_capacity=50,
        sump_volume=40,
        sump_concentration=5,
        target_concentration=8,
    )
    for record in (posted, asked):
        assert isinstance(record, TopUpRecord) and record.units == UnitSystem.US
        # 50·8 % − 40·5 % = 2 gallons of concentrate, and 8 of water.
        assert [round(part.volume, 9) for part in record.answer.add] == [2, 8]


def a_problem_is_a_problem() -> None:
    response = solve_top_up.sync_detailed(client=client, body=a_top_up_of_its_own(60))
    problem = response.parsed
    assert response.status_code == 422 and isinstance(problem, Problem)
    assert problem.type_ == "/problems/inconsistent" and problem.status == 422
    assert isinstance(problem.errors, list) and problem.errors[0].pointer == "/sump/volume"


def a_blend_of_its_own() -> BlendQuestion:
    recycled = FluidStock(
        name="recycled",
        concentration=4.2,
        volume=500,
        unit_cost=0.05,
        properties=ContentByProperty(tramp_oil=0.7),
    )
    return BlendQuestion(
        units=UnitSystem.METRIC,
        reference="invented example: client",
        target=BatchTarget(volume=800, concentration=6),
        stocks=[
            recycled,
            FluidStock(name="concentrate", concentration=100, unit_cost=6.4),
            FluidStock(name="water", concentration=0, unit_cost=0.004),
        ],
        limits=ContentLimitByProperty(tramp_oil=OilLimit(max_=0.5)),
    )


def a_list_and_a_choice_are_read() -> None:
    record = solve_blend.sync(client=client, body=a_blend_of_its_own())
    assert isinstance(record, BlendRecord) and record.reference == "invented example: client"
    volumes = [take.volume for take in record.answer.take]
    # All 500 L of recycled fluid hold 21 L of the 48 L of concentrate that are wanted.
    assert all(map(near, volumes, [500, 27, 273]))
    [binding] = record.answer.binding
    assert isinstance(binding, StockCost) and binding.what == "/stocks/0/volume"
    # A litre more of it saves 0.042 L of concentrate and 0.958 L of water.
    assert near(binding.worth, 0.042 * 6.4 + 0.958 * 0.004 - 0.05)


def names_of_the_callers_own_go_there_and_back() -> None:
    question, answer = worked_example("/v1/blend")
    typed = BlendQuestion.from_dict(question)
    assert isinstance(typed.stocks[0].properties, ContentByProperty)
    assert typed.stocks[0].properties["hardness"] == 310
    record = solve_blend.sync(client=client, body=typed)
    assert isinstance(record, BlendRecord) and record.to_dict() == answer


def every_example_goes_there_and_back() -> None:
    """Every number to its last bit, of each question and of its answer."""
    headers = {"authorization": f"Bearer {key}"} if key else {}
    with httpx.Client(base_url=address, headers=headers, timeout=60) as plain:
        for path, item in document["paths"].items():
            if "post" not in item:
                continue
            name = path.removeprefix("/v1/").replace("-", "_")
            pascal = "".join(word.capitalize() for word in name.split("_"))
            question = item["post"]["requestBody"]["content"]["application/json"]["example"]
            typed = getattr(models, f"{pascal}Question").from_dict(question)
            assert typed.to_dict() == question, name
            solve = importlib.import_module(f"sumpwright_api.api.{name}.solve_{name}")
            record = solve.sync(client=client, body=typed)
            answer = plain.post(path, json=question).json()
            assert record.to_dict() == answer, name


def the_index_lists_what_there_is() -> None:
    index = list_calculations.sync(client=client)
    assert isinstance(index, CalculationIndex)
    assert all(line.address in document["paths"] for line in index.calculations)


address = sys.argv[1]
with open(sys.argv[2], encoding="utf-8") as file:
    document = json.load(file)
key = os.environ.get("KEY")
client = AuthenticatedClient(base_url=address, token=key) if key else Client(base_url=address)
client = client.with_timeout(httpx.Timeout(60))

the_example_is_answered_as_the_document_says()
a_question_of_its_own_is_answered_by_post_and_by_get()
a_problem_is_a_problem()
a_list_and_a_choice_are_read()
names_of_the_callers_own_go_there_and_back()
every_example_goes_there_and_back()
the_index_lists_what_there_is()
print("the Python client was answered")
