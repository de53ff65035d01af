"""The sheet to look at: every sump with where it stands and what to do about it."""

from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import Alignment
from openpyxl.worksheet.datavalidation import DataValidation

from look import ALARM, BODY, INPUT, QUIET, RICH, RIGHT, SMALL, STRONG, TITLE, UNDER, WEAK, WRONG, fill as colour, heading, on_paper, widths
import service
from service import DAYS_AHEAD, SERVER, asked

# Below the headings there is nothing but machines, so that their last row can be copied down.
FIRST = 11
LAST = FIRST + service.LAST - service.FIRST
FURTHEST = 2000  # the last row that sums and counts look at
VOLUME = '=IF(units="us","gal","L")'
HEADS = [
    ("machine", ""), ("in the sump", VOLUME), ("full at", VOLUME), ("reads", "°Brix"),
    ("strength", "% vol"), ("band from", "% vol"), ("band to", "% vol"), ("standing", ""),
    ("drain", VOLUME), ("add concentrate", VOLUME), ("add water", VOLUME),
    ("then holds", "% vol"), ("must read", "°Brix"), ("next visit", ""), ("because", ""),
    ("what is wrong", ""),
]
WORDS = {"below": "too weak", "in_band": "in band", "above": "too strong"}
COLOURS = {"too weak": WEAK, "in band": RIGHT, "too strong": RICH, "no answer": WRONG}
CAUTIONS = [
    "Stir concentrate into water, never water into concentrate, outside the sump; pour the premix in, let it circulate, and read again.",
    "Lock the machine out before you reach into its sump, and mind sharp chips. Gloves and eye protection; no mist to breathe.",
    "The fluid's safety data sheet, local codes and licensed practice come before anything printed here. Drained fluid is waste: never into a drain or onto the ground.",
    f"Next visit: when the sump is topped up today as said, the day it first leaves its band or its least level, within {DAYS_AHEAD} days.",
]


def number(name: str, row: int) -> str:
    """An answer as a number; blank where it is none."""
    cell = asked(name, row)
    return f'=IF({cell}="","",IFERROR(_xlfn.NUMBERVALUE({cell},"."),""))'


def problem(row: int) -> str:
    """The first answer that is a sentence and no number."""
    said = '""'
    for name in ("visit", "concentrate", "strength"):
        cell = asked(name, row)
        said = f'IF(ISERROR(_xlfn.NUMBERVALUE({cell},".")),{cell},{said})'
    return "=" + said


def cells(row: int) -> list[str]:
    """The formulas of a machine."""
    reading = row - FIRST + service.FIRST
    standing, why, visit = (asked(name, reading) for name in ("standing", "why", "visit"))
    words = '"no answer"'
    for code, word in WORDS.items():
        words = f'IF({standing}="{code}","{word}",{words})'
    day = f"_xlfn.NUMBERVALUE({visit},\".\")"
    date = f'=IF({visit}="","none in {DAYS_AHEAD} days",IFERROR(Readings!B{reading}+INT({day}),""))'
    because = f'IF({why}="volume","level low",IF({why}="concentration","strength",{why}))'
    def scaled(letter):
        typed = f"Readings!{letter}{reading}"
        return f'=IF({typed}="","",IF(ISNUMBER({typed}),{typed}*scale,{typed}))'

    def plain(letter):
        return f'=IF(Readings!{letter}{reading}="","",Readings!{letter}{reading})'

    return [
        plain("A"), scaled("D"), scaled("C"), plain("E"), number("strength", reading), plain("G"),
        plain("I"), "=" + words, number("drain", reading), number("concentrate", reading),
        number("water", reading), number("holds", reading), number("mark", reading), date,
        f'=IF(ISERROR({day}),"",IF({visit}="","",IF({why}="","runs dry",{because})))', problem(reading),
    ]


# Nothing to drain or to add is a dash and no number to read.
FORMATS = ["@", *["#,##0.0"] * 6, "@", *['#,##0.0;-#,##0.0;"–"'] * 3, *["#,##0.0"] * 2, "ddd dd mmm", "@", "@"]


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
        sheet.cell(row, 16).font = ALARM
        sheet.row_dimensions[row].height = 23
    total(sheet)
    key(sheet)
    for row, caution in enumerate(CAUTIONS, 5):
        sheet.cell(row, 1, caution).font = SMALL
        sheet.cell(row, 1).alignment = Alignment(indent=1)
        sheet.row_dimensions[row].height = 15
    widths(sheet, [22, 9, 9, 9, 10, 9, 9, 12, 9, 12.5, 10, 9, 9, 14, 11, 50])
    sheet.freeze_panes = f"B{FIRST}"
    on_paper(sheet)


def total(sheet) -> None:
    """What the whole round takes, above the machines."""
    sheet["H4"], sheet["H4"].font = "the whole round", STRONG
    sheet["H4"].alignment = Alignment(horizontal="right", vertical="center")
    for letter in "IJK":
        put = sheet[f"{letter}4"]
        put.value = f"=SUM({letter}{FIRST}:{letter}{FURTHEST})"
        put.font, put.number_format = STRONG, "#,##0.0"
        put.alignment = Alignment(horizontal="right", vertical="center", indent=1)


def key(sheet) -> None:
    """What the colours mean, with how many sumps have each."""
    body = f"H{FIRST}:H{FURTHEST}"
    for place, (word, shade) in zip((8, 10, 12, 14), COLOURS.items()):
        put = sheet.cell(3, place, f'=COUNTIF($H${FIRST}:$H${FURTHEST},"{word}")&" {word}"')
        put.font, put.fill = SMALL, colour(shade)
        put.alignment = Alignment(horizontal="center")
        sheet.merge_cells(start_row=3, end_row=3, start_column=place, end_column=place + 1)
        for painted in (f"E{FIRST}:E{FURTHEST}", body):
            rule = FormulaRule(formula=[f'$H{FIRST}="{word}"'], fill=colour(shade))
            sheet.conditional_formatting.add(painted, rule)
