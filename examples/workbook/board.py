"""The sheet to look at: every sump with its state and the work to do."""

import machines
import ranked
from charts import Line, bars
from look import (
    ALARM,
    BODY,
    CENTRE,
    INVENTED,
    LEFT,
    QUIET,
    RICH,
    RIGHT,
    RIGHTWARDS,
    SMALL,
    STRONG,
    UNDER,
    WEAK,
    WRAPPED,
    WRONG,
    heading,
    judge,
    on_paper,
    open_sheet,
    put,
    typed,
    widths,
)
from look import fill as colour
from machines import DAYS_AHEAD, READY
from openpyxl.formatting.rule import FormulaRule
from shop import SERVER

FIRST = 11
LAST = FIRST + READY - 1
VOLUME = '=IF(units="us","gal","L")'
HEADS = [
    ("machine", ""),
    ("in the sump", VOLUME),
    ("full at", VOLUME),
    ("reads", "°Brix"),
    ("strength", "% vol"),
    ("band from", "% vol"),
    ("band to", "% vol"),
    ("standing", ""),
    ("drain", VOLUME),
    ("add concentrate", VOLUME),
    ("add water", VOLUME),
    ("as a premix of", "% vol"),
    ("then holds", "% vol"),
    ("must then read", "°Brix"),
    ("next visit", ""),
    ("because", ""),
    ("what to look at", ""),
]
WORDS = {"below": "too weak", "in_band": "in band", "above": "too strong"}
COLOURS = {"too weak": WEAK, "in band": RIGHT, "too strong": RICH, "no answer": WRONG}
CAUTIONS = [
    "Lock the machine out before you reach into its sump, and mind sharp chips. Gloves and eye "
    "protection; no mist to breathe. Premix: stir the concentrate into the water, never water into "
    "concentrate, outside the sump; that gives a premix of this strength. Pour it in, let it circulate, and "
    "read again: the "
    "refractometer must then show what the column says.",
    "The fluid's safety data sheet, local codes and licensed practice come before anything printed "
    "here. Drained "
    f"fluid is waste: never into a drain or onto the ground. Next visit: topped up as said on the "
    f"day it was read, the "
    f"sump leaves its band or its least level then, within {DAYS_AHEAD} days; or weak make-up has "
    f"brought it back.",
]
# Days after which a reading says little of what is in a sump now.
OLD_AFTER = 14
LAST_READ = "$P$5"
OLD = f"More than {OLD_AFTER} days have passed since the last reading: read again before anything is poured."
# An amount of 0 to drain or add is shown as a dash.
AMOUNT = '#,##0.0;-#,##0.0;"–"'
FORMATS = [
    "General",
    *["#,##0.0"] * 6,
    "General",
    *[AMOUNT] * 4,
    *["#,##0.0"] * 2,
    "ddd dd mmm",
    "General",
    "General",
]


def cells(place: int) -> list[str]:
    """The formulas of a machine, counted from 0."""

    def asked(name: str) -> str:
        return machines.of(name, place)

    def number(name: str) -> str:
        return f'=IF({asked(name)}="","",IFERROR(_xlfn.NUMBERVALUE({asked(name)},"."),""))'

    def amount(name: str) -> str:
        return f'=IF({later},"",{number(f"top-up: {name}")[1:]})'

    name, day, later = asked("machine"), asked("read on"), asked("to come")
    # A reading of a day still to come is of another day, and nobody pours by it.
    answered = f"AND({asked('top-up: answered')},NOT({later}))"
    words = '"no answer"'
    for code, word in WORDS.items():
        words = f'IF({asked("top-up: standing")}="{code}","{word}",{words})'
    visit, why = asked("forecast: next_visit.day"), asked("forecast: next_visit.what")
    weak, back = (asked(f"top-up: weak_make_up.{part}") for part in ("concentration", "back_in_days"))
    due = f'IF({visit}="","none in {DAYS_AHEAD} days",{day}+INT(_xlfn.NUMBERVALUE({visit},".")))'
    due = f'IF({asked("forecast: answered")},{due},"")'
    # The first whole day on which weak make-up has brought the sump back into its band.
    back_on = f'{day}+ROUNDUP(_xlfn.NUMBERVALUE({back},"."),0)'
    due = f'IF({weak}<>"",IF({back}="","",{back_on}),{due})'
    because = (
        f'IF({why}="volume","level low",IF({why}="concentration","strength",IF({why}="","runs dry",{why})))'
    )
    return [
        f'={name}&""',
        number("in the sump"),
        number("full at"),
        number("reads"),
        number("strength: concentration"),
        number("band from"),
        number("band to"),
        f'=IF({name}="","",IF({answered},{words},"no answer"))',
        amount("drain"),
        amount("add.0.volume"),
        amount("add.1.volume"),
        amount("premix.concentration"),
        amount("after.concentration"),
        amount("after.mark"),
        f'=IF(AND({answered},ISNUMBER({day})),{due},"")',
        f'=IF(NOT(AND({answered},ISNUMBER({day}))),"",IF({weak}<>"",IF({back}="","","is back"),'
        f'IF(AND({asked("forecast: answered")},{visit}<>""),{because},"")))',
        f'=IF({asked("problem")}<>"",{asked("problem")},IF({is_old(day)},{old(day)},'
        f"{asked('top-up: findings.0.text')}))",
    ]


def is_old(day: str) -> str:
    """Whether a reading is much older than the last one of the round."""
    return f"IF(AND(ISNUMBER({day}),ISNUMBER({LAST_READ})),{LAST_READ}-{day}>{OLD_AFTER},FALSE)"


def old(day: str) -> str:
    """What to do about it."""
    apart = f"INT({LAST_READ})-INT({day})"
    return f'"Read "&{apart}&" days before the last of these: read it again before anything is poured."'


def fill(sheet, shown: int) -> None:
    """Writes the sheet; so many machines are shown, and the rows of the others hidden."""
    sheet.title = "Sumps"
    told = f"Nothing to type here but the yellow cells: type your machines on the sheet Readings. {INVENTED}"
    open_sheet(sheet, "Sumps: where they stand and what to add", told)
    switches(sheet)
    heading(sheet, FIRST - 2, HEADS)
    for row in range(FIRST, LAST + 1):
        for place, (cell, form) in enumerate(zip(cells(row - FIRST), FORMATS), 1):
            written = sheet.cell(row, place, cell)
            written.font, written.border, written.number_format = BODY, UNDER, form
            is_text = place in (1, 16, 17)
            written.alignment = LEFT if is_text else CENTRE if place in (8, 15) else RIGHTWARDS
        sheet.cell(row, 1).font = sheet.cell(row, 10).font = sheet.cell(row, 11).font = STRONG
        sheet.cell(row, 17).font, sheet.cell(row, 17).alignment = SMALL, WRAPPED
        sheet.row_dimensions[row].height = 30
        sheet.row_dimensions[row].hidden = row >= FIRST + shown
    totals(sheet)
    key(sheet)
    widths(sheet, [21, 8.5, 8.5, 7.5, 9, 8, 8, 11.5, 8.5, 12.5, 9, 9, 8, 10.5, 13.5, 10, 63])
    sheet.freeze_panes = f"B{FIRST}"
    on_paper(sheet, f"{FIRST - 2}:{FIRST - 1}")
    # The round is printed without its chart.
    sheet.print_area = f"A1:Q{LAST}"


def draw(sheet, drawn, column: int) -> None:
    """The chart of the strengths, from the columns of `drawn` that begin with the machines' names."""
    first, last = ranked.FIRST, ranked.FIRST + ranked.SHOWN - 1
    chart = bars(
        "Strength in its band, % by volume: the sumps farthest from their aim",
        (drawn, column, first, last),
        [
            Line((drawn, column + 1, first, last), "band from", None),
            Line((drawn, column + 2, first, last), "band", RIGHT),
        ],
        (34, 8.5),
        stacked=True,
        over=[
            Line((drawn, column + 4, first, last), "aim for", "55616C", marks="dash", joined=False),
            Line((drawn, column + 3, first, last), "strength", "1F6F78", marks="circle", joined=False),
        ],
    )
    sheet.add_chart(chart, f"A{LAST + 2}")


def switches(sheet) -> None:
    """The cells to type in, and what stands beside them."""
    for row, (told, what, hint) in enumerate(
        [
            ("the service is at", SERVER, ""),
            ("show the round in", "metric", "metric (L) or us (US gallons)"),
            ("key", None, "leave blank unless the service asks for one"),
        ],
        3,
    ):
        put(sheet, f"A{row}", told)
        for letter in "CDEF" if row != 4 else "C":
            typed(sheet, f"{letter}{row}", None, align=LEFT)
        sheet[f"C{row}"].value = what
        if told == "key":
            # Neither on the screen nor on paper does it stand in clear.
            sheet[f"C{row}"].number_format = ";".join(['"(a key)"'] * 4)
        put(sheet, f"{'D' if row == 4 else 'G'}{row}", hint, QUIET)
        sheet.row_dimensions[row].height = 18
    sheet.merge_cells("C3:F3")
    sheet.merge_cells("C5:F5")
    judge(sheet, "C4", "list", "Write metric or us.", within='"metric,us"')
    put(sheet, "A6", sentence(), ALARM, WRAPPED)
    sheet.merge_cells("A6:P6")
    sheet.row_dimensions[6].height = 28
    for row, caution in enumerate(CAUTIONS, 7):
        put(sheet, f"A{row}", caution, SMALL, WRAPPED)
        sheet.merge_cells(f"A{row}:Q{row}")
        sheet.row_dimensions[row].height = 25


def sentence() -> str:
    """Why nothing is answered, or which machines are not shown; blank if neither."""
    further = f"IFERROR(COUNTA(INDEX(readings,{READY + 2},1):INDEX(readings,ROWS(readings),1)),0)>0"
    asked = f"SUMPRODUCT((LEN({machines.column('machine')})>0)*1)"
    rows, shown = f"$A${FIRST}:$A${LAST}", f"SUMPRODUCT((LEN($A${FIRST}:$A${LAST})>0)*1)"
    hidden = (
        f'{asked}&" machines are typed in, and this sheet shows "&SUBTOTAL(103,{rows})&" rows: '
        'mark the rows around the hidden ones and show them."'
    )
    gone = (
        f'{asked}&" machines are typed in, and "&{shown}&" are on this sheet: a row was deleted '
        'here. Delete machines on the sheet Readings."'
    )
    much = f'"Only the first {READY} rows of the sheet Readings are asked about."'
    return (
        f'=IF(connection<>"",connection,IF({further},{much},'
        f'IF({asked}>{shown},{gone},IF({asked}>SUBTOTAL(103,{rows}),{hidden},""))))'
    )


def totals(sheet) -> None:
    """The totals of the round, above the machines, and of how many they are."""
    put(sheet, "H4", "the whole round", STRONG, RIGHTWARDS)
    for letter in "IJK":
        put(sheet, f"{letter}4", f"=SUM({letter}{FIRST}:{letter}{LAST})", STRONG, RIGHTWARDS, "#,##0.0")
    put(sheet, "L4", VOLUME, QUIET)
    machines_typed = f"SUMPRODUCT((LEN({machines.column('machine')})>0)*1)"
    put(sheet, "M4", f'=COUNT($I${FIRST}:$I${LAST})&" of "&{machines_typed}&" machines"', STRONG)
    put(sheet, "O5", "last read on", QUIET, RIGHTWARDS)
    read_on = machines.column("read on")
    sheet.merge_cells("P5:Q5")
    # Without those that are still to come.
    last = f'LARGE({read_on},1+COUNTIF({read_on},">="&(TODAY()+1)))'
    put(sheet, "P5", f'=IFERROR({last},"")', BODY, LEFT, "yyyy-mm-dd")
    late = f"IF(ISNUMBER({LAST_READ}),TODAY()-{LAST_READ}>{OLD_AFTER},FALSE)"
    put(sheet, "Q6", f'=IF({late},"{OLD}","")', ALARM, WRAPPED)


def key(sheet) -> None:
    """The meaning of the colours, with the number of sumps of each."""
    body = f"H{FIRST}:H{LAST}"
    for place, (word, shade) in zip((8, 10, 12, 15), COLOURS.items()):
        count = f'=COUNTIF($H${FIRST}:$H${LAST},"{word}")&" {word}"'
        if word == "no answer":
            count = f'=SUMPRODUCT((LEN({machines.column("problem")})>0)*1)&" with a problem"'
        cell = sheet.cell(3, place, count)
        cell.font, cell.fill, cell.alignment = SMALL, colour(shade), CENTRE
        sheet.merge_cells(start_row=3, end_row=3, start_column=place, end_column=place + 1)
        for painted in (f"E{FIRST}:E{LAST}", body):
            rule = FormulaRule(formula=[f'$H{FIRST}="{word}"'], fill=colour(shade))
            sheet.conditional_formatting.add(painted, rule)
