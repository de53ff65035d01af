"""What the sheets of one question each have in common: cells to type in, tables, the answer in words."""

from look import (
    ALARM,
    BODY,
    INPUT,
    LEFT,
    PART,
    QUIET,
    RIGHTWARDS,
    SMALL,
    STRONG,
    UNDER,
    WRAPPED,
    heading,
    on_paper,
    open_sheet,
    put,
    typed,
)


def card_sheet(sheet, name: str, title: str, told: str, cautions: str) -> None:
    """The first lines of a sheet with one question."""
    sheet.title = name
    open_sheet(sheet, title, told)
    put(sheet, "A3", cautions, SMALL, WRAPPED)
    sheet.merge_cells("A3:G3")
    sheet.row_dimensions[3].height = 40
    on_paper(sheet, upright=True)


def line_of(sheet, row: int, name: str, letter: str, what, unit: str, form: str = "General") -> None:
    """A cell to type in, with its name and its unit."""
    put(sheet, f"A{row}", name)
    typed(sheet, f"{letter}{row}", what, form)
    put(sheet, f"{chr(ord(letter) + 1)}{row}", unit, QUIET)
    sheet.row_dimensions[row].height = 18


def said(sheet, card, row: int, up_to: str) -> None:
    """What the service says: the statement, what to look at, and what is wrong instead."""
    letter = chr(ord(up_to) - 1)
    for place, (formula, font, height) in enumerate(
        [
            (card.text("statement"), STRONG, 32),
            (card.text("findings.0.text"), BODY, 32),
            (f'=IF(connection<>"",connection,{card.problem}&"")', ALARM, 32),
        ]
    ):
        put(sheet, f"A{row + place}", formula, font, WRAPPED)
        sheet.merge_cells(f"A{row + place}:{letter}{row + place}")
        sheet.row_dimensions[row + place].height = height


class Table:
    """A table with its title and headings: columns of (heading, unit, number format)."""

    def __init__(self, sheet, row: int, title: str, columns: list, rows: list, ready: int, answers=False, left: int = 1):
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
                cell.alignment = LEFT if form == "General" else RIGHTWARDS
                cell.number_format = form
            sheet.row_dimensions[self.first + place].height = 18

    def column(self, letter: str) -> str:
        """The cells of a column."""
        return f"{letter}{self.first}:{letter}{self.last}"

    def columns(self, letters: str) -> str:
        """The cells of some columns."""
        return " ".join(self.column(letter) for letter in letters)
