"""Running headers and feet: the publication's name by itself, the volume where the foot says it."""

from indexer.cataloguing.imprint import publication_in
from indexer.cataloguing.region import page_lines
from tests.cataloguing.pages import page

HEAD = "TILLBROOK RADIO      SELBURN'S RADIO MANUAL      MODELS 61, 61-B\n"


def test_a_running_header_of_three_parts_and_a_foot_with_the_volume() -> None:
    sheet = page(HEAD + "\n".join(f"line {n} of print" for n in range(50)) + "\nVOL. III      3-42")
    lines = page_lines(sheet)
    assert publication_in(lines, sheet.reading.height_px) == ("Selburn's Radio Manual", "3")


def test_a_header_in_one_piece_is_the_name() -> None:
    sheet = page("SERVICE ANNUAL of the WRENFIELD PRESS  VOLUME 4\n" + "text\n" * 30)
    found = publication_in(page_lines(sheet), sheet.reading.height_px)
    assert found == ("Service Annual of the Wrenfield Press", "4")
