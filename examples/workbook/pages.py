"""What the sheets of one question each have in common: cells to type in, tables, the answer in words."""

from asking import SEE_SUMPS
from look import (
    ALARM,
    BODY,
    FLUSH,
    INPUT,
    LEFT,
    PART,
    QUIET,
    SMALL,
    STRONG,
    UNDER,
    WRAPPED,
    heading,
    on_paper,
    open_sheet,
    put,
    spaced,
    typed,
)
from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import Font


def card_sheet(sheet, name: str, title: str, told: str, cautions: str) -> None:
    """The first lines of a sheet with one question."""
    sheet.title = name
    open_sheet(sheet, title, told)
    put(sheet, "A3", cautions, SMALL, WRAPPED)
    sheet.merge_cells("A3:G3")
    sheet.row_dimensions[3].height = 40
    on_paper(sheet, upright=True)
    sheet.page_setup.fitToHeight = 1


def line_of(
    sheet, row: int, name: str, letter: str, what, unit: str, form: str = "General", left: str = "A"
) -> None:
    """A cell to type in, with its name and its unit."""
    put(sheet, f"{left}{row}", name)
    typed(sheet, f"{letter}{row}", what, form, LEFT if form == "General" else FLUSH)
    put(sheet, f"{chr(ord(letter) + 1)}{row}", unit, QUIET)
    sheet.row_dimensions[row].height = 18


def said(sheet, card, row: int, up_to: str) -> None:
    """What the service says: the statement, or what is wrong instead; and what to look at."""
    wrong = f'IF(connection<>"",{SEE_SUMPS},{card.problem}&"")'
    put(sheet, f"A{row}", f'=IF({wrong}<>"",{wrong},{card.value("statement")}&"")', STRONG, WRAPPED)
    put(sheet, f"A{row + 1}", card.text("findings.0.text"), BODY, WRAPPED)
    for place in (row, row + 1):
        sheet.merge_cells(f"A{place}:{up_to}{place}")
        sheet.row_dimensions[place].height = 30
    rule = FormulaRule(formula=[f'{wrong}<>""'], font=Font(color=ALARM.color))
    sheet.conditional_formatting.add(f"A{row}", rule)


class Table:
    """A table with its title and headings: columns of (heading, unit, number format)."""

    def __init__(
        self, sheet, row: int, title: str, columns: list, rows: list, ready: int, answers=False, left: int = 1
    ):
        put(sheet, f"{chr(64 + left)}{row}", title, PART)
        sheet.row_dimensions[row].height = 20
        heading(sheet, row + 1, [(name, unit) for name, unit, _ in columns], left, 30)
        self.first, self.last = row + 3, row + 2 + ready
        ends = chr(63 + left + len(columns))
        self.range = f"{sheet.title}!${chr(64 + left)}${row + 2}:${ends}${self.last}"
        for place in range(ready):
            cells = rows[place] if place < len(rows) else [None] * len(columns)
            for column, ((_, _, form), what) in enumerate(zip(columns, cells), left):
                cell = sheet.cell(self.first + place, column, what)
                if answers:
                    cell.font, cell.border = BODY, UNDER
                else:
                    cell.style = INPUT
                cell.alignment = LEFT if form == "General" else FLUSH
                cell.number_format = spaced(form)
            sheet.row_dimensions[self.first + place].height = 18

    def column(self, letter: str) -> str:
        """The cells of a column."""
        return f"{letter}{self.first}:{letter}{self.last}"

    def columns(self, letters: str) -> str:
        """The cells of some columns."""
        return " ".join(self.column(letter) for letter in letters)
