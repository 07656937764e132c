"""The one page to open: what was made, in the order in which it is bought, cut, built, weighed and turned.

Each chapter is a function of the craft in `CHAPTERS`; it draws its sections from the same tables and lists as the text
pages, names pictures by what `making` calls them, and carries the cautions of the work that is done there.
"""

from __future__ import annotations

from collections.abc import Callable

from geomgen.craft import Craft
from geomgen.figures import unit_name
from geomgen.views.balance import balance_sections
from geomgen.views.cautions import BALANCE, FANS, HOLDING, PACKS, SPIN_TEST, SPINNING, cautions
from geomgen.views.file_names import CARD
from geomgen.views.hover import UNKNOWN, hover_sections
from geomgen.views.loads import loads_sections
from geomgen.views.order_page import order_page
from geomgen.views.page import Book, Chapter, Figure, Item, Link, Section
from geomgen.views.part_figures import cutting, other_parts, printing
from geomgen.views.pitch_error import pitch_lines, pitch_tables
from geomgen.views.plan import rotor_words
from geomgen.views.sheet_chapter import sheets
from geomgen.views.shopping import shopping
from geomgen.views.verdict import verdict_sections
from geomgen.views.weigh import load_path, mean_lift, one_blade, parts_in, sources, whole_craft
from geomgen.views.weighed_in import weighed_in_sections

FILES = {
    "parts.csv": "every part, how many, of what",
    "mass.csv": "the mass statement, a line for each part",
    "order_of_work.txt": "the order of work, to print and lay beside the bench",
    CARD: "which holes take the pins at each pitch, and by which letters, to print and hang up",
    "manifest.json": "what each file holds, with its digest",
}


def index_book(craft: Craft) -> Book:
    """Everything on one page."""
    chapters = tuple(chapter for build in CHAPTERS if (chapter := build(craft)) is not None)
    rotor, unit = craft.design.rotor, craft.design.units or "mm"
    words = rotor_words(rotor.radius, blades=rotor.blades, turn=rotor.turn)
    about = f"{words}. Lengths in {unit_name('mm')}, masses in {unit_name('g')}."
    return Book(craft.design.title, about, chapters, unit)


def verdict(craft: Craft) -> Chapter:
    """What a maker came for, in five lines, and what is to be said against it."""
    lines, *warnings = verdict_sections(craft.verdict, craft.warnings)
    return Chapter("Verdict", "verdict", (("As it stands", *lines), *warnings))


def plan(craft: Craft) -> Chapter:
    """The plan view."""
    file = "pictures/plan.svg"
    words = f"One blade from above with everything in it, and the whole rotor beside it. By itself: {file}"
    return Chapter("Plan view", "plan", ((Figure("plan", "From above", words, links=(Link(file, file),), wide=True),),))


def lifting(craft: Craft) -> Chapter:
    """Whether it lifts, pitch by pitch, with its picture."""
    found, file = craft.hover, "pictures/hover.svg"
    if found is None:
        return Chapter("Does it lift", "lifting", ((UNKNOWN,),))
    words = f"Lift and power against rpm at the pitch to fly at, and what happens along the blade. By itself: {file}"
    picture = Figure("hover", "Lift and power", words, links=(Link(file, file),), wide=True)
    drawn: tuple[Section, ...] = ((picture,),) if found.speeds else ()
    return Chapter("Does it lift", "lifting", (cautions((FANS,)), *drawn, *hover_sections(craft, found)))


def holding(craft: Craft) -> Chapter | None:
    """The weakest places, what would help, loads and swings with their picture; nothing where none are worked out."""
    if (found := craft.held) is None:
        return None
    file = "pictures/loads.svg"
    words = f"Pull and bending along r in every case, and how a blade swings against rpm. By itself: {file}"
    picture = Figure("loads", "Loads and swings", words, links=(Link(file, file),), wide=True)
    first, *rest = loads_sections(craft, found)
    return Chapter("Will it hold", "holding", (cautions((HOLDING, SPIN_TEST)), first, (picture,), *rest))


def order(craft: Craft) -> Chapter:
    """The order of work, each step with its parts."""
    design = craft.design
    _, *steps = order_page(design.title, design.blade.construction.kind, craft.order, names=craft.names).sections
    file = "order_of_work.txt"
    lead = Item(
        "note",
        f"From cutting to a craft on its mast, {design.blade.construction.kind}. The same to print: {file}",
        links=(Link(file, file),),
    )
    return Chapter("Order of work", "order", ((lead,), *steps))


def mass(craft: Craft) -> Chapter:
    """Mass and centre of gravity as a picture and in tables, and where the figures come from."""
    file = "pictures/mass.svg"
    words = f"Mass by groups of parts, and where each part sits. By itself: {file}"
    picture = Figure("mass", "What one blade weighs, and where", words, links=(Link(file, file),), wide=True)
    return Chapter(
        "Mass and centre of gravity",
        "mass",
        (
            (picture,),
            *weighed_in_sections(craft.mass, craft.weighed_in),
            one_blade(craft.mass),
            whole_craft(craft.mass, craft.design.duty.mass_guess),
            *parts_in(craft.mass),
            sources(craft.mass),
        ),
    )


def balance(craft: Craft) -> Chapter:
    """What is out of balance, what trims it, mass along the chord, inertia."""
    file = "pictures/scatter.svg"
    words = f"Craft drawn by what their sheets and pieces may weigh, and how far out they are. By itself: {file}"
    picture = Figure("scatter", "Unbalance to expect", words, links=(Link(file, file),))
    return Chapter("Balance", "balance", (cautions((BALANCE,)), *balance_sections(craft), (picture,)))


def turning(craft: Craft) -> Chapter:
    """The rpm that carries it, what holds a blade in, how far pitch is off, and what to beware of before it turns."""
    return Chapter(
        "Before it turns",
        "turning",
        (
            cautions((SPINNING, PACKS)),
            mean_lift(craft.design, craft.mass, craft.lifts),
            load_path(craft.load_path),
            ("Pitch, blade for blade", *pitch_lines(craft)),
            *pitch_tables(craft),
        ),
    )


def files(craft: Craft) -> Chapter:
    """The lists beside the page."""
    there = {name: words for name, words in FILES.items() if name != CARD or craft.pattern.lettered}
    items = tuple(Item("note", f"{name}: {words}", links=(Link(name, name),)) for name, words in there.items())
    return Chapter("Lists beside this page", "files", (items,))


CHAPTERS: tuple[Callable[[Craft], Chapter | None], ...] = (
    verdict,
    plan,
    lifting,
    holding,
    shopping,
    sheets,
    cutting,
    printing,
    other_parts,
    order,
    mass,
    balance,
    turning,
    files,
)
