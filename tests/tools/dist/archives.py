"""Archives whose bytes depend on nothing but what is put in and when it was committed."""

import hashlib
import io
import tarfile
import zipfile
from datetime import UTC, datetime

from contents import packed


def write_tar(path, files, when):
    """A .tar.gz with all files in one folder, which has the name of the archive."""
    folder = path.name.removesuffix(".tar.gz")
    held = io.BytesIO()
    with tarfile.open(fileobj=held, mode="w", format=tarfile.GNU_FORMAT) as tar:
        for name, entry in sorted(files.items()):
            about = tarfile.TarInfo(f"{folder}/{name}")
            about.size, about.mtime = len(entry.data), when
            about.mode = 0o755 if entry.is_program else 0o644
            about.uname = about.gname = "root"
            tar.addfile(about, io.BytesIO(entry.data))
    path.write_bytes(packed(held.getvalue(), when))


def write_zip(path, files, when):
    """A .zip with all files in one folder, which has the name of the archive."""
    folder = path.name.removesuffix(".zip")
    moment = datetime.fromtimestamp(when, UTC).timetuple()[:6]
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for name, entry in sorted(files.items()):
            about = zipfile.ZipInfo(f"{folder}/{name}", moment)
            about.compress_type = zipfile.ZIP_DEFLATED
            about.external_attr = (0o100755 if entry.is_program else 0o100644) << 16
            archive.writestr(about, entry.data)


def write_sums(folder, paths):
    """SHA256SUMS, as `sha256sum --check` reads it."""
    sums = [f"{hashlib.sha256(path.read_bytes()).hexdigest()}  {path.name}\n" for path in sorted(paths)]
    (folder / "SHA256SUMS").write_text("".join(sums))
