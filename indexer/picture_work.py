"""Where pages are drawn for showing: a few processes, each with its own pages in hand."""

import os
from concurrent.futures import CancelledError, Future, TimeoutError
from multiprocessing import get_context
from pathlib import Path
from types import TracebackType
from typing import Any, Self, TypeVar
from zlib import crc32

from pebble import ProcessExpired, ProcessPool

from indexer import pictures, work
from indexer.errors import BenchfolioError, InputError
from indexer.limits import PAGE_TIMEOUT_S, SHOW_TIMEOUT_S
from indexer.pictures import Cut, Sheet
from indexer.search.photos import PhotoReading, read_photo

_MOST = 2  # more processes would decode the same pages again
_AT_ONCE_PIXELS = 12_000_000  # a sheet at 300 dpi is decoded in 50 to 100 ms
_IN_LINE_S = 4 * SHOW_TIMEOUT_S  # with others before it; also when a process can't even start
_Result = TypeVar("_Result")


class PictureWork:
    """Draws pages in processes of their own. Safe to call from many threads.

    A page is always drawn by the same process, which has it decoded from the last time. A page
    that hangs or crashes its process costs an InputError; the process is replaced.
    """

    def __init__(self, processes: int | None = None) -> None:
        count = processes or min(_MOST, work.default_workers())
        # a fresh interpreter: this process has threads, and a fork would copy their locks
        fresh = get_context("spawn")
        self._pools: list[Any] = [
            ProcessPool(max_workers=1, initializer=work.bound_worker, context=fresh)
            for _ in range(count)
        ]
        self._photos: Any = ProcessPool(max_workers=1, initializer=work.bound_worker, context=fresh)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Stops the processes; work in hand is dropped."""
        for pool in (*self._pools, self._photos):
            pool.stop()
            pool.join()

    def warm(self) -> None:
        """Starts the processes, so that the first picture does not wait for them."""
        for pool in self._pools:
            pool.schedule(pictures.ready)

    def size(self, sheet: Sheet) -> tuple[int, int]:
        """Width and height in pixels of the upright page. Raises InputError."""
        future: Future[tuple[int, int]] = self._pool(sheet).schedule(
            pictures.whole_size, args=(sheet,), timeout=SHOW_TIMEOUT_S
        )
        return _result(future, sheet)

    def prepare(self, sheet: Sheet, size: tuple[int, int]) -> None:
        """Has a page decoded that a person is about to look at; a fold-out is left to its parts.

        Returns at once; a page that can't be drawn says so when it is.
        """
        if size[0] * size[1] <= _AT_ONCE_PIXELS:
            self._pool(sheet).schedule(pictures.prepare, args=(sheet,), timeout=SHOW_TIMEOUT_S)

    def cut(self, sheet: Sheet, part: Cut) -> bytes:
        """A part of a page as a picture file's bytes. Raises InputError."""
        future: Future[bytes] = self._pool(sheet).schedule(
            pictures.cut, args=(sheet, part), timeout=SHOW_TIMEOUT_S
        )
        return _result(future, sheet)

    def read_photo(self, path: Path) -> "Future[PhotoReading]":
        """Starts reading a photo by both readers."""
        future: Future[PhotoReading] = self._photos.schedule(
            read_photo, args=(path,), timeout=PAGE_TIMEOUT_S
        )
        return future

    def _pool(self, sheet: Sheet) -> Any:
        at = crc32(f"{sheet.path}:{sheet.number}".encode("utf-8", "surrogateescape"))
        return self._pools[at % len(self._pools)]


def _result(future: "Future[_Result]", sheet: Sheet) -> _Result:
    place = f"Page {sheet.number} of {os.path.basename(sheet.path)}"  # noqa: PTH119 - any bytes
    try:
        return future.result(_IN_LINE_S)
    except BenchfolioError:
        raise
    except TimeoutError as error:
        reason: BaseException = error
        said = f"takes longer than {SHOW_TIMEOUT_S:.0f} s to draw"
    except ProcessExpired as error:
        reason, said = error, "crashes what draws it"
    except CancelledError as error:
        reason, said = error, "was not drawn: the view is closing"
    except MemoryError as error:
        reason, said = error, "needs more memory than one page may take"
    except Exception as error:  # whatever a library raised on one page costs that page only
        reason, said = error, f"can't be drawn ({type(error).__name__})"
    raise InputError(f"{place} {said}.", "Scan it again, or save it anew.") from reason
