"""Keys as people write them before they know those of a job file, in English and Spanish.

Collected from lists of stations and from trying (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Collection

# What is written, and what may be meant by it; of these the block at hand has one.
_MEANT = {
    **dict.fromkeys(("wire", "conductor", "alambre", "cable"), ("hot", "gauge", "conductor")),
    **dict.fromkeys(("color", "colour", "hot wire", "caliente", "vivo", "fase"), ("hot",)),
    **dict.fromkeys(("cable de estación", "cable de estacion"), ("hot",)),
    **dict.fromkeys(("caja", "valve box", "vb", "box name", "registro"), ("box",)),
    **dict.fromkeys(("zone", "zona", "área", "name", "nombre", "description"), ("area",)),
    **dict.fromkeys(("descripción", "descripcion", "waters", "riega"), ("area",)),
    **dict.fromkeys(("location", "lugar", "ubicación", "ubicacion", "where"), ("place",)),
    **dict.fromkeys(("lugares",), ("place",)),
    **dict.fromkeys(("calibre", "awg", "wire size", "size", "thickness"), ("gauge",)),
    **dict.fromkeys(("común", "comun", "neutral", "neutro", "ground", "com"), ("common",)),
    **dict.fromkeys(("zones", "zonas", "estaciones", "valves", "válvulas"), ("stations",)),
    **dict.fromkeys(("controlador", "programador", "timer", "clock", "reloj"), ("controller",)),
    **dict.fromkeys(("controladores", "timers", "clocks"), ("controllers",)),
    **dict.fromkeys(("cajas", "valve boxes"), ("boxes",)),
    **dict.fromkeys(("wires", "alambres"), ("cables", "conductors", "colors")),
    **dict.fromkeys(("colores",), ("colors",)),
    **dict.fromkeys(("route", "ruta", "recorrido", "trayecto", "path", "from", "legs"), ("run",)),
    **dict.fromkeys(("length", "largo", "longitud", "distance", "distancia"), ("run",)),
    **dict.fromkeys(("proyecto", "project", "obra", "trabajo"), ("job",)),
    **dict.fromkeys(("fecha",), ("date",)),
    **dict.fromkeys(("sitio", "address", "customer"), ("site",)),
    **dict.fromkeys(("código", "codigo", "number", "id"), ("code",)),
    **dict.fromkeys(("rev", "version", "revisión"), ("revision",)),
    **dict.fromkeys(("notas", "comment", "comments", "remark", "remarks"), ("notes",)),
    **dict.fromkeys(("solenoid", "solenoide", "bobina"), ("coil",)),
    **dict.fromkeys(("solenoids", "solenoides", "bobinas"), ("coils",)),
    **dict.fromkeys(("splices", "empalmes", "connections"), ("joints",)),
    **dict.fromkeys(("reservas", "extras"), ("spares",)),
    **dict.fromkeys(("sensores",), ("sensors",)),
    **dict.fromkeys(("type", "tipo"), ("kind",)),
    **dict.fromkeys(("contacto",), ("contact",)),
    **dict.fromkeys(("voltage", "voltaje", "power", "volts"), ("supply",)),
    **dict.fromkeys(("ohms", "resistencia", "resistance in ohms"), ("resistance",)),
}


def meant_key(key: str, known: Collection[str]) -> str:
    """The one key of a block that is meant; empty where that is not certain."""
    meant = [word for word in _MEANT.get(" ".join(key.lower().split()), ()) if word in known]
    return meant[0] if len(meant) == 1 else ""
