"""Compares every cell of the sheets Sumps and Losses with the service's answer to the typed cells."""

import math
from datetime import date, timedelta

import asked
from asked import FIFTEEN_DIGITS, LITRES, Service, expect, same

# The limits of WEBSERVICE by Excel's documentation (Microsoft 365 and later, Windows).
ADDRESS_MOST, ANSWER_MOST = 2048, 32767
READY, ENTRIES = 200, 1000
FIRST, FIRST_SHOWN, FIRST_LOSS = 6, 10, 6  # the row of the first machine, from 0, as typed and as shown
WORDS = {"below": "too weak", "in_band": "in band", "above": "too strong"}
BECAUSE = {"volume": "level low", "concentration": "strength"}
ANSWER_COLUMNS = {
    "strength": 4,
    "drain": 8,
    "concentrate": 9,
    "water": 10,
    "premix": 11,
    "holds": 12,
    "mark": 13,
}
TYPED_COLUMNS = {"reads": (3, 4), "band from": (5, 6), "band to": (6, 8)}
VOLUME_COLUMNS = {"in the sump": (1, 3), "full at": (2, 2)}
TOTALS = {"drain": 8, "concentrate": 9, "water": 10}
COUNTS = {"too weak": 7, "in band": 9, "too strong": 11, "with a problem": 14}
# The heading of the sheet of readings that each member of the questions is typed under.
HEADINGS = {
    "sump.capacity": "full at",
    "sump.volume": "in the sump",
    "sump.reading.brix": "reads",
    "sump.reading.factor": "factor",
    "sump.concentration": "aim for",
    "target.concentration": "aim for",
    "target": "aim for",
    "band.low": "band from",
    "band.target": "aim for",
    "band.high": "band to",
    "levels.min": "keep above",
    "losses.evaporation": "lost to the air",
    "losses.carry_off": "carried off",
}
STOPPED = "Stop: persons come first. See the sheet Condition."
NO_DATE = "read on: there is no date, and so no day for the next visit."
TEXT_DATE = 'read on: this is the text "{}" and not a date: write year, month and day, such as 2026-11-30.'
TO_COME = "read on{}: {} is still to come. Correct it."
EPOCH = date(1899, 12, 30)  # day 0 of a spreadsheet
MIXED = (
    "read on, in the sump, reads: type all three, of one day, or leave all three blank for those of the log."
)
NO_LOSSES = "Its log does not give its losses: see the sheet Losses."
# The strength of an entry goes out as the product of two typed numbers, and a fit takes it further.
FITTED = 1e-9


class Book:
    """The workbook's cells, all taken at one moment."""

    def __init__(self, document):
        self.board = asked.cells(document, "Sumps", 17, FIRST_SHOWN + READY)
        self.losses = asked.cells(document, "Losses", 10, FIRST_LOSS + READY)
        self.readings = asked.cells(document, "Readings", 13, FIRST + READY)
        self.log = asked.cells(document, "Log", 7, 6 + ENTRIES)[6:]
        self.asked = asked.cells(document, "Asked", 70, FIRST + READY)
        last = max((row for row in range(FIRST, FIRST + READY) if self.readings[row][0] != ""), default=FIRST)
        self.machines = last + 1 - FIRST

    def typed(self, machine: int) -> tuple:
        """What is typed for a machine, with what its last entry in the log says where that is blank."""
        row = list(self.readings[FIRST + machine])
        entries = self.entries(row[0])
        if entries:
            last = entries[-1]
            # What is typed of a day is not mixed with what the log says of another one.
            if row[1] == row[3] == row[4] == "":
                row[1], row[3], row[4] = last[0], last[3], last[2]
        return tuple(row)

    def entries(self, name: str) -> list[tuple]:
        """The entries of a machine in the log that can be asked about, in order."""
        found = [row for row in self.log if row[1] == name and isinstance(row[0], float)]
        return sorted(found, key=lambda row: row[0])


def compare(document, service: Service, units: str, written_in: str, stopped: set[str]) -> Book:
    """Compares every machine's cells with the service's answers; nobody is sent to those that are stopped."""
    book = Book(document)
    totals, counts = dict.fromkeys(TOTALS, 0.0), dict.fromkeys(COUNTS, 0)
    scale = scale_of(units, written_in)
    full_answers = losses_known = 0
    for row in range(book.machines):
        typed, shown = book.typed(row), book.board[FIRST_SHOWN + row]
        at = f"{typed[0]} in {units}"
        exactly = 0.0 if units == written_in else FIFTEEN_DIGITS
        losses = compare_losses(book, row, service, units, written_in, at)
        losses_known += losses is not None
        is_logged = len(book.entries(typed[0])) > 0
        later = to_come(typed, is_typed=book.readings[FIRST + row][1] != "")
        if typed[0] in stopped or later:
            answers = strength_alone(service, typed, units)
            problem = STOPPED if typed[0] in stopped else later
        else:
            answers, problem = solve(service, typed, units, written_in, losses)
        refused = losses is None and len(book.entries(typed[0])) > 1
        if refused and "" in typed[10:12] and problem in ("", no_date(typed)):
            problem = NO_LOSSES
        of_a_day = [typed[place] for place in (1, 3, 4)]
        if (
            is_logged
            and "" in of_a_day
            and any(cell != "" for cell in of_a_day)
            and problem not in (STOPPED, later)
        ):
            problem = MIXED
        # What losses from the log lead to has their digits.
        same(shown[0], typed[0], f"{at}: machine")
        for name, (column, source) in TYPED_COLUMNS.items():
            wanted = typed[source] if isinstance(typed[source], float) else ""
            same(shown[column], wanted, f"{at}: {name}", FIFTEEN_DIGITS)
        for name, (column, source) in VOLUME_COLUMNS.items():
            wanted = typed[source] * scale if isinstance(typed[source], float) else ""
            same(shown[column], wanted, f"{at}: {name}", FIFTEEN_DIGITS)
        for name in TOTALS:
            totals[name] += answers.get(name) or 0.0
        full_answers += "drain" in answers
        # A machine without a top-up has no state and no next visit.
        standing = WORDS[answers["standing"]] if "drain" in answers else "no answer"
        if standing in counts:
            counts[standing] += 1
        counts["with a problem"] += problem != ""
        for name, column in ANSWER_COLUMNS.items():
            same(shown[column], answers.get(name, ""), f"{at}: {name}", exactly)
        same(shown[7], standing, f"{at}: standing")
        same(shown[16], problem or answers.get("finding", ""), f"{at}: what to look at")
        wanted = visit(typed, answers)
        same(shown[14], wanted[0], f"{at}: next visit")
        same(shown[15], wanted[1], f"{at}: because")
    days = [book.typed(row)[1] for row in range(book.machines)]
    # The last day that has been, as there may be some still to come.
    days = [day for day in days if isinstance(day, float) and EPOCH + timedelta(int(day)) <= date.today()]
    same(book.board[4][15], max(days, default=""), "last read on")
    for row in (*book.board[FIRST_SHOWN + book.machines :], *book.losses[FIRST_LOSS + book.machines :]):
        expect(all(cell == "" for cell in row), f"a row without a machine is empty: {row}")
    for name, column in TOTALS.items():
        # Sums in a different order differ in their last digits.
        same(book.board[3][column], totals[name], f"{name} of the round in {units}", FIFTEEN_DIGITS)
    said = f"{full_answers} of {book.machines} machines"
    same(book.board[3][12], said, f"of how many the totals are in {units}")
    same(book.losses[2][7], f"{losses_known} of {book.machines} machines", "of how many there are losses")
    for word, column in COUNTS.items():
        same(book.board[2][column], f"{counts[word]} {word}", f"how many are {word} in {units}")
    limits(book, service.server)
    return book


def visit(typed: tuple, answers: dict) -> tuple:
    """The day of the next visit, and why."""
    weak = answers.get("weak")
    if "drain" not in answers or not isinstance(typed[1], float) or weak and "back_in_days" not in weak:
        return "", ""
    if weak:
        return typed[1] + math.ceil(weak["back_in_days"]), "is back"
    due = answers.get("next_visit")
    if due is None:
        return "none in 60 days" if "next_visit" in answers else "", ""
    return typed[1] + math.floor(due["day"]), BECAUSE.get(due.get("what"), "runs dry")


def scale_of(units: str, written_in: str) -> float:
    """The factor for a typed volume."""
    return 1.0 if units == written_in else 1 / LITRES if units == "us" else LITRES


def scaled(number, scale: float):
    """A typed volume in the units that are asked for; what is no number goes out as it is."""
    return number * scale if isinstance(number, float) else number or None


def compare_losses(
    book: Book, row: int, service: Service, units: str, written_in: str, at: str
) -> dict | None:
    """Compares a machine's row on the sheet of losses; the losses that the log has for it."""
    typed, shown = book.typed(row), book.losses[FIRST_LOSS + row]
    entries, scale = book.entries(typed[0]), scale_of(units, written_in)
    same(shown[0], typed[0], f"{at}: machine of the losses")
    same(shown[1], float(len(entries)) if entries else "", f"{at}: entries")
    if len(entries) < 2:
        expect(shown[2] == shown[3] == shown[5] == "", f"{at}: no log, no losses: {shown}")
        return None
    kept = int(shown[2])
    head = [name.split(": ")[-1] for name in book.asked[5]]
    address = book.asked[FIRST + row][book.asked[5].index("losses: address")]
    expect(head.count("address") == 4 and len(address) <= ADDRESS_MOST, f"{at}: an address of {len(address)}")
    # As many as fit: the longest entry of all would not have fitted any more.
    expect(
        kept == len(entries) or len(address) > ADDRESS_MOST - 420,
        f"{at}: {kept} of {len(entries)} in {len(address)}",
    )
    question = {
        "units": units,
        "sump": {"capacity": scaled(typed[2], scale), "concentration": typed[7]},
        "log": [
            {
                "day": round(day, 2),
                "volume": scaled(level, scale),
                "reading": {"method": "refractometer", "brix": reads, "factor": typed[5]}
                if reads != ""
                else None,
                "added": {"volume": scaled(added, scale), "concentration": strength} if added != "" else None,
            }
            for day, _, reads, level, added, strength, _ in entries[-kept:]
        ],
    }
    problems = []
    answer = service.record("losses", question, problems).get("answer")
    if not answer:
        expect(shown[3] == "" and shown[9] != "", f"{at}: {problems} is said: {shown}")
        return None
    wide = answer["coverage_factor"]
    for column, wanted in (
        (3, answer["evaporation"]["value"]),
        (4, answer["evaporation"]["u"] * wide),
        (5, answer["carry_off"]["value"]),
        (6, answer["carry_off"]["u"] * wide),
        (7, answer.get("make_up", {}).get("value", "")),
    ):
        same(shown[column], wanted, f"{at}: losses, column {column}", FITTED)
    return {"evaporation": shown[3], "carry_off": shown[5]}


def strength_alone(service: Service, typed: tuple, units: str) -> dict:
    """The strength of a sump, which is known whatever else is wrong."""
    reading = {"method": "refractometer", "brix": typed[4], "factor": typed[5]}
    said = service.record("concentration", {"units": units, "reading": reading}, []).get("answer")
    return {"strength": said["concentration"]} if said else {}


def solve(
    service: Service, typed: tuple, units: str, written_in: str, losses: dict | None
) -> tuple[dict, str]:
    """The service's answers and refusals, by POST, for the typed cells of a machine."""
    _, _, full, volume, brix, factor, low, target, high, least, air, off, _ = typed
    scale = scale_of(units, written_in)
    full, volume, least, air, off = (scaled(number, scale) for number in (full, volume, least, air, off))
    reading = {"method": "refractometer", "brix": brix, "factor": factor}
    band = {"low": low, "target": target, "high": high}
    losses = {
        "evaporation": air if air is not None else (losses or {}).get("evaporation"),
        "carry_off": off if off is not None else (losses or {}).get("carry_off"),
    }
    found, problems = strength_alone(service, typed, units), []
    question = {
        "units": units,
        "sump": {"capacity": full, "volume": volume, "reading": reading},
        "target": {"concentration": target},
        "band": {"low": low, "high": high},
        "losses": None if None in losses.values() else losses,
    }
    record = service.record("top-up", question, problems)
    if record:
        said = record["answer"]
        after = said["after"]
        found |= {"standing": said["standing"], "drain": said["drain"], "holds": after["concentration"]}
        found |= {line["name"]: line["volume"] for line in said["add"]}
        found["mark"] = after.get("mark", "")
        found["premix"] = said.get("premix", {}).get("concentration", "")
        found["finding"] = record.get("findings", [{"text": ""}])[0]["text"]
        found["weak"] = said.get("weak_make_up")
        if not found["weak"] and None not in losses.values():
            question = {
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
            }
            said = service.record("forecast", question, problems).get("answer")
            if said:
                found["next_visit"] = said.get("next_visit")
    if problems:
        return found, " ".join(in_our_words(path, detail) for path, detail in problems[0])
    if not isinstance(typed[1], float):
        return found, no_date(typed)
    return found, ""


def no_date(typed: tuple) -> str:
    """What is said where the day of a reading is none."""
    return TEXT_DATE.format(typed[1]) if typed[1] else NO_DATE


def to_come(typed: tuple, is_typed: bool) -> str:
    """What is said of a day that is after the computer's, typed beside the reading or of the log."""
    if not isinstance(typed[1], float) or EPOCH + timedelta(int(typed[1])) <= date.today():
        return ""
    return TO_COME.format("" if is_typed else " (sheet Log)", EPOCH + timedelta(int(typed[1])))


def in_our_words(path: str, detail: str) -> str:
    """A fault as the workbook words it: the heading, and no member's name."""
    return f"{HEADINGS.get(path, path)}: {without_text(path, detail)}" if path else detail


def without_text(path: str, detail: str) -> str:
    """What is said of a fault, with no member's name where it is missing."""
    return detail.replace(f'"{path.split(".")[-1]}" is missing.', "this is blank.")


def limits(book: Book, server: str) -> None:
    """Addresses and answers stay within Excel's limits, with space for the longest name of a server and a key
    where the length does not follow theirs."""
    for place, head in enumerate(book.asked[5]):
        for row in book.asked[FIRST : FIRST + book.machines]:
            text = row[place]
            if head.endswith(": address") and isinstance(text, str):
                spare = 0 if head.startswith("losses") else 253 - len(server) + len("&key=") + 64
                expect(len(text) + spare <= ADDRESS_MOST, f"{head}: {len(text)} characters")
            elif isinstance(text, str):
                expect(len(text) <= ANSWER_MOST, f"{head}: {len(text)} characters")
