"""`python -m tests.accuracy.stance`: fits and tries what tells upright letters from upside down.

Pages of the press's look split are turned upright and the weights of `indexer.reading.stance`
fitted by logistic regression to letters of every second one, then tried on the others; last the
weights of all are printed. With `--split report` the weights in use are tried on those pages.
"""

import argparse
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from indexer.reading import clean, stance
from tests.accuracy.press.pages import press

Numbers = NDArray[np.float64]
_RIDGE = 5.0  # holds weights small that few letters speak for
_ROUNDS = 40
_FEW = 20  # letters from which a page counts in full


@dataclass(frozen=True)
class Sample:
    """The letters of one page, upright: halves apart, a row a letter."""

    name: str
    letters: Numbers


def sample(split: str, count: int) -> list[Sample]:
    """So many pages of a split."""
    found = []
    for n, page in enumerate(press(split, count)):
        gray = np.asarray(clean.turn(clean.small_copy(page.picture), page.turned_deg))
        letters = stance.glyphs(gray, *clean.letters(gray))
        name = f"{n} {page.group} {page.wear}"
        found.append(Sample(name, stance.halves_apart(letters).astype(np.float64)))
    return found


def fitted(pages: list[Sample]) -> Numbers:
    """The weights under which upright letters are likeliest; every page counts alike."""
    letters = np.concatenate([page.letters for page in pages])
    count = np.concatenate(
        [np.full(len(page.letters), 1 / max(_FEW, len(page.letters))) for page in pages]
    )
    count /= count.mean()
    weights = np.zeros(letters.shape[1])
    for _ in range(_ROUNDS):  # Newton's method; all letters are upright
        likely = 1 / (1 + np.exp(-letters @ weights))
        slope = letters.T @ (count * (1 - likely)) - _RIDGE * weights
        bend = (letters * (count * likely * (1 - likely))[:, None]).T @ letters
        weights += np.linalg.solve(bend + _RIDGE * np.eye(len(weights)), slope)
    return weights


def tried(pages: list[Sample], weights: Numbers) -> None:
    """Prints for each page the share of letters told rightly and how sure all of them are."""
    for page in pages:
        if len(page.letters):
            right = float((page.letters @ weights > 0).mean())
            sure = stance.said_by(page.letters.astype(np.float32), weights)
            print(f"{page.name:45}{len(page.letters):5} letters{right:6.2f} right{sure:7.1f}")


def main() -> None:
    """Fits, tries and prints."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--split", choices=("look", "report"), default="look")
    parser.add_argument("--pages", type=int, default=60)
    given = parser.parse_args()
    pages = sample(given.split, given.pages)
    if given.split == "report":
        tried(pages, np.array(stance.WEIGHTS) / 100)
        return
    tried(pages[1::2], fitted(pages[::2]))
    tried(pages[::2], fitted(pages[1::2]))
    print([round(100 * float(weight)) for weight in fitted(pages)])


if __name__ == "__main__":
    main()
