"""The digests of some examples' canonical forms, by RFC 8785 as Python has it.

Run with: python3 tests/contract/filing.py > tests/contract/filing.json

Python's own json writes members in order of code points, which for the plain letters of these examples is the
order of RFC 8785, and a float by the fewest digits that read as it, as ECMAScript does; a whole one
is written without its point, and an exponent does not occur here.
"""

import base64
import hashlib
import json
import re
from pathlib import Path

EXAMPLES = ("top-up", "concentration", "blend", "recharge", "make-up", "losses")
FOLDER = Path(__file__).parents[2] / "examples"


def without_points(value: object) -> object:
    if isinstance(value, dict):
        return {name: without_points(member) for name, member in value.items()}
    if isinstance(value, list):
        return [without_points(entry) for entry in value]
    if isinstance(value, float) and value.is_integer():
        return int(value)
    return value


def digest(question: object) -> str:
    text = json.dumps(without_points(question), sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    if re.search(r"\d[eE][-+]?\d", text):
        raise ValueError("an exponent, which ECMAScript writes otherwise")
    return f"sha-256=:{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}:"


questions = {}
for name in EXAMPLES:
    question = json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))
    questions[name] = {"digest": digest(question), "question": question}
print(json.dumps(questions, ensure_ascii=False, indent=1))
