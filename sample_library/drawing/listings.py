"""Lines of the annual's index: it names volumes 1 to 4; only 4 is on the shelf."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Listing:
    """One line of the index, as printed."""

    maker: str
    model: str
    volume: str
    page: str


_LINES = """
Halvorne|U 310|3|88;U 410|3|90;U 410 L|3|91;U 620|3|142
Larkmoor|F-39|2|57;F-41|4|212;40-B, 40-C|3|146;48-R|3|33;62-A, 62-B|4|217;65-A|3|36;70|1|12;
Larkmoor|71-L|1|14;P-9|3|150;P-10, P-11|3|152;720|2|61;735 Late|2|64
Marrowby|14|1|201;14-A|1|202;22, 23, 24|2|98;30 Series|2|101;36-T|3|12;36-U|3|12;51|3|170
Oxbarrow|31-C|1|44;54|1|47;60W, 61W|2|130;84W|4|206;85W|3|203;112|3|207;150-X|3|61;
Oxbarrow|188|3|66;207|4|224;208, 209|3|68;220-P|3|71
Quarrydale|Q-40|1|93;Q-41|1|93;Q-72|2|155;38-6|2|158;38-9 to 38-14|2|160;50-100 to 50-104|3|40;
Quarrydale|60-210 to 60-215|4|203;60-300|3|47;FM-70|3|101;FM-88|4|220;G-3|3|106;G-4|3|106
Quarrydale|G-7, G-8|3|108;77-A|3|110;80-500|3|112
Tillbrook|4B1|1|150;4B2|1|151;5A9|2|20;5D10, 11, 12|4|201;6B20|2|118;6B21|2|120;6M4|3|122;
Tillbrook|7E2|3|9;8E5|3|12;T-40|3|127;T-52|3|130;T-67|4|215;T-80|3|15
Vantrice|C-500|3|175;C-610|3|178;C-700|4|208;C-710|3|88;M-22|1|77;M-30|2|80;M-41|2|83;
Vantrice|3W-2|3|181;3W-4|4|226;3W-6|3|90;12-S|3|92;99|3|94;101 to 108|2|86;
Vantrice|110|2|89;112-A|2|90;200|1|80;201, 202|1|82;300|1|85
"""


def _read() -> list[Listing]:
    out: list[Listing] = []
    for line in _LINES.strip().splitlines():
        maker, rest = line.split("|", 1)
        items = rest.strip(";").split(";")
        out.extend(Listing(maker, *item.split("|")) for item in items)
    return out


LISTINGS = _read()
