"""Where coordinate files are looked for: beside the design, in `profiles/` beside it, and those that ship."""

from __future__ import annotations

from pathlib import Path

ENDINGS = (".dat", ".txt", ".csv")
PROFILES = "profiles"


def shipped() -> Path:
    """The folder of profiles that ship: inside the installed package, or at the top of a checkout."""
    package = Path(__file__).resolve().parent.parent
    inside = package / PROFILES
    return inside if inside.is_dir() else package.parent / PROFILES


def places(folder: Path | None) -> list[Path]:
    """Folders to look in, the nearest first.

    folder : where the design file is; None for the built-in demo
    """
    beside = [] if folder is None else [folder, folder / PROFILES]
    return [*beside, shipped()]


def available(folder: Path | None) -> dict[str, Path]:
    """File name -> file of every coordinate file there is; where two have one name, the nearest.

    Beside the design, where other lists lie too, only `.dat` is taken for one.
    """
    found: dict[str, Path] = {}
    for place in places(folder):
        endings = ENDINGS if place.name == PROFILES else ENDINGS[:1]
        try:
            files = sorted(file for file in place.iterdir() if file.suffix.lower() in endings and file.is_file())
        except OSError:
            continue
        for file in files:
            found.setdefault(file.name, file)
    return found


def plain(name: str) -> str:
    """A profile's name as it is compared: no ending, small letters, one kind of dash."""
    stem = name[: -len(Path(name).suffix)] if name.lower().endswith(ENDINGS) else name
    return stem.strip().casefold().replace("_", "-").replace(" ", "-")
