"""The volumes as files with their truth, and as readings with a reader's errors."""

import hashlib
import json
import random
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image, ImageFilter

from indexer.model import Box, PageReading, PictureFacts, Word
from indexer.reading import clean
from tests.accuracy.press.paper import Paper
from tests.accuracy.volumes.binding import Volume, bind

DPI = 200
_SCALE = DPI / 300
_ALIKE = {"0": "O", "O": "0", "1": "I", "I": "1", "5": "S", "S": "5", "8": "B", "B": "8",
          "2": "Z", "Z": "2", "6": "G", "G": "6", "l": "1", "m": "rn", "e": "c",
          "h": "b"}  # fmt: skip


@dataclass(frozen=True)
class Scan:
    """One page as scanned: the picture, the words as printed in its pixels, how worn it is."""

    picture: Image.Image
    words: tuple[Word, ...]
    slips: float  # share of the words that a reader gets wrong
    lost: float  # share that it drops

    def look(self) -> PictureFacts:
        """What the picture alone tells."""
        return clean.look(clean.small_copy(self.picture.convert("L")))

    def read(self, seed: str) -> PageReading:
        """The page's words with look-alike slips and dropped words."""
        rng = random.Random(seed)
        words = []
        for word in self.words:
            if rng.random() < self.lost:
                continue
            confidence = round(rng.uniform(0.86, 0.97), 3)
            if rng.random() < self.slips:
                word = replace(word, text=_slipped(rng, word.text))
                confidence = round(rng.uniform(0.3, 0.8), 3)
            words.append(replace(word, confidence=confidence))
        return PageReading(tuple(words), *self.picture.size, "tesseract")


def _slipped(rng: random.Random, text: str) -> str:
    places = [n for n, letter in enumerate(text) if letter in _ALIKE]
    if not places:
        return text
    n = rng.choice(places)
    return text[:n] + _ALIKE[text[n]] + text[n + 1 :]


def scan(paper: Paper, seed: str, *, worse: bool = False) -> Scan:
    """A paper scanned; `worse` is a second scan, crooked and faint."""
    rng = random.Random(seed)
    angle = rng.uniform(-0.25, 0.25) * (4 if worse else 1)
    shift = rng.randrange(-6, 7) * (4 if worse else 1), rng.randrange(-6, 7) * (4 if worse else 1)
    size = (round(paper.image.width * _SCALE), round(paper.image.height * _SCALE))
    picture = paper.image.resize(size, Image.Resampling.BOX)
    move = {"translate": shift, "fillcolor": 255, "resample": Image.Resampling.BICUBIC}
    picture = picture.rotate(angle, **move)
    if worse:
        picture = picture.filter(ImageFilter.GaussianBlur(0.7))
    grey = np.asarray(picture, dtype=np.float32)
    noise = np.random.default_rng(rng.randrange(1 << 30)).normal(0, 16, grey.shape)
    level = 150 if not worse else 128
    picture = Image.fromarray(((grey + noise > level) * 255).astype(np.uint8)).convert("1")
    words = []
    for word in paper.words:
        (x0, y0), (x1, y1) = word.corners.min(axis=0), word.corners.max(axis=0)
        sides = [x0 * _SCALE + shift[0], y0 * _SCALE + shift[1]]
        sides += [x1 * _SCALE + shift[0], y1 * _SCALE + shift[1]]
        words.append(Word(word.text, Box(*map(float, sides)), 1.0, word.line))
    slips, lost = (0.06, 0.03) if worse else (0.012, 0.006)
    return Scan(picture, tuple(words), slips, lost)


@dataclass(frozen=True)
class Shelf:
    """Scans by file, in order, and the truth of all of them."""

    scans: dict[str, list[Scan]]
    truth: dict[str, Any]

    def write(self, folder: Path) -> None:
        """The volumes as PDF files, and `truth.json` beside the folder."""
        folder.mkdir(parents=True, exist_ok=True)
        for file, scans in self.scans.items():
            pictures = [one.picture for one in scans]
            pictures[0].save(folder / file, "PDF", resolution=DPI, save_all=True,
                             append_images=pictures[1:])  # fmt: skip
        truth = json.dumps(self.truth, indent=1)
        (folder.parent / "truth.json").write_text(truth, encoding="utf-8")


def draw_shelf(split: str, edition: int = 0) -> Shelf:
    """Every volume scanned, some pages twice, with the truth in pages of the files."""
    bound = bind(split, edition)
    scans: dict[str, list[Scan]] = {}
    truth: dict[str, Any] = {"pages": [], "sets": [], "listings": [], "copies": []}
    at: dict[tuple[str, int], int] = {}  # leaf -> page of the file
    for volume in bound:
        _scan_volume(volume, scans, truth, at)
    places = {
        (volume.volume_no, leaf.printed): (volume.file, at[volume.file, n])
        for volume in bound
        for n, leaf in enumerate(volume.leaves, 1)
        if leaf.printed
    }
    for volume in bound:
        for one in (*volume.sets, *volume.addenda):
            truth["sets"].append(_set(one, one in volume.addenda, at))
    seen = set()
    for volume in bound:
        for leaf in volume.leaves:
            for maker, model, number, page in leaf.listed:
                here = places.get((number, page))
                if (volume.file, maker, model, number, page) in seen:
                    continue
                seen.add((volume.file, maker, model, number, page))
                truth["listings"].append(
                    {"file": volume.file, "maker": maker, "model": model, "volume": number,
                     "page": page, "here": list(here) if here else None}
                )  # fmt: skip
    return Shelf(scans, truth)


def _scan_volume(
    volume: Volume,
    scans: dict[str, list[Scan]],
    truth: dict[str, Any],
    at: dict[tuple[str, int], int],
) -> None:
    rng = random.Random(f"{volume.seed} scans {volume.number}")
    out = scans.setdefault(volume.file, [])
    twice = []
    for n, leaf in enumerate(volume.leaves, 1):
        seed = f"{volume.seed} {volume.file} {n}"
        out.append(scan(leaf.paper, seed))
        at[volume.file, n] = len(out)
        _page(truth, volume.file, len(out), leaf)
        again = n > 2 and rng.random() < 0.05 and bool(leaf.sets or leaf.listed)
        if again and rng.random() < 0.6:
            out.append(scan(leaf.paper, seed + " again", worse=True))
            _page(truth, volume.file, len(out), leaf)
            truth["copies"].append([volume.file, at[volume.file, n], volume.file, len(out)])
        elif again:
            twice.append((n, leaf))
    if volume.number == 0:
        other = scans.setdefault("more-scans.pdf", [])
        for n, leaf in [(n, leaf) for n, leaf in enumerate(volume.leaves, 1) if leaf.sets][4:40:7]:
            other.append(scan(leaf.paper, f"{volume.seed} loose {n}", worse=True))
            _page(truth, "more-scans.pdf", len(other), leaf)
            truth["copies"].append([volume.file, at[volume.file, n], "more-scans.pdf", len(other)])
    for n, leaf in twice:
        out.append(scan(leaf.paper, f"{volume.seed} late {n}", worse=True))
        _page(truth, volume.file, len(out), leaf)
        truth["copies"].append([volume.file, at[volume.file, n], volume.file, len(out)])


def _page(truth: dict[str, Any], file: str, number: int, leaf: Any) -> None:
    kinds = sorted(kind.value for kind in leaf.kinds) or ["cover or other"]
    truth["pages"].append(
        {"file": file, "page": number, "printed": leaf.printed, "kinds": kinds,
         "tubes_only": bool(leaf.sets) and not leaf.kinds,
         "no_set": not leaf.sets and not leaf.listed}
    )  # fmt: skip


def _set(one: Any, addendum: bool, at: dict[tuple[str, int], int]) -> dict[str, Any]:
    return {
        "maker": one.one.maker,
        "models": list(one.one.models),
        "chassis": [one.one.chassis],
        "tubes": sorted(one.tubes),
        "alternatives": list(one.alternatives.values()),
        "relation": list(one.relation) if one.relation else None,
        "addendum": addendum,
        "pages": [[file, at[file, n]] for file, n in one.pages],
    }


def file_hash(split: str, file: str) -> str:
    """A stand-in for the hash of a file that was never written."""
    return hashlib.sha256(f"{split}/{file}".encode()).hexdigest()
