"""Say which sections of a job file are shown as grids or fields, and which key each cell holds."""

from __future__ import annotations

from dataclasses import replace

from cardgen.desk.grid_columns import GridColumn, GridSection


def _columns(*keys: str | GridColumn) -> tuple[GridColumn, ...]:
    return tuple(GridColumn(key=key) if isinstance(key, str) else key for key in keys)


def _several(key: str) -> GridColumn:
    return GridColumn(key=key, between=",")


def _or_not_known(*keys: str) -> tuple[GridColumn, ...]:
    return tuple(GridColumn(key=key, may_be_unknown=True) for key in keys)


def _one_of(key: str, *offered: str) -> GridColumn:
    return GridColumn(key=key, offered=offered)


def _rare(*keys: str | GridColumn) -> tuple[GridColumn, ...]:
    return tuple(replace(column, is_rare=True) for column in _columns(*keys))


_HOT = GridColumn(key="hot", between=",", may_be_unknown=True)
_BOX = GridColumn(key="box", names="boxes")
_COIL = GridColumn(key="coil", names="coils", may_be_unknown=True)
_CONTROLLER = GridColumn(key="controller", names="controllers")
_BOX_KINDS = ("buried splice", "pull box", "splice box", "valve box", "wall box")
_YES_NO = ("no", "yes")
_CONTACTS = ("normally closed", "normally open")
_METAL = (_one_of("construction", "solid", "stranded"), "resistance")
_REELS = _several("reels")

# In the order in which a person goes through a site; stations first, for they are what is typed.
SECTIONS = (
    GridSection(
        name="stations",
        first="A1",
        columns=_columns(
            *(*_or_not_known("area"), _BOX, _HOT),
            *_rare(_several("common"), _CONTROLLER, "terminal"),
            *(_COIL, GridColumn(key="valves", between=",", inner="box")),
            *_rare("device", GridColumn(key="decoder", names="decoders")),
            GridColumn(key="notes", between=";"),
            *_rare(GridColumn(key="extra", between=";", keyed=":")),
        ),
    ),
    GridSection(
        name="boxes",
        first="VB-1",
        columns=_columns(
            *(*_or_not_known("place", "size"), _one_of("kind", *_BOX_KINDS)),
            GridColumn(key="ties", between=",", may_be_unknown=True),
            *_rare("coordinates"),
            "spares",
        ),
    ),
    GridSection(
        name="cables",
        first="A-K1",
        columns=_columns(
            GridColumn(key="run", between=",", listed=True),
            *_or_not_known("gauge"),
            GridColumn(key="palette", names="palettes"),
            GridColumn(key="colors", between=",", listed=True),
            "band",
            *_rare(_one_of("shielded", *_YES_NO), *_METAL, _REELS),
        ),
    ),
    GridSection(
        name="singles",
        is_rare=True,
        owners="cables",
        lead=GridColumn(key="cable", names="cables"),
        columns=_columns(
            "color",
            *_or_not_known("gauge"),
            *(_several("flags"), "count", GridColumn(key="to", names="boxes")),
            *_rare(*_METAL),
        ),
    ),
    GridSection(
        name="controllers",
        first="A",
        columns=_columns(
            *_or_not_known("place"),
            "supply",
            *_rare("supply tolerance"),
            "stations",
            GridColumn(key="terminals", between=",", listed=True),
            _several("common"),
            *_rare(_several("path 1"), _several("path 2"), _one_of("path polarity", *_YES_NO)),
            *(_COIL, "station limit", "total limit"),
            *_rare("transformer", "fuse", "stations at once", "valves per station"),
            *_rare(_one_of("sensor contact", *_CONTACTS)),
            *_rare(_one_of("sensor jumper", "fitted", "removed")),
            *_rare(GridColumn(key="jumpers", between=";", within=",")),
            *_rare(GridColumn(key="polarity", between=",", keyed=" ")),
            *_rare("wire limit", "decoder limit", "surge interval", "surge decoders", _BOX),
        ),
    ),
    GridSection(
        name="palettes",
        first="usual",
        columns=(GridColumn(key="colors", between=",", listed=True),),
        is_bare=True,
    ),
    GridSection(
        name="coils",
        first="usual",
        columns=_columns(
            "supply", *_or_not_known("resistance", "inrush", "holding", "minimum", "leads")
        ),
    ),
    GridSection(
        name="connectors",
        first="usual",
        columns=(GridColumn(key="takes", between=",", listed=True),),
    ),
    GridSection(
        name="master valves",
        first="MV-1",
        is_rare=True,
        columns=_columns(
            *(_several("controllers"), _several("isolators"), "terminal", _BOX),
            *(_HOT, _several("return"), _one_of("normally open", *_YES_NO)),
            *(_one_of("live only to close", *_YES_NO), _COIL),
        ),
    ),
    GridSection(
        name="relays",
        first="PUMP-1",
        is_rare=True,
        columns=_columns(
            *(_CONTROLLER, "terminal", _BOX, _HOT, _several("return"), _COIL),
        ),
    ),
    GridSection(
        name="decoders",
        first="DC-1",
        is_rare=True,
        columns=_columns(_CONTROLLER, _BOX, "address", "serial", "to valve", "leads"),
    ),
    GridSection(
        name="surge units",
        is_rare=True,
        is_bare=True,
        lead=_BOX,
        columns=(),
    ),
    GridSection(
        name="sensors",
        first="RAIN",
        is_rare=True,
        columns=_columns(
            *(_one_of("kind", "flow", "other", "rain"), _several("controllers")),
            *(_one_of("contact", *_CONTACTS), *_or_not_known("place")),
            *(_several("in common"), _several("conductors")),
        ),
    ),
    GridSection(
        name="spares",
        first="SP-1",
        is_rare=True,
        columns=_columns(
            _several("conductor"), "from", GridColumn(key="to", names="boxes"), "reserved for"
        ),
    ),
    GridSection(
        name="pigtails",
        first="PT-1",
        is_rare=True,
        columns=_columns("at", "gauge", "color", "length"),
    ),
    GridSection(
        name="joints",
        is_bare=True,
        is_rare=True,
        columns=(GridColumn(key="joints", between=";", within=","),),
    ),
    GridSection(
        name="changes",
        is_rare=True,
        lead=GridColumn(key="revision"),
        columns=_columns("date", "text"),
    ),
    GridSection(
        name="known",
        is_rare=True,
        is_bare=True,
        lead=GridColumn(key="known"),
        columns=(),
    ),
)
SECTION = {section.name: section for section in SECTIONS}

# Sections of one entry, shown as fields under each other.
FORMS = (
    GridSection(
        name="job",
        columns=_columns(
            *("code", "site", "revision", "date", "warm", _one_of("water", "potable", "reclaimed")),
            *("insulation test", "least insulation", "ground limit"),
            *("owner", "contractor", "license"),
        ),
    ),
    GridSection(name="record", columns=_columns("address", "key")),
    GridSection(
        name="slack",
        is_rare=True,
        columns=_columns("run", "valve", "coil", "coil every", "box end", "controller end"),
    ),
    GridSection(name="reels", is_rare=True, is_bare=True, columns=(_REELS,)),
)
FORM = {form.name: form for form in FORMS}
