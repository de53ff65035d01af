"""Builds the programs for Linux and for Windows, what a browser gets without them, and their man pages."""

import os
import re
import subprocess
from pathlib import Path

ROOT = Path(__file__).resolve().parents[3]
PROGRAMS = ("sumpwright", "sumpwright-client")
PACKAGES = ("--package", "sumpwright-server", "--package", "sumpwright-client")
# Whoever does not compile cannot choose features: the archives have all of them.
PACKAGES += ("--features", "sumpwright-server/otlp")
WINDOWS = "x86_64-pc-windows-gnu"
LINUX = "x86_64-unknown-linux-gnu"
# Debian's Rust comes with the source of its standard library, from which one for Windows is
# built; its own cargo must call its own compiler, whatever else is on the path.
DEBIAN_RUST = {"RUSTC": "/usr/bin/rustc", "RUSTC_BOOTSTRAP": "1"}
# Libraries that are part of Windows 10 and later.
OF_WINDOWS = re.compile(
    r"(advapi32|api-ms-win-[a-z0-9-]+|bcrypt|bcryptprimitives|crypt32|kernel32|msvcrt|ntdll|ole32|"
    r"oleaut32|secur32|shell32|user32|userenv|ws2_32)\.dll",
    re.IGNORECASE,
)


def run(*command, **how):
    return subprocess.run(command, check=True, cwd=ROOT, **how)


def environment(**more):
    """The environment of this process, without settings of the programs."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith("SUMPWRIGHT_")}
    return kept | more


def commit():
    """The commit that is built, which the programs name in records that are filed."""
    head = run("git", "rev-parse", "HEAD", capture_output=True, text=True).stdout.strip()
    return {"SUMPWRIGHT_COMMIT": head}


def folder_of(profile):
    return "debug" if profile == "dev" else profile


def for_linux(profile):
    """The programs for this machine's kind, by name."""
    run("cargo", "build", "--locked", "--profile", profile, *PACKAGES, env=environment(**commit()))
    folder = ROOT / "target" / folder_of(profile)
    return {name: folder / name for name in PROGRAMS}


def for_windows(profile):
    """The programs for Windows, the standard library with them."""
    into = ROOT / "target" / "windows"
    build = ("/usr/bin/cargo", "build", "-Z", "build-std=std,panic_unwind", "--target", WINDOWS)
    build += ("--target-dir", str(into), "--locked", "--profile", profile, *PACKAGES)
    run(*build, env=environment(**DEBIAN_RUST, **commit()))
    folder = into / WINDOWS / folder_of(profile)
    programs = {f"{name}.exe": folder / f"{name}.exe" for name in PROGRAMS}
    for program in programs.values():
        check_libraries_of_windows(program)
    return programs


def of_page():
    """The engine for browsers and the page as one file, by name."""
    for tool in ("build", "one-file"):
        run(f"tests/tools/browser/{tool}", env=environment())
    return {name: ROOT / "target/page" / name for name in ("engine.wasm", "sumpwright.html")}


def manual():
    """The folder with the man pages and the completions of both programs."""
    into = ROOT / "target" / "manual"
    run(
        *("cargo", "run", "--quiet", "--locked", "--package", "sumpwright-tests"),
        *("--example", "manual", "--", str(into)),
        env=environment(),
    )
    return into


def lowest_glibc(programs):
    """The version of the C library that the programs want at least."""
    found = set()
    for program in programs:
        symbols = run("objdump", "-T", str(program), capture_output=True, text=True).stdout
        found |= set(re.findall(r"GLIBC_([0-9.]+)", symbols))
    return max(found, key=lambda version: [int(part) for part in version.split(".")])


def check_libraries_of_windows(program):
    headers = run("objdump", "-p", str(program), capture_output=True, text=True).stdout
    libraries = re.findall(r"DLL Name: (\S+)", headers)
    foreign = [library for library in libraries if not OF_WINDOWS.fullmatch(library)]
    if foreign or not libraries:
        raise SystemExit(f"{program.name} wants {foreign}, which is not part of Windows")
