"""Words of German service sheets whose umlauts and ß a reader of English takes for plain letters.

The trade's and the language's common words, from memory; none that is another word without them.
"""

from collections.abc import Iterable
from functools import cache

_WORDS = (
    "Röhre Röhren Endröhre Endröhren Mischröhre Mischröhren Gleichrichterröhre Verstärkerröhre"
    " Röhrenbestückung Röhrensatz Bestückung Verstärker ZF-Verstärker NF-Verstärker"
    " HF-Verstärker Vorverstärker Endverstärker Verstärkung Gerät Geräte Gerätes Koffergerät"
    " Batteriegerät Rundfunkgerät Empfänger Rundfunkempfänger Kofferempfänger Rückwand Rückwände"
    " Knöpfe Drehknöpfe läßt muß daß Maß Meßsender Meßgerät Meßinstrument Meßwerte Meßpunkt"
    " Anschluß Netzanschluß Kurzschluß größte größten größter größer größtem Größe für über Über"
    " übrigen prüfen Prüfen geprüft Prüfung Prüfsender gelöst löten Lötstelle Lötstellen gelötet"
    " Stückliste Stück Einstellung Stärke Lautstärke Lautstärkeregler Höhenregler zurück"
    " zurückdrehen drücken Drücken Drucktaste gedrückt Schlüssel öffnen Öffnen geöffnet Gehäuse"
    " Gehäuses Wärme erwärmt während Während geändert Änderung Änderungen nächste nächsten"
    " genügt hängt führt fällt hält Fällt Spannungsabfälle schließen schließt geschlossen außen"
    " außer äußere Fuß Füße Fußpunkt Brücke Brücken Kühlung träge Elkolöcher Widerstände"
    " Kapazität Kapazitäten Induktivität Ladekapazität Ausgangsübertrager Übertrager Übertragung"
    " Oszillatorröhre möglich können müssen später schräg ausführen Ausführung Ausführungen"
    " Gründe gründlich zunächst"
)


@cache
def _by_plain_letters() -> dict[str, str]:
    found: dict[str, str] = {}
    for word in _WORDS.split():
        for plain in _as_read(word):
            found.setdefault(plain, word)
    return found


def _as_read(word: str) -> set[str]:
    """A word as readers of English give it: Rohre, Réhre, fiir, priifen, MeBsender, laBt."""
    forms = {word}
    for letter, others in (
        ("ä", "aàâáé"), ("ö", "oéòóôe"), ("ü", ("u", "ii", "ti", "ù", "ú")),
        ("ß", ("B", "fs")), ("Ä", "A"), ("Ö", "O"), ("Ü", "U"),
    ):  # fmt: skip
        forms |= {form.replace(letter, other) for form in forms for other in others}
    return forms - {word}


def with_umlauts(word: str) -> str:
    """A word of German text with its umlauts and ß; as it is when it has none or isn't known."""
    return _by_plain_letters().get(word, word)


def is_german(words: Iterable[str]) -> bool:
    """Whether a page's words in small letters are German: it joins them as German does."""
    return sum(word in _JOINING for word in words) >= _FEW


_JOINED_BY = "der die das und ist mit wird werden bei von zu auf den dem nach ein eine"
_JOINING = frozenset(_JOINED_BY.split())
_FEW = 6
