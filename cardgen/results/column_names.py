"""The names of columns and kinds in a table of readings, as people of two languages write them."""

from __future__ import annotations

import re
import unicodedata

from cardgen.results.measured import Kind

# Of a wide table: a row for each valve, a column for each kind.
WIDE = {
    "ohms": Kind.CONTROLLER,
    "coil": Kind.COIL,
    "volts": Kind.VOLTS,
    "mA": Kind.MILLIAMPERES,
    "mA on its hot": Kind.HOT_MILLIAMPERES,
    "insulation": Kind.INSULATION,
    "walk": Kind.WALK_TEST,
}
# As they are printed empty.
WIDE_COLUMNS = ("valve", "ohms", "coil", "volts", "mA", "insulation", "walk")
# What is said once for the whole table.
ONCE = ("job", "revision", "when", "by", "conditions")

_OTHER_NAMES = {
    "when": ("date", "day", "fecha", "cuando", "dia"),
    "job": ("job key", "obra", "trabajo"),
    "revision": ("rev",),
    "box": ("valve box", "caja"),
    "valve": ("valvula", "station", "estacion"),
    "kind": ("tipo", "clase", "que se midio"),
    "from": ("de", "desde"),
    "to": ("a", "hasta"),
    "value": ("reading", "valor", "lectura"),
    "conditions": ("condiciones",),
    "by": ("crew", "measured by", "por", "cuadrilla"),
    "notes": ("note", "notas", "nota"),
    "withdrawn": ("anulada", "anulado"),
    "ohms": ("ohms at the controller", "ohm", "ohmios", "ohms en el controlador"),
    "coil": ("ohms at the coil", "bobina", "solenoide", "ohms en el solenoide"),
    "volts": ("volt", "v", "voltios", "voltaje"),
    "mA": ("milliamperes", "miliamperes", "miliamperios", "corriente"),
    "mA on its hot": ("milliamperes on its hot", "ma en su cable"),
    "insulation": ("aislamiento", "megohms"),
    "walk": ("walk test", "recorrido", "prueba"),
}
_KINDS = {
    Kind.CONTROLLER: ("ohms", "ohms en el controlador"),
    Kind.COIL: ("coil", "ohms en el solenoide", "ohms en la bobina"),
    Kind.COIL_WIRES: (
        "ohms at the coil's wires, coil off",
        "ohms en los cables al solenoide, sin el solenoide",
    ),
    Kind.VOLTS: ("volts at the valve", "volts en la valvula", "voltios"),
    Kind.MILLIAMPERES: ("ma", "current at c", "corriente en c", "miliamperes"),
    Kind.INSULATION: ("insulation to ground", "aislamiento", "aislamiento a tierra"),
    Kind.HOT_TO_HOT: ("ohms, hot to hot", "ohms de un cable de estacion a otro"),
    Kind.COMMON_TO_COMMON: ("ohms, common to common", "ohms de comun a comun"),
    Kind.OTHER_COMMON: (
        "ohms, hot to the common of another controller",
        "ohms del cable de estacion al comun de otro controlador",
    ),
    Kind.BOX_LOOP: ("ohms in a box, outward", "ohms en una caja, hacia la valvula"),
    Kind.SPARE_LOOP: ("ohms de una vuelta de reserva",),
    Kind.OPEN_VOLTS: ("volts with no load", "volts sin carga"),
    Kind.HOT_MILLIAMPERES: ("current in its hot", "corriente en su cable de estacion"),
    Kind.WALK_TEST: ("walk", "recorrido"),
    Kind.NOT_REACHED: ("sin acceso",),
}


def plain(text: str) -> str:
    """Small letters without accents, and without a unit behind a comma or in brackets."""
    text = re.sub(r"(?:\s*\(.*\)|, ?(?:Ω|MΩ|ohms?|V|mA))$", "", " ".join(text.split()))
    parts = unicodedata.normalize("NFD", text.casefold())
    return "".join(letter for letter in parts if not unicodedata.combining(letter))


_COLUMN = {
    plain(name): column for column, others in _OTHER_NAMES.items() for name in (column, *others)
} | {"id": "id"}
_KIND = {plain(name): kind for kind, others in _KINDS.items() for name in (kind, *others)}


def column_named(text: str) -> str:
    """The column that a head means; the text itself, in small letters, where it means none."""
    return _COLUMN.get(plain(text), text.strip().lower())


def kind_named(text: str) -> Kind | None:
    return _KIND.get(plain(text))
