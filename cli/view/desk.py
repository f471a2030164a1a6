"""What the screens share: the open library, the processes that draw, the photos sent in."""

import threading
from collections import OrderedDict
from collections.abc import Iterator
from contextlib import contextmanager

from starlette.requests import HTTPConnection

from cli.view.cache import PictureCache
from cli.view.lan import Door
from cli.view.pages import page_called
from cli.view.photos import PhotoBox
from cli.view.settings import Settings
from indexer import Library, PictureWork, Sheet

_KNOWN_SHEETS = 4_000


class ViewDesk:
    """Made once for an application; closed with it."""

    def __init__(self, settings: Settings, door: Door | None = None) -> None:
        self.settings = settings
        self.door = door
        self.pictures = PictureWork()
        self.cache = PictureCache(settings.home / "cache" / "pictures")
        self.photos = PhotoBox(self.pictures)
        self._library = Library(settings.home)
        self._lock = threading.RLock()
        # tiles are looked up beside it: they do not wait for a question to be answered
        self._pages = Library(settings.home)
        self._pages_lock = threading.Lock()
        self._sheets: OrderedDict[str, tuple[Sheet, tuple[int, int]]] = OrderedDict()
        self._sheets_as_of = -1

    def close(self) -> None:
        """Lets go of the library and stops the processes."""
        self.photos.close()
        self.pictures.close()
        with self._lock, self._pages_lock:
            self._library.close()
            self._pages.close()

    @contextmanager
    def library(self) -> Iterator[Library]:
        """The library, for one request at a time: its connections are not shared by threads.

        Keep the block short; draw pictures outside it.
        """
        with self._lock:
            yield self._library

    def sheet(self, name: str) -> tuple[Sheet, tuple[int, int]]:
        """What a page is drawn from, and its full size in pixels. `name` as in `page_called`.

        Raises NothingFound for a page that is not in the catalogue, InputError for one that
        can't be opened.
        """
        with self._pages_lock:
            library = self._pages
            as_of = library.catalogue.rows("PRAGMA data_version")[0][0]
            if as_of != self._sheets_as_of:  # another program wrote: pages may be read anew
                self._sheets.clear()
                self._sheets_as_of = as_of
            if name in self._sheets:
                self._sheets.move_to_end(name)
                return self._sheets[name]
            card = page_called(library, name)
            sheet = Sheet.of(card.path, card.ref.page, library.catalogue.reading(card.page_id))
        known = (sheet, self.pictures.size(sheet))
        with self._pages_lock:
            self._sheets[name] = known
            if len(self._sheets) > _KNOWN_SHEETS:
                self._sheets.popitem(last=False)
        return known


def desk_of(request: HTTPConnection) -> ViewDesk:
    """The desk of the application that a request came to."""
    desk: ViewDesk = request.app.state.desk
    return desk
