"""Documents that are made to take the service down by their size or shape.

Each is short enough to be received. It is to be answered, refused or cut off in its time, within memory that
its own length explains, and whoever asks for a recharge meanwhile is to notice nothing.
"""

import contextlib
import json
import re
import socket
import threading
import time
from collections import Counter
from pathlib import Path

from service import ROOT, Service, ask, expect

EXAMPLES = ROOT / "examples"
DEPLOY = ROOT / "api" / "deploy"
RECHARGE = (EXAMPLES / "recharge.json").read_bytes()
TOP_UP = (EXAMPLES / "top-up.json").read_bytes()

#: What a request may take, as in tests/tools/load/sizes: so many times its bytes, and so many MB beside.
TIMES, BESIDE = 30, 16
#: What the service gives each answer, its default; said to it all the same.
ANSWER_SECONDS = 30
#: What is refused for its shape is not calculated, and a recharge alone takes some hundredths of a second: a
#: tenth of what an answer may take is far more than either needs, unoptimised and beside other programs too.
SOON = ANSWER_SECONDS / 10
#: What a calculation that is told to stop may take to look up, and its refusal to arrive.
MARGIN = SOON
#: A refusal says what is wrong, and does not hand back what was sent.
REFUSAL_MOST = 100_000
#: Just below the maximum length of a document.
LONG = 8_300_000
HEAD = b"POST /v1/top-up HTTP/1.1\r\nhost: x\r\ncontent-type: application/json\r\n"
#: Who sends these documents, and who else asks.
ATTACKER, OTHER = "127.0.0.1", "127.0.0.2"


def documents(binary: Path, short: bool) -> dict[str, str]:
    """Documents of every harmful sort: bounded time and memory, and others are answered."""
    figures = one_by_one(binary)
    figures |= cut_off(binary, 5 if short else 60)
    figures |= many_that_wait(binary, 2 if short else 4)
    figures |= unfinished(binary, 5 if short else 35)
    return figures


class Others:
    """Another caller, who asks for something small again and again as long as this is open."""

    def __init__(self, service: Service, calculation: str = "recharge", body: bytes = RECHARGE):
        self.service, self.path, self.body = service, f"/v1/{calculation}", body
        self.took: list[float] = []
        self.refused: list[str] = []
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._go_on)

    def once(self) -> None:
        began = time.monotonic()
        try:
            connection = self.service.connect(OTHER, timeout=ANSWER_SECONDS)
            status, answer = ask(connection, "POST", self.path, self.body)
            connection.close()
            if status != 200:
                self.refused.append(f"{status}: {answer[:200]!r}")
        except OSError as error:
            self.refused.append(repr(error))
        self.took.append(time.monotonic() - began)

    def _go_on(self) -> None:
        while not self._stop.is_set():
            self.once()
            self._stop.wait(0.02)

    def __enter__(self) -> "Others":
        self._thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._stop.set()
        self._thread.join()

    def expect_answered(self, when: str) -> str:
        """Fails where one was not answered, or late; says how many were."""
        lost = f"{len(self.refused)} of {len(self.took)}"
        expect(not self.refused, f"{when}, others were refused {lost} times, first {self.refused[:1]}")
        expect(
            max(self.took) <= SOON, f"{when}, others waited {max(self.took):.2f} s; the bound is {SOON:.0f} s"
        )
        return f"{len(self.took):,}, the slowest in {max(self.took) * 1e3:.0f} ms"


def example(calculation: str) -> dict:
    return json.loads((EXAMPLES / f"{calculation}.json").read_bytes())


def stocks(entry: str, many: int) -> bytes:
    """A blend whose stocks are all the same text."""
    head = b'{"units":"metric","target":{"volume":1,"concentration":5},"stocks":['
    return head + ",".join([entry] * many).encode() + b"]}"


def forecast(followed: int) -> bytes:
    """Ten years, fed daily, in which so many properties are followed."""
    document = example("forecast")
    for member in ("limits", "oil", "changes"):
        document.pop(member, None)
    document["days"] = 3660
    document["sump"]["properties"] = {f"followed_{i}": 100 + i for i in range(followed)}
    document["feeding"]["with"] = {"kind": "premix", "concentration": 2.7}
    return json.dumps(document).encode()


def blend(many: int, properties: int = 1) -> bytes:
    """A blend of so many different stocks, each with so many properties, all of them limited."""
    names = [f"property_{i}" for i in range(properties)]
    made = [
        {
            "name": f"stock {i}",
            "concentration": i * 7 % 100,
            "properties": {name: i * place % 9 for place, name in enumerate(names, start=1)},
        }
        for i in range(many)
    ]
    document = {"units": "metric", "target": {"volume": 100, "concentration": 5}, "stocks": made}
    return json.dumps(document | {"limits": dict.fromkeys(names, {"max": 8})}).encode()


def compartments(many: int) -> bytes:
    document = example("sump-volume")
    own = document["shape"]["compartments"]
    document["shape"]["compartments"] = [own[i % len(own)] for i in range(many)]
    return json.dumps(document).encode()


def properties_of_one_stock(many: int) -> bytes:
    stock = {"name": "water", "concentration": 0, "properties": {f"property_{i}": 1 for i in range(many)}}
    target = {"volume": 1, "concentration": 5}
    return json.dumps({"units": "metric", "target": target, "stocks": [stock]}).encode()


#: What is refused before it is calculated: what it is, of which calculation, the document.
TO_REFUSE = [
    ("20,000 empty stocks", "blend", lambda: stocks("{}", 20_000)),
    ("1,000,000 empty stocks", "blend", lambda: stocks("{}", 1_000_000)),
    ("2,500,000 empty stocks", "blend", lambda: stocks("{}", 2_500_000)),
    ("4,000,000 numbers as stocks", "blend", lambda: stocks("1", 4_000_000)),
    (
        "700,000 unknown members",
        "top-up",
        lambda: json.dumps({f"u{i}": 1 for i in range(700_000)}, separators=(",", ":")).encode(),
    ),
    ("a member with a name of 8 MB", "top-up", lambda: json.dumps({"k" * LONG: 1}).encode()),
    (
        "a word of 8 MB for the units",
        "top-up",
        lambda: json.dumps(example("top-up") | {"units": "u" * LONG}).encode(),
    ),
    ("a stock with 300,000 properties", "blend", lambda: properties_of_one_stock(300_000)),
    ("ten years with 99 properties", "forecast", lambda: forecast(99)),
    ("ten years with 1,000 properties", "forecast", lambda: forecast(1_000)),
    ("ten years with 4,000 properties", "forecast", lambda: forecast(4_000)),
]
#: What is valid, and long.
TO_ANSWER = [
    ("20,000 compartments", "sump-volume", lambda: compartments(20_000)),
    ("20,000 stocks", "blend", lambda: blend(20_000)),
    ("2,000 stocks with 60 limits", "blend", lambda: blend(2_000, 60)),
]


def one_by_one(binary: Path) -> dict[str, str]:
    """Each alone to a service of its own, so that none finds room that another has left."""
    heaviest, slowest, longest = (0.0, ""), (0.0, ""), 0
    asked: list[float] = []
    for word, calculation, make in [*TO_REFUSE, *TO_ANSWER]:
        body, refuse = make(), (word, calculation, make) in TO_REFUSE
        service = Service(binary, "--answer-seconds", str(ANSWER_SECONDS))
        # What the first question of a calculation loads stays: it is not this document's.
        status, _ = service.ask("POST", f"/v1/{calculation}", (EXAMPLES / f"{calculation}.json").read_bytes())
        expect(status == 200, f"the example of {calculation} was answered {status}")
        others = Others(service)
        for _ in range(5):
            others.once()
        service.forget_the_most()
        before = service.resident()
        with others:
            status, answer, took = post(service, calculation, body)
        memory = service.most_resident() - before
        others.expect_answered(f"with {word}")
        asked += others.took
        service.end()
        print(
            f"documents: {word}, {len(body) / 1e6:.2f} MB: {status} in {len(answer):,} bytes, {took:.2f} s, "
            f"{memory:.0f} MB",
            flush=True,
        )
        if refuse:
            expect(status in (400, 413, 422), f"{word}: answered {status}")
            expect(
                len(answer) <= REFUSAL_MOST,
                f"{word}: refused in {len(answer):,} bytes, more than {REFUSAL_MOST:,}",
            )
            longest = max(longest, len(answer))
        else:
            expect(status == 200, f"{word}: answered {status}, {answer[:200]!r}")
        within = SOON if refuse else ANSWER_SECONDS + MARGIN
        expect(took <= within, f"{word}: {status} after {took:.1f} s; the bound is {within:.0f} s")
        bound = TIMES * len(body) / (1 << 20) + BESIDE
        expect(memory <= bound, f"{word}: took {memory:.0f} MB; the bound is {bound:.0f} MB")
        heaviest = max(heaviest, (memory / bound, f"{memory:.0f} MB of {bound:.0f}, {word}"))
        slowest = max(slowest, (took / within, f"{took:.2f} s of {within:.0f}, {word}"))
    return {
        "documents, each alone": f"{len(TO_REFUSE)} refused, {len(TO_ANSWER)} valid",
        "nearest to its bound of memory": heaviest[1],
        "nearest to its bound of time": slowest[1],
        "longest refusal": f"{longest:,} bytes",
        "others answered beside them": f"{len(asked):,}, the slowest in {max(asked) * 1e3:.0f} ms",
    }


def post(service: Service, calculation: str, body: bytes, caller: str = ATTACKER) -> tuple[int, bytes, float]:
    """Status, answer, and seconds until it was there."""
    began = time.monotonic()
    connection = service.connect(caller, timeout=3 * ANSWER_SECONDS)
    status, answer = ask(connection, "POST", f"/v1/{calculation}", body)
    connection.close()
    return status, answer, time.monotonic() - began


def cut_off(binary: Path, seconds: float) -> dict[str, str]:
    """More long calculations than there are slots, cut off again and again: others have their turn."""
    limit = 1
    service = Service(binary, "--answer-seconds", str(limit))
    document = example("cost-comparison")
    document["uncertainty"] = {"inputs": {"/prices/disposal": {"u": 0.1}}, "draws": 3_000}
    body = json.dumps(document).encode()
    found: Counter[int] = Counter()
    late: list[float] = []
    until = time.monotonic() + seconds

    def attack() -> None:
        while time.monotonic() < until:
            status, _, took = post(service, "cost-comparison", body)
            found[status] += 1
            late.append(took)

    others = Others(service)
    attackers = [threading.Thread(target=attack) for _ in range(6)]
    with others:
        for one in attackers:
            one.start()
        for one in attackers:
            one.join()
    held = others.expect_answered("with calculations that are cut off")
    expect(set(found) == {503}, f"what takes longer than {limit} s was answered {dict(found)}")
    expect(
        max(late) <= limit + MARGIN, f"cut off after {max(late):.1f} s; the bound is {limit + MARGIN:.0f} s"
    )
    began = time.monotonic()
    while gauge(service, "sumpwright_queue_answering") > 0:
        expect(
            time.monotonic() - began < SOON, f"slots are held {SOON:.0f} s after their callers were answered"
        )
        time.sleep(0.02)
    service.end()
    print(
        f"documents: {found.total()} calculations cut off or sent away; others answered: {held}", flush=True
    )
    return {
        f"too long for {limit} s": f"{found.total()} cut off or sent away, within {max(late):.1f} s",
        "others answered meanwhile": held,
    }


def gauge(service: Service, name: str) -> int:
    _, metrics = service.ask("GET", "/metrics")
    return int(re.search(rf"^{name} (\d+)$", metrics.decode(), re.MULTILINE)[1])


#: What becomes of a caller who is sent away before it has sent all: it never reads why.
UNREAD = "cut off while sending"


def many_that_wait(binary: Path, times: int) -> dict[str, str]:
    """The longest documents, from many addresses, wait: the memory that the deploy files give is enough."""
    bound = shipped_memory()
    service = Service(binary, variables=shipped_variables())
    body = blend(20_000).removesuffix(b"}")
    body = body + b" " * (LONG - len(body) - 1) + b"}"
    found: Counter[int | str] = Counter()

    def one(caller: str) -> None:
        try:
            status, _, _ = post(service, "blend", body, caller)
        except OSError:
            status = UNREAD
        found[status] += 1

    others = Others(service)
    with others:
        for _ in range(times):
            callers = [threading.Thread(target=one, args=(f"127.0.1.{1 + i % 8}",)) for i in range(160)]
            for caller in callers:
                caller.start()
            for caller in callers:
                caller.join()
    most = service.most_resident()
    print(
        f"documents: {LONG / 1e6:.1f} MB from many at once: {dict(found)}; at most {most:.0f} MB in memory",
        flush=True,
    )
    expect(
        set(found) <= {200, 503, UNREAD} and found[200] > 0 and found[503] > 0,
        f"documents from many at once were answered {dict(found)}",
    )
    expect(most <= bound, f"many long documents took {most:.0f} MB; the deploy files give {bound:.0f} MB")
    held = others.expect_answered("with many long documents")
    service.end()
    return {
        f"documents of {LONG / 1e6:.1f} MB, 160 at once": f"{found[200]} answered, {found[503]} sent away",
        "the whole service's memory": f"at most {most:.0f} MB; the deploy files give {bound:.0f} MB",
        "others answered beside those": held,
    }


def shipped_variables() -> dict[str, str]:
    """What the files for Kubernetes, systemd and containers say to the C library, all of them the same."""
    said = [
        re.findall(r"\b(MALLOC_\w+)(?:=|, value: \")(\d+)", (DEPLOY / name).read_text())
        for name in ("kubernetes.yaml", "sumpwright.service", "Containerfile")
    ]
    expect(said[0] and said[0] == said[1] == said[2], f"the deploy files say different things: {said}")
    return dict(said[0])


def shipped_memory() -> float:
    """Megabytes that the files for Kubernetes and systemd give the service, the smaller of the two."""
    manifest = (DEPLOY / "kubernetes.yaml").read_text()
    unit = (DEPLOY / "sumpwright.service").read_text()
    gibibytes = [
        re.search(r"limits: \{[^}]*memory: (\d+)Gi\b", manifest)[1],
        re.search(r"^MemoryMax=(\d+)G$", unit, re.MULTILINE)[1],
    ]
    return 1024 * min(map(int, gibibytes))


def unfinished(binary: Path, seconds: float) -> dict[str, str]:
    """One address sends documents without their ends until no more is held for it: others are answered."""
    service = Service(binary)
    kept: list[socket.socket] = []
    # From large to small, so that whatever there is room for is filled nearly to the last byte.
    for length in [LONG] * 40 + [LONG >> halved for halved in range(1, 17) for _ in range(3)]:
        caller = socket.create_connection(("127.0.0.1", service.port), timeout=10)
        head = HEAD + b"content-length: %d\r\n\r\n" % (length + 1)
        with contextlib.suppress(OSError):
            caller.sendall(head + b" " * length)
        kept.append(caller)
        # The next one is sent when this one is held or refused.
        if length < LONG or len(kept) >= 30:
            service.settle()
    others = [Others(service), Others(service, "top-up", TOP_UP)]
    with others[0], others[1]:
        time.sleep(seconds)
    held = [other.expect_answered("with documents without an end") for other in others]
    for caller in kept:
        caller.close()
    service.end()
    print(
        f"documents: {len(kept)} without an end from one address; others answered: {', '.join(held)}",
        flush=True,
    )
    return {
        "documents without an end, from one address": f"{len(kept)}",
        "others' recharges answered beside those": held[0],
        "others' top-ups": held[1],
    }
