#!/usr/bin/env python3
"""Makes the demo shop's workbook, sumps.xlsx and sumps.ods, and readings.ods from
readings.csv, beside the examples.

    examples/workbook/make.py

Needs the service running at its usual address, whose answers both files keep, and Debian's
libreoffice-calc, python3-uno and python3-openpyxl. The same service makes the same bytes, but for the
order in which LibreOffice writes the parts of an .ods.

The workbook keeps its questions on sheets of their own. Readings, Log and Checks are typed, Asked and Asked
checks make addresses of them and hold what came back as text, Sumps, Losses and Condition read that; a
sheet that asks one question has its part of Asked once. A number goes out through SUBSTITUTE(…;",";".") and
comes back through NUMBERVALUE(…;"."), so that no locale matters; what is no number is a sentence for a
person, thanks to problems=as_text. Typed cells are found by their place within named ranges, so that rows
may be inserted, deleted and sorted. Both files are calculated once by LibreOffice, and the .xlsx then gets
the value of every formula, so that a program that does not compute shows it as well. The test asks the same
by JSON from what is typed. Excel is held to by its documentation alone (limits, names of functions): there
is none here to try.
"""

import re
import shutil
import tempfile
import zipfile
from pathlib import Path

import batch
import board
import checks
import conditions
import dose
import entries
import factor
import log
import losses
import machines
import morning
import office
import once
import ranked
import readings
import state
import values
import volume
import waste
import water
from look import BODY
from openpyxl import Workbook
from openpyxl.workbook.defined_name import DefinedName
from shop import MACHINES

HERE = Path(__file__).resolve().parent
EXAMPLES = HERE.parent
MADE = "2026-03-02T06:00:00Z"
CENTRED = 2  # com.sun.star.table.CellVertJustify2.CENTER
LITRES = 3.785411784  # in a US gallon, exactly (NIST SP 811)
SPARE = 3  # rows for more machines that are shown
# The sheets behind the first, those that are behind them, and those of all that only show.
TITLES = (
    *("Readings", "Condition", "Checks", "Log", "Losses"),
    *("Batch", "Dose", "Water", "Factor", "Volume", "Waste"),
)
BEHIND = ("Asked", "Asked log", "Asked checks", "Asked once", "Drawn")
ANSWERS = ("Sumps", "Condition", "Losses")
NAMES = {
    "server": "Sumps!$C$3",
    "units": "Sumps!$C$4",
    "key": "Sumps!$C$5",
    "written_in": "Readings!$C$3",
    # Longer than what is asked about, so that what is too much is seen.
    "readings": f"Readings!$A$6:$M${2 * readings.LAST}",
    "log_rows": f"Log!$A$6:$G${2 * log.LAST}",
    "litres_in_a_gallon": "Asked!$B$3",
    "scale": "Asked!$D$3",
    "service": "Asked!$I$4",
    "asking": "Asked!$J$4",
    "connection": "Asked!$L$4",
    "room": "'Asked log'!$B$3",
}


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        plain, opened, table = (Path(folder, name) for name in ("sumps.xlsx", "sumps.ods", "readings.ods"))
        book().save(plain)
        with office.running(folder) as desk, office.opened(desk, plain) as document:
            document.calculateAll()
            found, charts = values.of(document), values.drawn(document, plain)
            for style in document.StyleFamilies.getByName("CellStyles"):
                # The style of a conditional colour moves its text down.
                if "ondition" in style.Name:
                    style.VertJustify = CENTRED
            office.store(document, opened, "calc8")
        values.put(plain, found, charts)
        with (
            office.running(folder, "en-US") as desk,
            office.opened(desk, EXAMPLES / "readings.csv") as document,
        ):
            office.store(document, table, "calc8")
        for made in (plain, opened, table):
            steady(made)
            shutil.copy(made, EXAMPLES / made.name)


def book() -> Workbook:
    """The workbook, without the values of its formulas."""
    made = Workbook()
    made._named_styles["Normal"].font = BODY
    shown, names = len(MACHINES) + SPARE, dict(NAMES)
    board_sheet = made.active
    sheets = {title: made.create_sheet(title) for title in (*TITLES, *BEHIND)}
    drawn, asked_once = sheets["Drawn"], sheets["Asked once"]
    drawn.sheet_view.showGridLines = False
    drawn.print_area = "A1:C3"
    once.fill(asked_once)
    board.fill(board_sheet, shown)
    readings.fill(sheets["Readings"], shown)
    log.fill(sheets["Log"])
    log.draw(sheets["Log"], drawn)
    losses.fill(sheets["Losses"], shown)
    checks.fill(sheets["Checks"], names)
    morning.fill(sheets["Condition"], checks.SHOWN)
    batch.fill(sheets["Batch"], asked_once, names)
    dose.fill(sheets["Dose"], asked_once, drawn, names)
    water.fill(sheets["Water"], asked_once, names)
    factor.fill(sheets["Factor"], asked_once, drawn, names)
    volume.fill(sheets["Volume"], asked_once, drawn, names)
    waste.fill(sheets["Waste"], asked_once, names)
    state.fill(sheets["Log"], asked_once, names)
    of_strengths, of_levels, of_losses, of_ph = ranked.fill(drawn, 16)
    board.draw(board_sheet, drawn, of_strengths)
    readings.draw(sheets["Readings"], drawn, of_levels)
    losses.draw(sheets["Losses"], drawn, of_losses)
    checks.draw(sheets["Checks"], drawn, of_ph)
    morning.draw(sheets["Condition"], drawn, of_ph + 5)
    machines.fill(sheets["Asked"], LITRES)
    entries.fill(sheets["Asked log"])
    conditions.fill(sheets["Asked checks"])
    for name, place in names.items():
        made.defined_names.append(DefinedName(name, attr_text=place))
    for titles, colour in ((ANSWERS, "1F6F78"), (BEHIND, "C9D1D8")):
        for title in titles:
            made[title].sheet_properties.tabColor = colour
    made.calculation.fullCalcOnLoad = True
    made.properties.creator = "Sumpwright examples"
    made.properties.title = "Sumps of an invented shop"
    return made


def steady(path: Path) -> None:
    """The same file without the parts that change each time it is made."""
    with zipfile.ZipFile(path) as archive:
        parts = [(name, archive.read(name)) for name in archive.namelist()]
    parts = [part for part in parts if not part[0].startswith(("Thumbnails/", "Configurations2/"))]
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts:
            if name in ("docProps/core.xml", "meta.xml"):
                content = re.sub(rb"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d[.\d]*Z?<", MADE.encode() + b"<", content)
                content = re.sub(rb"<meta:editing-duration>.*?</meta:editing-duration>", b"", content)
            if name == "META-INF/manifest.xml":
                content = re.sub(
                    rb'\s*<manifest:file-entry [^>]*"(Thumbnails|Configurations2)/[^>]*/>', b"", content
                )
            stored = zipfile.ZipInfo(name, (2026, 3, 2, 6, 0, 0))
            stored.compress_type = zipfile.ZIP_STORED if name == "mimetype" else zipfile.ZIP_DEFLATED
            archive.writestr(stored, content)


if __name__ == "__main__":
    main()
