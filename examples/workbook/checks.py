"""The sheet of what was seen, smelled and measured of every machine, and when."""

import ranked
from charts import Line, bars
from look import (
    ALARM,
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
from machines import READY
from shop import CHECKS, ROUND_OF

FIRST = 7  # the row of the first machine
LAST = FIRST + READY - 1
SHOWN = len(CHECKS) + 3  # rows that are shown
TOLD = (
    "Type here, and read the list on the sheet Condition. What nobody looked at or measured stays blank. Its "
    f"strength comes from the sheet Readings. {INVENTED}"
)
# The columns, counted from 1.
MACHINE, SEEN_ON, SMELL, LOOK, FOAM, RUST, COMPLAINTS = range(1, 8)
PH, PH_FILLED, PH_ON, BACTERIA, FUNGI, DIPPED_ON = range(8, 14)
NITRITE, BEFORE, BEFORE_THAT, NITRITE_ON, FILLED_ON, WORKS, REMARK = range(14, 21)
HEADS = [
    ("machine", "of Readings"),
    ("seen on", "day"),
    ("smell", ""),
    ("look", ""),
    ("foam", ""),
    ("rust", ""),
    ("complaints", "skin, breath"),
    ("pH", ""),
    ("pH when filled", ""),
    ("pH on", "day"),
    ("bacteria", "CFU/mL"),
    ("fungi", "growth"),
    ("dipped on", "day"),
    ("nitrite", "mg/L"),
    ("before", "mg/L"),
    ("before that", "mg/L"),
    ("nitrite on", "day"),
    ("filled on", "day"),
    ("works", ""),
    ("remark", ""),
]
WORDS = {
    SMELL: ("fresh", "musty", "rotten eggs"),
    LOOK: ("as new", "oil on top", "darker", "slimy", "split"),
    FOAM: ("none", "some", "over the edge"),
    RUST: ("none", "on parts", "on machine"),
    COMPLAINTS: ("yes", "no"),
    FUNGI: ("none", "slight", "moderate", "heavy"),
    WORKS: ("every day", "now and then", "stands"),
}
DAYS = (SEEN_ON, PH_ON, DIPPED_ON, NITRITE_ON, FILLED_ON)
NUMBERS = {
    PH: ("0.0#", 0, 14, "A pH, from 0 to 14."),
    PH_FILLED: ("0.0#", 0, 14, "The pH when the sump was filled, from 0 to 14."),
    BACTERIA: ("#,##0", 0, 1e9, "Colonies per millilitre, by the picture that comes with the slide."),
    **dict.fromkeys((NITRITE, BEFORE, BEFORE_THAT), ("0.0##", 0, 1e6, "Nitrite in mg/L, not below 0.")),
}


def letter(column: int) -> str:
    """The letter of a column."""
    return chr(64 + column)


def cells_of(column: int) -> str:
    """All cells of a column."""
    return f"{letter(column)}{FIRST}:{letter(column)}{LAST}"


def fill(sheet, names: dict) -> None:
    """Writes the sheet."""
    sheet.title = "Checks"
    open_sheet(sheet, "What was seen, smelled and measured", TOLD)
    put(sheet, "A3", "the round of")
    typed(sheet, "B3", ROUND_OF, "yyyy-mm-dd", LEFT)
    put(sheet, "C3", "the day of the list; the days below are those on which each thing was last done", QUIET)
    names["round_of"] = "Checks!$B$3"
    names["checks"] = f"Checks!$A${FIRST - 1}:${letter(REMARK)}${2 * LAST}"
    rows = f"$A${FIRST}:$A${LAST}"
    put(
        sheet,
        "A4",
        f"=IF(SUMPRODUCT((LEN({rows})>0)*(COUNTIF({rows},{rows})>1))>0,"
        '"A machine stands here twice: keep one row of it, with what was found last.","")',
        ALARM,
    )
    heading(sheet, 5, HEADS)
    judged(sheet)
    for row in range(FIRST, LAST + 1):
        check = CHECKS[row - FIRST] if row - FIRST < len(CHECKS) else [None] * len(HEADS)
        for column, what in enumerate(check, 1):
            cell = sheet.cell(row, column, what)
            if row < FIRST + SHOWN:
                cell.style = INPUT
            form = "yyyy-mm-dd" if column in DAYS else NUMBERS.get(column, ("General",))[0]
            cell.number_format = spaced(form)
            if column in WORDS or column in (MACHINE, REMARK):
                cell.alignment = LEFT
        sheet.row_dimensions[row].height = 18
        sheet.row_dimensions[row].hidden = row >= FIRST + SHOWN
    widths(sheet, [22, 11.5, 12, 12, 13.5, 12, 11, 6.5, 9, 11.5, 11, 10.5, 11.5, 8, 8, 8, 11.5, 11.5, 13, 26])
    sheet.freeze_panes = f"B{FIRST}"
    on_paper(sheet, "5:6")
    sheet.print_area = f"A1:{letter(REMARK)}{LAST}"


def judged(sheet) -> None:
    """What may be typed."""
    machine = f"Readings!$A$7:$A${6 + READY}"
    judge(sheet, cells_of(MACHINE), "list", "A machine of the sheet Readings.", within=machine)
    for column, words in WORDS.items():
        judge(sheet, cells_of(column), "list", f"One of: {', '.join(words)}.", within=f'"{",".join(words)}"')
    days = " ".join(["B3", *(cells_of(column) for column in DAYS)])
    judge(sheet, days, "date", "A day.", "DATE(2000,1,1)", "DATE(2100,1,1)")
    for column, (_, least, most, said) in NUMBERS.items():
        judge(sheet, cells_of(column), "decimal", said, least, most)


def draw(sheet, drawn, column: int) -> None:
    """The chart of the pH, from the columns of `drawn` that begin with the machines' names."""
    first, last = ranked.FIRST, ranked.FIRST + ranked.SHOWN - 1
    chart = bars(
        "pH: when filled, and as last measured; the sumps that fell most",
        (drawn, column, first, last),
        [Line((drawn, column + 2, first, last), "when filled", "CFE3E4")],
        (33, 8),
        over=[
            Line((drawn, column + 1, first, last), "pH", "1F6F78", marks="circle", joined=False),
        ],
    )
    chart.y_axis.scaling.min, chart.y_axis.scaling.max = 6, 11
    sheet.add_chart(chart, f"A{LAST + 2}")
