"""Changes the workbook as people do, and checks every cell each time."""

from datetime import date

import cards
import listed
import office
import stated
from asked import Service, expect
from held import ENTRIES, EPOCH, FIRST, FIRST_LOSS, FIRST_SHOWN, READY, compare

FAR = (  # the ranges that a sheet accepts, by its columns
    (
        "Readings",
        (FIRST, FIRST + 150),
        {4: 0.2, 5: 0.5, 6: 0.5, 7: 0.5, 8: 0.5, 2: 0.0, 3: 0.0, 9: 0.0, 10: 0.0, 11: 0.0},
    ),
    ("Log", (6, 900), {2: 0.2, 3: 0.0, 4: 0.0, 5: 0.0}),
)


class Walk:
    """A walk through the workbook of an invented shop."""

    def __init__(self, document, service: Service):
        self.document, self.service = document, service
        self.board, self.readings, self.log, self.losses = (
            document.Sheets.getByName(name) for name in ("Sumps", "Readings", "Log", "Losses")
        )

    def again(self, units: str = "metric", written_in: str = "metric", questions: bool = False):
        """Calculates, and checks every cell."""
        self.document.calculateAll()
        stopped = listed.stopped(self.document, self.service, units)
        found = compare(self.document, self.service, units, written_in, stopped)
        listed.compare(self.document, self.service, units)
        self.state = stated.compare(self.document, found, self.service, units, written_in)
        if questions:
            cards.compare(self.document, self.service, written_in)
        return found

    def switch(self, units: str, written_in: str) -> None:
        """Changes the units that are shown and those that are typed."""
        office.name(self.document, "units").String = units
        office.name(self.document, "written_in").String = written_in

    def said(self) -> str:
        """The sentence above the board."""
        return self.board.getCellByPosition(0, 5).String

    def shown(self, machine: int) -> list:
        """A row of the board."""
        row = FIRST_SHOWN + machine
        return list(self.board.getCellRangeByPosition(0, row, 16, row).DataArray[0])

    def type(self, sheet, column: int, row: int, what) -> None:
        """Types a number or a text; a blank empties the cell."""
        cell = sheet.getCellByPosition(column, row)
        if isinstance(what, str):
            cell.String = what
        else:
            cell.Value = what


def judged(walk: Walk) -> None:
    """A concentration is a number that a per cent sign has not divided by a hundred; a date is a date."""
    for name, rows, least in FAR:
        sheet = walk.document.Sheets.getByName(name)
        for row in rows:
            for column, smallest in least.items():
                cell = sheet.getCellByPosition(column, row)
                rule, where = cell.Validation, f"{name}: column {column}"
                expect(
                    rule.Type.value == "DECIMAL"
                    and rule.ErrorAlertStyle.value == "STOP"
                    and rule.ShowErrorMessage,
                    f"{where}: {rule.Type.value}",
                )
                expect(float(rule.getFormula1()) == smallest, f"{where} takes {rule.getFormula1()}")
                expect(cell.NumberFormat != 0, f"{where} has no format of its own")
    for sheet, column, kind in (("Readings", 1, "DATE"), ("Log", 0, "DATE"), ("Log", 1, "LIST")):
        rule = walk.document.Sheets.getByName(sheet).getCellByPosition(column, 8).Validation
        expect(rule.Type.value == kind, f"{sheet}: column {column} takes a {rule.Type.value}")
    for sheet, place, kind in (
        ("Sumps", (2, 3), "LIST"),
        ("Readings", (2, 2), "LIST"),
        ("Checks", (0, 8), "LIST"),
        ("Checks", (1, 2), "DATE"),
        ("Checks", (1, 8), "DATE"),
        ("Checks", (2, 8), "LIST"),
        ("Checks", (6, 150), "LIST"),
        ("Checks", (7, 8), "DECIMAL"),
        ("Checks", (10, 8), "DECIMAL"),
        ("Dose", (1, 5), "LIST"),
        ("Dose", (1, 6), "DECIMAL"),
        ("Dose", (5, 4), "DECIMAL"),
        ("Water", (2, 10), "LIST"),
        ("Water", (1, 10), "DECIMAL"),
        ("Water", (9, 10), "LIST"),
        ("Batch", (1, 11), "DECIMAL"),
        ("Factor", (0, 7), "DECIMAL"),
        ("Volume", (0, 13), "LIST"),
        ("Waste", (0, 21), "LIST"),
        ("Waste", (1, 11), "WHOLE"),
    ):
        rule = walk.document.Sheets.getByName(sheet).getCellByPosition(*place).Validation
        expect(rule.Type.value == kind, f"{sheet} {place}: {rule.Type.value}")


def machines(walk: Walk) -> None:
    """Adds, moves and removes machines on the sheet of readings, and nowhere else."""
    readings = walk.readings
    before = walk.again().machines
    expect(walk.said() == "", f"nothing is to be said yet: {walk.said()}")
    # Below the others.
    copy(readings, FIRST + before - 1, FIRST + before, 12)
    walk.document.calculateAll()
    said = readings.getCellByPosition(0, 3).String
    expect(said.startswith("Two machines have the same name"), f"the same name twice: {said!r}")
    walk.type(readings, 0, FIRST + before, "one more")
    walk.type(readings, 3, FIRST + before, 710.0)
    expect(walk.again().machines == before + 1, "one more is shown")
    # Among the others.
    readings.Rows.insertByIndex(FIRST + 4, 1)
    copy(readings, FIRST + 3, FIRST + 4, 12)
    walk.type(readings, 0, FIRST + 4, "put in among them")
    walk.type(readings, 3, FIRST + 4, 77.0)
    walk.again()
    expect(walk.shown(4)[0] == "put in among them", "it is shown where it stands")
    # The first one, right below the headings.
    readings.Rows.insertByIndex(FIRST, 1)
    copy(readings, FIRST + 1, FIRST, 12)
    walk.type(readings, 0, FIRST, "the new first")
    for column, what in ((1, 46083.0), (3, 130.0), (4, 4.4)):
        walk.type(readings, column, FIRST, what)
    walk.again()
    expect(walk.shown(0)[0] == "the new first", "it is shown first")
    # More than the board shows without its hidden rows.
    for nth in range(4):
        copy(readings, FIRST + 2, FIRST + before + 3 + nth, 12)
        walk.type(readings, 0, FIRST + before + 3 + nth, f"and another {nth}")
    walk.again()
    expect("this sheet shows 21 rows" in walk.said(), f"some are hidden: {walk.said()!r}")
    for row in range(21, 25):
        walk.board.Rows.getByIndex(FIRST_SHOWN + row).IsVisible = True
    walk.again()
    expect(walk.said() == "", f"all are shown: {walk.said()!r}")
    # Removed, and what they were sorted by another column.
    readings.Rows.removeByIndex(FIRST + before + 3, 4)
    readings.Rows.removeByIndex(FIRST + 5, 1)
    readings.Rows.removeByIndex(FIRST, 1)
    expect(walk.again().machines == before + 1, "they are gone")
    sort(readings.getCellRangeByPosition(0, FIRST, 12, FIRST + before), 3, False)
    walk.again()
    expect(walk.shown(0)[0] == "deep-hole drill", f"the largest is first: {walk.shown(0)}")
    # The board itself, by what is to be added.
    sort(walk.board.getCellRangeByPosition(0, FIRST_SHOWN, 16, FIRST_SHOWN + before), 10, False)
    walk.document.calculateAll()
    water = [walk.shown(machine)[10] for machine in range(before)]
    water = [amount for amount in water if amount != ""]
    expect(len(water) > 14 and water == sorted(water, reverse=True), f"it is sorted: {water}")
    expect({walk.shown(nth)[0] for nth in range(before + 1)} >= {"lathe 1", "one more"}, "and all are there")


def slips(walk: Walk) -> None:
    """What is wrong is said, in the words of the sheet, and no number stands where there is none."""
    readings = walk.readings
    # A different reading, a different answer; one that is not a number, and one left blank.
    before = walk.shown(1)[9]
    walk.type(readings, 4, FIRST + 1, 3.6)
    walk.type(readings, 3, FIRST + 2, "half & half")
    walk.type(readings, 3, FIRST + 3, "")
    walk.type(readings, 6, FIRST + 5, "")
    # Without a day of the reading there is no day of the visit; a day in words does not count.
    walk.type(readings, 1, FIRST + 6, "")
    walk.type(readings, 1, FIRST + 7, "2nd of March")
    # A day still to come: nobody pours by it, and it makes no other reading an old one.
    walk.type(readings, 1, FIRST + 15, day_from_now(30))
    # 6% pasted in spite of the check: the service has a finding about it.
    for column, what in zip((6, 7, 8), (0.055, 0.06, 0.07)):
        walk.type(readings, column, FIRST + 8, what)
    # A level typed alone, of a machine that is kept in the log: it is of another day than the log's reading.
    walk.type(readings, 3, FIRST + 4, 250.0)
    # Losses that nobody knows: it is still topped up, and only its next visit is unknown.
    for column in (10, 11):
        walk.type(readings, column, FIRST + 9, "")
    walk.type(readings, 10, FIRST + 10, -1.0)
    walk.type(readings, 11, FIRST + 10, 2.0)
    walk.again()
    expect(walk.shown(1)[9] > before, "a weaker sump takes more concentrate")
    for machine, words in (
        (2, 'in the sump: This is the text "half & half"'),
        (3, "in the sump: this is blank."),
        (4, "read on, in the sump, reads: type all three, of one day"),
        (5, "band from: this is blank."),
        (6, "read on: there is no date"),
        (7, 'read on: this is the text "2nd of March" and not a date: write year, month and day'),
        (15, "is still to come. Correct it."),
        (8, "unusual"),
        (10, "lost to the air: -1 is out of range"),
    ):
        row = walk.shown(machine)
        expect(words in row[16], f"{words!r} is said: {row}")
        expect("sump.volume" not in row[16] and '"volume"' not in row[16], f"no member's name is: {row}")
    row = walk.shown(9)
    expect(isinstance(row[9], float) and row[14] == row[16] == "", f"losses that nobody knows: {row}")
    expect(
        isinstance(walk.shown(6)[9], float) and walk.shown(6)[14] == "", "the sump is answered without a day"
    )
    row = walk.shown(15)
    expect(
        isinstance(row[4], float) and row[7] == "no answer" and row[8:16] == [""] * 8,
        f"no amounts by a day still to come: {row}",
    )
    walk.type(readings, 1, FIRST + 15, day_from_now(0))
    walk.document.calculateAll()
    expect(isinstance(walk.shown(15)[9], float), f"today is not still to come: {walk.shown(15)}")


def log(walk: Walk) -> None:
    """The log, in any order, with slips, and longer than an address."""
    sheet = walk.log
    rows = walk.again().log
    count = sum(row[1] != "" for row in rows)
    first = walk.losses.getCellByPosition(3, FIRST_LOSS).Value
    # A row put in among the others, out of order, makes another answer.
    sheet.Rows.insertByIndex(10, 1)
    for column, what in enumerate((46060.5, "lathe 1", 5.2, 152.0)):
        walk.type(sheet, column, 10, what)
    walk.again()
    expect(walk.losses.getCellByPosition(3, FIRST_LOSS).Value != first, "it counts")
    expect(
        sheet.getCellByPosition(0, 2).String == "",
        f"nothing is left out: {sheet.getCellByPosition(0, 2).String}",
    )
    # Slips: each is left out, and the first is told with its row.
    for nth, (entry, words) in enumerate(
        [
            ((46061.0, "lathe 9", 5.0, 150.0, "", ""), "this machine is not on the sheet Readings"),
            (
                ("2nd of March", "lathe 1", 5.0, 150.0, "", ""),
                'this is the text "2nd of March" and not a date',
            ),
            (("", "lathe 1", 5.0, 150.0, "", ""), "there is no date"),
            ((46061.0, "lathe 1", 5.0, 150.0, 20.0, ""), "write how strong it was: 0 for water"),
            ((46061.0, "lathe 1", "", "", 20.0, 3.0), "neither a level nor a reading"),
            ((46061.0, "", 5.0, 150.0, "", ""), "there is no machine"),
            ((46061.0, "lathe 1", "five", 150.0, "", ""), "this is not a number"),
        ]
    ):
        row = 6 + count + 1
        for column, what in enumerate(entry):
            walk.type(sheet, column, row, what)
        walk.document.calculateAll()
        said = sheet.getCellByPosition(0, 2).String
        expect(
            said.startswith("Left out: 1.") and f"row {row + 1}: " in said and words in said,
            f"slip {nth}: {said!r}",
        )
    # An entry still to come counts in the losses, but nobody pours by it.
    for column, what in enumerate((day_from_now(1), "lathe 1", 5.0, 150.0)):
        walk.type(sheet, column, 6 + count + 1, what)
    walk.again()
    said = sheet.getCellByPosition(0, 3).String
    expect(said == f"The date in row {6 + count + 2} is still to come. Correct it.", f"to come: {said!r}")
    expect(walk.shown(0)[16].startswith("read on (sheet Log): "), f"to come: {walk.shown(0)}")
    for column in range(6):
        walk.type(sheet, column, 6 + count + 1, "")
    # A level that cannot be: the service says so, and the sheet names the day.
    walk.type(sheet, 3, 6 + 3, 990.0)
    walk.again()
    expect("see the sheet Losses" in walk.shown(0)[16], f"and the board leads there: {walk.shown(0)}")
    said = walk.losses.getCellByPosition(9, FIRST_LOSS).String
    expect(said.startswith("10 Feb, in the sump: 990 L"), f"the day of a slip: {said!r}")
    walk.type(sheet, 3, 6 + 3, 141.0)
    # Forty entries more, all before the others: the last that fit are asked about.
    for nth in range(40):
        row = 6 + count + 1 + nth
        for column, what in enumerate((46000.0 + nth, "lathe 1", 5.0 + nth % 3 / 10, 150.0 - nth % 5)):
            walk.type(sheet, column, row, what)
    walk.again()
    asked = walk.losses.getCellByPosition(2, FIRST_LOSS).Value
    expect(18 <= asked < 40, f"as many as fit: {asked}")
    said = sheet.getCellByPosition(16, 5).String
    expect(said.endswith("entries: an address has room for no more"), f"the state's: {said!r}")


def full(walk: Walk) -> None:
    """As many machines and entries as the workbook is ready for."""
    readings, known = walk.readings, walk.again().machines
    like = readings.getCellRangeByPosition(0, FIRST + 1, 12, FIRST + 1).DataArray[0]
    more = [(f"machine {nth}", *like[1:10], "", "", "") for nth in range(known, READY)]
    readings.getCellRangeByPosition(0, FIRST + known, 12, FIRST + READY - 1).DataArray = tuple(more)
    start = 6 + 100
    entries = [
        (46000.0 + nth // 20, f"machine {known + nth % 20}", 5.0 + nth % 7 / 10, 150.0 - nth % 11, "", "", "")
        for nth in range(ENTRIES - 100)
    ]
    walk.log.getCellRangeByPosition(0, start, 6, start + len(entries) - 1).DataArray = tuple(entries)
    checked(walk, READY)
    expect(walk.again().machines == READY, "all are asked about")
    expect("this sheet shows 21 rows" in walk.said(), f"most are hidden: {walk.said()!r}")
    walk.type(readings, 0, FIRST + READY, "one too many")
    walk.log.getCellRangeByPosition(1, 6 + ENTRIES, 1, 6 + ENTRIES).DataArray = (("lathe 1",),)
    walk.document.calculateAll()
    said = walk.log.getCellByPosition(0, 3).String
    expect(said.startswith("Only the first 1,000 rows"), f"{said!r}")
    expect(walk.said().startswith("Only the first 200 rows"), f"{walk.said()!r}")
    said = walk.document.Sheets.getByName("Condition").getCellByPosition(0, 3).String
    expect(said.startswith("Only the first 200 rows of the sheet Checks"), f"{said!r}")


def checked(walk: Walk, many: int) -> None:
    """Checks of as many machines as there may be, and one more."""
    sheet, first = walk.document.Sheets.getByName("Checks"), FIRST + 12
    rows = [
        (f"machine {nth}", 46083.0, "fresh", "as new", "none", "none", "no")
        + (9.1 - nth % 12 / 10, 9.2, 46080.0 - nth % 9, 10.0 ** (2 + nth % 6), "slight", 46080.0)
        + (float(nth % 25), "", "", 46080.0, 46000.0 - 2 * nth, "every day", "")
        for nth in range(20, 20 + many - 12)
    ]
    sheet.getCellRangeByPosition(0, first, 19, first + len(rows) - 1).DataArray = tuple(rows)
    sheet.getCellByPosition(0, FIRST + many).String = "one too many"


def unanswered(walk: Walk, elsewhere: str) -> None:
    """Each cause of no answer has its sentence, and no old number stays."""
    server = office.name(walk.document, "server")
    usual = server.String
    for address, words in (
        ("http://127.0.0.1:9", "No answer from http://127.0.0.1:9. Start the service: unpack its archive"),
        ("", "There is no address of the service."),
        (elsewhere, "Something other than this service answers at"),
    ):
        server.String = address
        walk.document.calculateAll()
        expect(words in walk.said(), f"{address!r}: {walk.said()!r}")
        row = walk.shown(1)
        expect(row[7] == "no answer" and row[9] == row[14] == "", f"{address!r}: {row}")
        expect(row[16].startswith("No answer: see the top") or words in row[16], f"{address!r}: {row}")
        # The sentence is long: the other sheets lead to where there is room for it.
        for name in ("Batch", "Losses", "Condition"):
            sheet = walk.document.Sheets.getByName(name)
            said = [sheet.getCellByPosition(0, place).String for place in range(40)]
            led = "No answer: see the top of the sheet Sumps."
            expect(any(one == led for one in said), f"{name} of {address!r}: {said}")
    # An address as people copy it.
    for written in (f"{usual}/", f"{usual}/v1", usual.removeprefix("http://"), f" {usual}/v1/ "):
        server.String = written
        walk.document.calculateAll()
        expect(walk.said() == "", f"{written!r}: {walk.said()!r}")
        amounts = [walk.shown(machine)[9] for machine in range(18)]
        expect(sum(isinstance(amount, float) for amount in amounts) > 12, f"{written!r}: {amounts}")
    server.String = usual


def day_from_now(days: int) -> float:
    """A day so many days from now as a spreadsheet has it."""
    return float((date.today() - EPOCH).days + days)


def copy(sheet, source: int, target: int, columns: int) -> None:
    """Copies a row to another."""
    span = sheet.getCellRangeByPosition(0, source, columns, source)
    sheet.copyRange(sheet.getCellByPosition(0, target).CellAddress, span.RangeAddress)


def sort(span, column: int, ascending: bool) -> None:
    """Sorts the rows of a range by a column."""
    import uno
    from com.sun.star.table import TableSortField

    field = TableSortField()
    field.Field, field.IsAscending = column, ascending
    fields = uno.Any("[]com.sun.star.table.TableSortField", (field,))
    span.sort(office.said(SortFields=fields, ContainsHeader=False))
