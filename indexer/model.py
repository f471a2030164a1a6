"""Frozen types that travel between the parts. They hold facts and know nothing of files or SQL."""

from dataclasses import dataclass, field
from enum import Enum
from functools import cached_property


class PageKind(str, Enum):
    """What a page prints, in the trade's words. A page may be of several kinds."""

    SCHEMATIC = "schematic"
    PARTS_LIST = "parts list"
    ALIGNMENT = "alignment"
    VOLTAGE_CHART = "voltage chart"
    RESISTANCE_CHART = "resistance chart"
    TUBE_LAYOUT = "tube layout"
    CHASSIS_VIEW = "chassis view"
    DIAL_STRINGING = "dial stringing"
    SERVICE_NOTES = "service notes"
    INDEX_PAGE = "index page"
    OTHER = "cover or other"


class PageState(str, Enum):
    """Where a page stands on its way through the readers."""

    WAITING = "waiting"
    READ = "read"  # by the first reader; `find` works
    DONE = "done"  # the second reader has had its turn, or was not needed
    FAILED = "failed"


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle in pixels of the upright page picture; the origin is the top left corner."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.bottom - self.top

    @property
    def middle(self) -> tuple[float, float]:
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2

    def union(self, other: "Box") -> "Box":
        """The smallest box around both."""
        return Box(
            min(self.left, other.left),
            min(self.top, other.top),
            max(self.right, other.right),
            max(self.bottom, other.bottom),
        )

    def overlap(self, other: "Box") -> float:
        """Shared area as a share (0 to 1) of the smaller box."""
        width = min(self.right, other.right) - max(self.left, other.left)
        height = min(self.bottom, other.bottom) - max(self.top, other.top)
        if width <= 0 or height <= 0:
            return 0.0
        smaller = min(self.width * self.height, other.width * other.height)
        return width * height / smaller if smaller > 0 else 0.0


@dataclass(frozen=True, slots=True)
class Word:
    """One word as read: its text, where it stands, and how sure the reader was (0 to 1).

    `line` numbers the text line it belongs to, in reading order. `printed` is what the reader
    saw when a repair changed the text (then `why` says on what grounds), else empty.
    """

    text: str
    box: Box
    confidence: float = 1.0
    line: int = 0
    printed: str = ""
    why: str = ""


@dataclass(frozen=True)
class PageReading:
    """All words of one page in reading order, in pixels of the upright picture.

    `rotation_deg` is the clockwise turn (0, 90, 180, 270) that makes the page as filed upright;
    `skew_deg` the small counter-clockwise turn after it that levels the rows.
    `reader` is "embedded", "typed", "tesseract", "second" or "tesseract+second".
    """

    words: tuple[Word, ...]
    width_px: int
    height_px: int
    reader: str
    rotation_deg: int = 0
    seconds: float = 0.0
    rotation_sure: bool = True
    skew_deg: float = 0.0

    @cached_property
    def lines(self) -> tuple[tuple[Word, ...], ...]:
        """The words grouped by line, in order."""
        grouped: dict[int, list[Word]] = {}
        for word in self.words:
            grouped.setdefault(word.line, []).append(word)
        return tuple(tuple(words) for words in grouped.values())

    @cached_property
    def text(self) -> str:
        """The page as plain text, one printed line a line."""
        return "\n".join(" ".join(word.text for word in line) for line in self.lines)

    @property
    def confidence(self) -> float:
        """Mean confidence over letters and digits (0 to 1); 0 for a page without words."""
        weights = [len(word.text) for word in self.words]
        total = sum(weights)
        if not total:
            return 0.0
        return sum(w.confidence * n for w, n in zip(self.words, weights, strict=True)) / total


@dataclass(frozen=True, slots=True)
class PictureFacts:
    """What the picture itself tells, before any word is read. Shares are 0 to 1 of the page."""

    ink: float = 0.0
    long_lines: float = 0.0  # ink that belongs to long straight strokes
    text_like: float = 0.0  # area covered by rows of small blobs
    photo_like: float = 0.0  # area of continuous tone
    phash: str = ""  # 64-bit perceptual hash, 16 hex digits


@dataclass(frozen=True, slots=True)
class PageRef:
    """A page by content: the SHA-256 of its file's bytes and its number there, from 1."""

    sha256: str
    page: int


@dataclass(frozen=True, slots=True)
class PageInput:
    """One page as cataloguing sees it."""

    ref: PageRef
    file: str  # relative to its library folder, with "/" between parts
    reading: PageReading
    picture: PictureFacts = PictureFacts()
    printed: str = ""  # page label kept by the file, if any


@dataclass(frozen=True, slots=True)
class TubePlace:
    """One tube of a line-up: its type, and how and where the library prints it."""

    type: str  # as registered, without envelope: 6SN7
    printed: str = ""  # 6SN7GT
    role: str = ""  # "" when unknown
    symbol: str = ""  # V3
    page: PageRef | None = None
    alternatives: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PageFacts:
    """What one page says on its own, before pages are joined to entries."""

    ref: PageRef
    kinds: dict[PageKind, float]  # each kind found with its probability
    maker: str = ""
    models: tuple[str, ...] = ()
    chassis: tuple[str, ...] = ()
    tubes: tuple[TubePlace, ...] = ()
    year: int | None = None
    if_khz: float | None = None
    supply_words: str = ""  # supply as the words name it, else ""
    printed: str = ""
    masthead: float = 0.0  # probability that a set's first page begins here
    continued: bool = False
    publication: str = ""
    volume: str = ""


@dataclass(frozen=True, slots=True)
class Entry:
    """What a library prints about one set in one place.

    `corrected` names the fields that the person gave ("maker", "models", "chassis", "tubes",
    "year", "pages"). `on_paper` says where a set of a typed list lies ("blue binder, tab 3"):
    such an entry has no pages; `note` holds the list's further columns.
    """

    id: str
    maker: str
    models: tuple[str, ...]
    chassis: tuple[str, ...]
    tubes: tuple[TubePlace, ...]
    pages: tuple[PageRef, ...]
    year: int | None = None
    if_khz: float | None = None
    supply: str = "unknown"
    string_volts: float | None = None
    live_chassis: str = "unknown"
    doubts: tuple[str, ...] = ()
    evidence: dict[str, str] = field(default_factory=dict)  # fact -> where it was read
    corrected: tuple[str, ...] = ()
    on_paper: str = ""
    note: str = ""
    relations: tuple[tuple[str, str], ...] = ()  # ("same as", another model), as printed

    @property
    def tube_types(self) -> tuple[str, ...]:
        """The line-up as a sorted multiset of registered types."""
        return tuple(sorted(place.type for place in self.tubes))


@dataclass(frozen=True, slots=True)
class Listing:
    """One line of an index page: which publication, volume and page prints a set."""

    ref: PageRef
    maker: str
    model: str
    publication: str
    volume: str
    page: str
    here: PageRef | None = None  # the page itself, when the shelf has it
    chassis: str = ""  # where the line names one


@dataclass(frozen=True, slots=True)
class ListedSet:
    """One row of a typed list: a set on paper, every cell as typed. `line` counts from 1.

    `further` are the list's other columns with their names: (("condition", "complete"),).
    """

    line: int
    maker: str = ""
    model: str = ""
    chassis: str = ""
    tubes: str = ""
    where: str = ""
    year: str = ""
    further: tuple[tuple[str, str], ...] = ()
