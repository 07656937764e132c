"""Floor: a design file read by tomllib into a bare pydantic model of the same tables, with each of its options.

No line of a key, no bounds, no rules between tables, no near miss for a typo: values with their units become figures,
and that is all. Attributes have the names of geomgen's, so that the figures can be held against one another.
"""

from __future__ import annotations

import pathlib
import tomllib
from typing import Annotated, Any, Literal, NamedTuple

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

UNITS = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "g": 1.0, "kg": 1000.0, "oz": 28.349523125}
UNITS |= {"deg": 1.0, "g/m": 1.0, "g/m2": 1.0, "kg/m3": 1.0, "rpm": 1.0, "degC": 1.0, "%": 0.01}


def figure(value: Any) -> float:
    """A number, or text of a number and its unit, in the unit that geomgen keeps; bare lengths are millimetres."""
    if isinstance(value, int | float):
        return float(value)
    number, unit = value.split()
    return float(number) * UNITS[unit]


class Place(NamedTuple):
    """One of three: r [mm], share of the radius, name."""

    mm: float | None = None
    share: float | None = None
    name: str | None = None


def place(value: Any) -> Place:
    """As `figure`, or a name."""
    if isinstance(value, str) and value[0].isalpha():
        return Place(name=value)
    return Place(share=figure(value)) if isinstance(value, str) and value.endswith("%") else Place(mm=figure(value))


def twice(value: Any) -> Any:
    """One value for both ends, or the two."""
    return value if isinstance(value, list) else [value, value]


Figure = Annotated[float, BeforeValidator(figure)]
At = Annotated[Place, BeforeValidator(place)]
Height = Annotated[str | float, BeforeValidator(lambda value: value if value in ("camber", "chord") else figure(value))]
Shares = Annotated[tuple[Figure, Figure], BeforeValidator(twice)]
Heights = Annotated[tuple[Height, Height], BeforeValidator(twice)]
Spread = Annotated[tuple[float, float, float], BeforeValidator(lambda value: (figure(value),) * 3)]
ROOT, TIP = Place(name="root"), Place(name="tip")


class Table(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Feather(Table):
    chord: Figure = 0.25
    height: Height = "camber"


class Section(Table):
    naca: str | None = None
    file: str | None = None
    profile: str | None = None
    tail: str = "open"
    flat_from: Figure | None = None
    thickness_times: Figure = 1.0
    camber_times: Figure = 1.0


class Entry(Table):
    at: At
    chord: Figure | None = None
    twist: Figure | None = None
    section: Annotated[Section, BeforeValidator(lambda text: {"naca": text.removeprefix("naca ")})] | None = None
    offset: Figure | None = None


class Ribbed(Table):
    kind: Literal["ribbed"]
    web: Figure = 2.0
    least_tail: Figure = 2.5


class Lighten(Table):
    web: Figure
    least: Figure = 8.0


class Ribs(Table):
    from_: At = Field(ROOT, alias="from")
    to: At = TIP
    every: Figure
    stock: str
    lighten: Lighten | None = None


class Skin(Table):
    from_: At = Field(ROOT, alias="from")
    to: At = TIP
    stock: str


class Spar(Table):
    stock: str
    on: Literal["feather axis"] | None = None
    chord: Shares | None = None
    height: Heights = ("camber", "camber")
    from_: At = Field(ROOT, alias="from")
    to: At = TIP
    fit: Figure = 0.1


class Passes(Table):
    largest: Figure
    wires: tuple[str, ...] = ()


class Channel(Table):
    chord: Shares
    height: Heights = ("camber", "camber")
    diameter: Figure
    from_: At = Field(ROOT, alias="from")
    to: At = TIP
    passes: Passes


class Blade(Table):
    feather: Feather = Feather()
    along: tuple[Entry, ...]
    construction: Ribbed
    ribs: dict[str, Ribs]
    skin: dict[str, Skin] = {}
    spar: dict[str, Spar]
    channel: dict[str, Channel] = {}


class Pin(Table):
    diameter: Figure
    count: int
    fit: Figure = 0.2
    web: Figure = 1.6
    stock: str


class Fixing(Table):
    screw: str
    count: int


class Cap(Table):
    stock: str
    thickness: Figure


class Pitch(Table):
    set: Figure
    range: tuple[Figure, Figure]
    step: Figure
    zero_at: At = Place(share=0.75)
    pin: Pin
    fixing: Fixing
    turning_cap: Cap
    fixed_cap: Cap
    index_circle: Figure | None = None
    wire_clearance: Figure = 1.0


class Bay(Table):
    radius: Figure
    height: Figure


class Socket(Table):
    fit: Figure = 0.3


class Collar(Table):
    outside: Figure
    length: Figure
    mass: Figure


class Hub(Table):
    kind: Literal["printed"]
    stock: str
    wall: Figure = 3.0
    floor: Figure = 5.0
    bore: Figure
    bay: Bay
    socket: Socket = Socket()
    collar: Collar
    bolt: str = "M4"
    bolts: int = 4
    bolt_circle: Figure
    clearance: Literal["fine", "medium", "coarse"] = "medium"


class Wire(Table):
    outside: Figure
    mass: Figure
    count: int = 1
    spare: Figure = 0.0


class Fitting(Table):
    on: Literal["blade", "hub"]
    at: At
    chord: Figure | None = None
    height: Height | None = None
    mass: Figure
    plus_minus: Figure = 0.0
    count: int = 1
    rib: bool = False
    azimuth: Figure | None = None


class Glue(Table):
    kind: str | None = None
    coverage: Spread | None = None
    mass: Figure | None = None


class Colours(Table):
    inside: str = "red"
    outside: str = "blue"
    mark: str = "green"
    reference: str = "grey"


class Laser(Table):
    bed: tuple[Figure, Figure] | None = None
    kerf: dict[str, Figure] = {}
    colour: Colours = Colours()


class Printer(Table):
    bed: tuple[Figure, Figure] | None = None
    line: Figure = 0.45


class Rotor(Table):
    blades: int
    turn: Literal["anticlockwise", "clockwise"]
    radius: Figure
    root: Figure
    coning: Figure = 0.0


class Air(Table):
    height: Figure = 0.0
    temperature: Figure = 15.0


class Duty(Table):
    rpm: Figure
    rpm_max: Figure
    mass_guess: Figure | None = None
    payload: Figure = 0.0
    lift_coefficient: Figure = 0.5
    air: Air = Air()


class VolumeStock(Table):
    kind: Literal["volume"]
    of: str
    density: Spread | None = None
    solid: Figure = 1.0


class SheetStock(Table):
    kind: Literal["sheet"]
    of: str
    thickness: Figure
    size: tuple[Figure, Figure] | None = None
    grain: str | None = None
    areal: Spread | None = None
    density: Spread | None = None


class LengthStock(Table):
    kind: Literal["length"]
    of: str
    outside: Figure | None = None
    inside: Figure | None = None
    width: Figure | None = None
    height: Figure | None = None
    length: Figure | None = None
    linear: Spread | None = None
    density: Spread | None = None


Stock = Annotated[VolumeStock | SheetStock | LengthStock, Field(discriminator="kind")]


class Design(Table):
    schema_: Literal[1] = Field(alias="schema")
    title: str
    units: str | None = None
    rotor: Rotor
    duty: Duty
    blade: Blade
    pitch: Pitch
    hub: Hub
    wire: dict[str, Wire] = {}
    fitting: dict[str, Fitting] = {}
    glue: Glue | None = None
    laser: Laser = Laser()
    printer: Printer = Printer()
    stock: dict[str, Stock]


def read(path: pathlib.Path) -> dict[str | None, Design]:
    """The design under None, and with each of its options laid over it under the option's name."""
    raw = tomllib.loads(path.read_text(encoding="utf-8"))
    options = raw.pop("option", {})
    found = {None: Design.model_validate(raw)}
    return found | {name: Design.model_validate(_laid(raw, options, name)) for name in options}


def _laid(raw: dict[str, Any], options: dict[str, Any], name: str) -> dict[str, Any]:
    table = dict(options[name])
    like = table.pop("like", None)
    return _over(_laid(raw, options, like) if like else raw, table)


def _over(below: dict[str, Any], above: dict[str, Any]) -> dict[str, Any]:
    whole = dict(below)
    for key, value in above.items():
        if value is False and isinstance(below.get(key), dict):
            del whole[key]
        else:
            both = isinstance(value, dict) and isinstance(below.get(key), dict)
            whole[key] = _over(below[key], value) if both else value
    return whole
