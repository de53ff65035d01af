"""The log: what was read and added on any day, from which the losses are worked out."""

import entries
from charts import Line, curve
from look import (
    ALARM,
    BY_TODAY,
    INPUT,
    INVENTED,
    LEFT,
    PART,
    QUIET,
    WRAPPED,
    heading,
    judge,
    on_paper,
    open_sheet,
    put,
    spaced,
    widths,
)
from machines import READY as MACHINES_READY
from readings import MOST, PLAIN, VOLUME
from shop import LOG

FIRST, READY = entries.FIRST, entries.READY
LAST = FIRST + READY - 1
STYLED = 100  # rows that look like cells to type in
POINTS = 60  # entries that the chart shows
HEADS = [
    ("date", ""),
    ("machine", ""),
    ("reads", "°Brix"),
    ("in the sump", VOLUME),
    ("added", VOLUME),
    ("how strong", "% vol"),
    ("remark", ""),
]
FORMATS = {"A": "yyyy-mm-dd", "C": "0.0##", "D": "#,##0.0", "E": "#,##0.0", "F": "0.0##"}
TOLD = (
    "A row for every time somebody reads or adds, in any order. Read first, then add: the level and "
    "the reading are "
    f"those before the addition. {INVENTED}"
)
DRAWN = "Drawn"


def fill(sheet) -> None:
    """Writes the sheet."""
    sheet.title = "Log"
    open_sheet(sheet, "What was read and added", TOLD)
    sheet["A2"].alignment = WRAPPED
    sheet.merge_cells("A2:G2")
    for row, height in ((2, 28), (3, 20), (4, 20), (6, 18)):
        sheet.row_dimensions[row].height = height
    fault = entries.column("fault")
    first = f'MATCH("?*",{fault},0)'
    further = f"IFERROR(COUNTA(INDEX(log_rows,{READY + 2},2):INDEX(log_rows,ROWS(log_rows),2)),0)"
    count = f"SUMPRODUCT((LEN({fault})>0)*1)"
    put(
        sheet,
        "A3",
        f'=IF({count}=0,"","Left out: "&{count}&". The first is row '
        f'"&(ROW(INDEX(log_rows,1,1))+{first})&": "&INDEX({fault},{first})&".")',
        ALARM,
    )
    days = "INDEX(log_rows,0,1)"
    later = f"MATCH(1,INDEX(ISNUMBER({days})*({days}>=TODAY()+1),0),0)+ROW(INDEX(log_rows,1,1))-1"
    put(
        sheet,
        "A4",
        f'=IF({further}>0,"Only the first {READY:,} rows are asked about: '
        f'move the oldest to another file.",IFERROR("The date in row "&({later})&" is still to come. '
        f'Correct it.",""))',
        ALARM,
    )
    heading(sheet, 5, HEADS)
    rows = f"{{0}}{FIRST}:{{0}}{LAST}"
    judge(
        sheet,
        rows.format("A"),
        "date",
        "A date, with a time where you like, and none still to come.",
        "DATE(2000,1,1)",
        BY_TODAY,
    )
    judge(
        sheet,
        rows.format("B"),
        "list",
        "A machine of the sheet Readings.",
        within=f"Readings!$A$7:$A${6 + MACHINES_READY}",
    )
    judge(sheet, rows.format("C"), "decimal", f"What the instrument reads, in °Brix. {PLAIN}", 0.2, 95)
    judge(
        sheet, f"{rows.format('D')} {rows.format('E')}", "decimal", "A number that is not below 0.", 0, MOST
    )
    judge(
        sheet,
        rows.format("F"),
        "decimal",
        "From 0 (water) to 100 (concentrate), without a per cent sign.",
        0,
        100,
    )
    for row in range(FIRST, LAST + 1):
        entry = LOG[row - FIRST] if row - FIRST < len(LOG) else [None] * 7
        for column, cell in enumerate(entry, 1):
            place = sheet.cell(row, column, cell)
            if row < FIRST + STYLED:
                place.style = INPUT
            place.number_format = spaced(FORMATS.get(place.column_letter, "General"))
            if column in (1, 2, 7):
                place.alignment = LEFT
        if row < FIRST + STYLED:
            sheet.row_dimensions[row].height = 16
    widths(sheet, [13, 22, 10, 12, 10, 12, 34, 3, 24, *[14] * 7, 54])
    sheet.freeze_panes = f"A{FIRST}"
    on_paper(sheet, "5:6", upright=True)
    # The chart is for the screen: a long log is printed without it.
    sheet.print_area = f"A1:G{FIRST + STYLED - 1}"


def draw(sheet, drawn) -> None:
    """The chart of a machine's level and strength, from the columns of `drawn`."""
    put(drawn, "A1", "What the chart of the log draws", PART)
    for place, head in enumerate(("place", "date", "in the sump", "strength"), 1):
        put(drawn, f"{'ABCD'[place - 1]}3", head, QUIET)
    nth = entries.column("nth")
    count = f'COUNTIFS({entries.column("machine")},log_of,{entries.column("length")},">0")'
    put(drawn, "B2", f"={count}")
    first, last = 4, 3 + POINTS
    for row in range(first, last + 1):
        back = last - row
        found = f'MATCH(log_of&"|"&($B$2-1-{back}),{nth},0)+1'
        put(drawn, f"A{row}", f'=IF($B$2>{back},{found},"")')
        for letter, column in (("B", 1), ("C", 4)):
            cell = f"INDEX(log_rows,$A{row},{column})"
            put(
                drawn,
                f"{letter}{row}",
                f'=IF($A{row}="",NA(),IF({cell}="",NA(),{cell}))',
                form="yyyy-mm-dd" if letter == "B" else None,
            )
        reads = f"INDEX(log_rows,$A{row},3)"
        factor = "INDEX(readings,MATCH(log_of,INDEX(readings,0,1),0),6)"
        put(drawn, f"D{row}", f'=IF($A{row}="",NA(),IF({reads}="",NA(),{reads}*{factor}))')
    span = (drawn, 2, first, last)
    levels = curve(
        f"In the sump, before anything was added: the last {POINTS} entries",
        [(span, Line((drawn, 3, first, last), "in the sump", "1F6F78", marks="circle"))],
        (20, 7.5),
        None,
        None,
    )
    strengths = curve(
        "Strength, % by volume",
        [(span, Line((drawn, 4, first, last), "strength", "B5651D", marks="circle"))],
        (20, 7.5),
        None,
        None,
    )
    for chart, place in ((levels, f"I{FIRST}"), (strengths, f"I{FIRST + 16}")):
        chart.x_axis.number_format = "d mmm"
        chart.legend = None
        sheet.add_chart(chart, place)
