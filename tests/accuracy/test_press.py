"""The press's truth is exact: boxes hold their words, before and after wear; splits are apart."""

from dataclasses import replace

import numpy as np
import pytest
from PIL import Image, ImageDraw

from indexer.reading import clean
from tests.accuracy.measures import Score, Share, edits
from tests.accuracy.press import faces

try:
    faces.families("look")
except FileNotFoundError as missing:
    pytest.skip(str(missing), allow_module_level=True)

from tests.accuracy.press.drawings import schematic_page
from tests.accuracy.press.labels import label_photo
from tests.accuracy.press.paper import Page
from tests.accuracy.press.sets import MAKERS, type_of
from tests.accuracy.press.text_pages import LAYOUTS, text_page
from tests.accuracy.press.wear import WEARS, Wear, worn
from tests.accuracy.reading_floors import below
from tests.accuracy.reading_measures import Figures, measured
from tests.accuracy.reading_readers import Result

INDEX = LAYOUTS.index("index")  # the layout without rules and leaders: all its ink is words
MOVING = ("bleed-through, warped", "two pages on one scan", "upside down", "photocopied twice",
          "bitonal 150", "quarter turn")  # fmt: skip


def boxes(page: Page, spread_px: int = 0) -> list[tuple[int, int, int, int]]:
    found = []
    for word in page.words:
        (left, top), (right, bottom) = word.corners.min(axis=0), word.corners.max(axis=0)
        sides = left - spread_px, top - spread_px, right + spread_px, bottom + spread_px
        found.append(tuple(max(0, round(float(side))) for side in sides))
    return found


def dark(page: Page) -> np.ndarray:
    """Where there is ink: clearly darker than the paper."""
    gray = np.asarray(page.picture.convert("L"), dtype=np.float32)
    return gray < 0.6 * np.percentile(gray, 70)


def ink_shares(page: Page) -> list[float]:
    ink = dark(page)
    return [float(ink[top:bottom, left:right].mean()) for left, top, right, bottom in boxes(page)]


@pytest.mark.parametrize("number", range(len(LAYOUTS)))
def test_every_box_on_a_fresh_text_page_is_filled_to_its_sides(number: int) -> None:
    page = text_page("fresh", "look", number)
    ink = dark(page)
    for word, (left, top, right, bottom) in zip(page.words, boxes(page, 2), strict=True):
        rows, columns = np.nonzero(ink[top:bottom, left:right])
        assert len(rows), word.text
        assert columns.min() <= 4 and columns.max() >= right - left - 5, word.text
        assert rows.min() <= 4 and rows.max() >= bottom - top - 5, word.text


@pytest.mark.parametrize("number", [0, 1, 5])
def test_no_two_labels_of_a_schematic_collide(number: int) -> None:
    page = schematic_page("labels", "report", number)
    assert 4 <= len(set(page.tubes)) <= 12
    assert min(ink_shares(page)) > 0.03
    found = boxes(page)
    for i, (left, top, right, bottom) in enumerate(found):
        for j in range(i):
            width = min(right, found[j][2]) - max(left, found[j][0])
            height = min(bottom, found[j][3]) - max(top, found[j][1])
            assert width <= 1 or height <= 1, (page.words[i].text, page.words[j].text)


def wear_named(name: str) -> Wear:
    return next(how for how in WEARS["report"] if how.name == name)


def part(seed: str) -> Page:
    """The middle of an index page: a third is enough, and quicker to wear."""
    page = text_page(seed, "look", INDEX)
    low, high = 900, 2100
    words = tuple(
        replace(word, corners=np.subtract(word.corners, (0, low)))
        for word in page.words
        if low < word.corners.min(axis=0)[1] and word.corners.max(axis=0)[1] < high
    )
    white = np.asarray(page.picture).copy()[low:high]
    kept = np.full_like(white, 255)
    for left, top, right, bottom in boxes(replace(page, words=words), 3):
        kept[top:bottom, left:right] = white[top:bottom, left:right]
    return replace(page, picture=Image.fromarray(kept), words=words)


@pytest.mark.parametrize("name", MOVING)
def test_boxes_follow_their_words_through_wear(name: str) -> None:
    """All but specks of the ink lies in the boxes, and no box is left without."""
    page = worn(part("worn"), wear_named(name), 7, lambda: part("behind"))
    ink, covered = dark(page), np.zeros(page.picture.size[::-1], dtype=bool)
    spread = max(2, page.dpi // 60)
    for left, top, right, bottom in boxes(page, spread):
        covered[top:bottom, left:right] = True
    edge = page.dpi // 3  # borders
    inner = np.s_[edge:-edge, edge:-edge]
    assert (ink & covered)[inner].sum() >= 0.92 * ink[inner].sum()
    assert min(ink_shares(page)) > 0.03
    tilt = {0: (1, 0), 90: (0, -1), 180: (-1, 0), 270: (0, 1)}[page.turned_deg]
    for word in page.words:  # each reads the way the turn says
        along = word.corners[1] - word.corners[0]
        assert along @ tilt > 0.98 * np.hypot(*along)


def test_broken_strokes_lose_no_word() -> None:
    fresh = schematic_page("broken", "report", 1)
    page = worn(fresh, wear_named("broken strokes"), 3, lambda: fresh)
    kept = np.array(ink_shares(page)) / np.array(ink_shares(fresh))
    assert kept.min() > 0.4 and np.median(kept) > 0.75


@pytest.mark.parametrize("number", [1, 2])
def test_photos_keep_every_word_in_the_picture_and_darker_than_its_paper(number: int) -> None:
    page = label_photo("photo", "report", number)
    width, height = page.picture.size
    gray = np.asarray(page.picture.convert("L"), dtype=np.float32)
    for word, (left, top, right, bottom) in zip(page.words, boxes(page), strict=True):
        assert 0 <= left < right <= width and 0 <= top < bottom <= height, word.text
        patch = gray[top:bottom, left:right]
        assert np.percentile(patch, 5) < 0.75 * np.percentile(patch, 90), word.text


def test_truth_names_tubes_and_codes() -> None:
    assert [type_of(word) for word in ("V1-12SK7GT/G", "6V6,", "UCH42", "6SB7Y", "C6", "56K")] == [
        "12SK7", "6V6", "UCH42", "6SB7", "", "",
    ]  # fmt: skip
    page = text_page("codes", "look", 0)
    assert {code for code, _ in page.code_words} == page.codes
    assert len(page.tubes) >= 4


def test_the_same_seed_draws_the_same_page_and_splits_share_nothing() -> None:
    one, other = (schematic_page("seed", "look", 1) for _ in range(2))
    assert one.picture.tobytes() == other.picture.tobytes()
    look, report = ({f.body for f in faces.families(split)} for split in ("look", "report"))
    assert not look & report
    assert not set(faces.drafting("look")) & set(faces.drafting("report"))
    assert not set(MAKERS["look"]) & set(MAKERS["report"])
    assert not {repr(how) for how in WEARS["look"]} & {repr(how) for how in WEARS["report"]}


@pytest.mark.parametrize(("clockwise", "skew"), [(0, 0.0), (90, 1.5), (180, -2.0), (270, 0.7)])
def test_places_follow_a_page_as_reading_turns_it(clockwise: int, skew: float) -> None:
    filed = Image.new("L", (900, 600), 255)
    ImageDraw.Draw(filed).ellipse([196, 96, 204, 104], fill=0)
    upright = clean.straighten(clean.turn(filed, clockwise), skew)
    result = Result((), *upright.size, rotation_deg=clockwise, skew_deg=skew)
    rows, columns = np.nonzero(np.asarray(upright) < 128)
    found = result.placed(np.array([(200.0, 100.0)]), filed.size)[0]
    assert found == pytest.approx((columns.mean(), rows.mean()), abs=1.5)


def test_a_perfect_reading_scores_full_and_an_empty_one_nothing() -> None:
    from indexer.model import Box, Word

    page = text_page("perfect", "look", INDEX)
    words = tuple(
        Word(word.text, Box(*box), line=word.line)
        for word, box in zip(page.words, boxes(page), strict=True)
    )
    figures = measured(page, Result(words, *page.picture.size))
    assert figures.codes.recall == figures.codes.precision == 1
    assert figures.letters.part == figures.lines.part == 0
    assert figures.order.value == 1
    nothing = measured(page, Result((), *page.picture.size))
    assert nothing.codes.recall == 0
    assert nothing.letters.value == nothing.lines.value == 1


def test_edits_counts_the_least_changes() -> None:
    assert (edits("kitten", "sitting"), edits("", "ab"), edits("6SN7", "6SN7")) == (3, 2, 0)


def test_a_figure_below_its_floor_is_named() -> None:
    good = Figures(tubes=Score(100, 100, 100), codes=Score(100, 100, 100))
    bad = Figures(tubes=Score(90, 100, 90), codes=Score(100, 100, 100), lines=Share(7, 100))
    assert below({("text", "a"): good, ("text", "b"): bad}, "a", 0, quick=False) == []
    named = below({("text", "a"): bad, ("bitonal 150", "a"): bad}, "a", 1, quick=False)
    assert [line.split(" ")[0] for line in named] == ["text:", "text:", "upright"]
