"""What the charts of many machines draw: those of which somebody should know first."""

import checks
import conditions
import machines
from look import PART, QUIET, put
from openpyxl.utils import get_column_letter

SHOWN = 20
LOGGED = 12
FIRST = 4


def rank(
    drawn,
    column: int,
    title: str,
    key,
    heads: list[str],
    values: list,
    shown: int = SHOWN,
    names: str = machines.column("machine"),
) -> None:
    """Writes, from a column of the sheet on, the key of each machine, and what is drawn of those with the
    greatest. `key` and `values` are formulas of a machine by its place, as numbers or errors."""
    letters = [get_column_letter(column + place) for place in range(len(heads) + 3)]
    put(drawn, f"{letters[0]}1", title, PART)
    for letter, head in zip(letters, ["key", "machine's place", "machine", *heads]):
        put(drawn, f"{letter}3", head, QUIET)
    last = FIRST + machines.READY - 1
    for place in range(machines.READY):
        # No two keys are the same.
        put(drawn, f"{letters[0]}{FIRST + place}", f'=IFERROR({key(place)}-{place}/1000000000,"")')
    keys = f"${letters[0]}${FIRST}:${letters[0]}${last}"
    for nth in range(shown):
        row = FIRST + nth
        found = f"${letters[1]}{row}"
        put(drawn, f"{letters[1]}{row}", f'=IFERROR(MATCH(LARGE({keys},{nth + 1}),{keys},0),"")')
        put(drawn, f"{letters[2]}{row}", f'=IF({found}="","",INDEX({names},{found}))')
        for letter, value in zip(letters[3:], values):
            put(drawn, f"{letter}{row}", f'=IF({found}="",NA(),IFERROR({value(found)},NA()))')


def number(name: str, place: str) -> str:
    """A text of the sheet Asked as a number, by the place of the machine."""
    cell = f"INDEX({machines.column(name)},{place})"
    return f'_xlfn.NUMBERVALUE({cell}&IF({cell}="","?",""),".")'


def of_machine(name: str, place: int) -> str:
    """A text of a machine as a number, or an error where it is blank."""
    cell = machines.of(name, place)
    return f'_xlfn.NUMBERVALUE({cell}&IF({cell}="","?",""),".")'


def fill(drawn, column: int) -> tuple[int, int, int, int]:
    """Writes them; the columns of the machines' names, of strengths, of levels, of losses and of pH."""
    strength, aim = "strength: concentration", "aim for"
    rank(
        drawn,
        column,
        "The sumps farthest from their aim",
        lambda place: f"ABS({of_machine(strength, place)}/{of_machine(aim, place)}-1)",
        ["band from", "width of the band", "strength", "aim for"],
        [
            lambda found: number("band from", found),
            lambda found: f"{number('band to', found)}-{number('band from', found)}",
            lambda found: number(strength, found),
            lambda found: number(aim, found),
        ],
    )
    second = column + 8
    rank(
        drawn,
        second,
        "The emptiest sumps",
        lambda place: f"2-{of_machine('in the sump', place)}/{of_machine('full at', place)}",
        ["how full, %", "keep above, %"],
        [
            lambda found: f"100*{number('in the sump', found)}/{number('full at', found)}",
            lambda found: f"100*{number('keep above', found)}/{number('full at', found)}",
        ],
    )
    third = second + 6
    rank(
        drawn,
        third,
        "The sumps that lose most, by the log",
        lambda place: (
            f"{of_machine('losses: evaporation.value', place)}+{of_machine('losses: carry_off.value', place)}"
        ),
        ["lost to the air", "carried off"],
        [
            lambda found: number("losses: evaporation.value", found),
            lambda found: number("losses: carry_off.value", found),
        ],
        LOGGED,
    )
    fourth = third + 6
    now, filled = (f"INDEX(checks,{{0}},{which})" for which in (checks.PH, checks.PH_FILLED))

    def fell(place: int) -> str:
        ph, first = (cell.format(place + 2) for cell in (now, filled))
        return f'IF(OR({ph}="",{first}=""),NA(),100+{first}-{ph})'

    def of_checks(cell: str):
        return lambda found: f'IF({cell.format(f"{found}+1")}="",NA(),{cell.format(f"{found}+1")})'

    rank(
        drawn,
        fourth,
        "The sumps whose pH fell most",
        fell,
        ["pH", "when filled"],
        [of_checks(now), of_checks(filled)],
        names=conditions.column("machine"),
    )
    return column + 2, second + 2, third + 2, fourth + 2
