"""The sheet of the morning: what each sump wants, the most urgent first, and which tests are due."""

import conditions
import machines
from asking import MONTHS, SEE_SUMPS, day
from charts import Line, bars
from conditions import BESIDES, CARRIES_ON, DUE, LATER, NO_ANSWER, TODAY
from look import (
    ALARM,
    BODY,
    CENTRE,
    INVENTED,
    PART,
    RICH,
    RIGHT,
    SMALL,
    STRONG,
    UNDER,
    WEAK,
    WRAPPED,
    WRONG,
    heading,
    on_paper,
    open_sheet,
    put,
    widths,
)
from look import fill as colour
from machines import READY
from openpyxl.formatting.rule import FormulaRule
from openpyxl.utils import get_column_letter

FIRST = 10
LAST = FIRST + READY - 1
HEADS = [
    ("machine", ""),
    ("what to do", ""),
    ("by", ""),
    ("before that", ""),
    ("why, and what else", ""),
    ("to test", "days late"),
    ("tests take", "minutes"),
    ("next test", ""),
    ("what to look at", ""),
]
# The groups of the list, in its order, with the colour of each.
GROUPS = [("today", TODAY, RICH), ("in the next days", LATER, WEAK), ("no answer", NO_ANSWER, WRONG)]
GROUPS += [("carry on", CARRIES_ON, RIGHT)]
TESTS = [
    ("look", "look and smell"),
    ("ph", "pH"),
    ("dip_slide", "dip slide"),
    ("clean_out", "clean-out"),
]
NOT_YET = "none until this is cleared"
CAUTIONS = [
    "Persons come first: with complaints of the skin or in breathing, or a smell of rotten eggs, nobody "
    "works on at that sump. A sump that stood gives off hydrogen sulphide once it is stirred: it dulls the "
    "nose and then kills. Air the place, keep your head out of the sump, and never work there alone.",
    "What is dosed is dosed by its label, with the gloves and the eye protection of its safety data sheet, "
    "and never together with another product, acid or bleach. Drained fluid is waste. Local codes, safety "
    "data sheets and licensed practice come before anything printed here.",
]


def of(name: str, row: int) -> str:
    """A value of the machine that stands in a row."""
    return f"INDEX({conditions.column(name)},{nth_of(row)})"


def nth_of(row: int) -> str:
    """The place of the machine that stands in a row, among those that are asked about."""
    return conditions.of("nth", row - FIRST)


def value(text: str) -> str:
    """A text of the service as a number."""
    return f'_xlfn.NUMBERVALUE({text},".")'


def by(days: str) -> str:
    """A day so many days after that of the round, in words."""
    on = f"(round_of+INT({value(days)}))"
    without_day = f'"in "&INT({value(days)})&" days"'
    return f'IF({value(days)}<=0,"today",IF(ISNUMBER(round_of),"by "&{day(on)},{without_day}))'


def done(action: str, product: str) -> str:
    """What is to be done, in words."""
    plain = f'SUBSTITUTE({action},"_"," ")&IF({product}="",""," "&SUBSTITUTE({product},"_"," "))'
    return f'SUBSTITUTE({plain}," ph "," pH ")'


def worded(test: str) -> str:
    """A test in words."""
    for code, words in TESTS:
        test = f'SUBSTITUTE({test},"{code}","{words}")'
    return test


def cells(row: int) -> list[str]:
    """The formulas of the machine that stands in a row."""
    # What to do stands before the first colon of the statement, and why behind it.
    there, said = f'{nth_of(row)}=""', of("condition: statement", row)
    ends = f'FIND(": ",{said})'
    sooner, due = [], []
    for nth in range(BESIDES):
        action, product, within = (
            of(f"condition: besides.{nth}.{part}", row) for part in ("action", "product", "within_days")
        )
        is_sooner = f"{value(within)}<{value(of('condition: within_days', row))}"
        sooner.append(f'IF({within}="","",IF({is_sooner},", "&{done(action, product)}&" "&{by(within)},""))')
    for nth in range(DUE):
        test, late = (of(f"tests: due.{nth}.{part}", row) for part in ("test", "overdue_days"))
        days = f'IF({late}="0","",IF({late}=""," (never written down)"," ("&{late}&")"))'
        due.append(f'IF({test}="","",", "&{worded(test)}&{days})')
    is_look = f'AND({of("tests: coming.0.test", row)}="look",{of("tests: coming.1.test", row)}<>"")'
    next_test, next_on = (
        f"IF({is_look},{of(f'tests: coming.1.{part}', row)},{of(f'tests: coming.0.{part}', row)})"
        for part in ("test", "due_on")
    )
    months = ",".join(f'"{month}"' for month in MONTHS)
    on = f'INT({value(f"RIGHT({next_on},2)")})&" "&CHOOSE({value(f"MID({next_on},6,2)")},{months})'
    within, decision = of("condition: within_days", row), of("condition: decision", row)
    refused, is_stopped = of("refused", row), f'{decision}="stop_and_ask"'
    notes = f'TRIM({of("condition: findings.0.text", row)}&" "&{of("noted", row)})'
    no_answer = f'IF({of("condition: address", row)}="","not looked at","no answer")'
    return [
        f'=IF({there},"",{of("machine", row)})',
        f'=IF({there},"",IF({of("condition: answered", row)},LEFT({said},{ends}-1),{no_answer}))',
        f'=IF({there},"",IF(OR({decision}="",{decision}="carry_on"),"",{by(within)}))',
        f'=IF({there},"",MID({"&".join(sooner)},3,999))',
        f'=IF({there},"",IF({of("condition: answered", row)},MID({said},{ends}+2,9999),""))',
        # Where persons come first nobody is sent there to test it.
        f'=IF({there},"",IF({is_stopped},"{NOT_YET}",MID({"&".join(due)},3,999)))',
        f'=IF({there},"",IF({is_stopped},0,IFERROR({value(of("tests: minutes", row))},"")))',
        f'=IF({there},"",IF({next_test}="","",{worded(next_test)}&" on "&{on}))',
        f'=IF({there},"",IF({refused}<>"",{refused},{notes}))',
    ]


def above(sheet) -> None:
    """The day of the list, why nothing is answered, who was not looked at, and the cautions."""
    asked, typed = conditions.column("machine"), machines.column("machine")
    not_today = '". That is not today: type the day and what was found on the sheet Checks."'
    of_day = f'"The list of "&{day("round_of")}&" "&YEAR(round_of)&IF(INT(round_of)=TODAY(),"",{not_today})'
    no_day = '"There is no day: type that of the round on the sheet Checks."'
    put(sheet, "A3", f"=IF(ISNUMBER(round_of),{of_day},{no_day})", STRONG)
    count = f"SUMPRODUCT((LEN({asked})>0)*1)"
    unseen = f"SUMPRODUCT((LEN({typed})>0)*(COUNTIF({asked},{typed})=0))"
    further = f"IFERROR(COUNTA(INDEX(checks,{READY + 2},1):INDEX(checks,ROWS(checks),1)),0)>0"
    shown = f"SUBTOTAL(103,$A${FIRST}:$A${LAST})"
    hidden = (
        f'{count}&" machines are typed in, and this sheet shows "&{shown}&" rows: mark the rows around the '
        'hidden ones and show them."'
    )
    put(
        sheet,
        "A4",
        f'=IF(connection<>"",{SEE_SUMPS},IF({further},"Only the first {READY} rows of the sheet Checks are '
        f'asked about.",IF({count}>{shown},{hidden},"")))',
        ALARM,
    )
    first = f"MATCH(1,INDEX((LEN({typed})>0)*(COUNTIF({asked},{typed})=0),0),0)"
    machines_unseen = (
        f'{unseen}&IF({unseen}=1," machine"," machines")&" of the sheet Readings not on the sheet '
    )
    machines_unseen += f'Checks: "&INDEX({typed},{first})&IF({unseen}=1,"."," is the first.")'
    put(sheet, "A5", f'=IF({unseen}=0,"",{machines_unseen})', BODY)
    for row, caution in enumerate(CAUTIONS, 6):
        put(sheet, f"A{row}", caution, SMALL, WRAPPED)
        sheet.merge_cells(f"A{row}:I{row}")
        sheet.row_dimensions[row].height = 25
    for place, (word, which, shade) in zip("EFGI", GROUPS):
        cell = put(
            sheet, f"{place}3", f'=COUNTIF({conditions.column("group")},{which})&" {word}"', SMALL, CENTRE
        )
        cell.fill = colour(shade)
    sheet.merge_cells("G3:H3")
    minutes = f"SUM($G${FIRST}:$G${LAST})"
    put(sheet, "F4", f'="tests of the day: "&{minutes}&" minutes"', STRONG, CENTRE)


def fill(sheet, shown: int) -> None:
    """Writes the sheet; so many machines are shown, and the rows of the others hidden."""
    sheet.title = "Condition"
    told = f"Nothing to type here: type on the sheet Checks. The most urgent first. {INVENTED}"
    open_sheet(sheet, "The morning's list: what each sump wants", told)
    above(sheet)
    heading(sheet, FIRST - 2, HEADS)
    for row in range(FIRST, LAST + 1):
        for place, cell in enumerate(cells(row), 1):
            written = sheet.cell(row, place, cell)
            is_short = place in (3, 7)
            written.font, written.border = SMALL if place in (5, 6, 8, 9) else BODY, UNDER
            written.alignment = CENTRE if is_short else WRAPPED
            written.number_format = '0;-0;"–"' if place == 7 else "General"
        sheet.cell(row, 1).font = sheet.cell(row, 2).font = STRONG
        sheet.row_dimensions[row].height = 58
        sheet.row_dimensions[row].hidden = row >= FIRST + shown
    today = f'OR($C{FIRST}="today",ISNUMBER(SEARCH("today",$D{FIRST})))'
    for whether, shade in (
        (today, RICH),
        (f'AND($C{FIRST}<>"",NOT({today}))', WEAK),
        (f'LEFT($B{FIRST},8)="Carry on"', RIGHT),
        (f'OR($B{FIRST}="no answer",$B{FIRST}="not looked at")', WRONG),
    ):
        rule = FormulaRule(formula=[whether], fill=colour(shade))
        sheet.conditional_formatting.add(f"B{FIRST}:C{LAST}", rule)
    widths(sheet, [21, 32, 11, 20, 58, 32, 9, 20, 74])
    sheet.freeze_panes = f"B{FIRST}"
    on_paper(sheet, f"{FIRST - 2}:{FIRST - 1}")
    sheet.print_area = f"A1:I{LAST}"


def draw(sheet, drawn, column: int) -> None:
    """The chart of what the sumps want, which `drawn` counts from a column on."""
    letters = [get_column_letter(column), get_column_letter(column + 1)]
    put(drawn, f"{letters[0]}1", "What the sumps want", PART)
    actions = conditions.REACH.rstrip(",").split(",")
    for nth, action in enumerate(actions):
        put(drawn, f"{letters[0]}{4 + nth}", action.replace("_", " "))
        count = f'COUNTIF({conditions.column("condition: decision")},"{action}")'
        put(drawn, f"{letters[1]}{4 + nth}", f"={count}")
    first, last = 4, 3 + len(actions)
    chart = bars(
        "What the sumps want",
        (drawn, column, first, last),
        [Line((drawn, column + 1, first, last), "sumps", "1F6F78")],
        (26, 7.5),
        up="sumps",
    )
    sheet.add_chart(chart, f"A{LAST + 2}")
