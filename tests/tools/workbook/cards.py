"""Compares the sheets of one question each with the service's answer to what is typed on them."""

import asked
from asked import Service, expect, same

FORMS = {"box": "box", "l": "l", "lying cylinder": "lying_cylinder", "round bottom": "round_bottom"}


class Sheet:
    """The cells of a sheet, found by the words beside or above them."""

    def __init__(self, document, name: str):
        self.name = name
        self.rows = asked.cells(document, name, 13, 90)

    def row(self, text: str, column: int = 0, start: int = 0) -> int:
        """The row whose cell has a text."""
        for row in range(start, len(self.rows)):
            if self.rows[row][column] == text:
                return row
        raise AssertionError(f"{self.name} has no {text!r} in column {column}")

    def table(self, title: str, columns: int, left: int = 0) -> list[tuple]:
        """The rows of a table below its title and its two rows of headings, blank ones too."""
        found = []
        for row in self.rows[self.row(title, left) + 3 :]:
            cells = row[left : left + columns]
            if all(cell == "" for cell in cells) and found and all(cell == "" for cell in found[-1]):
                break
            found.append(cells)
        return found

    def typed(self, title: str, columns: int, left: int = 0) -> list[tuple]:
        """The rows of a table that are not blank."""
        return [row for row in self.table(title, columns, left) if any(cell != "" for cell in row)]

    def beside(self, text: str, column: int = 1):
        """The cell beside a text."""
        return self.rows[self.row(text)][column]


def compare(document, service: Service, written_in: str) -> None:
    """Compares all of them."""
    batch(Sheet(document, "Batch"), service, written_in)
    dose(Sheet(document, "Dose"), service, written_in)
    water(Sheet(document, "Water"), service, written_in)
    factor(Sheet(document, "Factor"), service, written_in)
    volume(Sheet(document, "Volume"), service, written_in)
    waste(Sheet(document, "Waste"), service, written_in)


def said(sheet: Sheet, record: dict, where: int) -> None:
    """Compares what the service says in words."""
    same(sheet.rows[where][0], record["statement"], f"{sheet.name}: statement")
    finding = record.get("findings", [{"text": ""}])[0]["text"]
    same(sheet.rows[where + 1][0], finding, f"{sheet.name}: finding")


def asked_for(sheet: Sheet, service: Service, calculation: str, question: dict, where: int) -> dict | None:
    """The answer; None if it is refused, and the sheet says so and shows no number."""
    problems = []
    record = service.record(calculation, question, problems)
    if record:
        said(sheet, record, where)
        return record["answer"]
    told = sheet.rows[where][0]
    details = [detail for _, detail in problems[0] if "is missing" not in detail]
    expect(told != "" and all(detail in told for detail in details), f"{sheet.name}: {told!r} for {problems}")
    members = [path for path, _ in problems[0] if path]
    expect(all(f"{path}:" not in told for path in members), f"{sheet.name}: a member's name in {told!r}")
    return None


def batch(sheet: Sheet, service: Service, units: str) -> None:
    """A batch."""
    carried = ("tramp_oil", "hardness", "chloride")
    stocks = []
    for name, strength, on_hand, price, *carries in sheet.typed(
        "What there is to mix from, the most preferred first", 7
    ):
        stock = {"name": name, "concentration": strength, "volume": on_hand, "unit_cost": price}
        stocks.append(stock | {"properties": dict(zip(carried, carries))})
    limits = sheet.rows[sheet.row("make")][4:7]
    question = {
        "units": units,
        "target": {"volume": sheet.beside("make"), "concentration": sheet.beside("of the strength")},
        "stocks": stocks,
        "limits": {name: {"max": most} for name, most in zip(carried, limits) if most != ""},
    }
    title = sheet.row("How much of each, to be poured in the order above")
    answer = asked_for(sheet, service, "blend", question, title - 3)
    takes = sheet.rows[title + 3 : title + 11]
    for nth, row in enumerate(takes):
        lines = answer["take"] if answer else []
        line = lines[nth] if nth < len(lines) else {}
        for place, part in enumerate(("name", "volume", "mass", "share")):
            same(row[place], line.get(part, ""), f"batch: line {nth}, {part}")
    mix = answer["mix"] if answer else {}
    for row, wanted in zip(
        takes,
        [
            mix.get("volume", ""),
            mix.get("concentration", ""),
            answer.get("cost", "") if answer else "",
            *[mix.get("properties", {}).get(name, "") for name in carried],
        ],
    ):
        same(row[5], wanted, f"batch: {row[4]}")


DOSE = {
    "product": "product.name",
    "its density": "product.density",
    "in the sump": "sump.volume",
    "full at": "sump.capacity",
    "strength": "sump.concentration",
    "wanted in it": "wanted",
    "marks of the jug": "jug_division",
    "label: at least": "product.label.least",
    "label: at most": "product.label.most",
    "label: wait between": "product.label.days_between",
    "measured now": "now",
    "last dose came to": "last_dose.content",
    "that long ago": "last_dose.days_ago",
    "half is used up in": "product.half_life_days",
    "carried off": "losses.carry_off",
    "works down to": "lasts_to",
}


def dose(sheet: Sheet, service: Service, units: str) -> None:
    """A dose."""
    question = {"units": units, "product": {"kind": sheet.beside("what it is").lower().replace(" ", "_")}}
    for text, path in DOSE.items():
        is_left = any(row[0] == text for row in sheet.rows[:14])
        value = sheet.beside(text) if is_left else sheet.rows[sheet.row(text, 4)][5]
        *parents, last = path.split(".")
        place = question
        for parent in parents:
            place = place.setdefault(parent, {})
        place[last] = value
    if question["losses"]["carry_off"] != "":
        question["losses"]["evaporation"] = 0
    title = sheet.row("measure out")
    answer = asked_for(sheet, service, "dose", question, title - 3) or {"after": {}, "steps": []}
    for place, found in (
        (0, answer.get("measured", "")),
        (1, answer.get("mass", "")),
        (4, answer["after"].get("content", "")),
        (5, answer.get("lasts_days", "")),
    ):
        same(sheet.rows[title + 1][place], found, f"dose: {sheet.rows[title][place]}")
    for nth in range(5):
        step = answer["steps"][nth]["text"] if nth < len(answer["steps"]) else ""
        same(sheet.rows[title + 4 + nth][0], step, f"dose: step {nth + 1}")


HARDNESS = {
    "°dH": "german_degrees",
    "°fH": "french_degrees",
    "°e": "english_degrees",
    "gpg": "grains_per_us_gallon",
    "mg/L": "mg_per_litre",
    "mmol/L": "millimoles_per_litre",
}


def water(sheet: Sheet, service: Service, units: str) -> None:
    """Waters."""
    waters = []
    for row in sheet.typed("The waters that there are, the most preferred first", 13):
        name, hardness, unit, calcium, magnesium, chloride, sulphate, nitrate = row[:8]
        conducts, softened, made_here, on_hand, price = row[8:]
        waters.append(
            {
                "name": name,
                "hardness": {"value": hardness, "unit": HARDNESS.get(unit, unit)},
                "calcium": calcium,
                "magnesium": magnesium,
                "properties": {"chloride": chloride, "sulphate": sulphate, "nitrate": nitrate},
                "conductivity": conducts,
                "softened": {"yes": True, "no": False}.get(softened),
                "made_here": {"yes": True, "no": False}.get(made_here),
                "volume": on_hand,
                "unit_cost": price,
            }
        )
    least, most, unit, *limits = sheet.rows[sheet.row("needed a day")][4:10]
    window = {"min": least, "max": most, "unit": HARDNESS.get(unit, unit)}
    question = {
        "units": units,
        "waters": waters,
        "make": sheet.beside("make"),
        "daily": sheet.beside("needed a day"),
        "hardness": window if (least, most) != ("", "") else None,
        "limits": {name: {"max": most} for name, most in zip(("chloride", "sulphate", "nitrate"), limits)},
    }
    title = sheet.row("How hard each is, and what to take of it")
    answer = asked_for(sheet, service, "water", question, title - 3) or {"waters": []}
    blend = answer.get("blend", {})
    lines = [*answer["waters"], *[{}] * (5 - len(answer["waters"])), blend]
    for nth, line in enumerate(lines):
        row, take = sheet.rows[title + 3 + nth], {}
        if line is not blend:
            same(row[0], line.get("name", ""), f"water {nth + 1}: name")
            take = blend.get("take", [])[nth] if nth < len(blend.get("take", [])) else {}
        else:
            take = {"volume": sum(one["volume"] for one in blend["take"])} if blend else {}
        within = 1e-14 if line is blend else 0.0
        same(row[1], take.get("volume", ""), f"water {nth + 1}: take", within)
        if line is not blend:
            same(row[2], take.get("share", ""), f"water {nth + 1}: share")
        for place, code in enumerate(HARDNESS.values(), 3):
            same(row[place], line.get("hardness", {}).get(code, ""), f"water {nth + 1}: {code}")
        same(row[9], line.get("class", "").replace("_", " "), f"water {nth + 1}: class")
    under = sheet.rows[title + 3 + 7]
    same(under[2], answer.get("made_per_day", ""), "water: to make a day")
    same(under[6], blend.get("cost", ""), "water: costs")


def factor(sheet: Sheet, service: Service, units: str) -> None:
    """A refractometer factor."""
    mixes = sheet.typed("Mixes made up on purpose", 2)
    looks = [
        row for row in sheet.table("Readings to look up", 4, 3) if row[0] != "" and isinstance(row[0], float)
    ]
    question = {
        "units": units,
        "samples": [{"concentration": strength, "brix": brix} for strength, brix in mixes],
        "readings": [row[0] for row in looks],
    }
    title = sheet.row("factor")
    answer = asked_for(sheet, service, "refractometer-factor", question, title - 3)
    for place, part in ((0, "factor"), (1, "factor_u"), (3, "water_brix"), (4, "scatter")):
        same(sheet.rows[title + 1][place], answer.get(part, "") if answer else "", f"factor: {part}")
    for nth, row in enumerate(looks):
        found = answer["readings"][nth] if answer else {}
        for place, part in enumerate(("concentration", "low", "high"), 1):
            same(row[place], found.get(part, ""), f"factor: reading {nth}, {part}")


def volume(sheet: Sheet, service: Service, units: str) -> None:
    """A sump's volume."""
    members = ("length", "width", "depth", "floor", "cut_length", "cut_width", "diameter")
    parts = []
    for form, *sizes in sheet.typed("What it is made of", 8):
        parts.append({"form": FORMS.get(form, form)} | dict(zip(members, sizes)))
    inside = sheet.typed("What stands in it and takes up room", 4)
    question = {
        "units": units,
        "shape": {
            "compartments": parts,
            "displaced": [dict(zip(("name", "volume", "foot", "height"), row)) for row in inside],
            "level": sheet.beside("level"),
            "in_pipes": sheet.beside("in pipes and bed"),
            "dip_step": sheet.beside("a line every"),
            "length_u": sheet.beside("each length ±"),
        },
    }
    title = sheet.row("it holds")
    answer = asked_for(sheet, service, "sump-volume", question, title - 3)
    answer = answer or {"dip_table": []}
    same(sheet.rows[title + 1][0], answer.get("volume", ""), "volume: it holds")
    same(sheet.rows[title + 1][2], answer["u"] * 1.96 if "u" in answer else "", "volume: give or take", 1e-15)
    same(sheet.rows[title + 1][4], answer.get("at_brim", ""), "volume: at its brim")
    dip = title + 5
    for nth in range(42):
        line = answer["dip_table"][nth] if nth < len(answer["dip_table"]) else {}
        row, left = sheet.rows[dip + nth % 14], 3 * (nth // 14)
        for place, part in ((left, "level"), (left + 1, "volume")):
            same(row[place], line.get(part, ""), f"volume: line {nth} of the dip table, {part}")


def waste(sheet: Sheet, service: Service, units: str) -> None:
    """A year's waste."""
    groups, streams = [], []
    for name, count, one, strength, air, off, every, residue, fines, share in sheet.typed(
        "The sumps, in groups that are alike", 10
    ):
        groups.append(
            {
                "name": name,
                "count": count if count == "" else int(count),
                "volume": one,
                "concentration": strength,
                "losses": {"evaporation": air, "carry_off": off},
                "change": {"habit": "calendar", "every_months": int(every)} if every != "" else None,
                "residue": residue,
                "fines": {"mass_per_month": fines, "dry_share": share},
            }
        )
    for stream, container, holds, lies, price, counts in sheet.typed("How each kind of waste leaves", 6):
        streams.append(
            {
                "stream": stream.replace(" ", "_"),
                "container": {"name": container, "volume": holds},
                "bulk_density": lies,
                "price_per_volume": price,
                "counts": {"yes": True, "no": False}.get(counts),
            }
        )
    question = {
        "units": units,
        "groups": groups,
        "streams": streams,
        "storage": {"mass": sheet.beside("at most on site"), "days": sheet.beside("for at most")},
        "pickup_price": sheet.beside("a pickup costs"),
    }
    title = sheet.row("Month by month")
    answer = asked_for(sheet, service, "disposal", question, title - 3)
    answer = answer or {"months": [{}] * 12, "pickups": []}
    for nth, month in enumerate(answer["months"]):
        for place, part in ((1, "counted"), (2, "on_site"), (3, "pickups"), (4, "cost")):
            same(sheet.rows[title + 3 + nth][place], month.get(part, ""), f"waste: month {nth + 1}, {part}")
    for nth in range(6):
        pickup = answer.get("pickups", [])[nth] if nth < len(answer.get("pickups", [])) else {}
        for place, part in ((6, "day"), (7, "mass"), (8, "containers")):
            same(sheet.rows[title + 3 + nth][place], pickup.get(part, ""), f"waste: pickup {nth + 1}, {part}")
    same(sheet.rows[title + 10][7], answer.get("cost", {}).get("total", ""), "waste: the year costs")
