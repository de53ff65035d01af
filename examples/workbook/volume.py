"""What a sump holds, with a dip table to print and hang beside the machine."""

from asking import coded, missing
from charts import Line, curve
from look import (
    ALARM,
    HEAD_FILL,
    INVENTED,
    LARGE,
    LEFT,
    PART,
    QUIET,
    RIGHTWARDS,
    STRONG,
    UNDER,
    judge,
    put,
    typed,
    widths,
)
from once import Card, Column
from pages import Table, card_sheet, line_of, said
from readings import VOLUME

LENGTH = '=IF(written_in="us","in","mm")'
FORMS = ("box", "l", "lying cylinder", "round bottom")
PARTS = [
    ("box", 1200, 500, 400, None, None, None, None),
    ("box", 600, 500, 250, 150, None, None, None),
]
INSIDE = [("pump", 6, 20, 380)]
ROWS, THINGS, LINES = 5, 4, 42
CAUTIONS = (
    "Measure inside, with the machine locked out: it may start, and its pump may draw. Read the "
    "level with the pumps off "
    "and drained back. A sump filled to the brim with the pumps on runs over when they stop."
)


def fill(sheet, once, drawn, names: dict) -> None:
    """Writes the sheet, and what its chart draws."""
    told = f"Type in the yellow cells what a rule measures. {INVENTED}"
    card_sheet(sheet, "Volume", "What a sump holds at every level", told, CAUTIONS)
    widths(sheet, [16, *[11.5] * 7, 3])
    put(sheet, "A5", "machine")
    typed(sheet, "B5", "machining centre 7", align=LEFT)
    sheet.merge_cells("B5:D5")
    for row, (name, key, what, unit) in enumerate(
        [
            ("level", "dip_level", 300, LENGTH),
            ("in pipes and bed", "dip_pipes", 12, VOLUME),
            ("a line every", "dip_step", 20, LENGTH),
            ("each length ±", "dip_u", 3, LENGTH),
        ],
        6,
    ):
        line_of(sheet, row, name, "B", what, unit, "#,##0.##")
        names[key] = f"Volume!$B${row}"
    judge(sheet, "B6:B9", "decimal", "A number that is not below 0.", 0, 1e6)
    put(sheet, "D6", "from the lowest point of the sump", QUIET)
    put(sheet, "D9", "how surely a length is measured (standard uncertainty); may be blank", QUIET)
    parts = Table(
        sheet,
        11,
        "What it is made of",
        [
            ("form", "", "General"),
            *[
                (name, LENGTH, "#,##0.##")
                for name in (
                    "length",
                    "width",
                    "depth",
                    "floor at",
                    "corner length",
                    "corner width",
                    "diameter",
                )
            ],
        ],
        PARTS,
        ROWS,
    )
    judge(sheet, parts.column("A"), "list", "One of these forms.", within=f'"{",".join(FORMS)}"')
    judge(sheet, parts.columns("BCDEFGH"), "decimal", "A number that is not below 0, or nothing.", 0, 1e6)
    things = Table(
        sheet,
        parts.last + 2,
        "What stands in it and takes up room",
        [
            ("what", "", "General"),
            ("volume", VOLUME, "#,##0.##"),
            ("foot at", LENGTH, "#,##0.##"),
            ("height", LENGTH, "#,##0.##"),
        ],
        INSIDE,
        THINGS,
    )
    judge(sheet, things.columns("BCD"), "decimal", "A number that is not below 0, or nothing.", 0, 1e6)
    names["parts_of_sump"], names["stands_in_it"] = parts.range, things.range

    card = Card(once, "sump-volume")
    compartment = "&shape.compartments.#."
    members = ("length", "width", "depth", "floor", "cut_length", "cut_width", "diameter")
    listed = card.listed(
        "parts_of_sump",
        [
            Column(1, f"{compartment}form=", "code"),
            *[Column(2 + at, f"{compartment}{member}=") for at, member in enumerate(members)],
        ],
        8,
        "shape.compartments",
        "part",
    )
    inside = card.listed(
        "stands_in_it",
        [
            Column(1 + at, f"&shape.displaced.#.{member}=")
            for at, member in enumerate(("name", "volume", "foot", "height"))
        ],
        6,
        "shape.displaced",
        "what stands in it",
    )
    question = f'"&shape.level="&{coded("dip_level")}&{listed}&{inside}'
    for key, member in (("dip_pipes", "in_pipes"), ("dip_step", "dip_step"), ("dip_u", "length_u")):
        question += f'&IF({key}="","","&shape.{member}="&{coded(key)})'
    dips = [f"answer.dip_table.{nth}.{part}" for nth in range(LINES + 1) for part in ("level", "volume")]
    card.ask(
        question,
        ["answer.volume", "answer.u", "answer.at_brim", "statement", "findings.0.text", *dips],
        [
            ("shape.level: ", "level: "),
            ("shape.in_pipes: ", "in pipes and bed: "),
            ("shape.dip_step: ", "a line every: "),
            ("shape.length_u: ", "each length ±: "),
            ("cut_length: ", "corner length: "),
            ("cut_width: ", "corner width: "),
            ("floor: ", "floor at: "),
            ("foot: ", "foot at: "),
            ("shape: ", ""),
            *missing("level", "compartments", "shape", *members, "name", "volume", "height", "form"),
        ],
    )
    row = things.last + 2
    said(sheet, card, row, "H")
    for place, (name, pick) in enumerate(
        [("it holds", "answer.volume"), ("give or take", "answer.u"), ("at its brim", "answer.at_brim")]
    ):
        letter = "ACE"[place]
        put(sheet, f"{letter}{row + 3}", name, STRONG, RIGHTWARDS)
        formula = card.number(pick)
        if pick == "answer.u":
            formula = f'=IF({card.value(pick)}="","",1.96*_xlfn.NUMBERVALUE({card.value(pick)},"."))'
        put(sheet, f"{letter}{row + 4}", formula, LARGE, RIGHTWARDS, "#,##0.0")
        put(sheet, f"{chr(ord(letter) + 1)}{row + 4}", VOLUME, QUIET)
    table(sheet, drawn, card, row + 6)


def table(sheet, drawn, card: Card, row: int) -> None:
    """The dip table in two columns, to cut out and hang up, and its curve."""
    put(sheet, f"A{row}", '="Dip table: "&$B$5', PART)
    rows = LINES // 3
    for left, start in (("A", 0), ("D", rows), ("G", 2 * rows)):
        second = chr(ord(left) + 1)
        for letter, unit in ((left, LENGTH), (second, VOLUME)):
            put(sheet, f"{letter}{row + 1}", unit, QUIET, RIGHTWARDS)
            sheet[f"{letter}{row + 1}"].fill = HEAD_FILL
        for nth in range(rows):
            at = row + 2 + nth
            for letter, part, form in ((left, "level", "#,##0.##"), (second, "volume", "#,##0")):
                formula = card.number(f"answer.dip_table.{start + nth}.{part}")
                put(
                    sheet, f"{letter}{at}", formula, STRONG if letter == left else LARGE, RIGHTWARDS, form
                ).border = UNDER
            sheet.row_dimensions[at].height = 19
    beyond = card.value(f"answer.dip_table.{LINES}.level")
    put(
        sheet,
        f"A{row + 2 + rows}",
        f'=IF({beyond}="","","There are more lines than these {LINES}: choose a larger step.")',
        ALARM,
    )
    put(drawn, "K1", "What the chart of the dip table draws", PART)
    first, last = 4, 3 + LINES
    for letter, part in (("K", "level"), ("L", "volume")):
        put(drawn, f"{letter}3", part, QUIET)
        for nth in range(LINES):
            cell = card.value(f"answer.dip_table.{nth}.{part}")
            put(drawn, f"{letter}{first + nth}", f'=IF({cell}="",NA(),_xlfn.NUMBERVALUE({cell},"."))')
    put(drawn, "M3", "now", QUIET)
    put(drawn, "M4", "=IF(ISNUMBER(dip_level),dip_level,NA())")
    now = card.value("answer.volume")
    put(drawn, "N4", f'=IF({now}="",NA(),_xlfn.NUMBERVALUE({now},".")-IF(ISNUMBER(dip_pipes),dip_pipes,0))')
    chart = curve(
        "Level and volume",
        [
            ((drawn, 11, first, last), Line((drawn, 12, first, last), "dip table", "1F6F78")),
            ((drawn, 13, 4, 4), Line((drawn, 14, 4, 4), "level now", "B5651D", marks="circle", joined=False)),
        ],
        (18, 8.5),
        "level",
        "volume",
    )
    sheet.add_chart(chart, f"A{row + 3 + rows}")
