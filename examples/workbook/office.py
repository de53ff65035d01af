"""A headless LibreOffice that may use web services in documents of one folder.

`WEBSERVICE` works neither under `soffice --convert-to` nor in a document whose
folder is not trusted, so the program gets a profile of its own that trusts it.
"""

import contextlib
import subprocess
import time
from pathlib import Path

import uno
from com.sun.star.beans import PropertyValue
from com.sun.star.connection import NoConnectException

PROFILE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry"
  xmlns:xs="http://www.w3.org/2001/XMLSchema"
  xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Office.Common/Security/Scripting"><prop
  oor:name="SecureURL" oor:op="fuse"><value><it>{folder}</it></value></prop></item>
<item oor:path="/org.openoffice.Setup/L10N"><prop
  oor:name="ooSetupSystemLocale" oor:op="fuse"><value>{locale}</value></prop></item>
</oor:items>
"""


@contextlib.contextmanager
def running(folder, locale: str = "en-GB"):
    """Starts the program in a locale; its documents are in `folder`."""
    folder = Path(folder).resolve()
    profile = folder / f"profile-{locale}"
    (profile / "user").mkdir(parents=True)
    settings = PROFILE.format(folder=folder.as_uri(), locale=locale)
    (profile / "user" / "registrymodifications.xcu").write_text(settings)
    pipe = f"sumps-{folder.name}-{locale}"
    flags = ["--headless", "--norestore", "--nologo", "--nodefault"]
    command = [
        "soffice",
        *flags,
        f"-env:UserInstallation={profile.as_uri()}",
        f"--accept=pipe,name={pipe};urp",
    ]
    program = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    try:
        desk = desktop(pipe, program)
        yield desk
        with contextlib.suppress(Exception):
            desk.terminate()
        program.wait(30)
    finally:
        program.kill()
        program.wait()


def desktop(pipe: str, program: subprocess.Popen):
    """The desktop of the program, once it answers."""
    here = uno.getComponentContext()
    resolver = here.ServiceManager.createInstance("com.sun.star.bridge.UnoUrlResolver")
    for _ in range(600):
        try:
            context = resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
            return context.ServiceManager.createInstance("com.sun.star.frame.Desktop")
        except NoConnectException:
            # soffice is a script that starts the program and waits for it.
            if program.poll() is not None:
                raise RuntimeError("LibreOffice ended before it answered") from None
            time.sleep(0.1)
    raise RuntimeError("LibreOffice does not answer")


def said(**values) -> tuple:
    """Properties in UNO's form."""
    return tuple(PropertyValue(Name=name, Value=value) for name, value in values.items())


@contextlib.contextmanager
def opened(desk, path, follow: bool = True):
    """Opens a document that may follow its links, or one that may not."""
    how = said(Hidden=True, UpdateDocMode=3 if follow else 0)
    document = desk.loadComponentFromURL(Path(path).resolve().as_uri(), "_blank", 0, how)
    try:
        yield document
    finally:
        document.close(True)


def name(document, named: str):
    """The cell with a given name."""
    place = document.NamedRanges.getByName(named).ReferredCells
    return place.getCellByPosition(0, 0)


def store(document, path, kind: str) -> None:
    """Writes a copy of the document through one of LibreOffice's filters."""
    document.storeToURL(Path(path).resolve().as_uri(), said(FilterName=kind))
