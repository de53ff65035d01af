"""Shared by the checks on a network: the service under test, how it is asked, what it holds in memory."""

import os
import subprocess
import sys
import threading
import time
from http.client import HTTPConnection
from pathlib import Path
from signal import SIGKILL, Signals

ROOT = Path(__file__).resolve().parent.parent.parent.parent


class Service:
    """The program on a port of this machine."""

    def __init__(self, binary: Path, *flags: str, port: int = 0, variables: dict[str, str] | None = None):
        command = [binary, "--bind", f"127.0.0.1:{port}", "--log", "warn", *flags]
        environment = os.environ | (variables or {})
        self.process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=environment)
        serves = next((line for line in self.process.stdout if " serves " in line), None)
        if serves is None:
            sys.exit("The service did not start.")
        self.port = int(serves.rsplit(":", 1)[1])
        threading.Thread(target=self.process.stdout.read, daemon=True).start()

    def ask(self, method: str = "GET", path: str = "/v1", body: bytes | None = None) -> tuple[int, bytes]:
        return ask(self.connect(), method, path, body)

    def connect(self, caller: str = "127.0.0.1", timeout: float = 10) -> HTTPConnection:
        """A connection of a caller, who without keys is an address: this machine has all of 127.0.0.0/8."""
        return HTTPConnection("127.0.0.1", self.port, timeout=timeout, source_address=(caller, 0))

    def resident(self) -> float:
        """Megabytes in memory now."""
        return self._memory("VmRSS")

    def most_resident(self) -> float:
        """The most megabytes that were in memory since `forget_the_most`."""
        return self._memory("VmHWM")

    def forget_the_most(self) -> None:
        Path(f"/proc/{self.process.pid}/clear_refs").write_text("5")

    def _memory(self, of: str) -> float:
        status = Path(f"/proc/{self.process.pid}/status").read_text()
        line = next(line for line in status.splitlines() if line.startswith(of))
        return int(line.split()[1]) / 1024

    def settle(self) -> None:
        """Waits until it has done nothing for a while: all that was sent has been received."""
        quiet, before = 0, self._processor_time()
        while quiet < 3:
            time.sleep(0.05)
            now = self._processor_time()
            quiet, before = (quiet + 1 if now == before else 0), now

    def _processor_time(self) -> int:
        """Hundredths of a second of both cores, of the program and of the system for it."""
        times = Path(f"/proc/{self.process.pid}/stat").read_text().rsplit(")", 1)[1].split()
        return int(times[11]) + int(times[12])

    def end(self, how: Signals = SIGKILL) -> None:
        self.process.send_signal(how)
        self.process.wait()


def ask(connection: HTTPConnection, method: str, path: str, body: bytes | None) -> tuple[int, bytes]:
    headers = {"content-type": "application/json"} if body else {}
    connection.request(method, path, body, headers)
    response = connection.getresponse()
    return response.status, response.read()


def expect(holds: bool, sentence: str) -> None:
    if not holds:
        sys.exit(f"BROKEN: {sentence}")
