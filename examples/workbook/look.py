"""The look of the workbook: a few colours, each also explained in words."""

from openpyxl.styles import Alignment, Border, Font, NamedStyle, PatternFill, Side
from openpyxl.utils import get_column_letter

INK, FAINT, LINE = "1F2933", "5F6B76", "C9D1D8"
TITLE = Font(name="Liberation Sans", size=16, bold=True, color=INK)
QUIET = Font(name="Liberation Sans", size=9, color=FAINT)
SMALL = Font(name="Liberation Sans", size=9, color=INK)
BODY = Font(name="Liberation Sans", size=10, color=INK)
ALARM = Font(name="Liberation Sans", size=9, color="9C2A10")
STRONG = Font(name="Liberation Sans", size=10, bold=True, color=INK)
# Most people who confuse red and green can distinguish blue, green and orange.
WEAK, RIGHT, RICH, WRONG = "B9D7F2", "CDE8C4", "F7C58B", "E4E4E4"
THIN = Side(style="thin", color=LINE)
UNDER = Border(bottom=THIN)
HEAD_FILL = PatternFill("solid", fgColor="E9EEF2")

INPUT = NamedStyle(
    name="typed in",
    font=BODY,
    fill=PatternFill("solid", fgColor="FFFBE6"),
    border=Border(left=THIN, right=THIN, top=THIN, bottom=THIN),
    alignment=Alignment(horizontal="right", vertical="center", indent=1),
)
HEADING = NamedStyle(
    name="heading of a column",
    font=STRONG,
    fill=HEAD_FILL,
    alignment=Alignment(horizontal="center", vertical="bottom", wrap_text=True),
)


def fill(colour: str) -> PatternFill:
    """A plain colour behind a cell."""
    return PatternFill("solid", fgColor=colour, bgColor=colour)


def heading(sheet, row: int, heads: list[tuple[str, str]]) -> None:
    """Two rows of headings: the content of a column and its unit."""
    for column, (what, unit) in enumerate(heads, 1):
        above, below = sheet.cell(row, column, what), sheet.cell(row + 1, column, unit or None)
        above.style = below.style = HEADING
        below.font = QUIET
        below.border = Border(bottom=Side(style="medium", color=FAINT))
    sheet.row_dimensions[row].height = 30


def widths(sheet, each: list[float]) -> None:
    """Sets the widths of the columns, in characters."""
    for column, width in enumerate(each, 1):
        sheet.column_dimensions[get_column_letter(column)].width = width


def on_paper(sheet) -> None:
    """Fits the sheet to the width of a landscape A4 page."""
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.paperSize = sheet.PAPERSIZE_A4
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.page_setup.fitToHeight = 0
    for side in ("left", "right", "top", "bottom"):
        setattr(sheet.page_margins, side, 0.4)
