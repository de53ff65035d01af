"""The licences of all that a program is made of, crates and libraries of the page, with their texts."""

import hashlib
import json
import re
import subprocess
import zipfile
from collections import defaultdict
from pathlib import Path

from programs import PACKAGES, ROOT

# What authors call the file with a licence or with a notice that must go with it.
NAMES = ("licen", "copying", "copyright", "notice", "unlicense")
# Libraries of the page, each with its licence beside it, as its first line says.
VENDORED = ROOT / "api/server/page/vendored"
# Only used to build, but what it holds, the page of the documentation, is built in.
BUILT_IN = "utoipa-swagger-ui-vendored"


def of_programs(target):
    """A text with every part of the programs for `target`, its licence, and every licence text once."""
    crates = crates_of(target) + vendored()
    texts, holders, without = {}, defaultdict(list), []
    for crate in crates:
        found = [crate["text"]] if "text" in crate else texts_of(crate)
        for text in found:
            mark = hashlib.sha256(" ".join(text.split()).encode()).hexdigest()
            texts[mark] = text
            holders[mark].append(f"{crate['name']} {crate['version']}")
        if not found:
            by = f", by {', '.join(crate['authors'])}" if crate["authors"] else ""
            without.append(f"{crate['name']} {crate['version']}: {crate['license']}{by}")
    lines = [
        "What these programs are made of besides Sumpwright itself: one line per crate, with the",
        "licence that its authors give it, and last the libraries of the page, which are JavaScript. Below",
        "stands every licence text and notice that came with them, once, under the names of those that it",
        "came with. The standard library of Rust is part of the programs too, under MIT or Apache-2.0",
        "(https://www.rust-lang.org/policies/licenses).",
        "",
    ]
    lines += [f"{crate['name']} {crate['version']}: {crate['license']}" for crate in crates]
    if without:
        lines += ["", "No text came with these; their licence is one of those below, or its standard text at"]
        lines += ["https://spdx.org/licenses/ holds:", "", *without]
    for mark, names in sorted(holders.items(), key=lambda one: one[1]):
        lines += ["", "=" * 72, *wrapped(names), "=" * 72, "", texts[mark].strip()]
    return "\n".join(lines) + "\n"


def crates_of(target):
    """The crates that end up in the programs: those used at run time, not those that only build."""
    tree = ("cargo", "tree", "--locked", "--target", target, "--edges", "normal,no-proc-macro", *PACKAGES)
    used = {tuple(line.split()[:2]) for line in read(*tree, "--prefix", "none").splitlines() if line}
    metadata = json.loads(read("cargo", "metadata", "--locked", "--format-version", "1"))
    others = [crate for crate in metadata["packages"] if crate["source"]]
    found = [crate for crate in others if (crate["name"], f"v{crate['version']}") in used]
    found += [crate for crate in others if crate["name"] == BUILT_IN]
    return sorted(found, key=lambda crate: (crate["name"], crate["version"]))


def vendored():
    """The libraries of the page."""
    found = []
    for path in sorted(VENDORED.glob("*.js")):
        first = path.open(encoding="utf-8").readline()
        name, version, licence = re.match(r"// (\S+) (\S+) by .*?, (\S+) licence: ", first).groups()
        text = path.with_suffix(".LICENSE").read_text(encoding="utf-8")
        found.append({"name": name, "version": version, "license": licence, "text": text})
    return found


def read(*command):
    return subprocess.run(command, check=True, cwd=ROOT, stdout=subprocess.PIPE, text=True).stdout


def texts_of(crate):
    """The licence texts and notices in the crate's source, and in an archive that is part of it."""
    folder = Path(crate["manifest_path"]).parent
    files = [path for path in sorted(folder.rglob("*")) if path.is_file() and is_text(path)]
    found = [path.read_bytes() for path in files]
    for packed in sorted(folder.rglob("*.zip")):
        with zipfile.ZipFile(packed) as archive:
            inner = [name for name in archive.namelist() if name.count("/") == 1 and is_text(Path(name))]
            found += [archive.read(name) for name in inner]
    return [text.decode(errors="replace") for text in found]


def is_text(path):
    """Whether a file has a licence or a notice, by its name; LICENSE.BSD and COPYING-2.0 have one too."""
    ending = path.suffix[1:]
    is_plain = ending.lower() in ("", "md", "txt") or ending.upper() == ending
    return is_plain and path.name.lower().startswith(NAMES)


def wrapped(names):
    lines = [""]
    for name in names:
        if len(lines[-1]) + len(name) > 70:
            lines.append("")
        lines[-1] += f"{', ' if lines[-1] else ''}{name}"
    return lines
