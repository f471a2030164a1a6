"""Photos kept by content: one file each in the home's `photos` folder, named by its SHA-256."""

import hashlib
import os
import re
import tempfile
from contextlib import suppress
from pathlib import Path

from indexer.errors import InputError

SUFFIXES = (".jpg", ".png", ".webp", ".tif")
_NAME = re.compile(rf"[0-9a-f]{{64}}({'|'.join(re.escape(suffix) for suffix in SUFFIXES)})")


class PhotoFolder:
    """The folder of kept photos. Nothing in it is ever changed or overwritten."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def path(self, kept_as: str) -> Path:
        """Where a photo lies, there or not. Raises InputError for a name that is none of ours."""
        if not _NAME.fullmatch(kept_as):
            raise InputError(f"{kept_as[:80]} is not the name of a kept photo.")
        return self.folder / kept_as

    def put(self, data: bytes, suffix: str) -> str:
        """Keeps the bytes; their SHA-256. They are on the disk when this returns.

        Raises InputError when the folder can't be written.
        """
        sha256 = hashlib.sha256(data).hexdigest()
        target = self.path(sha256 + suffix)
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            if target.exists() and target.stat().st_size == len(data):
                return sha256
            handle, name = tempfile.mkstemp(prefix=".part-", dir=self.folder)
            part = Path(name)
            try:
                with os.fdopen(handle, "wb") as stream:
                    stream.write(data)
                    stream.flush()
                    os.fsync(stream.fileno())
                part.replace(target)
            finally:
                part.unlink(missing_ok=True)
            sync_folder(self.folder)
        except OSError as error:
            raise InputError(
                f"The photo can't be kept in {self.folder} ({error.strerror})."
            ) from error
        return sha256

    def read(self, kept_as: str) -> bytes | None:
        """A photo's bytes; None when the file is gone, or no longer what was put in."""
        try:
            data = self.path(kept_as).read_bytes()
        except OSError:
            return None
        return data if hashlib.sha256(data).hexdigest() == kept_as[:64] else None


def sync_folder(folder: Path) -> None:
    """Makes a renaming in a folder last through a power cut, where the system offers it."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
