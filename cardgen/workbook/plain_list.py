"""Turn the nodes of a job into one list of its stations, with what an office keeps in such a list.

```
job code, name, area, box, hot, ...   as the sheet 'stations';  from, length   the leg to its box
```
"""

from __future__ import annotations

from cardgen.reading.nodes import Node
from cardgen.workbook.heading_names import CODE, LEG_FROM, LEG_LENGTH
from cardgen.workbook.sheets_out import Rows, entries_of, items_of, one_line, value_at


def plain_list(root: Node, stations: Rows) -> Rows:
    """`stations`: the sheet of that name."""
    head, *rows = stations
    code = one_line(found) if (found := value_at(root, ("job", "code"))) is not None else ""
    entries = entries_of(root, "stations")
    legs = [_leg(root, entry.value) for entry in entries]
    listed = [[CODE, *head, LEG_FROM, LEG_LENGTH]]
    return listed + [[code, *row, *leg] for row, leg in zip(rows, legs, strict=True)]


def _leg(root: Node, station: Node) -> tuple[str, str]:
    """The place before its box in the cable of its hot, and the length from there."""
    hot, box = value_at(station, ("hot",)), value_at(station, ("box",))
    if hot is None or box is None or not items_of(hot):
        return "", ""
    cable = one_line(items_of(hot)[-1]).partition(" ")[0]
    run = value_at(root, ("cables", cable, "run"))
    texts = [one_line(item) for item in items_of(run)] if run is not None else []
    at = texts[::2].index(one_line(box)) if one_line(box) in texts[::2] else 0
    return (texts[2 * at - 2], texts[2 * at - 1]) if at else ("", "")
