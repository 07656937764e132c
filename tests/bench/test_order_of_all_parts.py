"""The order of work against the parts list and the joints: each part in one step, all in an order that can be built."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import pytest

from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.design.library import example_path
from geomgen.design.reader import DesignFile, read_text
from geomgen.design.vary import vary
from geomgen.model.joint import Joint, Key
from geomgen.model.part import Part
from geomgen.model.role import Assembly, Role
from geomgen.model.step import Phase, Task

TOLD = {Role.GLUE}  # not taken by a step: glue is wherever it is said
COVERS = {Role.SKIN, Role.SHEETING, Role.FOLDED_SKIN, Role.FILM, Role.CORE}
SAID = {  # what a step speaks of only where there is such a part
    Role.GAUGE: "gauge",
    Role.JIG_BOARD: "jig",
    Role.WIRE_TEMPLATE: "template",
    Role.COUPON: "coupon",
    Role.WEDGE: "wedge",
    Role.FILM: "film",
    Role.CORE: "core",
    Role.DOUBLER: "doubler",
    Role.CAP_STRIP: "cap strip",
    Role.NOSE_STRIP: "along nose and tail;",
    Role.WEB: "web into",
    Role.SLEEVE: "sleeve",
    Role.WIRE: "wires",
    Role.TIP: "glue the tip",
}
FEET = {"foot": 8, "clear": 14}
JIGS = {
    "as it is": {},
    "no jig": {"blade.jig": False},
    "feet on a table": {"blade.jig": FEET, "blade.jig.board": False, "blade.jig.gauge": False},
    "gauges alone": {"blade.jig.foot": False, "blade.jig.board": False, "blade.jig.gauge": "ply_2"},
}
DESIGNS = [  # an example, an option of it, a jig; all five constructions
    *(("lantern", option, jig) for option in (None, "foam_on_ply", "balsa", "film") for jig in JIGS),
    *(("lantern", "foam_board", jig) for jig in ("as it is", "no jig")),
    *(("kite_day", option, "as it is") for option in (None, "plain_ribs", "foam_core", "upright")),
    *(("starter", option, jig) for option in (None, "stiffer") for jig in ("as it is", "gauges alone")),
]


@dataclass(frozen=True)
class Built:
    """A design's order of work, with what it is held against."""

    order: tuple[Task, ...]
    parts: Sequence[Part]
    joints: Sequence[Joint]

    @property
    def keys(self) -> set[Key]:
        """The parts list, without what no step takes."""
        return {part.key for part in self.parts if part.role not in TOLD}

    @property
    def taken(self) -> dict[Key, int]:
        """At which step each part is taken."""
        return {key: number for number, step in enumerate(self.order) for key in step.keys}

    @property
    def done(self) -> dict[Key, int]:
        """The last step that works on each part."""
        return {key: number for number, step in enumerate(self.order) for key in (*step.keys, *step.again)}

    def at(self, *roles: Role) -> list[int]:
        return [number for key, number in self.taken.items() if key.role in roles]


def file_of(name: str, option: str | None, jig: str) -> DesignFile:
    path = example_path(name)
    file = read_text(path.read_text(encoding="utf-8"), path.name, option)
    if file.design.blade.jig is not None:
        return vary(file, JIGS[jig]) if JIGS[jig] else file
    return vary(file, {"blade.jig": {"clear": 12, "gauge": "ply_2"}}) if jig == "gauges alone" else file


@pytest.fixture(scope="module")
def built(cache: Cache) -> Callable[..., Built]:
    def make(name: str, option: str | None, jig: str) -> Built:
        craft = Craft(file_of(name, option, jig).design, example_path(name).parent, cache, exact=False)
        return Built(craft.order, craft.parts.parts, craft.flying.joints)

    return make


def wrongs(built: Built) -> list[str]:
    """All that is wrong with an order of work."""
    return [*of_the_list(built), *before_their_place(built), *too_late(built), *spoken_of(built)]


def of_the_list(built: Built) -> list[str]:
    """Parts that stand in no step or in several, and what no part is."""
    times = Counter(key for step in built.order for key in step.keys)
    found = [f"{key} stands in {times[key]} steps" for key in sorted(built.keys, key=str) if times[key] != 1]
    found += [f"{key} is in no parts list" for key in times if key not in built.keys]
    for number, step in enumerate(built.order):
        early = [key for key in step.again if built.taken.get(key, number) >= number]
        found += [f"{key} is worked on before it is taken" for key in early]
        turned = [key for key, _ in step.angles if built.taken.get(key, number) > number]
        found += [f"{key} has an angle and isn't there" for key in turned]
    return found


def before_their_place(built: Built) -> list[str]:
    """What is joined to something that isn't there yet: a hangs on b, and comes with it or after it.

    A spar is there before what holds it, and what lies under a cover before that closes; a cover may be made up early.
    """
    found, taken, done = [], built.taken, built.done
    for joint in built.joints:
        a, b = joint.a, joint.b
        if {a, b} - set(taken) or a.role is b.role:
            continue
        if b.role in COVERS and a.role not in (*COVERS, Role.FITTING):  # which sticks to its outside
            late = taken[a] > done[b]
        elif a.role is Role.SPAR and b.role in (Role.COLLAR, Role.HUB):
            late = taken[a] > taken[b]
        else:
            late = (done if a.role in COVERS else taken)[a] < taken[b]
        found += [f"{a} and {b} in the wrong order"] if late else []
    return found


def too_late(built: Built) -> list[str]:
    """What lies under a cover and comes once it is closed; what needs a closed blade and comes before."""
    closed = {key: number for key, number in built.done.items() if key.role in COVERS}
    first, last = min(closed.values()), max(closed.values())
    nuts = {joint.a for joint in built.joints if joint.a.role is Role.SCREW and joint.b.role is Role.RIB}
    found = [f"{key} can't be reached" for key in nuts if built.taken.get(key, 0) >= first]
    inside = [*built.at(Role.RIB, Role.DOUBLER, Role.SPAR, Role.WEB, Role.SLEEVE)]
    found += ["a cover closes before all is in it"] if max(inside) > first else []
    outside = built.at(Role.TURNING_CAP, Role.WIRE, Role.TIP, Role.FITTING, Role.HUB)
    found += ["the blade isn't closed"] if min(outside) <= last else []
    cords = [number for number, step in enumerate(built.order) if "cord through" in step.does]
    found += ["no cord to draw the wires in by"] if built.at(Role.WIRE) and not (cords and cords[0] < first) else []
    return found


def spoken_of(built: Built) -> list[str]:
    """Words of what isn't there, and what is never spoken of."""
    there, texts = {key.role for key in built.keys}, [step.does.lower() for step in built.order]
    absent = [word for role, word in SAID.items() if role not in there]
    found = [f"{word} in: {text}" for word in absent for text in texts if re.search(rf"\b{word}", text)]
    return found + [word for word in ("collar", "hub", "pin", "pitch") if not any(word in text for text in texts)]


@pytest.mark.parametrize(("name", "option", "jig"), DESIGNS)
def test_every_part_stands_in_one_step_and_in_an_order_that_can_be_built(
    built: Callable[..., Built], name: str, option: str | None, jig: str
) -> None:
    found = built(name, option, jig)
    assert wrongs(found) == []
    phases = [step.phase is Phase.MOUNT for step in found.order]
    assert phases == sorted(phases)


def test_all_constructions_are_tried() -> None:
    kinds = {file_of(*which).design.blade.construction.kind for which in DESIGNS if which[2] == "as it is"}
    assert kinds == {"ribbed", "sheeted", "covered", "folded", "core"}


@pytest.mark.parametrize(
    "edits",
    [
        (("[stock.steel_rod_3]", '[blade.doubler.soft]\nat = "fan"\nstock = "balsa_3"\n[stock.steel_rod_3]'),),
        (
            ("# reaches into the hub", '\njoint = { kind = "sleeve", stock = "rod_6" }'),
            ("length  = 1000", "length  = 400"),
            ("[stock.steel_rod_3]", '[stock.rod_6]\nkind = "length"\nof = "spruce"\noutside = 5\n[stock.steel_rod_3]'),
        ),
        (
            (
                "[stock.steel_rod_3]",
                '[blade.spar.box]\nkind = "box"\nstock = "balsa_3"\nchord = 0.55\nwidth = 15\nto = "80 %"\n'
                "[stock.steel_rod_3]",
            ),
        ),
        (('step    = "6 deg"', 'step = "2 deg"\nrim = 60\npattern = "wedge"'),),
    ],
    ids=["doubler", "sleeve", "box", "wedges"],
)
def test_parts_that_no_example_has(craft_of: Callable[..., Craft], edits: tuple[tuple[str, str], ...]) -> None:
    craft = craft_of("starter", *edits)
    found = Built(craft.order, craft.parts.parts, craft.flying.joints)
    assert {Role.DOUBLER, Role.SLEEVE, Role.SPAR, Role.WEDGE} & {key.role for key in found.keys}
    assert wrongs(found) == []


@pytest.mark.parametrize(
    ("name", "option", "changes"),
    [
        ("kite_day", "foam_core", {"blade.jig": {"gauge": "ply_eighth"}, "blade.construction.cover": False}),
        ("lantern", "balsa", {"blade.construction.first": "lower", "blade.jig.side": "upper"}),
        ("starter", None, {"blade.channel": False, "wire": False}),
    ],
    ids=["a core in gauges", "upside down", "no wires"],
)
def test_other_ways(cache: Cache, name: str, option: str | None, changes: dict[str, object]) -> None:
    path = example_path(name)
    file = vary(read_text(path.read_text(encoding="utf-8"), path.name, option), changes)
    craft = Craft(file.design, path.parent, cache, exact=False)
    assert wrongs(Built(craft.order, craft.parts.parts, craft.flying.joints)) == []


def test_a_bare_frame_is_looked_at_in_its_gauges(craft_of: Callable[..., Craft]) -> None:
    """Ribs without a skin, on feet: nothing closes, and the gauges are there to look by."""
    craft = craft_of("lantern", ('[blade.skin.all]\nstock = "foam_sheet_2"\n', ""))
    found = Built(craft.order, craft.parts.parts, craft.flying.joints)
    assert of_the_list(found) == before_their_place(found) == spoken_of(found) == []


# What is planted is found


@pytest.mark.parametrize("which", [("lantern", "balsa", "as it is"), ("kite_day", "foam_core", "as it is")])
def test_a_role_that_a_step_drops_is_missed(built: Callable[..., Built], which: tuple[str, str, str]) -> None:
    found = built(*which)
    drops = [(number, role) for number, step in enumerate(found.order) for role in {key.role for key in step.keys}]
    assert len(drops) > 12
    for number, role in drops:
        step = found.order[number]
        left = replace(step, keys=tuple(key for key in step.keys if key.role is not role))
        assert of_the_list(reordered(found, [*found.order[:number], left, *found.order[number + 1 :]])), (number, role)


MOVED = [  # the step that takes some part, and that before whose step it is put
    (Role.TIP, Role.RIB),
    (Role.TURNING_CAP, Role.SHEETING),
    (Role.SHEETING, Role.RIB),
    (Role.SHEETING, Role.WEB),
    (Role.FILM, Role.CAP_STRIP),
    (Role.FILM, Role.SHEETING),
    (Role.CAP_STRIP, Role.RIB),
    (Role.WIRE, Role.SHEETING),
    (Role.FIXED_CAP, Role.HUB),
    (Role.COLLAR, Role.HUB),
    (Role.COLLAR, Role.SPAR),
    (Role.PIN, Role.FIXED_CAP),
    (Role.PIN, Role.TURNING_CAP),
]


@pytest.mark.parametrize(("moved", "before"), MOVED)
def test_a_step_in_the_wrong_place_is_found(built: Callable[..., Built], moved: Role, before: Role) -> None:
    found = built("lantern", "balsa", "as it is")
    number, place = max(found.at(moved)), min(found.at(before))
    rest = [step for k, step in enumerate(found.order) if k != number]
    assert place < number and wrongs(reordered(found, [*rest[:place], found.order[number], *rest[place:]]))


def test_nuts_that_come_late_and_words_of_what_isnt_there_are_found(built: Callable[..., Built]) -> None:
    found = built("starter", None, "as it is")
    (nuts,) = (step for step in found.order if "Glue the nuts" in step.does)
    rest = [step for step in found.order if step is not nuts]
    assert any("reached" in wrong for wrong in too_late(reordered(found, [*rest, nuts])))
    uncorded = reordered(found, [step for step in found.order if "a cord" not in step.does])
    assert any("no cord" in wrong for wrong in too_late(uncorded))
    (closing,) = (step for step in found.order if "Bend the lower" in step.does)
    said = replace(closing, does=closing.does + " Look at the gauges.")
    assert spoken_of(reordered(found, [*rest, said])) == [f"gauge in: {said.does.lower()}"]


def reordered(built: Built, steps: Sequence[Task]) -> Built:
    return replace(built, order=tuple(steps))


# What sets the twist


def setting(built: Built) -> list[Task]:
    return [step for step in built.order if "the twist" in step.does and Role.RIB in {k.role for k in step_keys(step)}]


def step_keys(step: Task) -> tuple[Key, ...]:
    return (*step.keys, *step.again)


@pytest.mark.parametrize("option", [None, "balsa", "film"])
@pytest.mark.parametrize(("jig", "by"), [("as it is", "slots"), ("feet on a table", "feet"), ("gauges alone", "gauge")])
def test_a_jig_sets_the_twist(built: Callable[..., Built], option: str | None, jig: str, by: str) -> None:
    found = built("lantern", option, jig)
    (stood,) = setting(found)
    assert by in stood.does and not any(step.angles for step in found.order)
    roles = {key.role for key in step_keys(stood)}
    assert (Role.GAUGE in roles) == (jig == "gauges alone")
    slots = [step.does for step in found.order if "slots" in step.does and "fixed cap" not in step.does]
    assert bool(slots) == (jig == "as it is")


@pytest.mark.parametrize(
    ("name", "option"),
    [*(("lantern", option) for option in (None, "balsa", "film", "foam_board")), ("kite_day", "foam_core")],
)
def test_without_a_jig_each_rib_has_an_angle_of_its_own(
    built: Callable[..., Built], name: str, option: str | None
) -> None:
    """From the design's own twist: straight from root to tip, against the chord at 75 % of the radius."""
    found = built(name, option, "no jig")
    design = file_of(name, option, "no jig").design
    (told,) = (step for step in found.order if step.angles)
    assert "angle to the table" in told.does and "twist" in told.does
    (first, last), root, tip = design.blade.along, design.rotor.root, design.rotor.radius

    def twist(r_mm: float) -> float:
        return first.twist + (last.twist - first.twist) * (r_mm - root) / (tip - root)

    ribs = {part.key: part.r_mm for part in found.parts if part.role is Role.RIB}
    assert [key for key, _ in told.angles] == list(ribs)
    for key, angle in told.angles:
        r_mm = ribs[key]
        assert r_mm is not None and angle == pytest.approx(twist(r_mm) - twist(0.75 * tip), abs=1e-6)
    assert told.angles[0][1] > 0 > told.angles[-1][1]


def test_the_pitch_that_is_set_and_the_bolts_are_told(built: Callable[..., Built]) -> None:
    words = " ".join(step.does for step in built("kite_day", None, "as it is").order)
    assert "Set every blade to 8 deg" in words and "(2 a blade)" in words and "6 bolts M5" in words


def test_the_parts_list_of_the_finished_craft_is_taken(lantern: Craft) -> None:
    taken = [lantern.names[key] for step in lantern.order for key in step.keys]
    listed = [part.name for part in lantern.finished if part.role not in TOLD]
    assert sorted(taken) == sorted(listed)
    hub = [part.name for part in lantern.finished if part.assembly is Assembly.HUB]
    mounted = [lantern.names[key] for step in lantern.order if step.phase is Phase.MOUNT for key in step.keys]
    assert set(hub) <= set(mounted)


def test_how_far_blades_reach_below_the_hub_by_hand(craft_of) -> None:
    """The starter's root rib at r 120: 180 mm of chord, its tail 0.75 x 180 mm behind the axis, at 8 deg of pitch.

    At 75 % of the radius the chord is level; twist there is 4 x (700 - 525) / 580 = 1.207 deg, 4 deg at the root, so
    the root's chord line stands at 8 + 2.793 deg. The feather axis lies on the camber line, a 4415's at a quarter of
    the chord: 0.04 / 0.4^2 x (2 x 0.4 x 0.25 - 0.25^2) = 0.034375 of the chord above the chord line.
    """
    (hub_step,) = [task for task in craft_of("starter").order if "bolt it down" in task.does]
    told = int(hub_step.does.split("reach some ")[1].split(" mm")[0])
    angle, coning = math.radians(8 + 4 - 4 * 175 / 580), math.radians(2)
    tail = 135 * math.sin(angle) + 0.034375 * 180 * math.cos(angle)
    axis = 7.5 + 32 / 2 - (45 + (18 + 1) / 2 * math.sin(coning)) / math.cos(coning) * math.sin(coning)
    # the section's own half thickness at the tail, 0.105 % of the chord by the family's equation, is 0.3 mm
    assert told == pytest.approx(tail * math.cos(coning) - 120 * math.sin(coning) - axis, abs=0.8)


@pytest.mark.parametrize(
    ("name", "changes", "says"),
    [
        ("starter", {}, "to the bottom of its hole"),
        ("kite_day", {}, "a clip on each"),
        ("kite_day", {"pitch.pin.clip": False}, "secure each"),
    ],
)
def test_pins_are_kept_by_what_there_is(name: str, changes: dict[str, object], says: str, cache: Cache) -> None:
    file = vary(read_text(example_path(name).read_text(encoding="utf-8")), changes)
    craft = Craft(file.design, example_path(name).parent, cache)
    (step,) = [task for task in craft.order if "push its pins through" in task.does]
    assert says in step.does
