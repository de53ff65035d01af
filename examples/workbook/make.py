#!/usr/bin/env python3
"""Makes the demo shop's workbook, sumps.xlsx and sumps.ods, and readings.ods from
readings.csv, beside the examples.

    examples/workbook/make.py

Needs the service running at its usual address, whose answers the .ods keeps, and
Debian's libreoffice-calc, python3-uno and python3-openpyxl. The same service makes
the same bytes, but for the order in which LibreOffice writes the parts of an .ods.

The workbook keeps its questions on a sheet of their own. Readings is typed, Asked makes
addresses of it and holds what came back as text, Sumps reads that. A number goes out through
SUBSTITUTE(…;",";".") and comes back through NUMBERVALUE(…;"."), so that no locale matters; what is
no number is a sentence for the last column, thanks to problems=as_text, which therefore names the
member. The test asks the same by JSON from what is typed, in both units and in a locale with commas,
and where no unit changes the cells are equal to the last bit. Excel is held to by its documented
limits alone (address 2,048, answer 32,767 characters): there is none here to try.
"""

import re
import shutil
import tempfile
import zipfile
from pathlib import Path

import board
import office
import service
from look import BODY, INPUT, QUIET, TITLE, heading, on_paper, widths
from openpyxl import Workbook
from openpyxl.styles import Alignment
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation
from shop import MACHINES, READ_ON

HERE = Path(__file__).resolve().parent
EXAMPLES = HERE.parent
MADE = "2026-03-02T06:00:00Z"
CENTRED = 2  # com.sun.star.table.CellVertJustify2.CENTER
LITRES = 3.785411784  # in a US gallon, exactly (NIST SP 811)
NAMES = {
    "server": "Sumps!$C$3",
    "units": "Sumps!$C$4",
    "written_in": "Readings!$C$3",
    "litres_in_a_gallon": "Asked!$C$3",
    "scale": "Asked!$C$4",
}


def main() -> None:
    book = Workbook()
    book._named_styles["Normal"].font = BODY
    board.fill(book.active)
    readings(book.create_sheet("Readings"))
    service.fill(book.create_sheet("Asked"), LITRES)
    for name, place in NAMES.items():
        book.defined_names.append(DefinedName(name, attr_text=place))
    book.calculation.fullCalcOnLoad = True
    book.properties.creator = "Sumpwright examples"
    book.properties.title = "Sumps of an invented shop"
    with tempfile.TemporaryDirectory() as folder:
        plain, opened = Path(folder, "sumps.xlsx"), Path(folder, "sumps.ods")
        book.save(plain)
        with office.running(folder) as desk, office.opened(desk, plain) as document:
            document.calculateAll()
            for style in document.StyleFamilies.getByName("CellStyles"):
                # The style of a conditional colour moves its text down.
                if "ondition" in style.Name:
                    style.VertJustify = CENTRED
            office.store(document, opened, "calc8")
        table = Path(folder, "readings.ods")
        with (
            office.running(folder, "en-US") as desk,
            office.opened(desk, EXAMPLES / "readings.csv") as document,
        ):
            office.store(document, table, "calc8")
        for made in (plain, opened, table):
            steady(made)
            shutil.copy(made, EXAMPLES / made.name)


def readings(sheet) -> None:
    """Writes the sheet of readings typed on the round."""
    sheet["A1"], sheet["A1"].font = "What the round found", TITLE
    sheet["A2"], sheet["A2"].font = "Type here, and here alone. An invented shop.", QUIET
    sheet["A3"], sheet["C3"] = "these readings are in", "metric"
    sheet["A3"].font = BODY
    sheet["D3"], sheet["D3"].font = "metric (litres) or us (US gallons)", QUIET
    sheet["C3"].style = INPUT
    choice = DataValidation(type="list", formula1='"metric,us"', allow_blank=False)
    sheet.add_data_validation(choice)
    choice.add("C3")
    volume = '=IF(written_in="us","gal","L")'
    rate = '=IF(written_in="us","gal/day","L/day")'
    heads = [
        ("machine", ""),
        ("read on", ""),
        ("full at", volume),
        ("in the sump", volume),
        ("reads", "°Brix"),
        ("factor", "%/°Brix"),
        ("band from", "% vol"),
        ("aim for", "% vol"),
        ("band to", "% vol"),
        ("keep above", volume),
        ("lost to the air", rate),
        ("carried off", rate),
        ("remark", ""),
    ]
    heading(sheet, 5, heads)
    judged(sheet)
    for row, machine in enumerate(MACHINES, service.FIRST):
        named, full, found, reads, factor, band, least, air, off, remark = machine
        cells = [named, READ_ON, full, found, reads, factor, *band, least, air, off, remark]
        for column, cell in enumerate(cells, 1):
            place = sheet.cell(row, column, cell or None)
            place.style = INPUT
            sheet.row_dimensions[row].height = 17
            place.number_format = FORMATS.get(place.column_letter, "General")
            if column in (1, 13):
                place.alignment = Alignment(horizontal="left", vertical="center", indent=1)
    widths(sheet, [22, 13, *[10] * 8, 12, 12, 40])
    sheet.freeze_panes = "B7"
    on_paper(sheet)


# Number formats of the typed cells. A cell with its own format does not become a
# percentage when a per cent sign is typed.
FORMATS = {
    "B": "yyyy-mm-dd",
    **dict.fromkeys("CDJ", "#,##0.0"),
    **dict.fromkeys("EGHI", "0.0##"),
    "F": "0.00##",
    **dict.fromkeys("KL", "0.0##"),
}
# The range of each typed column, and the message for any other value.
PLAIN = "Type the number alone, without the per cent sign: 6, not 6% (which is 0.06)."
JUDGED = {
    "B": ("date", "DATE(2000,1,1)", "DATE(2100,1,1)", "The day of the reading."),
    "CDJKL": ("decimal", 0, 1e9, "A number that is not below 0."),
    "E": ("decimal", 0.2, 95, f"What the instrument reads, in °Brix. {PLAIN}"),
    "FGHI": ("decimal", 0.5, 100, f"From 0.5 to 100. {PLAIN}"),
}


def judged(sheet) -> None:
    """Sets the validity of the typed cells, down to the last machine."""
    last = service.FIRST + service.READY - 1
    for letters, (kind, least, most, said) in JUDGED.items():
        rule = DataValidation(
            type=kind,
            operator="between",
            formula1=str(least),
            formula2=str(most),
            allow_blank=True,
            showErrorMessage=True,
            errorStyle="stop",
            errorTitle="What the round found",
            error=said,
        )
        sheet.add_data_validation(rule)
        for letter in letters:
            rule.add(f"{letter}{service.FIRST}:{letter}{last}")
    for letter, form in FORMATS.items():
        for row in range(service.FIRST, last + 1):
            sheet[f"{letter}{row}"].number_format = form


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
