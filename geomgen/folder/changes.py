"""What a run changed in the output folder since the last one, told by part."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict, dataclass
from typing import Any

from geomgen.folder.carry_over import SetAside
from geomgen.folder.manifest import Manifest


@dataclass(frozen=True)
class Changes:
    """Parts by what happened to their files; a file that belongs to no part goes by its own name.

    new     : not there in the last run
    changed : some file of it differs from the last run
    gone    : there in the last run, no longer made
    same    : every byte as in the last run
    kept    : files that were edited or put at one of our names, and where they lie now
    """

    new: tuple[str, ...]
    changed: tuple[str, ...]
    gone: tuple[str, ...]
    same: tuple[str, ...]
    kept: tuple[SetAside, ...] = ()

    def as_dict(self) -> dict[str, Any]:
        """The same as lists and plain dictionaries, for JSON."""
        plain = asdict(self)
        return {name: list(values) for name, values in plain.items()}


def compare(before: Manifest, after: Manifest, kept: Iterable[SetAside] = ()) -> Changes:
    """Changes between two manifests, by digest."""
    old, new = _by_part(before), _by_part(after)
    both = [part for part in new if part in old]
    return Changes(
        new=tuple(part for part in new if part not in old),
        changed=tuple(part for part in both if new[part] != old[part]),
        gone=tuple(part for part in old if part not in new),
        same=tuple(part for part in both if new[part] == old[part]),
        kept=tuple(kept),
    )


def _by_part(manifest: Manifest) -> dict[str, dict[str, str]]:
    parts: dict[str, dict[str, str]] = {}
    for name in manifest.files:
        parts.setdefault(manifest.label(name), {})[name] = manifest.digest(name)
    return parts
