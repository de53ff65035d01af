"""The sheet of the round: what every machine is, and what it read."""

import ranked
from charts import Line, bars
from look import (
    ALARM,
    BY_TODAY,
    INPUT,
    INVENTED,
    LEFT,
    QUIET,
    heading,
    judge,
    on_paper,
    open_sheet,
    put,
    spaced,
    typed,
    widths,
)
from machines import FIRST, READY
from shop import MACHINES, READ_ON

LAST = FIRST + READY - 1
TOLD = (
    f"Type here, and read what to add on the sheet Sumps. {INVENTED} Kept in the log: leave reads, in the "
    "sump and read on blank, all three, or type all three; leave the losses blank, which come from it."
)
VOLUME = '=IF(written_in="us","gal","L")'
RATE = '=IF(written_in="us","gal/day","L/day")'
HEADS = [
    ("machine", ""),
    ("read on", ""),
    ("full at", VOLUME),
    ("in the sump", VOLUME),
    ("reads", "°Brix"),
    ("factor", "%/°Brix"),
    ("band from", "% vol"),
    ("aim for", "% vol"),
    ("band to", "% vol"),
    ("keep above", VOLUME),
    ("lost to the air", RATE),
    ("carried off", RATE),
    ("remark", ""),
]
# A cell with its own format does not become a percentage when a per cent sign is typed.
FORMATS = {
    "B": "yyyy-mm-dd",
    **dict.fromkeys("CDJ", "#,##0.0"),
    **dict.fromkeys("EGHI", "0.0##"),
    "F": "0.00##",
    **dict.fromkeys("KL", "0.0##"),
}
PLAIN = "Type the number alone, without the per cent sign: 6, not 6% (which is 0.06)."
MOST = 1e7


def fill(sheet, shown: int) -> None:
    """Writes the sheet; the rows after so many machines are hidden."""
    sheet.title = "Readings"
    open_sheet(sheet, "What the round found", TOLD)
    put(sheet, "A3", "everything typed is in")
    typed(sheet, "C3", "metric", align=LEFT)
    put(sheet, "D3", "metric (litres, millimetres, kilograms) or us (US gallons, inches, pounds)", QUIET)
    judge(sheet, "C3", "list", "Write metric or us.", within='"metric,us"')
    rows = f"$A${FIRST}:$A${LAST}"
    put(
        sheet,
        "A4",
        f"=IF(SUMPRODUCT((LEN({rows})>0)*(COUNTIF({rows},{rows})>1))>0,"
        '"Two machines have the same name: give each its own, or the log cannot tell them apart.","")',
        ALARM,
    )
    heading(sheet, 5, HEADS)
    day = "The day of the reading, and none still to come."
    judge(sheet, f"B{FIRST}:B{LAST}", "date", day, "DATE(2000,1,1)", BY_TODAY)
    volumes = " ".join(f"{letter}{FIRST}:{letter}{LAST}" for letter in "CDJKL")
    judge(sheet, volumes, "decimal", "A number that is not below 0.", 0, MOST)
    judge(sheet, f"E{FIRST}:E{LAST}", "decimal", f"What the instrument reads, in °Brix. {PLAIN}", 0.2, 95)
    strengths = " ".join(f"{letter}{FIRST}:{letter}{LAST}" for letter in "FGHI")
    judge(sheet, strengths, "decimal", f"From 0.5 to 100. {PLAIN}", 0.5, 100)
    for row in range(FIRST, LAST + 1):
        machine = MACHINES[row - FIRST] if row - FIRST < len(MACHINES) else None
        cells = [None] * len(HEADS)
        if machine:
            named, full, found, reads, factor, band, least, air, off, remark = machine
            day = None if found is None else READ_ON
            cells = [named, day, full, found, reads, factor, *band, least, air, off, remark or None]
        for column, cell in enumerate(cells, 1):
            place = sheet.cell(row, column, cell)
            if row < FIRST + shown:
                place.style = INPUT
            place.number_format = spaced(FORMATS.get(place.column_letter, "General"))
            if column in (1, 13):
                place.alignment = LEFT
        sheet.row_dimensions[row].height = 18
        sheet.row_dimensions[row].hidden = row >= FIRST + shown
    widths(sheet, [22, 13, *[10] * 8, 12, 12, 40])
    sheet.freeze_panes = f"B{FIRST}"
    on_paper(sheet, "5:6")
    sheet.print_area = f"A1:M{LAST}"


def draw(sheet, drawn, column: int) -> None:
    """The chart of the levels, from the columns of `drawn` that begin with the machines' names."""
    first, last = ranked.FIRST, ranked.FIRST + ranked.SHOWN - 1
    chart = bars(
        "How full the sumps were found, % of full: the emptiest",
        (drawn, column, first, last),
        [Line((drawn, column + 1, first, last), "in the sump", "1F6F78")],
        (33, 8),
        over=[Line((drawn, column + 2, first, last), "keep above", "B5651D", marks="dash", joined=False)],
    )
    sheet.add_chart(chart, f"A{LAST + 2}")
