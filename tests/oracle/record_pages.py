"""Read the pages of boxes and the list of spares of a record back from their HTML."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from xml.etree.ElementTree import Element

import html5lib

from tests.oracle.names import each_of
from tests.oracle.said import each_use
from tests.oracle.truth import Row, Truth

_SPARES = "SPARE_LIST"
_HOW = ("begins here", "passes here uncut", "ends here")


def rows(files: Mapping[str, bytes], truth: Truth) -> dict[str, list[Row]]:
    found: dict[str, list[Row]] = {
        name: [] for name in ("joints", "passing", "capped", "spares", "valves")
    }
    for box in truth.boxes:
        for name, row in _box(box, _main(files[f"{box}/index.html"])):
            found[name].append(row)
    page = files.get(f"{_SPARES}/index.html")
    found["spare list"] = [*_spare_list(_main(page))] if page else []
    return found


def _main(page: bytes) -> Element:
    """What a reader sees; the styles and swatches before it take the longest to read."""
    start = page.index(b"<main")
    end = page.index(b"</main>", start)
    return html5lib.parse(page[start:end].decode(), namespaceHTMLElements=False)


def _box(box: str, page: Element) -> Iterator[tuple[str, Row]]:
    for section in page.iter("section"):
        title = _text(section.find("h2"))
        if title == "In the box":
            yield from _inside(box, section)
        elif title == "Spares here":
            yield from (("spares", (box, *row)) for row in _spares(section))
    for valve in page.iter("article"):
        yield "valves", (box, *_valve(valve))


def _inside(box: str, section: Element) -> Iterator[tuple[str, Row]]:
    under = ""
    for each in section:
        if each.tag == "h3":
            under = _text(each)
        elif each.tag == "div" and under.startswith("Splices"):
            yield "joints", (box, *_joint(each))
        elif each.tag == "div":
            for mark, flag, about in _wires(each):
                if under == "Capped ends":
                    way, _, use = about.partition(", ")
                    whole = _marked(mark, flag)
                    yield "capped", (box, whole, way.removeprefix("to "), frozenset(each_use(use)))
                else:
                    assert under == "Pass through: do not cut", under
                    many = "conductors" in about
                    flags = frozenset(each_of(flag)) if many else frozenset({flag} - {""})
                    yield "passing", (box, mark, flags, frozenset(each_use(about)))


def _joint(item: Element) -> Row:
    title = _text(item.find("p/b")).partition(". ")[2]
    wires = ((_marked(mark, flag), about) for mark, flag, about in _wires(item))
    members = [" ".join(part for part in wire if part) for wire in wires]
    members += [f"lead {_text(lead).removeprefix('lead of ')}" for lead in item.findall("p")[1:]]
    return frozenset(title.split(", ")), tuple(sorted(members))


def _wires(part: Element) -> Iterator[tuple[str, str, str]]:
    """Cable, color, code and band; flag; what is said of it."""
    for wire in part.iter("div"):
        if "wire" not in wire.get("class", "").split():
            continue
        shown, about = wire.find("b"), wire.find("i")
        assert shown is not None and about is not None
        word, code = shown.text or "", _text(shown.find("span"))
        cable, _, band = _text(about.find("strong")).partition(" + ")
        _, *said = _text(about).split(" · ")
        flag = said.pop(0) if said[0].startswith("flag") else ""
        name = f"{cable} {word} {code} + {band}"
        yield name, flag.removeprefix("flags ").removeprefix("flag "), " · ".join(said[1:])


def _marked(name: str, flag: str) -> str:
    return f"{name} (flag {flag})" if flag else name


def _spares(section: Element) -> Iterator[Row]:
    for item in section.findall("div"):
        ((mark, flag, about),) = _wires(item)
        runs, *said = about.split(", ")
        first, _, last = runs.partition(" to ")
        how = next((each for each in said if each in _HOW), "joined")
        name = _text(item.find("p/b"))
        yield name, _marked(mark, flag), first, last, how


def _spare_list(page: Element) -> Iterator[Row]:
    for item in page.iter("div"):
        if item.get("class") != "item":
            continue
        ((mark, flag, about),) = _wires(item)
        dead = about.startswith("dead, ")
        first, _, last = about.removeprefix("dead, ").split(", ")[0].partition(" to ")
        name = "" if dead else _text(item.find("p/b"))
        yield name, _marked(mark, flag), first, last


def _valve(article: Element) -> Row:
    """Its name, hot, terminal, hot at the controller, and the way back."""
    name = _text(article.find("h3")).removesuffix(_text(article.find("h3/span")))
    facts = article.find("dl")
    assert facts is not None
    said: dict[str, str] = {}
    for title, value in zip(facts.findall("dt"), facts.findall("dd"), strict=True):
        wires = [_marked(mark, flag) for mark, flag, _ in _wires(value)]
        key = "back" if _text(title).startswith(("Common of ", "Separate return")) else _text(title)
        said[key] = wires[0] if wires else _text(value)
    hot = said["Hot at this valve"]
    return name, hot, said["Terminal"], said.get("Hot at the controller", hot), said["back"]


def _text(part: Element | None) -> str:
    return "".join(part.itertext()) if part is not None else ""
