"""A page picture with what was read drawn over it, for a person to check."""

from PIL import Image, ImageDraw, ImageFont

from indexer.model import PageReading

_SURE, _UNSURE, _REPAIRED = (0, 90, 40), (190, 90, 0), (150, 0, 120)
_DOUBT_BELOW = 0.7


def draw_words(reading: PageReading, picture: Image.Image) -> Image.Image:
    """A colour copy with a frame and the text over each word: green when the reader was sure,
    orange when not, purple where a tube type was repaired."""
    shown = picture.convert("RGB")
    draw = ImageDraw.Draw(shown)
    for word in reading.words:
        colour = _REPAIRED if word.why else _SURE if word.confidence >= _DOUBT_BELOW else _UNSURE
        box = word.box
        draw.rectangle((box.left, box.top, box.right, box.bottom), outline=colour, width=2)
        size = max(12, min(28, int(box.height * 0.6)))
        font = ImageFont.load_default(size)
        draw.text((box.left, box.top - size), word.text, fill=colour, font=font)
    return shown
