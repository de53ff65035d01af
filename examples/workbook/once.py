"""The sheet that asks the questions which are asked once: of a batch, a dose, waters and others.

A card is one of these questions. Its lists are made into parts of an address a row at a time, blank rows
left out, by their place within a named range; an answer of many values is fetched by several addresses.
"""

from collections.abc import Callable
from typing import NamedTuple

import asking
from asking import coded
from look import BODY, PART, QUIET, on_paper, open_sheet, put, widths

SHEET = "'Asked once'"
MOST_MESSAGE = (
    f'"This is too much for one address, which has at most {asking.ADDRESS_MOST:,} characters in Excel: '
    'leave some out, or ask on the page of the service."'
)
MANY = '"There are more rows than can be asked about: leave some out, or ask on the page of the service."'


class Column(NamedTuple):
    """A column of a list: its place in the named range, what stands before its value in an address
    (`#` is the number of the entry), and how it is written: a number or text, a `code` or `answer`
    (yes or no), or by a function of its own."""

    place: int
    before: str
    kind: str | Callable[[str], str] = ""

    def coded(self, cell: str) -> str:
        """A cell of it as a part of an address."""
        return self.kind(cell) if callable(self.kind) else coded(cell, self.kind)


class Card:
    """A question, as it is written down on the sheet of those asked once."""

    def __init__(self, sheet, calculation: str):
        self.sheet, self.calculation = sheet, calculation
        self.row = max(sheet.max_row + 2, 5)
        self.values, self.words, self.too_many = {}, [], []
        put(sheet, f"A{self.row}", calculation, PART)
        self.row += 1

    def write(self, *cells: str) -> int:
        """Writes a row and tells which it is."""
        for letter, cell in zip("ABCDEF", cells):
            put(self.sheet, f"{letter}{self.row}", cell)
        self.row += 1
        return self.row - 1

    def listed(self, named: str, columns: list[Column], ready: int, path: str, line: str) -> str:
        """A list of the card's sheet as a part of an address. `path` names it in the question, and `line`
        one of its rows on the sheet."""
        put(self.sheet, f"A{self.row}", f"{named}: entries so far, and their part of the address", QUIET)
        self.row += 1
        first = self.row
        for nth in range(ready):
            before, so_far = (
                f"{letter}{self.row - 1}" if nth else default for letter, default in (("A", "0"), ("B", '""'))
            )
            blank = f"COUNTA(INDEX({named},{nth + 2},0))=0"
            parts = []
            for column in columns:
                cell = f"INDEX({named},{nth + 2},{column.place})"
                parts.append(
                    f'IF({cell}="","",SUBSTITUTE("{column.before}","#",{before})&{column.coded(cell)})'
                )
            gone = f"{nth + 2}>ROWS({named})"
            self.write(
                f"=IF({gone},{before},IF({blank},{before},{before}+1))",
                f"=IF({gone},{so_far},IF({blank},{so_far},{so_far}&{'&'.join(parts)}))",
            )
        for nth in range(ready):
            self.words += [
                (f"{path}.{nth}.", f"{line} {nth + 1}, "),
                (f"{path}.{nth}: ", f"{line} {nth + 1}: "),
            ]
        self.words.append((f"{path}: ", f"{line}: "))
        further = f"COUNTA(INDEX({named},{ready + 2},1):INDEX({named},ROWS({named}),1))>0"
        self.too_many.append(f"IF(ROWS({named})>{ready + 1},{further},FALSE)")
        return f"$B${first + ready - 1}"

    def ask(
        self, question: str, picks: list[str], words: list[tuple[str, str]], units: str = "written_in"
    ) -> None:
        """Asks for the picks, in the units that are typed or in those of the round. The first of all is asked
        for each time: it is a number in every answer, or `units`, which are those of the question."""
        check, rest = picks[0], picks[1:]
        is_answered = asking.is_in_units if check == "units" else asking.is_answered
        groups, group = [], [check]
        for pick in rest:
            if len(",".join([*group, pick])) > asking.PICKS_MOST:
                groups.append(group)
                group = [check]
            group.append(pick)
        groups.append(group)
        address = f'=service&"/v1/{self.calculation}?units="&{units}&{question}'
        put(self.sheet, f"A{self.row}", "question; then address, answer, whether it is one", QUIET)
        self.row += 1
        asked = self.write(address)
        calls = []
        for group in groups:
            row = self.row
            self.write(
                f"=$A${asked}&{asking.picking(group)}&asking",
                asking.answer(f"$A${row}", MOST_MESSAGE),
                f'=IF($B${row}="",FALSE,{is_answered(f"$B${row}")})',
            )
            calls.append(row)
        # The words are many: they are put in a few at a time, a cell each.
        answered = f'IF($C${calls[0]},"",$B${calls[0]})'
        for row in reversed(calls[1:]):
            answered = f"IF(AND($C${calls[0]},NOT($C${row})),$B${row},{answered})"
        for many in self.too_many:
            answered = f"IF({many},{MANY},{answered})"
        said = self.write(f"={answered}")
        words = [*self.words, *words]
        for start in range(0, len(words), 20):
            said = self.write(f"={asking.in_our_words(f'$A${said}', words[start : start + 20])}")
        self.problem = f"{SHEET}!$A${said}"
        put(self.sheet, f"A{self.row}", "values", QUIET)
        self.row += 1
        for row, group in zip(calls, groups):
            for place, pick in enumerate(group, 1):
                if pick not in self.values:
                    self.values[pick] = self.write(pick, asking.value(f"$B${row}", f"$C${row}", place))

    def value(self, pick: str) -> str:
        """A value, as other sheets name it: a text."""
        return f"{SHEET}!$B${self.values[pick]}"

    def text(self, pick: str) -> str:
        """The formula of a value that is a text."""
        return f'={self.value(pick)}&""'

    def number(self, pick: str) -> str:
        """The formula of a value that is a number."""
        return asking.number(self.value(pick))


def fill(sheet) -> None:
    """Writes the head of the sheet."""
    sheet.title = "Asked once"
    open_sheet(
        sheet,
        "What the sheets with one question each ask, and what comes back",
        "Nothing to type here.",
    )
    widths(sheet, [46, 60, 12])
    on_paper(sheet)
    sheet.print_area = "A1:B3"
    put(sheet, "A3", "Each in the units in which it is typed.", BODY)
