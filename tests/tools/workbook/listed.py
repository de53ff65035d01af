"""Compares the sheet Condition with the service's answers to what is typed on Checks and Readings."""

import asked
from asked import Service, expect, same
from held import ADDRESS_MOST, FIRST, READY, Book, without_text

FIRST_LISTED = 9  # the row of the first machine on the list, from 0
BESIDES, DUE = 4, 6  # what else a machine may want that the list has, and tests that it may be due for
REACH = (
    *("carry_on", "top_up", "circulate", "skim", "dose"),
    *("recycle", "dip_slide", "clean_out", "dispose", "stop_and_ask"),
)
TESTS = {"look": "look and smell", "ph": "pH", "dip_slide": "dip slide", "clean_out": "clean-out"}
WORDS = (
    *("rotten eggs", "as new", "oil on top", "over the edge"),
    *("on parts", "on machine", "every day", "now and then"),
)
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
NOT_KNOWN = "This machine is not on the sheet Readings, so nothing is known of its strength."
NO_DAY = "The {} has no day: it is judged as of today, and its test stays on the list."
# The heading that each member of the questions is typed under.
HEADINGS = {
    "ph.now": "pH",
    "ph.at_first_fill": "pH when filled",
    "bacteria.count": "bacteria",
    "fungi.growth": "fungi",
    "nitrite.content": "nitrite",
    "skin_complaints": "complaints",
    "reading.brix": "reads (sheet Readings)",
    "reading.factor": "factor (sheet Readings)",
    "band.low": "band from (sheet Readings)",
    "band.target": "aim for (sheet Readings)",
    "band.high": "band to (sheet Readings)",
    "machines.0.looked_at": "seen on",
    "machines.0.strength_on": "read on (sheet Readings)",
    "machines.0.ph_on": "pH on",
    "machines.0.slide_on": "dipped on",
    "machines.0.nitrite_on": "nitrite on",
    "machines.0.cleaned_on": "filled on",
    "machines.0.nitrite.0": "nitrite",
    "machines.0.slide_count": "bacteria",
    "machines.0.works": "works",
    "today": "the round of",
}


def stopped(document, service: Service, units: str) -> set[str]:
    """The machines at which work is stopped."""
    found = wanted_of(document, service, units)
    return {cells[0] for urgency, cells in found if urgency[1] == REACH.index("stop_and_ask")}


def wanted_of(document, service: Service, units: str) -> list[tuple]:
    """How urgent each machine is, and the cells that it must have on the list, in the order as typed."""
    book = Book(document)
    checks = asked.cells(document, "Checks", 20, FIRST + READY)
    typed = [row for row in checks[FIRST:] if row[0] != ""]
    return [machine(row, checks[2][1], strength(book, row[0]), service, units) for row in typed]


def compare(document, service: Service, units: str) -> list[tuple]:
    """Compares every row of the list; gives the rows."""
    listed = asked.cells(document, "Condition", 9, FIRST_LISTED + READY)
    wanted = wanted_of(document, service, units)
    # The most urgent first; of two alike the first that was typed.
    order = sorted(range(len(wanted)), key=lambda place: (wanted[place][0], -place), reverse=True)
    for nth, place in enumerate(order):
        for column, (found, cell) in enumerate(zip(listed[FIRST_LISTED + nth], wanted[place][1])):
            same(found, cell, f"the list, row {nth + 1} ({wanted[place][1][0]}), column {column + 1}")
    for row in listed[FIRST_LISTED + len(wanted) :]:
        expect(all(cell == "" for cell in row), f"a row without a machine is empty: {row}")
    for column, group, word in (
        (4, 3, "today"),
        (5, 2, "in the next days"),
        (6, 1, "no answer"),
        (8, 0, "carry on"),
    ):
        count = sum(urgency[0] == group for urgency, _ in wanted)
        same(listed[2][column], f"{count} {word}", f"how many: {word}")
    minutes = sum(cells[6] for _, cells in wanted if cells[6] != "")
    same(listed[3][5], f"tests of the day: {minutes:g} minutes", "minutes of the day")
    limits(document)
    return listed[FIRST_LISTED : FIRST_LISTED + len(wanted)]


def strength(book: Book, name: str) -> tuple | None:
    """What the sheet of readings and the log say of a machine."""
    for row in range(book.machines):
        if book.readings[FIRST + row][0] == name:
            return book.typed(row)
    return None


def code(word: str) -> str:
    """A word of a list as the service has it."""
    return word.strip().lower().replace(" ", "_")


def iso(day) -> str:
    """A typed day as the service has it; a text as it is."""
    if not isinstance(day, float):
        return day
    import datetime

    return (datetime.date(1899, 12, 30) + datetime.timedelta(int(day))).isoformat()


def machine(row: tuple, round_of, read: tuple | None, service: Service, units: str) -> tuple:
    """How urgent a machine is, and the cells that it must have on the list."""
    name, seen_on, smell, look, foam, rust, complaints = row[:7]
    ph, ph_filled, ph_on, bacteria, fungi, dipped_on = row[7:13]
    nitrite, before, before_that, nitrite_on, filled_on, works, _ = row[13:]

    def ago(day):
        is_known = isinstance(day, float) and isinstance(round_of, float)
        return max(0, int(round_of) - int(day)) if is_known else None

    question = {
        "units": units,
        "smell": code(smell),
        "look": code(look),
        "foam": code(foam),
        "rust": code(rust),
        "skin_complaints": {"yes": True, "no": False}.get(complaints, complaints),
        "ph": {"now": ph, "at_first_fill": ph_filled, "days_ago": ago(ph_on)} if ph != "" else None,
        "bacteria": {"count": bacteria, "days_ago": ago(dipped_on)} if bacteria != "" else None,
        "fungi": {"growth": code(fungi), "days_ago": ago(dipped_on)} if fungi != "" else None,
        "nitrite": {"content": nitrite, "days_ago": ago(nitrite_on)} if nitrite != "" else None,
        "days_since_fill": ago(filled_on),
    }
    if read:
        _, read_on, _, _, brix, factor, low, aim, high = read[:9]
        if "" not in (brix, factor):
            question["reading"] = {"method": "refractometer", "brix": brix, "factor": factor}
            question["strength_days_ago"] = ago(read_on)
        if "" not in (low, aim, high):
            question["band"] = {"low": low, "target": aim, "high": high}
    results = []
    for result in (nitrite, before, before_that):
        if result == "":
            break
        results.append(result)
    plan = {
        "units": units,
        "today": iso(round_of),
        "machines": [
            {
                "name": name,
                "works": code(works),
                "looked_at": iso(seen_on),
                "strength_on": iso(read[1]) if read else None,
                "ph_on": iso(ph_on),
                "nitrite_on": iso(nitrite_on),
                "nitrite": results,
                "slide_on": iso(dipped_on),
                "slide_count": bacteria,
                "cleaned_on": iso(filled_on),
            }
        ],
    }
    faults = []
    is_asked = len(asked.without_blanks(question)) > 1
    record = service.record("condition", question, faults) if is_asked else {}
    tests = service.record("test-plan", plan, faults)
    notes = [NOT_KNOWN] if read is None else []
    for what, value, day in (
        ("pH", ph, ph_on),
        ("dip slide", bacteria, dipped_on),
        ("nitrite", nitrite, nitrite_on),
    ):
        if value != "" and day == "":
            notes.append(NO_DAY.format(what))
    to_test = due(tests)
    if record and record["answer"]["decision"] == "stop_and_ask":
        to_test = ("none until this is cleared", 0, to_test[2])
    cells = [name, *decision(record, is_asked, round_of), *to_test]
    if faults:
        said = " ".join(in_our_words(path, detail) for path, detail in faults[0])
    else:
        finding = record.get("findings", [{"text": ""}])[0]["text"]
        said = " ".join(filter(None, [finding, *notes]))
    return urgency(record), [*cells, said]


def wants(answer: dict) -> list[tuple]:
    """What a machine wants: what, and within how many days."""
    return [(answer["decision"], answer["within_days"])] + [
        (one["action"], one["within_days"]) for one in answer["besides"][:BESIDES]
    ]


def urgency(record: dict) -> tuple:
    """Today, later, no answer, carries on; then what reaches furthest, then what is due first."""
    if not record:
        return 1, 0, 0
    answer = record["answer"]
    if answer["decision"] == "carry_on":
        return 0, 0, 0
    first = min(days for _, days in wants(answer))
    return 3 if first <= 0 else 2, REACH.index(answer["decision"]), -first


def by(days: float, round_of) -> str:
    """A day so many days after that of the round."""
    if days <= 0:
        return "today"
    if not isinstance(round_of, float):
        return f"in {int(days)} days"
    _, month, day = iso(round_of + int(days)).split("-")
    return f"by {int(day)} {MONTHS[int(month) - 1]}"


def decision(record: dict, is_asked: bool, round_of) -> tuple:
    """What to do, by when, what before that, and why."""
    if not record:
        return "no answer" if is_asked else "not looked at", "", "", ""
    answer = record["answer"]
    what, why = record["statement"].split(": ", 1)
    carries_on = answer["decision"] == "carry_on"
    sooner = [
        f"{one['action']} {one.get('product', '')}".replace("_", " ").replace(" ph ", " pH ").strip()
        + f" {by(one['within_days'], round_of)}"
        for one in answer["besides"][:BESIDES]
        if one["within_days"] < answer["within_days"]
    ]
    return what, "" if carries_on else by(answer["within_days"], round_of), ", ".join(sooner), why


def due(record: dict) -> tuple:
    """The tests that are due, how long they take, and what comes next."""
    if not record:
        return "", "", ""
    answer = record["answer"]
    tests = []
    for one in answer["due"][:DUE]:
        late = one.get("overdue_days")
        days = " (never written down)" if late is None else f" ({late:g})" if late else ""
        tests.append(f"{TESTS.get(one['test'], one['test'])}{days}")
    coming = answer["coming"]
    if len(coming) > 1 and coming[0]["test"] == "look":
        coming = coming[1:]
    after = ""
    if coming:
        _, month, day = coming[0]["due_on"].split("-")
        name = TESTS.get(coming[0]["test"], coming[0]["test"])
        after = f"{name} on {int(day)} {MONTHS[int(month) - 1]}"
    return ", ".join(tests), answer["minutes"], after


def in_our_words(path: str, detail: str) -> str:
    """A fault as the workbook words it: the heading, and no member's name."""
    for word in WORDS:
        detail = detail.replace(word.replace(" ", "_"), word)
    detail = detail.replace(" after today, ", " after the day of the round on the sheet Checks, ")
    return f"{HEADINGS.get(path, path)}: {without_text(path, detail)}" if path else detail


def limits(document) -> None:
    """Addresses stay within Excel's limits, with space for the longest name of a server and a key."""
    sheet = asked.cells(document, "Asked checks", 52, FIRST + READY)
    for place, head in enumerate(sheet[5]):
        if str(head).endswith(": address"):
            longest = max(len(row[place]) for row in sheet[FIRST:])
            expect(longest + 253 + len("&key=") + 64 <= ADDRESS_MOST, f"{head}: {longest} characters")
