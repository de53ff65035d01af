"""Tests the Linux archive and the Debian package in a Debian with only its essential packages."""

import json
import os
import shutil
import subprocess
import time

import asks
import links
import running

# As a person has it who logs in, and no more.
CLEAN = {"PATH": "/usr/local/bin:/usr/bin:/bin:/usr/sbin:/sbin", "LC_ALL": "C.UTF-8", "HOME": "/root"}
NOBODY = ("setpriv", "--reuid=65534", "--regid=65534", "--clear-groups", "--no-new-privs")
# Stands for the browser of a desktop: writes down what it was to open.
BROWSER = '#!/bin/sh\necho "$1" > /tmp/opened\n'


def root_at(folder, *more):
    """A root with Debian's essential packages and those named, which cannot compile anything."""
    make = ("mmdebstrap", "--quiet", "--variant=essential", *(f"--include={name}" for name in more))
    subprocess.run((*make, "bookworm", str(folder)), check=True)
    for tool in ("cc", "gcc", "cargo", "rustc", "python3"):
        assert not (folder / "usr/bin" / tool).exists(), f"{tool} is there"
    place = folder / "usr/local/bin/xdg-open"
    place.write_text(BROWSER)
    place.chmod(0o755)
    return folder


def inside(root, *command, **more):
    return (
        "env",
        "-i",
        *(f"{name}={value}" for name, value in (CLEAN | more).items()),
        "chroot",
        str(root),
        *command,
    )


def check_archive(archive, work, version):
    """Unpacks the archive as a person does, and uses what is in it."""
    root = root_at(work / "root")
    place = root / "opt"
    unpack = ("tar", "--extract", "--gzip", "--file", str(archive), "--directory", str(place))
    subprocess.run(unpack, check=True)
    (folder,) = place.iterdir()
    assert b'id="engine"' in (folder / "sumpwright.html").read_bytes(), "the page has no engine"
    links.follow(folder)
    links.listed(folder)
    name = f"/opt/{folder.name}"
    use(root, f"{name}/sumpwright", f"{name}/sumpwright-client", f"{name}/examples", version)
    opens(root, f"{name}/sumpwright")


def check_package(package, work, version):
    """Installs the package, uses it as its service does, and takes it away again."""
    root = root_at(work / "root", "systemd")
    shutil.copy(package, root / "tmp")
    run(root, "dpkg", "--install", f"/tmp/{package.name}")
    assert run(root, "dpkg-query", "--show", "sumpwright").split() == ["sumpwright", version]
    enabled = root / "etc/systemd/system/multi-user.target.wants/sumpwright.service"
    assert enabled.is_symlink(), "the service is not enabled"
    run(root, "systemd-analyze", "verify", "--man=no", "/usr/lib/systemd/system/sumpwright.service")
    unit = (root / "usr/lib/systemd/system/sumpwright.service").read_text()
    assert "DynamicUser=yes" in unit, "the service has no user of its own"
    run(root, "sumpwright", "--configuration", "/etc/sumpwright/sumpwright.toml", "--check-config")
    links.follow(root / "usr/share/doc/sumpwright")
    examples = "/usr/share/doc/sumpwright/examples"
    use(root, "/usr/bin/sumpwright", "/usr/bin/sumpwright-client", examples, version)
    for name in ("sumpwright", "sumpwright-client"):
        run(root, "bash", "-n", f"/usr/share/bash-completion/completions/{name}")
        assert (root / f"usr/share/man/man1/{name}.1.gz").exists()
    settings = root / "etc/sumpwright/sumpwright.toml"
    settings.write_text(settings.read_text() + "waiting = 32\n")
    run(root, "dpkg", "--remove", "sumpwright")
    assert not (root / "usr/bin/sumpwright").exists()
    assert settings.exists(), "settings that were changed were taken away"
    run(root, "dpkg", "--purge", "sumpwright")
    assert not settings.exists() and not enabled.is_symlink()


def run(root, *command, code=0):
    done = subprocess.run(inside(root, *command), capture_output=True, text=True)
    assert done.returncode == code, f"{command}: {done.returncode}: {done.stdout}{done.stderr}"
    return done.stdout


def use(root, service, client, examples, version):
    """The service as nobody in particular, and the client by itself and against the service."""
    said = root / "tmp/said"
    assert run(root, service, "--version").strip() == f"sumpwright {version}"
    # A collector that is not there, on a machine without a single certificate.
    spans = ("--otlp-endpoint", "http://127.0.0.1:9/v1/traces")
    start = inside(root, *NOBODY, service, "--bind", "127.0.0.1:0", *spans)
    with running.service(start, said, {"PATH": os.environ["PATH"]}) as address:
        asks.all_of_it(address, version)
        over_http = run(root, client, "ask", "top-up", f"{examples}/top-up.json", "--server", address)
    by_itself = run(root, client, "ask", "top-up", f"{examples}/top-up.json")
    assert json.loads(over_http) == json.loads(by_itself)
    rows = (client, "rows", "top-up", f"{examples}/readings.csv", "--units", "metric")
    # One of the rows has a problem, which the client ends with.
    run(root, *rows, "--output", "/tmp/answers.csv", code=1)
    asks.table((root / "tmp/answers.csv").read_bytes())
    (root / "tmp/answers.csv").unlink()
    made = subprocess.run(inside(root, service, "key", "shop"), check=True, capture_output=True, text=True)
    (root / "tmp/keys").write_text(made.stdout)
    key = made.stderr.split()[-1]
    start = inside(root, *NOBODY, service, "--bind", "0.0.0.0:0", "--keys", "/tmp/keys")
    with running.service(start, said, {"PATH": os.environ["PATH"]}) as address:
        asks.keys(address.replace("0.0.0.0", "127.0.0.1"), key)


def opens(root, service):
    """A click opens the page, and `--open` does; a start without a desktop does not."""
    recorded, said = root / "tmp/opened", root / "tmp/said"
    starts = {
        "a click": ((), {"DISPLAY": ":0", "SUMPWRIGHT_BIND": "127.0.0.1:0"}),
        "asked for": (("--open", "--bind", "127.0.0.1:0"), {}),
        "no desktop": ((), {"SUMPWRIGHT_BIND": "127.0.0.1:0"}),
        "forbidden": (("--no-open",), {"DISPLAY": ":0", "SUMPWRIGHT_BIND": "127.0.0.1:0"}),
        "in a container": ((), {"DISPLAY": ":0", "SUMPWRIGHT_BIND": "127.0.0.1:0", "container": "one"}),
    }
    for how, (flags, environment) in starts.items():
        recorded.unlink(missing_ok=True)
        start = inside(root, service, *flags, **environment)
        with running.service(start, said, {"PATH": os.environ["PATH"]}) as address:
            if how in ("a click", "asked for"):
                assert running.opened(recorded) == f"{address}/", how
            else:
                time.sleep(1)
                assert not recorded.exists(), f"{how}: {recorded.read_text()} was opened"
