"""`geomgen make` with sheets: what stays from run to run, what is cut already, what is refused with nothing written.

The starter's files, with no doublers, in a folder, run after run; judged byte by byte, and by layout.json as Python's
own reader has it.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NamedTuple

import ezdxf
import pytest

from geomgen.cli import main
from geomgen.design.library import example_path

_HEAD, _, _REST = example_path("starter").read_text(encoding="utf-8").partition("[blade.doubler.root]")
STARTER = _HEAD + _REST[_REST.index("[blade.skin.all]") :]  # without doublers: its ribs of ply lie on one sheet
FAN_MOVED = ('at   = "96 %"', 'at   = "95.7 %"')  # its rib, of ply, gets another outline, others their holes
MOUNT = 'mount = { screw = "M2", count = 2, circle = 8, first = "0 deg" }'
SCREWED = ('rib_stock = "ply_2"', f'{MOUNT}\nrib_stock = "ply_2"')  # holes in that rib alone
RUNS = """from = 180
to = 240
every = 60
stock = "balsa_3"
[blade.ribs.between]
from = 240
to = 300
every = 60
stock = "balsa_3"
[blade.ribs.rest]
from = 300
to = "tip"
every = 60
"""
OUTER = 'from  = 180\nto    = "tip"\nevery = 60\n'
PLY, BALSA = "cut/laser/sheets/ply_2_1.dxf", "cut/laser/sheets/balsa_3_1.dxf"
PLY_TABLE, BALSA_TABLE = "[stock.ply_2]\nkind = ", "[stock.balsa_3]                     # four kinds"

Files = dict[str, bytes]
Edit = tuple[str, str]


@pytest.fixture(autouse=True)
def _own_store(keep: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("GEOMGEN_KEEP", str(keep))


class Shop:
    """A folder with a design file and what was made of it."""

    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.folder, self.capsys = folder, capsys
        self.file, self.made = folder / "mine.toml", folder / "out" / "mine" / "base"

    def write(self, *edits: Edit, more: str = "") -> None:
        text = STARTER
        for old, new in edits:
            assert text.count(old) == 1, old
            text = text.replace(old, new)
        head, mark, options = text.partition("[option.")
        self.file.write_text(f"{head}{more}\n{mark}{options}", encoding="utf-8")

    def run(self, *edits: Edit, more: str = "", words: Sequence[str] = (), status: int = 0) -> str:
        """Make it, and give what is told: of a run that ends well its output, else its faults."""
        self.write(*edits, more=more)
        self.capsys.readouterr()
        found = main(["make", str(self.file), "--out", str(self.folder / "out"), *words])
        out, err = self.capsys.readouterr()
        assert found == status, err
        return out if status == 0 else "\n".join(line for line in err.splitlines() if not line.startswith("  "))

    def files(self) -> Files:
        if not self.made.exists():
            return {}
        return {
            file.relative_to(self.made).as_posix(): file.read_bytes()
            for file in sorted(self.made.rglob("*"))
            if file.is_file()
        }

    def layout(self) -> dict[str, Any]:
        found: dict[str, Any] = json.loads((self.made / "layout.json").read_text(encoding="utf-8"))
        return found

    def places(self, by: str) -> dict[tuple[str, int], tuple[str, float, float, float]]:
        """Where each copy lies, by the name of its part or by its outline."""
        return {
            (row[by], row["copy"]): (sheet["sheet"], row["x_mm"], row["y_mm"], row["turn_deg"])
            for sheet in self.layout()["sheets"]
            for row in sheet["laid"]
        }

    def line_of(self, piece: str) -> int:
        text = "\n" + self.file.read_text(encoding="utf-8")
        return text.count("\n", 0, text.index(piece) + 1)


@pytest.fixture
def shop(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Shop:
    return Shop(tmp_path, capsys)


BEFORE: Files = {}


@pytest.fixture
def made(shop: Shop) -> Shop:
    """The same after a first run, which is made once and copied."""
    if not BEFORE:
        shop.run()
        BEFORE.update(shop.files())
    for name, data in BEFORE.items():
        (shop.made / name).parent.mkdir(parents=True, exist_ok=True)
        (shop.made / name).write_bytes(data)
    return shop


def changed(a: Files, b: Files, folder: str = "cut/") -> set[str]:
    """Files that aren't the same, or are in one of the two only."""
    return {name for name in a.keys() | b.keys() if name.startswith(folder) and a.get(name) != b.get(name)}


def cut_on(data: bytes) -> int:
    """How many outlines a cutting file of a sheet has on the layer of outside cuts, read by ezdxf."""
    import io

    drawing = ezdxf.read(io.StringIO(data.decode()))  # type: ignore[attr-defined]
    return sum(entity.dxf.layer == "outside cut" for entity in drawing.modelspace())


# From run to run


def test_a_second_run_leaves_every_byte(made: Shop) -> None:
    first = made.files()
    assert {PLY, BALSA, "layout.json", "cut_list.txt", "cut_list.csv"} <= first.keys()
    made.run()
    assert made.files() == first
    made.run(words=["--lay-anew"])
    assert made.files() == first


def test_a_changed_rib_changes_its_own_sheet_alone(made: Shop) -> None:
    first, old = made.files(), made.places("part")
    made.run(SCREWED)
    assert changed(first, made.files(), "cut/laser/sheets/") == {PLY}
    assert made.places("part") == old


def test_a_rib_of_another_outline_moves_alone(made: Shop) -> None:
    old = made.places("part")
    made.run(FAN_MOVED)
    new = made.places("part")
    assert new.keys() == old.keys()
    assert {which for which in new if new[which] != old[which]} == {("rib R12", 1), ("rib R12", 2)}


def test_three_ribs_more_leave_the_others_where_they_lay(shop: Shop) -> None:
    """At 255, 270 and 285 mm: those beyond are numbered anew, so that their letters change, and lie where they lay."""
    shop.run((OUTER, RUNS))
    old, names = shop.places("outline"), shop.places("part")
    shop.run((OUTER, RUNS.replace("to = 300\nevery = 60", "to = 300\nevery = 15")))
    new = shop.places("outline")
    assert new.items() >= old.items() and len(new) == len(old) + 6
    last = {name for name, _ in names}, {name for name, _ in shop.places("part")}
    assert [max(each) for each in last] == ["rib R13", "rib R16"]


def test_moved_by_hand_it_stays_there_until_laid_anew(made: Shop) -> None:
    first = made.files()
    layout = made.layout()
    (sheet,) = (each for each in layout["sheets"] if each["stock"] == "ply_2")
    sheet["laid"][-1]["x_mm"] += 200.0
    (made.made / "layout.json").write_text(json.dumps(layout), encoding="utf-8")
    made.run()
    assert made.places("part")["rib R12", 2][1] == sheet["laid"][-1]["x_mm"]
    assert changed(first, made.files()) == {PLY}
    made.run(words=["--lay-anew"])
    assert changed(first, made.files()) == set()


# Cut already


def test_a_sheet_that_is_cut_stays_byte_for_byte_and_the_page_tells(made: Shop) -> None:
    first = made.files()
    cut = '[laser]\ndone = ["ply_2 1"]\n'
    made.run(SCREWED, more=cut)
    second = made.files()
    assert second[PLY] == first[PLY]
    assert cut_on(second["cut/laser/sheets/ply_2_2.dxf"]) == 2  # the fan's rib of two blades
    assert changed(first, second, "cut/laser/sheets/") == {"cut/laser/sheets/ply_2_2.dxf"}
    for page in ("index.html", "cut_list.txt"):
        told = " ".join(second[page].decode().split())
        assert "rib R12, copy 1, was cut from ply_2 1 and has changed since: it is laid anew" in told, page
        assert "cut already" in told, page
    assert b"cut already" not in first["index.html"]
    made.run(SCREWED, more=cut)
    assert made.files() == second
    made.run(SCREWED, more=cut, words=["--lay-anew"])
    assert made.files()[PLY] == first[PLY]
    made.run(SCREWED, ("[stock.ply_2]\n", '[stock.ply_2]\ncut = "knife"\n'), more=cut)
    third = made.files()
    assert third["cut/knife/sheets/ply_2_1.dxf"] == first[PLY] and PLY not in third


def test_a_sheet_that_is_cut_stays_when_nothing_is_cut_from_its_stock_any_more(made: Shop) -> None:
    first = made.files()
    balsa = (
        ('every = 30\nstock = "ply_2"', 'every = 30\nstock = "balsa_3"'),
        ('rib_stock = "ply_2"', 'rib_stock = "balsa_3"'),
    )
    made.run(*balsa, more='[laser]\ndone = ["ply_2 1"]\n')
    assert made.files()[PLY] == first[PLY]
    assert [sheet["sheet"] for sheet in made.layout()["sheets"] if sheet["stock"] == "ply_2"] == ["ply_2 1"]
    made.run(*balsa)
    assert PLY not in made.files()


# Tools, paper


def test_what_a_knife_is_to_cut_moves_to_its_folder(made: Shop) -> None:
    first = made.files()
    made.run(("[stock.ply_2]\n", '[stock.ply_2]\ncut = "knife"\n'))
    second = made.files()
    left = {name for name in first if name.startswith("cut/laser/")} - second.keys()
    assert PLY in left and all(name.replace("laser", "knife") in second for name in left - {"cut/laser/fit/ply_2.dxf"})
    assert {name for name in second if "ply_2" in name and name.startswith("cut/")} == {"cut/knife/sheets/ply_2_1.dxf"}
    gaps = {sheet["stock"]: (sheet["gap_mm"], sheet["edge_mm"]) for sheet in made.layout()["sheets"]}
    assert gaps == {"ply_2": (3.0, 0.0), "balsa_3": (3.0, 2.0)}  # a knife cuts to the sheet's very edge
    assert b"ply_2 1" in second["cut_list.csv"] and b"knife" in second["cut_list.csv"]


def test_paper_of_what_a_laser_cuts_only_where_it_is_asked_for(made: Shop) -> None:
    assert {name for name in made.files() if name.startswith("paper/")} == {"paper/knife.pdf"}
    first = made.files()
    made.run(words=["--paper"])
    second = made.files()
    assert second["paper/laser.pdf"].startswith(b"%PDF-")
    assert changed(first, second, "") == {"paper/laser.pdf", "manifest.json"}
    made.run()
    assert made.files() == first


# Refused


class Refusal(NamedTuple):
    """Edits of the starter and tables more; key path, a piece of the line that it must name, and words of the fault."""

    edits: tuple[Edit, ...]
    more: str
    path: str
    piece: str
    words: tuple[str, ...]


UNKNOWN = (
    '[stock.mystery]\nkind = "sheet"\nof = "mystery wood"\nthickness = 3\nsize = [600, 300]\ndensity = "300 kg/m3"\n'
)
SHORT = ("size  = [1000, 100]\ngrain = ", "size  = [1000, 100]\nspares = 20\ncount = 2\ngrain = ")
REFUSALS = {
    "a part larger than any sheet": Refusal(
        (("size  = [1000, 100]", "size  = [100, 90]"),),
        "",
        "stock.balsa_3.size",
        "size  = [100, 90]",
        ("rib R04", "mm too large", "at least"),
    ),
    "sheets that run out": Refusal(
        (SHORT,), "", "stock.balsa_3.count", "\ncount = 2", ("sheets: ", " short; at least ")
    ),
    "lengths that run out": Refusal(
        (("inside  = 5\nlength  = 1000", "inside  = 5\nlength  = 1000\ncount = 1"),),
        "",
        "stock.carbon_tube_8.count",
        "count = 1",
        ("it takes 2 lengths: 1 short",),
    ),
    "no verdict, asked for on the laser": Refusal(
        (('every = 60\nstock = "balsa_3"', 'every = 60\nstock = "mystery"'),),
        UNKNOWN + 'cut = "laser"\n',
        "stock.mystery.cut",
        'cut = "laser"',
        ("no laser cuts what the catalogue doesn't know", '"knife" or "saw"'),
    ),
    "foam asked for on the laser": Refusal(
        (('of   = "extruded polystyrene"', 'of   = "extruded polystyrene"\ncut = "laser"'),),
        "",
        "stock.foam_sheet_2.cut",
        'cut = "laser"',
        ("no laser cuts it",),
    ),
    "an off-cut larger than the sheet": Refusal(
        (("size  = [1000, 100]", "size  = [1000, 100]\noffcuts = [[200, 90], [500, 120]]"),),
        "",
        "stock.balsa_3.offcuts[1]",
        "offcuts = ",
        ("500 x 120 mm", "larger than the sheet it is left of, 1000 x 100 mm"),
    ),
    "a sheet that nobody knows is cut": Refusal(
        (),
        '[laser]\ndone = ["ply_2 1", "ply_2 9"]\n',
        "laser.done[1]",
        "done = ",
        ("ply_2 9", "no such sheet is in the layout of the last run", "one of ply_2 1, balsa_3 1"),
    ),
}


@pytest.mark.parametrize("name", REFUSALS)
def test_refused_with_its_line_and_nothing_written(name: str, made: Shop) -> None:
    case = REFUSALS[name]
    before = made.files()
    told = made.run(*case.edits, more=case.more, status=3)
    line = next(line for line in told.splitlines() if f" {case.path} = " in line)
    assert line.startswith(f"{made.file}:{made.line_of(case.piece)} {case.path} = "), told
    for words in case.words:
        assert words in line, line
    assert made.files() == before
    assert sorted(path.name for path in made.made.parent.iterdir()) == ["base"]


@pytest.mark.parametrize("name", ["a part larger than any sheet", "sheets that run out"])
def test_refused_the_first_time_no_folder_is_begun(name: str, shop: Shop) -> None:
    shop.run(*REFUSALS[name].edits, more=REFUSALS[name].more, status=3)
    assert not (shop.folder / "out").exists()


def test_a_sheet_that_is_cut_with_no_layout_beside(shop: Shop) -> None:
    told = shop.run(more='[laser]\ndone = ["ply_2 1"]\n', status=3)
    assert f"{shop.file}:{shop.line_of('done =')} laser.done[0] = " in told
    assert "no such sheet is in the layout of the last run; or leave it out" in told
    assert not (shop.folder / "out").exists()


def test_several_are_told_at_once(shop: Shop) -> None:
    told = shop.run(SHORT, *REFUSALS["lengths that run out"].edits, more='[laser]\ndone = ["ply_2 1"]\n', status=3)
    for path in ("stock.balsa_3.count", "stock.carbon_tube_8.count", "laser.done[0]"):
        assert path in told
    assert told.splitlines()[-1] == "3 faults"


def test_check_tells_what_no_layout_is_needed_for(shop: Shop) -> None:
    for name in ("a part larger than any sheet", "foam asked for on the laser", "an off-cut larger than the sheet"):
        case = REFUSALS[name]
        shop.write(*case.edits, more=case.more)
        assert main(["check", str(shop.file)]) == 3
        assert f" {case.path} = " in shop.capsys.readouterr().err
    shop.write(more='[laser]\ndone = ["ply_2 1"]\n')
    assert main(["check", str(shop.file)]) == 0  # it knows of no folder
    assert main(["compare", str(shop.file)]) == 0, shop.capsys.readouterr().err


def test_what_was_moved_onto_another_is_refused(made: Shop) -> None:
    layout = made.layout()
    first, second = layout["sheets"][0]["laid"][:2]
    first |= {name: second[name] for name in ("x_mm", "y_mm", "turn_deg")}
    (made.made / "layout.json").write_text(json.dumps(layout), encoding="utf-8")
    before = made.files()
    told = made.run(status=3)
    assert told.startswith("layout.json, sheet ply_2 1: rib R01, copy 1 and rib R01, copy 2 lie on one another, 3 mm")
    assert "--lay-anew" in told and made.files() == before
    made.run(words=["--lay-anew"])
    assert made.places("part")["rib R01", 1] != made.places("part")["rib R01", 2]


def test_a_damaged_layout_is_refused(made: Shop) -> None:
    (made.made / "layout.json").write_bytes(b'{"schema": 1, "sheets": [{"sheet"')
    before = made.files()
    told = made.run(status=2)
    assert told.startswith(f"{made.made / 'layout.json'}: is no layout that can be read") and "--lay-anew" in told
    assert made.files() == before
    made.run(words=["--lay-anew"])
    assert made.layout()["schema"] == 1
