"""Files that are uploaded in the tests of the rooms of what comes in, and how a form of a page is sent again."""

from __future__ import annotations

import io
import re
import zipfile
from html import unescape

from starlette.testclient import TestClient

SCRIPT, FORMULA = "<script>alert(1)</script>", '=HYPERLINK("http://example.com","x")'
LONG, RIGHT = "long " * 80, "محور المروحة الرئيسي"
SURVEY = "\n".join(
    (
        "Bearing,Machine,x [mm],Held?,Shaft measured [mm],Seat remarks",
        f"P1-A,P1,100,fixed,99.98,{SCRIPT}",
        f'P1-B,P1,900,float,99.97,"{FORMULA.replace(chr(34), chr(34) * 2)}"',
        f"P2-A,P2,120,half,99.98,{LONG}",
        f"P2-B,P2,lots,float,12 parrots,{RIGHT}",
    )
)
"""A survey of two machines: two good rows, two bad ones, texts that must stay texts."""
MAPPING = """format = 1
[[table]]
rows = "position"
header = 1
[table.columns]
"Bearing" = { field = "tag.position" }
"Machine" = { field = "tag.machine" }
"x [mm]" = { field = "x", unit = "mm" }
"Held?" = { field = "role", words = { fixed = "locating", float = "?" } }
"Shaft measured [mm]" = { field = "seat.diameter", unit = "mm" }
"Seat remarks" = { field = "seat.note" }
"""

BEARINGS = b"No,Bore mm,C kN\nB1,100,300\nB2,120,400\n"
FEET = b"Kind,Bearing,Angle deg\nplain,B1,90\nside,B2,45\nside,B1,45\n"
JOINED = b"""format = 1
supplier = "Quernvold (invented)"
version = "2026-1"
currency = "EUR"
[tables.bearings]
file = "bearings.csv"
[tables.feet]
file = "feet.csv"
[fields]
code = { pattern = "{bearings.No}-{feet.Kind}" }
bore = { table = "bearings", heading = "Bore mm", unit = "mm" }
"""
"""A catalogue of two tables, and a mapping that does not join them."""


def bomb() -> bytes:
    """Return a small workbook that is very large when unpacked."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as archive:
        for number in range(5):
            archive.writestr(f"xl/worksheets/sheet{number}.xml", b"<a/>" * 12_500_000)
    return held.getvalue()


def form_at(html: str, do: str) -> dict[str, str]:
    """Return the fields of the form of a page whose button does something, as a browser would send them."""
    forms = re.findall(r"<form.*?</form>", html, re.DOTALL)
    form = next(one for one in forms if f'name="do" value="{do}"' in one)
    found = {}
    for tag in re.findall(r"<input[^>]*>", form):
        name, value = re.search(r'name="([^"]*)"', tag), re.search(r'value="([^"]*)"', tag)
        if name and 'type="checkbox"' not in tag and 'type="file"' not in tag:
            found[unescape(name[1])] = unescape(value[1]) if value else ""
    for tag, inside in re.findall(r"(<select[^>]*>)(.*?)</select>", form, re.DOTALL):
        name = re.search(r'name="([^"]*)"', tag)
        options = re.findall(r"<option([^>]*)>([^<]*)", inside)
        chosen = next((o for o in options if "selected" in o[0]), options[0])
        value = re.search(r'value="([^"]*)"', chosen[0])
        assert name is not None
        found[unescape(name[1])] = unescape(value[1] if value else chosen[1])
    return found


def uploaded(client: TestClient, csrf: str, data: bytes, name: str = "plant.csv") -> str:
    """Upload a survey, and return the address of it."""
    answer = client.post("/import", data={"csrf": csrf}, files={"file": (name, data)})
    assert answer.status_code == 303, answer.text
    return answer.headers["location"]
