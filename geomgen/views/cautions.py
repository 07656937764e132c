"""The usual cautions, in the place where the work is done. Common practice throughout; no law, no promise."""

from __future__ import annotations

from geomgen.views.page import Item, Section

CUTTING = (
    "Laser: cut with the extraction on and somebody watching; keep an extinguisher by. Foams catch fire, foam board "
    "and plywood are for the shop to allow, and PVC or carbon must never go in. Ask whoever runs the machine, and go "
    "by its rules."
)
KNIFE = (
    "Knife: a fresh blade, a steel rule, a mat under it; the other hand behind the blade, never ahead of it. Cut away "
    "from yourself, in several light strokes. Foam crumbs and dust: air the room, wear a mask where you sand."
)
PRINTING = "Printing and sanding: air the room; wear a mask against carbon, glass, ply and foam dust."
SPINNING = (
    "Spinning: these figures don't make a rotor fit to be turned. A blade that comes off flies far. Nobody in or near "
    "the plane of the disc, a barrier between, speed raised in small steps, somebody who knows rotors beside you; "
    "local rules and your aviation authority come first."
)
PACKS = (
    "Lithium packs: charge watched, on something that doesn't burn, at the rate its maker states; a swollen, hot or "
    "knocked pack is finished. Take it off before you work on the rotor."
)
BALANCE = (
    "Balance: weigh what you made and match the blades before anything turns; sheets of one wood differ more than the "
    "drawing."
)
PINNING = (
    "Pins: one in a wrong hole changes a blade's pitch, and so its lift. Check every blade with a pitch gauge before "
    "anything turns."
)
COMPARING = (
    "Comparing: these figures are for choosing between ways of building. Rotor speed and power are a model's, "
    "within the bands told. Of strength the weakest link that could be judged is compared: a lighter blade may be a "
    "weaker one in what couldn't."
)

HOLDING = (
    "Loads: these figures rest on a model, and on strengths of materials as others found them, not of yours. No blade "
    "is fit to turn by them. Pull each blade outwards by its spar over a scale, to twice the pull told here at the "
    "highest speed, leave it for an hour, and look at every joint before and after. That tries neither ribs nor cover."
)
SPIN_TEST = (
    "Spin test: alone in a pit or behind a wall, nobody in line with the disc, by remote, in small steps up to 1.4 "
    "times the highest speed, which is twice its pull; stop and look after each. Never go on with what has cracked, "
    "whitened, crept or come loose. Ask somebody qualified, and go by local rules, before you do it at all."
)
FANS = (
    "Fans on the bench: clamp fan and scale down, loose things and fingers well away from the intake, pack taken off "
    "before anything is touched."
)

MAKE = (CUTTING, PRINTING, PACKS, SPINNING)
WEIGH = (BALANCE, SPINNING, PACKS)
HOVER = (SPINNING, FANS, PACKS)
LOADS = (HOLDING, SPIN_TEST, SPINNING)
COMPARE = (COMPARING, BALANCE, SPINNING)


def cautions(words: tuple[str, ...]) -> Section:
    """A section of them."""
    return tuple(Item("caution", one) for one in words)
