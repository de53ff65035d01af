"""Waters: how hard each is in every unit, and what to mix of them."""

from asking import coded, missing
from charts import Line, bars
from look import HEADING, INVENTED, LARGE, QUIET, RIGHTWARDS, STRONG, judge, put, typed, widths
from once import Card, Column
from pages import Table, card_sheet, line_of, said
from readings import RATE, VOLUME

# The unit as people write it, and its code.
UNITS = {
    "°dH": "german_degrees",
    "°fH": "french_degrees",
    "°e": "english_degrees",
    "gpg": "grains_per_us_gallon",
    "mg/L": "mg_per_litre",
    "mmol/L": "millimoles_per_litre",
}
CLASSES = ("soft", "moderately hard", "hard", "very hard")
WATERS = [
    ("town water", 14, "°dH", 78, 13.5, 48, 61, 22, 620, None, None, None, 0.004),
    ("deionised water", 0.1, "°dH", None, None, 0.5, 0.5, 0.2, 9, None, "yes", None, 0.031),
    ("rain water", 0.6, "°dH", None, None, 3, 4, 3, 25, None, None, 120, 0.001),
]
CARRIED = ("chloride", "sulphate", "nitrate")
PRICE = '=IF(written_in="us","a gal","a L")'
ROWS, READY = 5, 6
CAUTIONS = (
    "Check the unit that the water report has: units of hardness are easily taken for each other. Softened "
    "water is not soft in salts. Which hardness and which salts a fluid wants, its own sheet says."
)


def unit(cell: str) -> str:
    """The code of a unit; what is none is left to the service to refuse."""
    said = coded(cell, "code")
    for written, code in UNITS.items():
        said = f'IF({cell}="{written}","{code}",{said})'
    return said


def fill(sheet, once, names: dict) -> None:
    """Writes the sheet."""
    told = f"Type in the yellow cells what the water report says. {INVENTED}"
    card_sheet(sheet, "Water", "Waters: how hard they are, and what to mix", told, CAUTIONS)
    sheet.page_setup.orientation = "landscape"
    widths(sheet, [20, 11, 11, 11, 11, 11, 11, 11, 12, 10, 10, 10, 10])
    units = f'"{",".join(UNITS)}"'
    for row, (name, key, what, of, form) in enumerate(
        [
            ("make", "water_make", 600, VOLUME, "#,##0.0"),
            ("needed a day", "water_daily", 220, RATE, "#,##0.0"),
        ],
        5,
    ):
        line_of(sheet, row, name, "B", what, of, form)
        names[key] = f"Water!$B${row}"
    heads = ("hardness from", "hardness to", "in", *(f"{name} at most" for name in CARRIED))
    given = (6, 10, "°dH", 30, None, None)
    keys = ("hardness_from", "hardness_to", "hardness_in", *(f"{name}_most" for name in CARRIED))
    sheet.row_dimensions[5].height = 26
    put(sheet, "D6", "wanted", align=RIGHTWARDS)
    for letter, head, what, key in zip("EFGHIJ", heads, given, keys):
        put(sheet, f"{letter}5", head, QUIET, HEADING.alignment)
        typed(sheet, f"{letter}6", what, "General" if letter == "G" else "0.0##")
        names[key] = f"Water!${letter}$6"
    judge(sheet, "B5:B6 E6:F6 H6:J6", "decimal", "A number that is not below 0, or nothing.", 0, 1e7)
    judge(sheet, "G6", "list", "One of these units.", within=units)
    waters = Table(
        sheet,
        8,
        "The waters that there are, the most preferred first",
        [
            ("water", "", "General"),
            ("hardness", "", "0.0##"),
            ("in", "unit", "General"),
            *[(name, "mg/L", "0.0##") for name in ("calcium", "magnesium", *CARRIED)],
            ("conductivity", "µS/cm", "#,##0.#"),
            ("softened", "yes or no", "General"),
            ("made here", "yes or no", "General"),
            ("on hand", VOLUME, "#,##0.0"),
            ("price", PRICE, "0.00##"),
        ],
        WATERS,
        ROWS,
    )
    names["waters"] = waters.range
    judge(sheet, waters.columns("BDEFGHIL"), "decimal", "A number that is not below 0, or nothing.", 0, 1e6)
    judge(sheet, waters.column("C"), "list", "One of these units.", within=units)
    judge(sheet, waters.columns("JK"), "list", "yes or no", within='"yes,no"')
    judge(sheet, waters.column("M"), "decimal", "A number, or nothing.", 0, 1e6)
    card = asked(once)
    said(sheet, card, waters.last + 2, "M")
    answers(sheet, card, waters.last + 5)


def asked(once) -> Card:
    """The question, on the sheet of those asked once."""
    card = Card(once, "water")
    water = "&waters.#."
    listed = card.listed(
        "waters",
        [
            Column(1, f"{water}name="),
            Column(2, f"{water}hardness.value="),
            Column(3, f"{water}hardness.unit=", unit),
            Column(4, f"{water}calcium="),
            Column(5, f"{water}magnesium="),
            *[Column(6 + at, f"{water}properties.{name}=") for at, name in enumerate(CARRIED)],
            Column(9, f"{water}conductivity="),
            Column(10, f"{water}softened=", "answer"),
            Column(11, f"{water}made_here=", "answer"),
            Column(12, f"{water}volume="),
            Column(13, f"{water}unit_cost="),
        ],
        READY,
        "waters",
        "water",
    )
    question = listed
    for key, member in (("water_make", "make"), ("water_daily", "daily")):
        question += f'&IF({key}="","","&{member}="&{coded(key)})'
    window = [("hardness_from", "hardness.min"), ("hardness_to", "hardness.max")]
    for key, member in window:
        question += f'&IF({key}="","","&{member}="&{coded(key)})'
    question += f'&IF(AND(hardness_from="",hardness_to=""),"","&hardness.unit="&{unit("hardness_in")})'
    for name in CARRIED:
        question += f'&IF({name}_most="","","&limits.{name}.max="&{coded(f"{name}_most")})'
    each = [
        f"answer.waters.{nth}.{part}"
        for nth in range(ROWS)
        for part in ("name", *(f"hardness.{code}" for code in UNITS.values()), "class")
    ]
    takes = [f"answer.blend.take.{nth}.{part}" for nth in range(ROWS) for part in ("volume", "share")]
    made = [*(f"answer.blend.hardness.{code}" for code in UNITS.values()), "answer.blend.class"]
    card.ask(
        question,
        # Whether a hardness is known, and whether anything is mixed, nobody knows before.
        [
            "units",
            "statement",
            "findings.0.text",
            "answer.made_per_day",
            "answer.blend.cost",
            *made,
            *takes,
            *each,
        ],
        [
            ("hardness.value: ", "hardness: "),
            ("hardness.unit: ", "in: "),
            ("hardness.min: ", "hardness from: "),
            ("hardness.max: ", "hardness to: "),
            ("unit_cost: ", "price: "),
            ("volume: ", "on hand: "),
            ("made_here: ", "made here: "),
            *[(f"limits.{name}.max: ", f"{name} at most: ") for name in CARRIED],
            *[(f"properties.{name}: ", f"{name}: ") for name in CARRIED],
            ("daily: ", "needed a day: "),
            *missing("waters", "name", "value", "unit"),
        ],
    )
    return card


def classed(cell: str) -> str:
    """A class in words."""
    return f'=SUBSTITUTE({cell},"_"," ")'


def answers(sheet, card: Card, row: int) -> None:
    """Each water in every unit, and the water made."""
    table = Table(
        sheet,
        row,
        "How hard each is, and what to take of it",
        [
            ("water", "", "General"),
            ("take", VOLUME, "#,##0.0"),
            ("share", "%", "0.0"),
            *[("hardness", written, "#,##0.0#") for written in UNITS],
            ("that is", "", "General"),
        ],
        [],
        ROWS + 1,
        answers=True,
    )
    for nth in range(ROWS + 1):
        at = table.first + nth
        # The waters are told in the order of those that are typed; blank rows are left out.
        of = "answer.blend" if nth == ROWS else f"answer.waters.{nth}"
        if nth < ROWS:
            sheet[f"A{at}"].value = card.text(f"{of}.name")
            sheet[f"B{at}"].value = card.number(f"answer.blend.take.{nth}.volume")
            sheet[f"C{at}"].value = card.number(f"answer.blend.take.{nth}.share")
        else:
            sheet[f"A{at}"].value = "what is made of them"
            sheet[f"B{at}"].value = f'=IF(COUNT(B{table.first}:B{at - 1})=0,"",SUM(B{table.first}:B{at - 1}))'
        for letter, code in zip("DEFGHI", UNITS.values()):
            sheet[f"{letter}{at}"].value = card.number(f"{of}.hardness.{code}")
        sheet[f"J{at}"].value = classed(card.value(f"{of}.class"))
        sheet[f"A{at}"].font = sheet[f"B{at}"].font = STRONG
    under = table.last + 2
    for letter, name, pick, of, form in (
        ("A", "the shop has to make a day", "answer.made_per_day", RATE, "#,##0.0"),
        ("E", "it costs", "answer.blend.cost", "", "#,##0.00"),
    ):
        beside = chr(ord(letter) + 2)
        put(sheet, f"{letter}{under}", name, STRONG)
        put(sheet, f"{beside}{under}", card.number(pick), LARGE, RIGHTWARDS, form)
        put(sheet, f"{chr(ord(beside) + 1)}{under}", of, QUIET)
    chart = bars(
        "Hardness, mg/L as calcium carbonate: soft up to 60, moderately hard up to 120, hard up to 180",
        (sheet, 1, table.first, table.last),
        [Line((sheet, 8, table.first, table.last), "hardness", "1F6F78")],
        (26, 7.5),
    )
    sheet.add_chart(chart, f"A{under + 2}")
