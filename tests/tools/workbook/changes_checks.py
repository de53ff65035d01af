"""Changes what was seen and measured, and checks the list of the morning each time."""

import listed
from asked import expect
from changes import Walk, sort
from held import STOPPED

CHECKS = 6  # the row of the first machine on the sheet of checks, from 0


def checks(walk: Walk) -> None:
    """Machines put in, sorted and taken out on the sheet of checks, what gets worse, and slips."""
    sheet = walk.document.Sheets.getByName("Checks")
    shown = walk.document.Sheets.getByName("Condition")

    def told(row: int) -> str:
        return shown.getCellByPosition(0, row).String

    def line(name: str) -> tuple:
        rows = listed.compare(walk.document, walk.service, "metric")
        return next((nth, row) for nth, row in enumerate(rows) if row[0] == name)

    walk.again()
    expect(told(2).startswith("The list of 2 Mar 2026. That is not today"), told(2))
    expect(
        told(4).startswith("6 machines of the sheet Readings not on the sheet Checks: machining centre 2"),
        told(4),
    )
    # One that carried on smells of rotten eggs: it is first, and nothing else sends anybody there.
    before = line("surface grinder")
    expect(before[1][1] == "Carry on", f"{before}")
    walk.type(sheet, 2, CHECKS + 9, "rotten eggs")
    walk.again()
    place, row = line("surface grinder")
    expect(
        place < 2 and row[1].startswith("Stop work") and row[2] == "today" and row[3] == "", f"{place} {row}"
    )
    grinder = walk.shown(15)
    expect(
        grinder[7] == "no answer" and grinder[9] == "" and grinder[16] == STOPPED,
        f"nothing is added: {grinder}",
    )
    # One put in among them, one not on Readings, one of which nothing is known but its name.
    sheet.Rows.insertByIndex(CHECKS + 3, 3)
    for nth, cells in enumerate(
        (
            ("five-axis mill", 46083.0, "fresh", "split", "none", "none", "no"),
            ("premix & tank", 46083.0, "musty", "as new", "over the edge", "none", "no", 9.0),
            ("nobody's",),
        )
    ):
        for column, what in enumerate(cells):
            walk.type(sheet, column, CHECKS + 3 + nth, what)
    walk.again()
    expect(line("five-axis mill")[1][1].startswith("Drain it to waste"), f"{line('five-axis mill')}")
    row = line("premix & tank")[1]
    expect(row[1].startswith("Dose a defoamer today") and listed.NOT_KNOWN in row[8], f"{row}")
    expect("The pH has no day" in row[8] and "pH (never written down)" in row[5], f"{row}")
    row = line("nobody's")[1]
    expect(row[1] == "not looked at" and row[5].count("never written down") == 6, f"{row}")
    # Sorted by another column, and a row taken out.
    sort(sheet.getCellRangeByPosition(0, CHECKS, 19, CHECKS + 14), 7, True)
    walk.again()
    sheet.Rows.removeByIndex(CHECKS + 2, 1)
    walk.again()
    # Slips: in the words of the sheet, and no member's name.
    for column, what, words in (
        (2, "mouldy", 'smell: "mouldy" is not allowed here. Use one of "fresh", "musty", "rotten eggs"'),
        (7, "nine", 'pH: This is the text "nine"'),
        (9, "2nd of March", 'pH on: "2nd of March" is no day'),
        (1, 46086.0, "seen on: 2026-03-05 is after the day of the round on the sheet Checks, 2026-03-02."),
    ):
        cell = sheet.getCellByPosition(column, CHECKS)
        kept, is_text = cell.Formula, cell.Type.value == "TEXT"
        walk.type(sheet, column, CHECKS, what)
        walk.again()
        row = line(sheet.getCellByPosition(0, CHECKS).String)[1]
        expect(words in row[8] and "ph.now" not in row[8] and "machines.0" not in row[8], f"{words}: {row}")
        cell.String = kept if is_text else ""
        if not is_text:
            cell.Value = float(kept)
    # Twice the same machine; no day of the round.
    name = sheet.getCellByPosition(0, CHECKS).String
    walk.type(sheet, 0, CHECKS + 14, name)
    walk.document.calculateAll()
    said = sheet.getCellByPosition(0, 3).String
    expect(said.startswith("A machine stands here twice"), f"{said!r}")
    walk.type(sheet, 0, CHECKS + 14, "")
    walk.type(sheet, 1, 2, "")
    walk.again()
    expect(told(2).startswith("There is no day"), told(2))
    expect("the round of: this is blank." in line(name)[1][8], f"{line(name)}")
    # Work goes on.
    for row in range(CHECKS, CHECKS + 20):
        if sheet.getCellByPosition(2, row).String == "rotten eggs":
            walk.type(sheet, 2, row, "fresh")
    walk.type(sheet, 1, 2, 46083.0)
    walk.again()
