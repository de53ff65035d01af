"""Formulas that ask the service: addresses, what came back, and its values.

One address brings all that is wanted of a calculation, a line a value. A number is written with a
point whatever the spreadsheet's language, and read back with NUMBERVALUE, so that the workbook works
in every locale. No function is newer than Excel 2016, and none spills into other cells.
"""

ADDRESS_MOST = 2048  # characters that WEBSERVICE takes, by Excel's documentation
# A call's picks are kept so short that the question has the rest of the address.
PICKS_MOST = 620
UNANSWERED = (
    '"The service is there, but this question had no answer: perhaps too many came at once. Ask again '
    'with Ctrl+Shift+F9 (in Excel: Ctrl+Alt+F9)."'
)
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
SEE_SUMPS = '"No answer: see the top of the sheet Sumps."'
LONG = f'"This is too much for one address: Excel takes {ADDRESS_MOST:,} characters."'


def picking(picks: list[str]) -> str:
    """The picks as the part of an address, in texts no longer than Excel takes within a formula."""
    text = f"&pick={','.join(picks)}"
    return "&".join(f'"{text[at : at + 250]}"' for at in range(0, len(text), 250))


def answer(address: str, too_long: str = LONG) -> str:
    """The formula of the text that comes back, or of the sentence that says why none does."""
    called = f"IFERROR(_xlfn.WEBSERVICE({address}),{UNANSWERED})"
    called = f'IF(connection="",{called},{SEE_SUMPS})'
    return f'=IF({address}="","",IF(LEN({address})>{ADDRESS_MOST},{too_long},{called}))'


def line(answered: str, place: int) -> str:
    """A line of an answer, counted from 1, whatever its length. A tab marks where it begins and ends."""
    text = f"CHAR(10)&{answered}&CHAR(10)"
    begins, ends = (f"FIND(CHAR(9),SUBSTITUTE({text},CHAR(10),CHAR(9),{n}))" for n in (place, place + 1))
    return f"MID({answered},{begins},{ends}-{begins}-1)"


def is_answered(answered: str) -> str:
    """Whether the first line is a number, as it is in every answer that is no sentence."""
    return f'ISNUMBER(_xlfn.NUMBERVALUE({line(answered, 1)},"."))'


def is_in_units(answered: str) -> str:
    """Whether the first line names the units of the question, as it does where they are picked first."""
    return f"IFERROR({line(answered, 1)}=written_in,FALSE)"


def value(answered: str, whether: str, place: int) -> str:
    """The formula of a line of an answer; blank where there is none. `whether` is the cell that
    says whether it is an answer."""
    return f'=IF({whether},IFERROR({line(answered, place)},""),"")'


def number(cell: str) -> str:
    """A value as a number; blank if it is none."""
    return f'=IF({cell}="","",IFERROR(_xlfn.NUMBERVALUE({cell},"."),""))'


def written(cell: str, scale: str = "") -> str:
    """A typed cell as the text of an address: a blank stays blank, a number gets a decimal point,
    and any other text is left to the service to refuse."""
    scaled = f"{cell}*{scale}" if scale else cell
    return f'=IF({cell}="","",IF(ISNUMBER({cell}),SUBSTITUTE({scaled},",","."),_xlfn.ENCODEURL({cell})))'


def day(cell: str) -> str:
    """A day as people write it, in any locale."""
    months = ",".join(f'"{month}"' for month in MONTHS)
    return f'DAY({cell})&" "&CHOOSE(MONTH({cell}),{months})'


def iso(cell: str) -> str:
    """The formula of a typed day as an address has it; what is no day is left to the service to refuse."""
    month, of_month = (f'RIGHT("0"&{part}({cell}),2)' for part in ("MONTH", "DAY"))
    return (
        f'=IF({cell}="","",IF(ISNUMBER({cell}),YEAR({cell})&"-"&{month}&"-"&{of_month},'
        f"_xlfn.ENCODEURL({cell})))"
    )


def no_date(cell: str) -> str:
    """What is said of a text where a day is typed, as the inside of a text of a formula."""
    return f'this is the text """&{cell}&""" and not a date: write year, month and day, such as 2026-11-30'


def to_come(day: str) -> str:
    """Whether a day is after that of the computer's clock. No address may depend on it: TODAY is worked out
    anew with whatever is typed, and all that depends on it would be asked again."""
    return f"IF(ISNUMBER({day}),INT({day})>TODAY(),FALSE)"


def coded(cell: str, kind: str = "") -> str:
    """A typed cell as a part of an address: a number or a text, a `code` out of several words, or an
    `answer`, yes or no."""
    if kind == "code":
        return f'_xlfn.ENCODEURL(SUBSTITUTE(LOWER(TRIM({cell}))," ","_"))'
    if kind == "answer":
        return f'IF({cell}="yes","true",IF({cell}="no","false",_xlfn.ENCODEURL({cell})))'
    return written(cell)[1:]


def in_our_words(text: str, words: list[tuple[str, str]]) -> str:
    """A sentence with the names of the sheet in place of the members of the question."""
    for theirs, ours in words:
        theirs, ours = (said.replace('"', '""') for said in (theirs, ours))
        text = f'SUBSTITUTE({text},"{theirs}","{ours}")'
    return text


def missing(*members: str) -> list[tuple[str, str]]:
    """The words for members that were left out."""
    return [(f'"{member}" is missing.', "this is blank.") for member in members]
