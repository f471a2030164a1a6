"""The sheets of a packet that show a job's photos, two to a sheet, each with its words."""

from collections.abc import Sequence
from dataclasses import dataclass

from indexer.bench.marked import PacketPhoto
from indexer.bench.paper import BODY, TOP_PT, Sheets
from indexer.bench.place import FOOT_PT, MARGIN_PT, Window
from indexer.bench.scans import Scan, ScanMaker
from indexer.errors import InputError

_CAPTION_PT = 30.0  # two lines under each photo
_TITLE_PT = 26.0
_GAP_PT = 10.0


@dataclass(frozen=True, slots=True)
class LaidPhoto:
    """A photo in the writer, with the words that stand under it."""

    scan: Scan
    name: str
    words: str


def laid_photos(
    photos: Sequence[PacketPhoto], maker: ScanMaker
) -> tuple[list[LaidPhoto], list[str]]:
    """The photos brought into the packet by their own bytes; a line for each that can't be."""
    laid, lost = [], []
    for one in photos:
        photo = one.photo
        try:
            if not one.path.is_file():
                raise InputError("its file is gone")
            scan = maker.photo(one.path)
        except InputError as error:
            lost.append(f"photo {photo.name}: {error.message}")
            continue
        laid.append(LaidPhoto(scan, f"{photo.name}, kept {photo.at[:10]}", photo.why))
    return laid, lost


def write_photo_sheets(
    sheets: Sheets, photos: Sequence[LaidPhoto]
) -> list[list[tuple[LaidPhoto, Window]]]:
    """Adds a sheet for every two photos with their captions; what is to be laid on each sheet."""
    out = []
    for first in range(0, len(photos), 2):
        group = photos[first : first + 2]
        sheets.photo_sheet("Photos")
        out.append([_slot(sheets, one, at, len(group)) for at, one in enumerate(group)])
    return out


def _slot(sheets: Sheets, photo: LaidPhoto, at: int, of: int) -> tuple[LaidPhoto, Window]:
    """Where a photo lies, the `at`th (from 0) of those on its sheet; writes its caption."""
    top, width = TOP_PT + _TITLE_PT, sheets.w - 2 * MARGIN_PT
    height = (sheets.h - FOOT_PT - top) / of
    room = height - _CAPTION_PT - _GAP_PT
    scan = photo.scan
    scale = min(width / scan.width_pt, room / scan.height_pt)
    shown = scan.width_pt * scale, scan.height_pt * scale
    left = MARGIN_PT + (width - shown[0]) / 2
    foot = top + at * height + shown[1]  # from the top edge, as type is set
    bottom = sheets.h - foot
    sheets.caption(MARGIN_PT, foot + 4, width, photo.words or photo.name)
    if photo.words:
        sheets.caption(MARGIN_PT, foot + 4 + BODY * 1.3, width, photo.name, grey=True)
    window = Window(sheets.w, sheets.h, scale, left, bottom, (left, bottom, *shown))
    return photo, window
