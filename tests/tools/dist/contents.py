"""What lies in an archive: names inside it, with the bytes and whether they can be run."""

import gzip
from pathlib import Path
from typing import NamedTuple

from programs import ROOT

HERE = Path(__file__).resolve().parent
# Files of examples/ that are for whoever uses the programs; the rest is for whoever builds them.
EXAMPLES = (
    "*.json",
    "*.ndjson",
    "README.md",
    "readings.*",
    "shop-log.csv",
    "shop_log.py",
    "sumps.*",
    "pictures/*",
    "power-query/*.m",
    "apps-script/*.gs",
)

START_LINUX = """\
To start it:            ./sumpwright --open
The page in a browser:  http://127.0.0.1:8787/
To stop it:             Ctrl+C in its terminal

It needs nothing but the C library of the system, version {glibc} or later (Debian 12,
Ubuntu 22.04 and what is newer), and no rights of an administrator."""
CONTENTS_LINUX = """\
  sumpwright              the service, with its page
  engine.wasm             lets the page calculate where the service cannot be reached
  sumpwright.html         the page by itself: a browser opens it, and no service is needed
  sumpwright-client       answers every row of a spreadsheet
  examples/sumps.ods      a workbook for LibreOffice: start the service first, open it, and let it
                          update its links; on the sheet Readings type read on, in the sump and
                          reads in your machine's row; its row on Sumps says what to pour. Before
                          your own round empty the yellow cells of Log and Checks
  examples/sumps.xlsx     the same for Excel on Windows
  man                     the manual: man -l man/sumpwright.1
  sumpwright.toml         all settings, with their defaults
  examples                how the workbook and the client are used: README.md there; requests to try
  LICENSE-*, licences-of-crates.txt"""
START_WINDOWS = """\
To start it:            double-click start.cmd
The page in a browser:  http://127.0.0.1:8787/  (start.cmd opens it)
To stop it:             close its window, or press Ctrl+C in it

It needs Windows 10 or later, 64 bits, nothing to be installed, and no rights of an
administrator as long as it is used on this computer alone. The programs are not signed:
Windows may ask whether you trust them. Compare the checksum of the archive first."""
CONTENTS_WINDOWS = """\
  start.cmd               starts the service and opens its page
  sumpwright.exe          the service, with its page
  engine.wasm             lets the page calculate where the service cannot be reached
  sumpwright.html         the page by itself: a browser opens it, and no service is needed
  sumpwright-client.exe   answers every row of a spreadsheet
  examples/sumps.ods      a workbook for LibreOffice: start the service first, open it, and let it
                          update its links; on the sheet Readings type read on, in the sump and
                          reads in your machine's row; its row on Sumps says what to pour. Before
                          your own round empty the yellow cells of Log and Checks
  examples/sumps.xlsx     the same for Excel on Windows
  sumpwright.toml         all settings, with their defaults
  examples                how the workbook and the client are used: README.md there; requests to try
  LICENSE-*, licences-of-crates.txt"""


class Entry(NamedTuple):
    """A file in an archive."""

    data: bytes
    is_program: bool = False


def of_linux(version, programs, page, manual, licences, glibc):
    """What a Linux archive holds."""
    files = {name: Entry(path.read_bytes(), is_program=True) for name, path in programs.items()}
    for told in sorted((manual / "man1").iterdir()):
        files[f"man/{told.name}"] = Entry(told.read_bytes())
    start = START_LINUX.format(glibc=glibc)
    told = first_page(version, "Linux on x86-64", start, CONTENTS_LINUX)
    return files | shared(page, manual, licences) | {"START.txt": Entry(told.encode())}


def of_windows(version, programs, page, manual, licences):
    """What a Windows archive holds, texts with the ends of lines that Windows writes."""
    files = shared(page, manual, licences)
    told = first_page(version, "Windows on x86-64", START_WINDOWS, CONTENTS_WINDOWS)
    files["START.txt"] = Entry(told.encode())
    files["start.cmd"] = Entry((HERE / "start.cmd").read_bytes())
    for name in ("LICENSE-APACHE", "LICENSE-MIT"):
        files[f"{name}.txt"] = files.pop(name)
    texts = (".txt", ".cmd", ".toml", ".ps1", ".csv")
    for name in [name for name in files if name.endswith(texts)]:
        files[name] = Entry(files[name].data.replace(b"\r\n", b"\n").replace(b"\n", b"\r\n"))
    return files | {name: Entry(path.read_bytes(), is_program=True) for name, path in programs.items()}


def shared(page, manual, licences):
    """What both archives hold."""
    named = page | {name: ROOT / name for name in ("LICENSE-APACHE", "LICENSE-MIT")}
    named["sumpwright.toml"] = ROOT / "api/deploy/sumpwright.toml"
    named |= {f"completions/{path.name}": path for path in (manual / "completions").iterdir()}
    named |= {f"examples/{name}": path for name, path in examples().items()}
    files = {name: Entry(path.read_bytes()) for name, path in named.items()}
    return files | {"licences-of-crates.txt": Entry(licences.encode())}


def examples():
    """The files of examples/, by their names within it: links from one to another stay what they are."""
    folder = ROOT / "examples"
    paths = sorted(path for pattern in EXAMPLES for path in folder.glob(pattern))
    return {path.relative_to(folder).as_posix(): path for path in paths}


def first_page(version, system, start, contents):
    title = f"Sumpwright {version} for {system}"
    text = (HERE / "start.txt").read_text()
    return text.format(
        version=version, system=system, underline="=" * len(title), start=start, contents=contents
    )


def packed(data, when):
    """Bytes as gzip packs them, the same ones each time."""
    return gzip.compress(data, compresslevel=9, mtime=when)
