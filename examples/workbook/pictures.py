#!/usr/bin/env python3
"""Takes the pictures of examples/README.md and of README.md (the workbook) from the running programs.

    examples/workbook/pictures.py [--client FILE] [--sheets]

Needs the service running at its usual address, libreoffice-calc, python3-uno,
poppler-utils and curl. What a terminal shows is drawn from what the commands of the
page print; a client that is built already may be named.
"""

import argparse
import re
import shutil
import subprocess
import tempfile
from html import escape
from pathlib import Path

import office

EXAMPLES = Path(__file__).resolve().parent.parent
PICTURES = EXAMPLES / "pictures"
PAGE = (EXAMPLES / "README.md").read_text()
CENTRED = 2  # com.sun.star.table.CellVertJustify2.CENTER
WIDEST = 118  # characters of a terminal
CALLED = "sumpwright-client"  # as the page calls the client
CLIENT = "cargo run --release -q -p sumpwright-client --"


# What is shown of each sheet, its charts included, and the dots of an inch.
SHEETS = {
    "Readings": ("A1:M224", 72),
    "Condition": ("A1:I226", 60),
    "Checks": ("A1:T224", 66),
    "Log": ("A1:Q39", 66),
    "Losses": ("A1:J225", 66),
    "Batch": ("A1:H54", 78),
    "Dose": ("A1:H44", 78),
    "Water": ("A1:N48", 72),
    "Factor": ("A1:H48", 78),
    "Volume": ("A1:H70", 74),
    "Waste": ("A1:J65", 72),
}


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--client", default=CLIENT, help="the client, built already")
    parser.add_argument("--sheets", action="store_true", help="the pictures of the sheets alone")
    options = parser.parse_args()
    PICTURES.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        book = folder / "sumps.ods"
        shutil.copy(EXAMPLES / "sumps.ods", book)
        with office.running(folder) as desk:
            with office.opened(desk, book) as document:
                for units in ("metric", "us"):
                    office.name(document, "units").String = units
                    document.calculateAll()
                    if units == "metric":
                        sheet(document, folder, "Sumps", "A1:Q231", "sumps-metric", 66)
                        sheet(document, folder, "Sumps", "A1:P17", "workbook", 58)
                        for name, (cells_shown, dots) in SHEETS.items():
                            sheet(document, folder, name, cells_shown, name.lower(), dots)
                    else:
                        sheet(document, folder, "Sumps", "A1:Q28", "sumps-us", 66)
            cells(desk, folder)
    if not options.sheets:
        for section in ("table", "client"):
            terminal(section, options.client)


def sheet(document, folder: Path, name: str, shown: str, picture_name: str, dots: int) -> None:
    """A part of a sheet, as large as it is."""
    place = document.Sheets.getByName(name)
    area = place.getCellRangeByName(shown)
    for other in document.Sheets:
        other.setPrintAreas(())
    for other in document.Sheets:
        # A sheet without an area is printed as soon as no sheet has one.
        other.setPrintAreas((area.RangeAddress,) if other.Name == name else ())
    place.setPrintTitleRows(False)
    style = document.StyleFamilies.getByName("PageStyles").getByName(place.PageStyle)
    style.ScaleToPagesX = style.ScaleToPagesY = 0
    style.PageScale = 100
    style.HeaderIsOn = style.FooterIsOn = False
    style.LeftMargin = style.RightMargin = style.TopMargin = style.BottomMargin = 400
    style.IsLandscape = True
    style.Width, style.Height = area.Size.Width + 900, area.Size.Height + 900
    picture(document, folder, picture_name, None, dots)


def cells(desk, folder: Path) -> None:
    """The cells of the page, typed into an empty sheet as the page describes."""
    path = folder / "cell.ods"
    empty = desk.loadComponentFromURL("private:factory/scalc", "_blank", 0, office.said(Hidden=True))
    office.store(empty, path, "calc8")
    empty.close(True)
    formulas = re.findall(r"```text\n(=.*?)```", PAGE, re.S)
    with office.opened(desk, path) as document:
        sheet = document.Sheets.getByIndex(0)
        heads = ["machine", "full at", "in the sump", "reads", "add concentrate", "the cell holds"]
        for column, head in enumerate(heads):
            sheet.getCellByPosition(column, 0).String = head
        sheet.getCellRangeByPosition(0, 0, 5, 0).CharWeight = 150.0
        typed = [("machining centre 7, in litres", 200, 140), ("the same in US gallons", 52.834, 36.984)]
        for row, (formula, (name, full, volume)) in enumerate(zip(formulas, typed), 1):
            sheet.getCellByPosition(0, row).String = name
            for column, number in enumerate((full, volume, 5.6), 1):
                sheet.getCellByPosition(column, row).Value = number
            put = sheet.getCellByPosition(4, row)
            # As a user would paste it, with the separators of the locale.
            put.FormulaLocal = re.sub(r"\n\s*", "", formula).replace("2&", f"{row + 1}&")
            put.NumberFormat = document.NumberFormats.queryKey("0.00", put.CharLocale, False)
            sheet.getCellByPosition(5, row).Formula = f"=FORMULA(E{row + 1})"
            sheet.getCellByPosition(5, row).IsTextWrapped = True
            sheet.getCellRangeByPosition(0, row, 5, row).VertJustify = CENTRED
        for column, width in enumerate((5200, 1800, 2400, 1600, 3200, 17000)):
            sheet.Columns.getByIndex(column).Width = width
        sheet.Rows.OptimalHeight = True
        document.calculateAll()
        style = document.StyleFamilies.getByName("PageStyles").getByIndex(0)
        style.IsLandscape, style.Width, style.Height = True, 34400, 5300
        style.LeftMargin = style.RightMargin = style.TopMargin = style.BottomMargin = 300
        style.HeaderIsOn = style.FooterIsOn = False
        style.PrintGrid = style.PrintHeaders = True
        picture(document, folder, "cell", None, 110)


def picture(document, folder: Path, name: str, cut: tuple | None, dots: int) -> None:
    """The first page as LibreOffice prints it, cropped to its content."""
    printed = folder / f"{name}.pdf"
    office.store(document, printed, "calc_pdf_Export")
    command = ["pdftoppm", "-png", "-singlefile", "-f", "1", "-r", str(dots)]
    if cut:
        command += [word for flag, size in zip(("-x", "-y", "-W", "-H"), cut) for word in (flag, str(size))]
    subprocess.run([*command, printed, PICTURES / name], check=True)


def terminal(name: str, client: str) -> None:
    """The commands of the page's section and their output, as a drawing."""
    section = re.search(rf"<!-- {name} -->\n```sh\n(.*?)```", PAGE, re.S)[1]
    lines = []
    with tempfile.TemporaryDirectory() as folder:
        for command in re.sub(r"\\\n\s*", "", section).strip().splitlines():
            shown = [command[at : at + WIDEST - 2] for at in range(0, len(command), WIDEST - 2)]
            lines += [("$ " if not at else "  ") + line for at, line in enumerate(shown)]
            # The same commands with different paths of the client and the answers.
            run = command.replace(CALLED, client).replace("answers.", f"{folder}/answers.")
            ran = subprocess.run(run, shell=True, cwd=EXAMPLES.parent, capture_output=True, text=True)
            for line in (ran.stdout + ran.stderr).replace(f"{folder}/", "").splitlines():
                lines += [line[at : at + WIDEST] for at in range(0, len(line), WIDEST)] or [""]
    height = 17 * len(lines) + 24
    rows = "".join(
        f'<text x="14" y="{17 * place + 27}" xml:space="preserve">{escape(line)}</text>'
        for place, line in enumerate(lines)
    )
    (PICTURES / f"{name}.svg").write_text(
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDEST * 7.85 + 28:.0f}" height="{height}" '
        f'font-family="DejaVu Sans Mono, monospace" font-size="13" fill="#1f2933">'
        f'<rect width="100%" height="100%" rx="6" fill="#f4f6f8" stroke="#c9d1d8"/>{rows}</svg>\n'
    )


if __name__ == "__main__":
    main()
