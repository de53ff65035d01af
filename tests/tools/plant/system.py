"""The plant system as a process, and a front before the service that can fail on purpose."""

import http.client
import json
import os
import socket
import subprocess
import threading
import time
import urllib.error
import urllib.request
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

SOURCE = Path(__file__).resolve().parent.parent.parent.parent / "examples" / "plant"
# The package as it is installed for the tests.
PLANT = Path(os.environ["PLANT"])
KEY = "an invented key"


def free_port() -> int:
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return one.getsockname()[1]


def post(address: str, document) -> tuple[int, dict, dict]:
    """Status, headers and document of a response."""
    body = document if isinstance(document, bytes) else json.dumps(document).encode()
    return fetch(urllib.request.Request(address, body, {"content-type": "application/json"}))


def fetch(request) -> tuple[int, dict, dict]:
    try:
        with urllib.request.urlopen(request, timeout=40) as answer:
            return answer.status, dict(answer.headers), json.load(answer)
    except urllib.error.HTTPError as problem:
        return problem.code, dict(problem.headers), json.load(problem)


class Front:
    """Passes everything on to the service, after what it was told to answer first on
    behalf of an order. Another order that still waits may ask at any time.

    It speaks HTTP/1.0, so that no connection outlives it when it is closed.
    """

    def __init__(self, service: str):
        self.service, self.port = service, free_port()
        self.first: dict[str, list[tuple[int, dict]]] = {}
        self.asked: list[dict] = []
        self.server = None
        self.open()

    def open(self) -> None:
        front = self

        class Handler(BaseHTTPRequestHandler):
            def do_POST(self):
                body = self.rfile.read(int(self.headers["content-length"]))
                headers = {name.lower(): value for name, value in self.headers.items()}
                document = json.loads(body)
                front.asked.append(
                    {"path": self.path, "headers": headers, "document": document, "at": time.monotonic()}
                )
                first = front.first.get(document.get("reference"))
                status, headers, answer = (
                    first.pop(0) + (b"{}",) if first else front.pass_on(self.path, body, headers)
                )
                self.send_response(status)
                for name, value in headers.items():
                    self.send_header(name, value)
                self.send_header("content-length", str(len(answer)))
                self.end_headers()
                self.wfile.write(answer)

            def log_message(self, *_):
                pass

        self.server = ThreadingHTTPServer(("127.0.0.1", self.port), Handler)
        threading.Thread(target=self.server.serve_forever, daemon=True).start()

    def pass_on(self, path: str, body: bytes, headers: dict) -> tuple[int, dict, bytes]:
        where = self.service.removeprefix("http://")
        connection = http.client.HTTPConnection(where, timeout=30)
        kept = ("content-type", "accept", "x-request-id", "traceparent")
        connection.request("POST", path, body, {name: headers[name] for name in kept if name in headers})
        answer = connection.getresponse()
        text = answer.read()
        connection.close()
        return answer.status, {"content-type": answer.getheader("content-type")}, text

    def close(self) -> None:
        self.server.shutdown()
        self.server.server_close()

    def since(self, place: int, calculation: str | None = None, reference: str | None = None) -> list[dict]:
        return [
            one
            for one in self.asked[place:]
            if (calculation is None or one["path"] == f"/v1/{calculation}")
            and (reference is None or one["document"].get("reference") == reference)
        ]


class PlantSystem:
    """Node-RED with the flow, on a port of its own, filing into a folder."""

    def __init__(self, node_red: str, front: Front, folder: str):
        self.node_red, self.front, self.folder, self.port = node_red, front, folder, free_port()
        self.options = ["--settings", PLANT / "settings.js"]
        self.address = f"http://127.0.0.1:{self.port}"
        self.process = None

    def start(self) -> None:
        own = {
            "SUMPWRIGHT": f"http://127.0.0.1:{self.front.port}",
            "SUMPWRIGHT_KEY": KEY,
            "PLANT_PORT": str(self.port),
            "PLANT_STATE": self.folder,
            "PLANT_AGAIN": "2",
        }
        with open(Path(self.folder, "log"), "ab") as log:
            command = ["node", self.node_red, *self.options]
            self.process = subprocess.Popen(command, env={**os.environ, **own}, stdout=log, stderr=log)
        until = time.monotonic() + 60
        while time.monotonic() < until:
            if self.process.poll() is not None:
                break
            try:
                self.get("/job-orders/nobody")
                return
            except (OSError, json.JSONDecodeError):
                time.sleep(0.2)
        raise SystemExit("Node-RED did not start:\n" + self.log())

    def stop(self, kill: bool = False) -> None:
        if self.process:
            self.process.kill() if kill else self.process.terminate()
            self.process.wait(timeout=20)
            self.process = None

    def log(self) -> str:
        return Path(self.folder, "log").read_text()

    def order(self, document) -> tuple[int, dict, dict]:
        return post(f"{self.address}/job-orders", document)

    def actuals(self, document) -> tuple[int, dict, dict]:
        return post(f"{self.address}/batch-actuals", document)

    def get(self, path: str) -> dict:
        return fetch(urllib.request.Request(self.address + path))[2]

    def record(self, order: str, batch: str) -> tuple[int, str, bytes]:
        """Status, content type and document of a batch's record."""
        try:
            address = f"{self.address}/job-orders/{order}/batch-records/{batch}"
            with urllib.request.urlopen(address, timeout=40) as answer:
                return answer.status, answer.headers.get_content_type(), answer.read()
        except urllib.error.HTTPError as problem:
            return problem.code, problem.headers.get_content_type(), problem.read()

    def response(self, order: str) -> dict:
        return self.get(f"/job-orders/{order}/response")

    def wait_for(self, order: str, state: list[str], seconds: float = 20) -> dict:
        """The job response, as soon as the job has a given state."""
        until = time.monotonic() + seconds
        while True:
            response = self.response(order)
            if states(response) == state or time.monotonic() > until:
                return response
            time.sleep(0.2)


def states(document: dict) -> list[str]:
    return [state["StateText"] for state in document["JobState"]]
