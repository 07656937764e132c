"""manifest.json: what each file of ours holds, and the digest it had when we wrote it."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

MANIFEST = "manifest.json"
SCHEMA = 1


@dataclass(frozen=True)
class Manifest:
    """A manifest as read back.

    files  : file name in the folder -> what was said of it, with its "sha256"
    intact : nobody has changed the list since we wrote it
    """

    files: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    intact: bool = False

    def digest(self, name: str) -> str:
        """SHA-256 that file had when written, in hex; "" for a file not listed."""
        return str(self.files.get(name, {}).get("sha256", ""))

    def label(self, name: str) -> str:
        """The part a file belongs to, or the file's own name."""
        return label(name, self.files.get(name, {}))


def label(name: str, about: Mapping[str, Any]) -> str:
    """The part a file belongs to, or the file's own name where it belongs to none."""
    return str(about.get("part") or name)


def digest(data: bytes) -> str:
    """SHA-256 of a file's bytes, in hex."""
    return hashlib.sha256(data).hexdigest()


def manifest_bytes(files: Mapping[str, bytes], about: Mapping[str, Mapping[str, Any]]) -> bytes:
    """The manifest of a set of files: sorted, with no clock and no path, equal for equal files.

    files   : name in the folder -> bytes
    about   : name -> what to say of that file; names that aren't among `files` raise ValueError
    returns : UTF-8 JSON
    """
    if unknown := sorted(set(about) - set(files)):
        raise ValueError(f"told about files that are not written: {', '.join(unknown)}")
    listed = {name: {**about.get(name, {}), "sha256": digest(data)} for name, data in files.items()}
    whole = {"schema": SCHEMA, "files": listed, "files_sha256": _list_digest(listed)}
    return (json.dumps(whole, indent=1, sort_keys=True, ensure_ascii=False, allow_nan=False) + "\n").encode()


def read_manifest(folder: Path) -> Manifest:
    """The manifest lying in a folder; an empty one where there is none that can be read."""
    try:
        whole = json.loads((folder / MANIFEST).read_text(encoding="utf-8"))
        listed = {str(name): dict(entry) for name, entry in whole["files"].items()}
        return Manifest(listed, whole.get("files_sha256") == _list_digest(listed))
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return Manifest()


def _list_digest(listed: Mapping[str, Mapping[str, Any]]) -> str:
    return digest(json.dumps(listed, sort_keys=True, separators=(",", ":")).encode())
