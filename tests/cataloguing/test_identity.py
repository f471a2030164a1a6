"""Whose set a page is about. How the trade prints it is common practice, no source."""

import pytest

from indexer.cataloguing import identity, imprint, particulars
from indexer.cataloguing.region import page_lines, whole_page
from tests.cataloguing.pages import HEIGHT, page


@pytest.mark.parametrize(
    ("text", "models"),
    [
        ("MODEL 5D10", ("5D10",)),
        ("MODELS 5D10, -11, -12    CHASSIS CH-41A", ("5D10", "5D11", "5D12")),
        ("MODELS 40-120 through 40-125", ("40-120 through 40-125",)),
        ("Model No. 84W", ("84W",)),  # a tube number with a letter is a model after the word
        ("MODEL 207 CHASSIS 21-C", ("207",)),
        ("MODEL YEAR 1951", ()),
        ("no number here", ()),
    ],
)
def test_models_follow_the_word(text: str, models: tuple[str, ...]) -> None:
    assert identity.models_in(text) == models


@pytest.mark.parametrize(
    ("text", "chassis"),
    [
        ("MODELS 5D10 CHASSIS CH-41A", ("CH-41A",)),
        ("Chassis: 51-K (ink stamp)", ("51-K",)),
        ("Chassis stamp reads CH-41A", ("CH-41A",)),
    ],
)
def test_chassis_follow_the_word(text: str, chassis: tuple[str, ...]) -> None:
    assert identity.chassis_in(text) == chassis


def test_words_in_brackets_between_models_belong_to_them() -> None:
    assert identity.models_in("Models 41-F (table) and 41-FC (console)") == ("41-F", "41-FC")
    assert identity.models_in("Model 41-F (see Bulletin 12 of the factory)") == ("41-F",)


def test_makers_by_their_corporate_wording() -> None:
    lines = page_lines(page("SERVICE DATA\nTILLBROOK RADIO MFG. CO.\nMODEL 5D10"))
    assert identity.maker_in(lines) == "Tillbrook"
    prose = page_lines(page("every radio company sends its sets out with a sheet of paper inside"))
    assert identity.maker_in(prose) == ""


def test_a_known_maker_is_known_by_its_name_alone() -> None:
    lines = page_lines(page("QUARRYDALE\nMODEL 88-K"))
    assert identity.maker_in(lines, ["Quarrydale"]) == "Quarrydale"


def test_a_masthead_joins_its_lines() -> None:
    made = page("TILLBROOK RADIO MFG. CO.\nMODELS 5D10, 5D11\nCHASSIS CH-41A\n\n\n\n\n\ntext")
    (head,) = identity.mastheads(whole_page(made).lines, HEIGHT, [])
    assert (head.maker, head.models, head.chassis) == ("Tillbrook", ("5D10", "5D11"), ("CH-41A",))


def test_a_repaired_word_is_read_as_printed_in_a_code() -> None:
    """A repair towards a tube type must not change a model number."""
    made = page("MODEL 12-L")
    changed = made.reading.words[1].__class__("L21", made.reading.words[1].box, 0.9, 0, "12-L", "x")
    line = page_lines(made)[0].__class__((made.reading.words[0], changed), "MODEL L21", changed.box)
    (head,) = identity.mastheads([line], HEIGHT, [])
    assert head.models == ("12-L",)


@pytest.mark.parametrize(
    ("text", "khz"),
    [
        ("I.F. 455 KC", 455),
        ("Intermediate Frequency ...... 262.5 kc", 262.5),
        ("IF peak is 470 kc.", 470),
        ("1 CONVERTER GRID .1 MFD 455 KC GANG OPEN", 455),
        ("tune to 1400 kc", None),
    ],
)
def test_intermediate_frequency_only_where_named(text: str, khz: float | None) -> None:
    assert particulars.if_khz_in(text) == khz


def test_year_is_the_one_printed_most() -> None:
    assert particulars.year_in("ISSUED 1951, revised 1951. 1940 KC") == 1951
    assert particulars.year_in("1600 KC") is None


@pytest.mark.parametrize(("text", "number"), [("VOLUME IV", "4"), ("Vol. 12", "12"), ("volts", "")])
def test_volume_in_plain_figures(text: str, number: str) -> None:
    assert imprint.volume_in(text) == number


def test_publication_and_page_stand_at_the_head() -> None:
    made = page("204   SERVICE ANNUAL of the WRENFIELD TRADE PRESS   VOLUME IV\nMODEL 5D10")
    lines = whole_page(made).lines
    assert imprint.publication_in(lines, HEIGHT) == (
        "Service Annual of the Wrenfield Trade Press",
        "4",
    )
    assert imprint.printed_page(lines, HEIGHT) == "204"


def test_a_chassis_after_an_abbreviation_read_with_a_comma() -> None:
    assert identity.chassis_in("Ch, 4L9S") == ("4L9S",)


def test_lines_of_a_masthead_that_the_reader_took_far_apart_are_one() -> None:
    sheet = page(
        "TILLBROOK RADIO MFG. CO.\nMODEL 5D10\nCHASSIS CH-41A\nTUBE  PIN 1\n12BE6  4\n0  3"
    )
    lines = whole_page(sheet).lines
    apart = [*lines[:2], *lines[3:], lines[2]]
    (head,) = identity.mastheads(apart, sheet.reading.height_px, ())
    assert (head.maker, head.models, head.chassis) == ("Tillbrook", ("5D10",), ("CH-41A",))


def test_large_lines_of_a_name_plate_are_one_masthead() -> None:
    plate = page("TILLBROOK RADIO CO.\n\nMODEL 5D10\n\nCHASSIS CH-41A\nSERIAL 204417")
    height = HEIGHT / 4  # the same lettering on a small picture
    (head,) = identity.mastheads(whole_page(plate).lines, height, [])
    assert (head.models, head.chassis) == (("5D10",), ("CH-41A",))


def test_a_chassis_by_itself_belongs_to_the_only_set_named() -> None:
    def head(*lines: str) -> identity.Masthead | None:
        made = page(("\n" * 14).join(lines))
        return identity.with_same_set(identity.mastheads(whole_page(made).lines, HEIGHT, []))

    one = head("MODEL 5D10", "CHASSIS CH-41A")
    assert one is not None and one.chassis == ("CH-41A",)
    two = head("MODEL 5D10", "MODEL 6B20", "CHASSIS CH-41A")
    assert two is not None and two.chassis == ()
