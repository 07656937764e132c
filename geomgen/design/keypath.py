"""Key paths: ("blade", "along", 0, "chord") in here, `blade.along[0].chord` as written."""

from __future__ import annotations

import json
import re

KeyPath = tuple[str | int, ...]
_PLAIN = re.compile(r"(?![0-9]+$)[\w -]+")  # an all-digit key would be taken for an index
_STEP = re.compile(r'\[(?P<index>[0-9]{1,9})\]|"(?P<quoted>(?:\\.|[^"\\])*)"|(?P<plain>[^.\[\]"]+)|\.')


def written(path: KeyPath) -> str:
    """A key path as text."""
    text = ""
    for step in path:
        if isinstance(step, int):
            text += f"[{step}]"
        else:
            text += ("." if text else "") + (step if _PLAIN.fullmatch(step) else json.dumps(step, ensure_ascii=False))
    return text


def parsed(text: str) -> KeyPath:
    """The key path in a text; a step that is all digits is taken for an index ("along.0" as "along[0]")."""
    path: list[str | int] = []
    for match in _STEP.finditer(text):
        if match["quoted"] is not None:
            path.append(json.loads(f'"{match["quoted"]}"'))
        elif match["index"] is not None or (match["plain"] or "").isdecimal():
            path.append(int(match["index"] or match["plain"]))
        elif match["plain"] is not None:
            path.append(match["plain"])
    return tuple(path)
