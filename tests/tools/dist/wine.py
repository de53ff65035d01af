"""Tests the Windows archive under Wine, started by start.cmd."""

import json
import os
import signal
import subprocess
import zipfile
from pathlib import Path

import asks
import links
import running
from contents import HERE

# Stands for the browser, which Wine looks for under this name.
BROWSER = '#!/bin/sh\necho "$1" > "$OPENED"\n'


def check_archive(archive, work, version):
    with zipfile.ZipFile(archive) as packed:
        packed.extractall(work)
    (folder,) = [path for path in work.iterdir() if (path / "start.cmd").exists()]
    for name in ("start.cmd", "START.txt", "LICENSE-MIT.txt"):
        text = (folder / name).read_bytes()
        assert text.count(b"\r\n") == text.count(b"\n") > 0, f"{name} is not written as Windows does"
    links.follow(folder)
    links.listed(folder)
    wine = Wine(work, folder)
    try:
        use(wine, folder, work, version)
    finally:
        wine.end()


def use(wine, folder, work, version):
    assert wine.run("sumpwright.exe", "--version").strip() == f"sumpwright {version}"
    said, recorded = work / "said", work / "opened"
    # As a double click on start.cmd, but for the port.
    start = wine.command("cmd", "/c", ".\\start.cmd", "--bind", "127.0.0.1:0")
    with running.service(start, said, wine.environment, wine.interrupt) as address:
        assert running.opened(recorded) == f"{address}/"
        asks.all_of_it(address, version)
        client = ("sumpwright-client.exe", "ask", "top-up", "examples\\top-up.json")
        over_http = wine.run(*client, "--server", address)
    assert json.loads(over_http) == json.loads(wine.run(*client))
    rows = ("sumpwright-client.exe", "rows", "top-up", "examples\\readings.csv", "--units", "metric")
    # One of the rows has a problem, which the client ends with.
    wine.run(*rows, "--output", "answers.csv", code=1)
    asks.table((folder / "answers.csv").read_bytes())
    wine.run(*rows, "--output", "answers.xlsx", code=1)
    assert zipfile.is_zipfile(folder / "answers.xlsx")
    made = wine.ended("sumpwright.exe", "key", "shop")
    (folder / "keys").write_text(made.stdout)
    key = made.stderr.split()[-1]
    start = wine.command("sumpwright.exe", "--bind", "0.0.0.0:0", "--keys", "keys")
    with running.service(start, said, wine.environment, wine.interrupt) as address:
        asks.keys(address.replace("0.0.0.0", "127.0.0.1"), key)


class Wine:
    """A Windows of its own for the check."""

    def __init__(self, work, folder):
        self.folder, self.prefix = folder, work / "prefix"
        browser = work / "bin/xdg-open"
        browser.parent.mkdir()
        browser.write_text(BROWSER)
        browser.chmod(0o755)
        kept = {name: value for name, value in os.environ.items() if not name.startswith("SUMPWRIGHT_")}
        kept.pop("DISPLAY", None)
        self.environment = kept | {
            "PATH": f"{browser.parent}:{os.environ['PATH']}",
            "OPENED": str(work / "opened"),
            "WINEPREFIX": str(self.prefix),
            "WINEDEBUG": "-all",
            "WINEDLLOVERRIDES": "mscoree,mshtml=",
        }
        # Wine 8 lacks a library that Windows has; it is no part of the archive.
        source, library = HERE / "bcryptprimitives.c", self.prefix / "drive_c/windows/system32"
        subprocess.run(("wineboot", "--init"), check=True, env=self.environment, capture_output=True)
        compiler = ("x86_64-w64-mingw32-gcc", "-shared", "-o", str(library / "bcryptprimitives.dll"))
        subprocess.run((*compiler, str(source), "-ladvapi32"), check=True)

    def command(self, program, *arguments):
        return ("env", f"--chdir={self.folder}", "wine", program, *arguments)

    def run(self, program, *arguments, code=0):
        return self.ended(program, *arguments, code=code).stdout

    def ended(self, program, *arguments, code=0):
        command = self.command(program, *arguments)
        done = subprocess.run(command, env=self.environment, capture_output=True, text=True)
        assert done.returncode == code, f"{arguments}: {done.returncode}: {done.stdout}{done.stderr}"
        return done

    def interrupt(self, process):
        """Ctrl+C, which Wine makes of the signal, to the service itself."""
        for place in Path("/proc").glob("[0-9]*"):
            try:
                is_ours = f"WINEPREFIX={self.prefix}".encode() in (place / "environ").read_bytes()
                started = (place / "cmdline").read_bytes().lower()
            except OSError:
                continue
            if is_ours and started.split(b"\0")[0].endswith(b"sumpwright.exe"):
                os.kill(int(place.name), signal.SIGINT)

    def end(self):
        subprocess.run(("wineserver", "--kill"), env=self.environment)
