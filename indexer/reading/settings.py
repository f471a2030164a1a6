"""Which state of the readers a page was read by."""

READERS = 6
"""Raised when pages would be read otherwise than before: `index --read-again` then takes those
that an earlier state read. Never lowered."""
