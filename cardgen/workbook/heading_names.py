"""What the headings of a list of stations mean, as people write them in English and Spanish."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping

from cardgen.trade.colors import color_words, insulation

COLOR = "color"  # of the hot: no key of a station, but what lists have
COMMON = "common"  # its conductor, or in a list its color alone
CODE = "job code"  # of the whole job, in each row or in one

# Where the box of a station is: the place before it on the cable, and the length from there.
LEG_FROM, LEG_LENGTH = "from", "length"

_MEANT: Mapping[str, tuple[str, ...]] = {
    "name": (
        *("name", "station", "sta", "stn", "station name", "no", "number", "nr", "id"),
        *("valve", "estacion", "est", "numero", "num", "valvula", "nombre"),
    ),
    "area": (
        *("area", "area watered", "waters", "what it waters", "description", "location"),
        *(
            "descripcion",
            "que riega",
            "riega",
            "area de riego",
            "area que riega",
            "sector",
            "ubicacion",
            "lugar",
        ),
    ),
    "box": (
        *("box", "valve box", "vb", "in box"),
        *("caja", "caja de valvula", "caja de valvulas"),
    ),
    COLOR: (
        *("color", "wire", "wire color", "hot color", "color of wire"),
        *("station wire", "station wire color", "conductor", "hot wire"),
        *("color del cable", "color de cable", "color del conductor", "alambre", "cable"),
        *("color del alambre", "hilo"),
    ),
    "notes": (
        *("notes", "note", "remarks", "remark", "comments", "comment"),
        *("notas", "nota", "observaciones", "observacion", "comentarios", "comentario"),
    ),
    "controller": (
        *("controller", "controller name", "ctrl", "controlador", "programador"),
        *("nombre del controlador",),
    ),
    "terminal": ("terminal", "output", "borne", "salida"),
    "hot": ("hot", "hot conductor", "hot conductors"),
    COMMON: ("common", "common wire", "common color", "comun", "color del comun"),
    "coil": ("coil", "solenoid", "bobina", "solenoide"),
    "device": ("device", "dispositivo"),
    "decoder": ("decoder", "decodificador"),
    CODE: (
        *("job code", "code of job", "job no", "job number", "job id", "site code", "site no"),
        *("project code", "project no", "project number", "codigo del trabajo", "codigo de obra"),
        *("codigo de la obra", "codigo del sitio", "codigo del proyecto", "clave de obra"),
        *("clave de la obra", "clave del sitio", "no de obra", "no de la obra", "numero de obra"),
        *("numero de la obra", "codigo de trabajo", "clave del trabajo", "clave de trabajo"),
    ),
}
# They mean a leg where a list has both, else they are columns of the user's own.
_FROM = (
    *("from", "from box", "box before", "box before it", "previous box", "fed from", "comes from"),
    *("desde", "desde caja", "caja anterior", "caja previa", "viene de", "de la caja"),
)
_LENGTH = {
    **dict.fromkeys(("length", "leg", "leg length", "run length", "wire length", "distance"), ""),
    **dict.fromkeys(("longitud", "largo", "distancia", "tramo", "largo del tramo"), ""),
    **dict.fromkeys(("footage", "feet", "ft", "pies"), "ft"),
    **dict.fromkeys(("meters", "metros"), "m"),
}
# Of the job where one list has several sites, each with one of its own; else of anybody's own.
_BARE_CODES = ("code", "codigo", "clave")
# Of the site of each row, where one list has several; the first of them counts.
_SITES = (
    *("site", "site name", "sitio", "nombre del sitio", "property", "property name", "propiedad"),
    *("park", "park name", "parque", "predio", "job site", "obra", "nombre de la obra"),
    *("job", "job name", "project", "project name", "proyecto"),
)
# One of the two: of stations where no other column is, else of what they water.
_EITHER = ("zone", "zona")

# As in the Spanish catalogue of the cards, and as else said in Mexico and the Southwest.
_SPANISH_COLORS = {
    "negro": "black",
    "cafe": "brown",
    "marron": "brown",
    "rojo": "red",
    "naranja": "orange",
    "anaranjado": "orange",
    "amarillo": "yellow",
    "verde": "green",
    "azul": "blue",
    "azul claro": "light-blue",
    "celeste": "light-blue",
    "morado": "violet",
    "violeta": "violet",
    "gris": "gray",
    "blanco": "white",
    "rosa": "pink",
    "dorado": "gold",
    "turquesa": "turquoise",
    "plateado": "silver",
    "crema": "tan",
}
_SHORT_COLORS = {
    "blk": "black",
    "brn": "brown",
    "org": "orange",
    "orn": "orange",
    "yel": "yellow",
    "grn": "green",
    "blu": "blue",
    "vio": "violet",
    "gry": "gray",
    "wht": "white",
    "pnk": "pink",
}


def plain(text: str) -> str:
    """Small letters without accents and points, without what is in brackets behind them."""
    text = re.sub(r"\s*[(\[].*[)\]]$", "", " ".join(text.split())).strip(" :*")
    text = re.sub(r"#|№|\bn\s*\.?\s*[º°]", " no ", text, flags=re.IGNORECASE)
    parts = unicodedata.normalize("NFD", text.casefold())
    text = "".join(letter for letter in parts if not unicodedata.combining(letter))
    text = re.sub("colou?r", "color", re.sub(r"[._/-]+", " ", text))
    return " ".join(text.split())


_COLUMN = {name: column for column, names in _MEANT.items() for name in names}
_NUMBER = re.compile(
    r"^(?:no|number|num|numero|nr)(?: (?:of|de) (?:the |la )?)?| (?:no|number|num|nr)$"
)


def column_meant(heading: str) -> str:
    """The column of a list of stations that a heading means; empty for one of the user's own."""
    name = plain(heading)
    bare = _NUMBER.sub("", name).strip()  # `Station no.`, `Número de estación`
    return _COLUMN.get(name) or _COLUMN.get(bare) or ("name" if _is_zone(heading) else "")


def _is_zone(heading: str) -> bool:
    return _NUMBER.sub("", plain(heading)).strip() in _EITHER


def columns_meant(headings: list[str]) -> list[str]:
    """The same for all headings of a list, where one may decide what another means."""
    found = [column_meant(heading) for heading in headings]
    zones = [n for n, heading in enumerate(headings) if _is_zone(heading)]
    if zones and found.count("name") > len(zones):
        for number in zones:
            found[number] = "" if "area" in found else "area"
    legs = {
        column: [n for n, heading in enumerate(headings) if plain(heading) in names]
        for column, names in ((LEG_FROM, _FROM), (LEG_LENGTH, _LENGTH))
    }
    if all(legs.values()):
        for column, numbers in legs.items():
            found[numbers[0]] = column
    return found


def unit_meant(heading: str) -> str:
    """The unit of bare numbers under `Footage` or `Metros`; empty for other headings."""
    return _LENGTH.get(plain(heading), "")


def may_mean_a_leg(heading: str) -> bool:
    return plain(heading) in (*_FROM, *_LENGTH)


def site_column(headings: Mapping[int, str]) -> int | None:
    """Of columns of the user's own, by number, the one that says the site of a row."""
    names: dict[str, int] = {}
    for number, heading in headings.items():
        names.setdefault(plain(heading), number)
    return next((names[name] for name in _SITES if name in names), None)


def bare_code_column(headings: Mapping[int, str]) -> int | None:
    """Of columns of the user's own, by number, one that may say the code of each site's job."""
    return next((n for n, heading in headings.items() if plain(heading) in _BARE_CODES), None)


def color_meant(text: str) -> str:
    """The color of a conductor in the words of a job; empty where it is none that is known."""
    words = []
    for part in text.split("/"):
        name = plain(part)
        word = _SHORT_COLORS.get(name) or _SPANISH_COLORS.get(name) or name
        known = insulation(word)
        if known is None or known.base not in color_words():
            return ""
        words.append(known.word)
    return "/".join(words) if len(words) in (1, 2) else ""
