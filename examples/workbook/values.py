"""Puts the value of every formula into an .xlsx, for programs that show a workbook and do not compute."""

import re
import zipfile
from pathlib import Path
from xml.sax.saxutils import escape

from com.sun.star.sheet.FormulaResult import ERROR, STRING, VALUE

# What Excel calls the errors that LibreOffice has numbers for.
ERRORS = {32767: "#N/A", 532: "#DIV/0!", 524: "#REF!", 525: "#NAME?", 519: "#VALUE!"}


def of(document) -> dict[str, dict[str, tuple[str, str]]]:
    """The value of each formula cell by the name of its sheet and its own: the kind and the text of it."""
    found = {}
    for sheet in document.Sheets:
        cells = found[sheet.Name] = {}
        for kind, what in ((VALUE, "n"), (STRING, "str"), (ERROR, "e")):
            for span in sheet.queryFormulaCells(kind):
                place = span.RangeAddress
                for row, line in enumerate(span.DataArray, place.StartRow):
                    for column, value in enumerate(line, place.StartColumn):
                        cells[name(column, row)] = (what, worded(sheet, column, row, value, what))
    return found


def drawn(document, path: Path) -> dict[str, list]:
    """What each range that a chart draws holds."""
    with zipfile.ZipFile(path) as archive:
        charts = [
            archive.read(part).decode() for part in archive.namelist() if part.startswith("xl/charts/chart")
        ]
    found = {}
    for place in {place for chart in charts for place in re.findall(r"<f>(.*?)</f>", chart)}:
        title, cells = place.rsplit("!", 1)
        span = document.Sheets.getByName(title.strip("'")).getCellRangeByName(cells.replace("$", ""))
        found[place] = [value for row in span.DataArray for value in row]
    return found


def worded(sheet, column: int, row: int, value, what: str) -> str:
    """A value as the file writes it."""
    if what == "e":
        return ERRORS.get(sheet.getCellByPosition(column, row).getError(), "#VALUE!")
    if isinstance(value, float):
        return repr(int(value)) if value.is_integer() and abs(value) < 1e15 else repr(value)
    return str(value)


def name(column: int, row: int) -> str:
    """A cell's name, from its column and row counted from 0."""
    letters = ""
    column += 1
    while column:
        column, letter = divmod(column - 1, 26)
        letters = chr(65 + letter) + letters
    return f"{letters}{row + 1}"


def put(path: Path, found: dict[str, dict[str, tuple[str, str]]], charts: dict[str, list]) -> None:
    """Writes the values into the file, those of formulas and those that charts draw."""
    with zipfile.ZipFile(path) as archive:
        parts = {part: archive.read(part) for part in archive.namelist()}
    book, rels = parts["xl/workbook.xml"].decode(), parts["xl/_rels/workbook.xml.rels"].decode()
    targets = {}
    for relation in re.findall(r"<Relationship [^>]*>", rels):
        targets[re.search(r'Id="(.*?)"', relation)[1]] = re.search(r'Target="/?(.*?)"', relation)[1]
    for sheet in re.findall(r"<sheet [^>]*>", book):
        title, relation = re.search(r' name="(.*?)"', sheet)[1], re.search(r'r:id="(.*?)"', sheet)[1]
        part = targets[relation]
        part = part if part.startswith("xl/") else f"xl/{part}"
        parts[part] = filled(parts[part].decode(), found[title]).encode()
    for part in [part for part in parts if part.startswith("xl/charts/chart")]:
        parts[part] = pictured(parts[part].decode(), charts).encode()
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for part, content in parts.items():
            archive.writestr(part, content)


def filled(text: str, values: dict[str, tuple[str, str]]) -> str:
    """A sheet with the values of its formulas."""

    def one(match: re.Match) -> str:
        place, rest, formula = match.groups()
        kind, value = values[place]
        if kind == "n" and ",FALSE,ISNUMBER(" in formula:
            kind = "b"
        rest = re.sub(r'\s+t="\w+"', "", rest)
        typed = "" if kind == "n" else f' t="{kind}"'
        return f'<c r="{place}"{rest}{typed}><f>{formula}</f><v>{escape(value)}</v></c>'

    return re.sub(r'<c r="([A-Z]+\d+)"([^>]*)><f>(.*?)</f><v ?/?>(?:</v>)?</c>', one, text, flags=re.S)


def pictured(text: str, charts: dict[str, list]) -> str:
    """A chart with what it draws."""

    def one(match: re.Match) -> str:
        place = match[1]
        values = charts[place]
        is_text = any(isinstance(value, str) and value for value in values)
        kind = "str" if is_text else "num"
        points = "".join(
            f'<pt idx="{nth}"><v>{escape(str(value))}</v></pt>'
            for nth, value in enumerate(values)
            if isinstance(value, str if is_text else float)
        )
        form = "" if is_text else "<formatCode>General</formatCode>"
        cache = f'<{kind}Cache>{form}<ptCount val="{len(values)}" />{points}</{kind}Cache>'
        return f"<{kind}Ref><f>{place}</f>{cache}</{kind}Ref>"

    return re.sub(r"<numRef><f>(.*?)</f></numRef>", one, text)
