"""Turn what a crew wrote of a walk into the conditions under which its values were measured.

`RS-1 bypassed; commons separated; 22 C; leads 0.3 ohm; terminals 26.8 V`, in any order, with
semicolons between; the same in Spanish.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache

from cardgen.light_dataclass import dataclass, replace

ALL = "all"  # every sensor
_NUMBER = r"(-?\d{1,3}(?:\.\d{1,3})?)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Conditions:
    """Attributes:
    bypassed: sensors whose contacts were bridged; `ALL` where no names are given.
    commons_parted: commons that are joined at the strip were measured apart.
    celsius: of the air or the ground; None where nobody wrote it.
    lead_ohms: of the meter's leads, still in the values as written.
    terminal_volts: at the controller's terminals with a station on; None where not measured.
    """

    bypassed: tuple[str, ...] = ()
    commons_parted: bool = False
    celsius: float | None = None
    lead_ohms: float = 0.0
    terminal_volts: float | None = None

    def is_bypassed(self, sensor: str) -> bool:
        return ALL in self.bypassed or sensor in self.bypassed


class UnknownCondition(Exception):
    """A part of the conditions that says none of those that are known.

    Attributes:
        text: that part.
    """

    def __init__(self, text: str) -> None:
        super().__init__(text)
        self.text = text


@lru_cache(maxsize=1024)
def conditions_of(text: str) -> Conditions:
    """What the text says.

    Raises:
        UnknownCondition: at the first part that says nothing known.
    """
    found = Conditions()
    for part in _parts(text):
        found = _with(found, part)
    return found


def _parts(text: str) -> Iterator[str]:
    yield from filter(None, (" ".join(part.split()) for part in text.split(";")))


def _with(found: Conditions, part: str) -> Conditions:
    for pattern, take in _KNOWN.items():
        match = re.fullmatch(pattern, part, re.IGNORECASE)
        if match:
            return take(found, match)
    raise UnknownCondition(part)


def _bypass(found: Conditions, match: re.Match[str]) -> Conditions:
    names = tuple(re.split(r",\s*|\s+(?:and|y)\s+", match[1]))
    whole = re.fullmatch("(?:all )?sensors?|(?:todos los )?sensor(?:es)?", match[1], re.IGNORECASE)
    return replace(found, bypassed=(*found.bypassed, *((ALL,) if whole else names)))


def _part(found: Conditions, _match: re.Match[str]) -> Conditions:
    return replace(found, commons_parted=True)


def _warm(found: Conditions, match: re.Match[str]) -> Conditions:
    degrees = float(match[1])
    return replace(
        found, celsius=degrees if match[2].upper() == "C" else round((degrees - 32) / 1.8, 2)
    )


def _leads(found: Conditions, match: re.Match[str]) -> Conditions:
    return replace(found, lead_ohms=abs(float(match[1])))


def _volts(found: Conditions, match: re.Match[str]) -> Conditions:
    return replace(found, terminal_volts=abs(float(match[1])))


_KNOWN: Mapping[str, Callable[[Conditions, re.Match[str]], Conditions]] = {
    r"(.+?) (?:bypassed|bridged|puenteados?|anulados?)": _bypass,
    r"commons (?:separated|apart)|comunes separados": _part,
    rf"(?:temperature|temperatura)?\s*{_NUMBER} ?°? ?([CF])": _warm,
    rf"(?:meter )?(?:leads|puntas)\s*{_NUMBER}\s*(?:Ω|ohms?)?": _leads,
    rf"(?:terminals|terminales)\s*{_NUMBER}\s*V?": _volts,
}
