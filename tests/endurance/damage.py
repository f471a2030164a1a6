"""Sound files cut short and with bits turned over, the same for the same seed."""

import random
from collections.abc import Iterator


def cut(data: bytes, chance: random.Random) -> bytes:
    """The file as a broken-off download leaves it: any length, ends and heads more often."""
    where = chance.choice((chance.random(), chance.random() ** 3, 1 - chance.random() ** 3 / 10))
    return data[: int(len(data) * where)]


def flipped(data: bytes, chance: random.Random) -> bytes:
    """One to 200 bits turned over, in the first kilobyte more often: headers hurt most."""
    out = bytearray(data)
    reach = len(out) if chance.random() < 0.6 else min(len(out), 1024)
    for _ in range(int(200 ** chance.random())):
        out[chance.randrange(reach)] ^= 1 << chance.randrange(8)
    return bytes(out)


def holed(data: bytes, chance: random.Random) -> bytes:
    """A block of zeros, as a bad sector leaves it."""
    out = bytearray(data)
    start = chance.randrange(len(out)) // 512 * 512
    end = min(len(out), start + 512 * chance.randint(1, 16))
    out[start:end] = bytes(end - start)
    return bytes(out)


def shuffled(data: bytes, chance: random.Random) -> bytes:
    """A piece of the file put in another place, so that offsets and lengths lie."""
    start, end = sorted(chance.randrange(len(data)) for _ in range(2))
    to = chance.randrange(len(data))
    rest = data[:start] + data[end:]
    return rest[:to] + data[start:end] + rest[to:]


def numbers(data: bytes, chance: random.Random) -> bytes:
    """Two or four bytes replaced by a number at the edge of what fits."""
    out = bytearray(data)
    for _ in range(chance.randint(1, 8)):
        value = chance.choice((b"\xff\xff\xff\xff", b"\x7f\xff\xff\xff", bytes(4), b"\xff\xff"))
        at = chance.randrange(min(len(out), chance.choice((256, 4096, len(out)))))
        out[at : at + len(value)] = value[: len(out) - at]
    return bytes(out)


WAYS = (cut, flipped, holed, shuffled, numbers)


def damaged(seeds: dict[str, bytes], count: int, seed: int) -> Iterator[tuple[str, bytes]]:
    """`count` damaged files, going round the seeds and the ways of damage."""
    chance = random.Random(seed)
    names = sorted(seeds)
    for n in range(count):
        name = names[n % len(names)]
        way = WAYS[(n // len(names)) % len(WAYS)]
        yield f"{n:05d} {way.__name__} {name}", way(seeds[name], chance)
