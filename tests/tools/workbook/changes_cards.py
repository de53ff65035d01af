"""Changes the sheets of one question each, and checks every cell each time."""

import cards
from asked import expect
from changes import Walk


def questions(walk: Walk) -> None:
    """Other entries on the sheets of one question each, rows put in and taken out, and slips."""
    dose_and_water(walk)
    batch, factor, volume, waste = (
        walk.document.Sheets.getByName(name) for name in ("Batch", "Factor", "Volume", "Waste")
    )
    batch.Rows.insertByIndex(12, 1)
    for column, what in enumerate(("rinse water & more", 0.5, 100.0, 0.001)):
        walk.type(batch, column, 12, what)
    factor.Rows.removeByIndex(9, 1)
    walk.type(factor, 1, 8, 0.95)
    walk.type(volume, 1, 8, 50.0)
    walk.type(volume, 0, 15, "lying cylinder")
    walk.type(volume, 2 + 5, 15, 300.0)
    walk.type(volume, 1, 15, 400.0)
    walk.type(waste, 6, 11, 3.0)
    walk.type(waste, 0, 23, "wash water")
    walk.document.calculateAll()
    cards.compare(walk.document, walk.service, "metric")
    # More than an address has room for.
    kept = [waste.getCellByPosition(0, row).String for row in range(11, 17)]
    for nth, row in enumerate(range(11, 17)):
        walk.type(waste, 0, row, f"{'a group with a long name ' * 12}{nth}")
    walk.document.calculateAll()
    said = waste.getCellByPosition(0, 27).String
    expect("too much for one address" in said and "2,048" in said, f"a long question: {said!r}")
    expect(waste.getCellByPosition(1, 34).String == "", "and no number stays")
    for name, row in zip(kept, range(11, 17)):
        walk.type(waste, 0, row, name)
    # More rows than are asked about.
    batch.Rows.insertByIndex(17, 3)
    walk.type(batch, 0, 22, "one more water")
    walk.type(batch, 1, 22, 0.0)
    walk.document.calculateAll()
    said = batch.getCellByPosition(0, 24).String
    expect("more rows than can be asked about" in said, f"many rows: {said!r}")
    batch.Rows.removeByIndex(17, 3)
    walk.type(batch, 0, 19, "")
    walk.type(batch, 1, 19, "")
    # One that no batch reaches, a mix alone, a sump fuller than its brim, a group without a volume.
    walk.type(batch, 1, 6, 100.0)
    walk.type(batch, 1, 11, "strong")
    for row in range(8, 19):
        walk.type(factor, 1, row, "")
        walk.type(factor, 0, row, "")
    walk.type(volume, 1, 5, 9000.0)
    walk.type(waste, 2, 12, "")
    walk.document.calculateAll()
    cards.compare(walk.document, walk.service, "metric")
    said = waste.getCellByPosition(0, 27).String
    expect("group 2, one holds: this is blank." in said, f"the sheet's own words: {said!r}")
    said = batch.getCellByPosition(0, 21).String
    expect('stock 1, strength: This is the text "strong"' in said, f"the sheet's own words: {said!r}")


def dose_and_water(walk: Walk) -> None:
    """Other doses and waters: beyond the label, without a density, in other units, none made, and slips."""
    dose, water = (walk.document.Sheets.getByName(name) for name in ("Dose", "Water"))

    def said(sheet, row: int) -> str:
        walk.document.calculateAll()
        cards.compare(walk.document, walk.service, "metric")
        return sheet.getCellByPosition(0, row).String

    for column, row, what, words in (
        (5, 5, 700.0, "wanted in it: This takes"),
        (5, 5, 1500.0, "Measure out 120 mL"),
        (5, 8, 500.0, "Measure out"),
        (5, 9, 3.0, "that long ago: biocide A was dosed 3 days ago"),
        (5, 9, 9.0, "Measure out"),
        (5, 8, 1500.0, "Measure out 120 mL"),
        (1, 6, "", "Weigh out 0.126 kg"),
        (5, 7, 1500.0, "No dose"),
        (1, 5, "pH adjuster", "No dose"),
        (5, 7, 200.0, "Weigh out"),
        (1, 7, "", "in the sump: this is blank."),
        (1, 7, 160.0, "Weigh out"),
        (5, 8, "", "last dose came to: this is blank."),
    ):
        walk.type(dose, column, row, what)
        found = said(dose, 14)
        expect(words in found, f"{words!r}: {found!r}")
    water.Rows.insertByIndex(12, 1)
    for column, what in enumerate(("softened & warm", 0.5, "gpg", "", "", 48.0)):
        walk.type(water, column, 12, what)
    walk.type(water, 9, 12, "yes")
    expect("Mix " in said(water, 17), said(water, 17))
    walk.type(water, 2, 12, "mmol/L")
    walk.type(water, 2, 10, "mg/L")
    said(water, 17)
    walk.type(water, 1, 10, "")
    found = said(water, 17)
    expect("water 1, hardness: this is blank." in found, f"{found!r}")
    walk.type(water, 2, 10, "")
    said(water, 17)
    # None of them is soft enough.
    walk.type(water, 5, 5, 0.01)
    walk.type(water, 4, 5, "")
    found = said(water, 17)
    expect(found.startswith("hardness to: "), f"{found!r}")
    # Judged alone.
    for column, row in ((5, 5), (7, 5), (1, 4), (1, 5)):
        walk.type(water, column, row, "")
    found = said(water, 17)
    expect(found.startswith("town water has a hardness"), f"{found!r}")
