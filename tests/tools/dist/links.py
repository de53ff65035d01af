"""Follows what the pages of an unpacked archive point to."""

import re

LINK = re.compile(r"\]\(([^)\s]+)\)")


def follow(folder):
    """Every link of a page that is not one to the network leads to a file in the folder, or to a heading."""
    folder = folder.resolve()
    pages = sorted(path for path in folder.rglob("*") if path.suffix in (".md", ".txt"))
    links = [(page, link) for page in pages for link in LINK.findall(page.read_text())]
    links = [(page, link) for page, link in links if not re.match("[a-z]+:", link)]
    dead = [f"{page.name}: {link}" for page, link in links if not leads(folder, page, link)]
    assert not dead, f"dead links in {folder.name}: {dead}"
    assert len(links) > 20, f"only {len(links)} links were found in {folder.name}"


def leads(folder, page, link):
    file, _, part = link.partition("#")
    target = (page.parent / file).resolve() if file else page
    if not target.is_file() or folder not in target.parents:
        return False
    return not part or part in headings(target.read_text())


def headings(text):
    lines = (line.strip("# ") for line in text.splitlines() if line.startswith("#"))
    return {line.lower().replace(" ", "-") for line in lines}


def listed(folder):
    """Every file that START.txt lists is there."""
    _, _, told = (folder / "START.txt").read_text().partition("What is here")
    lines = re.findall(r"^  (\S.*?)(?:   *\S.*)?$", told, re.MULTILINE)
    names = [name for line in lines for name in line.split(", ")]
    gone = [name for name in names if not list(folder.glob(name))]
    assert not gone, f"START.txt lists what is not there: {gone}"
    assert len(names) > 8, f"START.txt lists only {names}"
