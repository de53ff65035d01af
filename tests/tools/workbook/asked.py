"""Asks the service by POST as JSON, for what the cells of the workbook must show."""

import json
import math
import sys
import urllib.error
import urllib.request

LITRES = 3.785411784  # in a US gallon, exactly (NIST SP 811)
# A spreadsheet writes a number into an address with 15 digits.
FIFTEEN_DIGITS = 1e-13

checked = 0


class Service:
    """A service, and the key that it wants in a header where it wants one."""

    def __init__(self, server: str, key: str = ""):
        self.server, self.key, self.known = server, key, {}

    def record(self, calculation: str, question: dict, problems: list) -> dict:
        """The record of an answer; a refusal goes to `problems` as pairs of path and sentence."""
        body = json.dumps(without_blanks(question))
        if (calculation, body) not in self.known:
            self.known[calculation, body] = self.post(calculation, body)
        record, refused = self.known[calculation, body]
        if refused:
            problems.append(refused)
        return record

    def post(self, calculation: str, body: str) -> tuple[dict, list]:
        headers = {"content-type": "application/json"}
        if self.key:
            headers["authorization"] = f"Bearer {self.key}"
        request = urllib.request.Request(f"{self.server}/v1/{calculation}", body.encode(), headers)
        try:
            with urllib.request.urlopen(request, timeout=20) as response:
                return json.load(response), []
        except urllib.error.HTTPError as error:
            faults = json.load(error).get("errors", [])
            return {}, [(fault["pointer"].lstrip("/").replace("/", "."), fault["detail"]) for fault in faults]


def without_blanks(question):
    """A question without its blank members."""
    if isinstance(question, list):
        return [without_blanks(member) for member in question]
    if not isinstance(question, dict):
        return question
    kept = {name: without_blanks(member) for name, member in question.items()}
    return {name: member for name, member in kept.items() if member not in (None, "", {}, [])}


def cells(document, name: str, columns: int, rows: int) -> list[tuple]:
    """A sheet as numbers and texts, from its first cell on. A cell with an error is None."""
    return document.Sheets.getByName(name).getCellRangeByPosition(0, 0, columns - 1, rows - 1).DataArray


def same(found, wanted, where: str, within: float = 0.0) -> None:
    """Whether number or text are the same; numbers that were converted or went out as text are compared to
    as many digits as that leaves."""
    if isinstance(found, float) and isinstance(wanted, (int, float)) and within:
        expect(
            math.isclose(found, wanted, rel_tol=within, abs_tol=1e-12),
            f"{where}: {found!r} is not {wanted!r}",
        )
    else:
        expect(found == wanted, f"{where}: {found!r} is not {wanted!r}")


def expect(holds: bool, otherwise: str) -> None:
    global checked
    checked += 1
    if not holds:
        sys.exit(otherwise)
