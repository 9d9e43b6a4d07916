"""Reads a drawing back from its SVG: threads as points, words as boxes."""

from __future__ import annotations

import re
from dataclasses import dataclass
from xml.etree import ElementTree

from benchmates.drawing.lettering import width

SVG = "{http://www.w3.org/2000/svg}"
SIZES = {"mins": 12.5, "clock": 12.5, "part": 12.5}


@dataclass(frozen=True)
class Box:
    words: str
    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: Box, by: float = 0.6) -> bool:
        return (
            min(self.right, other.right) - max(self.left, other.left) > by
            and min(self.bottom, other.bottom) - max(self.top, other.top) > by
        )


def read(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)


def threads(svg: str) -> dict[str, str]:
    lines = [e for e in read(svg).iter(f"{SVG}path") if e.get("class") == "thread"]
    found = {e.attrib["data-p"]: e.attrib["d"] for e in lines}
    assert len(found) == len(lines)
    return found


def points(d: str) -> list[tuple[float, float]]:
    """Ends of every piece: control points of a curve are left out."""
    found = []
    for letter, numbers in re.findall(r"([MLC])([^MLC]+)", d):
        values = [float(v) for v in numbers.split()]
        found.append((values[-2], values[-1]))
        assert letter != "C" or len(values) == 6
    return found


def boxes(svg: str) -> list[Box]:
    """Words with the ink they take: cap height above the line, descenders below (0.73 and 0.22 of DejaVu Sans)."""
    root = read(svg)
    many = "many" in root.attrib["class"].split()
    found = []
    for e in root.iter(f"{SVG}text"):
        kinds = e.attrib["class"].split()
        if many and "name" in kinds and "on" not in kinds:
            continue  # hidden by the style sheet
        size = SIZES.get(kinds[0], 13.0)
        w = width(e.text or "", size, bold=kinds[0] in ("stage", "part") or "on" in kinds)
        w = min(w, float(e.get("textLength", w)))
        if "transform" in e.attrib:
            x, y = (
                float(v) for v in re.findall(r"translate\(([\d.-]+) ([\d.-]+)\)", e.attrib["transform"])[0]
            )
            found.append(Box(e.text or "", x - 0.73 * size, y - w, x + 0.22 * size, y))
            continue
        x, y = float(e.attrib["x"]), float(e.attrib["y"])
        x -= {"end": w, "middle": w / 2}.get(e.get("text-anchor", "start"), 0.0)
        found.append(Box(e.text or "", x, y - 0.73 * size, x + w, y + 0.22 * size))
    return found
