"""The package for Debian, by nothing but dpkg-deb: programs, service, settings, manual."""

import os
import shutil
import subprocess

from contents import HERE, examples, packed
from programs import ROOT

SETTINGS = "etc/sumpwright/sumpwright.toml"
SCRIPTS = ("postinst", "prerm", "postrm")
COMPLETIONS = {
    "sumpwright.bash": "bash-completion/completions/sumpwright",
    "sumpwright-client.bash": "bash-completion/completions/sumpwright-client",
    "_sumpwright": "zsh/vendor-completions/_sumpwright",
    "_sumpwright-client": "zsh/vendor-completions/_sumpwright-client",
    "sumpwright.fish": "fish/vendor_completions.d/sumpwright.fish",
    "sumpwright-client.fish": "fish/vendor_completions.d/sumpwright-client.fish",
}


def write(path, version, programs, page, manual, licences, glibc, when):
    """The package at `path`."""
    root = path.parent / "package"
    shutil.rmtree(root, ignore_errors=True)
    lay(root, programs, page, manual, licences, when)
    size = sum(file.stat().st_size for file in root.rglob("*") if file.is_file()) // 1024
    control = (HERE / "debian/control").read_text()
    put(root, "DEBIAN/control", control.format(version=version, size=size, glibc=glibc).encode())
    put(root, "DEBIAN/conffiles", f"/{SETTINGS}\n".encode())
    for script in SCRIPTS:
        put(root, f"DEBIAN/{script}", (HERE / "debian" / script).read_bytes(), 0o755)
    build = ("dpkg-deb", "--build", "--root-owner-group", "-Zxz", str(root), str(path))
    environment = os.environ | {"SOURCE_DATE_EPOCH": str(when)}
    subprocess.run(build, check=True, stdout=subprocess.DEVNULL, env=environment)
    shutil.rmtree(root)


def lay(root, programs, page, manual, licences, when):
    """Every file where Debian has such files."""
    for name, program in programs.items():
        put(root, f"usr/bin/{name}", program.read_bytes(), 0o755)
    for name, file in page.items():
        put(root, f"usr/share/sumpwright/{name}", file.read_bytes())
    put(root, SETTINGS, (ROOT / "api/deploy/sumpwright.toml").read_bytes(), 0o640)
    put(root, "usr/lib/systemd/system/sumpwright.service", unit().encode())
    for page in (manual / "man1").iterdir():
        put(root, f"usr/share/man/man1/{page.name}.gz", packed(page.read_bytes(), when))
    for made, place in COMPLETIONS.items():
        put(root, f"usr/share/{place}", (manual / "completions" / made).read_bytes())
    of_package = "usr/share/doc/sumpwright"
    ours = [(ROOT / name).read_text() for name in ("LICENSE-MIT", "LICENSE-APACHE")]
    told = "Sumpwright is under the MIT licence or the Apache licence 2.0, as you choose.\n"
    put(root, f"{of_package}/copyright", "\n\n".join([told, *ours]).encode())
    put(root, f"{of_package}/licences-of-crates.gz", packed(licences.encode(), when))
    put(root, f"{of_package}/changelog.gz", packed((ROOT / "openapi/CHANGELOG.md").read_bytes(), when))
    for name, example in examples().items():
        put(root, f"{of_package}/examples/{name}", example.read_bytes())


def unit():
    """The unit of api/deploy, with the programs where a package puts them."""
    lines = (ROOT / "api/deploy/sumpwright.service").read_text().splitlines()
    text = "\n".join(lines[lines.index("[Unit]") :]) + "\n"
    placed = text.replace("/usr/local/bin/sumpwright", "/usr/bin/sumpwright")
    if placed == text:
        raise SystemExit("the unit starts no program of /usr/local/bin")
    return placed


def put(root, name, data, mode=0o644):
    place = root / name
    for folder in reversed(place.parents):
        if folder.is_relative_to(root) and not folder.exists():
            folder.mkdir(mode=0o755)
    place.write_bytes(data)
    place.chmod(mode)
