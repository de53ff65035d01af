"""The look of the workbook: a few colours, each also explained in words."""

from openpyxl.styles import Alignment, Border, Font, NamedStyle, PatternFill, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation

INK, FAINT, LINE, FLUID, PALE = "1F2933", "55616C", "C9D1D8", "1F6F78", "CFE3E4"
FACE = "Liberation Sans"
TITLE = Font(name=FACE, size=16, bold=True, color=INK)
PART = Font(name=FACE, size=12, bold=True, color=INK)
QUIET = Font(name=FACE, size=9, color=FAINT)
SMALL = Font(name=FACE, size=9, color=INK)
BODY = Font(name=FACE, size=10, color=INK)
ALARM = Font(name=FACE, size=10, bold=True, color="9C2A10")
STRONG = Font(name=FACE, size=10, bold=True, color=INK)
LARGE = Font(name=FACE, size=13, bold=True, color=INK)
# Most people who confuse red and green can distinguish blue, green and orange.
WEAK, RIGHT, RICH, WRONG = "B9D7F2", "CDE8C4", "F7C58B", "E4E4E4"
THIN = Side(style="thin", color=LINE)
UNDER = Border(bottom=THIN)
HEAD_FILL = PatternFill("solid", fgColor="E9EEF2")
INVENTED = "An invented shop: no real machine, fluid or company."

INPUT = NamedStyle(
    name="typed in",
    font=BODY,
    fill=PatternFill("solid", fgColor="FFFBE6"),
    border=Border(left=THIN, right=THIN, top=THIN, bottom=THIN),
    alignment=Alignment(horizontal="right", vertical="center"),
)
HEADING = NamedStyle(
    name="heading of a column",
    font=STRONG,
    fill=HEAD_FILL,
    alignment=Alignment(horizontal="center", vertical="bottom", wrap_text=True),
)
LEFT = Alignment(horizontal="left", vertical="center", indent=1)
RIGHTWARDS = Alignment(horizontal="right", vertical="center", indent=1)
FLUSH = Alignment(horizontal="right", vertical="center")
CENTRE = Alignment(horizontal="center", vertical="center")
WRAPPED = Alignment(horizontal="left", vertical="center", wrap_text=True, indent=1)


def fill(colour: str) -> PatternFill:
    """A plain colour behind a cell."""
    return PatternFill("solid", fgColor=colour, bgColor=colour)


def spaced(form: str) -> str:
    """A number format that keeps a number off the border of its cell."""
    return form if form == "General" or "yy" in form else ";".join(f"{part}_i" for part in form.split(";"))


def put(sheet, place: str, what, font=BODY, align=LEFT, form: str | None = None):
    """Writes a cell."""
    cell = sheet[place]
    cell.value, cell.font, cell.alignment = what, font, align
    if form:
        cell.number_format = form
    return cell


def typed(sheet, place: str, what, form: str = "General", align=FLUSH):
    """A cell to type in."""
    cell = sheet[place]
    cell.value, cell.style = what, INPUT
    cell.number_format, cell.alignment = spaced(form), align
    return cell


# The last moment that is not still to come, for a day that something was done on.
BY_TODAY = "TODAY()+0.9999"


def open_sheet(sheet, title: str, told: str) -> None:
    """The first lines of a sheet."""
    sheet.sheet_view.showGridLines = False
    put(sheet, "A1", title, TITLE)
    put(sheet, "A2", told, QUIET)
    sheet.row_dimensions[1].height, sheet.row_dimensions[2].height = 26, 16


def heading(sheet, row: int, heads: list[tuple[str, str]], first: int = 1, height: float = 30) -> None:
    """Two rows of headings: the content of a column and its unit."""
    for column, (what, unit) in enumerate(heads, first):
        above, below = sheet.cell(row, column, what), sheet.cell(row + 1, column, unit or None)
        above.style = below.style = HEADING
        below.font = QUIET
        below.border = Border(bottom=Side(style="medium", color=FAINT))
    sheet.row_dimensions[row].height = height


def judge(sheet, cells: str, kind: str, said: str, least=None, most=None, within: str | None = None) -> None:
    """Sets what may be typed into some cells, and what is said of anything else."""
    rule = DataValidation(
        type=kind,
        operator=None if within else "between",
        formula1=within if within else str(least),
        formula2=None if within else str(most),
        allow_blank=True,
        showErrorMessage=True,
        errorStyle="stop",
        errorTitle="This cannot be meant",
        error=said,
    )
    sheet.add_data_validation(rule)
    for cell in cells.split():
        rule.add(cell)


def widths(sheet, each: list[float]) -> None:
    """Sets the widths of the columns, in characters."""
    for column, width in enumerate(each, 1):
        sheet.column_dimensions[get_column_letter(column)].width = width


def on_paper(sheet, heads: str | None = None, upright: bool = False) -> None:
    """Fits the sheet to the width of a page of A4, with its headings, the date and the number of the page."""
    sheet.page_setup.orientation = "portrait" if upright else "landscape"
    sheet.page_setup.paperSize = sheet.PAPERSIZE_A4
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.page_setup.fitToHeight = 0
    sheet.print_title_rows = heads
    for side, inches in (("left", 0.45), ("right", 0.45), ("top", 0.45), ("bottom", 0.65)):
        setattr(sheet.page_margins, side, inches)
    sheet.page_margins.footer = 0.3
    foot = sheet.oddFooter
    foot.left.text, foot.center.text, foot.right.text = "&A", "printed &D", "page &P of &N"
    for part in (foot.left, foot.center, foot.right):
        part.size = 8
