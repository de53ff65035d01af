"""Shared by the two load tests: building, installing, starting, printing and recording."""

import atexit
import json
import re
import shutil
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent.parent


def build(example: str) -> Path:
    """Builds the server and a yardstick in Rust; returns their folder."""
    cargo = ["cargo", "build", "--release", "--locked", "-p", "sumpwright-server"]
    subprocess.run([*cargo, "--bins", "--example", example], cwd=ROOT, check=True)
    metadata = ["cargo", "metadata", "--no-deps", "--format-version", "1"]
    found = subprocess.run(metadata, cwd=ROOT, check=True, capture_output=True)
    return Path(json.loads(found.stdout)["target_directory"]) / "release"


def interpreter(binaries: Path, requirements: str) -> Path:
    """A Python with the packages of a requirements file, kept beside the build."""
    wanted = HERE / requirements
    environment = binaries.parent / f"load-{wanted.stem}"
    python, installed = environment / "bin" / "python", environment / "requirements.txt"
    if not installed.exists() or installed.read_bytes() != wanted.read_bytes():
        subprocess.run([sys.executable, "-m", "venv", environment], check=True)
        subprocess.run([python, "-m", "pip", "install", "-q", "-r", wanted], check=True)
        shutil.copy(wanted, installed)
    return python


def serve(command: list[str | Path], cores: str) -> tuple[str, int]:
    """Starts a server, which prints its address, on these cores."""
    process = subprocess.Popen(["taskset", "-c", cores, *command], stdout=subprocess.PIPE, text=True)
    atexit.register(end, process)
    for line in process.stdout:
        if found := re.search(r"http://127\.0\.0\.1:\d+", line):
            return found[0], process.pid
    sys.exit(f"{command[0]} does not serve.")


def end(process: subprocess.Popen) -> None:
    """Ends a server, gently at first."""
    process.terminate()
    try:
        process.wait(5)
    except subprocess.TimeoutExpired:
        process.kill()


def bracket(values: list[float], form: str) -> str:
    """The smallest and the largest of some values."""
    return f"[{min(values):{form}} – {max(values):{form}}]"


def record(name: str, headings: list[str], rows: list[list[str]]) -> None:
    """Writes figures into the section of this name in tests/tools/measurements.md."""
    lines = "".join("\t".join(row) + "\n" for row in rows)
    subprocess.run([HERE.parent / "record", name, *headings], input=lines, text=True, check=True)
