"""The sheet to look at: every sump with its state and the work to do."""

import service
from look import (
    ALARM,
    BODY,
    INPUT,
    QUIET,
    RICH,
    RIGHT,
    SMALL,
    STRONG,
    TITLE,
    UNDER,
    WEAK,
    WRONG,
    heading,
    on_paper,
    widths,
)
from look import fill as colour
from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import Alignment
from openpyxl.worksheet.datavalidation import DataValidation
from service import DAYS_AHEAD, SERVER

# There are only machines below the headings, so that their last row can be copied down.
FIRST = 11
LAST = FIRST + service.LAST - service.FIRST
ABOVE = FIRST - service.FIRST  # rows that a machine stands higher on the other sheets
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
    ("then holds", "% vol"),
    ("must read", "°Brix"),
    ("next visit", ""),
    ("because", ""),
    ("what to look at", ""),
]
WORDS = {"below": "too weak", "in_band": "in band", "above": "too strong"}
COLOURS = {"too weak": WEAK, "in band": RIGHT, "too strong": RICH, "no answer": WRONG}
CAUTIONS = [
    "Stir concentrate into water, never water into concentrate, outside the sump; "
    "pour the premix in, let it circulate, and read again.",
    "Lock the machine out before you reach into its sump, and mind sharp chips. "
    "Gloves and eye protection; no mist to breathe.",
    "The fluid's safety data sheet, local codes and licensed practice come before anything "
    "printed here. Drained fluid is waste: never into a drain or onto the ground.",
    f"Next visit: when the sump is topped up as said on the day it was read, the day it first "
    f"leaves its band or its least level, within {DAYS_AHEAD} days; for one that is too strong, "
    "the day on which weak make-up has brought it back.",
]


def asked(name: str) -> str:
    """The question or the answer about a machine."""
    return service.beside("Asked", service.column(name), ABOVE)


def typed(letter: str) -> str:
    """A cell typed for a machine."""
    return service.beside("Readings", letter, ABOVE)


def number(name: str) -> str:
    """An answer as a number; blank if it is not a number."""
    cell = asked(name)
    return f'=IF({cell}="","",IFERROR(_xlfn.NUMBERVALUE({cell},"."),""))'


def unless_asked(otherwise: str, answered: str) -> str:
    """`otherwise` for a machine without a question, and blank for no machine."""
    return f'=IF({asked("top-up")}="",IF({typed("A")}="","",{otherwise}),{answered})'


def cells(row: int) -> list[str]:
    """The formulas of a machine."""
    standing, why, visit, weak, back = (
        asked(name) for name in ("standing", "why", "visit", "weak make-up", "back in")
    )
    words = '"no answer"'
    for code, word in WORDS.items():
        words = f'IF({standing}="{code}","{word}",{words})'
    # Without a top-up the state of a machine and its next visit are unknown.
    refused = f'ISERROR(_xlfn.NUMBERVALUE({asked("drain")},"."))'
    words = f'IF({refused},"no answer",{words})'
    day = f'{typed("B")}+INT(_xlfn.NUMBERVALUE({visit},"."))'
    due = f'IF({visit}="","none in {DAYS_AHEAD} days",IFERROR({day},""))'
    due = f'IF({asked("forecast")}="","",{due})'
    # The first whole day on which weak make-up has brought the sump back into its band.
    back_on = f'{typed("B")}+ROUNDUP(_xlfn.NUMBERVALUE({back},"."),0)'
    due = f'IF({weak}<>"",IF({back}="","",{back_on}),{due})'
    date = f'IF(OR({refused},NOT(ISNUMBER({typed("B")}))),"",{due})'
    because = f'IF({why}="volume","level low",IF({why}="concentration","strength",{why}))'
    not_asked = '"Nothing was asked. Copy the last row of the sheet Asked down."'

    def scaled(letter):
        cell = typed(letter)
        return f'=IF({cell}="","",IF(ISNUMBER({cell}),{cell}*scale,{cell}))'

    def plain(letter):
        cell = typed(letter)
        return f'=IF({cell}="","",{cell})'

    return [
        plain("A"),
        scaled("D"),
        scaled("C"),
        plain("E"),
        number("strength"),
        plain("G"),
        plain("I"),
        unless_asked('"no answer"', words),
        number("drain"),
        number("concentrate"),
        number("water"),
        number("holds"),
        number("mark"),
        unless_asked('""', date),
        f'=IF(ISNUMBER(N{row}),IF({weak}<>"","is back",IF({why}="","runs dry",{because})),"")',
        unless_asked(not_asked, f'IF({asked("problem")}<>"",{asked("problem")},{asked("finding")})'),
    ]


# An amount of 0 to drain or add is shown as a dash.
FORMATS = [
    "@",
    *["#,##0.0"] * 6,
    "@",
    *['#,##0.0;-#,##0.0;"–"'] * 3,
    *["#,##0.0"] * 2,
    "ddd dd mmm",
    "@",
    "@",
]


def fill(sheet) -> None:
    """Writes the sheet."""
    sheet.title = "Sumps"
    sheet.sheet_view.showGridLines = False
    sheet["A1"], sheet["A1"].font = "Sumps: where they stand and what to add", TITLE
    sheet["A2"], sheet["A2"].font = "An invented shop: no real machine, fluid or company.", QUIET
    sheet["A3"], sheet["C3"] = "the service is at", SERVER
    sheet["A4"], sheet["C4"] = "show everything in", "metric"
    for row, height in ((1, 26), (2, 18), (3, 18), (4, 18)):
        sheet.row_dimensions[row].height = height
    for cell in ("A1", "A2", "A3", "A4"):
        sheet[cell].alignment = Alignment(indent=1)
    sheet["A3"].font = sheet["A4"].font = BODY
    sheet["E4"], sheet["E4"].font = "metric (L) or us (US gallons)", QUIET
    sheet.merge_cells("C3:F3")
    for cell in ("C3", "D3", "E3", "F3", "C4"):
        sheet[cell].style = INPUT
    sheet["C3"].alignment = sheet["C4"].alignment = Alignment(horizontal="left")
    choice = DataValidation(type="list", formula1='"metric,us"', allow_blank=False)
    sheet.add_data_validation(choice)
    choice.add("C4")
    heading(sheet, FIRST - 2, HEADS)
    for row in range(FIRST, LAST + 1):
        for place, (cell, form) in enumerate(zip(cells(row), FORMATS), 1):
            put = sheet.cell(row, place, cell)
            put.font, put.border = BODY, UNDER
            put.number_format = "General" if form == "@" else form
            side = "left" if place in (1, 15, 16) else "center" if place in (8, 14) else "right"
            put.alignment = Alignment(
                horizontal=side, vertical="center", wrap_text=place == 16, indent=side != "center"
            )
        sheet.cell(row, 1).font = sheet.cell(row, 10).font = sheet.cell(row, 11).font = STRONG
        sheet.cell(row, 16).font = SMALL
        sheet.row_dimensions[row].height = 33
    total(sheet)
    key(sheet)
    for row, caution in enumerate(CAUTIONS, 5):
        sheet.cell(row, 1, caution).font = SMALL
        sheet.cell(row, 1).alignment = Alignment(indent=1)
        sheet.row_dimensions[row].height = 15
    widths(sheet, [22, 9, 9, 9, 10, 9, 9, 12, 9, 12.5, 10, 9, 9, 14, 11, 82])
    sheet.freeze_panes = f"B{FIRST}"
    on_paper(sheet)


def total(sheet) -> None:
    """The totals of the round, above the machines."""
    sheet["H4"], sheet["H4"].font = "the whole round", STRONG
    sheet["H4"].alignment = Alignment(horizontal="right", vertical="center")
    for letter in "IJK":
        put = sheet[f"{letter}4"]
        put.value = f"=SUM({letter}{FIRST}:{letter}{service.FURTHEST})"
        put.font, put.number_format = STRONG, "#,##0.0"
        put.alignment = Alignment(horizontal="right", vertical="center", indent=1)
    machines = f"COUNTA(Readings!$A${service.FIRST}:$A${service.FURTHEST})"
    shown = f"SUMPRODUCT((LEN($A${FIRST}:$A${service.FURTHEST})>0)*1)"
    sheet["L4"] = f'=COUNT($I${FIRST}:$I${service.FURTHEST})&" of "&{machines}&" machines"'
    sheet["L4"].font = STRONG
    sheet["L4"].alignment = Alignment(horizontal="left", vertical="center", indent=1)
    more = (
        f'{machines}&" machines are typed in, and "&{shown}&" shown. Copy the last row of this sheet down."'
    )
    sheet["P4"] = f'=IF({machines}>{shown},{more},"")'
    sheet["P4"].font = ALARM
    sheet["P4"].alignment = Alignment(vertical="center", wrap_text=True, indent=1)


def key(sheet) -> None:
    """The meaning of the colours, with the number of sumps of each."""
    body = f"H{FIRST}:H{service.FURTHEST}"
    for place, (word, shade) in zip((8, 10, 12, 14), COLOURS.items()):
        count = f'=COUNTIF($H${FIRST}:$H${service.FURTHEST},"{word}")&" {word}"'
        if word == "no answer":
            letter = service.column("problem")
            problems = f"Asked!${letter}${service.FIRST}:${letter}${service.FURTHEST}"
            count = f'=SUMPRODUCT((LEN({problems})>0)*1)&" with a problem"'
        put = sheet.cell(3, place, count)
        put.font, put.fill = SMALL, colour(shade)
        put.alignment = Alignment(horizontal="center")
        sheet.merge_cells(start_row=3, end_row=3, start_column=place, end_column=place + 1)
        for painted in (f"E{FIRST}:E{service.FURTHEST}", body):
            rule = FormulaRule(formula=[f'$H{FIRST}="{word}"'], fill=colour(shade))
            sheet.conditional_formatting.add(painted, rule)
