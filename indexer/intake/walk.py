"""Every file of a library's folders, once each and in order; what is left out, and why."""

import errno
import os
import stat
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from indexer import limits
from indexer.file_names import printable


@dataclass(frozen=True, slots=True)
class Found:
    """One file, or one thing left out (then `skipped` says why and the numbers are 0).

    `name` is relative to `folder`, with "/" between parts; it can be shown and stored, and
    `indexer.file_names.find_again` leads back from it to the file.
    """

    path: Path
    name: str
    folder: Path
    size: int = 0  # bytes
    mtime_ns: int = 0
    skipped: str = ""


@dataclass(slots=True)
class _Trip:
    """What one walk has seen so far, by real path."""

    roots: list[str]
    folders: set[str] = field(default_factory=set)
    files: set[str] = field(default_factory=set)


def walk(folders: Iterable[Path]) -> Iterator[Found]:
    """The files under `folders` (a folder may also be a single file), sorted by name.

    Left out without a word: hidden files and folders. Left out with a reason: pipes, devices and
    sockets (never opened), links that lead back or to nothing, links to what is read elsewhere
    in the same walk, trees deeper than MAX_FOLDER_DEPTH, what may not be read, what vanishes
    meanwhile. Never raises for any of these.
    """
    asked = [Path(os.path.abspath(folder)) for folder in folders]  # noqa: PTH100 (keeps links)
    trip = _Trip([os.path.realpath(folder) for folder in asked])
    for folder in asked:
        if not os.path.lexists(folder):
            yield Found(folder, printable(folder.name), folder.parent, skipped="not there")
        elif os.path.isdir(folder):  # noqa: PTH112 (Path.is_dir raises where nothing may be read)
            real = os.path.realpath(folder)
            if real in trip.folders:
                yield Found(folder, ".", folder, skipped="already read as part of another folder")
            else:
                yield from _folder(folder, "", folder, trip, 0)
        else:
            yield from _file(folder, printable(folder.name), folder.parent, trip)


def _folder(path: Path, prefix: str, root: Path, trip: _Trip, depth: int) -> Iterator[Found]:
    name = prefix.rstrip("/") or "."
    if depth > limits.MAX_FOLDER_DEPTH:
        yield Found(
            path, name, root, skipped=f"nested deeper than {limits.MAX_FOLDER_DEPTH} folders"
        )
        return
    real = os.path.realpath(path)
    trip.folders.add(real)
    try:
        with os.scandir(path) as listing:
            entries = sorted(listing, key=lambda entry: entry.name)
    except OSError as error:
        yield Found(path, name, root, skipped=f"the folder can't be read: {_said(error)}")
        return
    for entry in entries:
        if not _hidden(entry):
            yield from _entry(entry, prefix + printable(entry.name), root, trip, depth, real)


def _entry(
    entry: os.DirEntry[str], name: str, root: Path, trip: _Trip, depth: int, folder: str
) -> Iterator[Found]:
    path = Path(entry.path)
    try:
        linked = entry.is_symlink() or _junction(entry)
        is_folder = entry.is_dir()
    except OSError as error:
        yield Found(path, name, root, skipped=_link_trouble(error))
        return
    if not is_folder:
        # a plain file's real path is its folder's and its name: no further look at the disk
        real = "" if linked else os.path.join(folder, entry.name)  # noqa: PTH118
        yield from _file(path, name, root, trip, linked, real)
        return
    real = os.path.realpath(path)
    if real in trip.folders or (
        linked and _inside(real, trip.roots) and not _in_hidden(real, trip)
    ):
        here = os.path.realpath(path.parent)
        leads_back = here == real or here.startswith(real.rstrip(os.sep) + os.sep)
        why = (
            "a link that leads back to a folder above it"
            if leads_back
            else ("the same folder as one that is read elsewhere")
        )
        yield Found(path, name, root, skipped=why)
    elif linked and any(_inside(top, [real]) for top in trip.roots):
        yield Found(path, name, root, skipped="a link that leads back to a folder above it")
    else:
        yield from _folder(path, name + "/", root, trip, depth + 1)


def _file(
    path: Path, name: str, root: Path, trip: _Trip, linked: bool = False, real: str = ""
) -> Iterator[Found]:
    try:
        facts = path.stat()  # of what a link leads to
    except OSError as error:
        yield Found(path, name, root, skipped=_link_trouble(error))
        return
    if not stat.S_ISREG(facts.st_mode):
        yield Found(path, name, root, skipped=f"{_sort(facts.st_mode)}, not a file")
        return
    real = real or os.path.realpath(path)
    if real in trip.files or (linked and _inside(real, trip.roots) and not _in_hidden(real, trip)):
        yield Found(path, name, root, skipped="the same file as one that is read elsewhere")
        return
    trip.files.add(real)
    yield Found(path, name, root, facts.st_size, facts.st_mtime_ns)


def _inside(real: str, tops: list[str]) -> bool:
    """Whether `real` is one of the folders `tops` or lies in one."""
    return any(real == top or real.startswith(top.rstrip(os.sep) + os.sep) for top in tops)


def _in_hidden(real: str, trip: _Trip) -> bool:
    """Whether `real` lies in a hidden part of every root that holds it, so is not read there."""
    tops = [top for top in trip.roots if _inside(real, [top])]
    return all(
        any(part.startswith(".") for part in Path(real).relative_to(top).parts) for top in tops
    )


def _hidden(entry: os.DirEntry[str]) -> bool:
    if entry.name.startswith("."):
        return True
    if os.name != "nt":
        return False
    try:
        marks = getattr(entry.stat(follow_symlinks=False), "st_file_attributes", 0)
    except OSError:
        return False
    return bool(marks & stat.FILE_ATTRIBUTE_HIDDEN)


def _junction(entry: os.DirEntry[str]) -> bool:
    """Windows' older sort of folder link; Python knows of it from 3.12 on."""
    asks = getattr(entry, "is_junction", None)
    return bool(asks and asks())


def _link_trouble(error: OSError) -> str:
    if isinstance(error, FileNotFoundError):
        return "no longer there, or a link to nothing"
    if error.errno == errno.ELOOP:
        return "a link that leads back to itself"
    return f"can't be read: {_said(error)}"


def _said(error: OSError) -> str:
    if isinstance(error, PermissionError):
        return "permission denied"
    return (error.strerror or type(error).__name__).lower()


def _sort(mode: int) -> str:
    if stat.S_ISFIFO(mode):
        return "a pipe"
    if stat.S_ISSOCK(mode):
        return "a socket"
    return "a device"
