"""Set what is said of conductors and readings: swatch, word, code, and figures."""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.asbuilt import Band, BuiltValve, ConductorMark, rounding
from cardgen.asbuilt.model.built_boxes import Neighbor
from cardgen.asbuilt.model.built_valves import BuiltDecoder
from cardgen.cards.lengths import beside_in
from cardgen.record.html import Child, Markup, element, joined
from cardgen.record.page_words import PageWords
from cardgen.record.swatches import picture


def leg_length(words: PageWords, length: str) -> str:
    """`85 ft (26 m)`, or that it is not known."""
    return beside_in(length) or words.of("terms", "length not known")


def by_cable(words: PageWords, to: Neighbor) -> str:
    """`85 ft (26 m) by A-K1`."""
    length = beside_in(to.length)
    key = "by cable" if length else "by cable of unknown length"
    return words(key, length=length, cable=to.cable)


def wire(
    words: PageWords, mark: ConductorMark, about: str = "", *, small: bool = False, flags: str = ""
) -> Markup:
    """Swatch, color word, letter code; then cable, band, flag and what else there is to say.

    `flags` are those of several that share it, in words.
    """
    code = element("span", mark.code, class_="color-code")
    band = f"+ {mark.band}" if mark.band else ""
    cable = element("strong", " ".join(part for part in (mark.cable, band) if part))
    flag = flags or (words.of("terms", "flag") + f" {mark.flag}" if mark.flag else "")
    gauge = mark.gauge or words.of("terms", "gauge not known")
    said = "".join(f" · {part}" for part in (flag, gauge, about) if part)
    return element(
        "div",
        picture(mark),
        element("b", words.color(mark.word), code),
        element("i", cable, said),
        class_="wire s" if small else "wire",
    )


def in_words(words: PageWords, mark: ConductorMark) -> str:
    """`A-K1 red RD + yellow tape (flag A3)`."""
    band = f"+ {mark.band}" if mark.band else ""
    parts = (mark.cable, words.color(mark.word), mark.code, band)
    return flagged(words, " ".join(part for part in parts if part), mark)


def flagged(words: PageWords, name: str, mark: ConductorMark) -> str:
    """A conductor's name with what is on its own flag."""
    return words.of("terms", "flagged", conductor=name, flag=mark.flag) if mark.flag else name


def pair(name: str, *value: Child) -> Markup:
    return joined(element("dt", name), element("dd", *value))


def band_text(words: PageWords, band: Band) -> str:
    low, high = rounding.around(band)
    return words("band", low=low, high=f"{high} Ω")


def ohms_text(band: Band) -> str:
    return f"{rounding.ohms(band.expected)} Ω"


def volts_text(volts: tuple[float, ...]) -> str:
    low, high = volts
    return f"{rounding.volts(low, high)} V"


def readings(words: PageWords, valve: BuiltValve, number: int) -> Markup:
    """What a meter shows: at the coil, from the controller, under load."""
    cells = [
        _ohms(words, words("decoder reads" if valve.decoder else "coil reads"), valve.coil, valve)
    ]
    if valve.decoder is None:
        cells.append(_ohms(words, _where(words, valve, number), valve.ohms, valve))
        cells += _under_load(words, valve, number)
    return element("dl", *cells, class_="reads")


def _where(words: PageWords, valve: BuiltValve, number: int) -> str:
    if valve.isolators:
        return words("isolator reads")
    return words("loop reads all", number=number) if number > 1 else words("loop reads")


def _ohms(words: PageWords, name: str, band: Band | None, valve: BuiltValve) -> Markup:
    if band is None or valve.device:
        return cell(name, words("means nothing" if valve.device else "not known"), none=True)
    return cell(name, ohms_text(band), band_text(words, band))


def _under_load(words: PageWords, valve: BuiltValve, number: int) -> list[Markup]:
    amperes = words("milliamperes")
    if valve.runs_with:
        amperes = words("milliamperes with", beside=" ".join(valve.runs_with))
    elif number > 1:
        amperes = words("milliamperes all", number=number)
    if valve.latching:  # a pulse is over before a meter shows it
        return [cell(words("while a pulse"), words("pulse"), none=True)]
    unknown = words("not known")
    volts = volts_text(valve.volts) if valve.volts else unknown
    if valve.line_voltage:
        volts = words("line voltage")
    current = f"{valve.milliamperes} mA" if valve.milliamperes is not None else unknown
    cells = [cell(words("volts"), volts, none=valve.line_voltage or not valve.volts)]
    if valve.has_two_currents:
        cells.append(cell(words("milliamperes in hot"), f"{valve.in_hot} mA"))
    return [*cells, cell(amperes, current, none=valve.milliamperes is None)]


def cell(name: str, value: str, band: str = "", *, none: bool = False) -> Markup:
    below = element("small", band) if band else None
    return element(
        "div", element("dt", name), element("dd", value, below, class_="none" if none else None)
    )


def how_to_read(words: PageWords, valves: Iterable[BuiltValve]) -> Markup:
    """What the figures of these valves are, and what is off while one measures."""
    latching = {valve.latching for valve in valves} == {True}
    return element("p", words("how to read battery" if latching else "how to read"), class_="small")


def lands(words: PageWords, valve: BuiltValve) -> str:
    """Where its hot begins."""
    if valve.decoder:
        return words("two-wire", controller=valve.controller)
    if valve.isolators:
        names = ", ".join(valve.isolators)
        return words("isolators", terminal=valve.terminal, controllers=names)
    return words("lands", controller=valve.controller, terminal=valve.terminal)


def area(words: PageWords, valve: BuiltValve) -> str:
    return valve.area or words(f"kind {valve.kind}")


def musts(words: PageWords, valve: BuiltValve) -> list[str]:
    """What a hand must know before it touches this one."""
    return [said for name in valve.musts if (said := _must(words, valve, name))]


def _must(words: PageWords, valve: BuiltValve, name: str) -> str:
    """Nothing of what stands among its conductors and readings."""
    match name:
        case "hot at controller" | "tied":
            return ""
        case "relay" | "master valve":
            return words(f"kind {name}").capitalize()
        case "polarity":
            hot, back = map(words.color, valve.polarity)
            return words(name, hot=hot, back=back)
        case "decoder" if valve.decoder:
            return decoder_text(words, valve.decoder)
    return words(name, **{name: valve.musts[name]})


def decoder_text(words: PageWords, said: BuiltDecoder) -> str:
    text = words("decoder", decoder=said.id, address=said.address)
    return f"{text}, {words('serial', serial=said.serial)}" if said.serial else text
