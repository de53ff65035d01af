"""Compares every cell of the workbook with the service's answer to the typed cells."""

import json
import math
import sys
import urllib.error
import urllib.request

LITRES = 3.785411784  # in a US gallon, exactly (NIST SP 811)
# The limits of WEBSERVICE by Excel's documentation (Microsoft 365 and later, Windows).
ADDRESS_MOST, ANSWER_MOST = 2048, 32767
FIRST, FIRST_SHOWN = 6, 10  # the row of the first machine, from 0, as typed and as shown
# A spreadsheet writes a number into an address with 15 digits.
FIFTEEN_DIGITS = 1e-13
WORDS = {"below": "too weak", "in_band": "in band", "above": "too strong"}
BECAUSE = {"volume": "level low", "concentration": "strength"}
ANSWER_COLUMNS = {"strength": 4, "drain": 8, "concentrate": 9, "water": 10, "holds": 11, "mark": 12}
# The columns that show typed numbers; volumes are in the units of the workbook.
TYPED_COLUMNS = {"reads": (3, 4), "band from": (5, 6), "band to": (6, 8)}
VOLUME_COLUMNS = {"in the sump": (1, 3), "full at": (2, 2)}
TOTALS = {"drain": 8, "concentrate": 9, "water": 10}
COUNTS = {"too weak": 7, "in band": 9, "too strong": 11, "with a problem": 13}

checked = 0


def compare(board, readings, server: str, units: str, written_in: str) -> None:
    """Compares every machine's cells with the service's answers."""
    totals, counts = dict.fromkeys(TOTALS, 0.0), dict.fromkeys(COUNTS, 0)
    scale = scale_of(units, written_in)
    full_answers = 0
    for row in range(machines(readings)):
        typed, shown = row_of(readings, FIRST + row), row_of(board, FIRST_SHOWN + row)
        answers, problem = solve(server, typed, units, written_in)
        at = f"{typed[0]} in {units}"
        exactly = units == written_in
        same(shown[0], typed[0], f"{at}: machine")
        for name, (column, source) in TYPED_COLUMNS.items():
            same(shown[column], typed[source], f"{at}: {name}")
        for name, (column, source) in VOLUME_COLUMNS.items():
            volume = typed[source]
            wanted = volume * scale if isinstance(volume, float) else volume
            same(shown[column], wanted, f"{at}: {name}", exactly)
        for name in TOTALS:
            totals[name] += answers.get(name, 0.0)
        full_answers += "drain" in answers
        # A machine without a top-up has no state and no next visit.
        standing = WORDS[answers["standing"]] if "drain" in answers else "no answer"
        if standing in counts:
            counts[standing] += 1
        counts["with a problem"] += problem != ""
        for name, column in ANSWER_COLUMNS.items():
            same(shown[column], answers.get(name, ""), f"{at}: {name}", exactly)
        same(shown[7], standing, f"{at}: standing")
        same(shown[15], problem or answers.get("finding", ""), f"{at}: what to look at")
        visit = answers.get("next_visit")
        weak = answers.get("weak")
        if "drain" not in answers or not isinstance(typed[1], float) or weak and "back_in_days" not in weak:
            wanted = ("", "")
        elif weak:
            wanted = (typed[1] + math.ceil(weak["back_in_days"]), "is back")
        elif visit is None:
            wanted = ("none in 60 days" if "next_visit" in answers else "", "")
        else:
            wanted = (typed[1] + math.floor(visit["day"]), BECAUSE.get(visit.get("what"), "runs dry"))
        same(shown[13], wanted[0], f"{at}: next visit")
        same(shown[14], wanted[1], f"{at}: because")
    for name, column in TOTALS.items():
        # Sums in a different order differ in their last digits.
        same(board.getCellByPosition(column, 3).Value, totals[name], f"{name} of the round in {units}", False)
    said = board.getCellByPosition(11, 3).String
    same(said, f"{full_answers} of {machines(readings)} machines", f"of how many the totals are in {units}")
    for word, column in COUNTS.items():
        same(
            board.getCellByPosition(column, 2).String,
            f"{counts[word]} {word}",
            f"how many are {word} in {units}",
        )


def scale_of(units: str, written_in: str) -> float:
    """The factor for a typed volume."""
    return 1.0 if units == written_in else 1 / LITRES if units == "us" else LITRES


def solve(server: str, typed: list, units: str, written_in: str) -> tuple[dict, str]:
    """The service's answers and refusals, by POST, for the typed cells."""
    _, _, full, volume, brix, factor, low, target, high, least, air, off, _ = typed
    scale = scale_of(units, written_in)
    full, volume, least, air, off = (
        number * scale if isinstance(number, float) else number or None
        for number in (full, volume, least, air, off)
    )
    reading = {"method": "refractometer", "brix": brix, "factor": factor}
    band = {"low": low, "target": target, "high": high}
    found, problems = {}, []

    said = answered(server, "concentration", {"units": units, "reading": reading}, problems)
    if said:
        found["strength"] = said["concentration"]
    losses = {"evaporation": air, "carry_off": off}
    record = post(
        server,
        "top-up",
        {
            "units": units,
            "sump": {"capacity": full, "volume": volume, "reading": reading},
            "target": {"concentration": target},
            "band": {"low": low, "high": high},
            "losses": None if None in losses.values() else losses,
        },
        problems,
    )
    if record:
        said = record["answer"]
        found |= {
            "standing": said["standing"],
            "drain": said["drain"],
            "holds": said["after"]["concentration"],
        }
        found |= {line["name"]: line["volume"] for line in said["add"]}
        found["mark"] = said["after"].get("mark", "")
        found["finding"] = record.get("findings", [{"text": ""}])[0]["text"]
        found["weak"] = said.get("weak_make_up")
        after = said["after"]
        if not found["weak"] and None not in losses.values():
            said = answered(
                server,
                "forecast",
                {
                    "units": units,
                    "sump": {
                        "capacity": full,
                        "volume": after["volume"],
                        "concentration": after["concentration"],
                    },
                    "losses": losses,
                    "band": band,
                    "levels": {"min": least},
                    "days": 60,
                },
                problems,
            )
            if said:
                found["next_visit"] = said.get("next_visit")
    if not isinstance(typed[1], float):
        problems.append("read on: there is no date, and so no day for the next visit.")
    return found, problems[0] if problems else ""


def answered(server: str, calculation: str, question: dict, problems: list) -> dict:
    """The calculation's own result."""
    return post(server, calculation, question, problems).get("answer", {})


def post(server: str, calculation: str, question: dict, problems: list) -> dict:
    """A record by JSON; a refusal goes to `problems`."""
    body = json.dumps(without_blanks(question)).encode()
    request = urllib.request.Request(f"{server}/v1/{calculation}", body, {"content-type": "application/json"})
    try:
        with urllib.request.urlopen(request, timeout=10) as response:
            return json.load(response)
    except urllib.error.HTTPError as error:
        faults = json.load(error)["errors"]
        said = [(fault["pointer"].lstrip("/").replace("/", "."), fault["detail"]) for fault in faults]
        problems.append(" ".join(f"{path}: {detail}" if path else detail for path, detail in said))
        return {}


def without_blanks(question: dict) -> dict:
    """A question without its blank members."""
    kept = {
        name: without_blanks(member) if isinstance(member, dict) else member
        for name, member in question.items()
    }
    return {name: member for name, member in kept.items() if member not in (None, "", {})}


def limits(asked, server: str) -> None:
    """Addresses and answers stay within Excel's limits, with space for the longest
    name of a server."""
    headings = [asked.getCellByPosition(column, 4).String for column in range(40)]
    for row in range(FIRST, FIRST + machines(asked)):
        longest = asked.getCellByPosition(headings.index("longest address"), row).Value
        expect(0 < longest - len(server) + 253 <= ADDRESS_MOST, f"an address of {longest} characters")
        addresses = [
            asked.getCellByPosition(headings.index(name), row).String
            for name in ("concentration", "top-up", "forecast")
        ]
        expect(all(len(address) < longest for address in addresses), "the longest is the longest")
        for column in range(headings.index("strength"), headings.index("problem")):
            answer = asked.getCellByPosition(column, row).String
            expect(len(answer) <= ANSWER_MOST, f"an answer of {len(answer)} characters")


def machines(sheet) -> int:
    """The number of machines on a sheet."""
    row = first(sheet)
    while sheet.getCellByPosition(0, row).String != "":
        row += 1
    found = row - first(sheet)
    expect(found >= 16, f"{sheet.Name} has {found} machines")
    return found


def first(sheet) -> int:
    """The row of a sheet's first machine."""
    return FIRST_SHOWN if sheet.Name == "Sumps" else FIRST


def row_of(sheet, row: int) -> list:
    """A row as numbers and texts."""
    return list(sheet.getCellRangeByPosition(0, row, 15 if sheet.Name == "Sumps" else 12, row).DataArray[0])


def same(found, wanted, where: str, exactly: bool = True) -> None:
    """Whether number or text are the same; converted numbers are compared to as many digits
    as a spreadsheet puts into an address."""
    if isinstance(found, float) and isinstance(wanted, (int, float)) and not exactly:
        expect(
            math.isclose(found, wanted, rel_tol=FIFTEEN_DIGITS, abs_tol=1e-12),
            f"{where}: {found!r} is not {wanted!r}",
        )
    else:
        expect(found == wanted, f"{where}: {found!r} is not {wanted!r}")


def expect(holds: bool, otherwise: str) -> None:
    global checked
    checked += 1
    if not holds:
        sys.exit(otherwise)
