"""The expected results, and their documents."""

import json
import math
from pathlib import Path

from system import PLANT

HERE = Path(__file__).resolve().parent
LITRES, KILOGRAMS = 3.785411784, 0.45359237  # in a US gallon, in a pound (NIST SP 811)
# The rounding error of some sums of numbers of this size.
ROUNDING = 1e-9
# The service rounds the strength of a shared batch to 12 digits, and 100 % concentrate makes more of
# that where it is a small part of a batch.
CLEAN = 1e-10

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


# The question of examples/plant/orders/order.json, written by hand.
QUESTION = json.loads((HERE / "question.json").read_text())
STOCKS = {stock["name"]: stock for stock in QUESTION["stocks"]}


def lot(material: dict) -> str:
    return material.get("MaterialLotID", material.get("MaterialDefinitionID"))


def checks() -> int:
    return checked
