"""Where the data that is shipped with cardgen lies: stock, faces and catalogues of words."""

from __future__ import annotations

from pathlib import Path


def shipped_folder() -> Path:
    """Beside the modules in an installed wheel, beside the package in a checkout."""
    package = Path(__file__).resolve().parent.parent
    inside = package / "layouts"
    return inside if inside.is_dir() else package.parent / "layouts"
