"""A row of an index that names several models is found by each of them."""

from indexer.store.entry_writing import _asked_as


def test_a_row_is_asked_for_by_each_model_it_names() -> None:
    assert {"22", "23", "24", "25"} <= set(_asked_as("22 thru 25"))
    assert {"61", "61B"} <= {code.replace("-", "") for code in _asked_as("61, 61-B")}
    assert _asked_as("5D10") == ["5D10"]
