"""Turn an address into the code words of a QR symbol, as ISO/IEC 18004 has them.

```
| 0010 | count | pairs of letters | 0000 | 0.. |  EC 11 EC ..  |  error correction |
  mode   9 bits   11 bits a pair   end   to a    to the last      by blocks, whose
                                         byte    data word        words are dealt in turn
```
"""

from __future__ import annotations

from functools import cache
from itertools import chain, pairwise, zip_longest

LARGEST = 9  # version; from 10 on the count has other bits, and no tag has room for 57 modules
LETTERS = {
    letter: value for value, letter in enumerate("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:")
}
# All code words of versions 1 to 9; words of error correction in a block, and blocks, by level.
WORDS = (26, 44, 70, 100, 134, 172, 196, 242, 292)
BLOCKS = {
    "M": ((10, 1), (16, 1), (26, 1), (18, 2), (24, 2), (16, 4), (18, 4), (22, 4), (22, 5)),
    "Q": ((13, 1), (22, 1), (18, 2), (26, 2), (18, 4), (24, 4), (18, 6), (22, 6), (20, 8)),
    "H": ((17, 1), (28, 1), (22, 2), (16, 4), (22, 4), (28, 4), (26, 5), (26, 6), (24, 8)),
}
_FIELD = 0x11D  # the polynomial of the Galois field of 256 words


def smallest_version(text: str, level: str) -> int | None:
    """The first version that holds the text; None where none does."""
    return next((v for v in range(1, LARGEST + 1) if holds(v, level, text)), None)


def holds(version: int, level: str, text: str) -> bool:
    return _bits(text) <= 8 * data_room(version, level)


def data_room(version: int, level: str) -> int:
    """How many data words there are."""
    correction, blocks = BLOCKS[level][version - 1]
    return WORDS[version - 1] - correction * blocks


def code_words(text: str, version: int, level: str) -> bytes:
    """All words in the order in which they are placed; the version must hold the text."""
    return with_correction(data_words(text, data_room(version, level)), version, level)


def with_correction(data: bytes, version: int, level: str) -> bytes:
    """Data words by blocks, the words of each block in turn, then their correction likewise."""
    number, blocks = BLOCKS[level][version - 1]
    short, longer = divmod(len(data), blocks)  # the last blocks have one word more
    ends = [short * n + max(0, n - (blocks - longer)) for n in range(blocks + 1)]
    parts = [data[start:end] for start, end in pairwise(ends)]
    dealt = chain(zip_longest(*parts), zip(*(_correction(p, number) for p in parts), strict=True))
    return bytes(word for words in dealt for word in words if word is not None)


def _bits(text: str) -> int:
    pairs, single = divmod(len(text), 2)
    return 4 + 9 + 11 * pairs + 6 * single


def data_words(text: str, room_bytes: int) -> bytes:
    """Mode, count, letters, terminator, and padding to so many words."""
    bits = 0b0010 << 9 | len(text)
    values = [LETTERS[letter] for letter in text]
    for first, second in zip(values[::2], values[1::2], strict=False):
        bits = bits << 11 | 45 * first + second
    if len(values) % 2:
        bits = bits << 6 | values[-1]
    used = -(-min(_bits(text) + 4, 8 * room_bytes) // 8)
    words = (bits << 8 * used - _bits(text)).to_bytes(used)
    return words + (b"\xec\x11" * room_bytes)[: room_bytes - used]


def _correction(data: bytes, number: int) -> bytes:
    """The Reed-Solomon words of a block: the rest when it is divided by the generator."""
    multiples, high = _generator_multiples(number), 8 * (number - 1)
    below = (1 << high) - 1
    rest = 0
    for word in data:
        rest = (rest & below) << 8 ^ multiples[rest >> high ^ word]
    return rest.to_bytes(number)


@cache
def _generator_multiples(number: int) -> tuple[int, ...]:
    """The generator polynomial without its leading 1, times each word of the field."""
    generator = [1]
    root = 1
    for _ in range(number):
        shifted = [_times(root, word) for word in generator]
        generator = [a ^ b for a, b in zip([*generator, 0], [0, *shifted], strict=True)]
        root = _times(root, 2)
    return tuple(
        int.from_bytes(bytes(_times(by, word) for word in generator[1:])) for by in range(256)
    )


def _times(one: int, other: int) -> int:
    """The product of two words of the field."""
    product = 0
    while other:
        product ^= one * (other & 1)
        one = one << 1 ^ _FIELD * (one >> 7)
        other >>= 1
    return product
