"""Model and chassis numbers. All expectations are common practice, no source; makers and numbers
are invented. The properties hold for any text."""

import re
import string
from time import perf_counter

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from indexer.trade.codes import (
    GRADES,
    CodeRange,
    base,
    classify,
    distance,
    fold,
    may_match,
    normal,
    parse_codes,
    series,
    suffix,
)

CODE_SIGNS = string.ascii_letters + string.digits + "-/. "
codes = st.text(alphabet=CODE_SIGNS, max_size=12)
heads = st.sampled_from(["", "5D", "CH", "40-", "T", "A4C", "C-"])
tails = st.sampled_from(["", "A", "X"])
quick = settings(max_examples=150, deadline=None)

# A stand-in for the packaged table, so that these checks rest on the rules of this part alone.
# The types are registered ones; 10C1 is one too and so must yield to the word CHASSIS.
SOME_TUBES = frozenset(
    [
        "6SN7",
        "6SN7GT",
        "12AV6",
        "50C5",
        "80",
        "45",
        "2A3",
        "L63",
        "X65",
        "6V6",
        "1R5",
        "10C1",
        "6J5",
    ]
)


def is_tube(token: str) -> bool:
    return re.sub(r"\W", "", token) in SOME_TUBES


# Forms


def test_spacing_and_hyphens_do_not_count() -> None:
    assert normal("CH 41A") == normal("CH-41A") == normal("ch.41a") == "CH41A"
    assert normal("40-120") == normal("40 120") == "40120"
    assert normal(" -/. ") == ""


def test_look_alikes_share_a_key_but_digits_stay_apart() -> None:
    for letter, digit in ["O0", "Q0", "I1", "l1", "S5", "B8", "Z2", "G6"]:
        assert fold(f"4{letter}7") == fold(f"4{digit}7")
    assert len({fold(digit) for digit in string.digits}) == 10


@pytest.mark.parametrize(
    ("code", "its_base", "its_suffix"),
    [
        ("5D10-A", "5D10", "A"),
        ("5D10", "5D10", ""),
        ("410-A", "410", "A"),
        ("5D10-1", "5D10", "1"),
        ("CH 41A", "CH41", "A"),
        ("40-120", "40120", ""),
        ("10C1", "10C1", ""),
        ("5D10UL", "5D10", "UL"),
    ],
)
def test_suffix_families(code: str, its_base: str, its_suffix: str) -> None:
    assert (base(code), suffix(code)) == (its_base, its_suffix)


def test_series_run_in_the_last_figures() -> None:
    assert series("5D10") == series("5D11") == series("5D11-A") == "5D##"
    assert series("40-120") == series("40-125") == "401##"
    assert series("40-120") != series("41-120")
    assert series("5D10") != series("6D10")
    assert series("TABLE") == series("7") == ""


@quick
@given(st.text(max_size=20))
def test_forms_do_not_change_twice(text: str) -> None:
    assert normal(normal(text)) == normal(text)
    assert fold(fold(text)) == fold(text) == fold(normal(text))
    assert normal(text) == base(text) + suffix(text)


# Distance


@quick
@given(codes, codes)
def test_distance_is_symmetric_and_zero_on_itself(a: str, b: str) -> None:
    assert distance(a, b) == distance(b, a) >= 0
    assert distance(a, a) == 0
    assert (distance(a, b) == 0) == (normal(a) == normal(b))


def test_confusions_are_cheap_and_other_changes_are_not() -> None:
    assert distance("5D10", "5D1O") < distance("5D10", "5010") < distance("5D10", "5D11") == 1
    assert distance("W10", "VV10") < 1
    assert distance("5D10", "5D1") == distance("5D1", "5D10") == 1
    assert distance("CH-41A", "CH 41A") == 0


# Lists and ranges


def flat(text: str) -> list[str]:
    """Each printed item as "code" or "first>last", with word and run where printed."""
    out = []
    for span in parse_codes(text):
        assert text[span.start : span.end] == span.text
        shown = f"{span.range.first}>{span.range.last}" if span.range else "|".join(span.codes)
        out.append(shown + (f" run {span.run}" if span.run else ""))
    return out


@pytest.mark.parametrize(
    ("text", "items"),
    [
        ("40-120 through 40-125", ["40-120>40-125"]),
        ("40-120 thru 125", ["40-120>40-125"]),
        ("5D10, -11, -12", ["5D10", "5D11", "5D12"]),
        ("Models 101, 101A & 102", ["101", "101A", "102"]),
        ("600 to 605", ["600>605"]),
        ("410-A/B", ["410-A|410-B"]),
        ("Ch. 10C1, Run 2", ["10C1 run 2"]),
        ("Ch. 10C1 Runs 1 & 2, Model 55", ["10C1 run 1 & 2", "55"]),
        ("CH 41A", ["CH 41A"]),
        ("Chassis No. 41, 42", ["41", "42"]),
        ("Models 40-120, 121 and 125 (Ch. 10C1)", ["40-120", "40-121", "40-125", "10C1"]),
        ("5D10A, B, C", ["5D10A", "5D10B", "5D10C"]),
        ("101A to F", ["101A>101F"]),
        ("Models 101-105", ["101>105"]),
        ("5D10-5D15", ["5D10>5D15"]),
        ("40-120-40-125", ["40-120>40-125"]),
        ("101/2/3", ["101|102|103"]),
        ("101/A/B", ["101A|101B"]),
        ("101/A", ["101/A"]),
        ("5D10-A, -B", ["5D10-A", "5D10-B"]),
        ("5D10, -1, -2", ["5D10", "5D10-1", "5D10-2"]),
        ("12-40 to 12-45 and 12-50", ["12-40>12-45", "12-50"]),
        ("Models: 5D10; 5D11 - 5D15", ["5D10", "5D11>5D15"]),
        ("Model AC 101", ["AC 101"]),
        ("Models 101 thru 105 incl., 110", ["101>105", "110"]),
        ("Model 12-A41 (1938)", ["12-A41"]),
        ("MODEL 5D10 CH 41A", ["5D10", "CH 41A"]),
        ("Model 5D10: see page 47", ["5D10"]),
        ("CHASSIS CH41A / CH41B", ["CH41A", "CH41B"]),
        ("Models 600 through 605, 610 and 620A-620D", ["600>605", "610", "620A>620D"]),
        ("Models A-41 to D-41", ["A-41>D-41"]),
    ],
)
def test_printed_lists(text: str, items: list[str]) -> None:
    assert flat(text) == items


def test_lists_say_model_or_chassis() -> None:
    spans = parse_codes("Models 40-120, 121 (Chassis 10C1)")
    assert [span.word for span in spans] == ["model", "model", "chassis"]


@pytest.mark.parametrize(
    "text",
    ["540 to 1600 kc", "105-125 volts", "3rd edition", "5-tube set", "Tuning range", "Run 3", ""],
)
def test_what_is_no_code_gives_nothing(text: str) -> None:
    assert parse_codes(text) == []


def test_the_word_to_in_a_sentence_makes_no_range() -> None:
    assert flat("Model 101 to be used with care") == ["101"]
    assert flat("Model 101, A superb set") == ["101"]


@quick
@given(
    heads,
    tails,
    st.integers(10, 999),
    st.integers(1, 80),
    st.sampled_from([" to ", " through ", " - "]),
)
def test_a_parsed_range_contains_its_ends(
    head: str, tail: str, first: int, step: int, word: str
) -> None:
    one, other = f"{head}{first}{tail}", f"{head}{first + step}{tail}"
    spans = parse_codes(one + word + other)
    assert len(spans) == 1 and spans[0].range is not None
    found = spans[0].range
    assert found.contains(one) and found.contains(other)
    assert found.contains(f"{head}{first + step // 2}{tail}")
    assert not found.contains(f"{head}{first + step + 1}{tail}")
    assert found.count == step + 1


@quick
@given(codes, codes)
def test_any_range_contains_its_ends(first: str, last: str) -> None:
    assume(normal(first) and normal(last))
    found = CodeRange(first, last)
    assert found.contains(first) and found.contains(last)
    assert all(found.contains(member) for member in found.members())


def test_range_members_keep_their_width() -> None:
    assert CodeRange("5D08", "5D11").members() == ("5D08", "5D09", "5D10", "5D11")
    assert CodeRange("101", "101C").members() == ("101", "101A", "101B", "101C")
    assert CodeRange("100", "99999").members() == ()


@quick
@given(st.text(max_size=60))
def test_no_text_stops_the_parser(text: str) -> None:
    for span in parse_codes(text):
        assert text[span.start : span.end] == span.text
        assert bool(span.codes) != (span.range is not None)


# Grades


@pytest.mark.parametrize(
    ("asked", "printed", "grade"),
    [
        ("CH 41A", "CH-41A", "exact"),
        ("5D10", "5d10", "exact"),
        ("5D10", "5D10A", "variant"),
        ("5D10-A", "5D10-B", "variant"),
        ("CH-41A", "41A", "variant"),
        ("5D10", "5D1O", "likely misread"),
        ("5D10", "SD10", "likely misread"),
        ("5D10", "5010", "likely misread"),
        ("40-120", "4O-I2O", "likely misread"),
        ("5D10", "5D11", "same series"),
        ("40-120", "40-135", "same series"),
    ],
)
def test_grades_of_one_code(asked: str, printed: str, grade: str) -> None:
    match = may_match(asked, printed)
    assert match is not None and match.grade == grade
    assert printed in match.why and "\n" not in match.why


@pytest.mark.parametrize(
    ("asked", "printed"), [("5D10", "7F22"), ("50", "SO"), ("101", "TABLE"), ("", "101")]
)
def test_codes_that_do_not_meet(asked: str, printed: str) -> None:
    assert may_match(asked, printed) is None


@pytest.mark.parametrize(
    ("asked", "grade"),
    [
        ("40-120", "exact"),
        ("40-123", "in range"),
        ("40123", "in range"),
        ("40-123A", "variant"),
        ("40-12Z", "likely misread"),
        ("40-126", "same series"),
    ],
)
def test_grades_against_a_range(asked: str, grade: str) -> None:
    match = may_match(asked, CodeRange("40-120", "40-125"))
    assert match is not None and match.grade == grade
    assert "40-120 to 40-125" in match.why


@quick
@given(st.from_regex(r"[A-Z0-9]{3,8}", fullmatch=True), st.integers(0, 7), st.integers(1, 9))
def test_a_plain_digit_is_never_called_a_misreading(code: str, place: int, step: int) -> None:
    place %= len(code)
    assume(code[place].isdigit())
    other = code[:place] + str((int(code[place]) + step) % 10) + code[place + 1 :]
    match = may_match(code, other)
    assert match is None or match.grade in ("variant", "same series")


@quick
@given(codes, codes)
def test_exact_means_equal_normal_forms(a: str, b: str) -> None:
    match = may_match(a, b)
    if match is not None:
        assert match.grade in GRADES
        assert (match.grade == "exact") == (normal(a) == normal(b))
    same = may_match(a, a)
    assert (same is not None and same.rank == 0) == bool(normal(a))


# Classes

IN_PRINT = [
    # token, words before, words after, class
    ("5D10", "MODEL", "", "model-like"),
    ("5D10", "", "", "model-like"),
    ("50C5", "Model", "", "model-like"),
    ("50C5", "V5", "", "tube"),
    ("6SN7-GT", "", "", "tube"),
    ("6J5", "6SN7 or", "", "tube"),
    ("80", "rectifier", "", "tube"),
    ("80", "", "", "value"),
    ("10C1", "Chassis", "", "chassis-like"),
    ("10C1", "Ch.", "", "chassis-like"),
    ("41A", "Chassis No.", "", "chassis-like"),
    ("CH-41A", "", "", "chassis-like"),
    ("102", "Models 101, 101A &", "", "model-like"),
    ("101A", "", "", "model-like"),
    ("600", "Model No.", "", "model-like"),
    ("40-120", "", "", "model-like"),
    ("410-A", "", "", "model-like"),
    ("T-512B", "", "", "model-like"),
    ("TR", "Model", "", "model-like"),
    ("45-1203", "Part No.", "", "part number"),
    ("45-1203", "", "", "part number"),
    ("123456", "", "", "part number"),
    ("40-120", "R12", "", "part number"),
    ("1947", "", "", "date/year"),
    ("1938-39", "", "", "date/year"),
    ("12/5/47", "", "", "date/year"),
    ("15", "Nov.", "1947", "date/year"),
    ("47", "Page", "", "page"),
    ("12", "Volume", "", "page"),
    ("5X", "Fig.", "", "page"),
    ("455", "I.F.", "", "frequency"),
    ("455", "", "kc", "frequency"),
    ("455kc", "MODEL", "", "frequency"),
    ("1600", "540 to", "kc.", "frequency"),
    ("470K", "", "", "value"),
    (".05", "", "", "value"),
    ("4K7", "", "", "value"),
    ("150", "", "V", "value"),
    ("115volts", "MODEL", "", "value"),
    ("50-30", "", "mfd", "value"),
    ("1/2", "", "W", "value"),
    ("10,000", "", "", "value"),
    ("R12", "", "", "reference designator"),
    ("C-16", "", "", "reference designator"),
    ("V3", "", "", "reference designator"),
    ("SW1", "", "", "reference designator"),
    ("L6", "", "", "reference designator"),
    ("L63", "", "", "tube"),
    ("SERVICE", "", "", "word"),
    ("5-TUBE", "", "", "word"),
    ("3rd", "", "", "word"),
    ("NO", "MODEL", "", "word"),
    ("B+", "", "", "word"),
]


@pytest.mark.parametrize(("token", "before", "after", "kind"), IN_PRINT)
def test_a_token_in_print(token: str, before: str, after: str, kind: str) -> None:
    assert classify(token, before, after, is_tube).value == kind


def test_the_packaged_table_is_asked_by_default() -> None:
    assert classify("12AV6", before="V3").value == "tube"
    assert classify("5D10").value == "model-like"


@quick
@given(st.text(max_size=16), st.text(max_size=20), st.text(max_size=10))
def test_every_token_has_a_class(token: str, before: str, after: str) -> None:
    found = classify(token, before, after, is_tube)
    if not any(c.isdigit() for c in token):
        assert found.value in ("word", "model-like", "chassis-like")


def test_odd_text_costs_no_time() -> None:
    started = perf_counter()
    for odd in ("1-" * 36, "11/" * 25, "1-1," * 18, "to1" * 25, "1A." * 25):
        for label in ("MODEL ", "PART NO ", "PAGE ", "CHASSIS "):
            classify("5D10", label + odd + "x!", odd, is_tube)
            parse_codes(label + odd * 20)
    assert perf_counter() - started < 5  # a pattern gone wrong takes minutes


@pytest.mark.parametrize(
    ("printed", "codes"),
    [
        ("Type 53 A", ["53 A"]),
        ("Type U 482 B", ["U 482 B"]),
        ("MODELS 53 A, 54 A and 55", ["53 A", "54 A", "55"]),
        ("MODEL 53 A five tube set", ["53"]),
        ("Chassis 41 A", ["41 A"]),
        ("MODEL 53 220 V", ["53"]),
    ],
)
def test_a_last_letter_that_is_set_off_belongs_to_its_number(
    printed: str, codes: list[str]
) -> None:
    # Common practice of European makers, no source.
    assert [code for span in parse_codes(printed) for code in span.codes] == codes
