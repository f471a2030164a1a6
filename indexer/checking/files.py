"""Whether the files on the shelf still hold the bytes that were read."""

import hashlib
import sqlite3
import stat
from pathlib import Path

from indexer.checking.findings import MOST_SAID, Finding, looking
from indexer.file_names import find_again

_BLOCK = 1 << 20


def check_files(home: Path) -> tuple[str, list[Finding]]:
    """(a short account, what differs): every file of the catalogue read and hashed."""
    try:
        with looking(home / "catalogue.db") as db:
            rows = db.execute(
                "SELECT folder.path, name, size_bytes, mtime_ns, sha256 FROM file"
                " JOIN folder ON folder.id = folder_id WHERE state = 'ok' ORDER BY 1, 2"
            ).fetchall()
    except sqlite3.Error:
        return "not compared: the catalogue can't be read", []
    found: list[Finding] = []
    for folder, name, size_bytes, mtime_ns, sha256 in rows:
        said, damage = _said(find_again(folder, name), size_bytes, mtime_ns, sha256)
        if said:
            found.append(Finding("files", f"{name} {said}", _REMEDY[damage], damage=damage))
    more = len(found) - MOST_SAID
    shown = found[:MOST_SAID]
    if more > 0:
        worst = any(finding.damage for finding in found)
        shown.append(Finding("files", f"{more} more files differ", damage=worst))
    return f"{len(rows) - len(found)} of {len(rows)} files hold what was read", shown


_REMEDY = {
    False: "`benchfolio index` takes note of it.",
    True: "Compare it with a copy: the disk may be failing.",
}


def _said(path: Path, size_bytes: int, mtime_ns: int, sha256: str) -> tuple[str, bool]:
    """What is different, and whether it looks like damage; ("", False) when nothing is."""
    try:
        facts = path.stat()
        if not stat.S_ISREG(facts.st_mode):
            return "is no longer a file", False
        if (facts.st_size, facts.st_mtime_ns) != (size_bytes, mtime_ns):
            return "was changed since it was read", False
        digest = hashlib.sha256()
        with path.open("rb") as stream:
            while block := stream.read(_BLOCK):
                digest.update(block)
    except OSError as error:
        return f"can't be read ({(error.strerror or 'no answer').lower()})", False
    if digest.hexdigest() != sha256:
        return "holds other bytes than were read, though its date is the same", True
    return "", False
