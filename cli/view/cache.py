"""Pictures kept once drawn: the last ones in memory, more on disk, both bounded."""

import contextlib
import hashlib
import os
import threading
from collections import OrderedDict
from collections.abc import Callable
from pathlib import Path

from indexer import limits

_MEMORY_BYTES = 48_000_000
_SWEPT_TO = 0.8  # of the bound, so that sweeping is rare


class PictureCache:
    """Files named by the SHA-256 of what they show; may be deleted at any time."""

    def __init__(self, folder: Path, most_bytes: int = limits.MAX_CACHE_BYTES) -> None:
        self._folder = folder
        self._most_bytes = most_bytes
        self._lock = threading.Lock()
        self._memory: OrderedDict[str, bytes] = OrderedDict()
        self._memory_bytes = 0
        self._disk_bytes: int | None = None  # counted on the first write

    @staticmethod
    def key(what: str) -> str:
        """The name under which the picture that `what` describes in full is kept."""
        return hashlib.sha256(what.encode("utf-8", "surrogateescape")).hexdigest()

    def get(self, what: str, draw: Callable[[], bytes]) -> bytes:
        """The picture that `what` describes in full; drawn when it is not kept."""
        key = self.key(what)
        with self._lock:
            if key in self._memory:
                self._memory.move_to_end(key)
                return self._memory[key]
        path = self._folder / key[:2] / key
        try:
            kept = path.read_bytes()
        except OSError:
            kept = b""
        if not kept:
            kept = draw()
            self._write(path, kept)
        self._remember(key, kept)
        return kept

    def _remember(self, key: str, picture: bytes) -> None:
        with self._lock:
            if key not in self._memory:
                self._memory_bytes += len(picture)
            self._memory[key] = picture
            while self._memory_bytes > _MEMORY_BYTES and len(self._memory) > 1:
                self._memory_bytes -= len(self._memory.popitem(last=False)[1])

    def _write(self, path: Path, picture: bytes) -> None:
        """Whole or not at all; a disk that takes nothing costs only time."""
        part = path.with_name(f"{path.name}.{os.getpid()}-{threading.get_ident()}.part")
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            part.write_bytes(picture)
            part.replace(path)
        except OSError:
            with contextlib.suppress(OSError):
                part.unlink()
            return
        with self._lock:
            if self._disk_bytes is None:
                self._disk_bytes = sum(size for _, size, _ in self._files())
            else:
                self._disk_bytes += len(picture)
            if self._disk_bytes > self._most_bytes:
                self._sweep()

    def _files(self) -> list[tuple[float, int, Path]]:
        out = []
        for path in self._folder.glob("??/*"):
            try:
                stat = path.stat()
            except OSError:
                continue
            out.append((stat.st_mtime, stat.st_size, path))
        return out

    def _sweep(self) -> None:
        files = sorted(self._files())
        total = sum(size for _, size, _ in files)
        for _, size, path in files:
            if total <= self._most_bytes * _SWEPT_TO:
                break
            path.unlink(missing_ok=True)
            total -= size
        self._disk_bytes = total
