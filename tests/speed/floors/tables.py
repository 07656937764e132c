"""Tables of the reading floor: all but the blade, and the whole design. Keys and defaults are geomgen's."""

from __future__ import annotations

from typing import Annotated, Literal

from floors.blade import Blade
from floors.values import At, Figure, Height, Place, Spread, Table
from pydantic import Field


class Clip(Table):
    outside: Figure
    mass: Figure


class Pin(Table):
    diameter: Figure
    count: int
    fit: Figure = 0.2
    web: Figure = 1.6
    stock: str
    clip: Clip | None = None


class Fixing(Table):
    screw: str
    count: int


class Cap(Table):
    stock: str
    thickness: Figure


class Wedge(Table):
    stock: str | None = None
    thickness: Figure | None = None
    fit: Figure = 0.1


class Scatter(Table):
    holes: Figure | None = None
    rib: Figure = 0.3
    washout: Figure = 0.3


class Pitch(Table):
    set: Figure
    range: tuple[Figure, Figure]
    step: Figure
    zero_at: At = Place(share=0.75)
    pin: Pin
    fixing: Fixing
    turning_cap: Cap
    fixed_cap: Cap
    pattern: Literal["plain", "paired", "wedge"] | None = None
    rim: Figure | None = None
    wedge: Wedge | None = None
    scatter: Scatter = Scatter()
    index_circle: Figure | None = None
    wire_clearance: Figure = 1.0


class HubPockets(Table):
    circle: Figure
    count: int
    azimuth: Figure = 0.0
    height: Figure = 0.0
    most: Figure


class Bay(Table):
    radius: Figure
    height: Figure


class Socket(Table):
    fit: Figure = 0.3


class Glued(Table):
    kind: Literal["glued"]
    length: Figure
    glue: str = "epoxy"


class Pinned(Table):
    kind: Literal["pinned"]
    diameter: Figure
    stock: str


class Clamped(Table):
    kind: Literal["clamped"]
    screw: str
    count: int = 1


class Collar(Table):
    outside: Figure
    length: Figure
    mass: Figure
    fixing: Annotated[Glued | Pinned | Clamped, Field(discriminator="kind")] | None = None


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
    trim: HubPockets | None = None
    layers: Literal["flat", "upright"] = "flat"


class Wire(Table):
    outside: Figure
    mass: Figure
    count: int = 1
    spare: Figure = 0.0
    bend: Figure | None = None
    copper: Figure | None = None
    awg: int | None = None


class Mount(Table):
    screw: str
    count: int
    circle: Figure
    first: Figure = 45.0
    bore: Figure = 0.0


class Fitting(Table):
    on: Literal["blade", "hub"]
    at: At
    chord: Figure | None = None
    height: Height | None = None
    mass: Figure
    plus_minus: Figure = 0.0
    price: Figure | None = None
    count: int = 1
    rib: bool = False
    rib_stock: str | None = None
    mount: Mount | None = None
    level_at: Figure | None = None
    stuck: bool = False
    azimuth: Figure | None = None
    fan: str | None = None
    pack: str | None = None
    controls: tuple[str, ...] = ()


class Static(Table):
    thrust: Figure
    power: Figure
    voltage: Figure


class BodyDrag(Table):
    frontal: Figure
    coefficient: Figure


class Fan(Table):
    inside: Figure
    centre: Figure
    static: Static | None = None
    class_: str | None = Field(None, alias="class")
    plus_minus: Figure | None = None
    drag: BodyDrag | None = None
    turn: Literal["clockwise", "anticlockwise"] | None = None
    inertia: Figure | None = None
    speed: Figure | None = None


class Pack(Table):
    cells: int
    capacity: Figure
    resistance: Figure | None = None
    floor: Figure = 3.4
    feeds: tuple[str, ...]


class Glue(Table):
    kind: str | None = None
    coverage: Spread | None = None
    mass: Figure | None = None
    on_tube: str | None = None


class Colours(Table):
    inside: str = "red"
    outside: str = "blue"
    mark: str = "green"
    reference: str = "grey"


class Tabs(Table):
    width: Figure
    least: int = 2


class Laser(Table):
    bed: tuple[Figure, Figure] | None = None
    kerf: dict[str, Figure] = Field(default_factory=dict)
    colour: Colours = Colours()
    gap: Figure = 3.0
    edge: Figure = 2.0
    in_holes: bool = False
    speed: dict[str, Figure] = Field(default_factory=dict)
    done: tuple[str, ...] = ()
    tabs: Tabs | None = None


class Printer(Table):
    bed: tuple[Figure, Figure] | None = None
    line: Figure = 0.45
    layer: Figure = 0.2


class Paper(Table):
    size: Literal["A4", "A3", "Letter", "roll"] | None = None
    width: Figure | None = None
    overlap: Figure = 12.0


class NoseWeight(Table):
    at: At
    chord: Figure
    height: Height = "camber"
    to: Figure = 0.0


class Balance(Table):
    aim: Figure | None = None
    step: Figure = 0.5
    nose_weight: NoseWeight | None = None


class Money(Table):
    of: str


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
    lift_left: Figure = 0.2
    air: Air = Air()


class WeighedPrint(Table):
    part: Literal["hub", "turning_cap", "fixed_cap"]
    mass: Figure


class Print(Table):
    walls: int
    top: int
    bottom: int
    infill: Figure
    weighed: WeighedPrint | None = None


class Holding(Table):
    factor: Figure = 3.0
    run_up: Figure = 3.0


class LengthStrength(Table):
    tension: Spread | None = None
    compression: Spread | None = None
    bending: Spread | None = None
    shear: Spread | None = None
    bearing: Spread | None = None
    tension_across: Spread | None = None
    compression_across: Spread | None = None
    shear_across: Spread | None = None
    bearing_across: Spread | None = None
    modulus: Spread | None = None
    modulus_across: Spread | None = None
    shear_modulus: Spread | None = None


class SheetStrength(LengthStrength):
    bending_across: Spread | None = None
    plane_compression_across: Spread | None = None
    bending_modulus: Spread | None = None
    bending_modulus_across: Spread | None = None
    width_tension: Spread | None = None
    width_stiffness: Spread | None = None
    peel: Spread | None = None


class PrintStrength(LengthStrength):
    thread: Spread | None = None


class VolumeStock(Table):
    kind: Literal["volume"]
    of: str
    density: Spread | None = None
    print: Print | None = None
    solid: Spread | None = None
    price: Figure | None = None
    strength: PrintStrength | None = None


class Differing(Table):
    grade: Figure | None = None
    sheet: Figure | None = None


class SheetStock(Table):
    kind: Literal["sheet"]
    of: str
    thickness: Figure
    size: tuple[Figure, Figure] | None = None
    grain: str | None = None
    neutral: Figure = 0.5
    areal: Spread | None = None
    density: Spread | None = None
    cut: str | None = None
    count: int | None = None
    price: Figure | None = None
    offcuts: tuple[tuple[Figure, Figure], ...] = ()
    spares: int = 0
    spread: Differing | None = None
    strength: SheetStrength | None = None


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
    count: int | None = None
    price: Figure | None = None
    spares: int = 0
    spread: Differing | None = None
    strength: LengthStrength | None = None


class PieceStock(Table):
    kind: Literal["piece"]
    of: str | None = None
    mass: Figure
    plus_minus: Figure = 0.0
    price: Figure | None = None


Stock = Annotated[VolumeStock | SheetStock | LengthStock | PieceStock, Field(discriminator="kind")]


class Design(Table):
    schema_: Literal[1] = Field(alias="schema")
    title: str
    weighed: str | None = None
    units: str | None = None
    rotor: Rotor
    duty: Duty
    blade: Blade
    pitch: Pitch
    hub: Hub
    balance: Balance = Balance()
    strength: Holding = Holding()
    wire: dict[str, Wire] = Field(default_factory=dict)
    fitting: dict[str, Fitting] = Field(default_factory=dict)
    fan: dict[str, Fan] = Field(default_factory=dict)
    pack: dict[str, Pack] = Field(default_factory=dict)
    glue: Glue | None = None
    laser: Laser = Laser()
    printer: Printer = Printer()
    paper: Paper = Paper()
    money: Money | None = None
    stock: dict[str, Stock]
