"""Typefaces of the period by split, so that nothing is reported on faces that were tuned on."""

from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path

from PIL import ImageFont

_URW = "/usr/share/fonts/opentype/urw-base35/"
_TTF = "/usr/share/fonts/truetype/"


@dataclass(frozen=True)
class Family:
    """Two weights of one typeface, as file paths."""

    body: str
    bold: str


_TEXT = {
    "look": (
        Family(_URW + "NimbusRoman-Regular.otf", _URW + "NimbusRoman-Bold.otf"),
        Family(_URW + "C059-Roman.otf", _URW + "C059-Bold.otf"),
        Family(_URW + "URWBookman-Light.otf", _URW + "URWBookman-Demi.otf"),
        Family(_URW + "URWGothic-Book.otf", _URW + "URWGothic-Demi.otf"),
        Family(_URW + "NimbusSans-Regular.otf", _URW + "NimbusSansNarrow-Bold.otf"),
        Family(
            "/usr/share/fonts/opentype/courier-prime/Courier Prime.otf",
            "/usr/share/fonts/opentype/courier-prime/Courier Prime Bold.otf",
        ),
    ),
    "report": (
        Family(_URW + "P052-Roman.otf", _URW + "P052-Bold.otf"),
        Family(_TTF + "liberation/LiberationSerif-Regular.ttf",
               _TTF + "liberation/LiberationSerif-Bold.ttf"),
        Family(_TTF + "dejavu/DejaVuSerifCondensed.ttf",
               _TTF + "dejavu/DejaVuSerifCondensed-Bold.ttf"),
        Family(_TTF + "freefont/FreeSans.ttf", _TTF + "freefont/FreeSansBold.ttf"),
        Family(_TTF + "liberation/LiberationSansNarrow-Regular.ttf",
               _TTF + "liberation/LiberationSansNarrow-Bold.ttf"),
        Family(_URW + "NimbusMonoPS-Regular.otf", _URW + "NimbusMonoPS-Bold.otf"),
        Family(_TTF + "gnutypewriter/GNUTypewriter.ttf", _TTF + "gnutypewriter/GNUTypewriter.ttf"),
    ),
}  # fmt: skip
_DRAFTING = {
    "look": (_TTF + "routed-gothic/routed-gothic.ttf",
             _TTF + "routed-gothic/routed-gothic-narrow.ttf",
             _URW + "URWGothic-Book.otf"),
    "report": (_TTF + "osifont/osifont.ttf",
               _TTF + "routed-gothic/routed-gothic-half-italic.ttf",
               _TTF + "liberation/LiberationSans-Regular.ttf"),
}  # fmt: skip


def missing(split: str) -> list[str]:
    """File names of the split's faces that aren't installed; other pages are drawn without them."""
    wanted = [path for one in _TEXT[split] for path in (one.body, one.bold)]
    return [Path(path).name for path in (*wanted, *_DRAFTING[split]) if not Path(path).exists()]


@cache
def families(split: str) -> tuple[Family, ...]:
    """The installed text faces of a split."""
    found = tuple(f for f in _TEXT[split] if Path(f.body).exists() and Path(f.bold).exists())
    if not found:
        raise FileNotFoundError("none of the typefaces is installed; see tests/accuracy/press")
    return found


@cache
def drafting(split: str) -> tuple[str, ...]:
    """The installed lettering faces of a split's drawings."""
    found = tuple(path for path in _DRAFTING[split] if Path(path).exists())
    return found or tuple(f.body for f in families(split))


@lru_cache(maxsize=256)
def face(path: str, size_px: int) -> ImageFont.FreeTypeFont:
    """A face at a size in pixels."""
    return ImageFont.truetype(path, size_px)
