"""What a program of others asks the service with: a wheel for Python, a package for Node and browsers.

Both are generated from the shipped document as tests/tools/clients generates and tries them, by the
versions that stand there.
"""

import json
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

import programs
from contents import HERE

TRIED = HERE.parent / "clients"
OURS = HERE / "clients"
LICENCES = ("LICENSE-MIT", "LICENSE-APACHE")


def write(folder, version, when):
    """The wheel and the package in `folder`, and their paths."""
    with tempfile.TemporaryDirectory() as temporary:
        work = Path(temporary)
        shipped = document_of(version)
        document = work / "openapi.json"
        document.write_text(json.dumps(shipped))
        told = {"VERSION": version} | words_of(shipped)
        return [for_python(work, document, folder, told, when), for_node(work, document, folder, told)]


def document_of(version):
    """The shipped document, with JSON as the only body: neither generator sends text that is no JSON."""
    document = json.loads((programs.ROOT / "openapi/openapi.json").read_text())
    its_own = document["info"]["version"]
    if its_own != version:
        raise SystemExit(f"openapi/openapi.json is of version {its_own}, not {version}: refresh it first")
    for item in document["paths"].values():
        if body := item.get("post", {}).get("requestBody"):
            body["content"] = {"application/json": body["content"]["application/json"]}
    return document


def words_of(document):
    """What the READMEs' example prints, also of a mistyped number, as the document shows it."""
    answers = document["components"]["responses"]
    record = answers["TopUpAnswered"]["content"]["application/json"]["example"]
    problems = answers["Problem422"]["content"]["application/problem+json"]["examples"]
    refused = problems["inconsistent"]["value"]
    return {"STATEMENT": record["statement"], "REFUSED": refused["detail"]}


def for_python(work, document, folder, told, when):
    tools, source = work / "python", work / "wheel"
    programs.run(sys.executable, "-m", "venv", str(tools))
    pip = (str(tools / "bin/pip"), "--quiet", "--disable-pip-version-check")
    wanted = ("--constraint", str(TRIED / "requirements.txt"), "openapi-python-client", "ruff")
    programs.run(*pip, "install", *wanted)
    lay(source, OURS / "python", told)
    generate = ("openapi-python-client", "generate", "--meta", "none", "--fail-on-warning")
    generate += ("--config", str(TRIED / "python.yaml"), "--path", str(document))
    path = f"{tools / 'bin'}:{programs.environment()['PATH']}"
    # The generator has ruff format what it wrote; what ruff remembers of that is no part of it.
    environment = programs.environment(PATH=path, RUFF_NO_CACHE="true", SOURCE_DATE_EPOCH=str(when))
    package = source / "sumpwright_api"
    quietly(*generate, "--output-path", str(package), env=environment)
    # By this, a checker of types reads those of an installed package.
    (package / "py.typed").touch()
    quietly(*pip, "wheel", "--no-deps", "--wheel-dir", str(folder), str(source), env=environment)
    return folder / f"sumpwright_api-{told['VERSION']}-py3-none-any.whl"


def for_node(work, document, folder, told):
    source = work / "node"
    lay(source, OURS / "node", told)
    about = json.loads((source / "package.json").read_text())
    tried = json.loads((TRIED / "package.json").read_text())["dependencies"]
    needed = {"dependencies": {"openapi-fetch": tried["openapi-fetch"]}}
    (source / "package.json").write_text(json.dumps(about | needed, indent=2) + "\n")
    tools = work / "generators"
    tools.mkdir()
    shutil.copy(TRIED / "package.json", tools)
    programs.run("npm", "install", "--silent", "--no-fund", "--no-audit", "--prefix", str(tools))
    (source / "node_modules").symlink_to(tools / "node_modules")
    names = ("--root-types", "--root-types-no-schema-prefix", "--root-types-keep-casing")
    types = tools / "node_modules/.bin/openapi-typescript"
    document.write_text(json.dumps(with_mixed_maps(json.loads(document.read_text()))))
    quietly(str(types), str(document), "--output", str(source / "schema.ts"), *names)
    quietly(str(tools / "node_modules/.bin/tsc"), "--project", str(source))
    quietly("npm", "pack", "--pack-destination", str(folder), cwd=source)
    return folder / f"sumpwright-api-{told['VERSION']}.tgz"


def with_mixed_maps(document):
    """TypeScript has no type for a map of objects with a number beside them, which then no value fits. There
    every member may be a number, for its compiler; the service still refuses those that are none."""
    for schema in document["components"]["schemas"].values():
        others = schema.get("additionalProperties")
        numbers = [one for one in schema.get("properties", {}).values() if "number" in one.get("type", "")]
        if isinstance(others, dict) and numbers and "number" not in others.get("type", ""):
            schema["additionalProperties"] = {"anyOf": [others, *numbers]}
    return document


def lay(source, ours, told):
    """A copy of our own files with what they are told in them, and the licences."""
    source.mkdir()
    for file in ours.iterdir():
        text = file.read_text()
        for word, stands_for in told.items():
            text = text.replace(word, stands_for)
        (source / file.name).write_text(text)
    for name in LICENCES:
        shutil.copy(programs.ROOT / name, source)


def quietly(*command, **how):
    """Runs a tool, and says what it said only where it fails."""
    said = {"stdout": subprocess.PIPE, "stderr": subprocess.STDOUT, "text": True}
    done = subprocess.run(command, **said, **how)
    if done.returncode:
        raise SystemExit(f"{' '.join(command)}: {done.returncode}\n{done.stdout}")
