"""Tests the wheel and the package for npm as somebody has them who writes a program: from an empty folder.

What is run are the commands and the examples of their READMEs, as they lie in the archives. By hand: 200 L
at 8 % hold 16 L of concentrate, and 140 L that read 5.6 °Brix, by a factor of 1.25, hold 9.8 L; so 6.2 L
are missing, and 53.8 L of water.
"""

import email
import json
import re
import subprocess
import sys
import tarfile
import zipfile
from contextlib import contextmanager

import asks
import running
from contents import HERE
from programs import ROOT, environment

DOCUMENT = ROOT / "openapi/openapi.json"
BY_DEFAULT = "http://127.0.0.1:8787"
# As a person has it who installed nothing else.
OTHERS = ("PYTHON", "NODE_", "VIRTUAL_ENV")
CLEAN = {name: value for name, value in environment(LC_ALL="C.UTF-8").items() if not name.startswith(OTHERS)}


class Readme:
    """What a README has a reader run, and what it says comes of it."""

    def __init__(self, text, language):
        blocks = re.findall(r"^```(\w+)\n(.*?)^```$", text, re.DOTALL | re.MULTILINE)
        kinds = [kind for kind, _ in blocks]
        assert kinds == ["sh", language, "text", "text"], kinds
        self.install, self.example, self.printed, self.refused = (block for _, block in blocks)
        for amount in ("6.2 L of concentrate", "53.8 L of water", "concentrate: 6.2 L", "water: 53.8 L"):
            assert amount in self.printed, f"{amount} is not in {self.printed}"
        # Code within a line, which may have its own line.
        self.inline = re.findall(
            r"`([^`\n]+)`", re.sub(r"^```.*?^```$", "", text, flags=re.DOTALL | re.MULTILINE)
        )

    def asked(self, address):
        return replaced(self.example, BY_DEFAULT, address)

    def mistyped(self, address):
        return replaced(self.asked(address), "140", "240")

    def code(self, start):
        """The code within a line that starts so."""
        (found,) = [code for code in self.inline if code.startswith(start)]
        return found


def replaced(text, old, new):
    assert text.count(old) == 1, f"{old} comes {text.count(old)} times in {text}"
    return text.replace(old, new)


def run(command, folder, path=None, code=0):
    clean = CLEAN | ({"PATH": f"{path}:{CLEAN['PATH']}"} if path else {})
    both = {"stdout": subprocess.PIPE, "stderr": subprocess.STDOUT, "text": True}
    done = subprocess.run(command, cwd=folder, env=clean, **both)
    assert done.returncode == code, f"{command}: {done.returncode}: {done.stdout}"
    return done.stdout


@contextmanager
def services(program, archive, work):
    """Addresses of a service, and of one that wants a key, with the key."""
    program = program or of_archive(archive.parent, work)
    made = subprocess.run((program, "key", "shop"), check=True, capture_output=True, text=True, env=CLEAN)
    (work / "keys").write_text(made.stdout)
    start, keyed = (program, "--bind", "127.0.0.1:0"), ("--keys", str(work / "keys"))
    with (
        running.service(start, work / "said", CLEAN) as address,
        running.service(start + keyed, work / "said-keyed", CLEAN) as closed,
    ):
        yield address, closed, made.stderr.split()[-1]


def of_archive(folder, work):
    """The service of the Linux archive that lies beside the clients."""
    archives = list(folder.glob("sumpwright-*-linux-x86_64.tar.gz"))
    if len(archives) != 1:
        raise SystemExit("there is no Linux archive with a service to ask: name a program with --service")
    unpack = ("tar", "--extract", "--gzip", "--file", str(archives[0]), "--directory", str(work))
    subprocess.run((*unpack, "--strip-components=1", "--wildcards", "*/sumpwright"), check=True)
    return str(work / "sumpwright")


def check_wheel(archive, work, version, program=None):
    """A new environment of Python with the wheel and what it needs, the newest and then the oldest of it."""
    with zipfile.ZipFile(archive) as packed:
        names = packed.namelist()
        (described,) = [name for name in names if name.endswith(".dist-info/METADATA")]
        about = email.message_from_bytes(packed.read(described))
    assert about["Name"] == "sumpwright-api" and about["Version"] == version, about.items()
    assert about["License-Expression"] == "MIT OR Apache-2.0"
    for name in ("sumpwright_api/py.typed", *(f"licenses/LICENSE-{one}" for one in ("MIT", "APACHE"))):
        assert [held for held in names if held.endswith(name)], f"{name} is not in the wheel"
    readme = Readme(about.get_payload(decode=True).decode(), "python")
    oldest = [lowest(needed) for needed in about.get_all("Requires-Dist")]
    with services(program, archive, work) as (address, closed, key):
        for kind, more in (("newest", []), ("oldest", oldest)):
            folder = work / kind
            run((sys.executable, "-m", "venv", str(folder)), work)
            (folder / archive.name).symlink_to(archive)
            commands = folder / "bin"
            for command in readme.install.splitlines():
                run(("sh", "-c", " ".join((command, *more))), folder, commands)
            run((commands / "pip", "check"), folder)
            use_wheel(readme, commands / "python", folder, address, closed, key)
            print(f"   with the {kind}: {', '.join(installed(commands / 'pip', folder))}")


def lowest(needed):
    """The oldest version of what a wheel needs, from `httpx<0.29,>=0.23.1`."""
    name, least = re.fullmatch(r"([\w-]+).*>=([0-9.]+).*", needed).groups()
    return f"{name}=={least}"


def installed(pip, folder):
    listed = json.loads(run((pip, "list", "--format", "json", "--disable-pip-version-check"), folder))
    return [f"{one['name']} {one['version']}" for one in listed if one["name"] in ("attrs", "httpx")]


def use_wheel(readme, python, folder, address, closed, key):
    def printed(example):
        return run((python, "-I", "-c", example), folder)

    assert printed(readme.asked(address)) == readme.printed, printed(readme.asked(address))
    assert printed(readme.mistyped(address)) == readme.refused, printed(readme.mistyped(address))
    assert "key" in printed(readme.asked(closed)), "a service with keys answers without one"
    made = readme.code("AuthenticatedClient(")
    opened = replaced(readme.asked(closed), "import Client", "import AuthenticatedClient")
    opened = re.sub(r"(?<=client = )Client\(.*\)", lambda _: replaced(made, BY_DEFAULT, closed), opened)
    assert printed(f"key = {key!r}\n{opened}") == readme.printed
    table = asks.readings().decode()
    posted = f"table = {table!r}.encode()\nprint({readme.code('client.get_httpx_client()')}.text)"
    rows = printed(f"{readme.asked(address)}\n{posted}").removeprefix(readme.printed)
    asks.table(rows.encode())
    # Every example of the document, there and back, by the checks of the generated client.
    run((python, HERE.parent / "clients/check.py", address, DOCUMENT), folder)


def check_package(archive, work, version, program=None):
    """An empty folder with the package: as JavaScript, and as TypeScript checked strictly."""
    with tarfile.open(archive) as packed:
        held = {name: packed.extractfile(name).read().decode() for name in packed.getnames()}
    about = json.loads(held["package/package.json"])
    assert about["name"] == "sumpwright-api" and about["version"] == version, about
    assert about["license"] == "(MIT OR Apache-2.0)" and about["private"], about
    assert {"package/LICENSE-MIT", "package/LICENSE-APACHE", "package/built/index.d.ts"} < set(held), set(
        held
    )
    readme = Readme(held["package/README.md"], "js")
    folder = work / "folder"
    folder.mkdir()
    (folder / archive.name).symlink_to(archive)
    run(("sh", "-c", readme.install), folder)
    print(f"   with {', '.join(sorted(one.name for one in (folder / 'node_modules').glob('[!.]*')))}")
    with services(program, archive, work) as (address, closed, key):
        opened = re.sub(
            r"createClient\(\{.*\}\)",
            lambda _: replaced(readme.code("createClient("), BY_DEFAULT, closed),
            readme.asked(closed),
        )
        opened = f"const key = {json.dumps(key)};\n{opened}"
        wanted = {"asked": readme.asked(address), "mistyped": readme.mistyped(address)}
        wanted |= {"closed": readme.asked(closed), "opened": opened}
        for name, example in wanted.items():
            (folder / f"{name}.mjs").write_text(example)
            (folder / f"{name}.mts").write_text(example)
        as_written = {name: run(("node", f"{name}.mjs"), folder) for name in wanted}
        (folder / "every.mts").write_text(every_question())
        compile_strictly(work, folder, [f"{name}.mts" for name in (*wanted, "every")])
        compiled = {name: run(("node", f"built/{name}.mjs"), folder) for name in wanted}
        for printed in (as_written, compiled):
            assert printed["asked"] == printed["opened"] == readme.printed, printed
            assert printed["mistyped"] == readme.refused, printed
            assert "key" in printed["closed"], printed
        (folder / "misspelt.mts").write_text(replaced(readme.asked(address), "capacity", "capacty"))
        assert "'capacty' does not exist" in compile_strictly(work, folder, ["misspelt.mts"], code=2)


def every_question():
    """Every question that the document shows, under the type that it has in the package."""
    lines = ['import type * as api from "sumpwright-api";']
    for item in json.loads(DOCUMENT.read_text())["paths"].values():
        if "post" in item:
            body = item["post"]["requestBody"]["content"]["application/json"]
            name = body["schema"]["$ref"].rsplit("/", 1)[-1]
            lines.append(f"export const a{name}: api.{name} = {json.dumps(body['example'])};")
    assert len(lines) > 20, lines
    return "\n".join(lines)


def compile_strictly(work, folder, files, code=0):
    """What the compiler says of the files; it is installed apart from them."""
    compiler = work / "compiler"
    if not compiler.exists():
        tried = json.loads((HERE.parent / "clients/package.json").read_text())["dependencies"]
        run(("npm", "install", "--silent", "--prefix", compiler, f"typescript@{tried['typescript']}"), work)
    strict = {"strict": True, "exactOptionalPropertyTypes": True, "noUncheckedIndexedAccess": True}
    options = strict | {"module": "NodeNext", "target": "ES2022", "types": [], "outDir": "built"}
    (folder / "tsconfig.json").write_text(json.dumps({"compilerOptions": options, "files": files}))
    return run((compiler / "node_modules/.bin/tsc", "--project", folder), folder, code=code)
