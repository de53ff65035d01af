"""The charts of the workbook, alike in their look."""

from typing import NamedTuple

from look import FACE, INK
from openpyxl.chart import BarChart, LineChart, Reference, ScatterChart, Series
from openpyxl.chart.legend import LegendEntry
from openpyxl.chart.shapes import GraphicalProperties
from openpyxl.chart.text import RichText
from openpyxl.drawing.line import LineProperties
from openpyxl.drawing.text import CharacterProperties, Font, Paragraph, ParagraphProperties

SOFT, RULE = "55616C", "DDE3E8"


class Line(NamedTuple):
    """A series: where its numbers stand, its name, its colour, and how it is drawn."""

    cells: tuple
    name: str
    colour: str | None
    dash: str | None = None
    marks: str | None = None
    joined: bool = True


def letters(size: int, bold: bool = False, colour: str = SOFT) -> CharacterProperties:
    """How letters look; `size` in points."""
    return CharacterProperties(sz=size * 100, b=bold, solidFill=colour, latin=Font(typeface=FACE))


def reference(cells: tuple) -> Reference:
    """A column of cells: sheet, column, first row, last row."""
    sheet, column, first, last = cells
    return Reference(sheet, min_col=column, min_row=first, max_row=last)


def dressed(chart, title: str, size: tuple[float, float], across: str | None = None, up: str | None = None):
    """Title, axes and size (cm), as all charts have them."""
    chart.title = title
    paragraph = chart.title.tx.rich.p[0]
    paragraph.pPr = ParagraphProperties(defRPr=letters(11, True, INK))
    for run in paragraph.r or []:
        run.rPr = letters(11, True, INK)
    chart.title.overlay = False
    chart.width, chart.height = size
    chart.legend.position = "b"
    chart.legend.txPr = rich(letters(9))
    for axis, said in ((chart.x_axis, across), (chart.y_axis, up)):
        axis.delete = False
        axis.txPr = rich(letters(9))
        axis.title = said
        if said:
            for run in axis.title.tx.rich.p[0].r:
                run.rPr = letters(9)
            axis.title.overlay = False
        axis.majorTickMark, axis.minorTickMark = "out", "none"
        axis.spPr = GraphicalProperties(ln=LineProperties(solidFill="9AA5AF", w=9525))
    chart.x_axis.majorGridlines = None
    chart.y_axis.number_format, chart.y_axis.numFmt.sourceLinked = "General", False
    chart.y_axis.majorGridlines.spPr = GraphicalProperties(ln=LineProperties(solidFill=RULE, w=6350))
    chart.graphical_properties = GraphicalProperties(
        solidFill="FFFFFF", ln=LineProperties(solidFill=RULE, w=9525)
    )
    chart.display_blanks = "gap"
    return chart


def rich(properties: CharacterProperties) -> RichText:
    """The letters of an axis or a legend."""
    return RichText(p=[Paragraph(pPr=ParagraphProperties(defRPr=properties), endParaRPr=properties)])


def drawn(series, line: Line, width: int = 19050):
    """Gives a series its look."""
    shape = (
        LineProperties(solidFill=line.colour, w=width, prstDash=line.dash)
        if line.joined
        else LineProperties(noFill=True)
    )
    series.graphicalProperties = GraphicalProperties(ln=shape)
    series.smooth = False
    series.marker.symbol = line.marks or "none"
    if line.marks:
        series.marker.size = 12 if line.marks == "dash" else 7
        series.marker.graphicalProperties = GraphicalProperties(
            solidFill=line.colour, ln=LineProperties(solidFill="FFFFFF", w=6350)
        )
    return series


def bars(
    title: str,
    names: tuple,
    series: list[Line],
    size: tuple[float, float],
    stacked=False,
    lying=False,
    over=(),
    up=None,
):
    """A chart of bars, one or several for each name, with points over them. A bar without a colour is
    not seen."""
    chart = BarChart()
    dressed(chart, title, size, up=up)
    chart.type = "bar" if lying else "col"
    if stacked:
        chart.grouping, chart.overlap = "stacked", 100
    chart.gapWidth = 45
    if lying:
        chart.x_axis.scaling.orientation = "maxMin"
    for line in series:
        made = Series(reference(line.cells), title=line.name)
        made.graphicalProperties = (
            GraphicalProperties(solidFill=line.colour, ln=LineProperties(noFill=True))
            if line.colour
            else GraphicalProperties(noFill=True, ln=LineProperties(noFill=True))
        )
        chart.series.append(made)
    chart.set_categories(reference(names))
    if over:
        points = LineChart()
        for line in over:
            points.series.append(drawn(Series(reference(line.cells), title=line.name), line))
        points.set_categories(reference(names))
        chart += points
    if len(series) + len(over) == 1:
        chart.legend = None
    else:
        hidden = [place for place, line in enumerate(series) if not line.colour]
        chart.legend.legendEntry = [LegendEntry(idx=place, delete=True) for place in hidden]
    return chart


def curve(title: str, series: list[tuple[tuple, Line]], size: tuple[float, float], across: str, up: str):
    """A chart of points or lines over a scale: each with where its places on that scale stand."""
    chart = ScatterChart()
    chart.style, chart.scatterStyle = 13, "lineMarker"
    dressed(chart, title, size, across, up)
    for places, line in series:
        made = Series(reference(line.cells), reference(places), title=line.name)
        chart.series.append(drawn(made, line))
    return chart
