"""The sheet that asks of every machine of the sheet Checks what it wants and which tests are due.

A row a machine, in the order of the sheet of checks. Its strength and its band are those of the sheet of
readings, found by the machine's name, so that nothing is typed twice.
"""

import asking
import machines
from asking import coded, in_our_words, iso, missing, written
from checks import (
    BACTERIA,
    BEFORE,
    BEFORE_THAT,
    COMPLAINTS,
    DIPPED_ON,
    FILLED_ON,
    FOAM,
    FUNGI,
    LOOK,
    MACHINE,
    NITRITE,
    NITRITE_ON,
    PH,
    PH_FILLED,
    PH_ON,
    RUST,
    SEEN_ON,
    SMELL,
    WORKS,
)
from look import BODY, HEADING, on_paper, open_sheet, widths
from machines import READY
from openpyxl.utils import get_column_letter

FIRST = 7
SHEET = "'Asked checks'"
BESIDES, DUE = 4, 6  # what else a machine may want that is asked about, and tests that it may be due for
# The first of each is a number in every answer.
CONDITION = ["answer.within_days", "answer.decision", "statement", "findings.0.text"]
for nth in range(BESIDES):
    CONDITION += [f"answer.besides.{nth}.{part}" for part in ("action", "product", "within_days")]
TESTS = ["answer.due_today", "answer.minutes"]
# Tomorrow's look is the next of most machines; the one behind it says more.
for nth in range(2):
    TESTS += [f"answer.coming.{nth}.{part}" for part in ("test", "due_on")]
for nth in range(DUE):
    TESTS += [f"answer.due.{nth}.{part}" for part in ("test", "overdue_days")]
CALLS = {"condition": CONDITION, "tests": TESTS}
HEADS = ["machine", "place", "read on", "strength", "seen", "measured"]
for called, picks in CALLS.items():
    HEADS += [f"{called}: {part}" for part in ("address", "answer", "answered")]
    HEADS += [f"{called}: {pick.removeprefix('answer.')}" for pick in picks]
HEADS += ["first due", "group", "urgency", "refused", "noted", "nth"]
# The groups of the list, the most urgent first.
TODAY, LATER, NO_ANSWER, CARRIES_ON = 3, 2, 1, 0
# From the mildest decision to the one that reaches furthest: the place of its word is its rank.
REACH = "carry_on,top_up,circulate,skim,dose,recycle,dip_slide,clean_out,dispose,stop_and_ask,"
READ = " (sheet Readings): "
WORDS = [
    ("machines.0.looked_at: ", "seen on: "),
    ("machines.0.strength_on: ", f"read on{READ}"),
    ("machines.0.ph_on: ", "pH on: "),
    ("machines.0.nitrite_on: ", "nitrite on: "),
    ("machines.0.nitrite.0: ", "nitrite: "),
    ("machines.0.nitrite.1: ", "before: "),
    ("machines.0.nitrite.2: ", "before that: "),
    ("machines.0.slide_on: ", "dipped on: "),
    ("machines.0.slide_count: ", "bacteria: "),
    ("machines.0.cleaned_on: ", "filled on: "),
    ("machines.0.works: ", "works: "),
    ("machines.0.name: ", "machine: "),
    ("today: ", "the round of: "),
    ("ph.now: ", "pH: "),
    ("ph.at_first_fill: ", "pH when filled: "),
    ("bacteria.count: ", "bacteria: "),
    ("fungi.growth: ", "fungi: "),
    ("nitrite.content: ", "nitrite: "),
    ("skin_complaints: ", "complaints: "),
    ("reading.brix: ", f"reads{READ}"),
    ("reading.factor: ", f"factor{READ}"),
    ("band.low: ", f"band from{READ}"),
    ("band.target: ", f"aim for{READ}"),
    ("band.high: ", f"band to{READ}"),
    ("rotten_eggs", "rotten eggs"),
    ("as_new", "as new"),
    ("oil_on_top", "oil on top"),
    ("over_the_edge", "over the edge"),
    ("on_parts", "on parts"),
    ("on_machine", "on machine"),
    ("every_day", "every day"),
    ("now_and_then", "now and then"),
    (" is after today, ", " is after the day of the round on the sheet Checks, "),
    *missing("now", "today", "brix", "factor"),
]


def at(name: str, row: int) -> str:
    """A cell of this sheet, as its own formulas name it."""
    return f"${get_column_letter(HEADS.index(name) + 1)}{row}"


def column(name: str) -> str:
    """All cells of a column of this sheet, as other sheets name them."""
    letter = get_column_letter(HEADS.index(name) + 1)
    return f"{SHEET}!${letter}${FIRST}:${letter}${FIRST + READY - 1}"


def of(name: str, place: int) -> str:
    """A cell of this sheet, for a row counted from 0, as other sheets name it. It stays the same where
    their rows are sorted."""
    letter = get_column_letter(HEADS.index(name) + 1)
    return f"{SHEET}!${letter}${FIRST + place}"


def typed(place: int, which: int) -> str:
    """A cell typed for a machine, counted from 0."""
    return f"INDEX(checks,{place + 2},{which})"


def member(name: str, cell: str, kind: str = "") -> str:
    """A typed cell with its name as a part of an address; nothing where it is blank."""
    return f'IF({cell}="","","&{name}="&{coded(cell, kind)})'


def ago(name: str, day: str) -> str:
    """The days from a typed day to that of the round as a part of an address."""
    days = f'SUBSTITUTE(MAX(0,INT(round_of)-INT({day})),",",".")'
    return f'IF(AND(ISNUMBER({day}),ISNUMBER(round_of)),"&{name}="&{days},"")'


def strength(row: int) -> str:
    """The reading and the band, where the sheet of readings has them."""

    def read(name: str) -> str:
        return f"INDEX({machines.column(name)},{at('place', row)})"

    reads, factor, low, aim, high = (
        read(name) for name in ("reads", "factor", "band from", "aim for", "band to")
    )
    reading = (
        f'"&reading.method=refractometer&reading.brix="&{reads}&"&reading.factor="&{factor}'
        f"&{ago('strength_days_ago', at('read on', row))}"
    )
    band = f'"&band.low="&{low}&"&band.target="&{aim}&"&band.high="&{high}'
    return (
        f'=IF({at("place", row)}="","",IF(OR({reads}="",{factor}=""),"",{reading})'
        f'&IF(OR({low}="",{aim}="",{high}=""),"",{band}))'
    )


def seen(place: int) -> str:
    """What eye and nose found."""
    parts = [
        member(name, typed(place, which), "code")
        for name, which in (("smell", SMELL), ("look", LOOK), ("foam", FOAM), ("rust", RUST))
    ]
    return f"={'&'.join([*parts, member('skin_complaints', typed(place, COMPLAINTS), 'answer')])}"


def measured(place: int) -> str:
    """What was measured, each with how long ago."""
    parts = []
    for first, others, day, name in (
        (("now", PH, ""), [("at_first_fill", PH_FILLED)], PH_ON, "ph"),
        (("count", BACTERIA, ""), [], DIPPED_ON, "bacteria"),
        (("growth", FUNGI, "code"), [], DIPPED_ON, "fungi"),
        (("content", NITRITE, ""), [], NITRITE_ON, "nitrite"),
    ):
        what, which, kind = first
        cell = typed(place, which)
        more = "".join(f"&{member(f'{name}.{other}', typed(place, at_))}" for other, at_ in others)
        parts.append(
            f'IF({cell}="","",{member(f"{name}.{what}", cell, kind)}{more}'
            f"&{ago(f'{name}.days_ago', typed(place, day))})"
        )
    return f"={'&'.join([*parts, ago('days_since_fill', typed(place, FILLED_ON))])}"


def of_tests(row: int, place: int) -> str:
    """The question about the tests of one machine."""
    machine = "&machines.0."
    parts = [f'"{machine}name="&_xlfn.ENCODEURL({at("machine", row)})']
    for name, which in (
        ("looked_at", SEEN_ON),
        ("ph_on", PH_ON),
        ("nitrite_on", NITRITE_ON),
        ("slide_on", DIPPED_ON),
        ("cleaned_on", FILLED_ON),
    ):
        cell = typed(place, which)
        parts.append(f'IF({cell}="","","{machine}{name}="&{iso(cell)[1:]})')
    read_on = at("read on", row)
    parts.append(f'IF({read_on}="","","{machine}strength_on="&{iso(read_on)[1:]})')
    parts.append(member("machines.0.works", typed(place, WORKS), "code"))
    parts.append(member("machines.0.slide_count", typed(place, BACTERIA)))
    # The newest first, up to the first that is blank.
    results = [typed(place, which) for which in (NITRITE, BEFORE, BEFORE_THAT)]
    for nth, cell in enumerate(results):
        blank = ",".join(f'{result}=""' for result in results[: nth + 1])
        parts.append(f'IF(OR({blank}),"","{machine}nitrite.{nth}="&{written(cell)[1:]})')
    return "&".join(parts)


def first_due(row: int) -> str:
    """The days until the first of all that a machine wants is due; blank where it wants nothing."""
    within, decision = at("condition: within_days", row), at("condition: decision", row)
    days = [f'_xlfn.NUMBERVALUE({within},".")']
    for nth in range(BESIDES):
        cell = at(f"condition: besides.{nth}.within_days", row)
        days.append(f'IF({cell}="",9999,_xlfn.NUMBERVALUE({cell},"."))')
    return f'=IF(OR({decision}="",{decision}="carry_on"),"",MIN({",".join(days)}))'


def group(row: int) -> str:
    """Whether something is due today, or later, or it has no answer, or carries on."""
    due = at("first due", row)
    nothing = f"IF({at('condition: answered', row)},{CARRIES_ON},{NO_ANSWER})"
    return f'=IF({at("machine", row)}="","",IF({due}="",{nothing},IF({due}<=0,{TODAY},{LATER})))'


def urgency(row: int) -> str:
    """A group after the other; within each what reaches furthest, and of that what is due first."""
    due, which = at("first due", row), at("group", row)
    reach = f'IFERROR(FIND({at("condition: decision", row)}&",","{REACH}"),0)'
    # No two are the same.
    first = f'{which}*1000000+{reach}*1000+IF({due}="",0,999-MIN(999,{due}))-{row - FIRST}/1000'
    return f'=IF({at("machine", row)}="","",{first})'


def nth_most_urgent(row: int) -> str:
    """The place of the machine that stands in this row of the list; of two alike the first typed is first."""
    keys, place = column("urgency"), row - FIRST
    return f'=IFERROR(MATCH(LARGE({keys},{place + 1}),{keys},0),"")'


def noted(row: int, place: int) -> str:
    """What is odd about a row that has an answer."""
    notes = [
        (
            f'{at("place", row)}=""',
            "This machine is not on the sheet Readings, so nothing is known of its strength.",
        )
    ]
    for name, which, day in (
        ("pH", PH, PH_ON),
        ("dip slide", BACTERIA, DIPPED_ON),
        ("nitrite", NITRITE, NITRITE_ON),
    ):
        notes.append(
            (
                f'AND({typed(place, which)}<>"",{typed(place, day)}="")',
                f"The {name} has no day: it is judged as of today, and its test stays on the list.",
            )
        )
    said = "&".join(f'IF({which},"{sentence} ","")' for which, sentence in notes)
    return f'=IF({at("machine", row)}="","",TRIM({said}))'


def cells(row: int) -> list[str]:
    """The formulas of a machine."""
    place, name = row - FIRST, at("machine", row)
    found = [
        f'=IFERROR({typed(place, MACHINE)}&"","")',
        f'=IF({name}="","",IFERROR(MATCH({name},{machines.column("machine")},0),""))',
        f'=IF({at("place", row)}="","",INDEX({machines.column("read on")},{at("place", row)}))',
        strength(row),
        f'=IF({name}="","",{seen(place)[1:]})',
        f'=IF({name}="","",{measured(place)[1:]})',
    ]
    known = f"{at('strength', row)}&{at('seen', row)}&{at('measured', row)}"
    asked = {
        # With nothing seen, measured or read there is nothing to judge.
        "condition": (f'{known}=""', f'service&"/v1/condition?units="&units&{known}'),
        "tests": (
            f'{name}=""',
            f'service&"/v1/test-plan?units="&units&"&today="&{iso("round_of")[1:]}&{of_tests(row, place)}',
        ),
    }
    for called, picks in CALLS.items():
        nothing, question = asked[called]
        address, answer, answered = (
            at(f"{called}: {part}", row) for part in ("address", "answer", "answered")
        )
        found += [
            f'=IF({nothing},"",{question}&{asking.picking(picks)}&asking)',
            asking.answer(address),
            f'=IF({answer}="",FALSE,{asking.is_answered(answer)})',
        ]
        found += [asking.value(answer, answered, nth) for nth in range(1, len(picks) + 1)]
    refused = '""'
    for called in CALLS:
        answer, answered = (at(f"{called}: {part}", row) for part in ("answer", "answered"))
        refused = f'IF(AND({answer}<>"",NOT({answered})),{answer},{refused})'
    said = f"={in_our_words(refused, WORDS)}"
    return [*found, first_due(row), group(row), urgency(row), said, noted(row, place), nth_most_urgent(row)]


def fill(sheet) -> None:
    """Writes the sheet."""
    sheet.title = "Asked checks"
    open_sheet(
        sheet,
        "What is asked of every machine that was checked, and what comes back",
        f"Nothing to type here. Ready for {READY} machines.",
    )
    for place, head in enumerate(HEADS, 1):
        sheet.cell(6, place, head).style = HEADING
    sheet.row_dimensions[6].height = 44
    for row in range(FIRST, FIRST + READY):
        for place, cell in enumerate(cells(row), 1):
            sheet.cell(row, place, cell).font = BODY
    widths(sheet, [22] + [16] * len(HEADS))
    sheet.freeze_panes = f"B{FIRST}"
    on_paper(sheet)
    # The addresses are of no use on paper.
    sheet.print_area = "A1:D2"
