"""The sheet that asks about every machine: what is typed as addresses, and the answers.

A row a machine, in the order of the sheet of readings. A typed cell is found by its place within the
named range, so that rows may be inserted, deleted and sorted there.
"""

import asking
import entries
from asking import in_our_words, missing, written
from look import BODY, HEADING, QUIET, on_paper, open_sheet, put, widths
from openpyxl.utils import get_column_letter

READY = 200  # machines that are asked about as soon as they are typed in
FIRST = 7  # the row of the first machine, here and on the sheet of readings
DAYS_AHEAD = 60

# The columns of the sheet of readings, counted from 1.
MACHINE, READ_ON, FULL, VOLUME, READS, FACTOR, LOW, AIM, HIGH, LEAST, AIR, OFF = range(1, 13)
WORDS = [
    ("losses.evaporation: ", "lost to the air: "),
    ("losses.carry_off: ", "carried off: "),
    ("sump.reading.brix: ", "reads: "),
    ("sump.reading.factor: ", "factor: "),
    ("sump.capacity: ", "full at: "),
    ("sump.volume: ", "in the sump: "),
    ("sump.concentration: ", "aim for: "),
    ("target.concentration: ", "aim for: "),
    ("target: ", "aim for: "),
    ("band.low: ", "band from: "),
    ("band.target: ", "aim for: "),
    ("band.high: ", "band to: "),
    ("levels.min: ", "keep above: "),
    *missing("brix", "factor", "capacity", "volume", "target", "low", "high", "min", "concentration"),
]
LOSSES = [
    "answer.evaporation.value",
    "answer.evaporation.u",
    "answer.carry_off.value",
    "answer.carry_off.u",
    "answer.coverage_factor",
    "answer.make_up.value",
    "answer.suspects.0.from",
    "answer.suspects.0.to",
    "findings.0.text",
]
TOP_UP = [
    "answer.drain",
    "answer.standing",
    "answer.add.0.volume",
    "answer.add.1.volume",
    "answer.premix.concentration",
    "answer.after.volume",
    "answer.after.concentration",
    "answer.after.mark",
    "answer.weak_make_up.concentration",
    "answer.weak_make_up.back_in_days",
    "findings.0.text",
]
STRENGTH = ["answer.concentration"]
# A forecast begins with a day that is always there, and has a visit only where there is one.
FORECAST = ["answer.series.0.day", "answer.next_visit.day", "answer.next_visit.what"]

# The machines that were checked and what is decided of each, on the sheet Asked checks.
STOPS = [f"'Asked checks'!${letter}$7:${letter}${6 + READY}" for letter in ("A", "K")]
STOPPED = "Stop: persons come first. See the sheet Condition."
MIXED = (
    "read on, in the sump, reads: type all three, of one day, or leave all three blank for those of the log."
)
NO_LOSSES = "Its log does not give its losses: see the sheet Losses."
CALLS = {"losses": LOSSES, "top-up": TOP_UP, "strength": STRENGTH, "forecast": FORECAST}
HEADS = [
    *("machine", "entries", "last entry", "read on", "in the sump", "reads"),
    *("factor", "full at", "band from", "aim for", "band to", "keep above", "stopped", "to come"),
]
for called, picks in CALLS.items():
    HEADS += [f"{called}: address", f"{called}: answer", f"{called}: answered"]
    HEADS += [f"{called}: {pick.removeprefix('answer.')}" for pick in picks]
    HEADS += ["lost to the air", "carried off"] if called == "losses" else []
HEADS += ["problem"]


def at(name: str, row: int) -> str:
    """A cell of this sheet, as its own formulas name it."""
    return f"${get_column_letter(HEADS.index(name) + 1)}{row}"


def of(name: str, place: int) -> str:
    """A cell of this sheet, for a machine counted from 0, as other sheets name it. It stays the same
    where their rows are sorted."""
    return f"Asked!${get_column_letter(HEADS.index(name) + 1)}${FIRST + place}"


def column(name: str) -> str:
    """All cells of a column of this sheet."""
    letter = get_column_letter(HEADS.index(name) + 1)
    return f"Asked!${letter}${FIRST}:${letter}${FIRST + READY - 1}"


def typed(place: int, which: int) -> str:
    """A cell typed for a machine, counted from 0."""
    return f"INDEX(readings,{place + 2},{which})"


def addresses(row: int) -> dict[str, str]:
    """The address of each calculation, without its picks."""

    def cell(name: str) -> str:
        return at(name, row)

    air, off, full = cell("lost to the air"), cell("carried off"), cell("full at")
    unknown = f'OR({air}="",{off}="")'
    reading = (
        'reading.method=refractometer&{0}reading.brix="&'
        f'{cell("reads")}&"&{{0}}reading.factor="&{cell("factor")}'
    )
    lost = f'&IF({unknown},"","&losses.evaporation="&{air}&"&losses.carry_off="&{off})'
    # One that cannot be topped up or whose losses are unknown has no forecast; one that weak make-up
    # brings back is due on the day it is back.
    weak = cell("top-up: weak_make_up.concentration")
    no_forecast = f'OR(NOT({cell("top-up: answered")}),{weak}<>"",{unknown})'
    return {
        "losses": f'IF({cell("entries")}<2,"",service&"/v1/losses?units="&units&"&sump.capacity="&{full}'
        f'&"&sump.concentration="&{cell("aim for")}&{entries.of_machine(cell("machine"))})',
        # The service decides which sump is in its band and which is drained. Nobody is sent to one at which
        # work is stopped.
        "top-up": f'IF(OR({cell("machine")}="",{cell("stopped")}),"",'
        f'service&"/v1/top-up?units="&units&"&sump.capacity="&{full}'
        f'&"&sump.volume="&{cell("in the sump")}&"&sump.{reading.format("sump.")}'
        f'&"&target.concentration="&{cell("aim for")}&"&band.low="&{cell("band from")}'
        f'&"&band.high="&{cell("band to")}{lost})',
        # A sump that is refused is still as strong as it reads.
        "strength": f'IF({cell("machine")}="","",service&"/v1/concentration?units="&units'
        f'&"&{reading.format("")})',
        # The sump after the top-up.
        "forecast": f'IF({no_forecast},"",service&"/v1/forecast?units="&units&"&sump.capacity="&{full}'
        f'&"&sump.volume="&{cell("top-up: after.volume")}'
        f'&"&sump.concentration="&{cell("top-up: after.concentration")}'
        f'&"&losses.evaporation="&{air}&"&losses.carry_off="&{off}&"&band.low="&{cell("band from")}'
        f'&"&band.target="&{cell("aim for")}&"&band.high="&{cell("band to")}'
        f'&"&levels.min="&{cell("keep above")}&"&days={DAYS_AHEAD}")',
    }


def problem(row: int) -> str:
    """The first problem of a machine, in the words of the sheet of readings."""
    day = at("read on", row)
    nothing = '"read on: there is no date, and so no day for the next visit."'
    nothing = f'IF({day}="",{nothing},"read on: {asking.no_date(day)}.")'
    said = f'IF(ISNUMBER({day}),"",{nothing})'
    log = f'AND({at("losses: answer", row)}<>"",NOT({at("losses: answered", row)}))'
    unknown = f'OR({at("lost to the air", row)}="",{at("carried off", row)}="")'
    said = f'IF(AND({log},{unknown}),"{NO_LOSSES}",{said})'
    for called in ("forecast", "top-up"):
        answer, answered = (at(f"{called}: {part}", row) for part in ("answer", "answered"))
        said = f'IF(AND({answer}<>"",NOT({answered})),{answer},{said})'
    three = [f'({typed(row - FIRST, which)}<>"")' for which in (READ_ON, VOLUME, READS)]
    count = "+".join(three)
    is_mixed = f'AND({at("last entry", row)}<>"",{count}>0,{count}<3)'
    said = f'IF({is_mixed},"{MIXED}",{in_our_words(said, WORDS)})'
    of_log = f'IF({typed(row - FIRST, READ_ON)}=""," (sheet Log)","")'
    later = f'"read on"&{of_log}&": "&{asking.iso(day)[1:]}&" is still to come. Correct it."'
    said = f"IF({at('to come', row)},{later},{said})"
    said = f'IF({at("stopped", row)},"{STOPPED}",{said})'
    return f'=IF({at("machine", row)}="","",{said})'


def cells(row: int) -> list[str]:
    """The formulas of a machine."""
    place = row - FIRST
    name, count = at("machine", row), at("entries", row)
    found = [
        f'=IFERROR({typed(place, MACHINE)}&"","")',
        f'=IF({name}="",0,COUNTIFS({entries.column("machine")},{name},{entries.column("length")},">0"))',
        f'=IF({count}=0,"",IFERROR(MATCH({name}&"|"&({count}-1),{entries.column("nth")},0)+1,""))',
        # A level or a reading typed without its day is not of the day of the log's last entry.
        f'=IF({name}="","",IF({typed(place, READ_ON)}<>"",{typed(place, READ_ON)},'
        f'IF(OR({at("last entry", row)}="",{typed(place, VOLUME)}<>"",{typed(place, READS)}<>""),"",'
        f"INDEX(log_rows,{at('last entry', row)},1))))",
    ]
    for which, of_log in ((VOLUME, entries.VOLUME), (READS, entries.READS)):
        cell, entry = typed(place, which), at("last entry", row)
        scale = "scale" if which == VOLUME else ""
        logged = f"INDEX(log_rows,{entry},{of_log})"
        found.append(
            f'=IF({name}="","",IF({cell}<>"",{written(cell, scale)[1:]},'
            # What is typed of a day is not mixed with what the log says of another one.
            f'IF(OR({entry}="",{typed(place, READ_ON)}<>"",{typed(place, VOLUME)}<>"",'
            f'{typed(place, READS)}<>""),"",{written(logged, scale)[1:]})))'
        )
    for which in (FACTOR, FULL, LOW, AIM, HIGH, LEAST):
        cell = written(typed(place, which), "scale" if which in (FULL, LEAST) else "")
        found.append(f'=IF({name}="","",{cell[1:]})')
    found.append(f'=IF({name}="",FALSE,COUNTIFS({STOPS[0]},{name},{STOPS[1]},"stop_and_ask")>0)')
    found.append(f"={asking.to_come(at('read on', row))}")
    asked = addresses(row)
    for called, picks in CALLS.items():
        address, answer, answered = (
            at(f"{called}: {part}", row) for part in ("address", "answer", "answered")
        )
        found += [
            f'=IF({asked[called]}="","",{asked[called]}&{asking.picking(picks)}&asking)',
            asking.answer(address),
            f'=IF({answer}="",FALSE,{asking.is_answered(answer)})',
        ]
        found += [asking.value(answer, answered, nth) for nth in range(1, len(picks) + 1)]
        if called == "losses":
            for which, pick in ((AIR, "evaporation.value"), (OFF, "carry_off.value")):
                cell = typed(place, which)
                logged = at(f"losses: {pick}", row)
                found.append(f'=IF({name}="","",IF({cell}<>"",{written(cell, "scale")[1:]},{logged}))')
    return [*found, problem(row)]


def fill(sheet, litres: float) -> None:
    """Writes the sheet."""
    sheet.title = "Asked"
    open_sheet(
        sheet,
        "What is asked of every machine, and what comes back",
        f"Nothing to type here. Ready for {READY} machines.",
    )
    put(sheet, "A3", "litres in a US gallon", QUIET)
    put(sheet, "B3", litres)
    put(sheet, "C3", "typed volumes times", QUIET)
    put(sheet, "D3", '=IF(units=written_in,1,IF(units="us",1/litres_in_a_gallon,litres_in_a_gallon))')
    connect(sheet)
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
    sheet.print_area = "A1:D4"


def connect(sheet) -> None:
    """The address as the service wants it, and whether anybody answers there."""
    for place, (name, formula) in zip(
        "FGHIJKL",
        [
            ("typed address", "=TRIM(server)"),
            ("no slash at its end", '=IF(RIGHT(F4,1)="/",LEFT(F4,LEN(F4)-1),F4)'),
            ("nor /v1", '=IF(RIGHT(G4,3)="/v1",LEFT(G4,LEN(G4)-3),G4)'),
            ("and http:// before it", '=IF(H4="","",IF(LEFT(LOWER(H4),4)="http",H4,"http://"&H4))'),
            (
                "behind every question",
                '="&format=text&problems=as_text"&IF(key="","","&key="&_xlfn.ENCODEURL(TRIM(key)))',
            ),
            (
                "a question to try",
                '=IF(I4="","",_xlfn.WEBSERVICE(I4&"/v1/concentration?units=metric&reading.method=refractometer'
                '&reading.brix=4&reading.factor=1.25&pick=answer.concentration"&J4))',
            ),
            ("why nobody answers", f"={STATE}"),
        ],
    ):
        put(sheet, f"{place}3", name, QUIET)
        put(sheet, f"{place}4", formula)


# LibreOffice has an error of its own where links are not allowed, for which ERROR.TYPE has no number, and the
# same one where nobody answered when the file was opened; Excel by its documentation has #BLOCKED!, number
# 11. Where nobody answers later, both have #VALUE!, number 3.
NOT_ASKED = (
    '"Nobody could be asked. Start the service (Windows: start.cmd; else ./sumpwright), then Ctrl+Shift+F9 '
    '(in Excel: Ctrl+Alt+F9). "&"If it runs, this program is not allowed to ask it. LibreOffice: close the '
    'file, open it again and choose Allow Updating. Excel: choose Enable Content."'
)
NOBODY = (
    '"No answer from "&I4&". Start the service: unpack its archive, and double-click start.cmd (Windows) '
    "or run ./sumpwright there; leave its window open. Then Ctrl+Shift+F9 (in Excel: Ctrl+Alt+F9). Or is "
    'the address wrong? "'
    '&"It ends with a number, such as http://127.0.0.1:8787."'
)
NO_KEY = (
    'IF(key="","The service asks for a key: type one that may stand in an address into the cell beside key.",'
    '"The key in the cell beside key does not do: "&K4)'
)
OTHER = '"Something other than this service answers at "&I4&"."'
STATE = (
    f'IF(I4="","There is no address of the '
    f'service.",IF(ISERROR(K4),IF(IFERROR(ERROR.TYPE(K4),0)=3,{NOBODY},{NOT_ASKED}),'
    f'IF(IFERROR(_xlfn.NUMBERVALUE(K4,"."),0)=5,"",IF(ISNUMBER(SEARCH("key",K4)),{NO_KEY},IF(OR(LEN(K4)>400,LEFT(K4,1)="<",LEFT(K4,1)="{{"),{OTHER},K4)))))'
)
