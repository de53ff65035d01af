"""The sheet that makes the entries of the log into parts of an address.

A row an entry, in whatever order they were typed. An address has room for some twenty entries: the last
ones of each machine that fit are asked about, and the sheet of losses says how many. An entry is written
as short as it can be: the day as the number a spreadsheet has for it, and the strength, which is the
reading times the machine's factor.
"""

import asking
from asking import written
from look import BODY, HEADING, QUIET, on_paper, open_sheet, put, widths
from openpyxl.utils import get_column_letter

READY = 1000  # entries that are asked about as soon as they are typed in
FIRST = 7
# The columns of the log, counted from 1.
ON, MACHINE, READS, VOLUME, ADDED, STRENGTH = range(1, 7)
HEADS = ["machine", "day", "fault", "part", "length", "kept", "order", "nth", "kept nth", "chain"]
SHEET = "'Asked log'"
# Characters of an address besides its entries, the service's address and what stands behind each question.
OTHERS = 330


def at(name: str, row: int) -> str:
    """A cell of this sheet, as its own formulas name it."""
    return f"${get_column_letter(HEADS.index(name) + 1)}{row}"


def here(name: str) -> str:
    """All cells of a column, as formulas of this sheet name it."""
    letter = get_column_letter(HEADS.index(name) + 1)
    return f"${letter}${FIRST}:${letter}${FIRST + READY - 1}"


def column(name: str) -> str:
    """All cells of a column, as other sheets name it."""
    return f"{SHEET}!{here(name)}"


def of_machine(name: str) -> str:
    """The entries of a machine as a part of an address."""
    # LOOKUP finds the last one that divides by TRUE.
    return f'IFERROR(LOOKUP(2,1/({column("machine")}={name}),{column("chain")}),"")'


def kept(name: str) -> str:
    """The number of entries of a machine that are asked about."""
    return f"COUNTIFS({column('machine')},{name},{column('kept')},1)"


def day_of(name: str, nth: str) -> str:
    """The day of an entry of a machine, by its place among those asked about, counted from 0."""
    return f'INDEX({column("day")},MATCH({name}&"|"&{nth},{column("kept nth")},0))'


def dated(answer: str, name: str) -> str:
    """A sentence of the service about an entry of a machine, which names it by its place among those asked
    about, with the entry's date in place of that."""
    ends = f'MIN(FIND(".",{answer}&".",5),FIND(":",{answer}&":",5))'
    nth = f"MID({answer},5,{ends}-5)"
    said = f'IFERROR(SUBSTITUTE({answer},"log."&{nth},{asking.day(day_of(name, nth))}),{answer})'
    return f'IF(LEFT({answer},4)="log.",{said},{answer})'


def typed(row: int, which: int) -> str:
    """A cell typed for an entry."""
    return f"INDEX(log_rows,{row - FIRST + 2},{which})"


def cells(row: int) -> list[str]:
    """The formulas of an entry."""
    name, day, fault, part = (at(head, row) for head in HEADS[:4])
    factor = f"INDEX(readings,MATCH({name},INDEX(readings,0,1),0),6)"
    reads, volume, added, strength = (typed(row, which) for which in (READS, VOLUME, ADDED, STRENGTH))
    same = f"COUNTIFS({here('machine')},{name},{here('day')},{day})"
    faults = [
        (f"ISNA(MATCH({name},INDEX(readings,0,1),0))", "this machine is not on the sheet Readings"),
        (f'{day}&{typed(row, ON)}=""', "there is no date"),
        (f'{day}=""', asking.no_date(typed(row, ON))),
        (f"{same}>1", "two entries of this machine have the same date; write the time as well"),
        (f'AND({reads}="",{volume}="")', "neither a level nor a reading is written"),
        (
            f"COUNT({reads},{volume},{added},{strength})<COUNTA({reads},{volume},{added},{strength})",
            "this is not a number",
        ),
        (f'AND({reads}<>"",NOT(ISNUMBER({factor})))', "this machine has no factor on the sheet Readings"),
        (f'AND({added}<>"",{strength}="")', "write how strong it was: 0 for water, 100 for concentrate"),
        (f'AND({added}="",{strength}<>"")', "write how much was added"),
    ]
    said = '""'
    for which, sentence in reversed(faults):
        said = f'IF({which},"{sentence}",{said})'
    concentration = f'SUBSTITUTE({reads}*{factor},",",".")'
    pieces = "&".join(
        [
            f'"&log.#.day="&SUBSTITUTE({day},",",".")',
            f'IF({volume}="","","&log.#.volume="&{written(volume, "scale")[1:]})',
            f'IF({reads}="","","&log.#.concentration="&{concentration})',
            f'IF({added}="","","&log.#.added.volume="&{written(added, "scale")[1:]}'
            f'&"&log.#.added.concentration="&{written(strength)[1:]})',
        ]
    )
    later = f'SUMIFS({here("length")},{here("machine")},{name},{here("day")},">="&{day})'
    earlier = f'{here("machine")},{name},{here("day")},"<"&{day}'
    before = f"LOOKUP(2,1/({'$A$6:$A' + str(row - 1)}={name}),$J$6:$J{row - 1})"
    return [
        f'=IFERROR({typed(row, MACHINE)}&"","")',
        f'=IF(ISNUMBER({typed(row, ON)}),ROUND({typed(row, ON)},2),"")',
        f'=IF({name}="",IF(IFERROR(COUNTA(INDEX(log_rows,{row - FIRST + 2},0)),0)=0,"","there is no '
        f'machine"),{said})',
        f'=IF(OR({name}="",{fault}<>""),"",{pieces})',
        # Numbers of entries have two digits at most, of which the part has one.
        f'=IF({part}="",0,LEN({part})+5)',
        f'=IF({part}="",0,IF({later}<=room,1,0))',
        f'=IF({at("kept", row)}=1,COUNTIFS({earlier},{here("kept")},1),"")',
        f'=IF({part}="","",{name}&"|"&COUNTIFS({earlier},{here("length")},">0"))',
        f'=IF({at("kept", row)}=1,{name}&"|"&{at("order", row)},"")',
        f'=IF({name}="","",IFERROR({before},"")&IF('
        f'{at("kept", row)}=1,SUBSTITUTE({part},"#",{at("order", row)}),""))',
    ]


def fill(sheet) -> None:
    """Writes the sheet."""
    sheet.title = "Asked log"
    open_sheet(
        sheet,
        "The entries of the log as parts of an address",
        f"Nothing to type here. Ready for {READY:,} entries.",
    )
    put(sheet, "A3", "characters for entries", QUIET)
    put(sheet, "B3", f"={asking.ADDRESS_MOST}-LEN(service)-LEN(asking)-{OTHERS}")
    for place, head in enumerate(HEADS, 1):
        sheet.cell(6, place, head).style = HEADING
    for row in range(FIRST, FIRST + READY):
        for place, cell in enumerate(cells(row), 1):
            sheet.cell(row, place, cell).font = BODY
    widths(sheet, [22, 12, 30, 60, 9, 9, 9, 22, 22, 60])
    sheet.freeze_panes = f"B{FIRST}"
    on_paper(sheet)
    sheet.print_area = "A1:B4"
