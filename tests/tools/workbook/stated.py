"""Compares what the sheet Log says is in a machine's sump with the service's answer to the typed cells."""

import re
from datetime import timedelta

import asked
from asked import Service, expect, same
from held import ADDRESS_MOST, EPOCH, FITTED, HEADINGS, Book, scale_of, scaled, without_text

CHOSEN, AT, STATEMENT, FINDING, NUMBERS, USED = (4, 9), (5, 9), (0, 8), (2, 8), (5, 11), (5, 16)
LONGEST = 420  # an entry that would not have fitted any more, and what an address has at most besides entries
MEMBERS = HEADINGS | {"lowest": "keep above", "now_day": "at", "log": ""}
BEFORE = "Now is before the last entry of the log. Check both; a log is not read backwards."


def compare(document, book: Book, service: Service, units: str, written_in: str) -> dict | None:
    """Compares the statement, the finding and the numbers of the machine that is chosen; the answer."""
    sheet = asked.cells(document, "Log", 17, 6)

    def cell(place: tuple[int, int]):
        return sheet[place[0]][place[1]]

    name, moment = cell(CHOSEN), cell(AT)
    at = f"the state of {name} in {units}"
    numbers = sheet[NUMBERS[0]][NUMBERS[1] : NUMBERS[1] + 5]
    typed = next(filter(lambda row: row[0] == name, map(book.typed, range(book.machines))), None)
    entries = book.entries(name) if typed else []
    if not entries:
        words = "" if name else "Choose a machine"
        words = words or ("no entry of this machine" if typed else "not on the sheet Readings")
        expect(words in cell(STATEMENT), f"{at}: {cell(STATEMENT)!r}")
        expect(all(number == "" for number in numbers), f"{at}: no numbers: {numbers}")
        return None
    address = addressed(document)
    kept = len(re.findall(r"log\.\d+\.day=", address))
    expect(len(address) <= ADDRESS_MOST, f"{at}: an address of {len(address)}")
    expect(
        kept == len(entries) or len(address) > ADDRESS_MOST - LONGEST,
        f"{at}: {kept} of {len(entries)} in {len(address)}",
    )
    entries = entries[-kept:]
    # What is read goes out as a strength: the statement names no reading. The numbers are those of both.
    record, problems = asked_for(service, units, written_in, typed, entries, moment, "concentration")
    if not record:
        path, detail = problems[0][0]
        told = cell(STATEMENT)
        expect(said_of(path, detail, entries) == told, f"{at}: {told!r} for {path}: {detail}")
        expect(all(number == "" for number in numbers), f"{at}: no numbers: {numbers}")
        expect(cell(FINDING) == cell(USED) == "", f"{at}: {cell(FINDING)!r}, {cell(USED)!r}")
        return None
    same(cell(STATEMENT), record["statement"], f"{at}: statement")
    same(cell(FINDING), found(record, entries), f"{at}: finding")
    total = len(book.entries(name))
    more = ": an address has room for no more" if kept < total else ""
    same(cell(USED), f"of its last {kept} of {total} entries{more}", f"{at}: entries")
    as_read, _ = asked_for(service, units, written_in, typed, entries, moment, "reading")
    now = as_read["answer"]["now"]
    volume, strength = now["volume"], now["concentration"]
    for number, wanted, what in (
        (numbers[0], volume["value"], "in the sump"),
        (numbers[1], volume["high"] - volume["value"], "give or take"),
        (numbers[2], strength["value"], "strength"),
        (numbers[3], strength["high"] - strength["value"], "give or take of the strength"),
    ):
        same(number, wanted, f"{at}: {what}", FITTED)
    # An entry that was not read has no mark; the scale shows it all the same.
    same(numbers[4], now.get("mark", strength["value"] / typed[5]), f"{at}: what it should read", FITTED)
    return record


def addressed(document) -> str:
    """The address that was asked."""
    rows = asked.cells(document, "Asked once", 1, 700)
    found = [row[0] for row in rows if "/v1/sump-state?" in str(row[0]) and "&pick=" in row[0]]
    expect(len(found) == 1, f"{len(found)} addresses of a state")
    return found[0]


def asked_for(
    service: Service, units: str, written_in: str, typed: tuple, entries: list, moment, read_as: str
) -> tuple[dict, list]:
    """The record of the answer, and the problems, with the readings as they are or as strengths."""
    _, _, full, _, _, factor, low, target, high, least, *_ = typed
    scale = scale_of(units, written_in)

    def read(brix) -> dict:
        if brix == "":
            return {}
        if read_as == "concentration":
            return {"concentration": brix * factor}
        return {"reading": {"method": "refractometer", "brix": brix, "factor": factor}}

    def added(volume, strength) -> dict | None:
        return {"volume": scaled(volume, scale), "concentration": strength} if volume != "" else None

    problems = []
    record = service.record(
        "sump-state",
        {
            "units": units,
            "sump": {"capacity": scaled(full, scale)},
            "band": {"low": low, "target": target, "high": high},
            "lowest": scaled(least, scale),
            "now_day": round(moment, 2) if isinstance(moment, float) else moment,
            "log": [
                {"day": round(day, 2), "volume": scaled(level, scale), **read(brix), "added": added(*poured)}
                for day, _, brix, level, *poured, _ in entries
            ],
        },
        problems,
    )
    return record, problems


def on(day: float) -> str:
    """A day as the sheet writes it."""
    said = EPOCH + timedelta(int(day))
    return f"{said.day} {said:%b}"


def said_of(path: str, detail: str, entries: list) -> str:
    """A fault in the words of the sheet: an entry by its date."""
    if path == "now_day" and detail == BEFORE:
        return "at: this is before its last entry. Check both; a log is not read backwards."
    entry = re.fullmatch(r"log\.(\d+)(.*)", path)
    if entry:
        member = {"volume": ", in the sump", "concentration": ", reads"}.get(entry[2].lstrip("."), entry[2])
        return f"{on(entries[int(entry[1])][0])}{member}: {detail}"
    heading = MEMBERS.get(path, path)
    return f"{heading}: {without_text(path, detail)}" if heading else detail


def found(record: dict, entries: list) -> str:
    """The first finding in the words of the sheet: entries and days by their dates."""
    findings = record.get("findings")
    if not findings:
        return ""
    first = findings[0]
    entry = re.match(r"/log/(\d+)/", first["pointer"])
    if first["code"] == "reading-off":
        head, rest = first["text"].split("): ", 1)
        expect(head.startswith(f"Entry {int(entry[1]) + 1} ("), head)
        return f"On {on(entries[int(entry[1])][0])}, {rest}"
    expect(first["code"] == "slow-fault", f"a finding of another kind: {first}")
    began = record["answer"]["alarms"][0]["began"]
    rest = first["text"].split(" the ", 1)[1]
    return f"Since about {on(began)} the {rest}"
