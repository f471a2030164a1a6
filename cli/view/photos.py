"""Photos sent in: kept under names of our own, read in a process, forgotten after a while."""

import io
import secrets
import shutil
import tempfile
import threading
import time
from collections import OrderedDict
from concurrent.futures import Future
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

from PIL import Image

from indexer import BenchfolioError, InputError, PictureWork, limits

_MOST_KEPT = 20  # questions by photo; the oldest is forgotten first
_FORMATS = ("JPEG", "PNG", "WEBP", "TIFF", "MPO")


@dataclass(frozen=True)
class PhotoQuestion:
    """Photos of one set on their way through the readers."""

    id: str
    futures: tuple["Future[Any]", ...]
    until_s: float  # by the monotonic clock: when the readers are given up

    @property
    def done(self) -> bool:
        """Whether every photo is read, or its readers are given up."""
        given_up = time.monotonic() > self.until_s
        return given_up or all(future.done() for future in self.futures)

    def readings(self) -> list[Any]:
        """What was read on each photo. Raises BenchfolioError kinds. Call it when `done`."""
        out = []
        for future in self.futures:
            try:
                out.append(future.result(0))
            except BenchfolioError:
                raise
            except Exception as error:
                raise InputError(
                    "The photo could not be read.", "Take it again, nearer and without glare."
                ) from error
        return out


class PhotoBox:
    """The last photo questions. Ids are made here, so a request can name nothing else."""

    def __init__(self, pictures: PictureWork) -> None:
        self._pictures = pictures
        self._folder = Path(tempfile.mkdtemp(prefix="benchfolio-"))
        self._lock = threading.Lock()
        self._kept: OrderedDict[str, PhotoQuestion] = OrderedDict()

    def close(self) -> None:
        """Deletes the photos."""
        shutil.rmtree(self._folder, ignore_errors=True)

    def add(self, photos: list[bytes]) -> str:
        """Starts reading photos of one set; their id. Raises InputError for what is none."""
        for photo in photos:
            check_photo(photo)
        question_id = secrets.token_urlsafe(12)
        futures = []
        for number, photo in enumerate(photos):
            path = self._folder / f"{question_id}-{number}"
            path.write_bytes(photo)
            futures.append(self._pictures.read_photo(path))
            futures[-1].add_done_callback(partial(_drop, path))
        until_s = time.monotonic() + limits.PAGE_TIMEOUT_S * (len(futures) + 1)
        with self._lock:
            self._kept[question_id] = PhotoQuestion(question_id, tuple(futures), until_s)
            while len(self._kept) > _MOST_KEPT:
                self._kept.popitem(last=False)
        return question_id

    def get(self, question_id: str) -> PhotoQuestion | None:
        """A photo question that is still kept."""
        with self._lock:
            return self._kept.get(question_id)


def _drop(path: Path, _: "Future[Any]") -> None:
    path.unlink(missing_ok=True)


def check_photo(photo: bytes) -> None:
    """Refuses what is no photo or too large, from its header alone. Raises InputError."""
    if len(photo) > limits.MAX_PHOTO_BYTES:
        raise InputError(
            f"That photo has {len(photo):,} bytes; {limits.MAX_PHOTO_BYTES:,} is the most.",
            "Send a smaller copy.",
        )
    try:
        with Image.open(io.BytesIO(photo), formats=_FORMATS) as image:
            pixels = image.width * image.height
    except Exception as error:
        raise InputError(
            "That file is no photo that can be read.", "Send a JPEG, PNG, WebP or TIFF."
        ) from error
    if pixels > limits.MAX_PHOTO_PIXELS:
        raise InputError(
            f"That photo has {pixels / 1e6:,.0f} million pixels;"
            f" {limits.MAX_PHOTO_PIXELS / 1e6:,.0f} million is the most.",
            "Send a smaller copy.",
        )
