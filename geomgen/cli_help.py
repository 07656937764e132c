"""What the command line says of itself: a page, and a text for each command."""

from __future__ import annotations

PAGE = """\
geomgen draws the parts of a large, slow rotor that fans near its blades' tips drive round, from one design file:
ribs, pitch caps and a hub to cut and print, and what it all weighs, before anything is cut.

A first evening:
  geomgen make                      the built-in demo, into outputs/lantern/base
  geomgen new mine.toml             a design file of your own to start from, every key explained
  geomgen check mine.toml           read it, draw every flat part, say what doesn't fit and what would
  geomgen weigh mine.toml           the mass statement: parts, centre of gravity, the rpm that carries it
  geomgen hover mine.toml           does it lift: rpm, throttle and minutes at each pitch, what takes the power
  geomgen loads mine.toml           will it hold: the weakest places by name, what would help, how a blade swings
  geomgen compare mine.toml         its options side by side: masses, rpm, sheets, where the difference comes from
  geomgen make mine.toml            DXF to cut, STL to print, lists and pictures, into outputs/mine/base

Without a design file, check, compare, hover, loads, make and weigh take the built-in demo, which is invented.
"""
END = """\
Exit status: 0 done; 2 a value or a file is at fault; 3 a part can't be made as asked; 1 a fault of geomgen's own.
A rotor that turns can hurt people badly. Figures from here don't make one fit to be turned: go by your local rules,
and have somebody who knows rotors look at it first.
"""
FILE_HELP = "the design file; left out: the built-in demo"
NEW = """\
Write a design file that builds as it stands, every key explained, for you to change. Nothing is ever overwritten.
"""
CHECK = """\
Read a design file and draw every flat part: sections, ribs, holes, caps, the hub in figures. Every fault found is told
with its line, what is wrong and what would do. Nothing is written.
"""
MAKE = """\
Make every file of a design and put them in one folder:
  index.html   the page to open, and to print: all of it with pictures, lists, order of work and cautions where they
               belong; it needs no network
  cut/         laser/, knife/ and saw/: what each of them may cut; millimetres; layers: inside cut, outside cut, mark,
               reference. sheets/ has every copy laid on its sheet, in the order to cut it, the kerf taken off where one
               is given; fit/ what to cut first from a sheet, to find kerf and fit by. Beside them each different part
               by itself, and all.dxf with all of them side by side (all_ask.dxf: what shops disagree
               about), drawn to size with no kerf taken off
  paper/       what a knife or a saw cuts as PDF at full size, tiled, to print unscaled; with --paper the laser's, too
  print/       an STL of the hub, each cap and what is printed first to try, in millimetres
  pictures/    plan view, flat parts, hub and caps, masses as SVG
  cut_list.txt, .csv  sheets, what lies on each, lengths, minutes, money where prices are given
  layout.json  what lies where; the next run leaves it there, and lays only what is new or has another outline.
               laser.done names sheets that are cut: nothing moves on them. --lay-anew starts over with the others
  parts.csv    what to cut, print and buy, and how many      mass.csv  the mass statement
  manifest.json  what each file holds
The folder is written whole or not at all. Files of yours in it stay; one of ours that you edited is kept beside.
"""
WEIGH = """\
Weigh a design: every part with where its figure came from, low, typical and high; centre of gravity along the blade and
across it; the static moment; the rpm that carries it, by hover and by mean lift; and what holds a blade in at rpm_max.
With --blank CSV it writes a form for what your scale says of sheets, parts, blades and the whole craft. Filled in and
named in the design, `weighed = "as-built.csv"`, it goes before the catalogue in all that follows; this page then says
computed beside weighed, what doesn't fit, and what no reading bears on.
"""
HOVER = """\
Say whether a design lifts: at each pitch the rpm that carries it, the power in the air, fans' pull, throttle, minutes
and the lift left at full throttle; where the power goes; speed controls at the hub or at the fan; near the ground;
along the blade; and how sure all that is. Without [fan.*] and [pack.*] it still gives rpm and power in the air.
With --out DIR the same goes into DIR/<design>/hover as hover.txt, .json and a picture, hover.svg.
"""
LOADS = """\
Say what is weakest: of every link of a blade and its hub the margin, low strength over the greatest load times the
factor of [strength], and the one key that would help it most; links without a published strength apart; loads along
the blade and at the hub at rest, hovering, at rpm_max and on a start; droop and twist; how a blade swings, and which
speeds meet that; where its mass lies along the chord. A margin of 1 is the limit. It is no permission to turn anything.
With --out DIR the same goes into DIR/<design>/loads as loads.txt, .json, a table along r, loads.csv, and a picture,
loads.svg.
"""
COMPARE = """\
Lay options of a design side by side, before anything is cut: masses, centre of gravity, the rpm that carries each at
its pitch, power and minutes, the pull at the root at that rpm, sheets and lengths of each stock, length of cuts, parts,
glue, the weakest link; and where each differs from the base, the largest difference first, with the lines that make it.
Without --options: the design itself, which is called base, and every option in its file. An option that can't be built
is told with its first faults, and the others are still compared.
With --out DIR the same goes into DIR/<design>/compare as compare.txt, .csv, .json and a picture, compare.svg.
"""
