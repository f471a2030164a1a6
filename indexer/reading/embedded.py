"""Whether a file's own text can be trusted, judged against a sample of our own reading."""

import re
from collections import Counter

from PIL import Image

from indexer.model import PageReading
from indexer.reading import tesseract

_MIN_WORDS = 12  # fewer are a stamp or a page number laid over a scan
_AGREE = 0.75  # share of sampled words that must stand in the embedded text too
_SAMPLE_SHARE = 0.22  # of the page's height


def is_good(embedded: PageReading, picture: Image.Image) -> bool:
    """Whether the embedded words say what the picture shows.

    The densest band of the page is read by Tesseract, and its sure words are looked up among
    the embedded words of that band. A page without ink is good when its text is plausible
    by itself.
    """
    if len(embedded.words) < _MIN_WORDS or plausible_share(embedded) < 0.6:
        return False
    top, bottom = _densest_band(embedded)
    band = picture.crop((0, int(top), picture.width, int(bottom)))
    sample = [w for w in tesseract.read(band, layout=tesseract.ONE_BLOCK) if w.confidence >= 0.8]
    ours = Counter(key for w in sample if len(key := _key(w.text)) >= 3)
    if sum(ours.values()) < 5:
        return False
    theirs = Counter(_key(w.text) for w in embedded.words if top <= w.box.middle[1] <= bottom)
    shared = sum(min(count, theirs[key]) for key, count in ours.items())
    return shared >= _AGREE * sum(ours.values())


def plausible_share(reading: PageReading) -> float:
    """Share (0 to 1) of words that look like words, numbers or codes rather than rubbish."""
    words = [word.text for word in reading.words]
    if not words:
        return 0.0
    return sum(1 for text in words if _plausible(text)) / len(words)


def _plausible(text: str) -> bool:
    core = text.strip(".,;:!?()[]\"'“”‘’-—*/&")
    if not core:
        return len(text) == 1
    if re.fullmatch(r"[A-Za-z]+(['’-][A-Za-z]+)*", core):
        return len(core) < 3 or bool(re.search(r"[aeiouyAEIOUY]", core))
    return bool(re.fullmatch(r"[A-Za-z0-9.,/+±%°Ωµ½=-]{1,20}", core))


def _densest_band(reading: PageReading) -> tuple[float, float]:
    height = reading.height_px * _SAMPLE_SHARE
    tops = sorted(word.box.top for word in reading.words)
    starts = tops[:: max(1, len(tops) // 50)]
    best = max(starts, key=lambda start: sum(start <= top < start + height for top in tops))
    return max(0.0, best - 10), min(float(reading.height_px), best + height)


def _key(text: str) -> str:
    return re.sub(r"[^a-z0-9]", "", text.lower())
