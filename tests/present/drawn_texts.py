"""What stands in a drawing, read back from its SVG: each text with the rectangle that it takes."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from itertools import combinations

from halfbore.present.labels import Box
from halfbore.present.metrics import text_width

SVG = "{http://www.w3.org/2000/svg}"


def texts(svg: str) -> list[tuple[str, Box]]:
    """Return each text of a drawing with its rectangle, letters without their white."""
    return list(_texts(ET.fromstring(svg), 0.0, 0.0))


def _texts(element: ET.Element, dx: float, dy: float) -> Iterator[tuple[str, Box]]:
    for child in element:
        if child.tag == f"{SVG}g":
            found = re.fullmatch(r"translate\((\S+) (\S+)\)", child.get("transform", ""))
            assert found is not None
            yield from _texts(child, dx + float(found[1]), dy + float(found[2]))
        elif child.tag == f"{SVG}text" and child.text:
            size, weight = float(child.get("font-size", "12")), int(child.get("font-weight", "400"))
            x, y = float(child.get("x", "0")) + dx, float(child.get("y", "0")) + dy
            width = text_width(child.text, size, weight)
            left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[child.get("text-anchor", "start")] * width
            yield child.text, Box(left, y - 0.66 * size, left + width, y)


def collisions(svg: str) -> list[tuple[str, str]]:
    """Return pairs of texts that lie on each other."""
    return [(a, b) for (a, p), (b, q) in combinations(texts(svg), 2) if p.meets(q)]


def outside(svg: str) -> list[str]:
    """Return texts that the picture cuts."""
    box = [float(v) for v in ET.fromstring(svg).get("viewBox", "").split()]
    return [
        text
        for text, b in texts(svg)
        if b.left < box[0] - 0.5 or b.top < box[1] or b.right > box[2] + 0.5 or b.bottom > box[3]
    ]
