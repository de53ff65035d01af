"""A dose of biocide or of something else into one sump."""

from asking import coded, missing
from charts import Line, curve
from look import (
    BODY,
    INVENTED,
    LARGE,
    PART,
    QUIET,
    RIGHTWARDS,
    STRONG,
    UNDER,
    WRAPPED,
    judge,
    put,
    widths,
)
from once import Card
from pages import card_sheet, line_of, said
from readings import PLAIN, RATE, VOLUME

KINDS = (
    *("biocide", "fungicide", "defoamer", "pH adjuster"),
    *("system cleaner", "corrosion inhibitor", "hardening salt", "other"),
)
DENSITY = '=IF(written_in="us","lb a gal","kg a L")'
MG, DAYS, AMOUNT = "mg/L", "days", "#,##0.0##"
# The name of a cell in formulas and on the sheet, the member of the question, what is typed, unit, format.
LEFT_CELLS = [
    ("dose_name", "product", "product.name", "biocide A", "", "General"),
    ("dose_kind", "what it is", "product.kind", "biocide", "", "General"),
    ("dose_density", "its density", "product.density", 1.05, DENSITY, "0.0##"),
    ("dose_in_sump", "in the sump", "sump.volume", 160, VOLUME, AMOUNT),
    ("dose_full", "full at", "sump.capacity", 200, VOLUME, AMOUNT),
    ("dose_strength", "strength", "sump.concentration", 6.5, "% vol", "0.0##"),
    ("dose_wanted", "wanted in it", "wanted", 1500, MG, "#,##0"),
    ("dose_jug", "marks of the jug", "jug_division", 5, "mL", "0.##"),
]
RIGHT_CELLS = [
    ("dose_least", "label: at least", "product.label.least", 500, MG, "#,##0"),
    ("dose_most", "label: at most", "product.label.most", 1500, MG, "#,##0"),
    ("dose_between", "label: wait between", "product.label.days_between", 7, DAYS, "0.#"),
    ("dose_now", "measured now", "now", None, MG, "#,##0"),
    ("dose_last", "last dose came to", "last_dose.content", 1500, MG, "#,##0"),
    ("dose_ago", "that long ago", "last_dose.days_ago", 9, DAYS, "0.#"),
    ("dose_half", "half is used up in", "product.half_life_days", 12, DAYS, "0.#"),
    ("dose_off", "carried off", "losses.carry_off", 4, RATE, "0.0##"),
    ("dose_lasts", "works down to", "lasts_to", 600, MG, "#,##0"),
]
STEPS, POINTS = 5, 13
CAUTIONS = (
    "The label is the law: its dose, its protection, its waiting time. Gloves and eye protection; never with "
    "acid, bleach or another product. Nobody doses against skin complaints or coughs: a doctor first. In "
    "mg/L of the product as it is, as most labels count."
)


def fill(sheet, once, drawn, names: dict) -> None:
    """Writes the sheet, and what its chart draws."""
    told = f"Type in the yellow cells: the label, and the sump as it is. {INVENTED}"
    card_sheet(sheet, "Dose", "A dose, within its label", told, CAUTIONS)
    widths(sheet, [18, 14, 10, 3, 18, 12, 10, 3])
    for left, letter, lines in (("A", "B", LEFT_CELLS), ("E", "F", RIGHT_CELLS)):
        for row, (key, name, _, what, unit, form) in enumerate(lines, 5):
            line_of(sheet, row, name, letter, what, unit, form, left)
            names[key] = f"Dose!${letter}${row}"
    judge(sheet, "B6", "list", f"One of: {', '.join(KINDS)}.", within=f'"{",".join(KINDS)}"')
    judge(sheet, "B7:B9 B11:B12", "decimal", "A number above 0, or nothing.", 0, 1e7)
    judge(sheet, "B10", "decimal", f"From 0.5 to 100, or nothing. {PLAIN}", 0.5, 100)
    judge(sheet, "F5:F13", "decimal", "A number that is not below 0, or nothing.", 0, 1e6)

    card = Card(once, "dose")
    question = ""
    for key, _, member, *_ in (*LEFT_CELLS, *RIGHT_CELLS):
        kind = "code" if key == "dose_kind" else ""
        question += f'&IF({key}="","","&{member}="&{coded(key, kind)})'
    # What evaporates takes nothing along.
    question += '&IF(dose_off="","","&losses.evaporation=0")'
    steps = [f"answer.steps.{nth}.text" for nth in range(STEPS)]
    after = [f"answer.after.{part}" for part in ("content", "volume", "concentration")]
    numbers = ["answer.dose", "answer.measured", "answer.mass", "answer.now", "answer.lasts_days", *after]
    card.ask(
        question[1:],
        [*numbers, "statement", "findings.0.text", *steps],
        [
            *[(f"{member}: ", f"{name}: ") for _, name, member, *_ in (*RIGHT_CELLS, *LEFT_CELLS)],
            ("product.label: ", "label: "),
            ("last_dose: ", "last dose: "),
            ("sump: ", "in the sump: "),
            ("product: ", "product: "),
            *missing("sump", "product", "name", "kind", "volume", "wanted", "content", "days_ago"),
        ],
    )
    row = 5 + len(RIGHT_CELLS) + 1
    said(sheet, card, row, "G")
    answers(sheet, card, row + 3)
    draw(sheet, drawn, card, row + 8 + STEPS)


def answers(sheet, card: Card, row: int) -> None:
    """What to measure out, what it comes to, and the steps."""
    mass = '=IF(written_in="us","lb","kg")'
    for letter, name, pick, unit, form in (
        ("A", "measure out", "answer.measured", "mL", "#,##0.##"),
        ("B", "which weighs", "answer.mass", mass, "#,##0.###"),
        ("E", "it then holds", "answer.after.content", MG, "#,##0"),
        ("F", "which lasts", "answer.lasts_days", DAYS, "#,##0.0"),
    ):
        put(sheet, f"{letter}{row}", name, STRONG, RIGHTWARDS)
        put(sheet, f"{letter}{row + 1}", card.number(pick), LARGE, RIGHTWARDS, form)
        put(sheet, f"{letter}{row + 2}", unit, QUIET, RIGHTWARDS)
    for nth in range(STEPS):
        at = row + 4 + nth
        put(sheet, f"A{at}", card.text(f"answer.steps.{nth}.text"), BODY, WRAPPED)
        sheet.merge_cells(f"A{at}:G{at}")
        sheet.row_dimensions[at].height = 27
        for letter in "ABCDEFG":
            sheet[f"{letter}{at}"].border = UNDER


def draw(sheet, drawn, card: Card, row: int) -> None:
    """The chart of what is in the sump, day by day: between two contents of the answer it falls by the same
    share every day."""
    put(drawn, "A70", "What the chart of the dose draws", PART)
    for letter, head in zip("ABC", ("day", "in the sump", "works down to")):
        put(drawn, f"{letter}72", head, QUIET)
    content, lasts = (
        f'_xlfn.NUMBERVALUE({card.value(pick)}&IF({card.value(pick)}="","?",""),".")'
        for pick in ("answer.after.content", "answer.lasts_days")
    )
    first, last = 73, 72 + POINTS
    for nth in range(POINTS):
        at = first + nth
        # A little further than it lasts.
        part = 1.2 * nth / (POINTS - 1)
        put(drawn, f"A{at}", f"=IFERROR({lasts}*{part},NA())")
        put(drawn, f"B{at}", f"=IFERROR({content}*(dose_lasts/{content})^{part},NA())")
        put(drawn, f"C{at}", f"=IF(ISNUMBER(A{at}),dose_lasts,NA())")
    across = (drawn, 1, first, last)
    chart = curve(
        "What is in the sump from the dose on",
        [
            (across, Line((drawn, 2, first, last), "in the sump", "1F6F78")),
            (across, Line((drawn, 3, first, last), "works down to", "B5651D", dash="dash")),
        ],
        (16.5, 7),
        "days from now",
        "mg/L",
    )
    sheet.add_chart(chart, f"A{row}")
