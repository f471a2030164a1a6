"""A row of an index that names several models, or a chassis, is found by each of them."""

from indexer.model import Listing, PageRef
from indexer.store.entry_writing import _asked_as


def asked_as(model: str, chassis: str = "") -> list[str]:
    return _asked_as(
        Listing(PageRef("0" * 64, 1), "Tillbrook", model, "", "4", "203", chassis=chassis)
    )


def test_a_row_is_asked_for_by_each_model_it_names() -> None:
    assert {"22", "23", "24", "25"} <= set(asked_as("22 thru 25"))
    assert {"61", "61B"} <= {code.replace("-", "") for code in asked_as("61, 61-B")}
    assert asked_as("5D10") == ["5D10"]
    assert "2-40" in asked_as("2-40 Combination")


def test_a_row_is_asked_for_by_its_chassis() -> None:
    assert asked_as("5D10", "CH-41A") == ["5D10", "CH-41A"]
