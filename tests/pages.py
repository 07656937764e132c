"""Pages of HTML read by html5lib, which didn't write them and follows the standard's own parsing to the letter."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Iterator

import html5lib

SVG = "{http://www.w3.org/2000/svg}"
OUTWARD = ("src", "srcset", "data", "poster", "action", "background", "{http://www.w3.org/1999/xlink}href")
ACTIVE = (
    "script",
    "iframe",
    "object",
    "embed",
    "link",
    "base",
    "form",
    "audio",
    "video",
    "img",
    f"{SVG}image",
    f"{SVG}use",
)


def parsed(text: str) -> tuple[ET.Element, list[object]]:
    """The page's root, names without the namespace of HTML; and what the standard calls parse errors."""
    parser = html5lib.HTMLParser(tree=html5lib.getTreeBuilder("etree"), namespaceHTMLElements=False)
    root: ET.Element = parser.parse(text)
    return root, list(parser.errors)


def words(element: ET.Element) -> str:
    """All words in it, spaces evened out."""
    return " ".join("".join(element.itertext()).split())


def ids(root: ET.Element) -> list[str]:
    """All of them, in order."""
    return [element.attrib["id"] for element in named(root) if "id" in element.attrib]


def named(root: ET.Element) -> Iterator[ET.Element]:
    """All elements, no comments."""
    return (element for element in root.iter() if isinstance(element.tag, str))


def links(root: ET.Element) -> list[str]:
    """Where all of them lead."""
    return [element.attrib["href"] for element in root.iter("a")]


def reaches_out(root: ET.Element) -> list[str]:
    """What would load something or run something: there should be nothing."""
    found = [element.tag for element in named(root) if element.tag in ACTIVE]
    for element in named(root):
        found += [f"{element.tag} {key}" for key in element.attrib if key in OUTWARD or key.startswith("on")]
        styles = (element.text or "") if element.tag in ("style", f"{SVG}style") else element.attrib.get("style", "")
        found += [piece for piece in ("url(", "@import", "@font-face", "expression") if piece in styles]
    return found


def rows(table: ET.Element) -> list[list[str]]:
    """Words of its cells, row by row, its head too."""
    return [[words(cell) for cell in row if cell.tag in ("th", "td")] for row in table.iter("tr")]


def part(root: ET.Element, name: str) -> ET.Element:
    """The element of that id."""
    (found,) = (element for element in named(root) if element.attrib.get("id") == name)
    return found


def table_under(root: ET.Element, title: str) -> list[list[str]]:
    """Rows of the table that is read out under a heading of these words."""
    (heading,) = (one for tag in ("h2", "h3") for one in root.iter(tag) if words(one) == title)
    (box,) = (one for one in root.iter("div") if one.attrib.get("aria-labelledby") == heading.attrib["id"])
    return rows(box)
