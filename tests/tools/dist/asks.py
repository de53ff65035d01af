"""The requests that every service is tested with, wherever it runs."""

import csv
import io
import json
import re
import urllib.error
import urllib.parse
import urllib.request
from pathlib import Path

ROOT = Path(__file__).resolve().parents[3]
JSON, CSV = "application/json", "text/csv"


def fetch(address, data=None, kind=JSON, key=None):
    """The status of an answer and its body."""
    headers = {"content-type": kind} if data is not None else {}
    if key:
        headers["authorization"] = f"Bearer {key}"
    request = urllib.request.Request(address, data=data, headers=headers)
    try:
        with urllib.request.urlopen(request, timeout=60) as answer:
            return answer.status, answer.read()
    except urllib.error.HTTPError as refused:
        return refused.code, refused.read()


def expect(wanted, address, *how, **more):
    status, body = fetch(address, *how, **more)
    assert status == wanted, f"{address}: {status} instead of {wanted}: {body[:300]!r}"
    return body


def all_of_it(address, version):
    """A request, all examples, a table, the page and what it loads, the document."""
    readme(address)
    metrics = expect(200, f"{address}/metrics").decode()
    assert re.search(r'sumpwright_build_info\{[^}]*commit="[0-9a-f]{40}"', metrics), "of which commit it is"
    for path in sorted((ROOT / "examples").glob("*.json")):
        record = json.loads(expect(200, f"{address}/v1/{path.stem}", path.read_bytes()))
        assert record["version"] == version, record["version"]
    table(expect(200, f"{address}/v1/top-up?units=metric", readings(), CSV))
    page(address)
    assert json.loads(expect(200, f"{address}/openapi.json"))["info"]["version"] == version
    expect(200, f"{address}/docs/")


def readme(address):
    """The first request of the README. By hand: 200 L at 8 % hold 16 L of concentrate, and 140 L that
    read 5.6 °Brix, by a factor of 1.25, hold 9.8 L; so 6.2 L are missing, and 53.8 L of water."""
    text = (ROOT / "README.md").read_text()
    command = r"/v1/top-up(\?[^\s']*)?'? -H 'content-type: application/json' -d '(\{.*?\})'"
    query, document = re.search(command, text, re.DOTALL).groups()
    missing(json.loads(expect(200, f"{address}/v1/top-up{query or ''}", document.encode())))


def missing(record):
    added = {part["name"]: part["volume"] for part in record["answer"]["add"]}
    assert abs(added["concentrate"] - 6.2) < 1e-9, added
    assert abs(added["water"] - 53.8) < 1e-9, added


def readings():
    return (ROOT / "examples/readings.csv").read_bytes()


def table(answered):
    """A row for each row: the machine of the README with its 6.2 L, and one that was fuller than full."""
    asked = list(csv.reader(io.StringIO(readings().decode())))
    rows = list(csv.DictReader(io.StringIO(answered.decode("utf-8-sig"))))
    assert len(rows) == len(asked) - 1 > 0, answered
    for row in rows:
        assert bool(row["statement"]) != bool(row["problem"]), row
    (one,) = [row for row in rows if row["reference"].endswith("machining centre 7")]
    assert abs(float(value(one, "answer.add.0.volume")) - 6.2) < 1e-9, one
    assert [row["problem"] for row in rows if "fuller than full" in row["problem"]], rows


def value(row, path):
    """The cell under a heading, which may have its unit behind it."""
    (name,) = [name for name in row if name.split(" [")[0] == path]
    return row[name]


def page(address):
    """The page at /, every file that it loads, and the engine for where there is no service."""
    text = expect(200, f"{address}/").decode()
    loaded = re.findall(r'<(?:script|link)[^>]* (?:src|href)="([^"]+)"', text)
    assert loaded, text[:300]
    for file in loaded:
        expect(200, urllib.parse.urljoin(f"{address}/", file))
    assert expect(200, f"{address}/page/engine.wasm").startswith(b"\0asm")


def keys(address, key):
    """Who has a key is answered, and nobody else."""
    document = (ROOT / "examples/top-up.json").read_bytes()
    expect(401, f"{address}/v1/top-up", document)
    expect(401, f"{address}/v1/top-up", document, key="0" * 64)
    expect(200, f"{address}/v1/top-up", document, key=key)
    expect(200, f"{address}/")
