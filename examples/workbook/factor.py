"""The refractometer factor of a fluid, from mixes made up on purpose."""

from asking import missing
from charts import Line, curve
from look import INVENTED, LARGE, PART, QUIET, RIGHTWARDS, STRONG, UNDER, judge, put, widths
from once import Card, Column
from openpyxl.styles import PatternFill
from pages import Table, card_sheet, said
from readings import PLAIN

MIXES = [(0, 0.1), (2, 0.9), (4, 1.8), (6, 2.6), (8, 3.4), (10, 4.3)]
LOOKED_UP = [(1.3,), (2.1,)]
ROWS, LOOKS, BAND = 12, 8, 13
CAUTIONS = (
    "Weigh or measure each mix with care, and let the refractometer and the mixes come to one "
    "temperature. Neat "
    "concentrate irritates skin and eyes: gloves and eye protection, as its safety data sheet says."
)


def fill(sheet, once, drawn, names: dict) -> None:
    """Writes the sheet, and what its chart draws."""
    told = f"Type in the yellow cells: what each mix was made up to, and what it reads. {INVENTED}"
    card_sheet(sheet, "Factor", "The refractometer factor of a fluid", told, CAUTIONS)
    widths(sheet, [16, 21, 4, 18, 16, 13, 13, 3])
    mixes = Table(
        sheet,
        5,
        "Mixes made up on purpose",
        [("made up to", "% vol", "0.0##"), ("it reads", "°Brix", "0.0##")],
        MIXES,
        ROWS,
    )
    judge(
        sheet,
        mixes.column("A"),
        "decimal",
        "From 0 (the water alone) to 100, without a per cent sign.",
        0,
        100,
    )
    judge(sheet, mixes.column("B"), "decimal", f"What the instrument reads, in °Brix. {PLAIN}", 0, 95)
    looks = Table(
        sheet,
        5,
        "Readings to look up",
        [
            ("reads", "°Brix", "0.0##"),
            ("stands for", "% vol", "0.00"),
            ("from", "% vol", "0.00"),
            ("to", "% vol", "0.00"),
        ],
        [(brix, None, None, None) for (brix,) in LOOKED_UP],
        LOOKS,
        left=4,
    )
    judge(sheet, looks.column("D"), "decimal", f"What the instrument reads, in °Brix. {PLAIN}", 0, 95)
    names["mixes"] = mixes.range
    names["looked_up"] = f"Factor!$D${looks.first - 1}:$D${looks.last}"

    card = Card(once, "refractometer-factor")
    listed = card.listed(
        "mixes", [Column(1, "&samples.#.concentration="), Column(2, "&samples.#.brix=")], 16, "samples", "mix"
    )
    looked_up = card.listed("looked_up", [Column(1, "&readings.#=")], 10, "readings", "reading to look up")
    fit = ["factor", "factor_u", "water_brix", "water_brix_u", "scatter"]
    band = [
        f"answer.band.{nth}.{part}"
        for nth in range(BAND)
        for part in ("concentration", "brix", "low", "high")
    ]
    found = [
        f"answer.readings.{nth}.{part}" for nth in range(LOOKS) for part in ("concentration", "low", "high")
    ]
    card.ask(
        f"{listed}&{looked_up}",
        [*[f"answer.{part}" for part in fit], "statement", "findings.0.text", *found, *band],
        [
            ("concentration: ", "made up to: "),
            ("brix: ", "it reads: "),
            *missing("concentration", "brix", "samples"),
        ],
    )
    for nth in range(LOOKS):
        at = looks.first + nth
        # The answers are in the order of those that are typed; blank rows are left out.
        before = f"COUNT($D${looks.first}:$D{at})"
        first = card.values["answer.readings.0.concentration"]
        for letter, shift in (("E", 0), ("F", 1), ("G", 2)):
            picked = f"INDEX('Asked once'!$B${first}:$B${first + 3 * LOOKS - 1},3*({before}-1)+{shift + 1})"
            formula = f'=IF($D{at}="","",IFERROR(_xlfn.NUMBERVALUE({picked}&IF({picked}="","?",""),"."),""))'
            cell = put(sheet, f"{letter}{at}", formula, align=RIGHTWARDS, form="0.00")
            cell.fill, cell.border = PatternFill(), UNDER
    put(sheet, f"D{looks.last + 1}", "from, to: where it lies, at 95 %", QUIET)
    row = mixes.last + 2
    said(sheet, card, row, "G")
    for place, (name, pick, form) in enumerate(
        [
            ("factor", "factor", "0.000"),
            ("standard uncertainty", "factor_u", "0.000"),
            ("water reads, °Brix", "water_brix", "0.00"),
            ("scatter, °Brix", "scatter", "0.000"),
        ]
    ):
        letter = "ABDE"[place]
        put(sheet, f"{letter}{row + 3}", name, PART if not place else STRONG, RIGHTWARDS)
        put(sheet, f"{letter}{row + 4}", card.number(f"answer.{pick}"), LARGE, RIGHTWARDS, form)
    draw(sheet, drawn, card, mixes, row + 6)


def draw(sheet, drawn, card: Card, mixes: Table, row: int) -> None:
    """The chart of the mixes and the line through them, with the band in which a strength lies."""
    put(drawn, "F1", "What the chart of the factor draws", PART)
    first, last = 4, 3 + BAND
    for letter, (head, part) in zip(
        "FGHI", (("reads", "brix"), ("strength", "concentration"), ("from", "low"), ("to", "high"))
    ):
        put(drawn, f"{letter}3", head, QUIET)
        for nth in range(BAND):
            cell = card.value(f"answer.band.{nth}.{part}")
            put(drawn, f"{letter}{first + nth}", f'=IF({cell}="",NA(),_xlfn.NUMBERVALUE({cell},"."))')
    across = (drawn, 6, first, last)
    chart = curve(
        "What a reading stands for",
        [
            (across, Line((drawn, 9, first, last), "at most (95 %)", "8A97A3", dash="sysDash")),
            (across, Line((drawn, 7, first, last), "the line", "1F6F78")),
            (across, Line((drawn, 8, first, last), "at least (95 %)", "8A97A3", dash="dash")),
            (
                (sheet, 2, mixes.first, mixes.last),
                Line((sheet, 1, mixes.first, mixes.last), "mixes", "B5651D", marks="circle", joined=False),
            ),
        ],
        (17.5, 9.5),
        "reading, °Brix",
        "% by volume",
    )
    sheet.add_chart(chart, f"A{row}")
