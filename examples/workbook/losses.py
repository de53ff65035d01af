"""What each machine loses, from the log: what the forecasts of the sheet Sumps go by."""

import entries
import machines
import ranked
from asking import SEE_SUMPS, day, in_our_words
from charts import Line, bars
from look import (
    ALARM,
    BODY,
    INVENTED,
    LEFT,
    RIGHTWARDS,
    SMALL,
    STRONG,
    UNDER,
    WRAPPED,
    heading,
    on_paper,
    open_sheet,
    put,
    widths,
)
from machines import READY

FIRST = 7
LAST = FIRST + READY - 1
RATE = '=IF(units="us","gal/day","L/day")'
HEADS = [
    ("machine", ""),
    ("in the log", "entries"),
    ("asked about", "the last"),
    ("lost to the air", RATE),
    ("give or take", RATE),
    ("carried off", RATE),
    ("give or take", RATE),
    ("hold it with", "% vol"),
    ("the forecast goes by", ""),
    ("what the log says", ""),
]
FORMATS = ["General", "0", "0", *["0.0"] * 5, "General", "General"]
WORDS = [
    (".added.volume: ", ", added: "),
    (".volume: ", ", in the sump: "),
    (".concentration: ", ", reads: "),
]


def cells(place: int) -> list[str]:
    """The formulas of a machine, counted from 0."""

    def asked(name: str) -> str:
        return machines.of(name, place)

    def number(pick: str) -> str:
        return f'IFERROR(_xlfn.NUMBERVALUE({asked(f"losses: {pick}")},"."),"")'

    name, answer, answered = asked("machine"), asked("losses: answer"), asked("losses: answered")

    def given(pick: str, spread: bool = False) -> str:
        times = f"*{number('coverage_factor')}" if spread else ""
        return f'=IF({answered},IFERROR({number(pick)}{times},""),"")'

    air, off = machines.typed(place, machines.AIR), machines.typed(place, machines.OFF)
    logged = f'IF({air}&{off}="","the log","the log and what is typed")'
    by = f'IF(AND({air}<>"",{off}<>""),"what is typed",IF({answered},{logged},"nothing"))'
    finding = asked("losses: findings.0.text")
    for pick in ("suspects.0.from", "suspects.0.to"):
        text = asked(f"losses: {pick}")
        number_of = f'_xlfn.NUMBERVALUE({text},".")'
        theirs = f'"day "&SUBSTITUTE({number_of},",",".")'
        finding = f'IF({text}="",{finding},SUBSTITUTE({finding},{theirs},{day(number_of)}))'
    said = in_our_words(entries.dated(answer, name), [*WORDS, ("log: ", ""), *machines.WORDS])
    return [
        f'={name}&""',
        f'=IF({name}="","",IF({asked("entries")}=0,"",{asked("entries")}))',
        f'=IF({answer}="","",{entries.kept(name)})',
        given("evaporation.value"),
        given("evaporation.u", True),
        given("carry_off.value"),
        given("carry_off.u", True),
        given("make_up.value"),
        f'=IF({name}="","",{by})',
        f'=IF({answer}="",IF({asked("entries")}=1,"One entry is not enough: read it again after '
        f'some days of work.",""),'
        f"IF({answered},{finding},{said}))",
    ]


def fill(sheet, shown: int) -> None:
    """Writes the sheet; so many machines are shown, and the rows of the others hidden."""
    sheet.title = "Losses"
    open_sheet(
        sheet,
        "What the sumps lose on a day, by the log",
        f"Nothing to type here. An address has room for some twenty entries: the last of each "
        f"machine that fit. {INVENTED}",
    )
    put(sheet, "A3", f'=IF(connection="","",{SEE_SUMPS})', ALARM)
    heading(sheet, 5, HEADS)
    for row in range(FIRST, LAST + 1):
        for place, (cell, form) in enumerate(zip(cells(row - FIRST), FORMATS), 1):
            written = sheet.cell(row, place, cell)
            written.font, written.border, written.number_format = BODY, UNDER, form
            written.alignment = LEFT if place in (1, 9) else RIGHTWARDS
        sheet.cell(row, 1).font = sheet.cell(row, 4).font = sheet.cell(row, 6).font = STRONG
        sheet.cell(row, 10).font, sheet.cell(row, 10).alignment = SMALL, WRAPPED
        sheet.row_dimensions[row].height = 25
        sheet.row_dimensions[row].hidden = row >= FIRST + shown
    put(
        sheet,
        "H3",
        f'=COUNT($D${FIRST}:$D${LAST})&" of "&SUMPRODUCT((LEN($A${FIRST}:$A${LAST})>0)*1)&" machines"',
        STRONG,
        RIGHTWARDS,
    )
    widths(sheet, [22, 10, 11, 11, 10, 11, 10, 11, 24, 80])
    sheet.freeze_panes = f"B{FIRST}"
    on_paper(sheet, "5:6")
    sheet.print_area = f"A1:J{LAST}"


def draw(sheet, drawn, column: int) -> None:
    """The chart of the losses, from the columns of `drawn` that begin with the machines' names."""
    first, last = ranked.FIRST, ranked.FIRST + ranked.LOGGED - 1
    chart = bars(
        "Lost on a day, by the log: the sumps that lose most",
        (drawn, column, first, last),
        [
            Line((drawn, column + 1, first, last), "lost to the air", "8FB8DE"),
            Line((drawn, column + 2, first, last), "carried off", "B5651D"),
        ],
        (26, 8),
        stacked=True,
    )
    sheet.add_chart(chart, f"A{LAST + 2}")
