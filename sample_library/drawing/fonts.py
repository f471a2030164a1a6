"""Type faces by plain names, found where Debian installs them."""

from functools import lru_cache

from PIL import ImageFont

URW = "/usr/share/fonts/opentype/urw-base35/"
FACES = {
    "roman": URW + "NimbusRoman-Regular.otf",
    "roman bold": URW + "NimbusRoman-Bold.otf",
    "roman italic": URW + "NimbusRoman-Italic.otf",
    "century": URW + "C059-Roman.otf",
    "century bold": URW + "C059-Bold.otf",
    "century italic": URW + "C059-Italic.otf",
    "bookman": URW + "URWBookman-Light.otf",
    "bookman bold": URW + "URWBookman-Demi.otf",
    "geometric": URW + "URWGothic-Book.otf",
    "geometric bold": URW + "URWGothic-Demi.otf",
    "sans": URW + "NimbusSans-Regular.otf",
    "sans bold": URW + "NimbusSans-Bold.otf",
    "narrow": URW + "NimbusSansNarrow-Regular.otf",
    "narrow bold": URW + "NimbusSansNarrow-Bold.otf",
    "chancery": URW + "Z003-MediumItalic.otf",
    "typewriter": "/usr/share/fonts/opentype/courier-prime/Courier Prime.otf",
    "typewriter bold": "/usr/share/fonts/opentype/courier-prime/Courier Prime Bold.otf",
    "drafting": "/usr/share/fonts/truetype/routed-gothic/routed-gothic.ttf",
    "drafting narrow": "/usr/share/fonts/truetype/routed-gothic/routed-gothic-narrow.ttf",
    "stencil": "/usr/share/fonts/truetype/dejavu/DejaVuSansMono-Bold.ttf",
}


@lru_cache(maxsize=512)
def face(name: str, size_px: int) -> ImageFont.FreeTypeFont:
    """The face of that plain name at that size in pixels; KeyError for a name not listed."""
    return ImageFont.truetype(FACES[name], size_px)
