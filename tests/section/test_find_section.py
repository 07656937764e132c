"""The section a design asks for: what is found where, what is done to it, and what is said when it isn't there."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import make_profiles
import numpy as np
import pytest

from geomgen.design.schema import SectionSpec
from geomgen.errors import DesignError, Fault
from geomgen.section import coordinates, known_files
from geomgen.section.families import naca
from geomgen.section.find import find
from geomgen.section.section import Section

KEY = "blade.along[1].section"


@dataclass(frozen=True)
class Asked:
    naca: str | None = None
    file: str | None = None
    profile: str | None = None
    tail: str = "open"
    flat_from: float | None = None
    thickness_times: float = 1.0
    camber_times: float = 1.0


def refused(spec: Asked, folder: Path | None) -> Fault:
    with pytest.raises(DesignError) as caught:
        find(spec, folder, KEY)
    return caught.value.faults[0]


def worst(a: Section, b: Section) -> float:
    x = np.linspace(0.002, 0.999, 800)
    return float(max(np.max(np.abs(a.upper_y(x) - b.upper_y(x))), np.max(np.abs(a.lower_y(x) - b.lower_y(x)))))


def written(file: Path, digits: str) -> Path:
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(coordinates.text(naca(digits), digits), encoding="utf-8")
    return file


def test_the_designs_own_record_is_understood(tmp_path: Path) -> None:
    spec = SectionSpec.model_validate({"naca": "4412", "thickness_times": 1.25})
    assert worst(find(spec, tmp_path, KEY), naca("4415")) < 2e-5


def test_family_with_all_that_can_be_done_to_it() -> None:
    found = find(Asked(naca="4412", tail="closed", thickness_times=1.2, flat_from=0.3), None, KEY)
    assert found.tail_gap == 0.0
    assert float(found.depth(0.2)) == pytest.approx(1.2 * float(naca("4412").depth(0.2)), rel=2e-3)
    start, end = float(found.lower_y(0.3)), 0.0
    assert float(found.lower_y(0.65)) == pytest.approx(0.5 * (start + end), abs=1e-6)


def test_nearest_file_is_taken(tmp_path: Path) -> None:
    written(tmp_path / "profiles" / "wing.dat", "0015")
    assert worst(find(Asked(file="wing.dat"), tmp_path, KEY), naca("0015")) < 1e-6
    assert worst(find(Asked(profile="Wing"), tmp_path, KEY), naca("0015")) < 1e-6
    written(tmp_path / "wing.dat", "0009")
    assert worst(find(Asked(file="wing.dat"), tmp_path, KEY), naca("0009")) < 2e-6
    assert worst(find(Asked(profile="wing"), tmp_path, KEY), naca("0009")) < 2e-6
    written(tmp_path / "profiles" / "naca-0012.dat", "0018")  # a maker's own goes before what ships
    assert worst(find(Asked(profile="naca 0012"), tmp_path, KEY), naca("0018")) < 1e-6
    assert worst(find(Asked(profile="naca_0012"), None, KEY), naca("0012")) < 1e-6


def test_file_in_a_folder_of_another_alphabet(tmp_path: Path) -> None:
    folder = tmp_path / "Flügel 翼"
    written(folder / "größe" / "a b.txt", "0012")
    assert worst(find(Asked(file="größe/a b.txt"), folder, KEY), naca("0012")) < 1e-6


def test_tail_of_a_file_can_be_closed(tmp_path: Path) -> None:
    written(tmp_path / "wing.dat", "0012")
    assert find(Asked(file="wing.dat"), tmp_path, KEY).tail_gap > 0.002
    assert find(Asked(file="wing.dat", tail="closed"), tmp_path, KEY).tail_gap == 0.0


def test_missing_ones_say_what_there_is(tmp_path: Path) -> None:
    written(tmp_path / "my_wing.dat", "0012")
    written(tmp_path / "profiles" / "other.csv", "0012")
    (tmp_path / "parts.csv").write_text("not a section")
    fault = refused(Asked(profile="my-wnig"), tmp_path)
    assert (fault.path, fault.value) == (KEY, "my-wnig")
    assert 'do you mean "my-wing"' in fault.remedy
    assert "my-wing" in fault.allowed and "other" in fault.allowed and "naca-0012" in fault.allowed
    assert "parts" not in fault.allowed
    fault = refused(Asked(file="othr.csv"), tmp_path)
    assert 'do you mean "other.csv"' in fault.remedy
    fault = refused(Asked(profile="flat-4421"), None)
    assert "flat-4412" in fault.remedy


def test_faults_of_a_file_name_the_file_and_the_key(tmp_path: Path) -> None:
    file = written(tmp_path / "profiles" / "wing.dat", "0012")
    file.write_text(file.read_text() + "oops\n")
    fault = refused(Asked(profile="wing"), tmp_path)
    assert (fault.file, fault.line, fault.path, fault.value) == ("profiles/wing.dat", 163, KEY, "wing")
    fault = refused(Asked(file="profiles/wing.dat"), tmp_path)
    assert (fault.file, fault.line, fault.value) == ("profiles/wing.dat", 163, "profiles/wing.dat")


@pytest.mark.parametrize("from_x", [0.0, 0.01, 0.99, 1.5, -1.0, float("nan")])
def test_flat_out_of_range(from_x: float) -> None:
    fault = refused(Asked(naca="4412", flat_from=from_x), None)
    assert fault.path == f"{KEY}.flat_from"


def test_other_faults() -> None:
    assert refused(Asked(naca="4400"), None).path == KEY
    assert "one of naca" in refused(Asked(), None).allowed
    assert refused(Asked(file="x" * 5000 + ".dat"), Path()).path == KEY
    assert refused(Asked(file="nul\0.dat"), Path()).path == KEY


def test_what_ships_is_what_the_recipes_make() -> None:
    there = {file.stem for file in known_files.shipped().iterdir() if file.suffix in known_files.ENDINGS}
    assert there == set(make_profiles.RECIPES)
    for name in make_profiles.RECIPES:
        section, text = make_profiles.made(name)
        assert (known_files.shipped() / f"{name}.dat").read_text(encoding="utf-8") == text
        found = find(Asked(profile=name), None, KEY)
        assert "Origin: computed by the geomgen authors" in found.note
        if section.name.startswith("naca 00"):
            assert worst(found, section) < 1e-6
        assert found.tail_gap == pytest.approx(section.tail_gap, rel=1e-3)


def test_every_shipped_file_is_in_the_readme() -> None:
    readme = (Path(make_profiles.FOLDER) / "README.md").read_text(encoding="utf-8")
    assert all(f"`{name}`" in readme for name in make_profiles.RECIPES)


def test_flat_profiles_lie_on_a_board() -> None:
    for name in ("flat-4409", "flat-4412", "flat-4415"):
        found = find(Asked(profile=name), None, KEY)
        x = np.linspace(0.4, 0.99, 100)
        y = found.lower_y(x)
        assert np.max(np.abs(y - np.polyval(np.polyfit(x, y, 1), x))) < 2e-6
        assert found.lower.corners == ()


def test_no_heavy_library_is_loaded() -> None:
    code = (
        "import sys, pathlib; from geomgen.section.find import find; from geomgen.section import coordinates, measures;"
        "from geomgen.section import known_files;"
        "coordinates.read(known_files.shipped() / 'naca-4412.dat');"
        "print([m for m in ('scipy', 'cadquery', 'shapely', 'matplotlib', 'ezdxf') if m in sys.modules])"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "[]"
