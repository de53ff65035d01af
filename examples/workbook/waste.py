"""A year's waste, month by month, and when it must be fetched."""

from asking import coded, missing
from charts import Line, bars
from look import CENTRE, INVENTED, LARGE, QUIET, RIGHTWARDS, STRONG, judge, put, widths
from once import Card, Column
from pages import Table, card_sheet, line_of, said
from readings import PLAIN, RATE, VOLUME

MASS = '=IF(written_in="us","lb","kg")'
GROUPS = [
    ("lathes", 9, 220, 7, 5, 2, 6, 12, 3.2, 60),
    ("machining centres", 8, 420, 8, 9, 2.5, 9, 25, 2.5, 55),
    ("saws and drills", 7, 80, 6, 1.5, 0.8, 4, 5, None, None),
]
STREAMS = [
    ("spent fluid", "IBC", 1000, None, 0.35, "yes"),
    ("sludge", "open-head drum", 208, 1.5, None, "yes"),
]
KINDS = ("spent fluid", "wash water", "oil phase", "sludge", "filter media")
ROWS, KEPT, MONTHS, PICKUPS = 6, 5, 12, 6
CAUTIONS = (
    "Whether a stream is hazardous waste is for its generator and the authority to determine; how "
    "long and how much may be "
    "kept, local codes say. Only licensed carriers take it away. Never into a drain or onto the ground."
)


def fill(sheet, once, names: dict) -> None:
    """Writes the sheet."""
    told = f"Type in the yellow cells: sumps that are alike as one group. {INVENTED}"
    card_sheet(sheet, "Waste", "A year's waste, and when it must be fetched", told, CAUTIONS)
    widths(sheet, [22, 15, 12, 12, 12, 12, 12, 12, 12, 12, 3])
    for row, (name, key, what, unit) in enumerate(
        [
            ("at most on site", "waste_most", 2000, MASS),
            ("for at most", "waste_days", 180, "days"),
            ("a pickup costs", "pickup_costs", 180, ""),
        ],
        5,
    ):
        line_of(sheet, row, name, "B", what, unit, "#,##0.##")
        names[key] = f"Waste!$B${row}"
    judge(sheet, "B5:B7", "decimal", "A number that is not below 0.", 0, 1e7)
    put(sheet, "D5", "what may be kept, and how long, local codes say: type what holds for you", QUIET)
    groups = Table(
        sheet,
        9,
        "The sumps, in groups that are alike",
        [
            ("group", "", "General"),
            ("sumps", "", "0"),
            ("one holds", VOLUME, "#,##0.0"),
            ("strength", "% vol", "0.0##"),
            ("lost to the air", RATE, "0.0##"),
            ("carried off", RATE, "0.0##"),
            ("changed every", "months", "0"),
            ("stays in it", VOLUME, "0.0##"),
            ("dry fines a month", MASS, "0.0##"),
            ("share in sludge", "% mass", "0.0##"),
        ],
        GROUPS,
        ROWS,
    )
    judge(sheet, groups.columns("BG"), "whole", "A whole number above 0.", 1, 1000)
    judge(sheet, groups.columns("CEFHI"), "decimal", "A number that is not below 0.", 0, 1e7)
    judge(sheet, groups.column("D"), "decimal", f"From 0.1 to 100. {PLAIN}", 0.1, 100)
    judge(sheet, groups.column("J"), "decimal", "From 1 to 100, without a per cent sign.", 1, 100)
    streams = Table(
        sheet,
        groups.last + 2,
        "How each kind of waste leaves",
        [
            ("waste", "", "General"),
            ("container", "", "General"),
            ("it holds", VOLUME, "#,##0.0"),
            ("as it lies", '=IF(written_in="us","lb a gal","kg a L")', "0.0##"),
            ("price", '=IF(written_in="us","a gal","a L")', "0.00##"),
            ("counts on site", "yes or no", "General"),
        ],
        STREAMS,
        KEPT,
    )
    judge(sheet, streams.column("A"), "list", "One of these kinds of waste.", within=f'"{",".join(KINDS)}"')
    judge(sheet, streams.columns("CD"), "decimal", "A number that is not below 0, or nothing.", 0, 1e7)
    judge(sheet, streams.column("E"), "decimal", "A number, or nothing; below 0 where it earns.", -1e6, 1e6)
    judge(sheet, streams.column("F"), "list", "yes or no", within='"yes,no"')
    names["groups"], names["leaves"] = groups.range, streams.range
    card = asked(once)
    said(sheet, card, streams.last + 2, "J")
    year(sheet, card, streams.last + 5)


def asked(once) -> Card:
    """The question, on the sheet of those asked once."""
    card = Card(once, "disposal")
    group, leaves = "&groups.#.", "&streams.#."
    before = ("name=", "count=", "volume=", "concentration=", "losses.evaporation=", "losses.carry_off=")
    listed = card.listed(
        "groups",
        [
            *[Column(1 + at, f"{group}{member}") for at, member in enumerate(before)],
            Column(7, f"{group}change.habit=calendar{group}change.every_months="),
            Column(8, f"{group}residue="),
            Column(9, f"{group}fines.mass_per_month="),
            Column(10, f"{group}fines.dry_share="),
        ],
        8,
        "groups",
        "group",
    )
    streams = card.listed(
        "leaves",
        [
            Column(1, f"{leaves}stream=", "code"),
            Column(2, f"{leaves}container.name="),
            Column(3, f"{leaves}container.volume="),
            Column(4, f"{leaves}bulk_density="),
            Column(5, f"{leaves}price_per_volume="),
            Column(6, f"{leaves}counts=", "answer"),
        ],
        7,
        "streams",
        "waste",
    )
    question = f"{listed}&{streams}"
    for key, member in (
        ("waste_most", "storage.mass"),
        ("waste_days", "storage.days"),
        ("pickup_costs", "pickup_price"),
    ):
        question += f'&IF({key}="","","&{member}="&{coded(key)})'
    months = [
        f"answer.months.{nth}.{part}"
        for nth in range(MONTHS)
        for part in ("counted", "on_site", "pickups", "cost")
    ]
    fetched = [
        f"answer.pickups.{nth}.{part}" for nth in range(PICKUPS) for part in ("day", "mass", "containers")
    ]
    card.ask(
        question,
        ["answer.months.0.mass", "answer.cost.total", "statement", "findings.0.text", *fetched, *months],
        [
            ("losses.evaporation: ", "lost to the air: "),
            ("losses.carry_off: ", "carried off: "),
            ("losses: ", "lost to the air and carried off: "),
            ("change.every_months: ", "changed every: "),
            ("fines.mass_per_month: ", "dry fines a month: "),
            ("fines.dry_share: ", "share of them in sludge: "),
            ("container.volume: ", "it holds: "),
            ("container.name: ", "container: "),
            ("price_per_volume: ", "price: "),
            ("bulk_density: ", "as it lies: "),
            ("storage.mass: ", "at most on site: "),
            ("storage.days: ", "for at most: "),
            ("pickup_price: ", "a pickup costs: "),
            ("residue: ", "stays in it: "),
            ("concentration: ", "strength: "),
            ("volume: ", "one holds: "),
            ("count: ", "sumps: "),
            ("stream: ", "waste: "),
            *missing(
                "name",
                "volume",
                "concentration",
                "losses",
                "evaporation",
                "carry_off",
                "groups",
                "dry_share",
                "mass_per_month",
                "stream",
            ),
        ],
    )
    return card


def year(sheet, card: Card, row: int) -> None:
    """The months, the pickups and the chart."""
    months = Table(
        sheet,
        row,
        "Month by month",
        [
            ("month", "", "0"),
            ("arises, counted", MASS, "#,##0"),
            ("on site at its end", MASS, "#,##0"),
            ("pickups", "", "0"),
            ("costs", "", "#,##0.00"),
        ],
        [],
        MONTHS,
        answers=True,
    )
    for nth in range(MONTHS):
        at = months.first + nth
        put(sheet, f"A{at}", nth + 1, align=CENTRE)
        for letter, part, form in (
            ("B", "counted", "#,##0"),
            ("C", "on_site", "#,##0"),
            ("D", "pickups", '0;-0;"–"'),
            ("E", "cost", "#,##0.00"),
        ):
            cell = sheet[f"{letter}{at}"]
            cell.value, cell.number_format = card.number(f"answer.months.{nth}.{part}"), form
    fetched = Table(
        sheet,
        row,
        "When it must be fetched, and how much",
        [("by the end of", "day", "0"), ("there are", MASS, "#,##0"), ("in containers", "", "0")],
        [],
        PICKUPS,
        answers=True,
        left=7,
    )
    for nth in range(PICKUPS):
        for letter, part in zip("GHI", ("day", "mass", "containers")):
            sheet[f"{letter}{fetched.first + nth}"].value = card.number(f"answer.pickups.{nth}.{part}")
    put(sheet, f"G{fetched.last + 2}", "the year costs", STRONG, RIGHTWARDS)
    put(sheet, f"H{fetched.last + 2}", card.number("answer.cost.total"), LARGE, RIGHTWARDS, "#,##0.00")
    put(sheet, f"G{fetched.last + 3}", "day 1 is the first of the first month", QUIET)
    chart = bars(
        "Waste that counts: what arises in each month, and what is on site at its end",
        (sheet, 1, months.first, months.last),
        [
            Line((sheet, 2, months.first, months.last), "arises", "CFE3E4"),
            Line((sheet, 3, months.first, months.last), "on site at its end", "1F6F78"),
        ],
        (26, 8),
    )
    sheet.add_chart(chart, f"A{months.last + 2}")
