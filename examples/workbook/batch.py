"""A batch from what is in stock."""

from asking import coded, missing
from charts import Line, bars
from look import CENTRE, INVENTED, LARGE, PART, QUIET, RIGHTWARDS, STRONG, judge, put, typed, widths
from once import Card, Column
from pages import Table, card_sheet, line_of, said
from readings import PLAIN, VOLUME

STOCKS = [
    ("recycled", 4.2, 500, 0.05, 0.7, 310, 95),
    ("concentrate", 100, None, 6.4, None, None, None),
    ("tap water", 0, None, 0.004, None, 240, 60),
    ("deionised water", 0, None, 0.03, None, 2, 1),
]
READY = 10  # stocks that fit into an address
ROWS = 8
PRICE = '=IF(written_in="us","a gal","a L")'
CARRIED = (
    ("tramp_oil", "tramp oil", "% vol"),
    ("hardness", "hardness", "mg/L"),
    ("chloride", "chloride", "mg/L"),
)
CAUTIONS = (
    "Water into a clean vessel first, then what is recycled, then concentrate, slowly and stirring: "
    "never water into "
    "concentrate. Gloves and eye protection. The safety data sheet of each fluid comes before "
    "anything printed here."
)


def fill(sheet, once, names: dict) -> None:
    """Writes the sheet."""
    told = f"Type in the yellow cells. The cheapest batch that keeps within the limits. {INVENTED}"
    card_sheet(sheet, "Batch", "A batch from what is in stock", told, CAUTIONS)
    widths(sheet, [22, 13, 13, 13, 13, 13, 13, 3])
    line_of(sheet, 6, "make", "B", 800, VOLUME, "#,##0.0")
    line_of(sheet, 7, "of the strength", "B", 6, "% vol", "0.0##")
    judge(sheet, "B6", "decimal", "A number above 0.", 0.001, 1e7)
    judge(sheet, "B7", "decimal", f"From 0.1 to 100. {PLAIN}", 0.1, 100)
    put(sheet, "D6", "at most in it", align=RIGHTWARDS)
    for letter, (_, name, unit), most in zip("EFG", CARRIED, (0.5, 220, 80)):
        put(sheet, f"{letter}5", f"{name}, {unit}", QUIET, CENTRE)
        typed(sheet, f"{letter}6", most, "0.0##")
    judge(sheet, "E6:G6", "decimal", "A number that is not below 0, or nothing.", 0, 1e6)
    table = Table(
        sheet,
        9,
        "What there is to mix from, the most preferred first",
        [
            ("stock", "", "General"),
            ("strength", "% vol", "0.0##"),
            ("on hand", VOLUME, "#,##0.0"),
            ("price", PRICE, "0.00##"),
            *[(name, unit, "0.0##") for _, name, unit in CARRIED],
        ],
        STOCKS,
        ROWS,
    )
    names["stocks"] = table.range
    names["batch_make"], names["batch_strength"] = "Batch!$B$6", "Batch!$B$7"
    for letter, (member, _, _) in zip("EFG", CARRIED):
        names[f"batch_{member}"] = f"Batch!${letter}$6"
    judge(
        sheet,
        table.column("B"),
        "decimal",
        "From 0 (water) to 100 (concentrate), without a per cent sign.",
        0,
        100,
    )
    judge(sheet, table.columns("CDEFG"), "decimal", "A number that is not below 0, or nothing.", 0, 1e7)

    card = Card(once, "blend")
    listed = card.listed(
        "stocks",
        [
            Column(1, "&stocks.#.name="),
            Column(2, "&stocks.#.concentration="),
            Column(3, "&stocks.#.volume="),
            Column(4, "&stocks.#.unit_cost="),
            *[
                Column(5 + place, f"&stocks.#.properties.{member}=")
                for place, (member, _, _) in enumerate(CARRIED)
            ],
        ],
        READY,
        "stocks",
        "stock",
    )
    question = (
        f'"&target.volume="&{coded("batch_make")}&"&target.concentration="&{coded("batch_strength")}&{listed}'
    )
    for member, _, _ in CARRIED:
        question += f'&IF(batch_{member}="","","&limits.{member}.max="&{coded(f"batch_{member}")})'
    takes = [
        f"answer.take.{nth}.{part}" for nth in range(ROWS) for part in ("name", "volume", "mass", "share")
    ]
    mix = [f"answer.mix.properties.{member}" for member, _, _ in CARRIED]
    card.ask(
        question,
        [
            "answer.mix.volume",
            "answer.mix.concentration",
            "answer.cost",
            "statement",
            "findings.0.text",
            *mix,
            *takes,
        ],
        [
            ("target.volume: ", "make: "),
            ("target.concentration: ", "of the strength: "),
            ("unit_cost: ", "price: "),
            ("concentration: ", "strength: "),
            ("volume: ", "on hand: "),
            *[(f"limits.{member}.max: ", f"{name} at most: ") for member, name, _ in CARRIED],
            *[(f"limits.{member}: ", f"{name} at most: ") for member, name, _ in CARRIED],
            *[(f"properties.{member}: ", f"{name}: ") for member, name, _ in CARRIED],
            *missing("name", "volume", "concentration", "target", "stocks"),
        ],
    )
    answers(sheet, card, table.last + 2)


def answers(sheet, card: Card, row: int) -> None:
    """What to pour, and what it comes to."""
    said(sheet, card, row, "G")
    table = Table(
        sheet,
        row + 3,
        "How much of each, to be poured in the order above",
        [
            ("stock", "", "General"),
            ("volume", VOLUME, "#,##0.0"),
            ("mass", '=IF(written_in="us","lb","kg")', "#,##0.0"),
            ("share", "%", "0.0"),
        ],
        [],
        ROWS,
        answers=True,
    )
    for nth in range(ROWS):
        at = table.first + nth
        for letter, part in zip("ABCD", ("name", "volume", "mass", "share")):
            pick = f"answer.take.{nth}.{part}"
            sheet[f"{letter}{at}"].value = card.text(pick) if part == "name" else card.number(pick)
        sheet[f"B{at}"].font = STRONG
    put(sheet, f"F{table.first - 1}", "the batch", PART)
    for place, (name, pick, unit, form) in enumerate(
        [
            ("makes", "answer.mix.volume", VOLUME, "#,##0.0"),
            ("of", "answer.mix.concentration", "% vol", "0.0#"),
            ("costs", "answer.cost", "", "#,##0.00"),
            *[(name, f"answer.mix.properties.{member}", unit, "0.0#") for member, name, unit in CARRIED],
        ]
    ):
        at = table.first + place
        put(sheet, f"E{at}", name, align=RIGHTWARDS)
        put(sheet, f"F{at}", card.number(pick), LARGE if place < 2 else STRONG, RIGHTWARDS, form)
        put(sheet, f"G{at}", unit)
    drawn = bars(
        "How much of each, to be poured in the order above",
        (sheet, 1, table.first, table.last),
        [Line((sheet, 2, table.first, table.last), "volume", "1F6F78")],
        (17.5, 7.5),
        lying=True,
    )
    sheet.add_chart(drawn, f"A{table.last + 2}")
