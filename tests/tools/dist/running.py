"""A service that runs until the check is done with it, and what it said."""

import re
import signal
import subprocess
import time
from contextlib import contextmanager
from pathlib import Path

import asks

WAIT = 60


@contextmanager
def service(command, said: Path, environment, stop=None):
    """Starts the service and gives its address; at the end it has to stop in good order."""
    with said.open("wb") as out:
        quiet = {"stdin": subprocess.DEVNULL, "stdout": out, "stderr": subprocess.STDOUT}
        process = subprocess.Popen(command, env=environment, **quiet)
    try:
        yield address_of(process, said)
        if stop:
            stop(process)
        else:
            process.send_signal(signal.SIGTERM)
        code = process.wait(WAIT)
        log = said.read_text(errors="replace")
        assert code == 0, f"it ended with {code}: {log[-600:]}"
        assert "told to stop" in log and "stopping" in log, log[-600:]
        assert "18446744073709551615" not in log, log
    finally:
        process.kill()


def address_of(process, said):
    for _ in range(WAIT * 5):
        text = said.read_text(errors="replace")
        # The line for the terminal, or the log's, whichever comes first.
        found = re.search(r"(?:serves |address=)\S*?(\d+\.\d+\.\d+\.\d+:\d+)", text)
        if found and asks_ready(found[1]):
            return f"http://{found[1]}"
        assert process.poll() is None, f"it ended with {process.returncode}: {text[-600:]}"
        time.sleep(0.2)
    raise AssertionError(f"it does not serve: {said.read_text(errors='replace')[-600:]}")


def asks_ready(bound):
    try:
        return asks.fetch(f"http://{bound}/readyz")[0] == 200
    except OSError:
        return False


def opened(recorded: Path):
    """The address that a browser was asked to open, once it was."""
    for _ in range(WAIT * 5):
        if recorded.exists() and recorded.read_text().strip():
            return recorded.read_text().strip()
        time.sleep(0.2)
    raise AssertionError("no browser was asked to open the page")
