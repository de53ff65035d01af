"""Changes the machine and the moment on the sheet Log, and checks every cell each time."""

import office
from asked import expect
from changes import Walk


def states(walk: Walk) -> None:
    """What is in another machine, at other moments, and what is said where it cannot be told."""
    sheet, chosen, at = walk.log, office.name(walk.document, "log_of"), office.name(walk.document, "log_at")
    expect(at.String == "", f"no moment is typed yet: {at.String}")
    afternoon = 46084.58  # of 3 March, the day after the last entries
    at.Value = afternoon

    def said(row: int = 0) -> str:
        walk.again()
        return sheet.getCellByPosition(8, row).String

    # One addition is not in the log: the day on which that shows.
    chosen.String = "turning cell"
    found = said(2)
    expect(found.startswith("On 24 Feb, the level is ") and "too high" in found, f"{found!r}")
    at.Formula = ""
    after = walk.again() and walk.state["answer"]["now"]["volume"]
    at.Value = afternoon
    later = walk.again() and walk.state["answer"]["now"]["volume"]
    expect(after["value"] > later["value"] and after["u"] < later["u"], f"a day later: {after}, {later}")
    # Levels that creep up, reading after reading: a slow fault, with the day on which it began.
    chosen.String = "five-axis mill"
    mill = [row for row in range(6, 70) if sheet.getCellByPosition(1, row).String == "five-axis mill"]
    kept = [sheet.getCellByPosition(3, row).Value for row in mill]
    for nth, row in enumerate(mill):
        walk.type(sheet, 3, row, kept[nth] + max(0, nth - 6) * 12.0)
    found = said(2)
    expect(found.startswith("Since about ") and "hand the state" not in found, f"{found!r}")
    for level, row in zip(kept, mill):
        walk.type(sheet, 3, row, level)
    for moment, words in (
        (46080.0, "at: this is before its last entry."),
        (46700.0, "2 Mar: By the log, the sump would be dry"),
        ("tomorrow", "at: "),
    ):
        if isinstance(moment, str):
            at.String = moment
        else:
            at.Value = moment
        found = said()
        expect(found.startswith(words), f"{moment}: {found!r}")
    at.Value = afternoon
    for name, words in (
        ("lathe 2", "The log has no entry of this machine"),
        ("lathe 99", "This machine is not on the sheet Readings"),
        ("", "Choose a machine"),
    ):
        chosen.String = name
        expect(said().startswith(words), f"{name!r}: {said()!r}")
    chosen.String = "lathe 1"
    walk.again()
