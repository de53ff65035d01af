"""The sheet that asks: the typed cells as addresses, and the answers.

A number is written with a point whatever the spreadsheet's language, and read
back with NUMBERVALUE, so that the workbook works in every locale.
"""

from look import BODY, QUIET, TITLE, heading, on_paper, widths
from openpyxl.utils import get_column_letter
from shop import MACHINES

SERVER = "http://127.0.0.1:8787"
FIRST = 7  # the row of the first machine, here and on the sheet of readings
LAST = FIRST + len(MACHINES) - 1
READY = 200  # so many machines are asked about as soon as they are typed in
FURTHEST = 2000  # the last row that anything looks at
DAYS_AHEAD = 60

# The members of the addresses, their columns on the sheet of readings, and whether each
# is a volume or a volume per day, which depend on the units.
TYPED = [
    ("full", "C", True),
    ("volume", "D", True),
    ("brix", "E", False),
    ("factor", "F", False),
    ("low", "G", False),
    ("target", "H", False),
    ("high", "I", False),
    ("least", "J", True),
    ("air", "K", True),
    ("off", "L", True),
]
# Both losses or none are sent: without them the other answers are still given.
LOSSES = [("losses.evaporation", "?air"), ("losses.carry_off", "?off")]
READING = [("reading.method", "=refractometer"), ("reading.brix", "brix"), ("reading.factor", "factor")]
BAND = [("band.low", "low"), ("band.target", "target"), ("band.high", "high")]
ADDRESSES = {
    "concentration": READING,
    # The service decides which sump is in its band and which is drained.
    "top-up": [
        ("sump.capacity", "full"),
        ("sump.volume", "volume"),
        *[(f"sump.{path}", typed) for path, typed in READING],
        ("target.concentration", "target"),
        ("band.low", "low"),
        ("band.high", "high"),
        *LOSSES,
    ],
    # The sump after the top-up.
    "forecast": [
        ("sump.capacity", "full"),
        ("sump.volume", "fills to"),
        ("sump.concentration", "holds"),
        ("losses.evaporation", "air"),
        ("losses.carry_off", "off"),
        *BAND,
        ("levels.min", "least"),
        ("days", f"={DAYS_AHEAD}"),
    ],
}
PICKED = [
    ("strength", "concentration", "answer.concentration"),
    ("standing", "top-up", "answer.standing"),
    ("drain", "top-up", "answer.drain"),
    ("concentrate", "top-up", "answer.add.0.volume"),
    ("water", "top-up", "answer.add.1.volume"),
    ("fills to", "top-up", "answer.after.volume"),
    ("holds", "top-up", "answer.after.concentration"),
    ("mark", "top-up", "answer.after.mark"),
    ("weak make-up", "top-up", "answer.weak_make_up.concentration"),
    ("back in", "top-up", "answer.weak_make_up.back_in_days"),
    ("finding", "top-up", "findings.0.text"),
    ("visit", "forecast", "answer.next_visit.day"),
    ("why", "forecast", "answer.next_visit.what"),
]
HEADS = [
    "machine",
    *[name for name, _, _ in TYPED],
    *ADDRESSES,
    *[name for name, _, _ in PICKED],
    "problem",
    "longest address",
]


def column(name: str) -> str:
    """The letter of a column of this sheet."""
    return get_column_letter(HEADS.index(name) + 1)


def beside(sheet: str, letter: str, above: int = 0) -> str:
    """The cell of another sheet in the row of a formula, or some rows above it. It
    is found by its position, so that rows may be inserted and deleted there."""
    row = f"ROW()-{above}" if above else "ROW()"
    return f"INDEX({sheet}!${letter}$1:${letter}${FURTHEST},{row})"


def typed(cell: str, is_volume: bool) -> str:
    """A typed cell as the text of an address: a blank stays blank, a number gets a decimal
    point, and any other text is left to the service to refuse."""
    number = f"{cell}*scale" if is_volume else cell
    return f'=IF({cell}="","",IF(ISNUMBER({cell}),SUBSTITUTE({number},",","."),_xlfn.ENCODEURL({cell})))'


def address(calculation: str, row: int) -> str:
    """An address without its `pick`."""
    parts = [f'server&"/v1/{calculation}?units="&units']
    for path, source in ADDRESSES[calculation]:
        if source.startswith("="):
            parts.append(f'"&{path}{source}"')
        elif source.startswith("?"):
            air, off = (f"{column(name)}{row}" for name in ("air", "off"))
            parts.append(f'"&{path}="&IF(OR({air}="",{off}=""),"",{column(source[1:])}{row})')
        else:
            parts.append(f'"&{path}="&{column(source)}{row}')
    if calculation == "forecast":
        # A sump that cannot be topped up or whose losses are unknown has no forecast, and one
        # that weak make-up brings back is due on the day it is back.
        drain, weak, air, off = (f"{column(name)}{row}" for name in ("drain", "weak make-up", "air", "off"))
        nothing = f'OR({drain}="",ISERROR(_xlfn.NUMBERVALUE({drain},".")),{weak}<>"",{air}="",{off}="")'
    else:
        nothing = f"COUNTA(INDEX(Readings!$A$1:$L${FURTHEST},ROW(),0))=0"
    return f'=IF({nothing},"",{"&".join(parts)})'


def problem(row: int) -> str:
    """The problem of a machine: its first answer that is a sentence instead of a number."""
    nothing = "read on: there is no date, and so no day for the next visit."
    said = f'IF(ISNUMBER({beside("Readings", "B")}),"","{nothing}")'
    for name in ("visit", "concentrate", "strength"):
        cell = f"{column(name)}{row}"
        said = f'IF(ISERROR(_xlfn.NUMBERVALUE({cell},".")),{cell},{said})'
    return f'=IF({column("top-up")}{row}="","",{said})'


def fill(sheet, litres: float) -> None:
    """Writes the sheet."""
    sheet.title = "Asked"
    sheet["A1"], sheet["A1"].font = "What is asked and what comes back", TITLE
    sheet["A2"], sheet["A2"].font = (
        f"Nothing to type here. It is ready for {READY} machines; copy the last row down for more.",
        QUIET,
    )
    sheet["A3"].font = sheet["A4"].font = sheet["C3"].font = sheet["C4"].font = BODY
    sheet["A3"], sheet["C3"] = "litres in a US gallon", litres
    sheet["A4"] = "typed numbers times"
    sheet["C4"] = '=IF(units=written_in,1,IF(units="us",1/litres_in_a_gallon,litres_in_a_gallon))'
    heading(sheet, 5, [(head, "") for head in HEADS])
    for row in range(FIRST, FIRST + READY):
        cells = [f'={beside("Readings", "A")}&""']
        cells += [typed(beside("Readings", letter), is_volume) for _, letter, is_volume in TYPED]
        cells += [address(calculation, row) for calculation in ADDRESSES]
        for _, calculation, path in PICKED:
            called = f'{column(calculation)}{row}&"&format=text&problems=as_text&pick={path}"'
            missing = '"No answer from "&server&". Is the service running there?"'
            answer = f"IFERROR(_xlfn.WEBSERVICE({called}),{missing})"
            cells.append(f'=IF({column(calculation)}{row}="","",{answer})')
        cells.append(problem(row))
        called = [f"LEN({column(calculation)}{row})" for calculation in ADDRESSES]
        picks = max(len(f"&format=text&problems=as_text&pick={path}") for _, _, path in PICKED)
        cells.append(f"=MAX({','.join(called)})+{picks}")
        for place, cell in enumerate(cells, 1):
            sheet.cell(row, place, cell).font = BODY
    widths(sheet, [22, *[18] * 10, 30, 30, 30, *[20] * 14, 10])
    sheet.freeze_panes = "B7"
    on_paper(sheet)
    # The addresses are of no use on paper.
    sheet.print_area = "A1:C4"
