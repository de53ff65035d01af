"""What is in one machine's sump at a moment, by its log, beside the log itself.

It stands above the rows of the log, where none of them is put in, sorted or deleted, and stays in sight. The
entries go out as they do for the losses: the last of the machine that an address has room for. They have the
strength in place of the reading, so what the scale should show is the strength divided by the factor.
"""

import asking
import entries
import machines
from asking import day, in_our_words, written
from look import (
    ALARM,
    HEADING,
    LEFT,
    PART,
    QUIET,
    RIGHTWARDS,
    SMALL,
    STRONG,
    WRAPPED,
    judge,
    put,
    typed,
)
from once import Card
from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import Font
from shop import LOG

UNIT = 'IF(units="us","gal","L")'
HEADS = [
    f'="in the sump, "&{UNIT}',
    f'="give or take, "&{UNIT}',
    "strength, % vol",
    "give or take, % vol",
    "it should read, °Brix",
]
FORMS = ["#,##0.0", "#,##0.0", "0.00", "0.00", "0.0"]
VOLUME, STRENGTH = "answer.now.volume", "answer.now.concentration"
FINDING, PLACE, BEGAN = "findings.0.text", "findings.0.pointer", "answer.alarms.0.began"
PICKS = [
    *(f"{of}.{part}" for of in (VOLUME, STRENGTH) for part in ("value", "high")),
    *(BEGAN, "statement", FINDING, PLACE),
]
WORDS = [
    ("now_day: Now is before the last entry of the log. ", "at: this is before its last entry. "),
    ("now_day: ", "at: "),
    ("lowest: ", "keep above: "),
    (".added.volume: ", ", added: "),
    (".volume: ", ", in the sump: "),
    (".concentration: ", ", reads: "),
    *machines.WORDS,
    ("log: ", ""),
]
CAUTION = (
    "Before anything is poured: lock the machine out, gloves and eye protection, no mist to breathe; stir "
    "concentrate into water outside the sump. The safety data sheet, local codes and licensed practice come "
    "before anything printed here."
)
MOMENT = "A day, with a time where you like; =NOW() follows the clock. Blank: right after its last entry."


def fill(sheet, once, names: dict) -> None:
    """Writes it beside the log, and the machine and the moment that it is asked for."""
    names["log_of"], names["log_at"] = f"{sheet.title}!$J$5", f"{sheet.title}!$J$6"
    put(sheet, "I5", "machine", PART)
    typed(sheet, "J5", LOG[0][1], align=LEFT)
    judge(
        sheet,
        "J5",
        "list",
        "A machine of the sheet Readings.",
        within=f"Readings!$A$7:$A${6 + machines.READY}",
    )
    put(sheet, "I6", "at (blank: its last entry)", QUIET)
    typed(sheet, "J6", None, "yyyy-mm-dd hh:mm", LEFT)
    judge(sheet, "J6", "date", MOMENT, "DATE(2000,1,1)", "DATE(2100,1,1)")
    for row in (5, 6):
        sheet.merge_cells(f"J{row}:K{row}")
    card, found = ask(once)
    shown(sheet, card, found)


def ask(once) -> tuple[Card, str]:
    """Asks; the card, and the cell with the place of the machine on the sheet Asked."""
    card = Card(once, "sump-state")
    place = f'=IFERROR(MATCH(log_of,{machines.column("machine")},0),"")'
    found = f"$B${card.write('place of the machine', place)}"

    def of(name: str) -> str:
        return f'IFERROR(INDEX({machines.column(name)},{found}),"")'

    members = [
        ("sump.capacity", "full at"),
        ("band.low", "band from"),
        ("band.target", "aim for"),
        ("band.high", "band to"),
        ("lowest", "keep above"),
    ]
    question = "&".join(f'"&{member}="&{of(name)}' for member, name in members)
    moment = "IF(ISNUMBER(log_at),ROUND(log_at,2),log_at)"
    question += f'&IF(log_at="","","&now_day="&{written(moment)[1:]})'
    # The typed volumes of the sheets Asked and Asked log are in the units of the round.
    card.ask(f"{question}&{entries.of_machine('log_of')}", PICKS, [], units="units")
    return card, f"{once_cell(found)}"


def once_cell(cell: str) -> str:
    """A cell of the sheet Asked once, as other sheets name it."""
    return f"'Asked once'!{cell}"


def shown(sheet, card: Card, found: str) -> None:
    """The statement or what is wrong, what to look at, the numbers, and how many entries they are of."""
    used = f'COUNTIFS({entries.column("machine")},log_of,{entries.column("length")},">0")'
    problem = in_our_words(entries.dated(card.problem, "log_of"), WORDS)
    wrong = problem
    for where, sentence in (
        (f"{used}=0", '"The log has no entry of this machine that can be used."'),
        (f'{found}=""', '"This machine is not on the sheet Readings."'),
        ('log_of=""', '"Choose a machine: what is in it is told here."'),
        ('connection<>""', "connection"),
    ):
        wrong = f"IF({where},{sentence},{wrong})"
    put(sheet, "I1", f"={wrong}&{card.value('statement')}", STRONG, WRAPPED)
    put(sheet, "I3", f"={finding(card)}", ALARM, WRAPPED)
    put(sheet, "Q1", CAUTION, SMALL, WRAPPED)
    for cells in ("I1:P2", "I3:P4", "Q1:Q4"):
        sheet.merge_cells(cells)
    answered = card.value(f"{VOLUME}.value")
    rule = FormulaRule(formula=[f'{answered}=""'], font=Font(color=ALARM.color))
    sheet.conditional_formatting.add("I1", rule)
    numbers = [f"{of}.{part}" for of in (VOLUME, STRENGTH) for part in ("value", "high")]
    volume, most, strength, strongest = (card.number(pick)[1:] for pick in numbers)
    factor = f'_xlfn.NUMBERVALUE(INDEX({machines.column("factor")},{found}),".")'
    values = [
        volume,
        f'IFERROR({most}-{volume},"")',
        strength,
        f'IFERROR({strongest}-{strength},"")',
        f'IFERROR({strength}/{factor},"")',
    ]
    for letter, head, cell, form in zip("LMNOP", HEADS, values, FORMS):
        sheet[f"{letter}5"].value, sheet[f"{letter}5"].style = head, HEADING
        put(sheet, f"{letter}6", f"={cell}", STRONG, RIGHTWARDS, form)
    put(
        sheet,
        "Q6",
        f'=IF({answered}="","","of its last "&{entries.kept("log_of")}&" of "&{used}&" entries"'
        f'&IF({entries.kept("log_of")}<{used},": an address has room for no more",""))',
        QUIET,
    )


def finding(card: Card) -> str:
    """The first finding, with the days of the log in place of the numbers of its days and entries."""
    text, place, began = (card.value(pick) for pick in (FINDING, PLACE, BEGAN))
    nth = f'MID({place},6,FIND("/",{place}&"/",6)-6)'
    entry = f'"On "&{day(entries.day_of("log_of", nth))}&", "&MID({text},FIND("): ",{text})+3,2000)'
    since = f'"Since about "&{day(asking.number(began)[1:])}&MID({text},FIND(" the ",{text}),2000)'
    return (
        f'IFERROR(IF({text}="","",IF(AND({began}<>"",{place}="/log"),{since},'
        f'IF(LEFT({place},5)="/log/",{entry},{text}))),{text})'
    )
