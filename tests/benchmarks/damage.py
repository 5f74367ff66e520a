"""Spoil the picture of a printed symbol as ten years in a wet box and a hurried phone do.

A picture is an array of gray, 0 black to 255 white, with `SCALE` pixels a millimeter.  Sizes are
in millimeters, so that smaller modules suffer as they do on paper; blots are in percent of the
picture, which is the same for every candidate.  All chance comes from the generator that is given:
the same seed puts the same blot on every candidate.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TypeAlias

import cv2
import numpy as np
from numpy.typing import NDArray

SCALE = 10.0  # pixels a millimeter: a tag of 50 x 75 mm fills a third of a small phone picture
EDGE = 0.12  # of the code's frame: so much of the card is seen on each side of it
Picture: TypeAlias = NDArray[np.float32]
Damage: TypeAlias = Callable[[Picture, float, np.random.Generator], Picture]


def _picture(found: object) -> Picture:
    return np.asarray(found, dtype=np.float32)


def _anywhere(picture: Picture, chance: np.random.Generator) -> tuple[float, float]:
    high, wide = picture.shape
    return chance.uniform(0.1, 0.9) * wide, chance.uniform(0.1, 0.9) * high


def blot(picture: Picture, percent: float, chance: np.random.Generator) -> Picture:
    """One patch of mud or of lost ink with a ragged edge; its area in percent."""
    high, wide = picture.shape
    x, y = _anywhere(picture, chance)
    radius = math.sqrt(percent / 100 * high * wide / math.pi)
    turns = np.linspace(0, 2 * math.pi, 40, endpoint=False)
    reach = radius * (1 + 0.25 * np.sin(turns * 3 + chance.uniform(0, 6)))
    edge = np.stack([x + reach * np.cos(turns), y + reach * np.sin(turns)], axis=1)
    out = picture.copy()
    cv2.fillPoly(out, [edge.astype(np.int32)], (float(chance.choice([40, 110, 245])),))
    return _picture(out)


def specks(picture: Picture, percent: float, chance: np.random.Generator) -> Picture:
    """Dots of 0.6 mm, dark and light, that cover so many percent."""
    high, wide = picture.shape
    out = picture.copy()
    size = 0.3 * SCALE
    for _ in range(round(percent / 100 * high * wide / (math.pi * size**2))):
        at = (round(chance.uniform(0, wide)), round(chance.uniform(0, high)))
        cv2.circle(out, at, round(size), (float(chance.choice([20, 245])),), -1, cv2.LINE_AA)
    return _picture(out)


def scratches(picture: Picture, number: float, chance: np.random.Generator) -> Picture:
    """Light lines of 0.5 mm right across, where a tool has scraped the print off."""
    high, wide = picture.shape
    out = picture.copy()
    for _ in range(round(number)):
        x, y = _anywhere(picture, chance)
        turn, reach = chance.uniform(0, math.pi), high + wide
        dx, dy = reach * math.cos(turn), reach * math.sin(turn)
        ends = (round(x - dx), round(y - dy)), (round(x + dx), round(y + dy))
        cv2.line(out, *ends, (240.0,), round(0.5 * SCALE), cv2.LINE_AA)
    return _picture(out)


def blur(picture: Picture, sigma: float) -> Picture:
    """Out of focus; the spread in millimeters on the tag."""
    return _picture(cv2.GaussianBlur(picture, (0, 0), sigma * SCALE))


def distant(picture: Picture, pixels: float, _: np.random.Generator) -> Picture:
    """Seen from so far away that the frame is so many pixels wide."""
    side = round(pixels * (1 + 2 * EDGE))
    return _picture(cv2.resize(picture, (side, side), interpolation=cv2.INTER_AREA))


def slant(picture: Picture, pixels: float, chance: np.random.Generator) -> Picture:
    """Seen at 45 degrees, from so far away that the frame would be so many pixels wide."""
    return distant(tilt(picture, 45, chance), pixels, chance)


def tilt(picture: Picture, degrees: float, chance: np.random.Generator) -> Picture:
    """Seen at a slant from three times its size away."""
    high, wide = picture.shape
    around, back = chance.uniform(0, 2 * math.pi), math.radians(degrees)
    axis = np.array([math.cos(around), math.sin(around), 0.0])
    rotation, _ = cv2.Rodrigues(axis * back)
    corners = np.array([[-1, -1, 0], [1, -1, 0], [1, 1, 0], [-1, 1, 0]]) * (wide / 2, high / 2, 0)
    seen = corners @ np.asarray(rotation).T
    away = 3.0 * wide
    flat = seen[:, :2] * (away / (away + seen[:, 2:]))
    middle = np.array([wide / 2, high / 2])
    before = (corners[:, :2] + middle).astype(np.float32)
    matrix = cv2.getPerspectiveTransform(before, (flat + middle).astype(np.float32))
    return _picture(cv2.warpPerspective(picture, matrix, (wide, high), borderValue=(235.0,)))


def curl(picture: Picture, sides: float, chance: np.random.Generator) -> Picture:
    """A tag that has rolled up, seen from the front; its radius in sides of the frame."""
    high, wide = picture.shape
    ys, xs = np.mgrid[0:high, 0:wide].astype(np.float32)
    upright = chance.random() < 0.5
    across = (xs - wide / 2) if upright else (ys - high / 2)
    pixels = sides * picture.shape[0] / (1 + 2 * EDGE)
    inside = np.clip(across / pixels, -0.999, 0.999)
    unrolled = np.arcsin(inside) * pixels
    from_x = unrolled + wide / 2 if upright else xs
    from_y = ys if upright else unrolled + high / 2
    bent = cv2.remap(
        picture, _picture(from_x), _picture(from_y), cv2.INTER_LINEAR, borderValue=(235.0,)
    )
    return _picture(bent * np.sqrt(1 - inside**2) ** 0.5)


def glare(picture: Picture, strength: float, chance: np.random.Generator) -> Picture:
    """The sun in a glossy card: a soft white spot of a third of the frame."""
    high, wide = picture.shape
    x, y = _anywhere(picture, chance)
    ys, xs = np.mgrid[0:high, 0:wide]
    spread = wide / 5
    light = np.exp(-((xs - x) ** 2 + (ys - y) ** 2) / (2 * spread**2))
    return _picture(np.clip(picture + 255 * strength * light, 0, 255))


def fade(picture: Picture, left: float, chance: np.random.Generator) -> Picture:
    """So much contrast is left (1 is all of it), with light falling in from one side."""
    high, wide = picture.shape
    ramp = np.linspace(0.75, 1.0, wide)[None, :] * np.ones((high, 1))
    ramp = ramp if chance.random() < 0.5 else ramp[:, ::-1]
    return _picture((170 + (picture - 170) * left) * ramp)


def soiled(picture: Picture, percent: float, chance: np.random.Generator) -> Picture:
    """What really comes: a blot, specks, a scratch, a slant, weak contrast, all a little."""
    picture = specks(blot(picture, percent, chance), percent / 4, chance)
    picture = scratches(picture, 1, chance)
    return fade(tilt(blur(picture, 0.12), 25, chance), 0.5, chance)


# What is done, with its strengths from mild to hard; the names are those of survival_scores.py.
DAMAGES: dict[str, tuple[Damage, tuple[float, ...]]] = {
    "dirt": (specks, (3, 5, 8)),  # percent
    "blots": (blot, (2, 4, 7)),  # percent
    "scratches": (scratches, (1, 2, 3)),
    "glare": (glare, (0.8, 1.0, 1.2)),
    "distance": (distant, (96, 84, 72)),  # pixels
    "slant": (slant, (160, 120, 100)),  # pixels
    "curl": (curl, (0.7, 0.6, 0.55)),  # sides of the frame
    "soiled": (soiled, (0.5, 1, 2)),  # percent
}


def thermal(dots: Picture, chance: np.random.Generator) -> Picture:
    """A worn 203 dpi head, dot by dot: two dead elements, pinholes, ink that spreads."""
    out = dots.copy()
    out[:, chance.integers(0, out.shape[1], 2)] = 255
    out[chance.random(out.shape) < 0.01] = 255
    spread = cv2.erode(out, np.ones((2, 2), np.uint8))  # erode: the least, so black grows
    return _picture(0.6 * out + 0.4 * spread)


def photograph(picture: Picture, chance: np.random.Generator) -> NDArray[np.uint8]:
    """Turned a little in the hand, a lens that is not perfect, a sensor that rustles."""
    high, wide = picture.shape
    turn = cv2.getRotationMatrix2D((wide / 2, high / 2), chance.uniform(-12, 12), 1.0)
    turn[0, 2] += chance.uniform(-2, 2)
    turn[1, 2] += chance.uniform(-2, 2)
    turned = cv2.warpAffine(picture, turn, (wide, high), borderValue=(235.0,))
    seen = blur(_picture(turned), 0.06) + chance.normal(0, 4, (high, wide))
    return np.clip(seen, 0, 255).astype(np.uint8)
